//! What was found: whether a hose is kept or renewed and why, clips that a magnet draws, valves that
//! are not worked, and what nobody saw.

use boat::{Decided, Found, Key, KeyPath, Magnet};
use reference::hose::{hose_fact, hose_lives};

use crate::say;
use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Settles, Stage, Step, Verdict};

/// All that is read to judge what was found.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ConditionInput {
    /// The runs as found, in the order of the file.
    pub runs: Vec<RunFound>,
    /// Clips that a magnet was held to.
    pub clips: Vec<ClipFound>,
    /// Hull valves.
    pub valves: Vec<ValveFound>,
    /// What was not seen: subject, its place, and why.
    pub not_seen: Vec<(Key, KeyPath, String)>,
    /// The year in which the job is done.
    pub year: Option<u32>,
}

/// What was found of a run.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct RunFound {
    /// Which run.
    pub run: Key,
    /// Where it stands in the file.
    pub place: KeyPath,
    /// States, each with the joint or run at which it was found.
    pub found: Vec<(Found, Key)>,
    /// The year that is printed on it, and where that was read from.
    pub made: Option<(u32, KeyPath)>,
    /// What the owner has decided.
    pub decided: Option<Decided>,
}

/// A clip to which a magnet was held.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ClipFound {
    /// Which joint.
    pub joint: Key,
    /// Where that is written.
    pub place: KeyPath,
    /// What the magnet drew.
    pub magnet: Magnet,
    /// Whether raw water runs there, or the sea stands behind it.
    pub salt: bool,
}

/// A hull valve as found.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ValveFound {
    /// Which hull fitting.
    pub thing: Key,
    /// Where its valve stands in the file.
    pub place: KeyPath,
    /// When it was last worked; `None` where that is not known.
    pub worked: Option<String>,
    /// How it feels, as typed.
    pub feels: Option<String>,
}

/// What is judged of the parts as found.
pub fn judge(input: &ConditionInput) -> Vec<Verdict> {
    let mut verdicts: Vec<Verdict> = Vec::new();
    verdicts.extend(input.runs.iter().map(|run| hose(run, input.year)));
    verdicts.extend(input.clips.iter().filter_map(clip));
    verdicts.extend(input.valves.iter().map(|found| valve(found, input.year)));
    verdicts.extend(input.not_seen.iter().map(not_seen));
    verdicts.into_iter().map(Verdict::spoken).collect()
}

/// The word for a reader, and whether hose in that state has to go.
fn state(found: Found) -> (&'static str, bool) {
    match found {
        Found::Good => ("good", false),
        Found::SoftEnds => ("soft at its end", true),
        Found::Cracked => ("cracked", true),
        Found::Hard => ("hard", true),
        Found::Bulged => ("bulged", true),
        Found::Oval => ("oval", true),
        Found::Kinked => ("kinked", true),
        Found::Chafed => ("chafed", true),
        Found::Oily => ("oily", true),
        // Crust tells of a weep, which may be the clip's.
        Found::Crusted => ("crusted", false),
    }
}

/// States that let go without further warning. Common practice, no source.
fn lets_go(found: Found) -> bool {
    matches!(
        found,
        Found::SoftEnds | Found::Cracked | Found::Bulged | Found::Chafed
    )
}

