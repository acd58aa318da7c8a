//! What a run comes near to, against the clearance that each thing wants over the engine's movement.

use bay::solid::Nature;
use quantity::{Kind, System};

use super::judge::{DISTANCE, Judge, mm};
use super::lain::Gap;
use crate::stages::types::Missing;
use crate::verdict::{Basis, Grade, Margin, Number, Verdict, Words, WorkingInput};

/// How far beyond the wanted clearance a thing lies clearly clear, however the engine moves [m]: soft feet let a
/// diesel go by one or two centimetres. Common practice, no source.
pub(super) const CLEARLY: f64 = 0.05;
/// Whence what is wanted.
const WANTED: &str = "clearances: common practice, no source";

/// How far the engine moves each way [m], where that is known.
pub(super) fn known(moves: &Result<f64, Missing>) -> Option<f64> {
    moves.as_ref().ok().copied()
}

/// How a gap stands against what is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kept {
    /// It is wide enough.
    Wide,
    /// Not before the engine's movement is known.
    Waits,
    /// It is in sight of what is hot.
    Rays,
    /// Closer than wanted, and this badly.
    Close(Grade),
    /// They touch.
    Touches,
}

impl Kept {
    /// The grade that goes with it.
    pub(super) fn grade(self) -> Grade {
        match self {
            Self::Wide => Grade::Sound,
            Self::Waits => Grade::Unmeasured,
            Self::Rays => Grade::Marginal,
            Self::Close(grade) => grade,
            Self::Touches => Grade::Unsound,
        }
    }
}

impl Gap {
    /// How far the two come nearer there when the engine moves; nought where they move together [m].
    pub(super) fn shake(&self, moves: Option<f64>) -> f64 {
        if self.moves {
            moves.map_or(0.0, |moves| self.by.unwrap_or(moves))
        } else {
            0.0
        }
    }

    /// What is left of the gap when the engine moves [m].
    pub(super) fn left(&self, moves: Option<f64>) -> f64 {
        self.gap - self.shake(moves)
    }

    /// How it stands.
    pub(super) fn kept(&self, moves: Option<f64>) -> Kept {
        let (left, wants) = (self.left(moves), self.keep);
        let sight = self.nature == Nature::Hot && self.seen;
        let band = if sight { 2.0 * wants } else { wants };
        if left < 0.0 {
            Kept::Touches
        } else if left < wants / 2.0 {
            Kept::Close(Grade::Unsound)
        } else if left < wants {
            Kept::Close(Grade::Marginal)
        } else if self.moves && moves.is_none() && left < band + CLEARLY {
            Kept::Waits
        } else if left < band {
            Kept::Rays
        } else {
            Kept::Wide
        }
    }
}

/// A length as a number of a working.
pub(super) fn length(metres: f64) -> Number {
    Number {
        kind: Kind::Length,
        si: metres,
        text: Words::of(|system| mm(metres, system)),
    }
}

