//! What others published: sizes, ranges, limits and rules, each with its source.
//!
//! This crate knows hoses, clips, threads, tools, metals, coolant and sea water, flow and heat, and no boat. Its tables are TOML files in `data`,
//! compiled in and read once; the head of each says where its rows come from and whether they
//! were read in print, worked out, remembered, or are only what the trade does. Where nothing
//! was published a function returns [`Unknown`], which names what would settle it.
//!
//! Reading order: [`source`], [`hose`], [`clip`], [`torque`], [`insertion`], [`metal`], [`rule`], [`thread`],
//! [`mate`], [`seal`], [`support`], [`tool`], [`media`], [`salt`]; for flow [`fluid`], [`water`], [`seawater`], [`oil`],
//! [`friction`], [`fitting`], [`tee`], [`pump`], [`speed_limits`]; for heat [`film`], [`exchanger`], [`conduct`], [`cooler_area`], [`lumped`]; of engines
//! [`heat`], [`mod@engine`], [`usual`]; [`number`] lets a formula carry its derivatives.
//!
//! Each public item says its unit, its range and its source; a test checks that.
#![warn(missing_docs)]

pub mod bending;
mod bore;
pub mod clip;
pub mod conduct;
pub mod cooler_area;
pub mod engine;
pub mod exchanger;
pub mod film;
pub mod fitting;
pub mod fluid;
pub mod friction;
pub mod heat;
pub mod hose;
pub mod insertion;
pub mod lumped;
pub mod mate;
pub mod media;
pub mod metal;
pub mod number;
pub mod oil;
pub mod pump;
mod range;
pub mod rule;
pub mod salt;
pub mod seal;
pub mod seawater;
pub mod source;
pub mod speed_limits;
pub mod support;
mod table;
pub mod tee;
pub mod thread;
pub mod tool;
pub mod torque;
pub mod usual;
pub mod water;

pub use source::{Fact, Limits, Source, SourceRef, Sourced, Status, Unknown};
pub use table::{Table, tables};
