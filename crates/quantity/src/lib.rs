//! Quantities and units: the types, reading and printing them, tolerance.
//!
//! Everything is SI inside; units exist only where a quantity is read or printed.
//! A temperature and a temperature difference, gauge and absolute pressure, a nominal and a
//! measured size are different types, so that the compiler refuses to mix them.
//!
//! ```
//! use quantity::{Length, System, file_text, parse_reading, show};
//!
//! let od = parse_reading::<Length>("41.8 ± 0.2 mm caliper", None)?;
//! assert_eq!(file_text(&od), "41.8 ± 0.2 mm caliper");
//! assert_eq!(show(od.value, None, System::Imperial), "1.65 in");
//! # Ok::<(), quantity::ParseError>(())
//! ```
//! ```compile_fail
//! // A rise is no temperature, so two temperatures do not add.
//! let hot = quantity::Temperature::celsius(80.0) + quantity::Temperature::celsius(20.0);
//! ```
//! ```compile_fail
//! // What a gauge shows is not what acts on the water.
//! let pressure: quantity::AbsolutePressure = quantity::GaugePressure::bar(0.9);
//! ```
//! ```compile_fail
//! // A hose called 38 need not measure 38 mm.
//! let bore: quantity::Length = quantity::NominalSize::mm(38);
//! ```
//!
//! Reading order: [`dimension`] (the types), [`unit`] (the one table of units), [`reading`]
//! (what an owner writes: value, tolerance, instrument), [`instrument`] and [`measured`] (the
//! interval that follows from it), [`nominal`] (sizes by name), [`parse`] (text in), [`file`]
//! (exact text out), [`print`] (rounded text out).
//!
//! Each public item says its unit, its range and its source; a test checks that.
#![warn(missing_docs)]

pub mod dimension;
pub mod file;
pub mod instrument;
mod lex;
pub mod measured;
pub mod nominal;
pub mod parse;
pub mod print;
mod reader;
pub mod reading;
pub mod unit;

pub use dimension::*;
pub use file::{file_text, file_text_at, file_value};
pub use instrument::{HalfWidth, Instrument, Instruments};
pub use measured::{Measured, Origin};
pub use nominal::NominalSize;
pub use parse::{ParseError, parse, parse_at, parse_prefix, parse_reading};
pub use print::{
    System, display_unit, show, show_cautious, show_chance, show_dressed, show_fraction,
    show_half_width, show_in, show_measured, show_range, show_signed,
};
pub use reading::{At, Reading, Tolerance};
pub use unit::{Kind, Unit};
