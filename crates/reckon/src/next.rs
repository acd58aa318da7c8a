//! What to measure next: each missing measurement is tried with a likely value, and the verdicts that
//! this settles are counted.

use std::collections::BTreeMap;

use boat::{Boat, HoseBuild, KeyPath, PieceKind, Places, Size, Told, Word};
use quantity::{Length, NominalSize};
use reference::hose::{HoseKind, wall};

use crate::blank::{Station, SurveyBox, arranged, boxes, hose_name, typed_as_both};
use crate::stages::circuit;
use crate::stages::fit::hoses::is_same_size;
use crate::verdict::{Grade, Verdict};
use crate::whatif::{Ask, edited};
use crate::wire::{Answer, Input, Memo, Set, reckon};

/// One missing measurement, and what it would do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Next {
    /// Where it goes in the file.
    pub place: KeyPath,
    /// Where one stands to take it.
    pub station: Station,
    /// Of what: `spigot out`, `hose 38 epdm`; empty where the place says it.
    pub part: String,
    /// What to do with which instrument, one sentence each.
    pub how: Vec<String>,
    /// Verdicts that name it.
    pub named_by: Vec<String>,
    /// Verdicts that wait now and would not.
    pub settled: Vec<String>,
    /// Verdicts that nobody can begin with yet and that could be given at once.
    pub opened: Vec<String>,
    /// Whether a likely value was tried; where none is at hand, `settled` holds the verdicts that name it.
    pub tried: bool,
}

impl Next {
    /// How many verdicts it would settle in all.
    pub fn settles(&self) -> usize {
        self.settled.len() + self.opened.len()
    }
}

/// What is missing, the measurement that settles the most first; ties in the order of the job.
///
/// Whether it would settle them is found out by putting a likely value there and reckoning again, so
/// that it can differ from how many verdicts name it. A surprising value may settle others.
pub fn next(text: &str, boat: &Boat, ask: Ask, memo: &mut Memo) -> Vec<Next> {
    let judge = |boat: &Boat, memo: &mut Memo| {
        let input = Input {
            boat,
            arrangement: ask.arrangement,
            seed: ask.seed,
            set: Set::Prompt,
            flow: None,
            bay: None,
        };
        reckon(&input, memo)
    };
    let now = judge(boat, memo);
    let (_, places, _) = boat::read(text);
    let ground = Ground {
        text,
        boat,
        places: &places,
        boxes: boxes(boat, &places, ask.arrangement),
        arranged: arranged(boat, ask.arrangement),
        now: &now,
    };
    let mut all = ground.missing();
    for (next, trial) in &mut all {
        let tried = trial
            .as_ref()
            .and_then(|(place, toml)| edited(text, place, toml));
        match tried {
            Some((_, boat)) => {
                next.tried = true;
                let then = judge(&boat, memo);
                (next.settled, next.opened) = moved(&now, &then);
            }
            None => next.settled = next.named_by.clone(),
        }
    }
    let mut all: Vec<Next> = all.into_iter().map(|(next, _)| next).collect();
    // The sort is stable, so that ties keep the order in which the verdicts stand.
    all.sort_by_key(|next| std::cmp::Reverse(next.settles()));
    all
}

/// The verdicts that waited and wait no longer, and those that are new and wait for nothing.
fn moved(now: &Answer, then: &Answer) -> (Vec<String>, Vec<String>) {
    let grades = |answer: &Answer| -> BTreeMap<String, Grade> {
        let of = |verdict: &Verdict| (verdict.id.clone(), verdict.grade);
        answer.verdicts.iter().map(of).collect()
    };
    let (before, after) = (grades(now), grades(then));
    let waits = |verdict: &&Verdict| verdict.grade == Grade::Unmeasured;
    let settled = now
        .verdicts
        .iter()
        .filter(waits)
        .filter(|verdict| after.get(&verdict.id) != Some(&Grade::Unmeasured));
    let opened = then
        .verdicts
        .iter()
        .filter(|verdict| !waits(verdict) && !before.contains_key(&verdict.id));
    let ids = |verdict: &Verdict| verdict.id.clone();
    (settled.map(ids).collect(), opened.map(ids).collect())
}

/// A value to try: its place and its TOML.
type Trial = (KeyPath, String);

