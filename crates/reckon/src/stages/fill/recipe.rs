//! What to pour, what the old coolant asks for first, and whether the header has room.

use quantity::{Kind, Quantity, Ratio, System, Temperature, TemperatureDifference, Volume, show};
use reference::media::water_limits;

use super::facts::{FillInput, Together};
use super::strength::{known_fact, limit};
use super::{COLD, Numbers, OLD_LEFT, TABLE_END, expands, freezing, hottest, lows};
use crate::say;
use crate::solve::mix::{Fill, Recipe, left_after};
use crate::stages::types::Missing;
use crate::verdict::{Basis, Grade, Margin, Settles, Stage, Verdict, Words};

const POISON: &str = "Coolant with glycol is poison and tastes sweet: catch every drip, keep it from children and animals, and take the old to where local rules want it.";

pub(super) fn verdicts(input: &FillInput, numbers: &Numbers) -> Vec<Verdict> {
    let mut verdicts = Vec::new();
    verdicts.extend(old_inside(input, numbers));
    verdicts.extend(recipe(input, numbers));
    verdicts.extend(lows::verdict(input));
    verdicts.extend(header(input, numbers));
    verdicts
}

fn litres(cubic: f64, system: System) -> String {
    Volume::from_si(cubic).map_or_else(String::new, |volume| show(volume, None, system))
}

fn degrees(temperature: Temperature, system: System) -> String {
    let half = TemperatureDifference::kelvin(2.0);
    show(temperature, Some(half), system)
}

fn percent(share: f64) -> String {
    Ratio::from_si(share).map_or_else(String::new, |share| show(share, None, System::Metric))
}

/// What is bought, by name.
fn product(numbers: &Numbers) -> String {
    if numbers.product >= 1.0 {
        "concentrate".into()
    } else {
        format!("ready mix of {}", percent(numbers.product))
    }
}

/// The recipe for ten litres, which holds whatever the circuit holds.
fn in_ten(numbers: &Numbers, system: System) -> Option<String> {
    let share = numbers.share().filter(|share| *share <= numbers.product)? / numbers.product;
    Some(format!(
        "Each {} of its volume takes {} of {}, poured first.",
        litres(0.01, system),
        litres(0.01 * share, system),
        product(numbers)
    ))
}

