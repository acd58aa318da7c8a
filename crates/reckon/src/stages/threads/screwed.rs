//! The screwed joints of a stack: what mates, what seals, how far it is screwed in.

use boat::{Metal, Sex, Thread, thread_text};
use quantity::{Kind, Length, Measured, Quantity, System};
use reference::mate::{Mating, SealsOn, mates};
use reference::metal::Alloy;
use reference::seal::{least_engagement, taper_engagement};
use reference::thread::{Family, thread_fact};

use super::seal::{in_thread, joined, on_faces};
use crate::say;
use crate::stages::types::{Missing, Subject, Value, family, thread_size};
use crate::verdict::{Basis, Grade, Margin, Settles, Stage, Verdict, Words};

/// A threaded end.
pub type End = (Thread, Sex);

/// One part of a stack.
#[derive(Clone, Debug, PartialEq)]
pub struct PartFacts {
    /// Its name in the stack: `valve`.
    pub name: String,
    /// What it is, in words: `ball valve`.
    pub kind: String,
    /// Its threaded ends, from the sea inward.
    pub ends: Vec<End>,
    /// Whether a hose goes on its inner end.
    pub tail: bool,
    /// Of what it is made.
    pub metal: Option<Metal>,
    /// Length of thread that engages with the part before it.
    pub engaged: Option<Measured<Length>>,
}

/// A screwed stack.
#[derive(Clone, Debug, PartialEq)]
pub struct StackInput {
    /// Key of the thing.
    pub thing: String,
    /// Where the stack stands.
    pub place: String,
    /// Its parts, from the sea inward.
    pub parts: Vec<PartFacts>,
    /// Whether it holds the sea out.
    pub at_hull: bool,
}

const ASHORE: &str =
    "What holds the sea out is opened ashore only, by local rules and licensed practice.";
const HOT: &str = "Hot and under pressure: open it only when the engine is cold.";

/// Judges every screwed joint of a stack.
pub fn stack(input: &StackInput) -> Vec<Verdict> {
    let mut verdicts = Vec::new();
    for (at, pair) in input.parts.windows(2).enumerate() {
        let [one, other] = pair else { continue };
        let joint = Joint {
            input,
            subject: Subject {
                key: format!("{}.{}-{}", input.thing, one.name, other.name),
                title: format!("{} and {} of {}", one.name, other.name, input.thing),
                place: format!("{}[{}]", input.place, at + 1),
            },
            one,
            other,
            first: at == 0,
        };
        let pair = joint.pair();
        let mates = match &pair {
            Ok(pair) => joint.mates(pair),
            Err(verdict) => (**verdict).clone(),
        };
        let holds = mates.grade != Grade::Unsound;
        verdicts.push(mates);
        if let Ok(pair) = &pair
            && holds
        {
            verdicts.extend(joint.engaged(pair));
        }
    }
    verdicts
        .into_iter()
        .map(|mut verdict| {
            if matches!(verdict.grade, Grade::Unsound | Grade::Marginal) {
                verdict.caution = Some(if input.at_hull { ASHORE } else { HOT }.to_owned());
            }
            verdict.spoken()
        })
        .collect()
}

/// A male and a female that meet.
struct Pair<'a> {
    male: Thread,
    female: Thread,
    /// The part that has the female.
    boss: &'a PartFacts,
}

struct Joint<'a> {
    input: &'a StackInput,
    subject: Subject,
    one: &'a PartFacts,
    other: &'a PartFacts,
    /// Whether the outer part is the first of the stack.
    first: bool,
}

