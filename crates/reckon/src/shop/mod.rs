//! What the order reads of the boat, once the remedies that the file can carry out are done: cut
//! lengths, hose off the shelf and off the roll, clips, and what else a refit uses up.

mod asks;
mod built;
mod joints;
mod missing;
mod stock;

use std::collections::BTreeMap;

use boat::{Arranged, Boat, Key, Run, Told};
use quantity::Quantity;
use reference::hose::widest_bore_limits;

pub use self::built::{Cut, Shelf};
use self::missing::sentence;
pub(crate) use self::missing::{missing, settles};
use self::stock::is_from;
pub(crate) use self::stock::outside;
use crate::job::{Job, Kept, KeptHose};
use crate::pieces::Pieces;
use crate::say;
use crate::solve::cut::first_fit;
use crate::solve::sample::DRAWS;
use crate::stages::circuit;
use crate::stages::cut;
use crate::stages::fit::hoses::{self, End, StretchInput, Window};
use crate::stages::fit::need;
use crate::stages::order::{self, Ask, HoseAsk, OrderInput, OrderOutput, Waits, bore_note};
use crate::stages::survey;
use crate::stages::types::HoseFacts;
use crate::verdict::{Grade, Stage, Verdict, Words};
use crate::whatif::{Done, mended};
use crate::wire::{Answer, Input, Memo, Set};

/// What a hose cut loses where the file does not say. Common practice, no source.
const KERF_MM: f64 = 2.0;

/// The risk of a wrong size where neither the file nor the caller says. Ours, shown with the list.
const RISK: f64 = 0.02;

/// What is asked.
#[derive(Clone, Copy, Debug, Default)]
pub struct OrderAsk<'a> {
    /// Which arrangement; see [`Input`].
    pub arrangement: Option<&'a str>,
    /// Seed of all sampling.
    pub seed: u64,
    /// The risk that is accepted, where it is not to be the file's.
    pub risk: Option<f64>,
}

/// A joint for which nothing is bought, because what is written for it can't be made up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Blocked {
    /// `hot.from`.
    pub joint: Key,
    /// The verdict that says so.
    pub id: String,
    /// Why.
    pub because: Words,
}

/// What is cut from one length of the shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct FromShelf {
    /// `38 epdm`.
    pub hose: String,
    /// How long it is [m].
    pub length: f64,
    /// Where it lies, where that is written.
    pub place: Option<String>,
    /// Key and length of each piece [m].
    pub pieces: Vec<(Key, f64)>,
    /// Those of which only the most is known: they are offered up and cut in place.
    pub at_most: Vec<Key>,
    /// What is left [m].
    pub left: f64,
}

/// The order, with all that it rests on.
#[derive(Clone, Debug)]
pub struct Order {
    /// The arrangement that is bought for.
    pub arrangement: Option<Key>,
    /// Edits that the list takes as done.
    pub done: Vec<Done>,
    /// What is judged of the boat with those done and the list's clips taken: as she is to be built.
    pub built: Answer,
    /// The list.
    pub list: OrderOutput,
    /// Hose that the shelf gives.
    pub shelf: Vec<FromShelf>,
    /// Every piece of hose that is cut.
    pub cuts: Vec<Cut>,
    /// Joints that can't be made up as they are written.
    pub blocked: Vec<Blocked>,
    /// Runs that stay as they are, by the owner's decision.
    pub stays: Vec<Key>,
    /// Cut lengths and the verdict on the list.
    pub verdicts: Vec<Verdict>,
    /// The risk, and what a cut loses [m].
    pub risk: f64,
    /// See `risk`.
    pub kerf: f64,
}