fn recipe(input: &FillInput, numbers: &Numbers) -> Option<Verdict> {
    let rule = "recipe";
    let subject = &input.subject;
    if input.waterless() {
        return Some(waterless(input, numbers));
    }
    let wanted = match (numbers.share(), &input.wanted) {
        (Some(share), _) => share,
        (None, Ok(wanted)) => wanted.to_f64(),
        (None, Err(missing)) => {
            return Some(subject.waits(Stage::Fill, rule, "Share of concentrate", missing));
        }
    };
    let waits = |rule: &str, name: &str, missing: &Missing, more: Words| {
        let mut verdict = subject.waits(Stage::Fill, rule, name, missing);
        verdict.because = Words::of(|system| {
            let (one, other) = (verdict.because.in_units(system), more.in_units(system));
            format!("{one} {other}").trim_end().to_owned()
        });
        verdict
    };
    let ten = Words::of(|system| in_ten(numbers, system).unwrap_or_default());
    let volume = match &input.volume {
        Ok(volume) => volume,
        // A verdict of its own, so that what waits behind the volume is not asked for before it.
        Err(missing) => return Some(waits("volume", "Volume of the circuit", missing, ten)),
    };
    if let Some(wrong) = &input.wrong {
        let because = Words::of(|system| format!("{}.", say::capital(wrong.why.in_units(system))));
        let mut verdict = subject.verdict(Stage::Fill, rule, Grade::Unmeasured, because);
        verdict.basis = Basis::Physics;
        verdict.settle_by(&wrong.settles);
        verdict.place = input.place("drained");
        verdict.input("V", "circuit", volume);
        return Some(verdict);
    }
    let all = volume.measured.value.si();
    let inside = match &input.inside {
        Ok(inside) => inside,
        Err(missing) => {
            // With water inside, the concentrate is the same however much it is.
            let pour = wanted * all / numbers.product;
            let more = Words::of(|system| {
                format!(
                    "If it is water and no more than {}, pour {} of {} first and then water until it is full.",
                    litres(all - pour, system),
                    litres(pour, system),
                    product(numbers)
                )
            });
            let more = if pour <= all { more } else { Words::default() };
            let more = match &input.lows {
                Some(lows) => Words::of(|system| {
                    let (held, more) = (lows.words(), more.in_units(system));
                    format!("{} at least. {more}", held.in_units(system))
                }),
                None => more,
            };
            return Some(waits(rule, "What stayed inside", missing, more));
        }
    };
    let Some(fill) = numbers.fill() else {
        let missing = input.inside_share.as_ref().err()?;
        return Some(waits(rule, "Strength of what stayed inside", missing, ten));
    };
    if numbers.flushed && numbers.drains() == Some(0.0) {
        let because = Words::of(|system| {
            format!(
                "Old and new do not go together, and all {} stay inside, so that nothing can be flushed out.",
                litres(all, system)
            )
        });
        let mut verdict = subject.verdict(Stage::Fill, rule, Grade::Unsound, because);
        verdict.remedy = "Find a lower place where she drains, and meter what runs out.".into();
        verdict.caution = Some(POISON.into());
        verdict.place = input.place("inside.volume");
        return Some(verdict);
    }
    let Some(recipe) = numbers.recipe else {
        let because = Words::of(|system| {
            format!(
                "{} stayed inside, and the circuit holds {}: one of the two is wrong.",
                litres(fill.inside, system),
                litres(all, system)
            )
        });
        let mut verdict = subject.verdict(Stage::Fill, rule, Grade::Unmeasured, because);
        verdict.settle_by(&inside.settles);
        return Some(verdict);
    };
    let what = |system| {
        let of = if fill.inside_share == 0.0 {
            "water".to_owned()
        } else {
            format!("{} mix", percent(fill.inside_share))
        };
        // What a verdict calls unsound is not what the recipe is for.
        let instead = numbers
            .wanted
            .filter(|typed| *typed != wanted)
            .map_or_else(String::new, |typed| {
                format!(" instead of {}", percent(typed))
            });
        let flushed = if numbers.flushed {
            format!("after flushing {}, ", times(numbers.flushes().unwrap_or(1)))
        } else {
            String::new()
        };
        format!(
            "{flushed}{} at {}{instead} with {} of {of} inside",
            litres(all, system),
            percent(wanted),
            litres(fill.inside, system)
        )
    };
    let doubtful = matches!(input.together(), Together::Unsaid | Together::Unknown);
    let bought = product(numbers);
    let (grade, because, remedy) = match recipe {
        Recipe::Pour { product, water } => {
            let ready = |system| {
                let share = (fill.inside > 0.0 && fill.inside_share < wanted)
                    .then(|| fill.topped_up(wanted))?;
                let freezes = freezing(numbers.glycol?, share)?;
                let thin = if share < limit("least").share.to_f64() {
                    ", with too little inhibitor"
                } else {
                    ""
                };
                Some(format!(
                    " Filled up with ready mix of {} instead, it would come out at {} and freeze at {}{thin}.",
                    percent(wanted),
                    percent(share),
                    freezes.text.in_units(system)
                ))
            };
            let because = Words::of(|system| {
                format!(
                    "{}: pour {} of {bought} first{}.{}{}",
                    say::capital(&what(system)),
                    litres(product, system),
                    then(water, system),
                    ready(system).unwrap_or_default(),
                    once_flushed(fill, doubtful, system).unwrap_or_default()
                )
            });
            (Grade::Sound, because, Words::default())
        }
        Recipe::NoRoom { drain, product } => (
            Grade::Unsound,
            Words::of(|system| {
                format!(
                    "{} can't be reached: even {} alone on top comes out at {}.",
                    say::capital(&what(system)),
                    bought,
                    percent(fill.topped_up(numbers.product))
                )
            }),
            Words::of(|system| {
                format!(
                    "Drain {} more, then pour {} of {bought} and no water{}.",
                    litres(drain, system),
                    litres(product, system),
                    with_concentrate(fill, system)
                        .map_or_else(String::new, |how| format!("; or {how}"))
                )
            }),
        ),
        Recipe::TooRich { drain, water } => (
            Grade::Unsound,
            Words::of(|system| {
                format!(
                    "{}: what is inside is richer than that even with water alone on top.",
                    say::capital(&what(system))
                )
            }),
            Words::of(|system| {
                format!(
                    "Drain {} more, then pour {} of de-ionised water.",
                    litres(drain, system),
                    litres(water, system)
                )
            }),
        ),
        Recipe::ProductTooWeak => (
            Grade::Unsound,
            Words::of(|system| {
                format!(
                    "{} can't be reached with {bought}, which is weaker.",
                    say::capital(&what(system))
                )
            }),
            Words::of(|system| {
                with_concentrate(fill, system).map_or_else(
                    || "Take concentrate.".to_owned(),
                    |how| format!("{}.", say::capital(&how)),
                )
            }),
        ),
    };
    let mut verdict = subject.verdict(Stage::Fill, rule, grade, because);
    verdict.basis = Basis::Physics;
    verdict.remedy = remedy;
    verdict.caution = Some(POISON.into());
    verdict.place = input.place("volume");
    verdict.input("V", "circuit", volume);
    verdict.input("r", "inside", inside);
    if let Ok(share) = &input.inside_share
        && !numbers.flushed
    {
        verdict.input("p_r", "concentrate inside", share);
    }
    if let Some(own) = &input.product {
        verdict.input("p_c", "concentrate in what is bought", own);
    }
    steps(&mut verdict, numbers, recipe);
    if let Recipe::Pour { product, .. } = recipe {
        honest(&mut verdict, input, numbers, product);
    }
    Some(verdict)
}

