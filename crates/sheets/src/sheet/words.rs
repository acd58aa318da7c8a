//! Small pieces that all sheets share: cautions, values by how they came to be, columns, lists.

use quantity::System;
use reckon::{Grade, Holds, HowWritten, JointRow, Shown, SurveyBox, Verdict};

use crate::doc::{Block, Cell, Column, Span};
use crate::draw::number::{Origin, spans};

/// Hot coolant.
pub const HOT: &str = "Hot coolant is under pressure and scalds: undo cap, bleed, hose or clip only when the engine is cold.";
/// Holes in the hull.
pub const HULL: &str = "Hull fittings hold the sea out: open or renew none afloat; that is work for ashore, by local rules and licensed practice.";
/// Glycol.
pub const GLYCOL: &str = "Coolant with glycol is poison and tastes sweet: catch every drip, none into the bilge, and none where a child or an animal can get at it.";
/// What goes before the sheet.
pub const FIRST: &str =
    "Local rules and the work of licensed people go before anything on this page.";
/// Where nothing has a source.
pub const PRACTICE: &str = "common practice, no source";

/// Upright text.
pub fn plain(text: impl Into<String>) -> Span {
    Span::Plain(text.into())
}

/// Bold text.
pub fn bold(text: impl Into<String>) -> Span {
    Span::Bold(text.into())
}

/// Second text.
pub fn soft(text: impl Into<String>) -> Span {
    Span::Soft(text.into())
}

/// A paragraph of upright text.
pub fn text(words: impl Into<String>) -> Block {
    Block::Text(vec![plain(words)])
}

/// A paragraph of second text.
pub fn aside(words: impl Into<String>) -> Block {
    Block::Text(vec![soft(words)])
}

/// A cell of one line.
pub fn cell(words: impl Into<String>) -> Cell {
    vec![vec![plain(words)]]
}

/// A column.
pub fn column(head: &str, share: f64) -> Column {
    Column {
        head: head.to_owned(),
        share,
        right: false,
    }
}

/// A column whose texts stand at the right.
pub fn figures(head: &str, share: f64) -> Column {
    Column {
        right: true,
        ..column(head, share)
    }
}

/// Joins names as one says them: `a, b and c`.
pub fn listed<S: AsRef<str>>(names: &[S]) -> String {
    match names {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [rest @ .., last] => {
            let rest: Vec<&str> = rest.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", rest.join(", "), last.as_ref())
        }
    }
}

/// `1 joint`, `12 joints`.
pub fn counted(count: usize, one: &str) -> String {
    let many = if count == 1 { "" } else { "s" };
    format!("{count} {one}{many}")
}

/// What nobody has measured, with its word.
pub fn nobody_measured(value: &str, word: &str) -> Span {
    let origin = match word {
        "guessed" => Origin::Guessed,
        _ => Origin::Assumed,
    };
    // OK because such a value is one piece.
    spans(value, &origin).remove(0)
}

/// A size of a joint, set by how it came to be; an unknown one is a box to fill.
pub fn size(name: &str, shown: Option<&Shown>, units: System) -> Vec<Span> {
    let mut line = vec![plain(name)];
    match shown {
        Some(shown) => {
            let origin = match (shown.guessed, shown.from.as_str()) {
                (true, "guessed") => Origin::Guessed,
                (true, _) => Origin::Assumed,
                (false, from) => Origin::Measured(from.to_owned()),
            };
            line.extend(spans(shown.text.in_units(units), &origin));
        }
        None => line.push(Span::Grade(Grade::Unmeasured)),
    }
    line
}

/// What a box of the survey holds, set by how it came to be.
pub fn written(own: &SurveyBox, units: System) -> Vec<Span> {
    match (own.holds, &own.written) {
        (Holds::Nothing, _) => entry(own, units),
        (Holds::Unknown, _) => {
            let mut line = spans("looked: could not tell", &Origin::Unknown);
            line.extend(entry(own, units));
            line
        }
        (Holds::TwoReadings, Some(written)) => vec![
            plain(written.text.in_units(units)),
            soft(" two readings differ: measure again "),
            Span::Empty(20.0, unit(own, units).to_owned()),
        ],
        (_, Some(written)) => {
            let text = written.text.in_units(units);
            match written.standing {
                HowWritten::Read(with) => spans(text, &Origin::Measured(with.name().to_owned())),
                HowWritten::Guessed => spans(text, &Origin::Guessed),
                HowWritten::Wanted => vec![plain(text), soft("wanted")],
                HowWritten::Planned => vec![plain(text), soft("planned")],
                HowWritten::Choose => spans("", &Origin::Chosen),
                HowWritten::Said => vec![plain(text)],
            }
        }
        // It is written, but in a form that no line of paper holds.
        (Holds::Value | Holds::TwoReadings, None) => vec![soft("stands in the file")],
    }
}

