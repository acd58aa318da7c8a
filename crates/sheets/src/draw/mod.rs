//! Pictures as placed primitives: laid out once for page and paper.
//!
//! A length is a CSS pixel (1/96 of an inch), x to the right and y down. A primitive carries a
//! [`Class`], never a colour: the page gives it ink by its style, paper draws it black.

pub mod around;
pub mod check;
pub mod grade;
pub mod hatch;
pub mod hose;
pub mod ink;
pub mod number;
pub mod shape;
pub mod strip;
pub mod text;

pub use shape::{Anchor, Class, Face, Picture, Placed, Shape, Step};
