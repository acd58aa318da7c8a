//! The command line: what can be typed.

use std::path::PathBuf;

use clap::builder::styling::Styles;
use clap::{Args, Parser, Subcommand, ValueEnum};

/// Looks after the closed fresh-water cooling circuit of a boat's inboard diesel.
///
/// One boat file holds what was measured and decided; everything else is computed from it.
#[derive(Debug, Parser)]
#[command(
    name = "hosewright",
    version,
    max_term_width = 80,
    styles = Styles::plain(),
    disable_help_subcommand = true,
    after_help = "Exit status: 0 nothing unsound, 1 something unsound (with --strict also something unmeasured), \
                  2 the input is wrong, 3 the tool failed."
)]
pub struct Line {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Judge everything the boat file tells of: every verdict, the worst first.
    Check(Check),
    /// Judge the joints: which hose and clip on which spigot, and whether they will hold.
    ///
    /// With a boat it reads her file; with --bore, --over and --spigot it judges one joint without a file.
    Fit(Fit),
    /// Tell what to pour: concentrate and water for what stays inside, and what the mix stands.
    ///
    /// With a boat it reads her file; with --volume and --wanted it reckons a circuit without a file.
    Fill(Fill),
    /// Tell what the sea holds, and how much of it came into the coolant.
    ///
    /// Example: salt --conductivity "42.9 mS/cm" --at "15 °C"
    ///
    /// Example: salt --chloride "150 mg/L" --before "20 mg/L" --volume "20 L" --sea 35
    Salt(Salt),
    /// Name an unknown screw thread, or judge the threads that the boat file tells of.
    ///
    /// With a boat it reads her ports and screwed stacks; with --major or --minor it names one thread without a file.
    #[command(after_help = THREAD_EXAMPLES)]
    Thread(Thread),
    /// List what to buy: hose, clips, fittings and what a refit uses up, less what lies on the shelf.
    Order(Order),
    /// Tell what is still to be measured: what to begin with, and a form to take along.
    Survey(Survey),
    /// Follow the loop: the way of the water in order of flow, and what is wrong with it.
    Circuit(Circuit),
    /// Tell how each hose will hang, what it touches, and whether a tool reaches every clip.
    Route(Route),
    /// Reckon flow, pressure and heat in every state: where the head goes, whether it cools, what leaks where.
    Flow(Flow),
    /// Print her on paper: survey form, circuit, joint list, order, filling, report, card and more, as PDF.
    #[command(after_help = SHEETS_EXAMPLES)]
    Sheets(Sheets),
    /// Open the page: see the loop and what is wrong, and put it right there.
    ///
    /// Only this computer is answered, and nothing is sent anywhere, unless --share asks for the boat's own network.
    #[command(after_help = SERVE_EXAMPLES)]
    Serve(Serve),
    /// Carry out a verdict's remedy by an edit of the boat file.
    Mend(Mend),
    /// Give each run its mark, the letter to write on the hose, and keep it in the boat file.
    Marks(Marks),
    /// Start a boat folder with a short boat file to fill in.
    New(New),
    /// Print the JSON Schema of the boat file or of a document that --json prints.
    Schema(Schema),
    /// Print completions for a shell.
    Completions(Completions),
}

/// How an answer is shown.
#[derive(Args, Clone, Copy, Debug)]
#[command(next_help_heading = "How to show it")]
pub struct Showing {
    /// Print one JSON document instead of text.
    #[arg(long)]
    pub json: bool,
    /// Units of the text.
    #[arg(long, value_enum, default_value_t = Units::Metric)]
    pub units: Units,
    /// Tell on standard error what is being done.
    #[arg(long)]
    pub verbose: bool,
}

/// What is judged, and how sharply.
#[derive(Args, Clone, Debug)]
#[command(next_help_heading = "How to judge")]
pub struct Judging {
    /// Judge this arrangement instead of the one that the job is about.
    #[arg(long, value_name = "NAME")]
    pub arrangement: Option<String>,
    /// Return 1 for what is unmeasured as well.
    #[arg(long)]
    pub strict: bool,
    /// Only what can be told at once: nominal chances, no sampling.
    #[arg(long)]
    pub quick: bool,
    /// Seed of all sampling.
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub seed: u64,
    /// Show the whole working of all verdicts, or of those whose id begins so; a joint (hot.from) or its mark (A1)
    /// will do.
    #[arg(long, value_name = "ID", num_args = 0..=1, default_missing_value = "")]
    pub explain: Option<String>,
    /// List the sound verdicts too instead of counting them.
    #[arg(long)]
    pub all: bool,
}

