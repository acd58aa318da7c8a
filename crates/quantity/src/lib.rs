//! Quantities and units: the types, reading and printing them, tolerance.
//!
//! Everything is SI inside; units exist only where a quantity is read or printed.
//! A temperature and a temperature difference, gauge and absolute pressure, a nominal and a
//! measured size are different types, so that the compiler refuses to mix them.
//!
//! Reading order: [`dimension`] (the types), [`unit`] (the one table of units), [`reading`]
//! (what an owner writes: value, tolerance, instrument), [`nominal`] (sizes by name),
//! [`parse`] (text in), [`print`] (text out).
//!
//! Each public item says its unit, its range and its source; a test checks that.
#![warn(missing_docs)]

pub mod dimension;
mod lex;
pub mod nominal;
pub mod parse;
pub mod print;
pub mod reading;
pub mod unit;

pub use dimension::*;
pub use nominal::NominalSize;
pub use parse::{ParseError, parse, parse_at, parse_prefix, parse_reading};
pub use print::{System, file_text, show, show_measured};
pub use reading::{At, Instrument, Measured, Origin, Reading, Tolerance};
pub use unit::{Kind, Unit};
