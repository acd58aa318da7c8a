//! Whether the mix is strong enough: for the frost, for the inhibitor, and what the old coolant stands now.

use quantity::{Kind, Quantity, Ratio, System, Temperature, TemperatureDifference, show};
use reference::media::{
    self, CoolantLimit, Glycol, Strength, VolumeFraction, coolant_facts, coolant_limit,
};

use super::facts::{FillInput, ReadingFacts, Tester};
use super::{Numbers, TABLES_APART};
use crate::say;
use crate::solve::mix::swap;
use crate::stages::types::Value;
use crate::verdict::{Basis, Grade, Margin, Settles, Stage, Verdict, Words};

pub(super) fn verdicts(input: &FillInput, numbers: &Numbers) -> Vec<Verdict> {
    let mut verdicts = Vec::new();
    if !input.waterless() {
        verdicts.extend(frost(input, numbers));
        verdicts.extend(inhibitor(input, numbers));
    }
    verdicts.extend(
        input
            .reading
            .as_ref()
            .map(|reading| old(input, numbers, reading)),
    );
    verdicts
}

fn whole(temperature: Temperature, system: System) -> String {
    show(
        temperature,
        Some(TemperatureDifference::kelvin(2.0)),
        system,
    )
}

fn percent(share: f64) -> String {
    Ratio::from_si(share).map_or_else(String::new, |share| show(share, None, System::Metric))
}

/// By how much a wrong scale is out, as a difference.
fn ten_degrees(system: System) -> &'static str {
    match system {
        System::Metric => "10 °C",
        System::Imperial => "18 °F",
    }
}

/// A share rounded up to whole per cent, as one would mix it.
fn rounded_up(share: f64) -> f64 {
    (share * 100.0 - 1e-9).ceil() / 100.0
}

/// Rounding in the last places makes no share too rich.
const HAIR: f64 = 1e-9;

/// The share that a recipe is for.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Mix {
    /// The share of concentrate.
    pub(super) share: f64,
    /// Why it is another one than what is wanted; `None` where it is the same.
    pub(super) why: Option<String>,
}

/// The share that the recipe is for: what is wanted, unless a verdict calls that unsound; then what
/// that verdict says to take, so that no recipe speaks against it. Without a boat, where nothing is
/// wanted but a frost is to be stood, the share that stands it.
pub(super) fn mix(input: &FillInput, glycol: Option<Glycol>, wanted: Option<f64>) -> Option<Mix> {
    let (least, most) = (rounded_up(least(input).0), most(input));
    let frost = input
        .frost
        .as_ref()
        .and_then(|frost| frost.as_ref().ok())
        .map(|frost| frost.measured.value);
    let stands = || Some(stands(glycol?, frost?)?.max(least));
    let Some(wanted) = wanted else {
        let share = stands().filter(|_| input.without_boat())?;
        let why = Some("stands the frost and holds enough inhibitor".to_owned());
        return (share <= most + HAIR).then_some(Mix { share, why });
    };
    let mut mix = Mix {
        share: wanted,
        why: None,
    };
    if wanted > most {
        mix.share = most;
        mix.why = Some("the most that is right".into());
    } else if too_thin(input, wanted) {
        mix.share = least;
        mix.why = Some("the least that holds enough inhibitor".into());
    }
    let freezes = glycol.and_then(|glycol| {
        let strength = VolumeFraction::of(mix.share)?;
        media::freezes_at(glycol, strength).ok()
    });
    if let (Some(freezes), Some(frost)) = (freezes, frost)
        && freezes.value > frost
        && let Some(share) = stands().filter(|share| *share <= most + HAIR && *share > mix.share)
    {
        mix.share = share;
        mix.why = Some("the least that stands the frost".into());
    }
    Some(mix)
}

/// The share, in whole per cent, that stands a frost by any of the tables; `None` where no mix in use does.
fn stands(glycol: Glycol, frost: Temperature) -> Option<f64> {
    let wish = frost - TemperatureDifference::kelvin(TABLES_APART);
    if wish >= Temperature::celsius(0.0) {
        // Water itself stands that.
        return Some(0.0);
    }
    let needed = media::strength_for::<VolumeFraction>(glycol, wish).ok()?;
    Some(rounded_up(needed.value.share()))
}

/// The most concentrate that is right: the usual, unless the maker's least dose is more.
fn most(input: &FillInput) -> f64 {
    limit("most").share.to_f64().max(least(input).0)
}

/// Whether there is surely too little inhibitor: less than any text allows, or than the maker asks for.
fn too_thin(input: &FillInput, share: f64) -> bool {
    let below_own = input
        .least
        .as_ref()
        .is_some_and(|own| share < own.measured.value.to_f64());
    below_own || share < limit("least-of-some").share.to_f64()
}