/// Works out the order for a file.
pub fn order(text: &str, boat: &Boat, ask: OrderAsk, memo: &mut Memo) -> Order {
    let how = crate::whatif::Ask {
        arrangement: ask.arrangement,
        seed: ask.seed,
    };
    let mended = mended(text, boat, how, memo);
    let input = Input {
        boat: &mended.boat,
        arrangement: ask.arrangement,
        seed: ask.seed,
        set: Set::All,
        flow: None,
        bay: None,
    };
    let name = mended.answer.arrangement.clone();
    let Some(arranged) = mended
        .boat
        .arranged(name.as_deref())
        .or_else(|| mended.boat.arranged(None))
    else {
        return nothing(mended.done);
    };
    let mut job = Job::of(&arranged, &input);
    job.kept = Some(Kept::default());
    let marks: BTreeMap<Key, String> = circuit::marks(input.boat).into_iter().collect();
    let mark = |run: &Key| marks.get(run).map_or("", String::as_str);
    for run in &arranged.boat.runs {
        job.run(run, mark(&run.key), memo);
    }
    for thing in &arranged.boat.things {
        job.thing(thing);
    }
    let kept = job.kept.take().unwrap_or_default();
    let blocked = blocked(&job.verdicts);
    // What stands in the file as it was typed is there; what a remedy put in is not.
    let Some(base) = boat.arranged(None) else {
        return nothing(mended.done);
    };
    let mut shop = Shop {
        arranged: &arranged,
        base: &base.boat,
        kept: &kept,
        blocked,
        verdicts: Vec::new(),
        asks: Vec::new(),
        waits: Vec::new(),
        pieces: Vec::new(),
        cut: Vec::new(),
    };
    let stays: Vec<&Run> = arranged
        .boat
        .runs
        .iter()
        .filter(|run| shop.stays(run))
        .collect();
    for run in &arranged.boat.runs {
        if shop.stays(run) {
            continue;
        }
        shop.cuts(run, mark(&run.key));
        shop.fittings(run);
        shop.supports(run);
    }
    shop.stacks();
    shop.blanks();
    shop.coolant();
    shop.also();
    let told = &mended.boat.job;
    let kerf = told
        .kerf
        .given()
        .map_or(KERF_MM / 1000.0, |kerf| kerf.value.si());
    let (risk, risk_from) = match (ask.risk, told.misfit_risk.given()) {
        (Some(risk), _) => (risk, "asked for".to_owned()),
        (None, Some(risk)) => (risk.value.to_f64(), "job.misfit_risk".to_owned()),
        (None, None) => (RISK, "assumed; write job.misfit_risk".to_owned()),
    };
    let (hoses, shelf, off_shelf) = shop.hoses(kerf);
    let cuts = std::mem::take(&mut shop.cut);
    let joints = shop.joints(&off_shelf);
    let list = order::order(&OrderInput {
        joints,
        hoses,
        asks: shop.asks,
        waits: shop.waits,
        own_clips: stock::own_clips(&mended.boat),
        own_parts: stock::own_parts(&mended.boat),
        tags: stock::tags(&mended.boat),
        risk,
        risk_from,
        kerf,
        draws: DRAWS,
    });
    let built = built::built(&kept, &mended, &list.lines, how, memo);
    let (mut verdicts, blocked) = (shop.verdicts, shop.blocked);
    verdicts.push(list.verdict.clone());
    Order {
        stays: stays.into_iter().map(|run| run.key.clone()).collect(),
        arrangement: name,
        done: mended.done,
        built,
        list,
        shelf,
        cuts,
        blocked,
        verdicts,
        risk,
        kerf,
    }
}

fn nothing(done: Vec<Done>) -> Order {
    let list = order::order(&OrderInput {
        joints: Vec::new(),
        hoses: Vec::new(),
        asks: Vec::new(),
        waits: Vec::new(),
        own_clips: Vec::new(),
        own_parts: Vec::new(),
        tags: Vec::new(),
        risk: RISK,
        risk_from: "assumed".into(),
        kerf: 0.0,
        draws: DRAWS,
    });
    Order {
        arrangement: None,
        done,
        built: Answer::default(),
        list,
        shelf: Vec::new(),
        cuts: Vec::new(),
        blocked: Vec::new(),
        stays: Vec::new(),
        verdicts: Vec::new(),
        risk: RISK,
        kerf: 0.0,
    }
}

