//! Which further look tells apart the threads that still stand.

use quantity::{Length, Quantity};
use reference::thread::{Family, ThreadSize};

use super::rank::{Candidate, ThreadLooks};
use crate::say;
use crate::solve::thread::{pitches_to_count, taper_base};

/// What a caliper is usually off by, as a standard uncertainty [m]: 0.1 mm either way, common practice.
const CALIPER: f64 = 0.1e-3 / 1.732_050_807_568_877_2;

/// Two diameters are asked for at least so far apart [mm]: a round figure over the 6 mm that a caliper
/// needs.
const APART_MM: f64 = 8.0;

/// A further look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Further {
    /// The length over so many pitches.
    Pitch {
        /// How many.
        count: u32,
    },
    /// Two diameters so far apart.
    Taper {
        /// How far.
        apart: Length,
    },
    /// The angle between the flanks, by a thread gauge.
    Flanks,
    /// Whether there is a flat face for a washer.
    Faces,
    /// A part of known thread, tried by hand.
    Trial,
}

/// A further look, and the threads that it parts from each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Tells {
    /// The look.
    pub look: Further,
    /// The threads by what the look would show: within a group it does not tell them apart.
    pub groups: Vec<Vec<String>>,
}

impl Further {
    /// What to do, as an order without its full stop.
    pub fn act(&self) -> String {
        match self {
            Self::Pitch { count } => {
                format!("Measure the length over {count} pitches with a caliper")
            }
            Self::Taper { apart } => format!(
                "Read two diameters {:.0} mm apart with a caliper, for the taper",
                apart.to_mm()
            ),
            Self::Flanks => "Hold a 55° and a 60° thread gauge to it against the light".into(),
            Self::Faces => "Look for a flat face round the hole: a washer wants one".into(),
            Self::Trial => "Try a part of known thread by hand, without force".into(),
        }
    }

    /// What the look shows of a size; equal numbers are not told apart.
    fn shows(&self, size: &ThreadSize) -> i64 {
        match self {
            Self::Pitch { .. } => (size.pitch.to_mm() * 1e4).round() as i64,
            Self::Taper { .. } => i64::from(size.family.taper().si() > 0.0),
            Self::Flanks => size.family.flank_angle().to_degrees().round() as i64,
            Self::Faces => i64::from(size.family == Family::G),
            Self::Trial => 0,
        }
    }
}

/// The looks that between them part every two threads that stand, the handiest first; none where one
/// stands alone.
pub(super) fn settling(stands: &[Candidate], looks: &ThreadLooks) -> Vec<Tells> {
    let sizes: Vec<&ThreadSize> = stands.iter().map(|one| one.size).collect();
    let mut open: Vec<(usize, usize)> = Vec::new();
    for one in 0..sizes.len() {
        open.extend((one + 1..sizes.len()).map(|other| (one, other)));
    }
    let mut tells = Vec::new();
    let handiest = [
        Further::Pitch {
            count: count(&sizes, looks),
        },
        Further::Taper {
            apart: apart(&sizes, looks),
        },
        Further::Flanks,
        Further::Faces,
    ];
    for look in handiest {
        let before = open.len();
        open.retain(|(one, other)| look.shows(sizes[*one]) == look.shows(sizes[*other]));
        if open.len() < before {
            tells.push(Tells {
                groups: groups(&sizes, |size| look.shows(size)),
                look,
            });
        }
    }
    if !open.is_empty() {
        tells.push(Tells {
            groups: groups(&sizes, |size| (size.major.to_mm() * 1e4).round() as i64),
            look: Further::Trial,
        });
    }
    tells
}

fn groups(sizes: &[&ThreadSize], shows: impl Fn(&ThreadSize) -> i64) -> Vec<Vec<String>> {
    let mut groups: Vec<(i64, Vec<String>)> = Vec::new();
    for size in sizes {
        let shown = shows(size);
        let name = size.designation();
        match groups.iter_mut().find(|(known, _)| *known == shown) {
            Some((_, names)) => names.push(name),
            None => groups.push((shown, vec![name])),
        }
    }
    groups.into_iter().map(|(_, names)| names).collect()
}

/// Over how many pitches the nearest two pitches are told apart.
fn count(sizes: &[&ThreadSize], looks: &ThreadLooks) -> u32 {
    let deviation = looks
        .pitch
        .as_ref()
        .map_or(CALIPER, |pitch| pitch.over.measured.standard_uncertainty());
    let mut most: f64 = 1.0;
    for (at, one) in sizes.iter().enumerate() {
        for other in &sizes[at + 1..] {
            let (one, other) = (one.pitch.si(), other.pitch.si());
            if (one - other).abs() > 1e-6 {
                most = most.max(pitches_to_count(one, other, deviation));
            }
        }
    }
    // OK because it is between 1 and 200; no thread has more.
    most.clamp(1.0, 200.0) as u32
}

/// How far apart two diameters tell a taper; no farther than the shortest of the threads is cut.
fn apart(sizes: &[&ThreadSize], looks: &ThreadLooks) -> Length {
    let deviation = looks.diameter.measured.standard_uncertainty();
    let needed = (taper_base(deviation) * 1000.0).ceil().max(APART_MM);
    let cut = sizes
        .iter()
        .filter_map(|size| size.taper_lengths)
        .map(|lengths| lengths.useful.to_mm())
        .fold(f64::MAX, f64::min);
    Length::mm(needed.min(cut.floor()).clamp(1.0, 1000.0))
}

impl Tells {
    /// `G 1/2 and 1/2 NPSM from R 1/2 and 1/2 NPT`.
    pub fn parts(&self) -> String {
        let groups: Vec<String> = self
            .groups
            .iter()
            .map(|names| say::list(names, "and"))
            .collect();
        groups.join(" from ")
    }
}
