//! The verdict report: by what each verdict rests on, then what was seen, and what was not.

use quantity::System;
use reckon::{Answer, Basis, Grade, Sighted, Verdict};

use super::sheet;
use super::words::{FIRST, Warned, aside, bold, cell, column, named, plain, rule, soft, text};
use crate::doc::{Block, Sheet, Span, Table};

/// Whether workings are printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Working {
    /// Only reasons and remedies.
    #[default]
    Left,
    /// Inputs, formulas, results, limits and sources of all that is not sound.
    Shown,
}

/// The report of an answer, with what the surveyor wrote in his own words.
pub fn report(answer: &Answer, sighted: &[Sighted], working: Working, units: System) -> Sheet {
    let mut blocks = vec![counts(&answer.verdicts)];
    blocks.push(text(
        "A rule is one that the boat's file says binds her; good practice is what careful people do; physics is what no opinion changes. “Sound” is about the one subject named, on what was measured.",
    ));
    blocks.push(aside(
        "This report approves no boat, part or installation. What a class society, a flag state, an insurer or the maker of the engine demands is theirs to say.",
    ));
    blocks.push(aside(FIRST));
    let manner = Manner { working, units };
    // What does not hold stands first, whatever it rests on.
    let unsound = |verdict: &&Verdict| verdict.grade == Grade::Unsound;
    let unsound: Vec<&Verdict> = answer.verdicts.iter().filter(unsound).collect();
    blocks.push(Block::Head(format!("Unsound: {}", unsound.len())));
    if unsound.is_empty() {
        blocks.push(text("Nothing here."));
    }
    let mut warned = Warned::default();
    for group in alike(&unsound, units) {
        blocks.extend(manner.told(&group, &mut warned, true));
    }
    for (basis, head, none) in [
        (
            Basis::Rule,
            "Rule",
            "No verdict rests on a rule: the file names none that binds this boat here.",
        ),
        (Basis::Practice, "Good practice", "Nothing here."),
        (Basis::Physics, "Physics", "Nothing here."),
    ] {
        blocks.push(Block::Head(head.into()));
        let told = |grade: Grade| matches!(grade, Grade::Marginal | Grade::Sound);
        let own = |verdict: &&Verdict| verdict.basis == basis && told(verdict.grade);
        let of_basis: Vec<&Verdict> = answer.verdicts.iter().filter(own).collect();
        if of_basis.is_empty() {
            let above = unsound.iter().any(|verdict| verdict.basis == basis);
            blocks.push(text(if above { "Nothing else here." } else { none }));
        }
        let mut warned = Warned::default();
        let marginal = |verdict: &&Verdict| verdict.grade == Grade::Marginal;
        let marginal: Vec<&Verdict> = of_basis.iter().copied().filter(marginal).collect();
        for group in alike(&marginal, units) {
            blocks.extend(manner.told(&group, &mut warned, false));
        }
        let sound = of_basis
            .iter()
            .filter(|verdict| verdict.grade == Grade::Sound);
        blocks.extend(sound.clone().filter_map(|verdict| warned.first(verdict)));
        let count = sound.clone().count();
        if count > 0 {
            blocks.push(Block::Text(vec![
                Span::Grade(Grade::Sound),
                bold(format!(" {count}: ")),
                soft(by_title(sound)),
            ]));
        }
    }
    seen(sighted, &mut blocks);
    not_seen(answer, sighted, units, &mut blocks);
    sheet("report", "Verdict report", blocks)
}

fn counts(verdicts: &[Verdict]) -> Block {
    let mut spans = Vec::new();
    for grade in [
        Grade::Unmeasured,
        Grade::Unsound,
        Grade::Marginal,
        Grade::Sound,
    ] {
        let count = verdicts
            .iter()
            .filter(|verdict| verdict.grade == grade)
            .count();
        spans.push(bold(format!("{count} ")));
        spans.push(Span::Grade(grade));
        spans.push(plain("   "));
    }
    Block::Text(spans)
}

/// What is sound, a title once with all that is sound of it.
fn by_title<'a>(sound: impl Iterator<Item = &'a &'a Verdict>) -> String {
    let mut all: Vec<(&str, Vec<String>)> = Vec::new();
    for verdict in sound {
        match all.iter_mut().find(|(title, _)| *title == verdict.title) {
            Some((_, rules)) => rules.push(rule(verdict)),
            None => all.push((&verdict.title, vec![rule(verdict)])),
        }
    }
    let each: Vec<String> = all
        .into_iter()
        .map(|(title, rules)| format!("{title}: {}", rules.join(", ")))
        .collect();
    each.join("; ")
}