/// Joints whose hose or metal is unsound: no clip helps them. A clip that does not hold is the
/// order's own to choose.
fn blocked(verdicts: &[Verdict]) -> Vec<Blocked> {
    const RULES: [&str; 9] = [
        "stretch",
        "bead",
        "clips",
        "insertion",
        "ends",
        "temperature",
        "pressure",
        "metals",
        "galvanic",
    ];
    verdicts
        .iter()
        .filter(|verdict| verdict.stage == Stage::Fit && verdict.grade == Grade::Unsound)
        .filter(|verdict| {
            let rule = verdict.id.rsplit('.').next();
            rule.is_some_and(|rule| RULES.contains(&rule) || rule == "thread")
        })
        .map(|verdict| Blocked {
            joint: verdict.subject.clone(),
            id: verdict.id.clone(),
            because: verdict.because.clone(),
        })
        .collect()
}

/// A piece of hose that is wanted.
struct Wanted<'a> {
    key: Key,
    /// Other pieces that are cut from the same length after it.
    also: Vec<Key>,
    /// All spigots that hose of it goes on.
    ends: Vec<End>,
    /// Whether this is the most that it can want, and the cut itself is not known.
    at_most: bool,
    /// Whether it shares its run's length with others.
    shared: bool,
    /// How long it is at most [m].
    length: f64,
    kept: &'a KeptHose,
    hose: HoseFacts,
}

impl Wanted<'_> {
    /// `hot.hose`, or `hot.hose and hot.hose2` where they are cut from one length.
    fn name(&self) -> Key {
        let all: Vec<Key> = std::iter::once(&self.key)
            .chain(&self.also)
            .cloned()
            .collect();
        crate::say::list(&all, "and")
    }

    /// How it is cut.
    fn cut(&self, from: Option<Shelf>, bore: Option<Words>) -> Cut {
        Cut {
            pieces: std::iter::once(&self.key)
                .chain(&self.also)
                .cloned()
                .collect(),
            length: self.length,
            at_most: self.at_most,
            from,
            bore,
        }
    }
}

struct Shop<'a> {
    arranged: &'a Arranged,
    /// The boat as she stands, before the arrangement and before any remedy.
    base: &'a Boat,
    kept: &'a Kept,
    blocked: Vec<Blocked>,
    verdicts: Vec<Verdict>,
    asks: Vec<Ask>,
    waits: Vec<Waits>,
    pieces: Vec<Wanted<'a>>,
    cut: Vec<Cut>,
}

/// Hose for the bags, hose off the shelf, and pieces that are to be bought.
type Hoses = (Vec<HoseAsk>, Vec<FromShelf>, BTreeMap<Key, HoseFacts>);