/// The least share that holds enough inhibitor: the usual one, or what the maker asks for.
fn least(input: &FillInput) -> (f64, String) {
    let usual = limit("least");
    let usual_share = usual.share.to_f64();
    match &input.least {
        Some(own) if own.measured.value.to_f64() > usual_share => (
            own.measured.value.to_f64(),
            "least dose, as the maker of the coolant asks".into(),
        ),
        _ => (usual_share, usual.source.cite()),
    }
}

pub(super) fn limit(id: &str) -> &'static CoolantLimit {
    // OK because a test of `reference` asks for each of them.
    coolant_limit(id).expect("the limits of a mix are in the data")
}

/// What is known by a statement without a number.
pub(super) fn known_fact(id: &str) -> String {
    let fact = coolant_facts().iter().find(|fact| fact.id == id);
    fact.map_or_else(String::new, |fact| {
        format!("{} ({})", fact.says, fact.source.cite())
    })
}

fn frost(input: &FillInput, numbers: &Numbers) -> Option<Verdict> {
    let rule = "frost";
    let subject = &input.subject;
    let wait = |name: &str, missing| Some(subject.waits(Stage::Fill, rule, name, missing));
    let frost = match input.frost.as_ref()? {
        Ok(frost) => frost,
        Err(missing) => return wait("Frost that the coolant must stand", missing),
    };
    let stands = frost.measured.value;
    let glycol = match &input.kind {
        Err(missing) => return wait("Kind of coolant", missing),
        Ok(kind) => match kind.glycol {
            Some(glycol) => glycol,
            None => return Some(no_glycol_said(input, rule, &kind.words)),
        },
    };
    // Below this the mix is surely liquid where any of the tables says so.
    let wish = stands - TemperatureDifference::kelvin(TABLES_APART);
    // Whatever the frost, there must be enough inhibitor, and not too much of the concentrate.
    let needed = self::stands(glycol, stands)
        .map(|share| share.max(rounded_up(least(input).0)))
        .filter(|share| *share <= most(input) + HAIR);
    let wanted = match (numbers.wanted.or(numbers.share()), needed) {
        (Some(wanted), _) => wanted,
        (None, Some(share)) => {
            let missing = input.wanted.as_ref().err()?;
            let mut verdict = wait("Share of concentrate", missing)?;
            verdict.remedy = Words::of(|system| {
                format!(
                    "Take {} of {}: it stands {} by any of the tables.",
                    percent(share),
                    glycol.name(),
                    whole(stands, system)
                )
            });
            return Some(verdict);
        }
        (None, None) => {
            let because = Words::of(|system| {
                format!(
                    "It has to stand {}, and no mix of {} up to {} surely does.",
                    whole(stands, system),
                    glycol.name(),
                    percent(most(input))
                )
            });
            let mut verdict = subject.verdict(Stage::Fill, rule, Grade::Unsound, because);
            verdict.remedy = DRAIN.into();
            verdict.input("t_f", "frost to be stood", frost);
            return Some(verdict);
        }
    };
    let strength = VolumeFraction::of(wanted)?;
    let freezes = match media::freezes_at(glycol, strength) {
        Ok(freezes) => freezes,
        Err(unknown) => {
            let because = Words::from(format!("{}.", say::capital(&unknown.why)).as_str());
            let mut verdict = subject.verdict(Stage::Fill, rule, Grade::Marginal, because);
            verdict.remedy = format!("Take {}.", unknown.settles).as_str().into();
            return Some(verdict);
        }
    };
    let grade = if freezes.value <= wish {
        Grade::Sound
    } else if freezes.value <= stands {
        Grade::Marginal
    } else {
        Grade::Unsound
    };
    let because = Words::of(|system| {
        format!(
            "{} of {} freezes at {}; it has to stand {}.",
            percent(wanted),
            glycol.name(),
            whole(freezes.value, system),
            whole(stands, system)
        )
    });
    let mut verdict = subject.verdict(Stage::Fill, rule, grade, because);
    verdict.basis = Basis::Physics;
    verdict.place = input.place("wanted.percent");
    verdict.input("t_f", "frost to be stood", frost);
    verdict.step(
        "freezing point by the share of the volume, straight between two rows of the table",
        percent(wanted).as_str().into(),
        Words::of(|system| whole(freezes.value, system)),
    );
    verdict.working.limit = Words::of(|system| {
        format!(
            "at most {}: published tables lie up to {TABLES_APART:.0} K apart, and not all say whether they count pure glycol or concentrate",
            whole(wish, system)
        )
    });
    verdict.source(freezes.source.cite());
    verdict.margin = Some(Margin {
        value: freezes.value.si(),
        deviation: Some(TABLES_APART),
        low: None,
        high: Some(stands.si()),
        kind: Kind::Temperature,
    });
    if grade != Grade::Sound {
        verdict.remedy = match needed {
            Some(share) => format!(
                "Take {} of it; that is enough by any of the tables.",
                percent(share)
            )
            .as_str()
            .into(),
            None => DRAIN.into(),
        };
    }
    Some(verdict)
}

