//! What a verdict is about, as something that can be chosen: a joint, a run, a valve or a thing with its mark.

use std::collections::{BTreeMap, BTreeSet};

use boat::{Boat, RunEnd};
use reckon::{Answer, SignKind, Strip, Verdict, Way};

use crate::api::{MarkKind, PageMark, Text};

/// Keys of an arrangement, each with its mark.
#[derive(Debug)]
pub(crate) struct Subjects {
    /// `hot.from` → `A1`, `hot` → `A`.
    marks: BTreeMap<String, String>,
    /// `engine.out` → `hot.from`.
    on_spigot: BTreeMap<String, String>,
    runs: BTreeSet<String>,
    things: BTreeMap<String, String>,
}

impl Subjects {
    /// Of the boat as an arrangement connects her.
    pub(crate) fn of(boat: &Boat, arrangement: Option<&str>, answer: &Answer) -> Self {
        let arranged = boat.arranged(arrangement);
        let own = arranged.as_ref().map_or(boat, |arranged| &arranged.boat);
        let mut marks: BTreeMap<String, String> = reckon::marks(boat).into_iter().collect();
        let joints = answer.joints.iter();
        marks.extend(joints.map(|row| (row.joint.clone(), row.mark.clone())));
        let mut on_spigot = BTreeMap::new();
        for run in &own.runs {
            for (end, name) in [(&run.from, "from"), (&run.to, "to")] {
                let joint = format!("{}.{name}", run.key);
                let RunEnd::Thing { thing, spigot } = end else {
                    continue;
                };
                if marks.contains_key(&joint) {
                    let at = match spigot {
                        Some(spigot) => format!("{thing}.{spigot}"),
                        None => thing.clone(),
                    };
                    on_spigot.entry(at).or_insert(joint);
                }
            }
        }
        let kind = |thing: &boat::Thing| match thing.kind.given() {
            Some(kind) if kind.word() != thing.key => format!("{}, {}", thing.key, kind.word()),
            _ => thing.key.clone(),
        };
        Self {
            marks,
            on_spigot,
            runs: own.runs.iter().map(|run| run.key.clone()).collect(),
            things: own
                .things
                .iter()
                .map(|thing| (thing.key.clone(), kind(thing)))
                .collect(),
        }
    }

    /// The key that a verdict's subject stands for.
    pub(crate) fn key(&self, subject: &str) -> Option<String> {
        if self.marks.contains_key(subject) {
            return Some(subject.to_owned());
        }
        if let Some(joint) = self
            .on_spigot
            .get(subject)
            .filter(|_| subject.contains('.'))
        {
            return Some(joint.clone());
        }
        let first = subject.split('.').next().unwrap_or(subject);
        let known = self.runs.contains(first) || self.things.contains_key(first);
        known.then(|| first.to_owned())
    }

    /// What is written on a key; the key itself where nothing is.
    pub(crate) fn mark(&self, key: &str) -> String {
        self.marks
            .get(key)
            .cloned()
            .unwrap_or_else(|| key.to_owned())
    }

    /// The mark of the joint on a spigot of a thing.
    pub(crate) fn on_spigot(&self, thing: &str, spigot: &str) -> Option<String> {
        let joint = self.on_spigot.get(&format!("{thing}.{spigot}"));
        let joint = joint.or_else(|| self.on_spigot.get(thing))?;
        self.marks.get(joint).cloned()
    }

    /// The mark at a place of the file, where it is at a joint, a run or a spigot.
    pub(crate) fn at_place(&self, place: &str) -> Option<String> {
        let keys = super::values::keys_of(place.split('[').next()?)?;
        let text = |at: usize| keys.get(at).map(String::as_str);
        match text(0)? {
            "joints" | "runs" => self.marks.get(text(1)?).cloned(),
            "engine" if text(1) == Some("spigots") => self.on_spigot("engine", text(2)?),
            "things" if text(2) == Some("spigots") => self.on_spigot(text(1)?, text(3)?),
            "arrangements" => {
                let name = text(3)?;
                match text(4) {
                    Some("spigots") => self.on_spigot(name, text(5)?),
                    _ => self.marks.get(name).cloned(),
                }
            }
            _ => None,
        }
    }

    /// Everything that can be chosen, in order of flow: the main circuit, what hangs on it, the rest.
    pub(crate) fn list(&self, answer: &Answer, strip: Option<&Strip>) -> Vec<PageMark> {
        let mut worst: BTreeMap<String, &Verdict> = BTreeMap::new();
        for verdict in &answer.verdicts {
            if let Some(key) = self.key(&verdict.subject) {
                let slot = worst.entry(key).or_insert(verdict);
                if verdict.grade > slot.grade {
                    *slot = verdict;
                }
            }
        }
        let mut list = List {
            subjects: self,
            answer,
            worst,
            told: BTreeSet::new(),
            marks: Vec::new(),
        };
        if let Some(strip) = strip {
            list.way(&strip.main);
            for branch in &strip.branches {
                list.way(&branch.way);
            }
        }
        for row in &answer.joints {
            list.run(&row.run);
            list.joint(&row.joint, None);
        }
        for run in &self.runs {
            list.run(run);
        }
        for thing in self.things.keys() {
            list.thing(thing);
        }
        list.marks
    }
}

/// The list while it is being made.
struct List<'a> {
    subjects: &'a Subjects,
    answer: &'a Answer,
    worst: BTreeMap<String, &'a Verdict>,
    told: BTreeSet<String>,
    marks: Vec<PageMark>,
}

impl List<'_> {
    fn way(&mut self, way: &Way) {
        for station in &way.stations {
            if let Some((run, _)) = station.key.split_once('.') {
                self.run(run);
            }
            self.joint(&station.key, Some(station.spoken.clone().into()));
        }
        for sign in &way.signs {
            if matches!(sign.kind, SignKind::Valve { .. }) {
                let title = format!("valve {}", sign.key);
                self.add(&sign.key, MarkKind::Valve, title, None);
            }
        }
        for piece in way.pieces.iter().filter(|piece| piece.run.is_empty()) {
            self.thing(&piece.key);
        }
    }

    fn joint(&mut self, key: &str, spoken: Option<Text>) {
        let row = self.answer.joints.iter().find(|row| row.joint == key);
        let title = match row {
            Some(row) => format!("{} on {} ({})", row.run, row.spigot_name, row.mark),
            None => key.to_owned(),
        };
        self.add(key, MarkKind::Joint, title, spoken);
    }

    fn run(&mut self, key: &str) {
        if self.subjects.runs.contains(key) {
            let title = format!("run {key} ({})", self.subjects.mark(key));
            self.add(key, MarkKind::Run, title, None);
        }
    }

    fn thing(&mut self, key: &str) {
        if let Some(title) = self.subjects.things.get(key) {
            let title = title.clone();
            self.add(key, MarkKind::Thing, title, None);
        }
    }

    fn add(&mut self, key: &str, kind: MarkKind, title: String, spoken: Option<Text>) {
        if !self.told.insert(key.to_owned()) {
            return;
        }
        let worst = self.worst.get(key);
        let spoken = spoken.unwrap_or_else(|| {
            let says = match worst {
                Some(worst) => format!("{title}, {}.", worst.grade.word()),
                None => format!("{title}."),
            };
            Text {
                metric: says.clone(),
                imperial: says,
            }
        });
        self.marks.push(PageMark {
            mark: self.subjects.mark(key),
            key: key.to_owned(),
            kind,
            title,
            grade: worst.map(|worst| worst.grade.into()),
            verdict: worst.map(|worst| worst.id.clone()),
            spoken,
        });
    }
}
