//! Coolers: laminar passages, where the resistance sits, their area, raw water that scales, and stores that are none.

use quantity::{Area, HeatPerKelvin, Kind, Quantity, System, show, show_range};

use super::{
    COMPUTED, Case, Named, PRACTICE, RAW_WATER, SOLVED, ZERO, by_state, deg, inner, input, number,
    of_celsius, percent, power, subject, verdict,
};
use crate::say;
use crate::stages::flow::row::{AreaRow, CoolerRow, Duty, Figures};
use crate::stages::types::{SaltFacts, Subject};
use crate::verdict::{Basis, Grade, Margin, Number, Verdict, Words};

/// Laminar below, turbulent from. Source: V. Gnielinski (2013), bounds of the range between.
const LAMINAR: f64 = reference::film::LAMINAR_UP_TO;
const TURBULENT: f64 = reference::film::TURBULENT_FROM;
/// Whence.
const BOUNDS: &str =
    "Hagen and Poiseuille for laminar flow; V. Gnielinski (2013) for the range up to Re 4000";
/// A thermostat that is open so far leaves no cooling unused. Common practice, no source.
const WIDE: f64 = 0.9;
/// Raw water out [°C]: sound up to the one, unsound over the other. Common practice, no source.
const RAW_OUT: [f64; 2] = [50.0, 55.0];
/// Where the resistances sit, in the order of the row.
const RESISTANCES: [&str; 5] = [
    "The film of coolant inside",
    "Dirt inside",
    "Paint and wall",
    "Growth and dirt outside",
    "The film of water outside",
];

/// A cooler in one state.
struct Own<'c> {
    named: &'c Named<'c>,
    figures: &'c Figures,
    cooler: &'c CoolerRow,
}

/// Judges the family.
pub(super) fn judge(case: &Case, out: &mut Vec<Verdict>) {
    for all in by_cooler(case) {
        let Some(first) = all.first() else {
            continue;
        };
        let cooler = first.cooler;
        let whole = subject(
            &cooler.subject,
            &cooler.title,
            &boat::thing_path(&cooler.subject),
        );
        out.extend(laminar(&whole, &all));
        out.extend(resistance(&whole, &all));
        if case.facts.salt != SaltFacts::Fresh {
            out.extend(raw_out(&whole, &all));
        }
    }
    for area in &case.row.areas {
        out.extend(beside(case, area));
    }
}

/// The coolers, each with all its states.
fn by_cooler<'c>(case: &'c Case<'c>) -> Vec<Vec<Own<'c>>> {
    let mut coolers: Vec<Vec<Own<'c>>> = Vec::new();
    for (named, figures) in case.steady() {
        for cooler in &figures.coolers {
            let own = Own {
                named,
                figures,
                cooler,
            };
            let known = coolers.iter().position(|known| {
                known
                    .first()
                    .is_some_and(|first| first.cooler.subject == cooler.subject)
            });
            match known {
                Some(at) => coolers[at].push(own),
                None => coolers.push(vec![own]),
            }
        }
    }
    coolers
}

