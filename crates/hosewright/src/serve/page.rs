//! The whole answer about a boat, as the page is sent it.

use std::collections::BTreeMap;
use std::sync::Arc;

use reckon::stages::flow::Duty;
use reckon::{Grade, Stage, StripAsk};

use super::App;
use super::answers::{Answers, meant};
use super::desk::{NAMELESS, Sheet};
use super::refused::Refused;
use super::stages::Writer;
use super::subjects::Subjects;
use super::tidings;
use super::trial;
use crate::api::{
    self, Act, Chapter, Choice, MarginLine, Page, PageBoat, PageDuty, PageSchema, PageState,
    PageVerdict, Place, RemedyEdit, Summary, Text, Verdict, VerdictAt, Where,
};
use crate::files;
use crate::render::{basis_word, chance_words};

/// Acts that are sent at most.
const ACTS: usize = 60;
/// Faults of a file that are sent at most.
const REMARKS: usize = 100;

/// A chapter: its stage, title and question, and what is not there yet where it is not.
struct Part {
    stage: Option<Stage>,
    title: &'static str,
    question: &'static str,
    ready: bool,
}

const fn part(stage: Stage, title: &'static str, question: &'static str) -> Part {
    Part {
        stage: Some(stage),
        title,
        question,
        ready: true,
    }
}

const fn to_come(stage: Stage, title: &'static str, question: &'static str) -> Part {
    Part {
        stage: Some(stage),
        title,
        question,
        ready: false,
    }
}

/// The thirteen chapters, in the order of the job.
const PARTS: [Part; 13] = [
    Part {
        stage: None,
        title: "Boat",
        question: "What wants doing?",
        ready: true,
    },
    part(Stage::Survey, "Survey", "What is still to be measured?"),
    part(
        Stage::Circuit,
        "Circuit",
        "Does the water come round, and does nothing let in the sea?",
    ),
    part(
        Stage::Route,
        "Route",
        "How will each hose hang, and does a tool reach?",
    ),
    part(Stage::Fit, "Fit", "Will each hose close on its spigot?"),
    part(Stage::Flow, "Flow", "Will it push enough and shed enough?"),
    part(Stage::Order, "Order", "What is to be bought?"),
    to_come(Stage::Drain, "Drain", "What is shut before a hose is cut?"),
    to_come(Stage::Build, "Build", "What goes in first?"),
    part(Stage::Fill, "Fill", "What is poured in, and how much?"),
    to_come(Stage::Prove, "Prove", "Does it hold under pressure?"),
    to_come(Stage::Watch, "Watch", "What has changed since?"),
    part(Stage::Home, "Get home", "What still takes her home?"),
];

impl Part {
    fn key(&self) -> &'static str {
        self.stage.map_or("boat", Stage::key)
    }
}

impl App {
    /// The answer about an arrangement, with what still has to be settled of it.
    pub(crate) fn page(
        &self,
        arrangement: Option<&str>,
        writer: Option<&Writer>,
    ) -> Result<(Page, Option<Arc<Answers>>), Refused> {
        let sheet = self.desk().sheet.clone();
        let Some(sheet) = sheet else {
            return Ok((self.bare(), None));
        };
        // An arrangement that an edit took away is no reason to show nothing.
        let arrangement = meant(&sheet, arrangement).or_else(|_| meant(&sheet, None))?;
        let answers = self.answers(&sheet, &arrangement);
        Ok((self.sent(&sheet, &answers, writer), Some(answers)))
    }

    /// The whole working of one verdict.
    pub(crate) fn working(
        &self,
        arrangement: Option<&str>,
        id: &str,
    ) -> Result<api::Working, Refused> {
        let sheet = self.desk().sheet.clone();
        let sheet = sheet.ok_or_else(|| Refused::missing("No boat is open."))?;
        let answers = self.answers(&sheet, &meant(&sheet, arrangement)?);
        let verdicts = &answers.answer().verdicts;
        let verdict = verdicts.iter().find(|verdict| verdict.id == id);
        let verdict =
            verdict.ok_or_else(|| Refused::missing("There is no such verdict any more."))?;
        Ok(Verdict::of(verdict.clone(), Some(&sheet.loaded.chart)).working)
    }

