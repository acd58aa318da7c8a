//! Which hose for a stretch between two male ends: from the shelf first, then from the shop.

use boat::{Assume, HoseBuild, Key, Size};
use quantity::{Length, Measured, NominalSize, Origin};
use reference::hose::{HoseKind, sold_bores, wall, widest_bore_limits};

use super::OtherHose;
use super::numbers::Numbers;
use super::stretch::suits;
use crate::stages::types::{HoseFacts, Known, Missing, Outside, ShelfHose, SpigotFacts, Value};
use crate::verdict::{Edit, Grade, Settles, Stakes};

/// One end of a stretch of hose.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct End {
    /// Joint.
    pub joint: Key,
    /// The male end.
    pub spigot: SpigotFacts,
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
    /// Hoses on the owner's shelf.
    pub shelf: Vec<ShelfHose>,
    /// What may be assumed.
    pub assume: Vec<Assume>,
    /// Which value of the file names the hose.
    pub place: String,
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
    let own = input.shelf.iter().find(|own| {
        own.size == size && (own.build.is_none() || kind.is_none() || own.build == kind)
    });
    let word = input
        .build
        .or(kind.map(build_word))
        .map_or("", HoseBuild::word);
    let name = format!("hose {} {word}", boat::size_text(Size::Named(size)));
    let shelf = |how: &str| Settles {
        place: "stock.hose".into(),
        how: how.to_owned(),
    };
    let measure_bore = "Measure the bore of the hose with a caliper and write it on your shelf: `2 m x 38 epdm, id 37.8 od 47.4`.";
    let measure_over = "Measure the outside of the hose with a tape round it and write it on your shelf: `2 m x 38 epdm, id 37.8 od 47.4`.";
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

/// Finds the hose of a stretch.
pub fn find(input: &StretchInput) -> StretchOutput {
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
        return StretchOutput {
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
        let hose = match named {
            Some(size) => Ok(hose(input, size, &build)),
            None => Err(build
                .clone()
                .err()
                .unwrap_or_else(|| unreachable_build(input))),
        };
        return StretchOutput {
            hose,
            chosen: false,
            others: Vec::new(),
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
        .filter(|(_, size, ..)| Some(*size) != named)
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
        Some(size) => StretchOutput {
            hose: Ok(hose(input, size, &build)),
            chosen: false,
            others,
        },
        None => match tried.first() {
            Some((hose, ..)) => StretchOutput {
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
                    (false, Some(open)) => Missing { why: "its ends are not measured".into(), settles: open.settles.clone() },
                    _ => Missing {
                        why: "no one hose fits both ends".into(),
                        settles: Settles {
                            place: input.place.clone(),
                            how: "Write a reducer between two hoses: `hose choose + reducer choose>choose metal + hose choose`.".into(),
                        },
                    },
                };
                StretchOutput {
                    hose: Err(missing),
                    chosen: false,
                    others,
                }
            }
        },
    }
}

/// The build is known here; this keeps the types honest without a panic.
fn unreachable_build(input: &StretchInput) -> Missing {
    Missing {
        why: "not written".into(),
        settles: Settles {
            place: input.place.clone(),
            how: "Write the build after the size.".into(),
        },
    }
}

/// A reducer between two hoses, where no one hose fits both ends: the best size at each.
pub fn reducer(input: &StretchInput) -> Option<(NominalSize, NominalSize)> {
    let best = |end: &End| {
        let one = StretchInput {
            ends: vec![end.clone()],
            size: Some(Size::Choose),
            ..input.clone()
        };
        find(&one).hose.ok().and_then(|hose| hose.size)
    };
    match input.ends.as_slice() {
        [one, other] if one.spigot.od.is_ok() && other.spigot.od.is_ok() => {
            let (a, b) = (best(one)?, best(other)?);
            (a != b).then_some((a, b))
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
