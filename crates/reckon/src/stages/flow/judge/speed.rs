//! Speed of the water: each part against the limit of what it is made of and of what it does.

use quantity::Kind;

use super::{
    COMPUTED, Case, HOT, Named, PRACTICE, RAW_WATER, SOLVED, by_state, deg, flowing, input,
    of_speed, percent, subject, verdict,
};
use crate::stages::flow::row::{CoolerRow, ItemRow, Stuff};
use crate::verdict::{Basis, Grade, Margin, Verdict, Words};

/// Where the recommended speeds of raw water come from; of aluminium bronze the table has the speed of design.
const RAW: &str = "Corrosion Engineering: Principles and Practice, table 6.3, greatest speeds of sea water in tubes of 25 mm";
/// Where the speeds in copper come from.
const TUBE: &str =
    "Copper Development Association, tube handbook, for aerated hot water, from memory";
/// Passages of a keel cooler [m/s]: slower ones silt up or run laminar, faster ones are worn.
const PASSAGE: [f64; 2] = [0.6, 2.4];

/// What a part may carry.
#[derive(Clone, Copy)]
struct Limit {
    /// Up to here it is sound [m/s].
    design: f64,
    /// Over this it is unsound [m/s].
    upper: f64,
    /// Of what: `the suction side`.
    of: &'static str,
    source: &'static str,
}

/// A part in the state in which it runs fastest against its limit.
struct Part<'c> {
    named: &'c Named<'c>,
    item: &'c ItemRow,
    speed: f64,
    limit: Limit,
}

impl Part<'_> {
    /// Speed over its limit.
    fn share(&self) -> f64 {
        self.speed / self.limit.design
    }

    fn grade(&self) -> Grade {
        if self.speed > self.limit.upper {
            Grade::Unsound
        } else if self.speed > self.limit.design {
            Grade::Marginal
        } else {
            Grade::Sound
        }
    }

    /// Parts of one run carry the same water, so that one verdict does for them.
    fn family(&self) -> &str {
        if self.item.run.is_empty() {
            &self.item.subject
        } else {
            &self.item.run
        }
    }
}

const fn of(design: f64, upper: f64, of: &'static str, source: &'static str) -> Limit {
    Limit {
        design,
        upper,
        of,
        source,
    }
}

/// The limit of a part.
fn limit(item: &ItemRow) -> Limit {
    let hot = item.temperatures[0].max(item.temperatures[1]);
    match (item.raw, item.stuff) {
        (true, Stuff::Copper) => of(0.6, 0.9, "raw water in copper", RAW),
        (true, Stuff::CuproNickel) => of(3.0, 3.6, "raw water in 90/10 copper-nickel", RAW),
        // Which brass it is nobody tells, so the weaker of the usual ones stands for all.
        (true, Stuff::Brass) => of(1.2, 1.8, "raw water in brass", RAW),
        // Bronzes go from as little as brass stands to what aluminium bronze is designed for: over the first is a
        // warning, over the last no grade stands it.
        (true, Stuff::Bronze) => of(1.2, 2.7, "raw water in bronze, its grade not told", RAW),
        (true, Stuff::AluminiumBronze) => of(2.7, 3.0, "raw water in aluminium bronze", RAW),
        (true, _) => of(2.5, 3.0, "raw water in hose and what is not told", PRACTICE),
        (false, _) if item.suction => of(1.5, 3.0, "the suction side", PRACTICE),
        // The figures are for aerated water; a closed circuit loses its air, so that over the figure
        // is no more than a warning up to the limit of any loop.
        (false, Stuff::Copper) if hot > 60.0 => of(0.9, 3.0, "copper over 60 °C (140 °F)", TUBE),
        (false, Stuff::Copper) if hot > 25.0 => of(1.5, 3.0, "copper up to 60 °C (140 °F)", TUBE),
        (false, Stuff::Copper) => of(2.4, 3.0, "cold copper", TUBE),
        (false, _) => of(2.5, 3.0, "the fresh-water loop", PRACTICE),
    }
}

