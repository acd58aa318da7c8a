//! Which hose for a stretch between two male ends: from the shelf first, then from the shop.

use boat::{Assume, HoseBuild, Key, Metal, Size};
use quantity::{Length, Measured, NominalSize, Origin, Quantity};
use reference::hose::{HoseKind, sold_bores, stretch_limits, wall, widest_bore_limits};

use super::OtherHose;
use super::need::bores_that_fit;
use super::numbers::Numbers;
use super::stretch::{allowed_slack, refused_over, suits};
use crate::stages::types::{HoseFacts, Known, Missing, Outside, ShelfHose, SpigotFacts, Value};
use crate::verdict::{Edit, Grade, Settles, Stakes};

/// One end of a stretch of hose.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct End {
    /// Joint.
    pub joint: Key,
    /// The male end.
    pub spigot: SpigotFacts,
    /// Its size by name, where it is the end of a bought piece.
    pub nominal: Option<NominalSize>,
    /// What hangs on it.
    pub stakes: Stakes,
    /// The hose was pushed on for trial, and went.
    pub tried: bool,
}

/// All that is read to find the hose of one stretch.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct StretchInput {
    /// Its two ends, as far as they are male.
    pub ends: Vec<End>,
    /// Size by name, or to be chosen; `None` where the way is not written.
    pub size: Option<Size>,
    /// Build, where typed.
    pub build: Option<HoseBuild>,
    /// Hoses on the owner's shelf; none of them is the cuff of a moulded piece.
    pub shelf: Vec<ShelfHose>,
    /// How much is needed at least, where that is known.
    pub needs: Option<Length>,
    /// The piece by name, where it is moulded and so no length of hose.
    pub moulded: Option<String>,
    /// What may be assumed.
    pub assume: Vec<Assume>,
    /// Which value of the file names the hose.
    pub place: String,
}

impl StretchInput {
    /// Whether a joint is one of its ends.
    pub fn has(&self, joint: &str) -> bool {
        self.ends.iter().any(|end| end.joint == joint)
    }
}

/// The hose of a stretch, and what else would do.
#[derive(Clone, Debug, PartialEq)]
pub struct StretchOutput {
    /// The hose decided on or chosen.
    pub hose: Result<HoseFacts, Missing>,
    /// Whether the tool chose it.
    pub chosen: bool,
    /// Others, the best first; their edits are still to be written.
    pub others: Vec<(OtherHose, NominalSize)>,
    /// A sleeve by which one hose would fit both ends.
    pub sleeve: Option<Sleeve>,
    /// Two hoses with a reducer between them, where no one hose fits both ends.
    pub reduced: Option<Reduced>,
}

/// The hose of a stretch, and which others would do.
struct Found {
    hose: Result<HoseFacts, Missing>,
    chosen: bool,
    others: Vec<(OtherHose, NominalSize)>,
}

/// The build of the hose: as typed, or the usual one where that may be assumed.
fn build_of(input: &StretchInput) -> Result<(HoseKind, bool), Missing> {
    match input.build {
        Some(build) => Ok((crate::stages::types::hose_kind(build), false)),
        None if input.assume.contains(&Assume::HoseBuild) => Ok((HoseKind::FabricEpdm, true)),
        None => Err(Missing {
            why: "not written".into(),
            settles: Settles {
                place: input.place.clone(),
                how:
                    "Write the build after the size: `hose 38 epdm`, wired, silicone, plain rubber."
                        .into(),
            },
        }),
    }
}

/// A hose by name with its sizes: measured if it lies on the shelf, else by the tables.
fn hose(
    input: &StretchInput,
    size: NominalSize,
    build: &Result<(HoseKind, bool), Missing>,
) -> HoseFacts {
    let kind = build.as_ref().ok().map(|(kind, _)| *kind);
    let own = input
        .shelf
        .iter()
        .filter(|own| is_it(own, input, size, kind))
        .map(|own| described(input, size, build, Some(own)))
        .min_by(|a, b| {
            // The one that suits its ends best; where that can't be told, the one listed first.
            let how = |hose: &HoseFacts| kind.and_then(|kind| worst_end(&input.ends, hose, kind));
            match (how(a), how(b)) {
                (Some(a), Some(b)) => a.0.cmp(&b.0).then(b.2.total_cmp(&a.2)),
                _ => std::cmp::Ordering::Equal,
            }
        });
    own.unwrap_or_else(|| described(input, size, build, None))
}