impl<'a> Shop<'a> {
    fn boat(&self) -> &'a Boat {
        &self.arranged.boat
    }

    /// Whether a run stays as it is: the owner keeps it, and the arrangement leaves it alone.
    fn stays(&self, run: &Run) -> bool {
        let of_run = |subject: &str| {
            let rest = subject.strip_prefix(run.key.as_str());
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
        };
        let keeps = |seen: &boat::Seen| seen.decided == Told::Given(boat::Decided::Keep);
        let mut seen = self.base.seen.iter();
        seen.any(|seen| keeps(seen) && of_run(&seen.subject))
            && self.base.run(&run.key) == Some(run)
    }

    /// Whether a piece of hose is the one of a joint.
    fn goes_on(&self, piece: &str, joint: &str) -> bool {
        self.kept.hoses.iter().any(|kept| {
            format!("{}.{}", kept.run, kept.piece.name) == piece && kept.input.has(joint)
        })
    }

    fn is_blocked(&self, joint: &str) -> bool {
        self.blocked.iter().any(|blocked| blocked.joint == joint)
    }

    fn cuts(&mut self, run: &Run, mark: &str) {
        let pieces = Pieces {
            arranged: self.arranged,
            base: self.base,
            kept: self.kept,
        };
        let Some(input) = pieces.of_run(run, mark) else {
            return;
        };
        let output = cut::cuts(&input);
        for verdict in &output.verdicts {
            if verdict.grade == Grade::Unsound {
                self.blocked.push(Blocked {
                    joint: verdict.subject.clone(),
                    id: verdict.id.clone(),
                    because: verdict.because.clone(),
                });
            }
        }
        for hose in output.hoses {
            let name = hose.key.rsplit('.').next().unwrap_or_default();
            let Some(kept) = self.kept.hose(&run.key, name) else {
                continue;
            };
            // Good hose is not cut for what can't be made up.
            let barred = |end: &End| self.is_blocked(&end.joint);
            if self.is_blocked(&hose.key) || kept.input.ends.iter().any(barred) {
                continue;
            }
            let length = match (&hose.cut, hose.most) {
                (Ok(cut), _) => Ok(cut.measured.high.si()),
                (Err(_), Some(most)) => Ok(most.si()),
                (Err(missing), None) => Err(missing.clone()),
            };
            match (&kept.output.hose, &length) {
                (Ok(found), Ok(length)) => self.want(
                    &run.key,
                    hose.key,
                    (*length, hose.cut.is_err()),
                    hose.shared,
                    kept,
                    found,
                ),
                (Err(missing), _) | (_, Err(missing)) => self.waits.push(Waits {
                    what: hose.name.clone(),
                    wanted_by: vec![hose.key.clone()],
                    because: sentence("Hose", missing),
                    settles: missing.settles.clone(),
                    hidden: false,
                }),
            }
        }
        self.verdicts.extend(output.verdicts);
    }

    /// Puts a piece down. Pieces of one hose that share a run are cut one after the other from one
    /// length, wherever the cut between them falls: together they want the run and what is pushed on.
    fn want(
        &mut self,
        run: &str,
        key: Key,
        (length, at_most): (f64, bool),
        shared: bool,
        kept: &'a KeptHose,
        hose: &HoseFacts,
    ) {
        let along = self
            .boat()
            .run(run)
            .and_then(|run| run.length.given())
            .map(|along| along.value.si());
        let before = self.pieces.iter_mut().find(|wanted| {
            shared && wanted.shared && wanted.kept.run == run && wanted.hose.name == hose.name
        });
        match (before, along) {
            (Some(before), Some(along)) => {
                before.length += length - along;
                before.also.push(key);
                before.ends.extend(kept.input.ends.iter().cloned());
            }
            _ => self.pieces.push(Wanted {
                key,
                also: Vec::new(),
                ends: kept.input.ends.clone(),
                at_most,
                shared,
                length,
                kept,
                hose: hose.clone(),
            }),
        }
    }

    /// Shares the shelf out among the pieces, and buys the rest.
    fn hoses(&mut self, kerf: f64) -> Hoses {
        let boat = self.boat();
        let mut groups: BTreeMap<String, Vec<&Wanted>> = BTreeMap::new();
        for wanted in &self.pieces {
            groups
                .entry(wanted.hose.name.clone())
                .or_default()
                .push(wanted);
        }
        let mut asks = Vec::new();
        let mut shelf_cuts = Vec::new();
        let mut bought_facts = BTreeMap::new();
        let mut waits = Vec::new();
        let mut cut = Vec::new();
        let shelf = survey::shelf(boat);
        // What is left of each length, whatever name it was cut by.
        let mut remains: Vec<f64> = shelf.iter().map(|own| own.length.si()).collect();
        for (name, wanted) in groups {
            let lengths: Vec<f64> = wanted.iter().map(|wanted| wanted.length).collect();
            let own: Vec<usize> = (0..shelf.len())
                .filter(|&i| wanted.iter().any(|wanted| is_from(wanted, &shelf[i])))
                .collect();
            let there: Vec<f64> = own.iter().map(|&i| remains[i]).collect();
            let plan = first_fit(&lengths, &there, kerf);
            for (at, &i) in own.iter().enumerate() {
                remains[i] = plan.left[at];
                let cut_here = || {
                    let of_it = wanted.iter().zip(&plan.from);
                    of_it
                        .filter(|(_, from)| **from == Some(at))
                        .map(|(wanted, _)| wanted)
                };
                let pieces: Vec<(Key, f64)> = cut_here()
                    .map(|wanted| (wanted.name(), wanted.length))
                    .collect();
                let place = &boat.stock.hose[i].place;
                cut.extend(cut_here().map(|wanted| {
                    let from = Shelf {
                        place: place.clone(),
                    };
                    wanted.cut(Some(from), None)
                }));
                if !pieces.is_empty() {
                    shelf_cuts.push(FromShelf {
                        hose: name.clone(),
                        length: there[at],
                        place: place.clone(),
                        pieces,
                        at_most: cut_here()
                            .filter(|wanted| wanted.at_most)
                            .map(|wanted| wanted.name())
                            .collect(),
                        left: plan.left[at],
                    });
                }
            }
            let rest: Vec<&Wanted> = wanted
                .iter()
                .zip(&plan.from)
                .filter(|(_, from)| from.is_none())
                .map(|(wanted, _)| *wanted)
                .collect();
            // One roll for all where one bore goes on every end of it, else a piece at a time.
            let all = |pieces: &[&Wanted]| -> Option<(HoseFacts, Option<Window>)> {
                let first = pieces.first()?;
                let input = StretchInput {
                    ends: pieces.iter().flat_map(|piece| piece.ends.clone()).collect(),
                    ..first.kept.input.clone()
                };
                hoses::bought(&input, first.hose.size?)
            };
            let rolls: Vec<Vec<&Wanted>> = if rest.is_empty() || all(&rest).is_some() {
                vec![rest]
            } else {
                rest.into_iter().map(|piece| vec![piece]).collect()
            };
            for roll in rolls.into_iter().filter(|roll| !roll.is_empty()) {
                match all(&roll) {
                    Some((facts, window)) => {
                        for piece in &roll {
                            bought_facts.insert(piece.key.clone(), facts.clone());
                            let bore = window.as_ref().map(|window| {
                                Words::of(|system| {
                                    say::mm_range(window.least.si(), window.most.si(), system)
                                })
                            });
                            cut.push(piece.cut(None, bore));
                        }
                        let mut notes: Vec<Words> = window
                            .map(|window| bore_note(window.least, window.most))
                            .into_iter()
                            .collect();
                        if roll.iter().any(|piece| piece.has_unmeasured_end()) {
                            notes.push("an end of it is not measured and may want another size: measure before you buy".into());
                        }
                        asks.push(HoseAsk {
                            name: name.clone(),
                            pieces: roll
                                .iter()
                                .map(|piece| (piece.name(), piece.length))
                                .collect(),
                            at_most: roll
                                .iter()
                                .filter(|piece| piece.at_most)
                                .map(|piece| piece.name())
                                .collect(),
                            notes,
                        });
                    }
                    None => waits.push(Waits {
                        what: name.clone(),
                        wanted_by: roll.iter().map(|piece| piece.name()).collect(),
                        because: no_bore(roll[0]),
                        settles: settles(
                            &roll[0].kept.input.place,
                            "Choose another hose for this run, or a reducer between two.",
                        ),
                        hidden: false,
                    }),
                }
            }
        }
        self.waits.extend(waits);
        self.cut = cut;
        (asks, shelf_cuts, bought_facts)
    }
}

/// Why no hose of a name goes on all of its ends, in numbers.
fn no_bore(piece: &Wanted) -> Words {
    let kind = piece.hose.build.as_ref().ok().map(|(kind, _)| *kind);
    let fits = kind.and_then(|kind| need::bores_that_fit(&piece.ends, kind));
    let sold = piece
        .hose
        .size
        .and_then(|size| widest_bore_limits(size).ok());
    let (Some((least, most)), Some(sold)) = (fits, sold) else {
        return "No bore that is sold by this name fits all of its ends.".into();
    };
    let sold = (sold.value.low.si(), sold.value.high.si());
    Words::of(|system| {
        let sold = say::mm_range(sold.0, sold.1, system);
        if least > most {
            format!(
                "Its ends differ too much for one hose: one wants a bore of at least {}, another holds one of {} at most.",
                say::mm(least, system),
                say::mm(most, system)
            )
        } else {
            format!(
                "Only a bore of {} goes on its ends and holds; by this name {sold} is sold.",
                say::mm_range(least, most, system)
            )
        }
    })
}