/// Water after the product: `, then 3 L of de-ionised water`.
fn then(water: f64, system: System) -> String {
    if water > 0.0 {
        format!(", then {} of de-ionised water", litres(water, system))
    } else {
        String::new()
    }
}

/// How often, as one says it.
fn times(times: u32) -> String {
    match times {
        0 | 1 => "once".to_owned(),
        2 => "twice".to_owned(),
        times => format!("{times} times"),
    }
}

/// The same with concentrate, where a ready mix does not do.
fn with_concentrate(fill: Fill, system: System) -> Option<String> {
    let rich = Fill {
        product: 1.0,
        ..fill
    };
    match rich.recipe()? {
        Recipe::Pour { product, water } if fill.product < 1.0 => Some(format!(
            "take concentrate: {} of it first{}",
            litres(product, system),
            then(water, system)
        )),
        _ => None,
    }
}

/// The recipe once the old is flushed out, where it is not known whether it goes with the new.
fn once_flushed(fill: Fill, doubtful: bool, system: System) -> Option<String> {
    let flushed = Fill {
        inside_share: 0.0,
        ..fill
    };
    match flushed.recipe()? {
        Recipe::Pour { product, water } if doubtful && fill.inside_share > 0.0 => Some(format!(
            " Flushed first, so that water stays inside, it takes {} and {} of water.",
            litres(product, system),
            litres(water, system)
        )),
        _ => None,
    }
}