    /// The page of no boat, or of one whose file could not be read from the first.
    fn bare(&self) -> Page {
        let desk = self.desk();
        let shut = desk.shut.as_ref();
        let path = desk.path.as_ref();
        let boat = path.zip(shut).map(|(path, shut)| PageBoat {
            name: shut.name.clone(),
            file: file_name(path),
            hash: shut.hash.clone(),
            kept: desk.kept.clone(),
            folder: folder(path),
        });
        let state = if boat.is_some() {
            "can't be read"
        } else {
            "no boat"
        };
        let chapter = |part: &Part| Chapter {
            key: part.key().to_owned(),
            title: part.title.to_owned(),
            question: part.question.to_owned(),
            state: if part.ready { state } else { NOT_YET }.to_owned(),
            ready: part.ready,
            grade: None,
            unsound: 0,
            marginal: 0,
            unmeasured: 0,
            next: None,
            why: if part.ready {
                "Nothing is judged: no boat file is read.".to_owned()
            } else {
                not_there(part)
            },
        };
        Page {
            schema: PageSchema::V1,
            run: self.run.clone(),
            number: desk.number,
            settled: true,
            boat,
            locked: shut.map(|shut| shut.locked.clone()),
            arrangements: Vec::new(),
            arrangement: None,
            states: Vec::new(),
            counts: Summary::default(),
            remarks: shut.map_or_else(Vec::new, |shut| shut.remarks.clone()),
            chapters: PARTS.iter().map(chapter).collect(),
            verdicts: Vec::new(),
            order: Vec::new(),
            marks: Vec::new(),
            next: Vec::new(),
            history: desk.history.sent(),
            changed: desk.changed(),
            told: String::new(),
            comment: None,
        }
    }

    fn sent(&self, sheet: &Arc<Sheet>, answers: &Answers, writer: Option<&Writer>) -> Page {
        let (boat, answer) = (&sheet.loaded.boat, answers.answer());
        let name = answers.arrangement.as_deref();
        let subjects = Subjects::of(boat, name, answer);
        let flow = answers.flow();
        let strip = reckon::strip(boat, name, &StripAsk::default(), answer, flow);
        let verdicts = answers.sent(|| verdicts(sheet, answers, &subjects));
        let acts = acts(&verdicts, &subjects);
        let boxes = reckon::boxes(boat, sheet.loaded.chart.places(), name);
        let empty = boxes.iter().filter(|own| own.is_empty()).count();
        let chapters = PARTS
            .iter()
            .map(|part| chapter(part, sheet, &verdicts, &acts, empty))
            .collect();
        let mut remarks = sheet.loaded.sent_remarks();
        remarks.truncate(REMARKS);
        let marks = subjects.list(answer, strip.as_ref());

        let desk = self.desk();
        let file = &sheet.loaded.held;
        let shut = desk.shut.as_ref();
        Page {
            schema: PageSchema::V1,
            run: self.run.clone(),
            number: sheet.number,
            settled: answers.settled(),
            boat: Some(PageBoat {
                name: sheet.loaded.name().unwrap_or(NAMELESS).to_owned(),
                file: file.name(),
                hash: file.hash.short(),
                kept: desk.kept.clone(),
                folder: folder(&file.path),
            }),
            locked: shut.map(|shut| shut.locked.clone()),
            arrangements: boat
                .arrangements
                .iter()
                .map(|step| Choice {
                    key: step.key.clone(),
                    title: step.key.clone(),
                })
                .collect(),
            arrangement: answers.arrangement.clone(),
            states: states(boat, answers),
            counts: Summary::of(answer.verdicts.iter().map(|verdict| verdict.grade)),
            remarks: shut.map_or(remarks, |shut| shut.remarks.clone()),
            chapters,
            told: match (writer, answers.old(), &desk.last) {
                (Some(writer), Some(old), Some(last)) if last.number == sheet.number => {
                    tidings::told(last.way, old, &verdicts, &marks, writer.chosen.as_deref())
                }
                _ => String::new(),
            },
            comment: desk
                .last
                .as_ref()
                .filter(|last| writer.is_some() && last.number == sheet.number)
                .and_then(|last| last.comment.clone()),
            marks,
            order: verdicts
                .iter()
                .map(|own| VerdictAt {
                    id: own.verdict.id.clone(),
                    as_of: own.verdict.as_of,
                })
                .collect(),
            verdicts: match writer.and_then(|writer| answers.before(writer.held)) {
                Some(before) => differing(&verdicts, before),
                None => verdicts.to_vec(),
            },
            next: acts,
            history: desk.history.sent(),
            changed: desk.changed(),
        }
    }
}

const NOT_YET: &str = "not there yet";

fn not_there(part: &Part) -> String {
    format!(
        "{} is not there yet: this program does not judge it so far.",
        part.title
    )
}

pub(crate) fn file_name(path: &std::path::Path) -> String {
    path.file_name()
        .map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}

/// The folder of a file, as it was given.
pub(crate) fn folder(path: &std::path::Path) -> String {
    match path.parent().map(files::shown) {
        Some(folder) if !folder.is_empty() => folder,
        _ => ".".to_owned(),
    }
}

