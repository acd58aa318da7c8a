//! Whether the tapes agree, and which measurement is wrong.

use quantity::Kind;

use super::cause::cause;
use super::tape::{Judge, METHOD, Read, half_text, limit_words, mm, plus_minus, sure};
use crate::say;
use crate::solve::adjust::{Blunder, Doubt};
use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Margin, Settles, Stage, Verdict, Words};
use quantity::System;

impl Judge<'_> {
    pub(super) fn unread(&mut self) {
        for (title, missing) in &self.input.unread {
            let subject = Subject {
                key: plain(&missing.settles.place),
                title: title.clone(),
                place: missing.settles.place.clone(),
            };
            let verdict = subject.waits(Stage::Survey, "reading", &say::capital(title), missing);
            self.add(verdict);
        }
    }

    /// Whether the measurements agree, and which one is wrong.
    pub(super) fn tapes(&mut self) {
        for blunder in &self.found.blunders {
            let verdict = self.blunder(blunder);
            self.add(verdict);
        }
        if let Some(doubt) = &self.found.doubt {
            let verdict = self.doubt(doubt);
            self.add(verdict);
            return;
        }
        if self.found.frame.is_none() {
            return;
        }
        let used = self.found.used.iter().filter(|used| **used).count();
        let unknown = used - self.found.spare.min(used);
        let subject = Self::whole("survey.tapes");
        if self.found.spare == 0 {
            let because = format!(
                "{used} measurements for {unknown} unknowns are just enough: nothing would show a slip of 100 mm."
            );
            let mut verdict = subject.verdict(
                Stage::Survey,
                "agree",
                Grade::Unmeasured,
                because.as_str().into(),
            );
            verdict.basis = Basis::Physics;
            verdict.settle_by(&Settles {
                place: "survey.tapes".into(),
                how: "Tape each spigot from one pin more, best from a fourth.".into(),
            });
            self.add(verdict);
            return;
        }
        let tests = self.found.tests.iter().zip(&self.found.used);
        let unchecked = tests
            .filter(|(test, used)| **used && test.is_none())
            .count();
        let left = self.found.left.iter().zip(&self.input.readings);
        let worst = left
            .filter(|(_, reading)| !matches!(reading.read, Read::Slope(..)))
            .filter_map(|(left, _)| left.map(f64::abs))
            .fold(0.0, f64::max);
        let because = Words::of(|system| {
            let rest = match unchecked {
                0 => String::new(),
                1 => " Nothing checks one of them.".to_owned(),
                n => format!(" Nothing checks {n} of them."),
            };
            format!(
                "{used} measurements, {} more than the places need, agree: none is left over by more than {}.{rest}",
                self.found.spare,
                half_text(worst, system)
            )
        });
        let mut verdict = if self.found.agrees() {
            subject.verdict(Stage::Survey, "agree", Grade::Sound, because)
        } else {
            let because = format!(
                "{used} measurements, {} more than the places need, do not agree: their squares add up to {:.0}, where about {} is due; too many are wrong for one to be named.",
                self.found.spare, self.found.squares, self.found.spare
            );
            let grade = Grade::Unsound;
            let mut verdict =
                subject.verdict(Stage::Survey, "agree", grade, because.as_str().into());
            verdict.remedy = "Trust none of the places. See that the tape is hooked at its end and read in one unit, then tape all of them again.".into();
            verdict
        };
        verdict.basis = Basis::Physics;
        verdict.step(
            "Σ (read − reckoned)²/u²",
            format!("{used} measurements, {unknown} unknowns")
                .as_str()
                .into(),
            format!(
                "{:.1}, where about {} is due",
                self.found.squares, self.found.spare
            )
            .as_str()
            .into(),
        );
        verdict.working.limit = limit_words().as_str().into();
        verdict.source(METHOD);
        self.add(verdict);
    }

    /// `reads 100 ± 4 mm long`.
    fn reads(&self, blunder: &Blunder, system: System) -> String {
        let high = matches!(self.input.readings[blunder.measure].read, Read::Height(..));
        let way = match (high, blunder.off > 0.0) {
            (true, true) => "too high",
            (true, false) => "too low",
            (false, true) => "long",
            (false, false) => "short",
        };
        if let Read::Slope(..) = self.input.readings[blunder.measure].read {
            return format!(
                "is {:.1} ± {:.1}° off",
                blunder.off.to_degrees(),
                sure(blunder.sigma).to_degrees()
            );
        }
        let by = plus_minus(blunder.off.abs(), sure(blunder.sigma), system);
        format!("reads {by} {way}")
    }

    fn why(&self, blunder: &Blunder) -> Option<String> {
        match &self.input.readings[blunder.measure].read {
            Read::Distance(_, _, m) => cause(m.value.to_mm(), blunder.off, 2.0 * blunder.sigma),
            _ => None,
        }
    }

    fn blunder(&self, blunder: &Blunder) -> Verdict {
        let reading = &self.input.readings[blunder.measure];
        let subject = Subject {
            key: plain(&reading.place),
            title: reading.title.clone(),
            place: reading.place.clone(),
        };
        let why = self
            .why(blunder)
            .map_or_else(String::new, |why| format!(" {why}"));
        let because = Words::of(|system| {
            let numbers = match &reading.read {
                Read::Distance(_, _, m) | Read::Dowel(_, _, m) | Read::Height(_, m) => format!(
                    ": {}, where all others give {}",
                    mm(m.value.to_mm(), system),
                    mm(m.value.to_mm() - blunder.off, system)
                ),
                Read::Slope(..) => String::new(),
            };
            format!(
                "{} {}{numbers}.{why}",
                say::capital(&reading.title),
                self.reads(blunder, system)
            )
        });
        let mut verdict = subject.verdict(Stage::Survey, "slip", Grade::Unsound, because);
        verdict.basis = Basis::Physics;
        verdict.remedy =
            "Measure it again and write what it reads now; until then it is left out.".into();
        verdict.margin = Some(Margin {
            value: blunder.off / 1000.0,
            deviation: Some(sure(blunder.sigma) / 1000.0),
            low: None,
            high: None,
            kind: Kind::Length,
        });
        verdict.working.limit = limit_words().as_str().into();
        verdict.source(METHOD);
        verdict
    }

    fn doubt(&self, doubt: &Doubt) -> Verdict {
        let repeat = &self.input.readings[doubt.repeat];
        let subject = Self::whole(&repeat.place);
        let how = format!("Repeat {} and write what it reads now.", repeat.title);
        let each = |blunder: &Blunder, system: System| {
            let reading = &self.input.readings[blunder.measure];
            let why = self.why(blunder).map_or_else(String::new, |why| {
                format!(" ({})", why.trim_end_matches('?').to_lowercase())
            });
            format!("{} {}{why}", reading.title, self.reads(blunder, system))
        };
        let pair = doubt.among.len() == 2;
        let because = Words::of(|system| {
            let most = doubt.among.iter().take(4);
            let named: Vec<String> = most.map(|blunder| each(blunder, system)).collect();
            let rest = doubt.among.len() - named.len();
            let more = if rest > 0 {
                format!(", or one of {rest} more")
            } else {
                String::new()
            };
            if pair {
                format!(
                    "Either {} or {}: the rest can't tell which.",
                    named[0], named[1]
                )
            } else {
                format!(
                    "One of {} measurements is wrong and nothing tells which: {}{more}.",
                    doubt.among.len(),
                    named.join(", or ")
                )
            }
        });
        let grade = if pair {
            Grade::Unsound
        } else {
            Grade::Unmeasured
        };
        let mut verdict = subject.verdict(Stage::Survey, "slip", grade, because);
        verdict.basis = Basis::Physics;
        if pair {
            verdict.remedy = how.as_str().into();
        } else {
            verdict.settle_by(&Settles {
                place: repeat.place.clone(),
                how,
            });
        }
        verdict.working.limit = limit_words().as_str().into();
        verdict.source(METHOD);
        verdict
    }
}

/// A place of the survey as a part of an id: `tapes.P1-engine.out`.
fn plain(place: &str) -> String {
    place
        .trim_start_matches("survey.")
        .replace('"', "")
        .replace(' ', "-")
}