/// Laminar flow where the thermostat asks for all there is.
fn laminar(whole: &Subject, all: &[Own]) -> Option<Verdict> {
    let asked = all
        .iter()
        .filter(|own| own.figures.lift.is_none_or(|lift| lift.mid >= WIDE));
    // Of an exchanger the number is that of the raw water in its tubes.
    let passages = asked.filter(|own| own.cooler.raw_out.is_none());
    let numbers = passages.filter_map(|own| Some((own, own.cooler.reynolds?)));
    let (worst, reynolds) = numbers.min_by(|a, b| a.1.total_cmp(&b.1))?;
    if reynolds >= TURBULENT {
        return None;
    }
    let because = Words::of(|system| {
        let how = if reynolds < LAMINAR {
            "laminar, and the film inside takes little heat to the wall"
        } else {
            "between laminar and turbulent, where the film inside is uncertain"
        };
        format!(
            "In {} the coolant in its passages runs at a Reynolds number of {reynolds:.0}, {how}.",
            worst.named.at(system)
        )
    });
    let remedy = "Take no more glycol than the frost asks for, or give the passages more flow: cold rich coolant is thick.";
    let mut said = verdict(whole, "laminar", Grade::Marginal, because, remedy);
    said.basis = Basis::Physics;
    for own in all {
        if let Some(reynolds) = own.cooler.reynolds {
            let text = format!("{reynolds:.0}");
            by_state(&mut said, "Re", own.named, text.as_str().into());
        }
    }
    said.working.limit = format!(
        "Re over {TURBULENT:.0}, and surely not under {LAMINAR:.0}, where the thermostat is wide open"
    )
    .as_str()
    .into();
    said.source(SOLVED);
    said.source(BOUNDS);
    Some(said)
}

/// Where the resistance sits in the state that sheds most.
fn resistance(whole: &Subject, all: &[Own]) -> Option<Verdict> {
    let known = all.iter().filter_map(|own| Some((own, own.cooler.shares?)));
    let (own, shares) = known.max_by(|a, b| a.0.cooler.heat.total_cmp(&b.0.cooler.heat))?;
    let (at, largest) = shares
        .iter()
        .copied()
        .enumerate()
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    let verb = if at == 2 || at == 3 { "hold" } else { "holds" };
    let because = Words::of(|system| {
        format!(
            "{} {verb} {} of the whole resistance in {}, where it sheds {}: work there pays most.",
            RESISTANCES[at],
            percent(largest),
            own.named.at(system),
            power(own.cooler.heat, system)
        )
    });
    let mut said = verdict(whole, "resistance", Grade::Sound, because, "");
    said.basis = Basis::Physics;
    if let Some(ua) = HeatPerKelvin::from_si(own.cooler.ua) {
        input(
            &mut said,
            "UA",
            "heat for each kelvin",
            say::number(ua, None),
            COMPUTED,
        );
    }
    if let Some(area) = own.cooler.area {
        input(&mut said, "A", "outside surface", of_area(area), COMPUTED);
    }
    input(
        &mut said,
        "t_1",
        "coolant in",
        of_celsius(own.cooler.temperatures[0]),
        COMPUTED,
    );
    input(
        &mut said,
        "t_2",
        "coolant out",
        of_celsius(own.cooler.temperatures[1]),
        COMPUTED,
    );
    for (name, share) in RESISTANCES.iter().zip(shares) {
        let share = percent(share);
        said.step("share of 1 ÷ UA", (*name).into(), share.as_str().into());
    }
    said.working.limit = "none: it says where work would pay".into();
    said.source(SOLVED);
    Some(said)
}

/// Raw water so hot that salt falls out of it.
fn raw_out(whole: &Subject, all: &[Own]) -> Option<Verdict> {
    let known = all
        .iter()
        .filter_map(|own| Some((own, own.cooler.raw_out?)));
    let (worst, hottest) = known.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let grade = if hottest > RAW_OUT[1] {
        Grade::Unsound
    } else if hottest > RAW_OUT[0] {
        Grade::Marginal
    } else {
        Grade::Sound
    };
    let because = Words::of(|system| {
        format!(
            "Raw water leaves it at no more than {}, in {}; salt begins to cake the tubes at {} to {}.",
            deg(hottest, system),
            worst.named.at(system),
            deg(RAW_OUT[0], system),
            deg(RAW_OUT[1], system)
        )
    });
    let remedy = match grade {
        Grade::Sound => "",
        _ => "Give it more raw water: look at the strainer, the impeller and the inlet first.",
    };
    let mut said = verdict(whole, "raw-out", grade, because, remedy);
    if grade != Grade::Sound {
        said.caution = Some(RAW_WATER.into());
    }
    said.margin = Some(Margin {
        value: hottest + ZERO,
        deviation: None,
        low: None,
        high: Some(RAW_OUT[0] + ZERO),
        kind: Kind::Temperature,
    });
    for own in all {
        if let Some(raw) = own.cooler.raw_out {
            let words = Words::of(|system| deg(raw, system));
            by_state(&mut said, "t_raw", own.named, words);
        }
    }
    said.working.limit = Words::of(|system| {
        format!(
            "{}, and never over {}",
            deg(RAW_OUT[0], system),
            deg(RAW_OUT[1], system)
        )
    });
    said.source(SOLVED);
    said.source(PRACTICE);
    Some(said)
}