/// The states of the file, each with the duties that figures are reckoned for.
fn states(boat: &boat::Boat, answers: &Answers) -> Vec<PageState> {
    let rows = answers.flow().map(|flow| flow.row.states.as_slice());
    boat.states
        .iter()
        .map(|state| PageState {
            key: state.key.clone(),
            title: state.key.replace(['-', '_'], " "),
            duties: rows
                .unwrap_or_default()
                .iter()
                .filter(|row| row.key == state.key)
                .map(|row| match row.duty {
                    Duty::Moving => PageDuty::Moving,
                    Duty::Tied => PageDuty::Tied,
                })
                .collect(),
            begins: trial::begins(boat, &state.key, answers.flow()),
        })
        .collect()
}

/// Every verdict as it is sent, the worst first, then in the order of the job.
fn verdicts(sheet: &Sheet, answers: &Answers, subjects: &Subjects) -> Vec<PageVerdict> {
    let mut sorted: Vec<&reckon::Verdict> = answers.answer().verdicts.iter().collect();
    // What is unmeasured stands behind what must or may be mended, sound ones last; the sort is stable.
    sorted.sort_by_key(|verdict| std::cmp::Reverse(verdict.grade));
    sorted
        .into_iter()
        .map(|verdict| {
            // Where the sampled chance is still to come, the verdict answers the change before.
            let waits = answers.waiting.contains(&verdict.id);
            let as_of = sheet.number - u64::from(waits && sheet.number > 0);
            let chart = &sheet.loaded.chart;
            if verdict.grade != Grade::Sound {
                return sent_verdict(verdict, chart, subjects, as_of);
            }
            // Most are sound and few are asked why: their working is sent when it is.
            let brief = reckon::Verdict {
                working: reckon::Working::default(),
                ..verdict.clone()
            };
            sent_verdict(&brief, chart, subjects, as_of)
        })
        .collect()
}

/// The verdicts that are not told word for word as before; which change they answer is told of all.
fn differing(verdicts: &[PageVerdict], before: &[PageVerdict]) -> Vec<PageVerdict> {
    let before: BTreeMap<&str, &PageVerdict> = before
        .iter()
        .map(|old| (old.verdict.id.as_str(), old))
        .collect();
    let as_before = |own: &PageVerdict| {
        before.get(own.verdict.id.as_str()).is_some_and(|old| {
            let mut old = (*old).clone();
            old.verdict.as_of = own.verdict.as_of;
            old == *own
        })
    };
    let new = verdicts.iter().filter(|own| !as_before(own));
    new.cloned().collect()
}

/// One verdict as it is sent.
pub(crate) fn sent_verdict(
    verdict: &reckon::Verdict,
    chart: &dyn Where,
    subjects: &Subjects,
    as_of: u64,
) -> PageVerdict {
    let key = subjects.key(&verdict.subject);
    PageVerdict {
        chapter: verdict.stage.key().to_owned(),
        mark: key.as_deref().map(|key| subjects.mark(key)),
        key,
        on_line: verdict.margin.as_ref().map(MarginLine::of),
        chance_text: chance_words(verdict).map(|words| Text {
            metric: words.clone(),
            imperial: words,
        }),
        basis_text: basis_word(verdict.basis).to_owned(),
        verdict: Verdict {
            as_of,
            ..Verdict::of(verdict.clone(), Some(chart))
        },
    }
}

/// What to do: what is unsound first, then the measurement that most verdicts wait for, then what is marginal.
fn acts(verdicts: &[PageVerdict], subjects: &Subjects) -> Vec<Act> {
    let graded = |grade: api::Grade| {
        verdicts
            .iter()
            .filter(move |verdict| verdict.verdict.grade == grade)
    };
    let mut acts: Vec<Act> = Vec::new();
    let mut unsound: Vec<&PageVerdict> = graded(api::Grade::Unsound).collect();
    // What an edit mends comes first: it is done at once.
    unsound.sort_by_key(|verdict| verdict.verdict.remedy_edits.is_empty());
    acts.extend(unsound.into_iter().map(mending));

    let mut wanted: Vec<(&Place, &PageVerdict, usize)> = Vec::new();
    for verdict in graded(api::Grade::Unmeasured) {
        let Some(settles) = &verdict.verdict.settles else {
            continue;
        };
        match wanted
            .iter_mut()
            .find(|(place, ..)| place.path == settles.place.path)
        {
            Some((_, _, count)) => *count += 1,
            None => wanted.push((&settles.place, verdict, 1)),
        }
    }
    wanted.sort_by_key(|(_, _, count)| std::cmp::Reverse(*count));
    acts.extend(wanted.into_iter().filter_map(|(place, verdict, _)| {
        let settles = verdict.verdict.settles.as_ref()?;
        Some(Act {
            label: settles.how.clone(),
            chapter: "survey".to_owned(),
            mark: subjects
                .at_place(&place.path)
                .or_else(|| verdict.mark.clone()),
            verdict: Some(verdict.verdict.id.clone()),
            edit: None,
            place: Some(place.clone()),
        })
    }));
    let marginal = graded(api::Grade::Marginal);
    acts.extend(
        marginal
            .filter(|verdict| !verdict.verdict.remedy_edits.is_empty())
            .map(mending),
    );
    acts.truncate(ACTS);
    acts
}

