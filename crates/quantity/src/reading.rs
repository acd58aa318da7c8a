//! What an owner writes down: a value, how far it may be off, and with what it was read.

use crate::dimension::Quantity;
use crate::unit::Unit;

pub use crate::instrument::{HalfWidth, Instrument, Instruments};
pub use crate::measured::{Measured, Origin};

/// How far a value may be off, as written.
/// Unit: that of the value. Range: half widths over 0. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Tolerance<Q: Quantity> {
    /// Nothing was written: the instrument decides.
    Unstated,
    /// `± a`: sure it lies between.
    PlusMinus(Q::Difference),
    /// `± p %` of the value, as a ratio.
    Share(crate::Ratio),
    /// `a to b`: sure it lies between.
    Between(Q, Q),
}

/// A quantity as it stands in a file: value, tolerance, instrument, unit as typed.
/// Unit: that of `Q`. Range: finite. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Reading<Q: Quantity> {
    /// The value (the middle where an interval was written). Unit: that of `Q`. Range: finite. Source: the file.
    pub value: Q,
    /// How far off it may be. Unit: that of `Q`. Range: see [`Tolerance`]. Source: the file.
    pub tolerance: Tolerance<Q>,
    /// With what it was read, where the text says so. Unit: none. Range: see [`Instrument`]. Source: the file.
    pub instrument: Option<Instrument>,
    /// The unit it was typed in, for writing it back. Unit: none. Range: see [`Unit`]. Source: the file.
    pub unit: &'static Unit,
}

impl<Q: Quantity> Reading<Q> {
    /// A value as typed, with nothing said about its tolerance or instrument.
    /// Unit: that of `Q`. Range: finite. Source: the file.
    pub fn plain(value: Q, unit: &'static Unit) -> Self {
        Self {
            value,
            tolerance: Tolerance::Unstated,
            instrument: None,
            unit,
        }
    }

    /// The interval in which the value surely lies: as written, else as the instrument usually
    /// gives it (`fallback` where the text names none).
    ///
    /// `None` where nothing was written and the table has no width for that instrument and kind,
    /// as for a power read by tape: then nobody knows how far off it may be.
    /// Unit: that of `Q`. Range: what is physical, so an absolute scale is cut at zero. Source: the reading, then `instruments`.
    pub fn measured(&self, instruments: &Instruments, fallback: Instrument) -> Option<Measured<Q>> {
        let instrument = self.instrument.unwrap_or(fallback);
        let origin = Origin::Read(instrument);
        let half = match self.tolerance {
            Tolerance::Between(low, high) => {
                let within = Measured::new(low, self.value, high, origin);
                return within.or_else(|| Some(Measured::between(low, high, origin)));
            }
            Tolerance::PlusMinus(half) => half,
            Tolerance::Share(share) => HalfWidth::<Q>::share(share).of(self.value),
            Tolerance::Unstated => instruments.get::<Q>(instrument)?.of(self.value),
        };
        Some(Measured::plus_minus(self.value, half, origin))
    }
}

/// Two quantities that go together: `38 kW @ 2600 rpm`, `90 A @ 14 V`.
/// Unit: those of `A` and `B`. Range: finite. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct At<A: Quantity, B: Quantity> {
    /// What is said. Unit: that of `A`. Range: finite. Source: the file.
    pub what: Reading<A>,
    /// At what. Unit: that of `B`. Range: finite. Source: the file.
    pub at: Reading<B>,
}
