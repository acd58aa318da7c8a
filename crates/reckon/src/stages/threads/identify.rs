//! Names a thread by what was read of it, and says which further look would settle it.

use quantity::{Length, Quantity, Ratio, Reading, System, show};
use reference::thread::{ThreadSex, ThreadSize};

use super::further::{Tells, settling};
use super::rank::{ByName, Candidate, Ranking, ThreadLooks, by_name, rank};
use crate::say;
use crate::solve::thread::{FITS_WITHIN, STANDS_WITHIN, WEAR};
use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Number, Settles, Stage, Verdict, Words};

/// Where each further look would be written, and how it is asked for.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Asked {
    /// The diameter.
    pub diameter: Settles,
    /// The length over ten pitches.
    pub pitch: Settles,
    /// Where a taper is written.
    pub taper: String,
    /// Where the thread is written by name.
    pub name: String,
}

/// What the owner wrote the thread to be.
#[derive(Clone, Debug, PartialEq)]
pub struct Stated {
    /// As written: `1/4 NPT`.
    pub name: String,
    /// Its published sizes, where a table has it.
    pub size: Option<&'static ThreadSize>,
}

/// All that is read to name one thread.
#[derive(Clone, Debug, PartialEq)]
pub struct IdentifyInput {
    /// Who is judged.
    pub subject: Subject,
    /// What was read.
    pub looks: ThreadLooks,
    /// The diameter as it was typed.
    pub typed: Reading<Length>,
    /// What it was written to be, where it was.
    pub stated: Option<Stated>,
    /// Where further looks go.
    pub asked: Asked,
}

/// One thread that still stands, as a row of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct ThreadRow {
    /// Its name: `G 1/2`.
    pub thread: String,
    /// Its chance, each thread of the tables being as likely beforehand.
    pub chance: f64,
    /// Smallest diameter that a sound one may show.
    pub low: Number,
    /// Largest diameter that a sound one may show.
    pub high: Number,
    /// Length over ten pitches.
    pub ten_pitches: Number,
    /// Turns to the inch, where its standard gives them.
    pub per_inch: Option<f64>,
    /// Angle between the flanks [°].
    pub flanks: f64,
    /// Whether it tapers, 1 in 16.
    pub tapers: bool,
    /// Its squared misfit: 0 where the readings are all it should show.
    pub misfit: f64,
}

/// Finer than any pitch of the tables [m].
const FINEST_PITCH: f64 = 0.000_5;

/// A length over pitches, to a hundredth of a millimetre where the reading bears it.
fn fine(length: Length, system: System) -> String {
    show(length, Some(Length::mm(0.02)), system)
}

impl ThreadRow {
    fn of(candidate: &Candidate) -> Option<Self> {
        let size = candidate.size;
        Some(Self {
            thread: size.designation(),
            chance: candidate.chance,
            low: say::diameter(candidate.zone.low.si())?,
            high: say::diameter(candidate.zone.high.si())?,
            ten_pitches: say::number(size.ten_pitches(), Some(Length::mm(0.2))),
            per_inch: size.per_inch,
            flanks: size.family.flank_angle().to_degrees(),
            tapers: size.family.taper() > Ratio::of(0.0),
            misfit: candidate.misfit.total(),
        })
    }
}

/// What came of naming a thread.
#[derive(Clone, Debug, PartialEq)]
pub struct Identified {
    /// The threads that stand, the likeliest first.
    pub rows: Vec<ThreadRow>,
    /// The chance left for all others.
    pub others: f64,
    /// The looks that would part those that stand.
    pub tells: Vec<Tells>,
    /// The one that it is, where only one stands.
    pub only: Option<&'static ThreadSize>,
    /// The verdict about it.
    pub verdict: Verdict,
}