/// Verdicts in their order; those that want the same done stand with the first of them.
fn alike<'a>(verdicts: &[&'a Verdict], units: System) -> Vec<Vec<&'a Verdict>> {
    let mut groups: Vec<Vec<&Verdict>> = Vec::new();
    for &verdict in verdicts {
        let remedy = verdict.remedy.in_units(units);
        let known = groups.iter_mut().find(|group| {
            !remedy.is_empty() && group.iter().all(|own| own.remedy.in_units(units) == remedy)
        });
        match known {
            Some(group) => group.push(verdict),
            None => groups.push(vec![verdict]),
        }
    }
    groups
}

/// How verdicts are told.
#[derive(Clone, Copy)]
struct Manner {
    working: Working,
    units: System,
}

impl Manner {
    /// Verdicts that want the same done: the one as a whole, of several what to do once and who wants it.
    fn told(self, group: &[&Verdict], warned: &mut Warned, basis: bool) -> Vec<Block> {
        let mut blocks = match group {
            [only] => vec![Block::Together(self.one(only, warned, basis))],
            several => self.several(several, warned, basis),
        };
        if self.working == Working::Shown {
            for verdict in group {
                if group.len() > 1 {
                    blocks.push(Block::Text(vec![bold(named(verdict))]));
                }
                blocks.extend(worked(verdict, self.units));
            }
        }
        blocks
    }

    /// Caution, title, reason, remedy, chance.
    fn one(self, verdict: &Verdict, warned: &mut Warned, basis: bool) -> Vec<Block> {
        let mut blocks: Vec<Block> = warned.first(verdict).into_iter().collect();
        blocks.push(Block::Text(vec![
            Span::Grade(verdict.grade),
            bold(format!(" {}", named(verdict))),
        ]));
        blocks.push(text(verdict.because.in_units(self.units)));
        let remedy = verdict.remedy.in_units(self.units);
        if !remedy.is_empty() {
            blocks.push(Block::Text(vec![bold(format!("→ {remedy}"))]));
        }
        let mut foot = about(verdict, basis);
        if self.working == Working::Left && !verdict.working.sources.is_empty() {
            foot.push(verdict.working.sources.join("; "));
        }
        blocks.push(aside(foot.join(" · ")));
        blocks
    }

    /// What several want done, then each reason with all that it is the reason of, and the sources of all.
    fn several(self, group: &[&Verdict], warned: &mut Warned, basis: bool) -> Vec<Block> {
        let mut first: Vec<Block> = group.iter().filter_map(|own| warned.first(own)).collect();
        let (grade, remedy) = group.first().map_or((Grade::Marginal, ""), |own| {
            (own.grade, own.remedy.in_units(self.units))
        });
        first.push(Block::Text(vec![
            Span::Grade(grade),
            bold(format!(" {}× → {remedy}", group.len())),
        ]));
        let mut reasons: Vec<(&str, Vec<&Verdict>)> = Vec::new();
        let mut sources: Vec<&str> = Vec::new();
        for verdict in group {
            let because = verdict.because.in_units(self.units);
            match reasons.iter_mut().find(|(own, _)| *own == because) {
                Some((_, own)) => own.push(verdict),
                None => reasons.push((because, vec![verdict])),
            }
            for source in &verdict.working.sources {
                if !sources.contains(&source.as_str()) {
                    sources.push(source);
                }
            }
        }
        let mut entries = reasons.into_iter().map(|(because, own)| {
            let names: Vec<String> = own.iter().map(|own| named(own)).collect();
            let foot: Vec<String> = own
                .iter()
                .map(|own| about(own, basis).join(" · "))
                .collect();
            Block::Text(vec![
                bold(format!("{}:", names.join("; "))),
                plain(because),
                soft(foot.join("; ")),
            ])
        });
        first.extend(entries.next());
        let mut blocks = vec![Block::Together(first)];
        blocks.extend(entries);
        if self.working == Working::Left && !sources.is_empty() {
            blocks.push(aside(sources.join("; ")));
        }
        blocks
    }
}

/// On what it rests, how likely it holds, and its name for the screen.
fn about(verdict: &Verdict, basis: bool) -> Vec<String> {
    let mut about: Vec<String> = Vec::new();
    if basis {
        let word = match verdict.basis {
            Basis::Rule => "rule",
            Basis::Practice => "good practice",
            Basis::Physics => "physics",
        };
        about.push(word.to_owned());
    }
    let chance = verdict.chance.map(quantity::show_chance);
    about.extend(chance.map(|chance| format!("holds {chance}")));
    about.push(verdict.id.clone());
    about
}