fn hose(run: &RunFound, year: Option<u32>) -> Verdict {
    let (life, others) = (&hose_lives()[0], &hose_lives()[1..]);
    let limit = life.years.1;
    let age = run
        .made
        .as_ref()
        .zip(year)
        .map(|((made, _), year)| year.saturating_sub(*made));
    let mut reasons: Vec<String> = run
        .found
        .iter()
        .filter(|(found, _)| state(*found).1)
        .map(|(found, at)| format!("{} ({at})", state(*found).0))
        .collect();
    let old = age.filter(|age| *age >= limit);
    if let Some(age) = old {
        reasons.push(format!("{} old", years(age)));
    }
    let good = run.found.iter().any(|(found, _)| *found == Found::Good);
    let crusted = run.found.iter().find(|(found, _)| *found == Found::Crusted);
    let subject = Subject {
        key: run.run.clone(),
        title: format!("hose of {}", run.run),
        place: run.place.clone(),
    };
    let of = |grade: Grade, because: String, remedy: &str| {
        let mut verdict =
            subject.verdict(Stage::Survey, "condition", grade, because.as_str().into());
        verdict.remedy = remedy.into();
        verdict.basis = Basis::Practice;
        verdict
    };
    let list = say::list(&reasons, "and");
    let mut verdict = match (run.decided, reasons.is_empty()) {
        (Some(Decided::Renew), true) => of(Grade::Sound, "Renewed, as you decided.".into(), ""),
        (Some(Decided::Renew), false) => of(
            Grade::Sound,
            format!("Renewed, as you decided: {list}."),
            "",
        ),
        (Some(Decided::Keep), true) if good || age.is_some() => of(
            Grade::Sound,
            format!("Kept, as you decided{}.", aged(age)),
            "",
        ),
        (None, true) if good && age.is_some() => {
            of(Grade::Sound, format!("Keep: found good{}.", aged(age)), "")
        }
        (decided, false) => {
            let bad = run.found.iter().any(|(found, _)| lets_go(*found));
            let grade = if bad { Grade::Unsound } else { Grade::Marginal };
            let lead = match decided {
                Some(_) => "You keep it, though it is",
                None => "Renew: it is",
            };
            let mut verdict = of(
                grade,
                format!("{lead} {list}."),
                "Renew it, and write `decided = \"renew\"` once you have settled on that.",
            );
            if bad {
                verdict.caution = Some(
                    "Hot coolant under pressure scalds: open nothing before the circuit is cold."
                        .into(),
                );
            }
            verdict
        }
        (_, true) => undecided(&of, run, age, good, crusted.map(|(_, at)| at.as_str())),
    };
    if let Some((made, place)) = &run.made {
        verdict.working.steps.push(Step {
            formula: "age = year of the job − year printed".into(),
            filled: year
                .map_or_else(
                    || "– − ".to_owned() + &made.to_string(),
                    |year| format!("{year} − {made}"),
                )
                .as_str()
                .into(),
            result: age
                .map_or_else(|| "not known".to_owned(), years)
                .as_str()
                .into(),
        });
        verdict.source(format!("year as printed, {place}"));
    }
    let others: Vec<String> = others
        .iter()
        .map(|other| format!("{} ({})", span(other.years), other.words))
        .collect();
    verdict.working.limit = format!(
        "renewed at {} ({}); written elsewhere: {}",
        span(life.years),
        life.words,
        others.join(", ")
    )
    .as_str()
    .into();
    verdict.source(life.source.cite());
    if let Some(fact) = hose_fact("fails-near-the-end") {
        verdict.source(fact.source.cite());
    }
    verdict
}

/// Nothing says that it must go, and not enough says that it may stay.
fn undecided(
    of: &impl Fn(Grade, String, &str) -> Verdict,
    run: &RunFound,
    age: Option<u32>,
    good: bool,
    crusted: Option<&str>,
) -> Verdict {
    if let Some(at) = crusted {
        return of(
            Grade::Marginal,
            format!("Undecided: crust at {at} shows that it weeps, by the hose or by its clip."),
            "Clean it off, look again after a warm run, and pinch the hose beside the clip; write what you find.",
        );
    }
    if good {
        let remedy = if run.made.is_some() {
            "Write the year of the job: `year = 2027` in `[job]`."
        } else {
            "Read the year printed on the hose and write it: `made = 2019`."
        };
        return of(
            Grade::Marginal,
            "Undecided: found good, but its age is not known.".into(),
            remedy,
        );
    }
    let why = format!("Undecided: nothing is written of its ends{}.", aged(age));
    let mut verdict = of(Grade::Unmeasured, why, "");
    verdict.settle_by(&Settles {
        place: format!("{}.found", boat::seen_path(&run.run)),
        how: "Pinch it cold within 50 mm of each clip, where hoses fail first, and write what you find: `found = [\"soft ends\"]`, or `[\"good\"]`; with the year printed on it, `made = 2019`.".into(),
    });
    verdict
}

fn years(age: u32) -> String {
    if age == 1 {
        "1 year".into()
    } else {
        format!("{age} years")
    }
}

fn aged(age: Option<u32>) -> String {
    age.map_or_else(String::new, |age| format!(", {} old", years(age)))
}

fn span((low, high): (u32, u32)) -> String {
    if low == high {
        years(low)
    } else {
        format!("{low} to {}", years(high))
    }
}

fn clip(found: &ClipFound) -> Option<Verdict> {
    let subject = Subject {
        key: found.joint.clone(),
        title: format!("clip on {}", found.joint),
        place: found.place.clone(),
    };
    let part = match found.magnet {
        Magnet::Nothing => return None,
        Magnet::Screw => "its screw",
        Magnet::Band => "its band",
        Magnet::All => "all of it",
    };
    let grade = if found.salt {
        Grade::Unsound
    } else {
        Grade::Marginal
    };
    let because = format!("A magnet draws {part}: that is no 316, and it rusts through.");
    let mut verdict = subject.verdict(Stage::Survey, "magnet", grade, because.as_str().into());
    verdict.remedy = "Renew the clip: band, housing and screw of 316.".into();
    if found.salt {
        verdict.caution = Some(
            "Afloat, do not slacken a clip that holds the sea out; renew it ashore, by local rules and licensed practice.".into(),
        );
    }
    if let Some(fact) = reference::metal::metal_fact("clips-all-316") {
        verdict.source(fact.source.cite());
    }
    Some(verdict)
}

