//! Whether a length can be, beside what was measured at the same place and what stood there before.

use boat::{Arranged, Boat, Key, KeyPath, Spigot, Told};
use quantity::{Length, Quantity, Reading, System, show};

use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Settles, Stage, Verdict, Words};

/// How many times one of two diameters of a place is the other before it is asked about. A spigot's diameters lie
/// within a tenth of one another. Common practice, no source.
const TIMES: f64 = 5.0;
/// The same for a length along a spigot beside its diameter: a stub of pipe is longer than it is wide. Common practice,
/// no source.
const TIMES_ALONG: f64 = 10.0;

/// A length of a place, and what it is.
struct Measure {
    place: KeyPath,
    says: &'static str,
    metres: f64,
    /// Across and not along.
    across: bool,
}

/// What was measured at one spigot.
struct At {
    subject: Subject,
    measures: Vec<Measure>,
}

/// What makes a length odd.
enum Odd<'a> {
    /// It lies under that one and is no smaller.
    NotUnder(&'a Measure),
    /// One of the two is so many times the other.
    Times(&'a Measure),
}

fn found(
    place: KeyPath,
    told: &Told<Reading<Length>>,
    says: &'static str,
    across: bool,
) -> Option<Measure> {
    let metres = told.given()?.value.si();
    (metres > 0.0).then_some(Measure {
        place,
        says,
        metres,
        across,
    })
}

fn at(key: Key, title: String, place: KeyPath, spigot: &Spigot) -> At {
    let one = |name: &str, told, says, across| found(format!("{place}.{name}"), told, says, across);
    let mut measures: Vec<Measure> = [
        one("od", &spigot.od, "its outside", true),
        one("bead", &spigot.bead, "its bead", true),
        one(
            "behind_bead",
            &spigot.behind_bead,
            "the straight behind its bead",
            false,
        ),
        one(
            "bead_width",
            &spigot.bead_width,
            "the width of its bead",
            false,
        ),
    ]
    .into_iter()
    .flatten()
    .collect();
    if let Some(hidden) = &spigot.hidden {
        let over = found(
            format!("{place}.hidden.over_hose"),
            &hidden.over_hose,
            "the hose over it",
            true,
        );
        let free = found(
            format!("{place}.hidden.free_hose"),
            &hidden.free_hose,
            "the same hose where it is free",
            true,
        );
        measures.extend(over.into_iter().chain(free));
    }
    At {
        subject: Subject { key, title, place },
        measures,
    }
}

/// Every spigot of an arrangement with what was measured of it: on things, and on bought pieces.
fn all(arranged: &Arranged) -> Vec<At> {
    let boat = &arranged.boat;
    let on_things = boat.things.iter().flat_map(|thing| {
        let base = arranged.thing_place(&thing.key);
        thing.spigots.iter().map(move |spigot| {
            at(
                format!("{}.{}", thing.key, spigot.name),
                format!("spigot {} of {}", spigot.name, thing.key),
                format!("{base}.spigots.{}", boat::key_text(&spigot.name)),
                spigot,
            )
        })
    });
    let on_pieces = boat.joints.iter().map(|note| {
        at(
            note.joint.clone(),
            format!("spigot at {}", note.joint),
            boat::joint_path(&note.joint),
            &note.spigot,
        )
    });
    on_things.chain(on_pieces).collect()
}

impl At {
    /// What makes one of its lengths odd.
    fn odd(&self, own: &Measure) -> Option<Odd<'_>> {
        let others = || {
            self.measures
                .iter()
                .filter(|other| other.place != own.place)
        };
        let covered = own.place.ends_with(".od");
        let over = others().find(|other| {
            covered && other.place.ends_with(".over_hose") && own.metres >= other.metres
        });
        if let Some(over) = over {
            return Some(Odd::NotUnder(over));
        }
        // Along a spigot only too long is odd: a bead is a few millimetres wide.
        let far = others().find(|other| {
            let times = own.metres.max(other.metres) / own.metres.min(other.metres);
            match (own.across, other.across) {
                (true, true) => times > TIMES,
                (false, true) => own.metres / other.metres > TIMES_ALONG,
                (true, false) => other.metres / own.metres > TIMES_ALONG,
                (false, false) => false,
            }
        });
        far.map(Odd::Times)
    }
}