/// Units of text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Units {
    /// mm, bar, °C, N m
    Metric,
    /// in, psi, °F, lbf·in
    Imperial,
}

impl From<Units> for quantity::System {
    fn from(units: Units) -> Self {
        match units {
            Units::Metric => Self::Metric,
            Units::Imperial => Self::Imperial,
        }
    }
}

/// `check`
#[derive(Args, Debug)]
pub struct Check {
    /// The boat's folder, or her file; the present folder where none is given.
    pub boat: Option<PathBuf>,
    /// See there.
    #[command(flatten)]
    pub judging: Judging,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// `fit`
#[derive(Args, Debug)]
pub struct Fit {
    /// The boat's folder, or her file; the present folder where none is given.
    pub boat: Option<PathBuf>,
    /// See there.
    #[command(flatten)]
    pub joint: Joint,
    /// See there.
    #[command(flatten)]
    pub judging: Judging,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// One joint from flags.
#[derive(Args, Clone, Debug, Default)]
#[command(next_help_heading = "One joint without a boat")]
pub struct Joint {
    /// Inside diameter of the hose, as every length here: 32, "32 ± 0.2 mm", "1 1/4 in".
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub bore: Option<String>,
    /// Outside diameter of the hose.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub over: Option<String>,
    /// Outside diameter of the spigot, behind its bead.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub spigot: Option<String>,
    /// Outside diameter over the bead.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub bead: Option<String>,
    /// The spigot has no bead; without --bead and --plain its form is not known.
    #[arg(long)]
    pub plain: bool,
    /// Length of the spigot behind its bead.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub behind_bead: Option<String>,
    /// Kind of clip; chosen where it is left out.
    #[arg(long, value_enum)]
    pub clip: Option<ClipKind>,
    /// Build of the hose.
    #[arg(long, value_enum)]
    pub hose: Option<HoseBuild>,
}

impl Joint {
    /// Whether any of these flags was given.
    pub fn given(&self) -> bool {
        let Self {
            bore,
            over,
            spigot,
            bead,
            plain,
            behind_bead,
            clip,
            hose,
        } = self;
        [bore, over, spigot, bead, behind_bead]
            .into_iter()
            .any(Option::is_some)
            || *plain
            || clip.is_some()
            || hose.is_some()
    }
}

/// Kinds of clip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ClipKind {
    /// Worm drive.
    Worm,
    /// Ring with one ear, closed by pincers.
    SingleEar,
    /// Ring with two ears.
    TwoEar,
    /// Band with a bolt.
    TBolt,
    /// Spring band, constant tension.
    Spring,
}

/// Builds of hose.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum HoseBuild {
    /// EPDM rubber with fabric.
    Epdm,
    /// Rubber with a wire helix.
    Wired,
    /// Silicone with fabric.
    Silicone,
    /// Rubber without fabric.
    PlainRubber,
    /// Silicone without fabric.
    PlainSilicone,
}

/// `fill`
#[derive(Args, Debug)]
pub struct Fill {
    /// The boat's folder, or her file; the present folder where none is given.
    pub boat: Option<PathBuf>,
    /// See there.
    #[command(flatten)]
    pub circuit: FillFlags,
    /// See there.
    #[command(flatten)]
    pub judging: Judging,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// A circuit from flags.
#[derive(Args, Clone, Debug, Default)]
#[command(next_help_heading = "A circuit without a boat")]
pub struct FillFlags {
    /// What the circuit holds in all: "20 L", "34 ± 1 L", "5 US gal".
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    pub volume: Option<String>,
    /// Share of concentrate wanted, by volume: "50 %".
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    pub wanted: Option<String>,
    /// Which coolant; ethylene where it is left out.
    #[arg(long, value_enum)]
    pub kind: Option<Glycol>,
    /// What stays inside when it is drained: "7 L", or "0 L" where it is dry.
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    pub inside: Option<String>,
    /// Share of concentrate in what stays inside; water where it is left out.
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    pub inside_strength: Option<String>,
    /// Share of concentrate in what is bought; concentrate where it is left out.
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    pub product_strength: Option<String>,
    /// The least share that the coolant's maker asks for.
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    pub least_dose: Option<String>,
    /// What still goes into the header between its cold mark and the cap's seat.
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    pub header: Option<String>,
    /// The frost that it must stand: "-15 °C".
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub frost: Option<String>,
    /// What is stamped on the pressure cap: "0.9 bar".
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub cap: Option<String>,
}

impl FillFlags {
    /// Whether any of these flags was given.
    pub fn given(&self) -> bool {
        let Self {
            volume,
            wanted,
            kind,
            inside,
            inside_strength,
            product_strength,
            least_dose,
            header,
            frost,
            cap,
        } = self;
        [
            volume,
            wanted,
            inside,
            inside_strength,
            product_strength,
            least_dose,
            header,
            frost,
            cap,
        ]
        .into_iter()
        .any(Option::is_some)
            || kind.is_some()
    }
}

/// Kinds of coolant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Glycol {
    /// Ethylene glycol.
    Ethylene,
    /// Propylene glycol.
    Propylene,
    /// Coolant without water.
    Waterless,
}