/// The act that mends a verdict: its first edit, or a look at it where no edit does.
fn mending(verdict: &PageVerdict) -> Act {
    let edit: Option<RemedyEdit> = verdict.verdict.remedy_edits.first().cloned();
    let at = verdict.mark.as_deref().unwrap_or(&verdict.verdict.title);
    let label = match &edit {
        Some(edit) => format!("{}: {at}", capital(&edit.label)),
        None => format!("See {at}"),
    };
    Act {
        label,
        chapter: verdict.chapter.clone(),
        mark: verdict.mark.clone(),
        verdict: Some(verdict.verdict.id.clone()),
        edit,
        place: None,
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).collect()
}

/// How many of something, in words.
fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

fn chapter(
    part: &Part,
    sheet: &Sheet,
    verdicts: &[PageVerdict],
    acts: &[Act],
    empty: usize,
) -> Chapter {
    let key = part.key();
    // The first chapter is about all of her.
    let own = |verdict: &&PageVerdict| part.stage.is_none() || verdict.chapter == key;
    let graded = |grade: api::Grade| {
        verdicts
            .iter()
            .filter(own)
            .filter(|verdict| verdict.verdict.grade == grade)
            .count()
    };
    let (unsound, marginal, unmeasured, sound) = (
        graded(api::Grade::Unsound),
        graded(api::Grade::Marginal),
        graded(api::Grade::Unmeasured),
        graded(api::Grade::Sound),
    );
    let grade = [
        (unsound, Grade::Unsound),
        (marginal, Grade::Marginal),
        (unmeasured, Grade::Unmeasured),
        (sound, Grade::Sound),
    ]
    .into_iter()
    .find(|(count, _)| *count > 0)
    .map(|(_, grade)| grade.into());
    let survey = part.stage == Some(Stage::Survey);
    let boxes = count(empty, "box", "boxes");
    let state = match part.stage {
        _ if !part.ready => NOT_YET.to_owned(),
        _ if unsound > 0 => format!("{unsound} unsound"),
        Some(Stage::Survey) if empty > 0 => boxes.clone(),
        _ if marginal > 0 => format!("{marginal} marginal"),
        _ if unmeasured > 0 => format!("{unmeasured} unmeasured"),
        _ if sound > 0 => "sound".to_owned(),
        Some(Stage::Order) => "the list".to_owned(),
        Some(Stage::Home) => "the card".to_owned(),
        Some(Stage::Survey) => "all measured".to_owned(),
        _ => "nothing yet".to_owned(),
    };
    let open: Vec<String> = [
        (unsound > 0).then(|| format!("{unsound} unsound")),
        (marginal > 0).then(|| format!("{marginal} marginal")),
        (unmeasured > 0).then(|| format!("{unmeasured} unmeasured")),
        (survey && empty > 0).then(|| format!("{boxes} still empty")),
    ]
    .into_iter()
    .flatten()
    .collect();
    let why = match part.stage {
        _ if !part.ready => not_there(part),
        _ if !open.is_empty() => format!("{}.", capital(&open.join(", "))),
        Some(Stage::Order) => {
            "The list for the shop is made when this chapter is opened.".to_owned()
        }
        Some(Stage::Home) => "The card to get home by, as far as it is known.".to_owned(),
        _ if sound > 0 => format!("Nothing is open; {sound} sound."),
        _ if sheet.loaded.boat.runs.is_empty() => {
            "Nothing to judge yet: write a run with its two ends.".to_owned()
        }
        _ => "Nothing is judged here yet.".to_owned(),
    };
    let next = acts
        .iter()
        .find(|act| part.stage.is_none() || act.chapter == key)
        .cloned();
    Chapter {
        key: key.to_owned(),
        title: part.title.to_owned(),
        question: part.question.to_owned(),
        state,
        ready: part.ready,
        grade,
        unsound,
        marginal,
        unmeasured,
        next,
        why,
    }
}