/// A length as it was read, with the digits that it needs.
fn told(metres: f64, system: System) -> String {
    Length::from_si(metres).map_or_else(|| "–".into(), |length| show(length, None, system))
}

/// How many times, to two figures at most.
fn times(ratio: f64) -> String {
    if ratio < 9.5 {
        format!("{ratio:.1}")
    } else {
        format!("{ratio:.0}")
    }
}

/// `1420 mm is 29 times what the hose over it measured (49.4 mm)`.
fn beside(own: f64, other: f64, says: &str, system: System) -> String {
    let (own_text, other_text) = (told(own, system), told(other, system));
    if own >= other {
        format!(
            "{own_text} is {} times what {says} measured ({other_text})",
            times(own / other)
        )
    } else {
        format!(
            "{own_text} is far under what {says} measured ({other_text}, {} times that)",
            times(other / own)
        )
    }
}

impl Odd<'_> {
    fn says(&self, own: f64, system: System) -> String {
        match self {
            Self::NotUnder(over) if own / over.metres < TIMES => format!(
                "{} is not under {}, which measured {}",
                told(own, system),
                over.says,
                told(over.metres, system)
            ),
            Self::NotUnder(other) | Self::Times(other) => {
                beside(own, other.metres, other.says, system)
            }
        }
    }
}

/// Why the length at a place can hardly be, beside what else was measured there; one of two spigots alike is found by
/// the place where both are typed.
pub fn odd(boat: &Boat, place: &str) -> Option<Words> {
    let steps = boat.arrangements.iter().map(|step| Some(step.key.as_str()));
    let arranged = [None].into_iter().chain(steps);
    arranged
        .filter_map(|name| boat.arranged(name))
        .find_map(|arranged| {
            all(&arranged).iter().find_map(|at| {
                let own = at.measures.iter().find(|own| is_typed_at(own, place))?;
                let odd = at.odd(own)?;
                Some(Words::of(|system| odd.says(own.metres, system)))
            })
        })
}

/// Whether a measure is typed at a place; two spigots alike are typed as `both`.
fn is_typed_at(own: &Measure, place: &str) -> bool {
    let both = |name: &str| {
        own.place
            .replace(&format!(".spigots.{name}."), ".spigots.both.")
    };
    own.place == place || both("a") == place || both("b") == place
}

/// Why a length can hardly take the place of another, by how many times that it is.
pub fn replaces(new: Length, old: Length) -> Option<Words> {
    let (new, old) = (new.si().abs(), old.si().abs());
    let far = new > 0.0 && old > 0.0 && new.max(old) / new.min(old) > TIMES;
    far.then(|| {
        Words::of(|system| {
            let (new_text, old_text) = (told(new, system), told(old, system));
            if new >= old {
                format!(
                    "{new_text} is {} times what stands there now ({old_text})",
                    times(new / old)
                )
            } else {
                format!(
                    "{new_text} is far under what stands there now ({old_text}, {} times that)",
                    times(old / new)
                )
            }
        })
    })
}

/// A verdict on every spigot of which two sizes can't both be right.
pub(crate) fn judge(arranged: &Arranged) -> Vec<Verdict> {
    let verdicts = all(arranged).into_iter().filter_map(|at| {
        let (own, odd) = at
            .measures
            .iter()
            .find_map(|own| Some((own, at.odd(own)?)))?;
        let because = Words::of(|system| format!("{}.", odd.says(own.metres, system)));
        let grade = match odd {
            Odd::NotUnder(_) => Grade::Unsound,
            Odd::Times(_) => Grade::Unmeasured,
        };
        let mut verdict = at.subject.verdict(Stage::Survey, "beside", grade, because);
        let how = format!(
            "Measure {} once more, with a caliper: one of the two is misread or mistyped.",
            own.says
        );
        verdict.place.clone_from(&own.place);
        verdict.settle_by(&Settles {
            place: own.place.clone(),
            how,
        });
        if let Odd::NotUnder(_) = odd {
            verdict.basis = Basis::Physics;
            verdict.working.limit = "what lies under a hose is smaller than the hose over it".into();
        } else {
            verdict.working.limit = Words::of(|_| {
                format!(
                    "one diameter of a spigot at most {TIMES:.0} times another, a length along it at most {TIMES_ALONG:.0} times"
                )
            });
            verdict.source("common practice, no source");
        }
        Some(verdict.spoken())
    });
    verdicts.collect()
}
