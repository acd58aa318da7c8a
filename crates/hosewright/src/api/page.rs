//! What the page is sent: the whole answer about a boat, and what stands round it.
//!
//! The page words no verdict and computes no physical number: every sentence and every figure comes from here,
//! numbers in SI with their texts in both systems of units beside them.

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

use super::{CommentBeside, Grade, Place, Remark, RemedyEdit, Summary, Text, Verdict};

/// See [`super::CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub enum PageSchema {
    #[serde(rename = "hosewright.page/1")]
    V1,
}

/// The answer that the page shows.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Page {
    /// Name and version of this document's form.
    pub schema: PageSchema,
    /// Name of this run of the program: a page of another run is loaded anew.
    pub run: String,
    /// How often the boat file has changed in this run; 1 for the file as it was opened.
    pub number: u64,
    /// False while only the verdicts that follow an edit at once are reckoned.
    pub settled: bool,
    /// The boat; null where none is open.
    pub boat: Option<PageBoat>,
    /// Why the file can't be read; the rest is then how it stood before.
    pub locked: Option<Locked>,
    /// The ways in which she can be connected.
    pub arrangements: Vec<Choice>,
    /// The one that this is about; null for the file as it stands.
    pub arrangement: Option<String>,
    /// How she is used.
    pub states: Vec<PageState>,
    /// How many verdicts of each grade.
    pub counts: Summary,
    /// Faults of the file.
    pub remarks: Vec<Remark>,
    /// The thirteen chapters, in the order of the job.
    pub chapters: Vec<Chapter>,
    /// Every verdict, the worst first, then in the order of the job. After something was written by a page that told
    /// which answer it holds: only those that differ from it.
    pub verdicts: Vec<PageVerdict>,
    /// The names of all of them, in that order.
    pub order: Vec<VerdictAt>,
    /// Joints, runs, valves and things, in order of flow.
    pub marks: Vec<PageMark>,
    /// What to do, the most urgent first.
    pub next: Vec<Act>,
    /// What can be taken back and put back.
    pub history: PageHistory,
    /// Values that changed outside in the last ten minutes.
    pub changed: Vec<Changed>,
    /// What was written with this call moved, in a sentence or two; empty where nothing was written or moved.
    pub told: String,
    /// The owner's comment beside what was written with this call: it stays, and may no longer hold.
    pub comment: Option<CommentBeside>,
}

/// The boat file on the desk.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct PageBoat {
    /// Her name.
    pub name: String,
    /// The file's own name.
    pub file: String,
    /// First eight digits of the hash of its bytes.
    pub hash: String,
    /// When it was last written: `14:32`.
    pub kept: String,
    /// The folder that it stands in, as it was given.
    pub folder: String,
}

/// Why the file can't be read.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Locked {
    /// One sentence.
    pub why: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// The text that stands there.
    pub found: String,
    /// When it was last read well: `14:31`.
    pub since: String,
}

/// Something to choose by its key.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Choice {
    /// Its key in the file.
    pub key: String,
    /// For people.
    pub title: String,
}

/// Whether she makes way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
pub enum PageDuty {
    /// She makes way.
    Moving,
    /// She lies still.
    Tied,
}

/// One way of using her.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct PageState {
    /// Its key in the file.
    pub key: String,
    /// For people.
    pub title: String,
    /// Whether she moves in it, or lies still, or may do either.
    pub duties: Vec<PageDuty>,
    /// Where the sliders of a trial begin.
    pub begins: TrialBegins,
}

/// Where the sliders of a trial begin: at what is reckoned with in a state, to their own steps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct TrialBegins {
    /// Temperature of the sea [°C]; null where it is not known.
    pub sea_celsius: Option<i32>,
    /// The same [°F].
    pub sea_fahrenheit: Option<i32>,
    /// Share of the engine's full power [%]; null where it is not known.
    pub load: Option<i32>,
    /// What sits on the worst of her coolers: 0 clean to 4 growth.
    pub fouling: Option<i32>,
}

/// One chapter.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Chapter {
    /// `boat`, or the stage.
    pub key: String,
    /// For people.
    pub title: String,
    /// The question that it answers.
    pub question: String,
    /// How it stands, in a word or two: `1 unsound`, `6 boxes`.
    pub state: String,
    /// Whether the program has this stage yet.
    pub ready: bool,
    /// The worst grade in it; null where nothing is judged.
    pub grade: Option<Grade>,
    /// Verdicts that are unsound.
    pub unsound: usize,
    /// Verdicts that are marginal.
    pub marginal: usize,
    /// Verdicts that are unmeasured.
    pub unmeasured: usize,
    /// What to do in it next.
    pub next: Option<Act>,
    /// What is open in it, in a sentence.
    pub why: String,
}

