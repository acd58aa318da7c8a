//! Survey by tape: where the spigots are, how far that may be off, and which tape is wrong.

use boat::{Key, KeyPath, SpotPart};
use quantity::{Angle, Length, Measured, Origin, Quantity, System, show, show_measured};

use crate::say;
use crate::solve::adjust::{Adjusted, Measure, Net, SURE, Says, Side, What, adjust};
use crate::stages::types::{Missing, Subject};
use crate::verdict::Verdict;

/// A place that a tape goes to.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct SpotFact {
    /// As one writes it: `P1`, `engine.out dowel`.
    pub name: String,
    /// For people: `pin P1`, `engine out`.
    pub title: String,
    /// Which place of the spigot; `None` for a pin.
    pub part: Option<SpotPart>,
    /// The spigot as one writes it; the pin's name for a pin.
    pub of: Key,
    /// Where it stands in the file.
    pub place: KeyPath,
}

/// What was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Read {
    /// A distance between two places.
    Distance(usize, usize, Measured<Length>),
    /// How far a dowel stands out: the distance from mouth to far end.
    Dowel(usize, usize, Measured<Length>),
    /// A height.
    Height(usize, Measured<Length>),
    /// A slope from one place to another.
    Slope(usize, usize, Measured<Angle>),
}

/// One measurement that stands.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Reading {
    /// What was read.
    pub read: Read,
    /// In the middle of a sentence: `the tape from P1 to engine.out`.
    pub title: String,
    /// Where it stands in the file.
    pub place: KeyPath,
}

/// A side that was told.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct SideFact {
    /// Of which place.
    pub spot: usize,
    /// As typed: `left of P1 P2`.
    pub text: String,
    /// Which word.
    pub word: SideKind,
    /// The places it speaks of.
    pub of: Vec<usize>,
    /// Where it stands in the file.
    pub place: KeyPath,
}

/// The four sides.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum SideKind {
    Left,
    Right,
    Clockwise,
    Anticlockwise,
}

/// All that the survey by tape reads; empty where the file has none.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct TapeInput {
    /// Places, the pins first.
    pub spots: Vec<SpotFact>,
    /// How many of them are pins.
    pub pins: usize,
    /// What was measured.
    pub readings: Vec<Reading>,
    /// Sides that were told.
    pub sides: Vec<SideFact>,
    /// Measurements that are written and can't be used, with why.
    pub unread: Vec<(String, Missing)>,
}

/// How far a place may be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Standing {
    /// It stands.
    Settled,
    /// It may be the mirrored one.
    Mirrored,
    /// It hangs on which of several tapes is wrong.
    Doubtful,
}

/// Where a spot is: along the line from the first pin to the second, to the left of it, up.
#[derive(Clone, Debug, PartialEq)]
pub struct SpotPlace {
    /// As one writes it.
    pub name: String,
    /// For people.
    pub title: String,
    /// Which place of the spigot; `None` for a pin.
    pub part: Option<SpotPart>,
    /// The spigot, or the pin.
    pub of: Key,
    /// Place [m], rounded to 0.1 mm.
    pub at: [f64; 3],
    /// Half widths [m]: it surely lies within.
    pub half: [f64; 3],
    /// Covariance of the place [m²].
    pub covariance: [[f64; 3]; 3],
    /// How far it may be trusted.
    pub standing: Standing,
}

/// Where a spigot points: out of its mouth.
#[derive(Clone, Debug, PartialEq)]
pub struct SpotAxis {
    /// The spigot, as one writes it.
    pub of: Key,
    /// Direction, of length one, in the same frame.
    pub towards: [f64; 3],
    /// How far it may point aside [rad].
    pub half: f64,
    /// Whether a dowel showed it, or only the stub itself.
    pub by_dowel: bool,
}

/// One measurement against all the others.
#[derive(Clone, Debug, PartialEq)]
pub struct TapeCheck {
    /// What was measured.
    pub title: String,
    /// Where it stands in the file.
    pub place: KeyPath,
    /// How far it is off what all others give [m, or rad]; `None` where nothing checks it.
    pub off: Option<f64>,
    /// Half width of that.
    pub half: Option<f64>,
    /// Whether it was left out as wrong.
    pub left_out: bool,
}

/// What the survey by tape found, for stages that need places.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Surveyed {
    /// Whether z is up, from the waterline.
    pub level: bool,
    /// Whether left is left: nothing is mirrored.
    pub settled: bool,
    /// Where everything is that has a place.
    pub places: Vec<SpotPlace>,
    /// Where spigots point.
    pub axes: Vec<SpotAxis>,
    /// Each measurement against the others.
    pub checks: Vec<TapeCheck>,
    /// Measurements beyond those that the places need.
    pub spare: usize,
}

