//! Metals that the sea or the coolant attacks, alone or in pairs.

use boat::{Carries, Metal};
use quantity::{Kind, Voltage};
use reference::metal::{
    Alloy, GalvanicTable, Proneness, galvanic_gap, gap_limits, metal, metal_fact,
};

use super::JointInput;
use crate::say;
use crate::stages::types::{Missing, SaltFacts, Subject};
use crate::verdict::{Basis, Grade, Margin, Settles, Stage, Verdict};

/// The published metal for the word in the file.
fn alloy(word: Metal) -> Alloy {
    match word {
        Metal::CastIron => Alloy::CastIron,
        Metal::Steel => Alloy::Steel,
        Metal::GalvanisedSteel => Alloy::GalvanisedSteel,
        Metal::Stainless304 => Alloy::Stainless304,
        Metal::Stainless316 => Alloy::Stainless316,
        Metal::Stainless => Alloy::StainlessUnknown,
        Metal::Aluminium => Alloy::Aluminium,
        Metal::Copper => Alloy::Copper,
        Metal::CuproNickel => Alloy::CuproNickel,
        Metal::Brass => Alloy::BrassUnknown,
        Metal::Dzr => Alloy::Dzr,
        Metal::Gunmetal => Alloy::Gunmetal,
        Metal::Bronze => Alloy::Bronze,
        Metal::AluminiumBronze => Alloy::AluminiumBronze,
        Metal::ManganeseBronze => Alloy::ManganeseBronze,
        Metal::Titanium => Alloy::Titanium,
        Metal::Plastic => Alloy::Plastic,
    }
}

/// What one metal suffers by itself where salt water reaches it.
fn alone(subject: &Subject, place: &str, word: Metal, salt: &SaltFacts) -> Option<Verdict> {
    let facts = metal(alloy(word));
    // Plain “bronze” is taken by its word: the trade means a tin bronze by it, not a brass.
    let unknown_brass = facts.dezincifies == Proneness::Unknown && word == Metal::Brass;
    let loses_zinc = facts.dezincifies == Proneness::Yes || unknown_brass;
    let pits = matches!(facts.crevice, Proneness::Yes);
    if !loses_zinc && !pits {
        return None;
    }
    let because = match salt {
        SaltFacts::Fresh => return None,
        SaltFacts::Unknown(settles) => {
            let missing = Missing {
                why: "not known, and this metal suffers in salt".into(),
                settles: settles.clone(),
            };
            return Some(subject.waits(Stage::Fit, "metals", "Salinity of the water", &missing));
        }
        SaltFacts::Salt if loses_zinc => format!(
            "{} in salt water loses its zinc and crumbles{}.",
            say::capital(&facts.name),
            if unknown_brass {
                ", unless its grade is known to resist"
            } else {
                ""
            }
        ),
        SaltFacts::Salt => format!(
            "{} pits in salt water where a hose, a clip or wet lagging keeps the air away.",
            say::capital(&facts.name)
        ),
    };
    let grade = if loses_zinc {
        Grade::Unsound
    } else {
        Grade::Marginal
    };
    let mut verdict = subject.verdict(Stage::Fit, "metals", grade, because.as_str().into());
    verdict.place = place.to_owned();
    verdict.basis = Basis::Practice;
    verdict.remedy = if loses_zinc {
        "Have it renewed in bronze, gunmetal or dezincification-resistant brass, with the boat out of the water.".into()
    } else {
        "Look under the hose end each time it is off; renew it in bronze or titanium if it is pitted.".into()
    };
    verdict.caution = Some(
        "What holds the sea out is renewed ashore, by local rules and licensed practice.".into(),
    );
    verdict.source(facts.source.cite());
    verdict.working.limit =
        "no brass that loses its zinc, and no stainless in a crevice, where salt water stands"
            .into();
    Some(verdict)
}

/// Judges the metal of a spigot: where the sea reaches it, and beside aluminium in one coolant.
pub(super) fn spigot(input: &JointInput) -> Option<Verdict> {
    let place = format!("{}.metal", input.spigot.place);
    let word = input.spigot.metal?;
    if let Some(salt) = &input.terms.sea_reaches
        && let Some(verdict) = alone(&input.subject, &place, word, salt)
    {
        return Some(verdict);
    }
    let copper = metal(alloy(word)).family.is_copper_alloy();
    if !(copper && input.terms.aluminium_in_circuit && input.terms.carries == Carries::Coolant) {
        return None;
    }
    let because = format!(
        "{} shares its coolant with aluminium, which its ions attack.",
        say::capital(&metal(alloy(word)).name)
    );
    let mut verdict = input.subject.verdict(
        Stage::Fit,
        "metals",
        Grade::Marginal,
        because.as_str().into(),
    );
    verdict.place = place;
    verdict.remedy = "Add no copper alloy that the engine's maker did not; keep the coolant fresh and let hose part the metals.".into();
    verdict.working.limit = "no added copper alloy in a circuit with aluminium".into();
    for fact in [
        "aluminium-with-copper",
        "add-no-copper",
        "series-holds-in-its-liquid",
    ]
    .into_iter()
    .filter_map(metal_fact)
    {
        verdict.source(fact.source.cite());
    }
    Some(verdict)
}

/// A screwed stack that the sea reaches.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ChainInput {
    /// Key of the thing.
    pub thing: String,
    /// Where the stack stands.
    pub place: String,
    /// Names and metals from the sea inward.
    pub parts: Vec<(String, Option<Metal>)>,
    /// Whether salt reaches it.
    pub salt: SaltFacts,
    /// Whether the water of the sea runs through it. Where coolant does, the parts are wetted by the sea
    /// from outside at most, and no series for sea water speaks of what they do to each other inside.
    pub raw_water_inside: bool,
}

