//! The boxes of the coolant.

use super::{Holds, Sheet, Station, row};

impl Sheet<'_> {
    /// What the filling reads, where the file says anything of coolant.
    pub(super) fn coolant(&mut self) {
        let boat = &self.arranged.boat;
        let coolant = &boat.coolant;
        if !crate::pour::said(coolant) {
            return;
        }
        let station = Station {
            place: "coolant".into(),
            title: "coolant".into(),
        };
        // No likely value is tried for what is a wish, or what nobody could guess of a boat.
        let wanted: [(&str, Holds); 3] = [
            ("kind", Holds::of(&coolant.kind)),
            ("percent", Holds::of(&coolant.percent)),
            ("stand_frost", Holds::of(&coolant.stand_frost)),
        ];
        for (key, holds) in wanted {
            let place = format!("coolant.wanted.{key}");
            self.add(
                &station,
                ("wanted", row(&["coolant", "wanted", key])),
                place,
                holds,
                None,
            );
        }
        let volume = Holds::of(&coolant.volume);
        let volume_row = row(&["coolant", "volume"]);
        self.add(
            &station,
            ("", volume_row),
            "coolant.volume".into(),
            volume,
            Some("\"20 L\"".into()),
        );
        if coolant.inside.volume.is_left_out() {
            let drained = Holds::of(&coolant.drained);
            let drained_row = row(&["coolant", "drained"]);
            self.add(
                &station,
                ("", drained_row),
                "coolant.drained".into(),
                drained,
                None,
            );
        }
        let inside: [(&str, Holds); 2] = [
            ("percent", Holds::of(&coolant.inside.percent)),
            ("kind", Holds::of(&coolant.inside.kind)),
        ];
        for (key, holds) in inside {
            let place = format!("coolant.inside.{key}");
            self.add(
                &station,
                ("inside", row(&["coolant", "inside", key])),
                place,
                holds,
                None,
            );
        }
    }
}