/// What the words for a valve's feel say of it: they are the owner's, so only plain ones are read.
fn feel(words: &str) -> Option<Grade> {
    let text = words.to_lowercase();
    let words: Vec<&str> = text
        .split(|c: char| !c.is_alphabetic() && c != '\'' && c != '’')
        .filter(|word| !word.is_empty())
        .collect();
    let has = |any: &[&str]| words.iter().any(|word| any.contains(word));
    // A word of denial turns any other: then only what is surely bad is read.
    let denied = has(&[
        "not", "no", "never", "hardly", "barely", "without", "isn't", "isn’t",
    ]);
    let bad = [
        "seized", "stuck", "jammed", "broken", "spins", "can't", "can’t", "cannot", "won't",
        "won’t",
    ];
    if has(&bad) && !has(&["not"]) || text.contains("turns and turns") || text.contains("will not")
    {
        Some(Grade::Unsound)
    } else if denied {
        None
    } else if has(&["stiff", "heavy", "weeps", "drips"]) {
        Some(Grade::Marginal)
    } else if has(&["free", "freely", "easy", "light", "smooth", "good"]) {
        Some(Grade::Sound)
    } else {
        None
    }
}

fn valve(found: &ValveFound, year: Option<u32>) -> Verdict {
    let subject = Subject {
        key: found.thing.clone(),
        title: format!("valve of {}", found.thing),
        place: found.place.clone(),
    };
    // A day that can't be read is no day: `never`, `before my time`.
    let last = found.worked.as_deref().and_then(year_in);
    let worked = found.worked.as_deref().filter(|_| last.is_some());
    let resting = last.zip(year).map(|(last, year)| year.saturating_sub(last));
    let feels = found.feels.as_deref().and_then(feel);
    let said = found.feels.as_deref().unwrap_or_default();
    let (grade, because, remedy) = match (feels, worked, resting) {
        (Some(Grade::Unsound), ..) => (
            Grade::Unsound,
            format!("It can't be relied on to shut: “{said}”."),
            "Have it renewed ashore; count on no shut-off here until then.",
        ),
        (_, None, _) => (
            Grade::Unmeasured,
            "When it was last worked is not known.".to_owned(),
            "",
        ),
        (Some(Grade::Sound), Some(when), None) => (
            Grade::Unmeasured,
            format!(
                "Worked in {when}; how long ago that is can't be told, as the year of the job is not written."
            ),
            "",
        ),
        (Some(Grade::Marginal), ..) => (
            Grade::Marginal,
            format!("It shuts, but not as it should: “{said}”."),
            "Work it to and fro ashore, and have it seen to before it is needed.",
        ),
        (_, Some(when), Some(rest)) if rest > 1 => (
            Grade::Marginal,
            format!("It was last worked in {when}: a valve that rests seizes."),
            "Work it fully to and fro, ashore, or afloat only with a plug tied beside it and somebody to help; and every month from then on.",
        ),
        (Some(_), Some(when), _) => (
            Grade::Sound,
            format!("Worked in {when}, and it went as it should: “{said}”."),
            "",
        ),
        (None, Some(when), _) => (
            Grade::Marginal,
            format!("Worked in {when}; how it felt is not said in plain words."),
            "Work it fully to and fro and write how it felt: free, stiff or seized.",
        ),
    };
    let mut verdict = subject.verdict(Stage::Survey, "works", grade, because.as_str().into());
    verdict.remedy = remedy.into();
    verdict.caution = (grade != Grade::Sound).then(|| {
        "Force no valve afloat: one that breaks floods her. By local rules and licensed practice.".into()
    });
    if grade == Grade::Unmeasured {
        let how = "Work it fully to and fro, ashore if it is stiff, and write when and how it felt: `worked = \"2027-02\", feels = \"free\"` (or stiff, seized).";
        verdict.settle_by(&Settles {
            place: if last.is_some() {
                "job.year".into()
            } else {
                format!("{}.worked", found.place)
            },
            how: if last.is_some() {
                "Write the year of the job: `year = 2027` in `[job]`.".into()
            } else {
                how.into()
            },
        });
    }
    verdict.source("hull valves are worked every month (common practice, no source)");
    verdict
}

/// The year with which a date begins.
fn year_in(text: &str) -> Option<u32> {
    let figures: String = text.chars().take_while(char::is_ascii_digit).collect();
    let year: u32 = figures.parse().ok()?;
    (1900..=2200).contains(&year).then_some(year)
}

fn not_seen((subject, place, why): &(Key, KeyPath, String)) -> Verdict {
    let subject = Subject {
        key: subject.clone(),
        title: subject.clone(),
        place: place.clone(),
    };
    let because = format!("Nobody saw it: {why}.");
    let mut verdict = subject.verdict(
        Stage::Survey,
        "not-seen",
        Grade::Unmeasured,
        because.as_str().into(),
    );
    let how = format!(
        "Look at {} once it is bare, and write what you find: `found = [\"good\"]`.",
        subject.key
    );
    verdict.settle_by(&Settles {
        place: format!("{place}.found"),
        how,
    });
    verdict
}