/// Judges the metals of a stack: each alone, and each pair that is screwed together.
pub fn chain(input: &ChainInput) -> Vec<Verdict> {
    let subject = |key: String, title: String, at: usize| Subject {
        key,
        title,
        place: format!("{}[{at}]", input.place),
    };
    let mut verdicts = Vec::new();
    for (i, (name, word)) in input.parts.iter().enumerate() {
        let subject = subject(
            format!("{}.{name}", input.thing),
            format!("{name} of {}", input.thing),
            i,
        );
        match word {
            Some(word) => verdicts.extend(alone(&subject, &subject.place, *word, &input.salt)),
            None => {
                let settles = Settles {
                    place: input.place.clone(),
                    how: "Find out of what it is made, by its stamp, its maker or a scratch, and write it after the part.".into(),
                };
                verdicts.push(subject.waits(
                    Stage::Fit,
                    "metals",
                    "Metal",
                    &Missing {
                        why: "not known".into(),
                        settles,
                    },
                ));
            }
        }
    }
    let pairs = input.parts.windows(2).enumerate();
    for (i, pair) in pairs.filter(|_| input.raw_water_inside) {
        let [(one, Some(a)), (other, Some(b))] = pair else {
            continue;
        };
        let subject = subject(
            format!("{}.{one}-{other}", input.thing),
            format!("{one} and {other} of {}", input.thing),
            i + 1,
        );
        verdicts.extend(couple(&subject, (one, *a), (other, *b), &input.salt));
    }
    verdicts.into_iter().map(Verdict::spoken).collect()
}

fn couple(
    subject: &Subject,
    one: (&str, Metal),
    other: (&str, Metal),
    salt: &SaltFacts,
) -> Option<Verdict> {
    let (a, b) = (alloy(one.1), alloy(other.1));
    if a == b || one.1 == Metal::Plastic || other.1 == Metal::Plastic {
        return None;
    }
    match salt {
        SaltFacts::Fresh => return None,
        SaltFacts::Unknown(settles) => {
            let missing = Missing {
                why: "not known, and two metals work on each other in salt".into(),
                settles: settles.clone(),
            };
            return Some(subject.waits(Stage::Fit, "galvanic", "Salinity of the water", &missing));
        }
        SaltFacts::Salt => {}
    }
    let tables = [
        GalvanicTable::FlowingCalomel,
        GalvanicTable::SilverChloride,
        GalvanicTable::FlowingRanges,
    ];
    let gap = tables
        .into_iter()
        .find_map(|table| galvanic_gap(a, b, table).ok());
    let names = say::capital(&format!("{} and {}", metal(a).name, metal(b).name));
    let Some(gap) = gap else {
        let settles = Settles {
            place: subject.place.clone(),
            how: "Ask the maker whether the two may stand together in sea water.".into(),
        };
        let missing = Missing {
            why: format!("{names} stand together in no one table")
                .as_str()
                .into(),
            settles,
        };
        return Some(subject.waits(Stage::Fit, "galvanic", "Potentials", &missing));
    };
    let limit = gap_limits()
        .iter()
        .min_by(|x, y| x.limit.cmp(&y.limit))
        .map(|row| row.limit)
        .unwrap_or(Voltage::volts(0.2));
    let strictest = gap_limits()
        .iter()
        .find(|row| row.limit == Voltage::volts(0.2))
        .map_or(limit, |row| row.limit);
    let (least, most) = (gap.least.to_volts(), gap.most.to_volts());
    let volts = if (most - least).abs() < 0.005 {
        format!("{most:.2} V")
    } else {
        format!("{least:.2} to {most:.2} V")
    };
    let allowed = strictest.to_volts();
    let apart =
        format!("{names} lie {volts} apart in sea water; over {allowed:.2} V the baser one wastes");
    // Aluminium screwed to a copper alloy in sea water is eaten away, and this holds the sea out.
    let baser = [one.1, other.1].contains(&Metal::Aluminium);
    let copper = metal(a).family.is_copper_alloy() || metal(b).family.is_copper_alloy();
    let grade = if most <= allowed {
        Grade::Sound
    } else if baser && copper {
        Grade::Unsound
    } else {
        Grade::Marginal
    };
    let because = match (grade, gap.wastes) {
        (Grade::Sound, _) => {
            format!("{names} lie {volts} apart in sea water; up to {allowed:.2} V is let pass.")
        }
        (_, Some(wastes)) => format!("{apart}: here {}.", metal(wastes).name),
        (_, None) => format!("{apart}."),
    };
    let mut verdict = subject.verdict(Stage::Fit, "galvanic", grade, because.as_str().into());
    verdict.basis = Basis::Physics;
    verdict.margin = Some(Margin {
        value: most,
        deviation: None,
        low: None,
        high: Some(allowed),
        kind: Kind::Voltage,
    });
    if grade != Grade::Sound {
        verdict.remedy = "Isolate the two or protect the baser one with an anode, and look at it at every lift-out; renewing it is work for ashore.".into();
        verdict.caution = Some("Never open a fitting below the waterline afloat.".into());
    }
    verdict.step(
        "difference of potentials in one table",
        gap.table.title().into(),
        volts.as_str().into(),
    );
    verdict.working.limit = format!("up to {allowed:.2} V").as_str().into();
    verdict.source(gap.source.cite());
    for row in gap_limits() {
        verdict.source(row.source.cite());
    }
    if let Some(fact) = metal_fact("series-holds-in-its-liquid") {
        verdict.source(say::list(&[fact.source.cite()], "and"));
    }
    Some(verdict)
}
