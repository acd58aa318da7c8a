//! Sizes by name: a `38` hose need not measure 38 mm anywhere.

use crate::dimension::Length;

/// A size by which a thing is sold. It is no measurement: only a table says what it measures.
/// Unit: mm or inch fractions. Range: over 0. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NominalSize {
    /// In millimetres: `38`, `12.5 mm`, held in micrometres so that it compares exactly.
    Metric {
        /// Unit: µm. Range: over 0. Source: the text.
        micrometres: u32,
    },
    /// In inches: `1 1/2 in`, `1-1/2 in`, held in sixty-fourths.
    Inch {
        /// Unit: 1/64 in. Range: over 0. Source: the text.
        sixty_fourths: u32,
    },
}

impl NominalSize {
    /// Millimetres by name. Unit: mm. Range: over 0 to 4000. Source: this crate.
    pub const fn mm(millimetres: u32) -> Self {
        Self::Metric {
            micrometres: millimetres * 1000,
        }
    }
    /// The length that the name says, which no thing need measure.
    /// Unit: m. Range: over 0. Source: 1 in = 25.4 mm exactly (NIST SP 811).
    pub fn as_length(self) -> Length {
        match self {
            Self::Metric { micrometres } => Length::of_si(f64::from(micrometres) / 1e6),
            Self::Inch { sixty_fourths } => Length::inches(f64::from(sixty_fourths) / 64.0),
        }
    }
}