const DRAIN: &str = "Drain her when such frost comes: no mix in use surely stands it.";

fn no_glycol_said(input: &FillInput, rule: &str, words: &str) -> Verdict {
    let because = format!("“{words}” does not say which glycol it is.");
    let mut verdict = input.subject.verdict(
        Stage::Fill,
        rule,
        Grade::Unmeasured,
        because.as_str().into(),
    );
    verdict.settle_by(&Settles {
        place: input.place("wanted.kind"),
        how: "Read on the can which glycol it is and write it: `ethylene` or `propylene`.".into(),
    });
    verdict
}

fn inhibitor(input: &FillInput, numbers: &Numbers) -> Option<Verdict> {
    let wanted = numbers.wanted.or(numbers.share())?;
    let (least, source) = least(input);
    let (some_say, usual_most) = (limit("least-of-some"), limit("most"));
    let share = most(input);
    let grade = if wanted > share || too_thin(input, wanted) {
        Grade::Unsound
    } else if wanted < least {
        Grade::Marginal
    } else {
        Grade::Sound
    };
    let because = format!(
        "{} of concentrate; {} to {} are right, since less holds too little inhibitor and more carries less heat.",
        percent(wanted),
        percent(least).trim_end_matches(" %"),
        percent(share)
    );
    let mut verdict =
        input
            .subject
            .verdict(Stage::Fill, "inhibitor", grade, because.as_str().into());
    verdict.place = input.place("wanted.percent");
    if let Some(own) = &input.least {
        verdict.input("p_l", "least dose", own);
    }
    verdict.working.limit = format!(
        "{} to {}; some say {} will do",
        percent(least),
        percent(share),
        percent(some_say.share.to_f64())
    )
    .as_str()
    .into();
    for source in [source, some_say.source.cite(), usual_most.source.cite()] {
        verdict.source(source);
    }
    verdict.margin = Some(Margin {
        value: wanted,
        deviation: None,
        low: Some(least),
        high: Some(share),
        kind: Kind::Ratio,
    });
    if grade != Grade::Sound {
        // The same as the recipe is for, which the frost may ask more of.
        let to = numbers
            .share()
            .filter(|mix| *mix >= least && *mix <= share)
            .unwrap_or(if wanted > share { share } else { least });
        verdict.remedy = format!("Take {} of concentrate.", percent(rounded_up(to)))
            .as_str()
            .into();
    }
    Some(verdict)
}

/// What a reading means, and what the old coolant stands.
fn old(input: &FillInput, numbers: &Numbers, reading: &ReadingFacts) -> Verdict {
    let rule = "reading";
    let subject = &input.subject;
    let wait = |name: &str, missing| subject.waits(Stage::Fill, rule, name, missing);
    let shows = match &reading.shows {
        Ok(shows) => shows,
        Err(missing) => return wait("Strength of the old coolant", missing),
    };
    let word = reading.tester.word();
    let scale = match &reading.scale {
        Ok(scale) => *scale,
        Err(missing) => {
            let mut verdict = wait("Scale of the instrument", missing);
            verdict.because = Words::of(|system| {
                let of = |glycol| {
                    share_shown(glycol, shows.measured.value)
                        .map_or_else(|| "more than the tables hold".to_owned(), percent)
                };
                format!(
                    "{} by {word} would be {} of ethylene or {} of propylene glycol; for which one its scale is, is not written, and the wrong one is out by {} or more.",
                    whole(shows.measured.value, system),
                    of(Glycol::Ethylene),
                    of(Glycol::Propylene),
                    ten_degrees(system)
                )
            });
            verdict.source(known_fact("wrong-scale"));
            return verdict;
        }
    };
    let now = share_shown(scale, shows.measured.value);
    let means = |system| {
        let share = now.map_or_else(|| "more than the tables hold".to_owned(), percent);
        format!(
            "{} by {word} is {share} of {}",
            whole(shows.measured.value, system),
            scale.name()
        )
    };
    let doubt = doubts(input, reading, scale);
    if let Some((why, settles)) = doubt {
        let because = Words::of(|system| format!("{}, {}.", means(system), why.in_units(system)));
        let mut verdict = subject.verdict(Stage::Fill, rule, Grade::Unmeasured, because);
        verdict.settle_by(&settles);
        verdict.place = input.place(word_key(reading.tester));
        explain(&mut verdict, shows, reading);
        return verdict;
    }
    let frost = input
        .frost
        .as_ref()
        .and_then(|frost| frost.as_ref().ok())
        .map(|frost| frost.measured.value);
    let (warmest, coldest) = (shows.measured.high, shows.measured.low);
    let grade = match frost {
        Some(frost) if coldest > frost => Grade::Unsound,
        Some(frost) if warmest > frost => Grade::Marginal,
        _ => Grade::Sound,
    };
    let because = Words::of(|system| {
        let must = frost.map_or_else(String::new, |frost| {
            format!("; it has to stand {}", whole(frost, system))
        });
        format!(
            "What is inside: {}{must}. Sea water in it would read as 6 to 7 % of glycol.",
            means(system)
        )
    });
    let mut verdict = subject.verdict(Stage::Fill, rule, grade, because);
    verdict.place = input.place(word_key(reading.tester));
    explain(&mut verdict, shows, reading);
    if grade != Grade::Sound {
        let raised = numbers
            .volume
            .zip(now)
            .zip(numbers.share())
            // What does not go together with it is not poured on top.
            .filter(|_| !numbers.flushed)
            .and_then(|((volume, now), share)| swap(volume, now, share, numbers.product));
        verdict.remedy = match raised.and_then(quantity::Volume::from_si) {
            Some(swapped) => Words::of(|system| {
                format!(
                    "Until she is filled anew: drain {} and pour in as much of what you bought.",
                    show(swapped, None, system)
                )
            }),
            None => "Fill her anew before the frost, or drain her.".into(),
        };
        verdict.caution =
            Some("Hot and under pressure: open the cap only when the engine is cold.".into());
    }
    verdict
}

