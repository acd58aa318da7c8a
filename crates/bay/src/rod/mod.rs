//! The shape that a hose takes: an elastic rod clamped at its ends, under its own weight.
//!
//! A hose of given length takes a shape of least energy, whatever line was drawn for it. The model
//! is the inextensible Kirchhoff rod without twist: a plain straight hose is turned on its spigot
//! until it is untwisted, so its twisting stiffness plays no part. The discrete form is that of
//! Bergou and others, Discrete elastic rods, SIGGRAPH 2008, with the directions of the edges as
//! unknowns. The error falls with the square of the edge: see the tests for how large it is.
//!
//! Not modelled: preset curve of a coiled hose, friction, pressure, flattening of the bore.

mod band;
mod build;
mod chain;
mod lay;
mod newton;
mod settle;
mod start;
pub mod stiffness;
mod touch;

pub use build::{EDGES, Far, Rod, Support};
pub use lay::{Bend, Lay, Pressing, Sag};
pub use settle::{settle, settle_from};
pub use touch::{Around, OpenAir, Passing, Touch};

pub(crate) use build::{finer, finite};
pub(crate) use chain::{Chain, Edge, Hold, Joint, Skin, turning};
pub(crate) use lay::{Asked, least_stiffness, place, read};
pub(crate) use newton::{Came, Work};
pub(crate) use settle::{CLOSE, Found, equilibria, one_path};
pub(crate) use start::{Gap, Stop, led, piecewise};

use crate::Vec3;

/// What holds a hose at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grip {
    /// The first mouth.
    First,
    /// A support, by its place in the list.
    Support(usize),
    /// The far end.
    Last,
}

impl std::fmt::Display for Grip {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::First => f.write_str("the first mouth"),
            Self::Support(number) => write!(f, "support {}", number + 1),
            Self::Last => f.write_str("the far end"),
        }
    }
}

/// Why a hose has no shape, or none was found.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Fault {
    /// The ends are farther apart than the hose is long.
    #[error(
        "the ends lie {chord:.4} m apart along the straightest way and the free length is {length:.4} m"
    )]
    TooShort {
        /// Distance that the hose must span [m].
        chord: f64,
        /// Free length [m].
        length: f64,
    },
    /// Two holds of which at least one is a support lie farther apart than there is hose between
    /// them.
    #[error(
        "{first} and {second} lie {chord:.4} m apart along the straightest way, with {arc:.4} m of hose between them"
    )]
    Supports {
        /// The one nearer to the first mouth.
        first: Grip,
        /// The next.
        second: Grip,
        /// Distance that the hose must span between them [m].
        chord: f64,
        /// Length along the hose between them [m].
        arc: f64,
    },
    /// A figure that can't be.
    #[error("{what} is {value}; it must be {want}")]
    Figure {
        /// Which figure.
        what: &'static str,
        /// What it is.
        value: f64,
        /// What fits.
        want: &'static str,
    },
    /// No equilibrium was found from any start. That is no proof that there is none.
    #[error("no equilibrium was found from {starts} starts; that proves nothing")]
    NotFound {
        /// How many starts were tried.
        starts: usize,
    },
}

/// A mouth that clamps the hose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct End {
    /// Where the free length begins: the tip of the spigot [m].
    pub at: Vec3,
    /// Unit vector out of the mouth.
    pub along: Vec3,
}