/// The unit to write a value of a box in.
pub fn unit(own: &SurveyBox, units: System) -> &'static str {
    use reckon::Entry as E;
    match (own.entry, units) {
        (E::Length, System::Metric) => "mm",
        (E::Length, System::Imperial) => "in",
        (E::Pressure | E::PressureAtTemperature, System::Metric) => "bar",
        (E::Pressure | E::PressureAtTemperature, System::Imperial) => "psi",
        (E::Temperature, System::Metric) => "°C",
        (E::Temperature, System::Imperial) => "°F",
        (E::Number | E::Text, _) => "",
    }
}

/// Empty boxes for what goes into one box of the survey.
pub fn entry(own: &SurveyBox, units: System) -> Vec<Span> {
    use reckon::Entry as E;
    let unit = unit(own, units).to_owned();
    match own.entry {
        E::Length | E::Temperature => vec![
            Span::Empty(20.0, unit),
            plain(" ± "),
            Span::Empty(10.0, String::new()),
        ],
        E::Pressure => vec![Span::Empty(20.0, unit)],
        E::PressureAtTemperature => {
            let heat = match units {
                System::Metric => "°C",
                System::Imperial => "°F",
            };
            vec![
                Span::Empty(14.0, unit),
                plain(" @ "),
                Span::Empty(12.0, heat.to_owned()),
            ]
        }
        E::Number => vec![Span::Empty(20.0, String::new())],
        E::Text => vec![Span::Empty(44.0, String::new())],
    }
}

/// The verdicts of a joint.
pub fn of_joint<'a>(
    row: &'a JointRow,
    verdicts: &'a [Verdict],
) -> impl Iterator<Item = &'a Verdict> {
    verdicts.iter().filter(move |verdict| {
        let rest = verdict.id.strip_prefix(&row.id_prefix);
        // `fit.hot.to` is no prefix of what `fit.hot.tee.a.clip` is about, nor of `fit.hot.to.x.clip`.
        rest.and_then(|rest| rest.strip_prefix('.'))
            .is_some_and(|rule| !rule.contains('.'))
    })
}

/// Why, and what to do: `because → remedy`.
pub fn reason(verdict: &Verdict, units: System) -> Vec<Span> {
    let mut spans = vec![plain(format!(" {}", verdict.because.in_units(units)))];
    let remedy = verdict.remedy.in_units(units);
    let settles = verdict.settles.as_ref().map(|settles| settles.how.as_str());
    let does = if remedy.is_empty() {
        settles.unwrap_or_default()
    } else {
        remedy
    };
    if !does.is_empty() {
        spans.push(bold(format!(" → {does}")));
    }
    spans
}

/// A sentence, then its source in second text.
pub fn cited(cited: &reckon::Cited, units: System) -> Vec<Span> {
    vec![
        plain(cited.says.in_units(units)),
        soft(format!("  {}", cited.source)),
    ]
}

/// The cautions that stand already: each stands once, above the first act that it concerns.
#[derive(Debug, Default)]
pub struct Warned {
    said: Vec<String>,
}

impl Warned {
    /// The caution of a verdict, unless it was given before.
    pub fn first(&mut self, verdict: &Verdict) -> Option<Block> {
        let caution = verdict.caution.as_ref()?;
        if self.said.contains(caution) {
            return None;
        }
        self.said.push(caution.clone());
        Some(Block::Caution(caution.clone()))
    }
}

/// The rule of a verdict for people: `clip`, `anode tape`.
pub fn rule(verdict: &Verdict) -> String {
    let rule = verdict.id.rsplit('.').next().unwrap_or_default();
    rule.replace('-', " ")
}

/// A verdict by its subject and its rule: `cold on keel-aft (B1), clips`.
pub fn named(verdict: &Verdict) -> String {
    format!("{}, {}", verdict.title, rule(verdict))
}
