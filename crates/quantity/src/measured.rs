//! A value with the interval in which it surely lies.

use crate::dimension::Quantity;
use crate::instrument::Instrument;

/// Where a measured value's tolerance came from.
/// Unit: none. Range: see variants. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Origin {
    /// Read with an instrument, or off a plate, drawing or sheet.
    Read(Instrument),
    /// A typical value standing in, because the file says `assume`.
    Assumed,
    /// Worked out from other values.
    Computed,
    /// From a published table.
    Table,
}

/// A value that surely lies within `low` and `high`.
///
/// The standard uncertainty of such a limit is its half width over √3 (a rectangular spread).
/// Unit: that of `Q`. Range: `low ≤ value ≤ high`. Source: JCGM 100:2008 (GUM), 4.3.7.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Measured<Q: Quantity> {
    /// The best value. Unit: that of `Q`. Range: within `low` and `high`. Source: the reading.
    pub value: Q,
    /// Surely not below. Unit: that of `Q`. Range: at most `value`. Source: the reading.
    pub low: Q,
    /// Surely not above. Unit: that of `Q`. Range: at least `value`. Source: the reading.
    pub high: Q,
    /// Where it came from. Unit: none. Range: see [`Origin`]. Source: the reading.
    pub origin: Origin,
}

impl Origin {
    /// The word that always stands beside such a value: `caliper`, `assumed`, and nothing for a computed one.
    /// Unit: none. Range: text. Source: this crate.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Read(instrument) => instrument.name(),
            Self::Assumed => "assumed",
            Self::Computed => "",
            Self::Table => "table",
        }
    }

    /// Whether nobody measured it and nobody published it for this very thing.
    /// Unit: none. Range: yes for guessed and assumed. Source: this crate.
    pub const fn is_guess(self) -> bool {
        matches!(self, Self::Read(Instrument::Guessed) | Self::Assumed)
    }
}

impl<Q: Quantity> Measured<Q> {
    /// A value without width, such as a definition or the low end of another.
    /// Unit: that of `Q`. Range: any. Source: the caller.
    pub fn exact(value: Q, origin: Origin) -> Self {
        Self {
            value,
            low: value,
            high: value,
            origin,
        }
    }

    /// All three given; `None` unless `low ≤ value ≤ high`.
    /// Unit: that of `Q`. Range: `low ≤ value ≤ high`. Source: the caller.
    pub fn new(low: Q, value: Q, high: Q, origin: Origin) -> Option<Self> {
        (low <= value && value <= high).then_some(Self {
            value,
            low,
            high,
            origin,
        })
    }

    /// Surely between the two, in either order, and best guessed in the middle.
    /// Unit: that of `Q`. Range: any. Source: the caller.
    pub fn between(one: Q, other: Q, origin: Origin) -> Self {
        let (low, high) = (one.min(other), one.max(other));
        Self {
            value: middle(low, high),
            low,
            high,
            origin,
        }
    }

    /// Surely within `half` of the value (a minus sign is dropped); cut where the scale ends.
    /// Unit: that of `Q`. Range: what is physical. Source: the caller.
    pub fn plus_minus(value: Q, half: Q::Difference, origin: Origin) -> Self {
        let half = half.si().abs();
        let cut = |si: f64| {
            // The only scales with an end begin at zero.
            Q::from_si(si.clamp(f64::MIN, f64::MAX))
                .or_else(|| Q::from_si(0.0))
                .unwrap_or(value)
        };
        // Rounding may put the sum on the wrong side of a value that dwarfs its width.
        let low = cut(value.si() - half).min(value);
        let high = cut(value.si() + half).max(value);
        Self {
            value,
            low,
            high,
            origin,
        }
    }

    /// Half the distance from low to high, whether or not the value lies in the middle.
    /// Unit: that of the difference of `Q`. Range: 0 and over. Source: this crate.
    pub fn half_width(&self) -> Q::Difference {
        let half = self.high.si() / 2.0 - self.low.si() / 2.0;
        Q::Difference::from_si(half)
            .expect("OK because halves of finite numbers differ by a finite one")
    }

    /// The standard uncertainty, in SI: half the width over √3.
    /// Unit: SI. Range: 0 and over. Source: JCGM 100:2008 (GUM), 4.3.7.
    pub fn standard_uncertainty(&self) -> f64 {
        (self.high.si() - self.low.si()) / 2.0 / 3.0_f64.sqrt()
    }
}

/// The middle of an interval, without overflow and always within it.
pub(crate) fn middle<Q: Quantity>(low: Q, high: Q) -> Q {
    let middle = (low.si() / 2.0 + high.si() / 2.0).clamp(low.si(), high.si());
    Q::from_si(middle).expect("OK because it lies between two that are fit")
}
