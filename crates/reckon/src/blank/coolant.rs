//! The boxes of the coolant.

use boat::{Thing, ThingKind};

use super::{Sheet, Station, held, row};

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
        let mut boxes = vec![
            (
                "wanted",
                "kind",
                held(&coolant.kind),
                "\"ethylene, organic acid\"",
            ),
            ("wanted", "percent", held(&coolant.percent), "45"),
            (
                "wanted",
                "stand_frost",
                held(&coolant.stand_frost),
                "\"-10 °C\"",
            ),
            ("", "volume", held(&coolant.volume), "\"20 L\""),
        ];
        if coolant.inside.volume.is_left_out() {
            boxes.push(("", "drained", held(&coolant.drained), "\"18 L\""));
        }
        boxes.push(("inside", "percent", held(&coolant.inside.percent), "0"));
        boxes.push(("inside", "kind", held(&coolant.inside.kind), "\"water\""));
        for (part, key, holds, trial) in boxes {
            let way: Vec<&str> = ["coolant", part, key]
                .into_iter()
                .filter(|key| !key.is_empty())
                .collect();
            self.add(
                &station,
                (part, row(&way)),
                way.join("."),
                holds,
                Some(trial.into()),
            );
        }
        self.above_mark();
    }

    /// Room in the header that stands apart, or else in the engine's own.
    fn above_mark(&mut self) {
        let arranged = self.arranged;
        let things = &arranged.boat.things;
        let apart = things
            .iter()
            .find(|thing| thing.kind.given() == Some(&ThingKind::HeaderTank));
        let trial = Some("\"2 L\"".to_owned());
        if let Some(Thing { key, detail, .. }) = apart {
            let base = arranged.thing_place(key);
            let kind = ThingKind::HeaderTank.word();
            let station = Station {
                place: base.clone(),
                title: if key == kind {
                    key.clone()
                } else {
                    format!("{key}, {kind}")
                },
            };
            let holds = held(&detail.above_mark);
            let place = format!("{base}.above_mark");
            self.add(
                &station,
                ("", row(&["things", "x", "above_mark"])),
                place,
                holds,
                trial,
            );
            return;
        }
        let engine = things.iter().find_map(|thing| thing.engine.as_ref());
        let Some(extra) = engine.map(|engine| &engine.extra) else {
            return;
        };
        if !(extra.header_volume.is_left_out() && extra.header_cold_mark.is_left_out()) {
            let station = Station {
                place: "engine".into(),
                title: "engine".into(),
            };
            let holds = held(&extra.header_above_mark);
            let of = row(&["engine", "header", "above_mark"]);
            self.add(
                &station,
                ("header", of),
                "engine.header.above_mark".into(),
                holds,
                trial,
            );
        }
    }
}