/// `salt`
#[derive(Args, Debug)]
pub struct Salt {
    /// Conductivity of the sea: "42.9 mS/cm".
    #[arg(long, value_name = "CONDUCTIVITY", allow_hyphen_values = true)]
    pub conductivity: Option<String>,
    /// How warm that sample was: "15 °C".
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub at: Option<String>,
    /// Practical salinity of the sea, where it is known otherwise: 35, or 7 for the central Baltic.
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub sea: Option<String>,
    /// Chloride in the coolant now: "150 mg/L", "150 ± 20 mg/L".
    #[arg(long, value_name = "CONCENTRATION", allow_hyphen_values = true)]
    pub chloride: Option<String>,
    /// Chloride in it before, or in fresh coolant of the same kind.
    #[arg(long, value_name = "CONCENTRATION", allow_hyphen_values = true)]
    pub before: Option<String>,
    /// What the circuit holds.
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    pub volume: Option<String>,
    /// The header had room for it: nothing went out through the cap.
    #[arg(long)]
    pub kept: bool,
    /// Show the whole working of the verdict.
    #[arg(long, value_name = "ID", num_args = 0..=1, default_missing_value = "")]
    pub explain: Option<String>,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// What one would type.
const THREAD_EXAMPLES: &str = "Examples:
  hosewright thread --major \"33.1 mm\" --ten-pitches \"23.1 mm\"
  hosewright thread --major 20.8 --per-inch 14 --taper \"0.5 over 8\"
  hosewright thread --minor \"18.7 ± 0.1\" --pitches 6 --over 10.9
  hosewright thread boats/dunlin";

/// `thread`
#[derive(Args, Debug)]
pub struct Thread {
    /// The boat's folder, or her file; the present folder where none is given.
    pub boat: Option<PathBuf>,
    /// See there.
    #[command(flatten)]
    pub read: ThreadRead,
    /// Judge this arrangement instead of the one that the job is about.
    #[arg(long, value_name = "NAME")]
    pub arrangement: Option<String>,
    /// Return 1 for what is unmeasured as well.
    #[arg(long)]
    pub strict: bool,
    /// Show the whole working of all verdicts, or of those whose id begins so.
    #[arg(long, value_name = "ID", num_args = 0..=1, default_missing_value = "")]
    pub explain: Option<String>,
    /// List the sound verdicts too instead of counting them.
    #[arg(long)]
    pub all: bool,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// One thread from flags.
#[derive(Args, Clone, Debug, Default)]
#[command(next_help_heading = "One thread without a boat")]
pub struct ThreadRead {
    /// Largest diameter of a male thread, as read by caliper: 33.1, "33.1 ± 0.1 mm".
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub major: Option<String>,
    /// Smallest diameter of a female thread.
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        conflicts_with = "major"
    )]
    pub minor: Option<String>,
    /// Length over ten pitches.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub ten_pitches: Option<String>,
    /// Number of pitches that --over goes over.
    #[arg(
        long,
        value_name = "NUMBER",
        requires = "over",
        conflicts_with = "ten_pitches"
    )]
    pub pitches: Option<String>,
    /// Length over so many pitches.
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        requires = "pitches"
    )]
    pub over: Option<String>,
    /// Turns to the inch, by a thread gauge or a rule: 14, "14 ± 0.3".
    #[arg(
        long,
        value_name = "NUMBER",
        allow_hyphen_values = true,
        conflicts_with_all = ["ten_pitches", "pitches"]
    )]
    pub per_inch: Option<String>,
    /// How much the diameter changes over how much length: "0.5 mm over 8 mm".
    #[arg(long, value_name = "CHANGE", allow_hyphen_values = true)]
    pub taper: Option<String>,
}