/// The hose of a stretch as a shop sells it, whatever lies on the shelf: its bore within the limits of
/// the tables and within what fits both ends, since a bore can be measured before it is paid for.
/// `None` says that no hose of that size can fit.
pub fn bought(input: &StretchInput, size: NominalSize) -> Option<(HoseFacts, Option<Window>)> {
    let build = build_of(input);
    let mut hose = described(input, size, &build, None);
    let (Ok((kind, _)), Ok(bore)) = (&build, &hose.bore) else {
        return Some((hose, None));
    };
    let Some((least, most)) = bores_that_fit(&input.ends, *kind) else {
        return Some((hose, None));
    };
    let (low, high) = (
        bore.measured.low.si().max(least),
        bore.measured.high.si().min(most),
    );
    let (least, most) = (Length::from_si(low)?, Length::from_si(high)?);
    // A hose is a little oval and wavy inside: a window narrower than that is none.
    if high - low < NARROWEST_WINDOW {
        return None;
    }
    let narrowed = least > bore.measured.low || most < bore.measured.high;
    let window = narrowed.then_some(Window { least, most });
    hose.bore = Ok(Value {
        measured: Measured::between(least, most, bore.measured.origin),
        ..bore.clone()
    });
    Some((hose, window))
}

/// How wide the window of bores must be for a caliper to tell whether a hose lies in it [m].
/// Common practice, no source.
const NARROWEST_WINDOW: f64 = 0.000_2;

/// Between what the bore of a hose must measure to be worth buying.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Window {
    /// Not below.
    pub least: Length,
    /// Not above.
    pub most: Length,
}

/// Whether a hose of the shelf is the one that is written: its size and build, and enough of it.
fn is_it(own: &ShelfHose, input: &StretchInput, size: NominalSize, kind: Option<HoseKind>) -> bool {
    input.moulded.is_none()
        && is_same_size(own.size, size)
        && (own.build.is_some() || input.build.is_none())
        && (own.build.is_none() || kind.is_none() || own.build == kind)
        && input.needs.is_none_or(|needs| own.length >= needs)
}

/// Whether two names are sold as one size: 38 mm and 1 1/2 in, 16 mm and 5/8 in. Under a third of a
/// millimetre apart, the spread of a hose's bore is far larger than what parts them.
/// Common practice, no source.
pub fn is_same_size(one: NominalSize, other: NominalSize) -> bool {
    (one.as_length().to_mm() - other.as_length().to_mm()).abs() < 1.0 / 3.0
}

/// A hose by name with its sizes: those of an entry on the shelf, else those of the tables.
fn described(
    input: &StretchInput,
    size: NominalSize,
    build: &Result<(HoseKind, bool), Missing>,
    own: Option<&ShelfHose>,
) -> HoseFacts {
    let kind = build.as_ref().ok().map(|(kind, _)| *kind);
    let word = input
        .build
        .or(kind.map(build_word))
        .map_or("", HoseBuild::word);
    let name = match &input.moulded {
        Some(name) => name.clone(),
        None => format!("hose {} {word}", boat::size_text(Size::Named(size))),
    };
    let shelf = |how: &str| Settles {
        place: "stock.hose".into(),
        how: how.to_owned(),
    };
    let sized = boat::size_text(Size::Named(size));
    let example = format!(
        "`2 m x {sized} {}, id … od …`",
        if word.is_empty() { "epdm" } else { word }
    );
    let (measure_bore, measure_over) = if input.moulded.is_some() {
        (
            "Measure the bore of the cuff with a caliper and write it with the joint: `hose_bore = …`.".to_owned(),
            "Measure round the cuff with a tape and write it with the joint: `hose_over = …`.".to_owned(),
        )
    } else {
        (
            format!(
                "Measure the bore of the hose with a caliper and write it on your shelf: {example}."
            ),
            format!(
                "Measure the outside of the hose with a tape round it and write it on your shelf: {example}."
            ),
        )
    };
    let (measure_bore, measure_over) = (measure_bore.as_str(), measure_over.as_str());
    let bore: Known<Length> = match own.and_then(|own| own.bore.clone()) {
        Some(bore) => Ok(bore),
        None => match widest_bore_limits(size) {
            Ok(limits) => Ok(Value {
                measured: limits.value.measured(),
                from: format!("table: {}", limits.source.text),
                place: Some(input.place.clone()),
                settles: shelf(measure_bore),
            }),
            Err(unknown) => Err(Missing {
                why: unknown.why.as_str().into(),
                settles: shelf(measure_bore),
            }),
        },
    };
    let outside = match own.and_then(|own| own.over.clone()) {
        Some(over) => Ok(Outside::Over(over)),
        None => {
            let missing = |why: &str| Missing {
                why: why.into(),
                settles: shelf(measure_over),
            };
            match (kind, input.assume.contains(&Assume::HoseWall)) {
                (Some(kind), true) => match wall(kind, size.as_length()) {
                    Ok(limits) => Ok(Outside::Wall(Value {
                        measured: Measured {
                            origin: Origin::Assumed,
                            ..limits.value.measured()
                        },
                        from: "assumed".into(),
                        place: Some(input.place.clone()),
                        settles: shelf(measure_over),
                    })),
                    Err(unknown) => Err(missing(&unknown.why)),
                },
                _ => Err(missing("not measured, and no wall may be assumed")),
            }
        }
    };
    HoseFacts {
        name: name.trim().to_owned(),
        size: Some(size),
        place: input.place.clone(),
        build: build.clone(),
        bore,
        outside,
        own: own.is_some(),
        works_at: own.and_then(|own| own.works_at),
    }
}