fn word_key(tester: Tester) -> &'static str {
    match tester {
        Tester::Refractometer => "reading.refractometer",
        Tester::Hydrometer => "reading.hydrometer",
    }
}

/// The share by volume that freezes where the instrument says.
pub(super) fn share_shown(glycol: Glycol, freezes: Temperature) -> Option<f64> {
    let share = media::strength_for::<VolumeFraction>(glycol, freezes).ok()?;
    Some((share.value.share() * 100.0).round() / 100.0)
}

/// Why the figure can't be taken as it stands, and what would settle it.
fn doubts(input: &FillInput, reading: &ReadingFacts, scale: Glycol) -> Option<(Words, Settles)> {
    let settle = |key: &str, how: &str| Settles {
        place: input.place(key),
        how: how.into(),
    };
    match &reading.stat_opened {
        Ok(true) => {}
        Ok(false) => {
            let how = "Run the engine until the thermostat opens, let it cool, take a sample and read it again.";
            let why = "but the thermostat had not opened, so that the sample need not be what is in the block";
            return Some((why.into(), settle(word_key(reading.tester), how)));
        }
        Err(settles) => {
            let why = "but whether the thermostat had opened before is not written";
            return Some((why.into(), settles.clone()));
        }
    }
    match &input.inside_kind {
        Err(missing) => {
            let why =
                "but what is inside is not known, and a mix of both glycols can't be read at all";
            return Some((why.into(), missing.settles.clone()));
        }
        Ok(kind) if kind.glycol != Some(scale) => {
            let how =
                "Read a sample on a scale for the glycol that is inside, or ask a laboratory.";
            let why = Words::of(|system| {
                format!(
                    "but what is inside is written as “{}”, and the wrong scale is out by {} or more",
                    kind.words,
                    ten_degrees(system)
                )
            });
            return Some((why, settle("reading.scale", how)));
        }
        Ok(_) => {}
    }
    // A hydrometer is made for a sample at 20 °C, and half and half at 70 °C looks like 30 per cent.
    let warm = reading
        .at
        .as_ref()
        .is_some_and(|at| at.measured.high > Temperature::celsius(30.0));
    match (reading.tester, &reading.at) {
        (Tester::Hydrometer, Some(at)) if warm => {
            let why = Words::of(|system| {
                format!(
                    "but the sample had {}, and a hydrometer reads weak when hot",
                    whole(at.measured.value, system)
                )
            });
            let how = "Let a sample cool to about 20 °C and read it again.";
            Some((why, settle("reading.hydrometer", how)))
        }
        (Tester::Hydrometer, None) => {
            let how = "Write how warm the sample was: `at = \"20 °C\"`.";
            let why =
                "but how warm the sample was is not written, and a hydrometer reads weak when hot";
            Some((why.into(), settle("reading.at", how)))
        }
        _ => None,
    }
}

fn explain(verdict: &mut Verdict, shows: &Value<Temperature>, reading: &ReadingFacts) {
    verdict.input("t_s", reading.tester.word(), shows);
    if let Some(at) = &reading.at {
        verdict.input("t_a", "sample", at);
    }
    verdict.source(known_fact("wrong-scale"));
    verdict.source(known_fact("sea-reads-as-glycol"));
    verdict.source(known_fact("after-the-stat"));
    if reading.tester == Tester::Hydrometer {
        verdict.source(known_fact("hot-hydrometer"));
    }
}
