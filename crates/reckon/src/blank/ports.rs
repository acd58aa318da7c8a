//! The boxes of a thing's threaded ports.

use boat::{KeyPath, Port, Thing};

use super::{Holds, Sheet, Station, held, row, trial};
use crate::screwed::likely;

impl Sheet<'_> {
    /// A port is told by its name or by its measures, and its anode by what is left of it.
    pub(super) fn ports(&mut self, thing: &Thing, station: &Station, base: &str) {
        for port in &thing.ports {
            let place = format!("{base}.ports.{}", boat::key_text(&port.name));
            self.port(port, station, &place);
        }
    }

    fn port(&mut self, port: &Port, station: &Station, place: &str) {
        let part = format!("port {}", port.name);
        let at = |key: &str| -> KeyPath { format!("{place}.{key}") };
        let of = |key: &str| row(&["engine", "ports", "x", key]);
        let likely = likely(port, &self.file.instruments);
        let by_name = likely.as_ref().and_then(|likely| likely.by_name.clone());
        self.add(
            station,
            (&part, of("thread")),
            at("thread"),
            held(&port.thread),
            by_name.map(|name| boat::quoted(&name)),
        );
        let (male, female) = (&port.male_od, &port.female_id);
        let measured = !male.is_left_out() || !female.is_left_out();
        if port.thread.given().is_none() || measured {
            let (key, told) = if male.is_left_out() {
                ("female_id", female)
            } else {
                ("male_od", male)
            };
            self.add(station, (&part, of(key)), at(key), held(told), None);
            let pitches = likely.as_ref().map(|likely| trial(likely.ten_pitches));
            self.add(
                station,
                (&part, of("ten_pitches")),
                at("ten_pitches"),
                held(&port.ten_pitches),
                pitches,
            );
            let change = likely.map(|likely| if likely.tapers { "0.5" } else { "0" });
            self.add(
                station,
                (&part, of("taper")),
                at("taper"),
                held(&port.taper),
                change.map(|change| format!("\"{change} mm over 8 mm\"")),
            );
        }
        if crate::screwed::has_anode(port) {
            let left = port
                .anode
                .as_ref()
                .map_or(Holds::Nothing.into(), |anode| held(&anode.left));
            let row = row(&["engine", "ports", "x", "anode", "left"]);
            let stand_in = Some("\"70 %\"".to_owned());
            self.add(station, (&part, row), at("anode.left"), left, stand_in);
        }
    }
}