/// Area as text.
fn square(area: f64, system: System) -> String {
    Area::from_si(area).map_or_else(|| "no area".to_owned(), |area| show(area, None, system))
}

/// From the smallest to the largest.
fn squares(low: f64, high: f64, system: System) -> String {
    match (Area::from_si(low), Area::from_si(high)) {
        (Some(low), Some(high)) => show_range(low, high, system),
        _ => "no area".to_owned(),
    }
}

/// Area as a number.
fn of_area(area: f64) -> Number {
    number(Kind::Area, area, |system| square(area, system))
}

/// Area beside the rules of thumb; only what was reckoned grades it.
fn beside(case: &Case, own: &AreaRow) -> Option<Verdict> {
    let most = own.reckoned.iter().max_by(|a, b| a.2.total_cmp(&b.2))?;
    let need = most.2;
    let duty = |duty: Duty| match duty {
        Duty::Moving => "making way",
        Duty::Tied => "tied up",
    };
    let (low, high) = own
        .rules
        .iter()
        .fold((f64::INFINITY, 0.0_f64), |(low, high), rule| {
            (low.min(rule.1), high.max(rule.1))
        });
    let because = Words::of(|system| {
        let wants: Vec<String> = own
            .reckoned
            .iter()
            .map(|(state, way, area)| {
                format!("{} in {state} {}", square(*area, system), duty(*way))
            })
            .collect();
        let rules = if own.rules.is_empty() {
            String::new()
        } else {
            format!("; rules of thumb ask for {}", squares(low, high, system))
        };
        format!(
            "It has {} in the sea; by the reckoning it takes {}{rules}.",
            square(own.area, system),
            say::list(&wants, "and")
        )
    });
    let (grade, remedy) = if need > own.area {
        (
            Grade::Marginal,
            "Add surface, clean it and thin its paint, or spare the state that asks for most.",
        )
    } else {
        (Grade::Sound, "")
    };
    let title = case
        .steady()
        .flat_map(|(_, figures)| &figures.coolers)
        .find(|cooler| cooler.subject == own.subject)
        .map_or(own.subject.as_str(), |cooler| cooler.title.as_str());
    let whole = subject(&own.subject, title, &boat::thing_path(&own.subject));
    let mut said = verdict(&whole, "area", grade, because, remedy);
    said.margin = Some(Margin {
        value: own.area,
        deviation: None,
        low: Some(need),
        high: None,
        kind: Kind::Area,
    });
    input(
        &mut said,
        "A",
        "outside surface in the sea",
        of_area(own.area),
        "file",
    );
    for (state, way, area) in &own.reckoned {
        said.step(
            "A that does, reckoned",
            format!("{state}, {}", duty(*way)).as_str().into(),
            Words::of(|system| square(*area, system)),
        );
    }
    for (rule, area, source) in &own.rules {
        said.step(
            "A by a rule of thumb",
            format!("{}, {}", inner(rule), inner(source))
                .as_str()
                .into(),
            Words::of(|system| square(*area, system)),
        );
        said.source(source.as_str());
    }
    said.working.limit =
        "the area that is reckoned for the hardest state; rules of thumb are shown beside it and grade nothing".into();
    said.source(SOLVED);
    Some(said)
}