fn steps(verdict: &mut Verdict, numbers: &Numbers, recipe: Recipe) {
    let Some(fill) = numbers.fill() else {
        return;
    };
    let filled = Words::of(|system| {
        format!(
            "({} · {} − {} · {}) / {}",
            percent(fill.wanted),
            litres(fill.volume, system),
            percent(fill.inside_share),
            litres(fill.inside, system),
            percent(fill.product)
        )
    });
    let poured = (fill.wanted * fill.volume - fill.inside_share * fill.inside) / fill.product;
    verdict.step(
        "x = (p V − p_r r) / p_c",
        filled,
        Words::of(|system| litres(poured, system)),
    );
    let filled = Words::of(|system| {
        format!(
            "{} − {} − {}",
            litres(fill.volume, system),
            litres(fill.inside, system),
            litres(poured, system)
        )
    });
    verdict.step(
        "w = V − r − x",
        filled,
        Words::of(|system| litres(fill.volume - fill.inside - poured, system)),
    );
    if let Recipe::NoRoom { drain, .. } = recipe {
        verdict.step(
            "y = (p V − p_r r − p_c (V − r)) / (p_c − p_r)",
            Words::default(),
            Words::of(|system| litres(drain, system)),
        );
    }
    let water: Vec<String> = water_limits()
        .iter()
        .map(|row| format!("{} {}", row.what, show(row.most, None, System::Metric)))
        .collect();
    verdict.working.limit = format!(
        "water for mixing: de-ionised, or at most {}",
        say::list(&water, "and")
    )
    .as_str()
    .into();
    verdict.source("balance of the concentrate; volumes before mixing");
    for row in water_limits() {
        verdict.source(row.source.cite());
    }
}

/// What comes out at the ends of what was measured, and a grade by it.
fn honest(verdict: &mut Verdict, input: &FillInput, numbers: &Numbers, poured: f64) {
    let (Ok(volume), Ok(inside), Some(wanted)) = (&input.volume, &input.inside, numbers.share())
    else {
        return;
    };
    let share = input
        .inside_share
        .as_ref()
        .ok()
        .filter(|_| !numbers.flushed)
        .map(|share| share.measured);
    let (weak, rich) = share.map_or((0.0, 0.0), |share| {
        (share.low.to_f64(), share.high.to_f64())
    });
    let glycol = poured * numbers.product;
    let low = (glycol + weak * inside.measured.low.si()) / volume.measured.high.si();
    let high = (glycol + rich * inside.measured.high.si()) / volume.measured.low.si();
    if high - low < 0.005 {
        return;
    }
    let room = volume.measured.low.si() - inside.measured.high.si() - poured;
    let (usual, most) = (limit("least").share.to_f64(), limit("most").share.to_f64());
    let own = input.least.as_ref();
    let least = own.map_or(usual, |own| own.measured.value.to_f64().max(usual));
    verdict.step(
        "share that comes out, at the ends of what was measured",
        Words::of(|system| {
            format!(
                "{} poured into {} to {}",
                litres(poured, system),
                litres(volume.measured.low.si(), system),
                litres(volume.measured.high.si(), system)
            )
        }),
        format!("{} to {}", percent(low), percent(high))
            .as_str()
            .into(),
    );
    // A mix that was wanted thin on purpose is judged by the rule of inhibitor, not once more here.
    let thin = low < least && wanted >= least;
    if thin || high > most && wanted <= most || room < 0.0 {
        verdict.grade = Grade::Marginal;
        verdict.because = Words::of(|system| {
            let why = if room < 0.0 && !thin {
                " There may not be room for all of the concentrate.".to_owned()
            } else {
                format!(
                    " As sure as the volumes are, it comes out at {} to {}.",
                    percent(low).trim_end_matches(" %"),
                    percent(high)
                )
            };
            format!("{}{why}", verdict.because.in_units(system))
        });
        verdict.remedy =
            "Meter what runs out and what goes in, in a bucket with litre marks, and write it with its ±."
                .into();
    }
}

fn waterless(input: &FillInput, numbers: &Numbers) -> Verdict {
    let dry = numbers.inside == Some(0.0);
    let (grade, because) = match numbers.inside {
        Some(inside) if inside > 0.0 => (
            Grade::Unsound,
            Words::of(|system| {
                format!(
                    "Coolant without water wants a truly dry circuit; {} stayed inside.",
                    litres(inside, system)
                )
            }),
        ),
        _ => (
            Grade::Marginal,
            Words::from(
                "Coolant without water wants a truly dry circuit, and can't be topped up with anything else: 0 L of water may stay, which few refits can promise.",
            ),
        ),
    };
    let mut verdict = input.subject.verdict(Stage::Fill, "recipe", grade, because);
    verdict.place = input.place("wanted.kind");
    verdict.remedy = if dry {
        "Carry as much of it as the circuit holds, and add nothing else to it.".into()
    } else {
        "Take a mix of glycol and water, or dry the circuit as the coolant's maker says.".into()
    };
    verdict.caution = Some(POISON.into());
    verdict.source(known_fact("waterless"));
    verdict
}

