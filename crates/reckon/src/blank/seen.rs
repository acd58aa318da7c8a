//! What was seen of hoses, valves and what nobody could see.

use super::{Held, Holds, Sheet, Station, row};
use crate::job::as_found;

/// A box that holds these words, or nothing.
fn said(text: Option<String>) -> Held {
    text.map_or_else(|| Holds::Nothing.into(), |text| Held::said(&text))
}

impl Sheet<'_> {
    /// What was seen of hoses, valves and what nobody could see.
    pub(super) fn found(&mut self) {
        let station = Station {
            place: "seen".into(),
            title: "what you saw".into(),
        };
        let Some(found) = self.file.arranged(None) else {
            return;
        };
        let input = as_found(&found.boat);
        let good = || Some("[\"good\"]".to_owned());
        let of_seen = |key: &str| row(&["seen", "x", key]);
        for run in &input.runs {
            let place = boat::seen_path(&run.run);
            let part = format!("hose {}", run.run);
            let decided = run.decided.map(|decided| decided.word().to_owned());
            let states = run.found.iter().map(|(found, at)| match *at == run.run {
                true => found.word().to_owned(),
                false => format!("{} at {at}", found.word()),
            });
            let words: Vec<String> = states.chain(decided).collect();
            self.add(
                &station,
                (&part, of_seen("found")),
                format!("{place}.found"),
                said((!words.is_empty()).then(|| words.join(", "))),
                good(),
            );
            let made = run.made.as_ref().map(|(made, _)| made.to_string());
            self.add(
                &station,
                (&part, of_seen("made")),
                format!("{place}.made"),
                said(made),
                None,
            );
        }
        for (subject, place, _) in &input.not_seen {
            self.add(
                &station,
                (subject, of_seen("found")),
                format!("{place}.found"),
                Holds::Nothing,
                good(),
            );
        }
        for valve in &input.valves {
            let of_valve = |key: &str| row(&["things", "x", "valve", key]);
            let part = format!("valve {}", valve.thing);
            let at = |key: &str| format!("{}.{key}", valve.place);
            let worked = Some("\"2027-02\"".to_owned());
            self.add(
                &station,
                (&part, of_valve("worked")),
                at("worked"),
                said(valve.worked.clone()),
                worked,
            );
            self.add(
                &station,
                (&part, of_valve("feels")),
                at("feels"),
                said(valve.feels.clone()),
                None,
            );
        }
        self.add(
            &station,
            ("", row(&["job", "year"])),
            "job.year".into(),
            said(input.year.map(|year| year.to_string())),
            None,
        );
    }
}