impl ThreadRead {
    /// Whether any of these flags was given.
    pub fn given(&self) -> bool {
        let Self {
            major,
            minor,
            ten_pitches,
            pitches,
            over,
            per_inch,
            taper,
        } = self;
        [major, minor, ten_pitches, pitches, over, per_inch, taper]
            .into_iter()
            .any(Option::is_some)
    }
}

/// `order`
#[derive(Args, Debug)]
pub struct Order {
    /// The boat's folder, or her file; the present folder where none is given.
    pub boat: Option<PathBuf>,
    /// Buy for this arrangement instead of the one that the job is about.
    #[arg(long, value_name = "NAME")]
    pub arrangement: Option<String>,
    /// Seed of all sampling.
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub seed: u64,
    /// Risk you accept that a size turns out wrong, instead of the file's: "2 %".
    #[arg(long, value_name = "RATIO")]
    pub risk: Option<String>,
    /// List the sound verdicts too instead of counting them.
    #[arg(long)]
    pub all: bool,
    /// Print a plain list by kind of shop, with boxes to tick.
    #[arg(long, conflicts_with_all = ["csv", "json"])]
    pub list: bool,
    /// Print comma-separated values.
    #[arg(long, conflicts_with = "json")]
    pub csv: bool,
    /// Show the whole working of all verdicts, or of those whose id begins so.
    #[arg(long, value_name = "ID", num_args = 0..=1, default_missing_value = "")]
    pub explain: Option<String>,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// `survey`
#[derive(Args, Debug)]
pub struct Survey {
    /// The boat's folder, or her file; the present folder where none is given.
    pub boat: Option<PathBuf>,
    /// List each missing measurement, the one that settles the most verdicts first.
    #[arg(long, conflicts_with = "blank")]
    pub next: bool,
    /// Print a form with only the boxes that are still empty, to fill in by hand.
    #[arg(long)]
    pub blank: bool,
    /// Survey for this arrangement instead of the one that the job is about.
    #[arg(long, value_name = "NAME")]
    pub arrangement: Option<String>,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// `circuit`
#[derive(Args, Debug)]
pub struct Circuit {
    /// The boat's folder, or her file; the present folder where none is given.
    pub boat: Option<PathBuf>,
    /// Follow this arrangement instead of the one that the job is about.
    #[arg(long, value_name = "NAME")]
    pub arrangement: Option<String>,
    /// Set every arrangement side by side.
    #[arg(long, conflicts_with = "arrangement")]
    pub all: bool,
    /// Show the whole working of all verdicts, or of those whose id begins so.
    #[arg(long, value_name = "ID", num_args = 0..=1, default_missing_value = "")]
    pub explain: Option<String>,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// `route`
#[derive(Args, Debug)]
pub struct Route {
    /// The boat's folder, or her file; the present folder where none is given.
    pub boat: Option<PathBuf>,
    /// See there.
    #[command(flatten)]
    pub judging: Judging,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// `flow`
#[derive(Args, Debug)]
pub struct Flow {
    /// The boat's folder, or her file; the present folder where none is given.
    pub boat: Option<PathBuf>,
    /// Reckon this arrangement instead of the one that the job is about.
    #[arg(long, value_name = "NAME")]
    pub arrangement: Option<String>,
    /// Show this state in full: every part, every place.
    #[arg(long, value_name = "NAME")]
    pub state: Option<String>,
    /// Set two arrangements beside one another, part by part.
    #[arg(long, num_args = 2, value_names = ["ONE", "OTHER"], conflicts_with_all = ["arrangement", "explain", "plots"])]
    pub compare: Vec<String>,
    /// Leave nothing out: every part and the sound verdicts too, and every arrangement where none is named.
    #[arg(long)]
    pub all: bool,
    /// Show the whole working of all verdicts, or of those whose id begins so.
    #[arg(long, value_name = "ID", num_args = 0..=1, default_missing_value = "")]
    pub explain: Option<String>,
    /// Draw the grade line and the temperatures as SVG files in this folder.
    #[arg(long, value_name = "DIR")]
    pub plots: Option<PathBuf>,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// What one would type.
const SHEETS_EXAMPLES: &str = "Examples:
  hosewright sheets boats/dunlin
  hosewright sheets boats/dunlin --only joints,card --paper letter
  hosewright sheets boats/dunlin --out print/dunlin --svg --date 2027-03-14

The date is that of the clock, in UTC. With --date, or with SOURCE_DATE_EPOCH in the environment, two runs write the same bytes.";

/// `sheets`
#[derive(Args, Debug)]
pub struct Sheets {
    /// The boat's folder, or her file; the present folder where none is given.
    pub boat: Option<PathBuf>,
    /// Only these sheets, by their names with commas between; all where it is left out.
    #[arg(long, value_name = "NAMES", value_delimiter = ',')]
    pub only: Vec<String>,
    /// The folder for the files; it is made where it is missing. The folder sheets beside the boat file where it is
    /// left out.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// The paper.
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    pub paper: Paper,
    /// Write each page as an SVG file too.
    #[arg(long)]
    pub svg: bool,
    /// Lay all out and list it, and write nothing.
    #[arg(long)]
    pub dry_run: bool,
    /// The day that is printed on the sheets: 2027-03-14.
    #[arg(long, value_name = "DAY")]
    pub date: Option<String>,
    /// Print this arrangement instead of the one that the job is about.
    #[arg(long, value_name = "NAME")]
    pub arrangement: Option<String>,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// Papers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8.5 by 11 in.
    Letter,
}

impl From<Paper> for sheets::doc::Paper {
    fn from(paper: Paper) -> Self {
        match paper {
            Paper::A4 => Self::A4,
            Paper::Letter => Self::Letter,
        }
    }
}

/// What one would type.
const SERVE_EXAMPLES: &str = "Examples:
  hosewright serve boats/dunlin
  hosewright serve boats/dunlin --port 4177 --share
  hosewright serve --no-open

It prints `ready http://127.0.0.1:PORT/` when it answers, and stops with Ctrl+C. In a folder without a boat file the page begins one.";

/// `serve`
#[derive(Args, Debug)]
pub struct Serve {
    /// The boat's folder, or her file; the present folder where none is given.
    pub boat: Option<PathBuf>,
    /// The port; where it is left out 4177, or one that is free; with 0 any that is free.
    #[arg(long, value_name = "N")]
    pub port: Option<u16>,
    /// Open no browser.
    #[arg(long)]
    pub no_open: bool,
    /// Answer the boat's network too: whoever scans the code that the page shows may read and write. The link is not
    /// encrypted, so use it only on a network that you trust.
    #[arg(long, requires = "port")]
    pub share: bool,
    /// Tell on standard error what is being done.
    #[arg(long)]
    pub verbose: bool,
}

/// `mend`
#[derive(Args, Debug)]
pub struct Mend {
    /// The boat's folder, or her file.
    pub boat: PathBuf,
    /// Id of the verdict, as `check` prints it.
    #[arg(value_name = "VERDICT-ID")]
    pub verdict: String,
    /// Which way, where there are several.
    #[arg(long, value_name = "N")]
    pub choice: Option<usize>,
    /// Show the edit and what it would do, and leave the file as it is.
    #[arg(long)]
    pub dry_run: bool,
    /// Mend this arrangement instead of the one that the job is about.
    #[arg(long, value_name = "NAME")]
    pub arrangement: Option<String>,
    /// Seed of all sampling.
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub seed: u64,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// `marks`
#[derive(Args, Debug)]
pub struct Marks {
    /// The boat's folder, or her file; the present folder where none is given.
    pub boat: Option<PathBuf>,
    /// Show the marks and leave the file as it is.
    #[arg(long)]
    pub dry_run: bool,
    /// See there.
    #[command(flatten)]
    pub showing: Showing,
}

/// `new`
#[derive(Args, Debug)]
pub struct New {
    /// Folder to start; it may be there already, but not hold a boat file.
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
}

/// `schema`
#[derive(Args, Debug)]
pub struct Schema {
    /// Of which document.
    #[arg(value_enum, default_value_t = Document::Boat)]
    pub document: Document,
}

/// Documents with a schema.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Document {
    /// The boat file.
    Boat,
    /// What `check --json` prints.
    Check,
    /// What `fit --json` prints.
    Fit,
    /// What `fill --json` prints.
    Fill,
    /// What `salt --json` prints.
    Salt,
    /// What `thread --json` prints.
    Thread,
    /// What `survey --json` prints.
    Survey,
    /// What `order --json` prints.
    Order,
    /// What `circuit --json` prints.
    Circuit,
    /// What `route --json` prints.
    Route,
    /// What `flow --json` prints.
    Flow,
    /// What `sheets --json` prints.
    Sheets,
    /// What `mend --json` prints.
    Mend,
    /// What `marks --json` prints.
    Marks,
    /// What the page is sent.
    Page,
    /// What any command prints with --json where it could do nothing.
    Fault,
}

/// `completions`
#[derive(Args, Debug)]
pub struct Completions {
    /// Which shell.
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}