/// What the trials start from.
struct Ground<'a> {
    text: &'a str,
    boat: &'a Boat,
    places: &'a Places,
    boxes: Vec<SurveyBox>,
    arranged: Option<boat::Arranged>,
    now: &'a Answer,
}

impl Ground<'_> {
    /// Each missing measurement once, in the order of the verdicts that name it, with a value to try.
    fn missing(&self) -> Vec<(Next, Option<Trial>)> {
        let mut all: Vec<(Next, Option<Trial>)> = Vec::new();
        for verdict in &self.now.verdicts {
            let (Grade::Unmeasured, Some(settles)) = (verdict.grade, &verdict.settles) else {
                continue;
            };
            let place = self.typed_at(&settles.place);
            let hose = (place == "stock.hose")
                .then(|| self.hose_of(verdict))
                .flatten();
            let part = match &hose {
                Some((size, build)) => hose_name(*size, *build),
                // A hose that is still to be chosen has no name; its piece has one.
                None if place == "stock.hose" => piece_of(&verdict.subject),
                None => self.part(&place),
            };
            let known = all
                .iter_mut()
                .find(|(next, _)| next.place == place && next.part == part);
            match known {
                Some((next, _)) => {
                    if !next.how.contains(&settles.how) {
                        next.how.push(settles.how.clone());
                    }
                    next.named_by.push(verdict.id.clone());
                }
                None => {
                    let trial = match hose {
                        Some((size, build)) => self.shelf_with(size, build),
                        None => self.stand_in(&place),
                    };
                    let next = Next {
                        station: self.station(&place),
                        place,
                        part,
                        how: vec![settles.how.clone()],
                        named_by: vec![verdict.id.clone()],
                        settled: Vec::new(),
                        opened: Vec::new(),
                        tried: false,
                    };
                    all.push((next, trial));
                }
            }
        }
        all
    }

    /// Where the owner types it. Two spigots alike are typed as `both`. The end of a bought piece has no
    /// key for its height; the run has one for its lowest point, which serves.
    fn typed_at(&self, place: &str) -> KeyPath {
        if let Some(both) = typed_as_both(self.places, place) {
            return both;
        }
        let of_run = |run: &&boat::Run| {
            let start = format!("joints.\"{}.", run.key);
            place.starts_with(&start)
        };
        let run = place
            .ends_with(".h")
            .then(|| self.runs().iter().find(of_run))
            .flatten();
        let low = run.and_then(|run| {
            let ends = [boat::run_path(&run.key), self.run_place(&run.key)];
            ends.into_iter()
                .map(|base| format!("{base}.low_at"))
                .find(|place| self.boxes.iter().any(|own| own.place == *place))
        });
        low.unwrap_or_else(|| place.to_owned())
    }

    fn runs(&self) -> &[boat::Run] {
        let arranged = self.arranged.as_ref();
        arranged.map_or(&self.boat.runs, |arranged| &arranged.boat.runs)
    }

    fn run_place(&self, run: &str) -> KeyPath {
        let arranged = self.arranged.as_ref();
        arranged.map_or_else(|| boat::run_path(run), |arranged| arranged.run_place(run))
    }

    fn part(&self, place: &str) -> String {
        let own = self.boxes.iter().find(|own| own.place == place);
        own.map_or_else(String::new, |own| own.part.clone())
    }

    /// Where one stands: by the box, else by the nearest table that a station has, else by the run of a joint.
    fn station(&self, place: &str) -> Station {
        if let Some(own) = self.boxes.iter().find(|own| own.place == place) {
            return own.station.clone();
        }
        let around = self.boxes.iter().map(|own| &own.station).find(|station| {
            let rest = place.strip_prefix(station.place.as_str());
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        });
        if let Some(station) = around {
            return station.clone();
        }
        let run = self.runs().iter().find(|run| {
            let quoted = place.starts_with(&format!("joints.\"{}.", run.key));
            quoted || place.starts_with(&format!("{}.", self.run_place(&run.key)))
        });
        let base = run.map(|run| boat::run_path(&run.key));
        let of_run = base.and_then(|base| {
            let mut stations = self.boxes.iter().map(|own| &own.station);
            stations.find(|station| station.place == base).cloned()
        });
        // One goes round with the tape once, whatever it is held to.
        let of_tape = || {
            let tape = place.split(['.', '[']).next() == Some("survey");
            tape.then(|| Station {
                place: "survey".into(),
                title: "tape, from the datum pins".into(),
            })
        };
        of_run.or_else(of_tape).unwrap_or_else(|| Station {
            place: place.to_owned(),
            title: place.to_owned(),
        })
    }

    /// A likely value for a place.
    fn stand_in(&self, place: &str) -> Option<Trial> {
        let own = self.boxes.iter().find(|own| own.place == place);
        if let Some(own) = own {
            return Some((place.to_owned(), own.stand_in.clone()?));
        }
        // A clip that was written and says too little is left to the tool.
        let clip = place.starts_with("joints.") && place.ends_with(".clip");
        clip.then(|| (place.to_owned(), "\"choose\"".to_owned()))
    }

    /// The hose that a verdict is about.
    fn hose_of(&self, verdict: &Verdict) -> Option<(NominalSize, Option<HoseBuild>)> {
        let (run, piece) = verdict.subject.split_once('.')?;
        let run = self.runs().iter().find(|other| other.key == run)?;
        let by_name = run.way.given().and_then(|way| {
            let own = way.iter().find(|other| other.name == piece)?;
            match &own.kind {
                PieceKind::Hose {
                    size: Size::Named(size),
                    build,
                } => Some((*size, *build)),
                _ => None,
            }
        });
        by_name.or_else(|| {
            // A hose that was left to the tool stands with the joints that it goes over.
            let way = run.way.given().map_or(&[][..], Vec::as_slice);
            let at = way.iter().position(|other| other.name == piece);
            let (joints, _) = circuit::joints(run, "");
            let over = |joint: &str| {
                let own = joints.iter().find(|own| own.key == joint);
                at.is_some() && own.is_some_and(|own| own.female == at)
            };
            let row = self.now.joints.iter().find(|row| {
                let whole = run.way == Told::Choose && row.run == run.key;
                whole || row.joint == verdict.subject || over(&row.joint)
            })?;
            named_hose(&row.hose)
        })
    }

    /// The shelf with enough of a hose on it, its bore and outside as its name has them, its print read.
    fn shelf_with(&self, size: NominalSize, build: Option<HoseBuild>) -> Option<Trial> {
        let same = |own: &boat::StockHose| {
            is_same_size(own.size, size) && (own.build == build || build.is_none())
        };
        let shelf = &self.boat.stock.hose;
        let measured = |read: fn(&boat::StockHose) -> Option<Length>| {
            shelf.iter().filter(|own| same(own)).find_map(read)
        };
        let id = measured(|own| own.id.as_ref().map(|id| id.value)).unwrap_or(size.as_length());
        // Where no wall is published for the size, that of a thin hose does for a trial.
        let walls = wall(HoseKind::FabricEpdm, size.as_length())
            .map_or(Length::mm(7.0), |wall| wall.value.low + wall.value.high);
        let od = measured(|own| own.od.as_ref().map(|od| od.value)).unwrap_or(id + walls);
        let name = hose_name(size, build);
        let trial = format!(
            "50 m x {}, id {:.2} mm od {:.2} mm, works 3 bar @ 110 °C",
            name.strip_prefix("hose ")?,
            id.to_mm(),
            od.to_mm()
        );
        let mut lines = vec![boat::quoted(&trial)];
        for (index, _) in shelf.iter().enumerate().filter(|(_, own)| !same(own)) {
            let span = self.places.value_span(&format!("stock.hose[{index}]"))?;
            lines.push(self.text.get(span)?.to_owned());
        }
        Some(("stock.hose".into(), format!("[{}]", lines.join(", "))))
    }
}

/// `hose2 of run suck`.
fn piece_of(subject: &str) -> String {
    match subject.split_once('.') {
        Some((run, piece)) => format!("{piece} of run {run}"),
        None => subject.to_owned(),
    }
}

/// Reads `hose 38 epdm` back.
fn named_hose(name: &str) -> Option<(NominalSize, Option<HoseBuild>)> {
    let words: Vec<&str> = name.strip_prefix("hose ")?.split(' ').collect();
    // The size comes first, in one word or more; what follows is the build.
    (1..=words.len()).rev().find_map(|cut| {
        let size = NominalSize::parse(&words[..cut].join(" ")).ok()?;
        let word = words[cut..].join(" ");
        let build = HoseBuild::from_word(&word);
        (word.is_empty() || build.is_some()).then_some((size, build))
    })
}