/// Judges the family.
pub(super) fn judge(case: &Case, out: &mut Vec<Verdict>) {
    let before = out.len();
    passages(case, out);
    let parts = parts(case);
    let mut said_of: Vec<&str> = Vec::new();
    for part in &parts {
        if part.grade() == Grade::Sound || said_of.contains(&part.family()) {
            continue;
        }
        let kin: Vec<&Part> = parts
            .iter()
            .filter(|other| other.family() == part.family() && other.grade() != Grade::Sound)
            .collect();
        let worst = kin.iter().copied().max_by(|a, b| {
            let grade = a.grade().cmp(&b.grade());
            grade.then(a.share().total_cmp(&b.share()))
        });
        if let Some(worst) = worst {
            out.push(fast(case, worst, kin.len()));
        }
        said_of.push(part.family());
    }
    if out.len() > before {
        return;
    }
    let fastest = parts.iter().max_by(|a, b| a.share().total_cmp(&b.share()));
    if let Some(part) = fastest {
        out.push(calm(case, part, parts.len()));
    }
}

/// Every part with a bore, once, in its worst state; coolers with passages of their own stand apart.
fn parts<'c>(case: &'c Case<'c>) -> Vec<Part<'c>> {
    let mut parts: Vec<Part<'c>> = Vec::new();
    for (named, figures) in case.steady() {
        for item in &figures.items {
            let own = figures
                .coolers
                .iter()
                .any(|cooler| cooler.subject == item.subject && passage(cooler).is_some());
            let Some(speed) = item.speed.map(f64::abs).filter(|_| !own) else {
                continue;
            };
            let part = Part {
                named,
                item,
                speed,
                limit: limit(item),
            };
            let known = parts
                .iter()
                .position(|known| known.item.subject == item.subject);
            match known {
                Some(at) if part.share() > parts[at].share() => parts[at] = part,
                Some(_) => {}
                None => parts.push(part),
            }
        }
    }
    parts
}

/// A part that runs too fast.
fn fast(case: &Case, part: &Part, kin: usize) -> Verdict {
    let item = part.item;
    let whole = subject(&item.subject, &item.title, &item.place);
    let grade = part.grade();
    let because = Words::of(|system| {
        let others = match kin {
            0 | 1 => String::new(),
            2 => format!(", and 1 more part of {} is over too", item.run),
            _ => format!(", and {} more parts of {} are over too", kin - 1, item.run),
        };
        let bound = match grade {
            Grade::Unsound => part.limit.upper,
            _ => part.limit.design,
        };
        format!(
            "The water runs at {} in {}, over the {} of {}{others}.",
            flowing(part.speed, system),
            part.named.at(system),
            flowing(bound, system),
            part.limit.of
        )
    });
    let remedy = match (item.raw, item.suction) {
        (true, _) => "Take a wider bore here, or a metal that stands this speed of raw water.",
        (false, true) => {
            "Widen the suction side from the last cooler to the pump, and leave no narrower part in it."
        }
        (false, false) => "Take a wider bore here.",
    };
    let mut said = verdict(&whole, "speed", grade, because, remedy);
    said.caution = Some(if item.raw { RAW_WATER } else { HOT }.into());
    said.margin = Some(Margin {
        value: part.speed,
        deviation: None,
        low: None,
        high: Some(part.limit.design),
        kind: Kind::Speed,
    });
    working(case, part, &mut said);
    said
}

/// All parts stay under their limits.
fn calm(case: &Case, part: &Part, count: usize) -> Verdict {
    let because = Words::of(|system| {
        format!(
            "Of {count} parts with a bore, {} comes nearest to its limit: {} in {}, {} of the {} of {}.",
            part.item.title,
            flowing(part.speed, system),
            part.named.at(system),
            percent(part.share()),
            flowing(part.limit.design, system),
            part.limit.of
        )
    });
    let mut said = verdict(&case.circuit(), "speed", Grade::Sound, because, "");
    working(case, part, &mut said);
    said
}

