//! Which way is up, and which of two mirrored solutions it is.

use super::tape::{Judge, Read, boat_path, mm};
use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Settles, Stage, Words};

impl Judge<'_> {
    /// Which way is up, and which of two mirrored solutions it is.
    pub(super) fn frame(&mut self) {
        let Some(frame) = self.found.frame else {
            return;
        };
        let pins = Subject {
            key: "pins".into(),
            title: "the datum pins".into(),
            place: "survey.pins".into(),
        };
        if !self.found.level {
            let because = "Heights of fewer than three places, and fewer than two slopes, are written: the places hold against each other, and nothing says which way is up.";
            let mut verdict =
                pins.verdict(Stage::Survey, "level", Grade::Unmeasured, because.into());
            verdict.basis = Basis::Physics;
            verdict.settle_by(&Settles {
                place: "survey.pins".into(),
                how: "Measure the heights of three pins or more against the waterline with a water-filled tube and write them as `h`.".into(),
            });
            self.add(verdict);
        }
        if self.found.hand_open {
            let mut verdict = pins.verdict(
                Stage::Survey,
                "side",
                Grade::Unmeasured,
                "The tapes fit two nets as well, each the other one seen in a mirror.".into(),
            );
            verdict.basis = Basis::Physics;
            verdict.settle_by(&self.hand(frame.origin, frame.along));
            self.add(verdict);
        }
        for group in &self.found.mirrored {
            let spot = group.points[0];
            let apart = self.found.places[spot].map_or(0.0, |at| {
                let step = [0, 1, 2].map(|i| at[i] - group.other[0][i]);
                step.iter().map(|x| x * x).sum::<f64>().sqrt()
            });
            let because = Words::of(|system| {
                format!(
                    "Its tapes fit two places as well, {} apart.",
                    mm(apart, system)
                )
            });
            let mut verdict =
                self.subject(spot)
                    .verdict(Stage::Survey, "side", Grade::Unmeasured, because);
            verdict.basis = Basis::Physics;
            verdict.settle_by(&self.side_of(spot));
            self.add(verdict);
        }
        for against in &self.found.against {
            let side = &self.input.sides[*against];
            let because = format!(
                "The file says that {} lies {}; {} tapes and the other sides put it on the opposite side.",
                self.name(side.spot),
                side.text,
                self.found.used.iter().filter(|used| **used).count()
            );
            let subject = Subject {
                key: format!("{}.told", self.input.spots[side.spot].of),
                title: self.input.spots[side.spot].title.clone(),
                place: side.place.clone(),
            };
            let mut verdict = subject.verdict(
                Stage::Survey,
                "side",
                Grade::Unsound,
                because.as_str().into(),
            );
            verdict.basis = Basis::Physics;
            verdict.remedy =
                "Look at both sides again and mend the one that was written wrong.".into();
            self.add(verdict);
        }
    }

    /// How the hand of the whole net is told: by a pin that stands well off the first two.
    pub(super) fn hand(&self, origin: usize, along: usize) -> Settles {
        let (a, b) = (self.name(origin), self.name(along));
        let off = |spot: usize| {
            let axis = if self.found.level { 1 } else { 2 };
            self.found.places[spot].map_or(0.0, |at| at[axis].abs())
        };
        let points = if self.input.pins > 2 {
            self.input.pins
        } else {
            self.input.spots.len()
        };
        let far = (0..points)
            .filter(|spot| *spot != origin && *spot != along)
            .max_by(|x, y| off(*x).total_cmp(&off(*y)));
        let name = far.map_or("P3", |far| self.name(far));
        let third = self.found.frame.and_then(|frame| frame.third);
        let how = match third {
            Some(third) if !self.found.level => format!(
                "Look from {name} at {a}, {b} and {}, and write which way round they go: `side = {{ {} = \"clockwise {a} {b} {2}\" }}`, or `anticlockwise`.",
                self.name(third),
                boat::key_text(name),
                self.name(third)
            ),
            _ => format!(
                "Look from above along the line from {a} to {b} and write on which side {name} lies: `side = {{ {} = \"left of {a} {b}\" }}`, or `right`.",
                boat::key_text(name)
            ),
        };
        Settles {
            place: "survey.side".into(),
            how,
        }
    }

    /// How the side of one place is told.
    pub(super) fn side_of(&self, spot: usize) -> Settles {
        let mut tied: Vec<usize> = self
            .input
            .readings
            .iter()
            .filter_map(|reading| match reading.read {
                Read::Distance(a, b, _) if a == spot => Some(b),
                Read::Distance(a, b, _) if b == spot => Some(a),
                _ => None,
            })
            .collect();
        tied.sort_unstable();
        let name = self.name(spot);
        let key = boat::key_text(name);
        let how = match tied.as_slice() {
            [a, b, c, ..] if !self.found.level => format!(
                "Look from it at {0}, {1} and {2}, and write which way round they go: `side = {{ {key} = \"clockwise {0} {1} {2}\" }}`, or `anticlockwise`.",
                self.name(*a),
                self.name(*b),
                self.name(*c)
            ),
            [a, b, ..] => format!(
                "Look from above along the line from {0} to {1} and write on which side {name} lies: `side = {{ {key} = \"left of {0} {1}\" }}`, or `right`.",
                self.name(*a),
                self.name(*b)
            ),
            _ => format!("Tape {name} from one pin more."),
        };
        Settles {
            place: boat_path("survey.side", name),
            how,
        }
    }
}
