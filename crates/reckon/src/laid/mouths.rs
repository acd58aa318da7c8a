//! Where the mouths of the spigots are and point: as the file says, else as the tapes tell.

use boat::{Facing, Key, Run, RunEnd, SpotPart, Told, key_text};
use quantity::{Length, Quantity};

use super::{Desk, end_key, half_of, no_place};
use crate::stages::route::{EndFact, MouthFact};
use crate::stages::survey::tape::Standing;
use crate::stages::types::Missing;

/// How far a written place may be off where the file gives no tolerance [m]: a tape in a bay. Common practice, no source.
const WRITTEN_HALF: f64 = 0.005;
/// How far a written direction may be off [rad]: two degrees, by eye along a dowel. Common practice, no source.
const WRITTEN_ASIDE: f64 = 2.0 * std::f64::consts::PI / 180.0;

/// All mouths that have a place.
pub(super) struct Mouths {
    pub(super) all: Vec<MouthFact>,
    facing: Facing,
}

impl Mouths {
    pub(super) fn of(desk: &Desk, facing: Facing) -> Self {
        let mut mouths = Self {
            all: Vec::new(),
            facing,
        };
        for run in &desk.boat().runs {
            for end in [&run.from, &run.to] {
                let known = mouths.all.iter().any(|mouth| mouth.key == end_key(end));
                if !known && let Ok(mouth) = mouths.look(desk, end) {
                    mouths.all.push(mouth);
                }
            }
        }
        mouths
    }

    /// An end of a run.
    pub(super) fn end(
        &self,
        desk: &Desk,
        end: &RunEnd,
        _run: &Run,
        _first: bool,
    ) -> Result<EndFact, Missing> {
        match end {
            RunEnd::Tee { run, piece } => Ok(EndFact::Tee {
                run: run.clone(),
                piece: piece.clone(),
            }),
            RunEnd::Thing { .. } => self.look(desk, end).map(EndFact::Mouth),
        }
    }

    fn look(&self, desk: &Desk, end: &RunEnd) -> Result<MouthFact, Missing> {
        let key = end_key(end);
        let RunEnd::Thing { thing, spigot } = end else {
            return Err(no_place("a tee has no place of its own", &key, ""));
        };
        let place = format!("bay.mouths.{}", key_text(&key));
        let on_engine = desk.on_engine(thing);
        let title = key.replace('.', " ");
        let boat = desk.boat();
        let written = boat.bay.mouths.iter().find(|mouth| {
            mouth.spot.first == *thing && (mouth.spot.second == *spigot || desk.only_spigot(thing))
        });
        let surveyed = desk
            .surveyed
            .filter(|survey| survey.level && survey.settled);
        // A thing with one spigot is written with its name alone.
        let alone = desk.only_spigot(thing);
        let names = |of: &Key| {
            *of == key
                || (spigot.is_none() && *of == *thing)
                || (alone
                    && of
                        .strip_prefix(thing.as_str())
                        .is_some_and(|rest| rest.starts_with('.')))
        };
        let taped = surveyed.and_then(|survey| {
            survey.places.iter().find(|place| {
                place.part == Some(SpotPart::Mouth)
                    && names(&place.of)
                    && place.standing == Standing::Settled
            })
        });
        let axis = surveyed.and_then(|survey| survey.axes.iter().find(|axis| names(&axis.of)));
        let at = match (written.map(|mouth| &mouth.at), taped) {
            (Some(Told::Given(point)), _) => {
                let half = [&point.x, &point.y, &point.z]
                    .into_iter()
                    .filter_map(half_of)
                    .fold(WRITTEN_HALF, f64::max);
                Some((point.si(), half, "written"))
            }
            (_, Some(taped)) => {
                let half = taped.half.iter().copied().fold(0.0, f64::max);
                Some((taped.at, half, "taped"))
            }
            _ => None,
        };
        let along = match (written.map(|mouth| &mouth.points), axis) {
            (Some(Told::Given(heading)), _) => heading
                .unit(self.facing)
                .map(|along| (along, WRITTEN_ASIDE)),
            (_, Some(axis)) => Some((axis.towards, axis.half)),
            _ => None,
        };
        let Some((at, half, from)) = at else {
            return Err(no_place(
                &format!("the place of the mouth of {title} is not known"),
                &format!("{place}.at"),
                "Tape its mouth from three pins at least, or write its place: `at = [520, -65, 330]`.",
            ));
        };
        let Some((along, aside)) = along else {
            return Err(no_place(
                &format!("where {title} points is not known"),
                &format!("{place}.points"),
                "Push a dowel into the spigot and tape its far end, or write where it points: `points = \"forward 20 up\"`.",
            ));
        };
        // A direction that was rounded on its way here is no longer of length one.
        let long = along.iter().map(|part| part * part).sum::<f64>().sqrt();
        let along = along.map(|part| part / long.max(1e-9));
        let rounded = at.map(|along| (along * 1e4).round() / 1e4);
        Ok(MouthFact {
            key,
            thing: thing.clone(),
            title,
            at: rounded,
            along,
            half: half.max(Length::mm(0.5).si()),
            aside,
            on_engine,
            from: from.to_owned(),
            place,
        })
    }
}

impl Desk<'_> {
    /// Whether a thing moves with the engine: she herself, what cools her gearbox, and what the bay says so of.
    pub(super) fn on_engine(&self, thing: &str) -> bool {
        let boat = self.boat();
        let engine = |found: &boat::Thing| {
            found.engine.as_ref().is_some_and(|engine| {
                found.key == thing || engine.extra.gearbox_cooler.as_deref() == Some(thing)
            })
        };
        let told = |body: &boat::BayThing| {
            body.of.as_deref() == Some(thing) && body.on == Told::Given(boat::BayFrame::Engine)
        };
        boat.things.iter().any(engine) || boat.bay.things.iter().any(told)
    }

    fn only_spigot(&self, thing: &str) -> bool {
        self.boat()
            .thing(thing)
            .is_none_or(|thing| thing.spigots.len() <= 1)
    }
}