/// A verdict by its name.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct VerdictAt {
    /// Its id.
    pub id: String,
    /// The number of the change that it answers.
    pub as_of: u64,
}

/// A verdict with its place in the page.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct PageVerdict {
    /// The verdict itself.
    #[serde(flatten)]
    pub verdict: Verdict,
    /// The chapter that it stands in.
    pub chapter: String,
    /// The mark of the joint, run or thing that it is about.
    pub mark: Option<String>,
    /// The key of the same.
    pub key: Option<String>,
    /// Its margin line.
    pub on_line: Option<MarginLine>,
    /// The chance for people: `holds 96 in 100`; null where it is no matter of chance.
    pub chance_text: Option<Text>,
    /// On what it rests, for people: `good practice`.
    pub basis_text: String,
}

/// The value between its limits, on a drawn line.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct MarginLine {
    /// The value for people.
    pub value: Text,
    /// Its half width for people.
    pub plus_minus: Option<Text>,
    /// Lower limit for people.
    pub low: Option<Text>,
    /// Upper limit for people.
    pub high: Option<Text>,
    /// Both limits in words: `32.0 to 50.0 mm`, `at most 100 °C`, `no limit`.
    pub words: Text,
    /// Where all of that stands.
    pub at: MarginPlaces,
}

/// Places on a margin line, as shares of its length.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct MarginPlaces {
    /// The value.
    pub value: f64,
    /// Where it surely begins.
    pub from: f64,
    /// Where it surely ends.
    pub to: f64,
    /// Lower limit.
    pub low: Option<f64>,
    /// Upper limit.
    pub high: Option<f64>,
}

/// What a mark is written on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum MarkKind {
    Joint,
    Run,
    Valve,
    Thing,
}

/// Something that can be chosen in every picture and list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct PageMark {
    /// What is written on it; its key where it has no mark.
    pub mark: String,
    /// Its key in the file.
    pub key: String,
    /// What it is.
    pub kind: MarkKind,
    /// For people.
    pub title: String,
    /// The worst grade of what is judged of it.
    pub grade: Option<Grade>,
    /// Id of the verdict that gives it.
    pub verdict: Option<String>,
    /// One sentence for a reader of screens.
    pub spoken: Text,
}

/// Something to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Act {
    /// What, in a few words.
    pub label: String,
    /// The chapter in which it is done.
    pub chapter: String,
    /// At which mark.
    pub mark: Option<String>,
    /// For which verdict.
    pub verdict: Option<String>,
    /// The edit that does it.
    pub edit: Option<RemedyEdit>,
    /// The value to be measured, where that is what is to be done.
    pub place: Option<Place>,
}

/// What can be taken back and put back.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct PageHistory {
    /// The step that would be taken back.
    pub back: Option<String>,
    /// The step that would be put back.
    pub forth: Option<String>,
    /// Every step of this run, the first one first.
    pub steps: Vec<String>,
}

/// A value that changed outside.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Changed {
    /// Its key path.
    pub place: String,
    /// When: `14:32`.
    pub at: String,
}

/// Why a call was refused.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Wrong {
    /// One sentence.
    pub why: String,
    /// Where in the file.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub place: Option<Spot>,
    /// What stands there.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub found: Option<String>,
    /// What was to stand there, or what would fit.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub expected: Option<String>,
}

/// Line and column.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Spot {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

/// How a typed value is read. Nothing is written.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(untagged)]
pub enum ReadingAnswer {
    /// It reads.
    Good {
        /// Always true.
        #[ts(type = "true")]
        ok: bool,
        /// As it would stand in the file.
        toml: String,
        /// For people.
        shown: String,
        /// What is odd about it.
        remark: Option<String>,
        /// That it can hardly be, beside what the boat file says: it is asked back before it is kept.
        far: Option<String>,
    },
    /// It does not.
    Bad {
        /// Always false.
        #[ts(type = "false")]
        ok: bool,
        /// What is wrong.
        why: String,
        /// What would fit.
        expected: String,
    },
}