/// Whether the old coolant goes together with the new.
fn old_inside(input: &FillInput, numbers: &Numbers) -> Option<Verdict> {
    let rule = "inside";
    let subject = &input.subject;
    let new = input.kind.as_ref().ok()?;
    let together = input.together();
    if together == Together::Nothing {
        return None;
    }
    let flush = |system: System| match (numbers.flushes(), numbers.drains()) {
        // Flushing with water is what a coolant without it can't stand.
        _ if new.waterless => {
            "Get all of it out, and dry the circuit as the maker of the new coolant says."
                .to_owned()
        }
        (Some(times), Some(drains)) => format!(
            "Fill with water, run until the thermostat opens, let it cool and drain, {}: each time {} of it runs out, and {} is left.",
            self::times(times),
            percent((drains * 100.0).round() / 100.0),
            percent((left_after(1.0, 0.0, drains, times.max(1)) * 1000.0).round() / 1000.0)
        ),
        _ => {
            let _ = system;
            "Fill with water, run until the thermostat opens, let it cool and drain, three times; meter what runs out, and the number follows from it.".to_owned()
        }
    };
    let old = match &input.inside_kind {
        Ok(old) => old,
        Err(missing) => {
            let because = Words::of(|system| {
                format!(
                    "What the old coolant was: {}. Families of inhibitor do not mix, and colour tells nothing.",
                    missing.why.in_units(system)
                )
            });
            let mut verdict = subject.verdict(Stage::Fill, rule, Grade::Unmeasured, because);
            verdict.remedy =
                Words::of(|system| format!("Take it for another one. {}", flush(system)));
            verdict.settle_by(&missing.settles);
            finish(&mut verdict, input);
            return Some(verdict);
        }
    };
    let pair = format!("inside is “{}”, wanted is “{}”", old.words, new.words);
    let (grade, because) = if together == Together::No {
        let why =
            "They do not go together: the inhibitor drops out, and no instrument reads the mix.";
        (Grade::Unsound, format!("{}. {why}", say::capital(&pair)))
    } else if together == Together::Yes {
        (
            Grade::Sound,
            format!("{}: one glycol and one family.", say::capital(&pair)),
        )
    } else {
        let why =
            "Which glycol and which family of inhibitor both are, does not stand in those words.";
        (Grade::Unmeasured, format!("{}. {why}", say::capital(&pair)))
    };
    let mut verdict = subject.verdict(Stage::Fill, rule, grade, because.as_str().into());
    if grade != Grade::Sound {
        verdict.remedy = Words::of(flush);
    }
    if grade == Grade::Unmeasured {
        let (key, how) = if old.glycol.is_none() || old.family.is_none() {
            (
                "inside.kind",
                "Find out what was poured in and write glycol and family: `ethylene, silicate`.",
            )
        } else {
            (
                "wanted.kind",
                "Write glycol and family as they stand on the can: `propylene, organic acid`.",
            )
        };
        verdict.settle_by(&Settles {
            place: input.place(key),
            how: how.into(),
        });
    }
    finish(&mut verdict, input);
    Some(verdict)
}

fn finish(verdict: &mut Verdict, input: &FillInput) {
    verdict.place = input.place("inside.kind");
    if let Ok(inside) = &input.inside {
        verdict.input("r", "inside", inside);
    }
    if let Ok(volume) = &input.volume {
        verdict.input("V", "circuit", volume);
    }
    verdict.working.steps.push(crate::verdict::Step {
        formula: "n = ln(left) / ln(r / V), rounded up".into(),
        filled: Words::default(),
        result: Words::default(),
    });
    verdict.working.limit = format!(
        "at most {} of the old coolant left; common practice, no source",
        percent(OLD_LEFT)
    )
    .as_str()
    .into();
    verdict.source(known_fact("families"));
    verdict.caution = Some(POISON.into());
}

