//! What the circuit reads of the boat, one arrangement at a time, and the circuit's whole answer.

use std::collections::BTreeMap;

use boat::{Arranged, Assume, Boat, Coolant, Key, Run, Thing, ThingKind, Told, spigot_path};
use quantity::{Length, Quantity, Reading};

use crate::facts::{salt, serves};
use crate::stages::circuit::input::{Facts, GlycolFacts, RunAt, ThingAt};
use crate::stages::circuit::listing::{Listing, list};
use crate::stages::circuit::plan::Plan;
use crate::stages::circuit::{self, rules};
use crate::stages::fill::KindFacts;
use crate::stages::survey;
use crate::stages::types::Known;
use crate::verdict::Verdict;

/// How one measures a height.
const TUBE: &str = "Measure its height against the waterline with a water-filled tube.";

/// The circuit as it is connected in one way.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Circuit {
    /// The loop in order of flow, and what hangs on it.
    pub listing: Listing,
    /// What is judged of it.
    pub verdicts: Vec<Verdict>,
}

/// The circuit of one arrangement; `None` for the file as it stands. `None` comes back where the file has
/// no such arrangement.
pub fn circuit(boat: &Boat, arrangement: Option<&str>) -> Option<Circuit> {
    let arranged = boat.arranged(arrangement)?;
    let facts = facts(boat, &arranged, arrangement);
    Some(Circuit {
        listing: list(&Plan::of(&facts)),
        verdicts: verdicts(boat, &arranged, arrangement),
    })
}

/// The circuit's verdicts of the arrangement at hand, and of the others what matters while they lie idle.
pub(crate) fn verdicts(boat: &Boat, arranged: &Arranged, name: Option<&str>) -> Vec<Verdict> {
    let facts = facts(boat, arranged, name);
    let mut verdicts = rules::judge(&facts);
    for step in &boat.arrangements {
        let other = boat.arranged(Some(&step.key));
        let hull = other
            .as_ref()
            .is_some_and(|other| works_hull(arranged, other));
        rules::home::tried(step, &boat.job.year, hull, &mut verdicts);
        let idle =
            Some(step.key.as_str()) != name && !matches!(step.key.as_str(), "before" | "after");
        if idle && let Some(other) = other {
            let facts = self::facts(boat, &other, Some(&step.key));
            rules::home::other(&facts, &mut verdicts);
        }
    }
    verdicts
}

/// Whether valves at the hull are shut in an arrangement, or opened for it.
fn works_hull(now: &Arranged, other: &Arranged) -> bool {
    let at_hull = |valve: &Key| {
        let key = valve.split('.').next().unwrap_or(valve);
        let things = other.boat.things.iter().chain(&now.boat.things);
        things
            .filter(|thing| thing.key == key)
            .any(|thing| thing.kind.given() == Some(&ThingKind::HullFitting))
    };
    other.shut.iter().any(at_hull)
        || now
            .shut
            .iter()
            .any(|valve| !other.shut.contains(valve) && at_hull(valve))
}

pub(crate) fn facts<'a>(
    boat: &'a Boat,
    arranged: &'a Arranged,
    name: Option<&'a str>,
) -> Facts<'a> {
    let own = &arranged.boat;
    let marks: BTreeMap<Key, String> = circuit::marks(boat).into_iter().collect();
    let height = |told: &boat::Told<Reading<Length>>, place: &str, how: &str| {
        survey::known(told, place, how, &own.instruments)
    };
    let step = boat
        .arrangements
        .iter()
        .find(|step| Some(step.key.as_str()) == name);
    Facts {
        name,
        things: own
            .things
            .iter()
            .map(|thing| thing_at(arranged, thing))
            .collect(),
        runs: own
            .runs
            .iter()
            .map(|run: &Run| {
                let base = if boat.run(&run.key).is_some() {
                    boat::run_path(&run.key)
                } else {
                    arranged.run_place(&run.key)
                };
                let told = |told: &boat::Told<Reading<Length>>, key: &str| {
                    let how = format!(
                        "Measure this point of the run {} with a water-filled tube.",
                        run.key
                    );
                    (!told.is_left_out()).then(|| height(told, &format!("{base}.{key}"), &how))
                };
                RunAt {
                    run,
                    mark: marks.get(&run.key).cloned().unwrap_or_default(),
                    place: arranged.run_place(&run.key),
                    high: told(&run.high_at, "high_at"),
                    low: told(&run.low_at, "low_at"),
                }
            })
            .collect(),
        blanked: &arranged.blanked,
        shut: &arranged.shut,
        blanks_here: step.map_or_else(Vec::new, |step| step.blank.clone()),
        laden: own
            .about
            .waterline
            .laden
            .given()
            .map(|laden| laden.value.si()),
        salt: salt(own),
        hull: &own.about.hull_stuff,
        coolant: &own.coolant,
        wanted: glycol(&own.coolant.kind),
        inside: glycol_inside(&own.coolant),
        alarm: serves(arranged).alarm,
        assume_inside: own.job.assume.contains(&Assume::EngineInside),
    }
}

