//! Where each spigot is and points, and whether that is good enough for a hose.

use boat::SpotPart;
use quantity::{Kind, Length, System};

use super::tape::{
    AXIS_GOOD, AXIS_USELESS, Judge, METHOD, PLACE_GOOD, PLACE_USELESS, Read, Standing, axis,
    boat_path, half_text, length, mm, part_of, spigots, standing, sure,
};
use crate::say;
use crate::solve::adjust::Lack;
use crate::verdict::{Basis, Grade, Margin, Settles, Stage, Verdict, Words};

impl Judge<'_> {
    /// One place: pins where they have none, mouths always. Dowels and feet belong to the axis.
    pub(super) fn position(&mut self, spot: usize) {
        let fact = &self.input.spots[spot];
        let mouth = fact.part == Some(SpotPart::Mouth);
        if fact.part.is_some() && !mouth {
            return;
        }
        let lack = self.found.lacks.iter().find(|(of, _)| *of == spot);
        if let Some((_, lack)) = lack {
            let verdict = self.lacking(spot, lack);
            self.add(verdict);
            return;
        }
        if !mouth {
            return;
        }
        let subject = self.subject(spot);
        let Some(at) = self.found.places[spot] else {
            return;
        };
        let half = sure(self.found.weakest(spot).0);
        let waits = match standing(self.found, spot) {
            Standing::Settled => None,
            Standing::Mirrored => {
                let group = self
                    .found
                    .mirrored
                    .iter()
                    .find(|g| g.points.contains(&spot));
                let settles = match (group, self.found.frame) {
                    (Some(group), _) => self.side_of(group.points[0]),
                    (None, Some(frame)) => self.hand(frame.origin, frame.along),
                    (None, None) => return,
                };
                Some(("it may be the mirrored one", settles))
            }
            Standing::Doubtful => Some(match self.found.doubt.as_ref() {
                Some(doubt) => {
                    let repeat = &self.input.readings[doubt.repeat];
                    let settles = Settles {
                        place: repeat.place.clone(),
                        how: format!("Repeat {} and write what it reads now.", repeat.title),
                    };
                    ("it hangs on which measurement is wrong", settles)
                }
                None => (
                    "the measurements do not agree",
                    Settles {
                        place: "survey.tapes".into(),
                        how: "Tape all of them again.".into(),
                    },
                ),
            }),
        };
        let (first, second) = self
            .found
            .frame
            .map_or(("", ""), |f| (self.name(f.origin), self.name(f.along)));
        let level = self.found.level;
        let lies = |system: System| {
            let to = if at[1] < 0.0 { "right" } else { "left" };
            let up = if level {
                format!(
                    "at {}",
                    quantity::show_signed(length(at[2]), Some(Length::mm(2.0)), system)
                )
            } else {
                format!("{} off their plane", mm(at[2].abs(), system))
            };
            format!(
                "Its mouth lies {} from {first} towards {second}, {} to the {to} and {up}, surely within {}",
                mm(at[0], system),
                mm(at[1].abs(), system),
                half_text(half, system)
            )
        };
        let mut verdict;
        if let Some((why, settles)) = waits {
            let because = Words::of(|system| format!("{}, but {why}.", lies(system)));
            verdict = subject.verdict(Stage::Survey, "position", Grade::Unmeasured, because);
            verdict.settle_by(&settles);
        } else {
            let checked = self.checked(spot);
            let grade = match half {
                _ if half > PLACE_USELESS => Grade::Unmeasured,
                _ if half > PLACE_GOOD || !checked => Grade::Marginal,
                _ => Grade::Sound,
            };
            let because = Words::of(|system| {
                let rest = if checked {
                    ""
                } else {
                    "; its tapes are just enough, so that nothing would show a slip"
                };
                format!("{}{rest}.", lies(system))
            });
            verdict = subject.verdict(Stage::Survey, "position", grade, because);
            if grade != Grade::Sound {
                let how = self.one_more(spot);
                if grade == Grade::Unmeasured {
                    verdict.settle_by(&Settles {
                        place: "survey.tapes".into(),
                        how,
                    });
                } else {
                    verdict.remedy = how.as_str().into();
                }
            }
        }
        verdict.margin = Some(Margin {
            value: half / 1000.0,
            deviation: None,
            low: None,
            high: Some(PLACE_GOOD / 1000.0),
            kind: Kind::Length,
        });
        verdict.step(
            "√3 · greatest deviation of the place",
            Words::of(|system| half_text(half / 3.0_f64.sqrt(), system) + " · √3"),
            Words::of(|system| half_text(half, system)),
        );
        verdict.working.limit =
            Words::of(|system| format!("{} for a hose's end", mm(PLACE_GOOD, system)));
        verdict.source("common practice, no source");
        verdict.source(METHOD);
        self.add(verdict);
    }

    /// Whether any measurement of a place is checked by the others.
    fn checked(&self, spot: usize) -> bool {
        let readings = self.input.readings.iter().zip(&self.found.tests);
        readings
            .filter(|(reading, _)| match reading.read {
                Read::Distance(a, b, _) => a == spot || b == spot,
                _ => false,
            })
            .any(|(_, test)| test.as_ref().is_some_and(|test| test.share > 0.05))
    }

    /// Pins from which a place has no tape yet; the one that would help most stands first.
    fn one_more(&self, spot: usize) -> String {
        let (_, weak) = self.found.weakest(spot);
        let tied = |pin: usize| {
            self.input.readings.iter().any(|reading| {
                matches!(reading.read, Read::Distance(a, b, _) if (a, b) == (pin, spot) || (a, b) == (spot, pin))
            })
        };
        let helps = |pin: usize| -> Option<f64> {
            let (from, at) = ((*self.found.places.get(pin)?)?, self.found.places[spot]?);
            let step = [0, 1, 2].map(|i| at[i] - from[i]);
            let far = step.iter().map(|x| x * x).sum::<f64>().sqrt();
            let along: f64 = (0..3).map(|i| step[i] * weak[i]).sum();
            (far > 0.0).then(|| (along / far).abs())
        };
        let best = (0..self.input.pins)
            .filter(|pin| !tied(*pin))
            .filter_map(|pin| Some((pin, helps(pin)?)))
            .max_by(|a, b| a.1.total_cmp(&b.1));
        match best {
            Some((pin, _)) => format!("Tape {} from {} as well.", self.name(spot), self.name(pin)),
            None => format!(
                "Set one pin more, well to the side of the others, and tape {} from it.",
                self.name(spot)
            ),
        }
    }

    fn lacking(&self, spot: usize, lack: &Lack) -> Verdict {
        let name = self.name(spot);
        let (because, how) = match lack {
            Lack::TooFew { has, due } => {
                let more = due.saturating_sub(*has).max(1);
                let has = match has {
                    0 => "No tape reaches it".to_owned(),
                    1 => "One tape reaches it".to_owned(),
                    n => format!("{n} tapes reach it"),
                };
                let but = if *due == 3 {
                    format!("{due} are due, or 2 with its height")
                } else {
                    format!("{due} are due with its height")
                };
                (
                    format!("{has} from places that are known; {but}, and one more checks them."),
                    match more {
                        1 => format!("Tape {name} from one more of the pins."),
                        n => format!("Tape {name} from {n} more of the pins."),
                    },
                )
            }
            Lack::Turns { about } => {
                let about: Vec<String> = about
                    .iter()
                    .map(|spot| self.name(*spot).to_owned())
                    .collect();
                (
                    format!(
                        "{} tapes reach it, and {} stand so nearly in one line that it can turn about it.",
                        about.len(),
                        say::list(&about, "and")
                    ),
                    format!("Set a pin well off that line and tape {name} from it."),
                )
            }
        };
        let mut verdict = self.subject(spot).verdict(
            Stage::Survey,
            "position",
            Grade::Unmeasured,
            because.as_str().into(),
        );
        verdict.basis = Basis::Physics;
        verdict.settle_by(&Settles {
            place: "survey.tapes".into(),
            how,
        });
        verdict
    }

    fn tapes_to(&self, spot: usize) -> usize {
        let reaches =
            |read: &Read| matches!(read, Read::Distance(a, b, _) if *a == spot || *b == spot);
        let readings = self.input.readings.iter();
        readings.filter(|reading| reaches(&reading.read)).count()
    }

    /// Where each spigot points.
    pub(super) fn axes(&mut self) {
        for (mouth, _) in spigots(self.input) {
            if self.found.places[mouth].is_none() {
                continue;
            }
            let subject = self.subject(mouth);
            let name = self.name(mouth).to_owned();
            let dowel = format!(
                "Push a straight dowel of 400 mm into it, tape its far end from three pins, `\"P1 {name} dowel\" = …`, and write how far it stands out in `survey.dowels`."
            );
            let settles = Settles {
                place: boat_path("survey.dowels", &name),
                how: dowel,
            };
            let Some((towards, sigma, by_dowel)) = axis(self.input, self.found, mouth) else {
                let because = match part_of(self.input, &name, SpotPart::Dowel) {
                    Some(end) => format!(
                        "The dowel in it has too few tapes to its far end: {}, where 2 with its length and height, or 3 tapes, are due.",
                        self.tapes_to(end)
                    ),
                    None => "Where it points is not measured: 0 dowels stand in it.".to_owned(),
                };
                let mut verdict = subject.verdict(
                    Stage::Survey,
                    "axis",
                    Grade::Unmeasured,
                    because.as_str().into(),
                );
                verdict.basis = Basis::Physics;
                verdict.settle_by(&settles);
                self.add(verdict);
                continue;
            };
            let half = sure(sigma).to_degrees();
            let grade = match half {
                _ if half > AXIS_USELESS => Grade::Unmeasured,
                _ if half > AXIS_GOOD => Grade::Marginal,
                _ => Grade::Sound,
            };
            let rises = towards[2].clamp(-1.0, 1.0).asin().to_degrees();
            let by = if by_dowel {
                "Its dowel"
            } else {
                "The stub alone"
            };
            let way = if self.found.level {
                let way = if rises < 0.0 { "downward" } else { "upward" };
                format!(" and points {:.0}° {way}", rises.abs())
            } else {
                String::new()
            };
            let because = format!("{by} gives its axis to ± {half:.1}°{way}.");
            let mut verdict =
                subject.verdict(Stage::Survey, "axis", grade, because.as_str().into());
            verdict.basis = Basis::Physics;
            match grade {
                Grade::Sound => {}
                Grade::Unmeasured => verdict.settle_by(&settles),
                _ if by_dowel => {
                    verdict.remedy =
                        "Take a longer dowel, or tape its far end from one pin more.".into();
                }
                _ => verdict.remedy = settles.how.as_str().into(),
            }
            verdict.step(
                "√3 · deviation across the axis / length",
                format!("{:.4} rad", sigma).as_str().into(),
                format!("{half:.1}°").as_str().into(),
            );
            verdict.working.limit = format!("{AXIS_GOOD:.0}° for a hose laid as drawn")
                .as_str()
                .into();
            verdict.source("common practice, no source");
            verdict.source(METHOD);
            self.add(verdict);
        }
    }
}
