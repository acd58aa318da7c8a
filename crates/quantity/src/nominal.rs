//! Sizes by name: a `38` hose need not measure 38 mm anywhere.

use std::cmp::Ordering;

use crate::dimension::Length;
use crate::lex::Fault;
use crate::parse::ParseError;
use crate::unit::Kind;

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

/// Larger than any hose or thread aboard.
const LARGEST_MM: f64 = 4000.0;

impl NominalSize {
    /// Millimetres by name. Unit: mm. Range: over 0 to 4000. Source: this crate.
    pub const fn mm(millimetres: u32) -> Self {
        Self::Metric {
            micrometres: millimetres * 1000,
        }
    }

    /// Inches by name, in sixty-fourths. Unit: 1/64 in. Range: over 0 to 10,000. Source: this crate.
    pub const fn sixty_fourths(sixty_fourths: u32) -> Self {
        Self::Inch { sixty_fourths }
    }

    /// The length that the name says, which no thing need measure.
    /// Unit: m. Range: over 0. Source: 1 in = 25.4 mm exactly (NIST SP 811).
    pub fn as_length(self) -> Length {
        match self {
            Self::Metric { micrometres } => Length::of_si(f64::from(micrometres) / 1e6),
            Self::Inch { sixty_fourths } => Length::inches(f64::from(sixty_fourths) / 64.0),
        }
    }

    /// Which of two is larger by the length that its name says, exactly; equal ones of both
    /// systems (`1 in`, `25.4 mm`) are equal here though they are not the same size.
    /// Unit: none. Range: any two. Source: 1/64 in = 396.875 µm exactly.
    pub fn by_length(self, other: Self) -> Ordering {
        let nanometres = |size| match size {
            Self::Metric { micrometres } => u64::from(micrometres) * 1000,
            Self::Inch { sixty_fourths } => u64::from(sixty_fourths) * 396_875,
        };
        nanometres(self).cmp(&nanometres(other))
    }

    /// Reads a size: `38`, `38 mm`, `12.5`, `1 1/2 in`, `1-1/2"`. A bare number is in mm, a bare
    /// fraction in inches, as the trade writes them.
    /// Unit: mm or in. Range: over 0 to 4 m; whole µm, or whole sixty-fourths of an inch. Source: the text.
    /// # Errors
    /// A [`ParseError`] that says what was read and what a size looks like.
    pub fn parse(text: &str) -> Result<Self, ParseError> {
        let (number, unit) = crate::parse::nominal_amount(text)?;
        let read = &text[number.span.clone()];
        let wrong = |message: String| {
            Err(ParseError::new(
                Kind::Length,
                Fault {
                    span: number.span.clone(),
                    message,
                },
            ))
        };
        let inch = match unit.map(|unit| unit.name) {
            None => number.fraction,
            Some("mm") => false,
            Some("in") => true,
            Some(other) => {
                return wrong(format!(
                    "{read} {other} is no size by name: sizes are in mm or in"
                ));
            }
        };
        let mm = if inch {
            number.value * 25.4
        } else {
            number.value
        };
        if !(mm > 0.0 && mm <= LARGEST_MM) {
            return wrong(format!(
                "{read} is no size: one is over 0 and at most 4000 mm"
            ));
        }
        let parts = number.value * if inch { 64.0 } else { 1000.0 };
        let whole = parts.round();
        if (parts - whole).abs() > 1e-6 || whole < 1.0 {
            let message = if inch {
                format!(
                    "{read} in is no size by name: sizes in inches go in sixty-fourths, such as 1 5/8 in"
                )
            } else {
                format!("{read} mm is no size by name: sizes in mm have at most three decimals")
            };
            return wrong(message);
        }
        // OK because it is a whole number from 1 to 4,000,000.
        let parts = whole as u32;
        Ok(if inch {
            Self::Inch {
                sixty_fourths: parts,
            }
        } else {
            Self::Metric { micrometres: parts }
        })
    }
}

impl std::fmt::Display for NominalSize {
    /// `38 mm`, `12.5 mm`, `1 1/2 in`: what [`NominalSize::parse`] reads back.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Metric { micrometres } => write!(f, "{} mm", f64::from(*micrometres) / 1000.0),
            Self::Inch { sixty_fourths } => {
                write!(
                    f,
                    "{} in",
                    crate::file::fraction_text(u64::from(*sixty_fourths), 64)
                )
            }
        }
    }
}

impl std::str::FromStr for NominalSize {
    type Err = ParseError;
    fn from_str(text: &str) -> Result<Self, ParseError> {
        Self::parse(text)
    }
}
