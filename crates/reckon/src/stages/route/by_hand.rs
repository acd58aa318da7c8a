//! Where a hand comes from the hatch, and what holds of the hatch for all clips alike.

use std::rc::Rc;

use bay::Vec3;
use bay::access::{self, Doubt, Flood, Hatch, Shut, WayIn};
use bay::solid::{Bounds, Shape};
use boat::Key;

use super::access::Sweep;
use super::clip_verdict::{CAUTION, measure};
use crate::say;
use crate::stages::types::Subject;
use crate::verdict::{Grade, Settles, Stage, Verdict, Words};

/// A fist that holds a handle [m]. Common practice, no source.
const HAND: f64 = 0.045;
/// How far about a clip hands are looked for, besides where bodies stand [m]: the longest usual tool. Ours.
const ABOUT: f64 = 0.30;

/// Where a hand comes while some hoses are in.
pub(super) struct Hand<'a> {
    pub(super) flood: Flood<'a>,
    /// Which hoses are in, by their numbers.
    pub(super) hoses: Vec<usize>,
}

impl<'a> Sweep<'a> {
    /// The name of what stands in a hand's way.
    pub(super) fn name(&self, hand: &Hand<'_>, number: usize) -> Option<String> {
        let bodies = self.space.bodies();
        match bodies.get(number) {
            Some(body) => Some(body.name.clone()),
            None => {
                let hose = hand.hoses.get(number - bodies.len())?;
                let (run, _) = self.hoses.get(*hose)?;
                Some(run.clone())
            }
        }
    }

    /// Where a hand comes while the clip's own hose and some others are in.
    pub(super) fn hand(&self, own: Option<usize>, others: &[usize]) -> Rc<Hand<'a>> {
        let mut hoses: Vec<usize> = others.iter().copied().chain(own).collect();
        hoses.sort_unstable();
        if let Some(known) = self.floods.borrow().get(&hoses) {
            return Rc::clone(known);
        }
        let hand = Rc::new(Hand {
            flood: self.flood(&hoses),
            hoses: hoses.clone(),
        });
        self.floods.borrow_mut().insert(hoses, Rc::clone(&hand));
        hand
    }

    fn flood(&self, hoses: &[usize]) -> Flood<'a> {
        let hatch = self.input.hatch.map(|(at, [long, broad])| Hatch {
            at: Vec3::from_array(at),
            radius: long.min(broad) / 2.0,
        });
        let shape = |(run, shape): &'a (Key, Shape)| (run.as_str(), shape);
        let hoses = hoses
            .iter()
            .filter_map(|hose| self.hoses.get(*hose))
            .map(shape);
        let among = access::obstacles(self.space, hoses, "");
        let everything = access::obstacles(self.space, self.hoses.iter().map(shape), "");
        let bay = everything
            .iter()
            .map(|obstacle| obstacle.shape.bounds())
            .chain(self.seats.map(|seats| seats.grown(ABOUT)))
            .reduce(Bounds::and);
        let bay = bay.unwrap_or_else(|| Bounds::of([Vec3::ZERO]));
        Flood::new(&among, hatch, bay, HAND)
    }

    /// What holds of the way in for the whole bay: one verdict, where it is not plain.
    pub(super) fn way_in(&self) -> Option<Verdict> {
        let all: Vec<usize> = (0..self.hoses.len()).collect();
        let hand = self.hand(None, &all);
        let whole = hand.flood.of_all()?.clone();
        let subject = Subject {
            key: "bay".into(),
            title: "way in".into(),
            place: "bay.hatch".into(),
        };
        let fist = Words::of(|system| super::judge::mm(2.0 * HAND, system));
        let (grade, because, how) = match whole {
            WayIn::Unknown(Doubt::TooLarge) => (
                Grade::Unmeasured,
                Words::from(
                    "Whether a hand comes from the hatch to the clips is not known: the bay is too large to be searched.",
                ),
                "Try each clip with your own hand from the hatch.",
            ),
            WayIn::Shut(Shut::Blocked) => {
                let names: Vec<String> = hand
                    .flood
                    .in_the_hatch()
                    .into_iter()
                    .filter_map(|number| self.name(&hand, number))
                    .collect();
                let by = if names.is_empty() {
                    "what stands about it".to_owned()
                } else {
                    say::list(&names, "and")
                };
                (
                    Grade::Unsound,
                    Words::of(|system| {
                        format!(
                            "No hand comes in by the hatch as it is written: {by} leaves no room for a fist of {} in it.",
                            fist.in_units(system)
                        )
                    }),
                    "Look where the hatch is and what stands in it, and write either anew.",
                )
            }
            WayIn::Shut(Shut::Small) => (
                Grade::Marginal,
                Words::of(|system| {
                    format!(
                        "The hatch is narrower than a fist, which wants {}: no hand comes in by it with a tool.",
                        fist.in_units(system)
                    )
                }),
                "Measure the opening again, or open another one.",
            ),
            _ => (
                Grade::Unmeasured,
                Words::from(
                    "Whether a hand comes to the clips is not known: no hatch is written. What is said of each clip holds once a hand is there.",
                ),
                "Measure the opening one gets in by, and write its middle and its two sides: hatch = { at = [400, 0, 900], size = [900, 600] }.",
            ),
        };
        let mut verdict = subject.verdict(Stage::Route, "way-in", grade, because);
        let settles = Settles {
            place: "bay.hatch".into(),
            how: how.into(),
        };
        if grade == Grade::Unmeasured {
            verdict.settle_by(&settles);
            return Some(verdict);
        }
        verdict.remedy = how.into();
        if grade == Grade::Unsound {
            verdict.caution = Some(CAUTION.into());
        }
        if let Some((_, [long, broad])) = self.input.hatch {
            for (symbol, name, metres) in
                [("a", "hatch along x", long), ("b", "hatch along y", broad)]
            {
                verdict
                    .working
                    .inputs
                    .extend(measure(symbol, name, metres, Some("bay.hatch")));
            }
        }
        verdict.step(
            "a ball as large as a fist is put into the hatch",
            Words::of(|system| format!("{} across", fist.in_units(system))),
            "it does not fit".into(),
        );
        verdict.working.limit = "it fits".into();
        verdict.source(access::SOURCE);
        verdict.source(super::judge::DISTANCE);
        Some(verdict)
    }
}