fn header(input: &FillInput, numbers: &Numbers) -> Option<Verdict> {
    let rule = "header";
    let subject = &input.subject;
    let (glycol, wanted) = (numbers.glycol?, numbers.share()?);
    let room = input.room.as_ref()?;
    let to = hottest(input);
    let grows = expands(glycol, wanted, to)?;
    let said = |system| {
        format!(
            "From {} up to {} the mix grows by {}",
            degrees(Temperature::celsius(COLD), system),
            degrees(to, system),
            percent((grows * 1000.0).round() / 1000.0)
        )
    };
    let waits = |name: &str, missing: &Missing| {
        let mut verdict = subject.waits(Stage::Fill, rule, name, missing);
        verdict.because =
            Words::of(|system| format!("{} {}.", verdict.because.in_units(system), said(system)));
        Some(verdict)
    };
    let volume = input.volume.as_ref().ok()?;
    let room = match room {
        Ok(room) => room,
        Err(missing) => return waits("Room in the header over the cold mark", missing),
    };
    let whole = |cubic: f64| super::whole(volume.measured.value.si(), cubic);
    let (least, most) = (
        grows * volume.measured.low.si(),
        whole(grows * volume.measured.high.si()),
    );
    // A twentieth of the whole stays as air, so that the heat left after stopping throws nothing out.
    let reserve = whole(0.05 * volume.measured.value.si());
    let grade = if room.measured.high.si() < least {
        Grade::Unsound
    } else if room.measured.low.si() < most + reserve {
        Grade::Marginal
    } else {
        Grade::Sound
    };
    let grown = whole(grows * volume.measured.value.si());
    let has = room.measured.value.si();
    let because = Words::of(|system| {
        let at_most = if most > grown {
            format!(", {} at most", litres(most, system))
        } else {
            String::new()
        };
        format!(
            "{}, {} in all{at_most}; with {} of air above it wants {}, and the header has room for {} over its cold mark.",
            said(system),
            litres(grown, system),
            litres(reserve, system),
            litres(most + reserve, system),
            litres(has, system)
        )
    });
    let mut verdict = subject.verdict(Stage::Fill, rule, grade, because);
    if let Some(place) = &room.place {
        verdict.place = place.clone();
    }
    verdict.input("V", "circuit", volume);
    verdict.input("room", "over the cold mark", room);
    if let Some(alarm) = &input.hottest {
        verdict.input("t", "alarm", alarm);
    }
    verdict.step(
        "V (ρ cold / ρ hot − 1)",
        Words::of(|system| {
            format!(
                "{} · {}",
                litres(volume.measured.value.si(), system),
                percent(grows)
            )
        }),
        Words::of(|system| litres(grown, system)),
    );
    verdict.working.limit = Words::of(|system| {
        format!(
            "room for that and for {} of air, a twentieth of the whole; common practice, no source",
            litres(reserve, system)
        )
    });
    verdict.source(format!(
        "ASHRAE Handbook, Fundamentals, 2001, density of inhibited glycol by volume, up to {TABLE_END:.0} °C"
    ));
    if input.hottest.is_none() {
        verdict.source(
            "no alarm is written: 95 °C is the top of what is usual (common practice, no source)",
        );
    }
    verdict.margin = Some(Margin {
        value: room.measured.value.si(),
        deviation: None,
        low: Some(most),
        high: None,
        kind: Kind::Volume,
    });
    if grade != Grade::Sound {
        // Lost is only what the room does not hold; too little air is no loss yet.
        let until = if room.measured.high.si() < least {
            "a part goes out through the cap when she first gets hot"
        } else if room.measured.low.si() < most {
            "a part may go out through the cap when she gets hot"
        } else {
            "less air than that is left above, and the heat left after stopping may push a little out"
        };
        verdict.remedy = Words::of(|system| {
            format!(
                "Fill to a lower mark, or fit a header that leaves {} over the cold mark; until then {until}.",
                litres(most + reserve, system)
            )
        });
        verdict.caution =
            Some("Hot and under pressure: open the cap only when the engine is cold.".into());
    }
    Some(verdict)
}
