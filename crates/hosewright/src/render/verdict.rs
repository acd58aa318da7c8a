//! Verdicts, worst first.

use std::collections::BTreeMap;

use reckon::{Grade, Verdict};

use super::{Manner, basis_word, chance_words, grade_shape, grade_word, heading, working};
use crate::text::Page;

/// Which verdicts are shown how.
#[derive(Clone, Debug, Default)]
pub struct Show {
    /// One line for each sound verdict instead of their count.
    pub all: bool,
    /// The whole working of the verdicts whose id begins so.
    pub explain: Option<String>,
}

impl Show {
    /// Whether the whole working of this one is shown.
    pub fn explains(&self, verdict: &Verdict) -> bool {
        self.explain
            .as_deref()
            .is_some_and(|prefix| verdict.id.starts_with(prefix))
    }
    /// Who asks for one working is shown that one alone, not under a screen of others.
    fn lists(&self, verdict: &Verdict) -> bool {
        self.all || self.explain.is_none() || self.explains(verdict)
    }
}

/// The grades as they are listed: the worst first, then what isn't known, then what holds.
const ORDER: [Grade; 4] = [
    Grade::Unsound,
    Grade::Marginal,
    Grade::Unmeasured,
    Grade::Sound,
];

/// The verdicts that are shown one by one or in groups, in the order in which they are.
pub fn in_order<'a>(verdicts: &'a [Verdict], show: &Show) -> Vec<&'a Verdict> {
    ORDER
        .iter()
        .flat_map(|grade| {
            verdicts
                .iter()
                .filter(move |verdict| verdict.grade == *grade && show.lists(verdict))
        })
        .collect()
}

/// All verdicts in groups by grade.
pub fn verdicts(page: &mut Page, verdicts: &[Verdict], show: &Show, manner: &Manner) {
    for grade in ORDER {
        let group: Vec<&Verdict> = verdicts
            .iter()
            .filter(|verdict| verdict.grade == grade && show.lists(verdict))
            .collect();
        if group.is_empty() {
            continue;
        }
        match grade {
            Grade::Unsound | Grade::Marginal => {
                for verdict in group {
                    page.gap();
                    full(page, verdict, show, manner);
                }
            }
            Grade::Unmeasured => unmeasured(page, &group, show, manner),
            Grade::Sound => sound(page, &group, show, manner),
        }
    }
}

/// One verdict with its reason, its remedy and what it rests on.
fn full(page: &mut Page, verdict: &Verdict, show: &Show, manner: &Manner) {
    title(page, verdict);
    page.paragraph(2, verdict.because.in_units(manner.units));
    if let Some(caution) = &verdict.caution {
        page.hanging("  ┃ Caution: ", "  ┃ ", caution);
    }
    let remedy = verdict.remedy.in_units(manner.units);
    if !remedy.is_empty() {
        page.hanging("  → ", "    ", remedy);
    }
    footing(page, verdict, manner);
    if show.explains(verdict) {
        working::working(page, verdict, manner);
    }
}

fn title(page: &mut Page, verdict: &Verdict) {
    let shape = format!("{} ", grade_shape(verdict.grade));
    page.both_ends(&shape, "  ", &named(verdict), grade_word(verdict.grade));
}

/// What a verdict is about with what was asked of it: `cold on gearbox a (B6), bead`. One joint is asked several
/// things, and without the second part their lines could not be told apart.
fn named(verdict: &Verdict) -> String {
    format!("{}, {}", verdict.title, rule(verdict))
}

/// The last part of the id: what was asked.
fn rule(verdict: &Verdict) -> &str {
    verdict.id.rsplit('.').next().unwrap_or_default()
}

/// Chance, basis, place and id: the small print under a verdict.
fn footing(page: &mut Page, verdict: &Verdict, manner: &Manner) {
    let mut parts = Vec::new();
    parts.extend(chance_words(verdict));
    parts.push(basis_word(verdict.basis).to_owned());
    if let Some(file) = manner.file {
        parts.push(file.shown(&verdict.place));
    }
    page.paragraph(2, &parts.join(" · "));
    let mend = if verdict.edits.is_empty() || manner.file.is_none() {
        ""
    } else {
        " · `mend` can do it"
    };
    page.paragraph(2, &format!("{}{mend}", verdict.id));
}