/// Names a thread, or says what would.
pub fn identify(input: &IdentifyInput) -> Identified {
    let looks = &input.looks;
    let ranking = rank(looks);
    let named = by_name(&input.typed, looks, &ranking);
    let open = named.is_none() && input.stated.is_none() && ranking.fits;
    let tells = if open {
        settling(&ranking.stands, looks)
    } else {
        Vec::new()
    };
    let mut verdict = if let Some(named) = &named {
        typed_by_name(input, named)
    } else if let Some(stated) = &input.stated {
        as_stated(input, stated, &ranking)
    } else if !ranking.fits {
        nothing_fits(input, &ranking)
    } else {
        what_stands(input, &ranking, &tells)
    };
    verdict.basis = Basis::Physics;
    if named.is_none() {
        work_out(&mut verdict, input, &ranking);
    }
    Identified {
        // What was typed is no reading, or fits nothing, so that nothing can be ranked by it.
        rows: if named.is_some() || !ranking.fits {
            Vec::new()
        } else {
            ranking.stands.iter().filter_map(ThreadRow::of).collect()
        },
        others: ranking.others,
        only: match (&named, &input.stated) {
            (None, None) => ranking.only().map(|one| one.size),
            _ => None,
        },
        tells,
        verdict,
    }
}

/// `20.8 ± 0.1 mm over the crests`.
fn diameter(looks: &ThreadLooks, system: System) -> String {
    let where_ = match looks.sex {
        ThreadSex::Male => "over its crests",
        ThreadSex::Female => "between its crests",
    };
    let read = quantity::show_measured(&looks.diameter.measured, system);
    format!("{read} {where_}")
}

/// All that was read, as one says it.
fn read(looks: &ThreadLooks, system: System) -> String {
    let mut parts = vec![diameter(looks, system)];
    if let Some(pitch) = &looks.pitch
        && let Some(value) = Length::from_si(pitch.look().value)
    {
        parts.push(format!("{} of pitch", fine(value, system)));
    }
    if let Some(taper) = &looks.taper {
        parts.push(format!(
            "a taper of {} over {}",
            show(taper.change.measured.value, Some(Length::mm(0.2)), system),
            show(taper.over.measured.value, Some(Length::mm(2.0)), system)
        ));
    }
    say::list(&parts, "and")
}

fn typed_by_name(input: &IdentifyInput, named: &ByName) -> Verdict {
    let looks = &input.looks;
    let real = |system| {
        let real = match looks.sex {
            ThreadSex::Male => named.thread.major,
            ThreadSex::Female => named.thread.minor,
        };
        let typed = named.size.as_length();
        format!(
            "{} is a size by name: a {} measures {} there, not {}.",
            named.size,
            named.thread.designation(),
            fine(real, system),
            fine(typed, system)
        )
    };
    let mut verdict =
        input
            .subject
            .verdict(Stage::Fit, "thread", Grade::Unmeasured, Words::of(real));
    verdict.settle_by(&input.asked.diameter);
    verdict.source(named.thread.source.cite());
    verdict
}

fn nothing_fits(input: &IdentifyInput, ranking: &Ranking) -> Verdict {
    let looks = &input.looks;
    let because = Words::of(|system| {
        let nearest = ranking.stands.first().map_or_else(String::new, |one| {
            let (low, high) = (one.zone.low, one.zone.high);
            format!(
                "; the nearest, {}, has {} and {} of pitch",
                one.size.designation(),
                say::mm_range(low.si(), high.si(), system),
                fine(one.size.pitch, system)
            )
        });
        format!(
            "No thread of the tables has {}{nearest}.",
            read(looks, system)
        )
    });
    let mut verdict = input
        .subject
        .verdict(Stage::Fit, "thread", Grade::Unmeasured, because);
    // Of the nearest thread the reading that lies farthest off is the one to doubt.
    let pitch = looks.pitch.as_ref().map(super::rank::PitchLook::look);
    let misfit = ranking.stands.first().map(|one| one.misfit);
    let (settles, again) = match misfit {
        _ if pitch.is_some_and(|pitch| pitch.value < FINEST_PITCH) => (
            &input.asked.pitch,
            "Measure over ten pitches: this is as little as one of them.",
        ),
        Some(off) if off.pitch > off.diameter.max(off.taper) => {
            (&input.asked.pitch, "Measure the pitch again.")
        }
        Some(off) if off.taper > off.diameter => (
            &input.asked.diameter,
            "Read both diameters of the taper again.",
        ),
        _ if pitch.is_none() => (&input.asked.pitch, "Read its pitch as well."),
        _ => (&input.asked.diameter, "Measure the diameter again."),
    };
    verdict.settle_by(settles);
    verdict.remedy = format!("{again} Or the thread is of a kind that the tables don't have.")
        .as_str()
        .into();
    verdict
}