impl Judge<'_> {
    /// Each thing that it comes too near to, and one verdict where it comes too near to none.
    pub(super) fn clearance(&mut self) {
        let moves = known(&self.input.moves);
        let mut found = Vec::new();
        for gap in &self.lain.gaps {
            let kept = gap.kept(moves);
            match kept {
                Kept::Wide => {}
                Kept::Waits => found.extend(self.waits(gap)),
                _ => found.push(self.close(gap, kept, moves)),
            }
        }
        if found.is_empty() {
            found.push(self.clear(moves));
        }
        self.verdicts.extend(found);
    }

    fn close(&self, gap: &Gap, kept: Kept, moves: Option<f64>) -> Verdict {
        let (wants, left) = (gap.keep, gap.left(moves));
        let touches = kept == Kept::Touches;
        let (rule, what) = match gap.nature {
            _ if touches && gap.nature != Nature::Hot => ("chafe", "rubs on"),
            Nature::Hot => ("heat", "lies close to"),
            Nature::Moving | Nature::Solid => ("clearance", "comes close to"),
        };
        let rule = format!("{rule}-{}", gap.with);
        let it = if gap.aside {
            "Hanging the other way it"
        } else {
            "It"
        };
        let because = Words::of(|system| {
            let between = if gap.shake(moves) > 0.0 {
                format!(
                    "{} lie between them, {} as the engine moves",
                    mm(gap.gap, system),
                    mm(left.max(0.0), system)
                )
            } else {
                format!("{} lie between them", mm(gap.gap, system))
            };
            if gap.gap <= 0.0005 && gap.gap > -0.0005 {
                format!("{it} {what} {}: it lies against it.", gap.title)
            } else if gap.gap <= 0.0 {
                format!(
                    "{it} {what} {}: as drawn it would lie {} inside it.",
                    gap.title,
                    mm(-gap.gap, system)
                )
            } else if touches {
                format!(
                    "{it} {what} {}: {} lie between them, and they come {} nearer as the engine moves.",
                    gap.title,
                    mm(gap.gap, system),
                    mm(gap.shake(moves), system)
                )
            } else if kept == Kept::Rays {
                format!(
                    "{it} lies in sight of {}, which is hot: {between}, and its rays reach so far.",
                    gap.title,
                )
            } else {
                format!(
                    "{it} {what} {}: {between}, and {} are wanted.",
                    gap.title,
                    mm(wants, system)
                )
            }
        });
        let mut verdict = self.verdict(&rule, kept.grade(), because);
        verdict.remedy = match gap.nature {
            Nature::Hot => "Lead it another way or hold it off with a support; where it can't be, put a heat shield between.",
            Nature::Moving => "Lead it another way or hold it off with a support.",
            Nature::Solid => "Cut it to another length or hold it off with a support; at the least put a split hose over the touching place.",
        }
        .into();
        verdict.caution = match gap.nature {
            Nature::Hot => {
                Some("Exhaust parts stay hot enough to burn for an hour: work on them cold.".into())
            }
            Nature::Moving => Some(
                "What turns takes hands, sleeves and tape with it: work there only with the engine stopped and her key in your pocket."
                    .into(),
            ),
            Nature::Solid => None,
        };
        if gap.moves
            && let Err(missing) = &self.input.moves
        {
            // It is too close at rest; how much worse it comes waits.
            verdict.settles = Some(missing.settles.clone());
        }
        self.worked(&mut verdict, gap, moves);
        verdict
    }

    /// The working of one gap.
    fn worked(&self, verdict: &mut Verdict, gap: &Gap, moves: Option<f64>) {
        let (wants, left) = (gap.keep, gap.left(moves));
        verdict.margin = Some(Margin {
            value: left,
            deviation: None,
            low: Some(wants),
            high: None,
            kind: Kind::Length,
        });
        if gap.moves {
            self.movement(verdict);
        }
        verdict.step(
            "gap = distance of the centre line to its surface − D/2",
            Words::of(|system| {
                format!(
                    "{} − {}",
                    mm(gap.gap + gap.radius, system),
                    mm(gap.radius, system)
                )
            }),
            Words::of(|system| mm(gap.gap, system)),
        );
        if gap.moves && moves.is_some() {
            verdict.step(
                "left = gap − how far they come nearer there with the engine's end moved by m along each axis",
                Words::of(|system| {
                    format!("{} − {}", mm(gap.gap, system), mm(gap.shake(moves), system))
                }),
                Words::of(|system| mm(left, system)),
            );
        }
        verdict.working.limit =
            Words::of(|system| format!("{} as that thing wants it", mm(wants, system)));
        verdict.source(DISTANCE);
        verdict.source(WANTED);
    }

    /// The engine's movement as an input, where it is known.
    pub(super) fn movement(&self, verdict: &mut Verdict) {
        if let Some(moves) = known(&self.input.moves) {
            verdict.working.inputs.push(WorkingInput {
                symbol: "m".into(),
                name: "movement of the engine, either way".into(),
                value: length(moves),
                tolerance: None,
                from: "boat file".into(),
                place: None,
            });
        }
    }

    fn waits(&self, gap: &Gap) -> Option<Verdict> {
        let missing = self.input.moves.as_ref().err()?;
        let because = Words::of(|system| {
            format!(
                "{} lie between it and {} at rest, and {} are wanted over the engine's movement: {}.",
                mm(gap.gap, system),
                gap.title,
                mm(gap.keep, system),
                missing.why.in_units(system)
            )
        });
        let mut verdict = self.verdict(
            &format!("clearance-{}", gap.with),
            Grade::Unmeasured,
            because,
        );
        verdict.settle_by(&missing.settles);
        verdict.caution = Some(super::MOVES_CAUTION.into());
        self.worked(&mut verdict, gap, None);
        Some(verdict)
    }

    /// It keeps clear of all that is written.
    fn clear(&self, moves: Option<f64>) -> Verdict {
        let count = self.input.bodies.len();
        let scan = self.input.scan.is_some();
        if count == 0
            && !scan
            && self.lain.gaps.is_empty()
            && let Some((name, missing)) = self.input.shapeless.first()
        {
            let title = name.replace('-', " ");
            let mut verdict = self.verdict(
                "clearance",
                Grade::Unmeasured,
                format!(
                    "What stands in the way is written only in part: of {title}, {}.",
                    missing.why.metric
                )
                .as_str()
                .into(),
            );
            verdict.settle_by(&missing.settles);
            return verdict;
        }
        if count == 0 && !scan && self.lain.gaps.is_empty() {
            let mut verdict = self.verdict(
                "clearance",
                Grade::Unmeasured,
                "Nothing in the way is written, so that nobody can say what it touches.".into(),
            );
            verdict.settle_by(&crate::shop::settles(
                "bay.things",
                "Write what stands in the way as boxes and pipes, or lay in a scan.",
            ));
            return verdict;
        }
        let left = |gap: &Gap| gap.left(moves) - gap.keep;
        let gaps = self.lain.gaps.iter();
        let nearest = gaps.min_by(|a, b| left(a).total_cmp(&left(b)));
        let things = match count {
            0 => String::new(),
            1 => "the one thing that is written".to_owned(),
            _ => format!("the {count} things that are written"),
        };
        let things = match (things.is_empty(), scan) {
            (true, true) => "the scan".to_owned(),
            (false, true) => format!("{things} and of the scan"),
            (true, false) => "the other runs".to_owned(),
            (false, false) => things,
        };
        let open = match self.input.shapeless.len() {
            0 => String::new(),
            1 => "; one more has no shape yet".to_owned(),
            more => format!("; {more} more have no shape yet"),
        };
        let because = Words::of(|system: System| match nearest {
            Some(gap) => format!(
                "It keeps clear of {things}; nearest is {}, {} away{open}.",
                gap.title,
                mm(gap.gap, system)
            ),
            None => format!("It keeps clear of {things}; none is near{open}."),
        });
        let mut verdict = self.verdict("clearance", Grade::Sound, because);
        verdict.basis = Basis::Physics;
        match nearest {
            Some(gap) => self.worked(&mut verdict, gap, moves),
            None => {
                verdict.step(
                    "gap to each thing that is written",
                    format!("{} things", count + usize::from(scan))
                        .as_str()
                        .into(),
                    "none is near".into(),
                );
                verdict.working.limit = "the clearance that each of them wants".into();
                verdict.source(DISTANCE);
            }
        }
        verdict
    }
}