/// The part's speeds in all states, and its limit.
fn working(case: &Case, part: &Part, said: &mut Verdict) {
    if let Some(bore) = part.item.bore.and_then(crate::say::diameter) {
        input(said, "d", "bore", bore, "file");
    }
    input(
        said,
        "v",
        "speed of the water",
        of_speed(part.speed),
        COMPUTED,
    );
    for (named, figures) in case.steady() {
        let same = figures
            .items
            .iter()
            .find(|item| item.subject == part.item.subject);
        if let Some((item, speed)) = same.and_then(|item| Some((item, item.speed?.abs()))) {
            let words = Words::of(|system| {
                format!(
                    "{} at {}",
                    flowing(speed, system),
                    deg(item.temperatures[1], system)
                )
            });
            by_state(said, "v", named, words);
        }
    }
    said.working.limit = Words::of(|system| {
        let (design, upper) = (part.limit.design, part.limit.upper);
        format!(
            "{} for {}, and never over {}",
            flowing(design, system),
            part.limit.of,
            flowing(upper, system)
        )
    });
    said.source(SOLVED);
    said.source(part.limit.source);
}

/// The speed in the passages of a cooler in the sea.
fn passage(cooler: &CoolerRow) -> Option<f64> {
    let keel = cooler.raw_out.is_none() && cooler.area.is_some();
    cooler.speed.map(f64::abs).filter(|_| keel)
}

/// Coolers in the sea by their fastest state: what is slow even then silts up.
fn passages(case: &Case, out: &mut Vec<Verdict>) {
    let mut fastest: Vec<(&Named, &CoolerRow, f64)> = Vec::new();
    for (named, figures) in case.steady() {
        for cooler in &figures.coolers {
            let Some(speed) = passage(cooler) else {
                continue;
            };
            let known = fastest
                .iter()
                .position(|known| known.1.subject == cooler.subject);
            match known {
                Some(at) if speed > fastest[at].2 => fastest[at] = (named, cooler, speed),
                Some(_) => {}
                None => fastest.push((named, cooler, speed)),
            }
        }
    }
    for (named, cooler, speed) in fastest {
        if (PASSAGE[0]..=PASSAGE[1]).contains(&speed) {
            continue;
        }
        let slow = speed < PASSAGE[0];
        let because = Words::of(|system| {
            let (word, bound) = if slow {
                ("under", PASSAGE[0])
            } else {
                ("over", PASSAGE[1])
            };
            format!(
                "The coolant runs through it at {} in {}, its fastest state, {word} the {} of a cooler's passages.",
                flowing(speed, system),
                named.at(system),
                flowing(bound, system)
            )
        });
        let remedy = if slow {
            "Lead the coolant through fewer passages at once, or give it more flow: slow water lets mud and rust settle and takes heat badly to the wall."
        } else {
            "Lead the coolant through more passages at once: fast water wears the wall."
        };
        let whole = subject(
            &cooler.subject,
            &cooler.title,
            &boat::thing_path(&cooler.subject),
        );
        let mut said = verdict(&whole, "speed", Grade::Marginal, because, remedy);
        said.basis = Basis::Practice;
        said.margin = Some(Margin {
            value: speed,
            deviation: None,
            low: Some(PASSAGE[0]),
            high: Some(PASSAGE[1]),
            kind: Kind::Speed,
        });
        input(
            &mut said,
            "v",
            "speed in the passages",
            of_speed(speed),
            COMPUTED,
        );
        said.working.limit = Words::of(|system| {
            format!(
                "{} to {} in the passages of a keel cooler",
                flowing(PASSAGE[0], system),
                flowing(PASSAGE[1], system)
            )
        });
        said.source(SOLVED);
        said.source(PRACTICE);
        out.push(said);
    }
}