/// Places and verdicts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TapeOutput {
    /// For other stages; `None` where the file has no survey by tape.
    pub surveyed: Option<Surveyed>,
    /// For people.
    pub verdicts: Vec<Verdict>,
}

/// A place known better than this is good enough to lay a hose to: its ends give so much.
/// Common practice, no source.
pub(super) const PLACE_GOOD: f64 = 10.0;
/// One that is not known to this says nothing of a route. Common practice, no source.
pub(super) const PLACE_USELESS: f64 = 60.0;
/// A spigot that points this exactly leads a hose as drawn. Common practice, no source.
pub(super) const AXIS_GOOD: f64 = 3.0;
/// One that is not known to this might as well point anywhere near. Common practice, no source.
pub(super) const AXIS_USELESS: f64 = 12.0;
pub(super) const METHOD: &str =
    "least squares; each measurement left out and all solved again (Baarda 1968, from memory)";

pub(super) fn sure(sigma: f64) -> f64 {
    sigma * 3.0_f64.sqrt()
}

pub(super) fn length(mm: f64) -> Length {
    Length::from_si(mm / 1000.0).unwrap_or(Length::mm(0.0))
}

pub(super) fn mm(value: f64, system: System) -> String {
    say::whole_mm(value / 1000.0, system)
}

pub(super) fn plus_minus(value: f64, half: f64, system: System) -> String {
    show_measured(
        &Measured::plus_minus(length(value), length(half), Origin::Computed),
        system,
    )
}

/// A half width for people: two figures below 10.
pub(super) fn half_text(half: f64, system: System) -> String {
    show(length(half), Some(length(half.max(0.5))), system)
}

pub(super) struct Judge<'a> {
    pub(super) input: &'a TapeInput,
    pub(super) found: &'a Adjusted,
    verdicts: Vec<Verdict>,
}

/// Judges the survey by tape.
pub fn judge(input: &TapeInput) -> TapeOutput {
    if input.spots.is_empty() {
        return TapeOutput::default();
    }
    let found = adjust(&net(input));
    let mut judge = Judge {
        input,
        found: &found,
        verdicts: Vec::new(),
    };
    judge.unread();
    judge.tapes();
    judge.frame();
    for spot in 0..input.spots.len() {
        judge.position(spot);
    }
    judge.axes();
    let verdicts = judge.verdicts.into_iter().map(Verdict::spoken).collect();
    TapeOutput {
        surveyed: Some(surveyed(input, &found)),
        verdicts,
    }
}

/// In millimetres and radians.
fn net(input: &TapeInput) -> Net {
    let of = |value: f64, sigma: f64, what: What| Measure {
        what,
        value,
        // A width of nothing would weigh all others down to nothing.
        sigma: sigma.max(1e-4),
    };
    let long =
        |m: &Measured<Length>, what| of(m.value.to_mm(), m.standard_uncertainty() * 1000.0, what);
    let measured = input
        .readings
        .iter()
        .map(|reading| match &reading.read {
            Read::Distance(from, to, m) | Read::Dowel(from, to, m) => long(
                m,
                What::Distance {
                    from: *from,
                    to: *to,
                },
            ),
            Read::Height(at, m) => long(m, What::Height { at: *at }),
            Read::Slope(from, to, m) => of(
                m.value.si(),
                m.standard_uncertainty(),
                What::Slope {
                    from: *from,
                    to: *to,
                },
            ),
        })
        .collect();
    let sides = input
        .sides
        .iter()
        .filter_map(|side| {
            let says = match (side.word, side.of.as_slice()) {
                (SideKind::Left, [a, b]) => Says::Left([*a, *b]),
                (SideKind::Right, [a, b]) => Says::Right([*a, *b]),
                (SideKind::Clockwise, [a, b, c]) => Says::Clockwise([*a, *b, *c]),
                (SideKind::Anticlockwise, [a, b, c]) => Says::Anticlockwise([*a, *b, *c]),
                _ => return None,
            };
            Some(Side {
                point: side.spot,
                says,
            })
        })
        .collect();
    Net {
        points: input.spots.len(),
        pins: input.pins,
        measured,
        sides,
    }
}

pub(super) fn standing(found: &Adjusted, spot: usize) -> Standing {
    let mirrored = |group: &crate::solve::adjust::Mirrored| group.points.contains(&spot);
    let doubt = found.doubt.as_ref();
    // A wrong reading first: until it is mended the mirrored place is as wrong.
    if doubt.is_some_and(|doubt| doubt.touched.contains(&spot))
        || doubt.is_none() && !found.agrees()
    {
        Standing::Doubtful
    } else if found.hand_open || found.mirrored.iter().any(mirrored) {
        Standing::Mirrored
    } else {
        Standing::Settled
    }
}