/// How a value came to be, which says how it is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum ValueKind {
    Measured,
    Plate,
    Assumed,
    Guessed,
    Computed,
    Empty,
    Unknown,
    Choose,
    Text,
}

/// One value of the file, to be edited where it stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct ValueAnswer {
    /// Its key path: where it is typed.
    pub place: String,
    /// As it would be typed into a field; null where nothing stands.
    pub text: Option<String>,
    /// As it stands in the file; empty where nothing does.
    pub toml: String,
    /// How it came to be.
    pub kind: ValueKind,
    /// With what it was read.
    pub instrument: Option<String>,
    /// Units that fit, the file's own first.
    pub units: Vec<String>,
    /// Instruments that read such a value, each with its tolerance.
    pub instruments: Vec<ValueInstrument>,
    /// For people.
    pub title: String,
    /// What the key says.
    pub says: String,
    /// Why no single value is written there, and where each is instead; null where one is.
    pub closed: Option<String>,
}

/// An instrument, and how far off it may be.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct ValueInstrument {
    pub name: String,
    pub tolerance: Text,
}

/// What a trial would bring. Nothing is written.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Trial {
    /// The verdicts of flow and heat in it, and others that it moves.
    pub verdicts: Vec<PageVerdict>,
    /// Its figures beside those that are kept.
    pub rows: Vec<TrialRow>,
    /// What of it can be kept.
    pub keep: TrialKeep,
}

/// What of a trial a state of the boat file can hold.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct TrialKeep {
    /// The values as they would stand in the state: `power = "24.8 kW"`.
    pub holds: Vec<String>,
    /// What no state can hold, and where that is written, in whole sentences.
    pub left: Vec<Text>,
    /// What else would change if the sea of the trial were written as the warmest that she meets; null where the
    /// state can hold it without that, or no sea is tried.
    pub summer: Option<Text>,
}

/// One figure of a trial.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct TrialRow {
    /// Of what.
    pub title: String,
    /// As it is kept.
    pub now: Text,
    /// On trial.
    pub trial: Text,
    /// How that is judged, where one verdict is about this figure.
    pub grade: Option<Grade>,
}

/// What came of entries that a phone sent.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Outcomes {
    /// One an entry, in their order.
    pub outcomes: Vec<EntryOutcome>,
}

/// What came of one entry.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct EntryOutcome {
    /// The entry's own name.
    pub id: String,
    /// Whether it now stands in the file, or did so before.
    pub kept: bool,
    /// Why it does not, or what became of it.
    pub why: Option<String>,
    /// Whether it was only asked back: sent again as meant, it is kept.
    pub asks: bool,
}

/// Boats to begin with.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Boats {
    /// Those that come with the program.
    pub demos: Vec<DemoBoat>,
    /// What is asked for a new one.
    pub asks: Vec<BoatAsk>,
}

/// A boat that comes with the program.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct DemoBoat {
    pub key: String,
    pub title: String,
    pub says: String,
}

/// One thing that is asked for a new boat.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct BoatAsk {
    /// Its key among the answers.
    pub key: String,
    /// For people.
    pub question: String,
    /// What can be chosen; null where it is typed.
    pub choices: Option<Vec<BoatChoice>>,
    /// How to answer.
    pub hint: String,
}

/// One answer that can be chosen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct BoatChoice {
    pub key: String,
    pub words: String,
}

/// How the page is shared on the boat's network.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Share {
    /// Whether it is.
    pub on: bool,
    /// The address, without the key.
    pub address: Option<String>,
    /// The code to scan, row by row; true is dark. It holds the key.
    pub qr: Option<Vec<Vec<bool>>>,
    /// Who has asked.
    pub devices: Vec<Device>,
}

/// Something that has asked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Device {
    /// `this desk`, `phone 1`.
    pub name: String,
    /// When it last asked: `14:32`.
    pub at: String,
    /// How many entries of it were kept.
    pub kept: usize,
}

/// Why there is news.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
pub enum NewsWhy {
    /// The page changed the file.
    Edit,
    /// Something else did.
    Outside,
    /// All verdicts are reckoned.
    Settled,
    /// The file can't be read.
    Locked,
    /// It can again.
    Unlocked,
}

/// One piece of news.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct News {
    /// The number of the file's change.
    pub number: u64,
    /// Why.
    pub why: NewsWhy,
}