impl Joint<'_> {
    fn verdict(&self, rule: &str, grade: Grade, because: Words) -> Verdict {
        self.subject.verdict(Stage::Fit, rule, grade, because)
    }

    fn unsound(&self, because: String, remedy: &str) -> Box<Verdict> {
        let mut verdict = self.verdict("thread", Grade::Unsound, because.as_str().into());
        verdict.basis = Basis::Physics;
        verdict.remedy = remedy.into();
        verdict.working.limit = "a male in a female of the same family, size and pitch".into();
        Box::new(verdict)
    }

    /// The male and the female; or why there are none.
    fn pair(&self) -> Result<Pair<'_>, Box<Verdict>> {
        let (one, other) = (self.one, self.other);
        if one.tail {
            let because = format!(
                "A hose goes on the inner end of the {}; the {} has nothing to screw on to there.",
                one.name, other.name
            );
            return Err(self.unsound(
                because,
                "Write the parts in their order from the sea inward.",
            ));
        }
        // A part between two others has two ends; which of them a single thread is can't be told.
        let inner = one.ends.get(1).or(one.ends.first().filter(|_| self.first));
        let (Some(a), Some(b)) = (inner, other.ends.first()) else {
            let settles = Settles {
                place: self.input.place.clone(),
                how: format!(
                    "Write both threaded ends of the {}: `{} G1 F F`.",
                    one.name, one.kind
                ),
            };
            let missing = Missing {
                why: format!("only one of the {} is written", one.name)
                    .as_str()
                    .into(),
                settles,
            };
            let waits = self
                .subject
                .waits(Stage::Fit, "thread", "Threaded ends", &missing);
            return Err(Box::new(waits));
        };
        let pair = match (a.1, b.1) {
            (Sex::Male, Sex::Female) => Pair {
                male: a.0,
                female: b.0,
                boss: other,
            },
            (Sex::Female, Sex::Male) => Pair {
                male: b.0,
                female: a.0,
                boss: one,
            },
            (Sex::Male, Sex::Male) => {
                let because = format!(
                    "{} of the {} and {} of the {} are both male: nothing holds them together.",
                    thread_text(&a.0),
                    one.name,
                    thread_text(&b.0),
                    other.name
                );
                return Err(self.unsound(
                    because,
                    "Put a part with two female ends between them, or take one that is female there.",
                ));
            }
            (Sex::Female, Sex::Female) => {
                let because = format!(
                    "{} of the {} and {} of the {} are both female: nothing joins them.",
                    thread_text(&a.0),
                    one.name,
                    thread_text(&b.0),
                    other.name
                );
                return Err(self.unsound(
                    because,
                    "Put a nipple between them, or take a part that is male there.",
                ));
            }
        };
        Ok(pair)
    }

    /// Whether the two mate, and on what they seal.
    fn mates(&self, pair: &Pair) -> Verdict {
        let (male, female) = (thread_text(&pair.male), thread_text(&pair.female));
        let families = (family(pair.male.standard), family(pair.female.standard));
        let mating = match mates(families.0, families.1) {
            Ok(mating) => mating,
            Err(unknown) => {
                let missing = Missing {
                    why: unknown.why.as_str().into(),
                    settles: Settles {
                        place: self.input.place.clone(),
                        how: "Look once more which thread it is: pitch, and two diameters 8 mm apart for the taper.".into(),
                    },
                };
                return self.subject.waits(Stage::Fit, "thread", "Thread", &missing);
            }
        };
        let mut verdict = if mating.seal == SealsOn::Never {
            let because = format!("{male} into {female}: {}.", mating.says);
            *self.unsound(because, "Take a part with the thread of the other, or an adaptor made with one thread of each.")
        } else if pair.male.size != pair.female.size {
            self.wrong_size(pair)
        } else if families.0 == Family::Metric
            && pair.male.pitch_micrometres != pair.female.pitch_micrometres
        {
            self.wrong_pitch(pair)
        } else {
            self.sealed(pair, mating)
        };
        if verdict.working.limit.metric.is_empty() {
            verdict.working.limit = mating.says.as_str().into();
        }
        verdict.source(mating.source.cite());
        verdict
    }

    fn wrong_size(&self, pair: &Pair) -> Verdict {
        let (male, female) = (thread_text(&pair.male), thread_text(&pair.female));
        let across = |thread: Thread, system: System| match thread_size(thread) {
            Some(size) => format!(", {}", say::mm(size.major.si(), system)),
            None => String::new(),
        };
        let because = Words::of(|system| {
            format!(
                "{male} of the male{} does not screw into {female} of the female{}.",
                across(pair.male, system),
                across(pair.female, system)
            )
        });
        let mut verdict = *self.unsound(
            String::new(),
            "Put a bush between them, or take a part of the same size.",
        );
        verdict.because = because;
        verdict
    }

    fn wrong_pitch(&self, pair: &Pair) -> Verdict {
        let named = |thread: &Thread| thread.pitch_micrometres.is_some();
        if named(&pair.male) && named(&pair.female) {
            let because = format!(
                "{} and {} are of one diameter and two pitches: it jams after a turn or two.",
                thread_text(&pair.male),
                thread_text(&pair.female)
            );
            return *self.unsound(because, "Take a part with the pitch of the other.");
        }
        let missing = Missing {
            why: format!(
                "not written for {} in {}",
                thread_text(&pair.male),
                thread_text(&pair.female)
            )
            .as_str()
            .into(),
            settles: Settles {
                place: self.input.place.clone(),
                how: "Measure the length over ten pitches with a caliper and write the pitch: M22x1.5.".into(),
            },
        };
        self.subject.waits(Stage::Fit, "thread", "Pitch", &missing)
    }

    /// Whether the female is cut in a casting that a taper male would burst.
    fn cast(&self, pair: &Pair) -> bool {
        matches!(pair.boss.metal, Some(Metal::CastIron | Metal::Aluminium))
    }

    /// A male in a female of its size.
    fn sealed(&self, pair: &Pair, mating: &Mating) -> Verdict {
        let (male, female) = (thread_text(&pair.male), thread_text(&pair.female));
        let size = thread_size(pair.male);
        let plain = |grade, because: String| self.verdict("thread", grade, because.as_str().into());
        match mating.seal {
            SealsOn::Face | SealsOn::Thread => {
                let mut verdict = plain(Grade::Sound, String::new());
                let first = Words::from(format!("{male} in {female} mates.").as_str());
                verdict.because = match (size, mating.seal) {
                    (Some(size), SealsOn::Face) => {
                        let how = on_faces(&mut verdict, size);
                        joined(&first, &how)
                    }
                    (Some(size), _) => {
                        let how = in_thread(&mut verdict, size);
                        joined(&first, &how)
                    }
                    (None, _) => format!("{male} in {female} mates: {}.", mating.says)
                        .as_str()
                        .into(),
                };
                verdict
            }
            SealsOn::ThreadInDoubt => {
                let cast = self.cast(pair);
                let grade = if self.input.at_hull || cast {
                    Grade::Unsound
                } else {
                    Grade::Marginal
                };
                let where_ = match (self.input.at_hull, cast) {
                    (true, _) => "; this one holds the sea out",
                    (false, true) => "; forced, it bursts the casting",
                    (false, false) => "",
                };
                let because = format!(
                    "{male} is a taper male in a parallel {female}, 1 in 16 against none: it bears on two or three turns only{where_}."
                );
                let mut verdict = plain(grade, because);
                verdict.remedy = if self.input.at_hull {
                    "Have it made up ashore with a G male on a washer, or with an Rp female for this male.".into()
                } else {
                    "Take a G male on a washer, or a part with an Rp thread for this male.".into()
                };
                if let Some(size) = size {
                    let _ = in_thread(&mut verdict, size);
                }
                verdict
            }
            SealsOn::Nothing => {
                let because = format!("{male} in {female}: {}.", mating.says);
                let mut verdict = plain(Grade::Unsound, because);
                verdict.remedy = "Take an R male for this female, with tape or paste; or a G female with flat faces for this male.".into();
                verdict
            }
            SealsOn::Seat => {
                let missing = Missing {
                    why: format!("not known for {male} in {female}, which {}", mating.says)
                        .as_str()
                        .into(),
                    settles: Settles {
                        place: self.input.place.clone(),
                        how: "Look whether both parts have the cone of 30° that seals, clean and undented.".into(),
                    },
                };
                self.subject.waits(Stage::Fit, "thread", "Seat", &missing)
            }
            // Refused before.
            SealsOn::Never => *self.unsound(
                format!("{male} into {female}: {}.", mating.says),
                "Take a part with the thread of the other.",
            ),
        }
    }

    /// Whether enough of the thread is screwed in, where that was measured.
    fn engaged(&self, pair: &Pair) -> Option<Verdict> {
        let engaged = self.other.engaged?;
        let size = thread_size(pair.male)?;
        let taper = family(pair.male.standard).taper().si() > 0.0;
        // Practice names three metals; whatever else it may be lies between the best and the worst of them.
        let bounds = |alloy| least_engagement(alloy, size.major).ok();
        let (least, enough, source, of) = if taper {
            let wanted = taper_engagement(size).ok()?;
            let of = "the hand-tight length and 2 to 3 turns".to_owned();
            (wanted.value.low, wanted.value.low, wanted.source, of)
        } else if let Some((alloy, name)) = pair.boss.metal.and_then(alloy)
            && let Some(wanted) = bounds(alloy)
        {
            let share = wanted.value / size.major;
            let of = format!("{share:.1} of the diameter in {name}");
            (wanted.value, wanted.value, wanted.source, of)
        } else {
            let (best, worst) = (bounds(Alloy::Steel)?, bounds(Alloy::Aluminium)?);
            let of = "0.6 of the diameter in steel, 1.0 in aluminium; for this metal practice has no figure".to_owned();
            (best.value, worst.value, worst.source, of)
        };
        // Sound is what surely engages enough, by the reading's own width.
        let grade = if engaged.low >= enough {
            Grade::Sound
        } else if least == enough && engaged.high >= enough {
            Grade::Marginal
        } else if engaged.high >= least {
            Grade::Unmeasured
        } else if self.input.at_hull {
            Grade::Unsound
        } else {
            Grade::Marginal
        };
        let turns = engaged.value / size.pitch;
        let because = Words::of(|system| {
            let wanted = if least == enough {
                say::mm(enough.si(), system)
            } else {
                say::mm_range(least.si(), enough.si(), system)
            };
            format!(
                "{} of thread engage, {turns:.1} turns; {wanted} are wanted: {of}.",
                say::mm(engaged.value.si(), system)
            )
        });
        let mut verdict = self.verdict("engaged", grade, because);
        let settles = Settles {
            place: self.input.place.clone(),
            how: "Ask the fitting's maker how much thread is to engage in that metal, and screw it in so far.".into(),
        };
        let value = Value {
            measured: engaged,
            from: "caliper".into(),
            place: Some(self.subject.place.clone()),
            settles: settles.clone(),
        };
        verdict.input("e", "thread engaged", &value);
        verdict.margin = Some(Margin {
            value: engaged.value.si(),
            deviation: Some(engaged.half_width().si()),
            low: Some(enough.si()),
            high: None,
            kind: Kind::Length,
        });
        verdict.working.limit = of.as_str().into();
        verdict.source(source.cite());
        match grade {
            Grade::Unmeasured => verdict.settle_by(&settles),
            Grade::Unsound | Grade::Marginal => {
                verdict.remedy = "Take a part with a longer thread: a fitting that was shortened holds by too few turns.".into();
            }
            Grade::Sound => {}
        }
        if taper && let Some(fact) = thread_fact("cast-aluminium") {
            verdict.source(fact.source.cite());
        }
        Some(verdict)
    }
}

/// The metals for which practice gives an engagement.
fn alloy(metal: Metal) -> Option<(Alloy, &'static str)> {
    match metal {
        Metal::Aluminium => Some((Alloy::Aluminium, "aluminium")),
        Metal::Brass | Metal::Dzr => Some((Alloy::Brass, "brass")),
        Metal::Steel
        | Metal::GalvanisedSteel
        | Metal::Stainless
        | Metal::Stainless304
        | Metal::Stainless316 => Some((Alloy::Steel, "steel")),
        _ => None,
    }
}