/// Inputs, steps, limit, sources.
fn worked(verdict: &Verdict, units: System) -> Vec<Block> {
    let working = &verdict.working;
    let mut blocks = Vec::new();
    if !working.inputs.is_empty() {
        let rows = working.inputs.iter().map(|input| {
            let value = input.value.text.in_units(units);
            let tolerance = input
                .tolerance
                .as_ref()
                .map(|tolerance| tolerance.text.in_units(units));
            let text = match tolerance {
                Some(tolerance) => format!("{value} ± {tolerance}"),
                None => value.to_owned(),
            };
            let value = if matches!(input.from.as_str(), "assumed" | "guessed") {
                vec![super::words::nobody_measured(&text, &input.from)]
            } else {
                vec![plain(text), soft(format!(" {}", input.from))]
            };
            vec![
                cell(input.symbol.clone()),
                cell(input.name.clone()),
                vec![value],
            ]
        });
        blocks.push(Block::Table(Table {
            columns: vec![
                column("", 0.12),
                column("what went in", 0.4),
                column("", 0.48),
            ],
            rows: rows.collect(),
        }));
    }
    for step in &working.steps {
        let mut spans = vec![plain(step.formula.clone())];
        let filled = step.filled.in_units(units);
        if !filled.is_empty() {
            spans.push(soft(format!(" · {filled}")));
        }
        let result = step.result.in_units(units);
        if !result.is_empty() {
            spans.push(bold(format!(" = {result}")));
        }
        blocks.push(Block::Text(spans));
    }
    let limit = working.limit.in_units(units);
    if !limit.is_empty() {
        blocks.push(Block::Text(vec![plain("Limit: "), bold(limit)]));
    }
    if !working.sources.is_empty() {
        blocks.push(aside(working.sources.join("; ")));
    }
    blocks
}

/// What was seen, in the surveyor's words: his opinion, and nobody else's.
fn seen(sighted: &[Sighted], blocks: &mut Vec<Block>) {
    blocks.push(Block::Head(
        "Opinions: what was seen, in the surveyor's own words".into(),
    ));
    let rows: Vec<_> = sighted
        .iter()
        .filter(|own| !own.said.is_empty() || !own.photos.is_empty())
        .map(|own| {
            let said = own
                .said
                .iter()
                .map(|(word, text)| vec![soft(format!("{word}: ")), plain(text.clone())]);
            vec![
                vec![vec![bold(own.subject.clone())]],
                said.collect(),
                cell(own.photos.join(", ")),
            ]
        })
        .collect();
    if rows.is_empty() {
        blocks.push(text("Nothing is written under `seen`."));
        return;
    }
    blocks.push(Block::Table(Table {
        columns: vec![
            column("where", 0.2),
            column("said", 0.56),
            column("photograph", 0.24),
        ],
        rows,
    }));
}

/// What nobody saw, and what nobody measured.
fn not_seen(answer: &Answer, sighted: &[Sighted], units: System, blocks: &mut Vec<Block>) {
    blocks.push(Block::Head("Not seen".into()));
    let hidden: Vec<&Sighted> = sighted
        .iter()
        .filter(|own| own.not_seen.is_some())
        .collect();
    if hidden.is_empty() {
        blocks.push(text(
            "The file names nothing that was looked for and not seen.",
        ));
    }
    for own in hidden {
        let why = own.not_seen.as_deref().unwrap_or_default();
        blocks.push(Block::Text(vec![
            bold(format!("{}: ", own.subject)),
            plain(why),
        ]));
    }
    let mut groups: Vec<(&str, Vec<&Verdict>)> = Vec::new();
    for verdict in answer
        .verdicts
        .iter()
        .filter(|verdict| verdict.grade == Grade::Unmeasured)
    {
        let how = verdict
            .settles
            .as_ref()
            .map_or("", |settles| settles.how.as_str());
        match groups.iter_mut().find(|(known, _)| *known == how) {
            Some((_, own)) => own.push(verdict),
            None => groups.push((how, vec![verdict])),
        }
    }
    let count: usize = groups.iter().map(|(_, own)| own.len()).sum();
    blocks.push(Block::Head(format!(
        "Not measured: {}",
        if count == 1 {
            "1 verdict waits".to_owned()
        } else {
            format!("{count} verdicts wait")
        }
    )));
    if groups.is_empty() {
        blocks.push(text("Every verdict could be given."));
    }
    let mut warned = Warned::default();
    for (how, own) in groups {
        let cautions = own.iter().filter_map(|verdict| warned.first(verdict));
        let mut together: Vec<Block> = cautions.collect();
        together.push(Block::Text(vec![
            Span::Grade(Grade::Unmeasured),
            bold(format!(" → {how}")),
        ]));
        for verdict in own {
            together.push(Block::Text(vec![
                plain(format!("{}: ", named(verdict))),
                soft(verdict.because.in_units(units)),
            ]));
        }
        blocks.push(Block::Together(together));
    }
}