fn build_word(kind: HoseKind) -> HoseBuild {
    match kind {
        HoseKind::FabricEpdm => HoseBuild::Epdm,
        HoseKind::FabricSilicone => HoseBuild::Silicone,
        HoseKind::PlainRubber => HoseBuild::PlainRubber,
        HoseKind::PlainSilicone => HoseBuild::PlainSilicone,
        HoseKind::WireHelix => HoseBuild::Wired,
    }
}

/// How good a hose is at the worse of the ends that are measured: grade, chance, chance of good.
fn worst_end(ends: &[End], hose: &HoseFacts, kind: HoseKind) -> Option<(Grade, f64, f64)> {
    let bore = hose.bore.as_ref().ok()?;
    let mut worst: Option<(Grade, f64, f64)> = None;
    for end in ends {
        let Ok(od) = &end.spigot.od else { continue };
        let numbers = Numbers::new(od, &end.spigot.bead, Some(bore), None, None, None).ok()?;
        let (grade, chance, good) = suits(&numbers, kind, end.tried, end.stakes);
        worst = Some(worst.map_or((grade, chance, good), |(g, c, b)| {
            (g.max(grade), c.min(chance), b.min(good))
        }));
    }
    worst
}

/// Whether a hose may go on the ends that nobody measured yet, by the sizes that they are sold as. It
/// keeps a hose that suits one end from being offered where its other end can't take it.
fn goes_by_name(ends: &[End], hose: &HoseFacts, size: NominalSize, kind: HoseKind) -> bool {
    let Ok(bore) = &hose.bore else { return true };
    ends.iter()
        .filter(|end| end.spigot.od.is_err())
        .filter_map(|end| Some((end, end.nominal?)))
        .all(|(end, nominal)| {
            let (low, high) = (bore.measured.low.si(), bore.measured.high.si());
            let (most, _) = refused_over(kind, end.tried);
            let spigot = nominal.as_length().si();
            is_same_size(size, nominal)
                || spigot <= high * (1.0 + most) && low <= spigot + allowed_slack(spigot)
        })
}

/// Finds the hose of a stretch, and what else would do.
pub fn find(input: &StretchInput) -> StretchOutput {
    let Found {
        hose,
        chosen,
        others,
    } = found(input);
    StretchOutput {
        hose,
        chosen,
        others,
        sleeve: sleeve(input),
        reduced: reducer(input),
    }
}