fn surveyed(input: &TapeInput, found: &Adjusted) -> Surveyed {
    let tenth = |mm: f64| (mm * 10.0).round() / 10_000.0;
    let places = input
        .spots
        .iter()
        .enumerate()
        .filter_map(|(spot, fact)| {
            let at = (*found.places.get(spot)?)?;
            let covariance = found.covariance(spot, spot);
            Some(SpotPlace {
                name: fact.name.clone(),
                title: fact.title.clone(),
                part: fact.part,
                of: fact.of.clone(),
                at: at.map(tenth),
                half: [0, 1, 2].map(|i| tenth(sure(covariance[i][i].max(0.0).sqrt()))),
                covariance: covariance.map(|row| row.map(|mm2| mm2 / 1e6)),
                standing: standing(found, spot),
            })
        })
        .collect();
    let axes = spigots(input)
        .into_iter()
        .filter_map(|(mouth, _)| {
            let (towards, sigma, by_dowel) = axis(input, found, mouth)?;
            Some(SpotAxis {
                of: input.spots[mouth].of.clone(),
                towards: towards.map(|x| (x * 1e5).round() / 1e5),
                half: (sure(sigma) * 1e5).round() / 1e5,
                by_dowel,
            })
        })
        .collect();
    let checks = input
        .readings
        .iter()
        .enumerate()
        .map(|(i, reading)| {
            let scale = match reading.read {
                Read::Slope(..) => 1.0,
                _ => 1000.0,
            };
            let blunder = found.blunders.iter().find(|blunder| blunder.measure == i);
            let off = match (blunder, found.tests.get(i).and_then(Option::as_ref)) {
                (Some(blunder), _) => Some((blunder.off, blunder.sigma)),
                (None, Some(test)) => Some((test.off, test.sigma)),
                (None, None) => None,
            };
            let rounded = |x: f64| (x / scale * 1e5).round() / 1e5;
            TapeCheck {
                title: reading.title.clone(),
                place: reading.place.clone(),
                off: off.map(|(off, _)| rounded(off)),
                half: off.map(|(_, sigma)| rounded(sure(sigma))),
                left_out: blunder.is_some(),
            }
        })
        .collect();
    Surveyed {
        level: found.level,
        settled: !found.hand_open && found.mirrored.is_empty(),
        places,
        axes,
        checks,
        spare: found.spare,
    }
}

/// The mouths, each with its spigot.
pub(super) fn spigots(input: &TapeInput) -> Vec<(usize, &str)> {
    input
        .spots
        .iter()
        .enumerate()
        .filter(|(_, spot)| spot.part == Some(SpotPart::Mouth))
        .map(|(at, spot)| (at, spot.of.as_str()))
        .collect()
}

pub(super) fn part_of(input: &TapeInput, of: &str, part: SpotPart) -> Option<usize> {
    input
        .spots
        .iter()
        .position(|spot| spot.of == of && spot.part == Some(part))
}

/// Where a spigot points, with the deviation of that [rad] and whether a dowel showed it.
pub(super) fn axis(
    input: &TapeInput,
    found: &Adjusted,
    mouth: usize,
) -> Option<([f64; 3], f64, bool)> {
    let of = &input.spots[mouth].of;
    let by_dowel = part_of(input, of, SpotPart::Dowel)
        .and_then(|end| found.axis(mouth, end))
        .map(|(towards, sigma)| (towards, sigma, true));
    by_dowel.or_else(|| {
        let root = part_of(input, of, SpotPart::Root)?;
        let (towards, sigma) = found.axis(root, mouth)?;
        Some((towards, sigma, false))
    })
}

impl Judge<'_> {
    pub(super) fn add(&mut self, verdict: Verdict) {
        self.verdicts.push(verdict);
    }

    pub(super) fn name(&self, spot: usize) -> &str {
        &self.input.spots[spot].name
    }

    pub(super) fn subject(&self, spot: usize) -> Subject {
        let fact = &self.input.spots[spot];
        Subject {
            key: fact.of.clone(),
            title: fact.title.clone(),
            place: fact.place.clone(),
        }
    }

    pub(super) fn whole(place: &str) -> Subject {
        Subject {
            key: "tapes".into(),
            title: "the survey by tape".into(),
            place: place.into(),
        }
    }
}

pub(super) fn limit_words() -> String {
    format!("no measurement that lowers the sum by more than {SURE} when it is left out")
}

pub(super) fn boat_path(table: &str, key: &str) -> KeyPath {
    format!("{table}.{}", boat::key_text(key))
}