/// What isn't known, by the measurement that would settle it: one act of the owner's often settles several.
fn unmeasured(page: &mut Page, group: &[&Verdict], show: &Show, manner: &Manner) {
    let mut order = Vec::new();
    let mut by_act: BTreeMap<&str, Vec<&Verdict>> = BTreeMap::new();
    let mut without_act = Vec::new();
    for verdict in group {
        match &verdict.settles {
            Some(settles) => {
                if !by_act.contains_key(settles.how.as_str()) {
                    order.push(settles);
                }
                by_act.entry(&settles.how).or_default().push(verdict);
            }
            None => without_act.push(*verdict),
        }
    }
    // The measurement that settles most comes first; among equals the order of the job stands.
    order.sort_by_key(|settles| std::cmp::Reverse(by_act[settles.how.as_str()].len()));
    for settles in order {
        let settled = &by_act[settles.how.as_str()];
        if let [verdict] = settled.as_slice() {
            page.gap();
            title(page, verdict);
            page.paragraph(2, verdict.because.in_units(manner.units));
            page.hanging("  → ", "    ", &settles.how);
        } else {
            page.gap();
            let shape = format!("{} ", grade_shape(Grade::Unmeasured));
            page.both_ends(
                &shape,
                "  ",
                &settles.how,
                &format!("{} unmeasured", settled.len()),
            );
            for (title, rules) in by_title(settled) {
                page.hanging("  – ", "    ", &format!("{title}: {}", rules.join(", ")));
            }
        }
        match manner.file {
            Some(file) => page.paragraph(
                2,
                &format!(
                    "goes into {} at {}",
                    settles.place,
                    file.shown(&settles.place)
                ),
            ),
            None => page.gap(),
        }
        match settled.as_slice() {
            // Its reason stands above already.
            [verdict] if show.explains(verdict) => {
                footing(page, verdict, manner);
                working::working(page, verdict, manner);
            }
            [verdict] => page.paragraph(2, &verdict.id),
            several => {
                if show.all {
                    for verdict in several {
                        page.hanging("  ", "    ", &verdict.id);
                    }
                }
                for verdict in several.iter().filter(|verdict| show.explains(verdict)) {
                    page.gap();
                    title(page, verdict);
                    explained(page, verdict, manner);
                }
            }
        }
    }
    for verdict in without_act {
        page.gap();
        full(page, verdict, show, manner);
    }
}

/// Each title once, in the order of the verdicts, with all that was asked under it.
fn by_title<'a>(verdicts: &[&'a Verdict]) -> Vec<(&'a str, Vec<&'a str>)> {
    let mut titles: Vec<(&str, Vec<&str>)> = Vec::new();
    for verdict in verdicts {
        match titles.iter_mut().find(|(title, _)| *title == verdict.title) {
            Some((_, rules)) => rules.push(rule(verdict)),
            None => titles.push((&verdict.title, vec![rule(verdict)])),
        }
    }
    titles
}

fn sound(page: &mut Page, group: &[&Verdict], show: &Show, manner: &Manner) {
    if show.all || show.explain.is_some() {
        let listed = group
            .iter()
            .filter(|verdict| show.all || show.explains(verdict));
        let mut first = true;
        for verdict in listed {
            if std::mem::take(&mut first) || show.explains(verdict) {
                page.gap();
            }
            title(page, verdict);
            if show.explains(verdict) {
                explained(page, verdict, manner);
            } else {
                page.paragraph(2, &verdict.id);
            }
        }
    } else {
        page.gap();
        let shape = format!("{} ", grade_shape(Grade::Sound));
        page.hanging(
            &shape,
            "  ",
            &match group.len() {
                1 => "1 more is sound: --all shows it.".to_owned(),
                count => format!("{count} more are sound: --all lists them."),
            },
        );
    }
}

/// The reason, the small print and the working of a verdict whose title stands above already.
fn explained(page: &mut Page, verdict: &Verdict, manner: &Manner) {
    page.paragraph(2, verdict.because.in_units(manner.units));
    footing(page, verdict, manner);
    working::working(page, verdict, manner);
}

/// One verdict in full under a heading, as `mend` shows it after its edit.
pub fn single(page: &mut Page, above: &str, verdict: &Verdict, manner: &Manner) {
    heading(page, above);
    full(page, verdict, &Show::default(), manner);
}