fn found(input: &StretchInput) -> Found {
    let build = build_of(input);
    let Some(size) = input.size else {
        let settles = Settles {
            place: input.place.clone(),
            how: "Write the way of the run: `way = \"hose 38 epdm\"`, or `\"choose\"`.".into(),
        };
        let missing = Missing {
            why: "its way is not written".into(),
            settles,
        };
        return Found {
            hose: Err(missing),
            chosen: false,
            others: Vec::new(),
        };
    };
    let named = match size {
        Size::Named(size) => Some(size),
        Size::Choose => None,
    };
    let Ok((kind, _)) = build else {
        return match named {
            Some(size) => Found {
                hose: Ok(hose(input, size, &build)),
                chosen: false,
                others: Vec::new(),
            },
            None => from_shelf(input, build.err()),
        };
    };
    let mut sizes: Vec<NominalSize> = input.shelf.iter().map(|own| own.size).collect();
    sizes.extend(sold_bores().iter().map(|sold| sold.nominal));
    sizes.sort_by(|a, b| a.by_length(*b));
    sizes.dedup();
    let mut tried: Vec<(HoseFacts, NominalSize, Grade, f64, f64)> = sizes
        .into_iter()
        .filter_map(|size| {
            let hose = hose(input, size, &build);
            let (grade, chance, good) = worst_end(&input.ends, &hose, kind)?;
            if !goes_by_name(&input.ends, &hose, size, kind) {
                return None;
            }
            (chance > 0.05).then_some((hose, size, grade, chance, good))
        })
        .collect();
    tried.sort_by(|a, b| {
        a.2.cmp(&b.2)
            .then(b.0.own.cmp(&a.0.own))
            .then(b.4.total_cmp(&a.4))
            .then(b.3.total_cmp(&a.3))
    });
    let others: Vec<(OtherHose, NominalSize)> = tried
        .iter()
        .filter(|(_, size, ..)| named.is_none_or(|named| !is_same_size(*size, named)))
        .take(3)
        .map(|(hose, size, grade, chance, _)| {
            let thousandths = (chance * 1000.0).round() as u32;
            (
                OtherHose {
                    name: hose.name.clone(),
                    grade: *grade,
                    thousandths,
                    own: hose.own,
                    edit: None,
                },
                *size,
            )
        })
        .collect();
    match named {
        Some(size) => Found {
            hose: Ok(hose(input, size, &build)),
            chosen: false,
            others,
        },
        // What its own sums refuse at one end is not chosen.
        None => match tried.first().filter(|tried| tried.2 < Grade::Unsound) {
            Some((hose, ..)) => Found {
                hose: Ok(hose.clone()),
                chosen: true,
                others,
            },
            None => {
                let measured = input.ends.iter().any(|end| end.spigot.od.is_ok());
                let open = input
                    .ends
                    .iter()
                    .find_map(|end| end.spigot.od.as_ref().err());
                let missing = match (measured, open) {
                    (false, Some(open)) => Missing {
                        why: "its ends are not measured".into(),
                        settles: open.settles.clone(),
                    },
                    _ => Missing {
                        why: "no one hose fits both ends".into(),
                        settles: Settles {
                            place: input.place.clone(),
                            how: format!(
                                "Write a reducer between two hoses: `hose choose {0} + reducer choose>choose metal + hose choose {0}`.",
                                build_word(kind).word()
                            ),
                        },
                    },
                };
                Found {
                    hose: Err(missing),
                    chosen: false,
                    others,
                }
            }
        },
    }
}

/// The best hose of the shelf, whatever its build, where the file leaves size and build open.
fn from_shelf(input: &StretchInput, unknown: Option<Missing>) -> Found {
    let mut builds: Vec<HoseKind> = Vec::new();
    for own in &input.shelf {
        if let Some(kind) = own.build
            && !builds.contains(&kind)
        {
            builds.push(kind);
        }
    }
    let best = builds
        .into_iter()
        .filter_map(|kind| {
            let of_kind = StretchInput {
                build: Some(build_word(kind)),
                ..input.clone()
            };
            let found = found(&of_kind);
            let hose = found.hose.as_ref().ok().filter(|hose| hose.own)?;
            let (grade, chance, good) = worst_end(&input.ends, hose, kind)?;
            (grade < Grade::Unsound).then_some((grade, chance, good, found))
        })
        .min_by(|a, b| {
            a.0.cmp(&b.0)
                .then(b.2.total_cmp(&a.2))
                .then(b.1.total_cmp(&a.1))
        });
    match best {
        Some((_, _, _, found)) => found,
        None => Found {
            hose: Err(unknown.unwrap_or_else(|| Missing {
                why: "not written".into(),
                settles: Settles {
                    place: input.place.clone(),
                    how: "Write the build after the size.".into(),
                },
            })),
            chosen: false,
            others: Vec::new(),
        },
    }
}