fn as_stated(input: &IdentifyInput, stated: &Stated, ranking: &Ranking) -> Verdict {
    let looks = &input.looks;
    let verdict = |grade, because| input.subject.verdict(Stage::Fit, "thread", grade, because);
    let Some(size) = stated.size else {
        let because = Words::of(|system| {
            let likely = ranking.best().map_or_else(
                || "nothing in them fits".to_owned(),
                |best| format!("of those that they have {} fits", best.size.designation()),
            );
            format!(
                "{} is written, which the tables don't have; {}: {likely}.",
                stated.name,
                read(looks, system)
            )
        });
        let mut verdict = verdict(Grade::Unmeasured, because);
        verdict.settle_by(&Settles {
            place: input.asked.name.clone(),
            how: "Look once more which thread it is, and write it with its pitch.".into(),
        });
        return verdict;
    };
    let best = ranking
        .stands
        .iter()
        .map(|one| one.misfit.total())
        .fold(f64::MAX, f64::min);
    let own = looks.misfit(size).map(|misfit| misfit.total());
    let holds = own.is_some_and(|own| own <= FITS_WITHIN && own <= best + STANDS_WITHIN);
    if holds {
        let because = Words::of(|system| {
            format!(
                "{} is written, and {} bear it out.",
                stated.name,
                read(looks, system)
            )
        });
        return verdict(Grade::Sound, because);
    }
    let sex = match looks.sex {
        ThreadSex::Male => "male",
        ThreadSex::Female => "female",
    };
    let because = Words::of(|system| {
        let off = match own {
            Some(own) => {
                let deviations = own.sqrt();
                let far = if deviations < 99.5 {
                    format!("{deviations:.0}")
                } else {
                    "over 99".to_owned()
                };
                format!("lies {far} standard uncertainties off it")
            }
            None => format!("is of a {sex} thread, and {} has none", size.family.name()),
        };
        let likely = ranking.best().map_or_else(
            || "nothing of the tables fits".to_owned(),
            |best| format!("{} would fit", best.size.designation()),
        );
        format!(
            "{} is written, but {} {off}; {likely}.",
            stated.name,
            read(looks, system)
        )
    });
    let mut verdict = verdict(Grade::Unsound, because);
    verdict.remedy = "Measure once more, and write the thread that it is: a wrong plug starts, then leaks or cracks the boss.".into();
    verdict
}

