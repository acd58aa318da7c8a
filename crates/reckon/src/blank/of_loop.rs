//! The boxes that the circuit reads beside the spigots.

use boat::{Carries, Coil, HullStuff, Run, RunEnd, Thing, ThingKind, Told, key_text};

use super::{Holds, Sheet, Station, held, row};
use crate::stages::circuit::Joint;
use crate::stages::circuit::rules::hull::is_copper_alloy;
use crate::stages::types::SaltFacts;

impl Sheet<'_> {
    /// What the circuit reads of a thing beside its spigots.
    pub(super) fn loop_of(
        &mut self,
        thing: &Thing,
        station: &Station,
        base: &str,
        joints: &[(&Run, Vec<Joint>)],
    ) {
        let engine = thing.key == Thing::ENGINE;
        let of = |way: &[&str]| match engine {
            true => row(&[&["engine"], way].concat()),
            false => row(&[&["things", "x"], way].concat()),
        };
        let coolant = joints.iter().any(|(run, _)| {
            let ends = [&run.from, &run.to];
            run.carries == Carries::Coolant
                && ends
                    .into_iter()
                    .any(|end| matches!(end, RunEnd::Thing { thing: key, .. } if *key == thing.key))
        });
        if let Some(own) = thing.engine.as_ref().filter(|_| coolant) {
            let none = own.paths.is_empty() && thing.detail.paths.is_empty();
            if none {
                let usual = "[\"in > pump > block > head > stat\", \"stat.hot > out\", \"stat.cold > bypass > pump\"]";
                self.add(
                    station,
                    ("inside", of(&["paths"])),
                    format!("{base}.paths"),
                    Holds::Nothing,
                    Some(usual.into()),
                );
            }
            // The level of a tank on the engine; one that stands apart has a station of its own.
            let tank = !thing.cap_height.is_left_out()
                || own
                    .paths
                    .iter()
                    .any(|path| path.stations.iter().any(|name| name == "header"));
            if engine && tank {
                self.add(
                    station,
                    ("header", row(&["engine", "header", "cold_mark"])),
                    format!("{base}.header.cold_mark"),
                    held(&own.extra.header_cold_mark),
                    Some("\"500 mm\"".into()),
                );
            }
            let stat = own.paths.iter().chain(&thing.detail.paths).any(|path| {
                path.stations
                    .iter()
                    .any(|station| station.starts_with("stat"))
            });
            if stat {
                let usual = "\"shut by the stat's own disc\"";
                self.add(
                    station,
                    ("thermostat", of(&["stat", "bypass"])),
                    format!("{base}.stat.bypass"),
                    held(&own.stat.bypass),
                    Some(usual.into()),
                );
            }
        }
        let nothing = Coil::default();
        match thing.kind.given() {
            Some(ThingKind::Calorifier) if coolant => {
                let coil = thing.detail.coil.as_ref().unwrap_or(&nothing);
                self.add(
                    station,
                    ("coil", of(&["coil", "skins"])),
                    format!("{base}.coil.skins"),
                    held(&coil.skins),
                    Some("1".into()),
                );
                self.add(
                    station,
                    ("coil", of(&["coil", "top_h"])),
                    format!("{base}.coil.top_h"),
                    held(&coil.top_height),
                    Some("\"0 mm\"".into()),
                );
            }
            Some(ThingKind::HeaderTank) => {
                let mark = held(&thing.detail.cold_mark);
                self.add(
                    station,
                    ("", of(&["cold_mark"])),
                    format!("{base}.cold_mark"),
                    mark,
                    Some("\"500 mm\"".into()),
                );
            }
            Some(ThingKind::CirculatingPump) if coolant => {
                let stands = held(&thing.detail.stands);
                self.add(
                    station,
                    ("", of(&["stands"])),
                    format!("{base}.stands"),
                    stands,
                    Some("\"110 °C\"".into()),
                );
            }
            Some(ThingKind::HullFitting) if self.wastes(thing) => {
                let isolated = held(&thing.detail.isolated);
                self.add(
                    station,
                    ("", of(&["isolated"])),
                    format!("{base}.isolated"),
                    isolated,
                    Some("true".into()),
                );
            }
            _ => {}
        }
    }

    /// Whether a stack of copper alloy stands on a hull that it may waste unless it is kept apart.
    fn wastes(&self, thing: &Thing) -> bool {
        let salt = !matches!(crate::facts::salt(self.file), SaltFacts::Fresh);
        // On aluminium a copper alloy is unsound, kept apart or not.
        let metal = matches!(self.file.about.hull_stuff, Told::Given(HullStuff::Steel));
        let parts = thing.chain.iter().filter_map(|part| part.metal);
        metal && salt && parts.into_iter().any(is_copper_alloy)
    }

    /// When each way home was last run.
    pub(super) fn arrangements(&mut self) {
        for step in &self.file.arrangements {
            if matches!(step.key.as_str(), "before" | "after") {
                continue;
            }
            let place = format!("arrangements.{}", key_text(&step.key));
            let station = Station {
                place: place.clone(),
                title: format!("arrangement {}", step.key),
            };
            let of = row(&["arrangements", "x", "tried"]);
            self.add(
                &station,
                ("", of),
                format!("{place}.tried"),
                held(&step.tried),
                Some("\"2026-05\"".into()),
            );
        }
    }
}