/// The glycol that a text names, by the same reading as the filling has.
fn glycol(kind: &Told<String>) -> GlycolFacts {
    match kind {
        Told::LeftOut => GlycolFacts::NotWritten,
        Told::Given(text) => {
            let kind = KindFacts::of(text);
            match kind.glycol {
                Some(glycol) => GlycolFacts::Of(glycol),
                None if kind.water => GlycolFacts::Without,
                None => GlycolFacts::Unsaid,
            }
        }
        Told::Unknown | Told::Choose | Told::Two(..) => GlycolFacts::Unsaid,
    }
}

/// The glycol that stays inside. Where the circuit is dry or holds 0 % there is none; where something stays
/// of which no kind is written, nobody knows.
fn glycol_inside(coolant: &Coolant) -> GlycolFacts {
    let inside = &coolant.inside;
    let dry = inside
        .volume
        .given()
        .is_some_and(|volume| volume.value.si() <= 0.0);
    let thin = inside
        .percent
        .given()
        .is_some_and(|percent| percent.value.si() <= 0.0);
    if dry || thin {
        return GlycolFacts::Without;
    }
    match glycol(&inside.kind) {
        GlycolFacts::NotWritten if *inside != boat::Inside::default() => GlycolFacts::Unsaid,
        known => known,
    }
}

fn thing_at<'a>(arranged: &'a Arranged, thing: &'a Thing) -> ThingAt<'a> {
    let instruments = &arranged.boat.instruments;
    let place = arranged.thing_place(&thing.key);
    let known = |told: &boat::Told<Reading<Length>>, key: &str, how: &str| -> Known<Length> {
        survey::known(told, &format!("{place}.{key}"), how, instruments)
    };
    let whole = known(&thing.height, "h", TUBE);
    let spigots = thing
        .spigots
        .iter()
        .map(|spigot| {
            let at = if place == thing.path() {
                spigot_path(&thing.key, &spigot.name)
            } else {
                format!("{place}.spigots.{}", boat::key_text(&spigot.name))
            };
            // A thing that is measured as a whole has its spigots there.
            if spigot.height.is_left_out() && !thing.height.is_left_out() {
                whole.clone()
            } else {
                survey::known(&spigot.height, &format!("{at}.h"), TUBE, instruments)
            }
        })
        .collect();
    let ports = thing
        .ports
        .iter()
        .map(|port| {
            let at = format!("ports.{}.h", boat::key_text(&port.name));
            known(&port.height, &at, TUBE)
        })
        .collect();
    let cold_mark = match &thing.engine {
        Some(engine) if !engine.extra.header_cold_mark.is_left_out() => known(
            &engine.extra.header_cold_mark,
            "header.cold_mark",
            "Measure the height of the mark to which it is filled cold, with a water-filled tube.",
        ),
        _ => known(
            &thing.detail.cold_mark,
            "cold_mark",
            "Measure the height of the mark to which it is filled cold, with a water-filled tube.",
        ),
    };
    let coil = thing.detail.coil.clone().unwrap_or_default();
    ThingAt {
        spigots,
        ports,
        cap_h: known(
            &thing.cap_height,
            "cap_h",
            "Measure the height of the cap's seat with a water-filled tube.",
        ),
        cold_mark,
        coil_top: known(
            &coil.top_height,
            "coil.top_h",
            "Measure the height of the top of the coil's connections with a water-filled tube.",
        ),
        stands: survey::known(
            &thing.detail.stands,
            &format!("{place}.stands"),
            "Read on the pump's plate or in its maker's sheet how hot the water may be.",
            instruments,
        ),
        height: whole,
        thing,
        place,
    }
}