fn what_stands(input: &IdentifyInput, ranking: &Ranking, tells: &[Tells]) -> Verdict {
    let looks = &input.looks;
    let names: Vec<String> = ranking
        .stands
        .iter()
        .map(|one| format!("{} ({})", one.size.designation(), say::chance(one.chance)))
        .collect();
    let worn = |system| {
        let best = ranking.best()?;
        let read = looks.diameter.measured.value;
        let (off, how) = match looks.sex {
            ThreadSex::Male => (best.zone.low - read, "under"),
            ThreadSex::Female => (read - best.zone.high, "over"),
        };
        (off > Length::mm(0.05)).then(|| {
            format!(
                "; it reads {} {how} its limits, as a worn or cut-down crest does",
                fine(off, system)
            )
        })
    };
    let alone = ranking.only().is_some();
    let because = Words::of(|system| {
        let worn = worn(system).unwrap_or_default();
        let read = read(looks, system);
        let bare = looks.pitch.is_none() && looks.taper.is_none();
        let suit = if bare { "suits" } else { "suit" };
        if alone {
            format!("{read} {suit} {} and no other{worn}.", names[0])
        } else {
            format!(
                "{read} {suit} {}, not told apart yet{worn}.",
                say::list(&names, "and")
            )
        }
    });
    let grade = if alone && looks.pitch.is_some() {
        Grade::Sound
    } else {
        Grade::Unmeasured
    };
    let mut verdict = input.subject.verdict(Stage::Fit, "thread", grade, because);
    if grade == Grade::Sound {
        return verdict;
    }
    if looks.pitch.is_none() {
        verdict.settle_by(&input.asked.pitch);
        return verdict;
    }
    let only_taper = matches!(
        tells,
        [Tells {
            look: super::Further::Taper { .. },
            ..
        }]
    );
    let only_pitch = matches!(
        tells,
        [Tells {
            look: super::Further::Pitch { .. },
            ..
        }]
    );
    let acts: Vec<String> = tells
        .iter()
        .map(|tells| format!("{}: it parts {}.", tells.look.act(), tells.parts()))
        .collect();
    let place = if only_taper {
        &input.asked.taper
    } else if only_pitch {
        &input.asked.pitch.place
    } else {
        &input.asked.name
    };
    verdict.settle_by(&Settles {
        place: place.clone(),
        how: acts.join(" "),
    });
    verdict
}

/// The whole working: what went in, and how each that stands came out.
fn work_out(verdict: &mut Verdict, input: &IdentifyInput, ranking: &Ranking) {
    let looks = &input.looks;
    verdict.input("d", "diameter over the crests", &looks.diameter);
    if let Some(pitch) = &looks.pitch {
        let name = format!("length over {} pitches", number(pitch.count));
        verdict.input("L", &name, &pitch.over);
    }
    if let Some(taper) = &looks.taper {
        verdict.input("c", "change of diameter", &taper.change);
        verdict.input("l", "over what length", &taper.over);
    }
    verdict.step(
        "χ² = (d outside its limits / u_d)² + ((L / k − P) / (u_L / k))² + ((c / l − t) / u_t)²",
        "u = half the width of a reading / √3".into(),
        format!(
            "toward the side of wear u_d is widened by {WEAR} of the pitch (common practice, no source)"
        )
        .as_str()
        .into(),
    );
    let mut shown: Vec<&Candidate> = ranking.stands.iter().take(SHOWN).collect();
    let stated = input.stated.as_ref().and_then(|stated| stated.size);
    shown.retain(|one| stated.is_none_or(|size| size == one.size) || ranking.stands.len() < SHOWN);
    for one in shown {
        let size = one.size;
        let filled = Words::of(|system| {
            let taper = if size.family.taper() > Ratio::of(0.0) {
                "taper 1 in 16"
            } else {
                "no taper"
            };
            format!(
                "{}, pitch {}, {taper}, flanks {:.0}°",
                say::mm_range(one.zone.low.si(), one.zone.high.si(), system),
                show(size.pitch, Some(Length::mm(0.002)), system),
                size.family.flank_angle().to_degrees()
            )
        });
        let result = format!(
            "χ² {:.1} + {:.1} + {:.1}; {}",
            one.misfit.diameter,
            one.misfit.pitch,
            one.misfit.taper,
            say::chance(one.chance)
        );
        verdict.step(&size.designation(), filled, result.as_str().into());
        verdict.source(size.source.cite());
        if let Some(lengths) = size.taper_lengths {
            verdict.source(lengths.source.cite());
        }
    }
    verdict.working.limit = format!(
        "those within χ² {STANDS_WITHIN} of the best stand; over {FITS_WITHIN} nothing fits. Beforehand each thread of the tables is held equally likely, and anywhere within its limits"
    )
    .as_str()
    .into();
}

/// So many threads a working shows.
const SHOWN: usize = 8;

fn number(count: f64) -> String {
    format!("{}", (count * 100.0).round() / 100.0)
}