/// A sleeve over the thinner of two spigots, so that one hose fits both ends.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Sleeve {
    /// The joint at whose spigot it goes.
    pub joint: Key,
    /// That spigot, for people: `gearbox b`.
    pub over: String,
    /// The metal of both, for people: `copper`.
    pub metal: String,
    /// Its outside diameter.
    pub outside: Length,
    /// Its wall.
    pub wall: Length,
    /// The hose that then fits: `hose 38 epdm`.
    pub hose: String,
}

/// Walls between which a sleeve can be turned and soldered on; a thicker one is a reducer's work.
/// Common practice, no source.
const SLEEVE_WALL_MM: (f64, f64) = (1.0, 4.0);

/// Metals on which a sleeve can be soldered or brazed. Common practice, no source.
fn takes_solder(metal: Metal) -> bool {
    matches!(
        metal,
        Metal::Copper
            | Metal::CuproNickel
            | Metal::Brass
            | Metal::Dzr
            | Metal::Gunmetal
            | Metal::Bronze
            | Metal::Steel
            | Metal::Stainless
            | Metal::Stainless304
            | Metal::Stainless316
    )
}

/// A sleeve where one hose fits one end well and is too large for the other. Its outside is what
/// stretches that hose by half of what is good.
fn sleeve(input: &StretchInput) -> Option<Sleeve> {
    let [one, other] = input.ends.as_slice() else {
        return None;
    };
    let (Ok(a), Ok(b)) = (&one.spigot.od, &other.spigot.od) else {
        return None;
    };
    let (thin, thick) = if a.measured.value < b.measured.value {
        ((one, a), other)
    } else {
        ((other, b), one)
    };
    let of_thick = StretchInput {
        ends: vec![thick.clone()],
        size: Some(Size::Choose),
        needs: None,
        ..input.clone()
    };
    let hose = found(&of_thick).hose.ok()?;
    let (kind, _) = hose.build.as_ref().ok()?;
    let (grade, _, good) = worst_end(&of_thick.ends, &hose, *kind)?;
    let fits_thick = grade == Grade::Sound && good >= 0.95;
    let metal = thin.0.spigot.metal.filter(|metal| takes_solder(*metal))?;
    let bore = hose.bore.as_ref().ok()?.measured.value;
    let stretch = stretch_limits(*kind).good_to.to_f64() / 2.0;
    // To half a millimetre, as one asks for it.
    let outside = (bore.to_mm() * (1.0 + stretch) * 2.0).round() / 2.0;
    let wall = (outside - thin.1.measured.value.to_mm()) / 2.0;
    let (least, most) = SLEEVE_WALL_MM;
    (fits_thick && (least..=most).contains(&wall)).then(|| Sleeve {
        joint: thin.0.joint.clone(),
        over: thin.0.spigot.name.clone(),
        metal: metal.word().to_owned(),
        outside: Length::mm(outside),
        wall: Length::mm(wall),
        hose: hose.name.clone(),
    })
}

/// Two hoses with a reducer between them.
#[derive(Clone, Debug, PartialEq)]
pub struct Reduced {
    /// Upstream and downstream size.
    pub sizes: (NominalSize, NominalSize),
    /// How good they are, at the worse end.
    pub grade: Grade,
    /// The chance that both ends go on and hold.
    pub chance: f64,
    /// Whether both hoses lie on the shelf.
    pub own: bool,
}

/// A reducer between two hoses, where no one hose fits both ends: the best size at each. Two names
/// of one size want no reducer.
fn reducer(input: &StretchInput) -> Option<Reduced> {
    let best = |end: &End| {
        let one = StretchInput {
            ends: vec![end.clone()],
            size: Some(Size::Choose),
            needs: None,
            ..input.clone()
        };
        let hose = found(&one).hose.ok()?;
        let (kind, _) = hose.build.as_ref().ok()?;
        let (grade, chance, _) = worst_end(&one.ends, &hose, *kind)?;
        Some((hose.size?, grade, chance, hose.own))
    };
    match input.ends.as_slice() {
        [one, other] if one.spigot.od.is_ok() && other.spigot.od.is_ok() => {
            let (a, b) = (best(one)?, best(other)?);
            (!is_same_size(a.0, b.0)).then(|| Reduced {
                sizes: (a.0, b.0),
                grade: a.1.max(b.1),
                chance: a.2 * b.2,
                own: a.3 && b.3,
            })
        }
        _ => None,
    }
}

/// An edit that another hose still waits for.
pub fn with_edit(other: OtherHose, edit: Edit) -> OtherHose {
    OtherHose {
        edit: Some(edit),
        ..other
    }
}
