//! From the words typed to what is printed and returned.

use std::ffi::OsString;
use std::io::{ErrorKind, Write};

use clap::Parser as _;

use crate::api::{self, FaultSchema, Refusal};
use crate::cli::{Command, Line};
use crate::commands;
use crate::fault::{Exit, Fault};
use crate::guard;
use crate::text::{Page, Terminal};
use crate::usage;

/// What a command has to say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outcome {
    /// For standard output.
    pub out: String,
    /// For standard error.
    pub err: String,
    /// To be returned.
    pub exit: Exit,
}

impl Outcome {
    /// The answer, printed.
    pub fn said(out: String, exit: Exit) -> Self {
        Self {
            out,
            err: String::new(),
            exit,
        }
    }
    /// Why there is none.
    pub fn refused(err: String, exit: Exit) -> Self {
        Self {
            out: String::new(),
            err,
            exit,
        }
    }
}

/// Runs the program: reads the words, does the work, prints, returns.
pub fn main_with(words: impl IntoIterator<Item = OsString>, terminal: Terminal) -> Exit {
    let words: Vec<OsString> = words.into_iter().collect();
    let outcome = guard::guarded(|| outcome(&words, terminal));
    print(&outcome)
}

/// Everything but the printing.
pub fn outcome(words: &[OsString], terminal: Terminal) -> Outcome {
    match Line::try_parse_from(with_help_asked(words)) {
        Ok(line) => command(line.command, terminal),
        Err(error) => usage::told(&error, terminal),
    }
}

/// `help` and `help COMMAND` ask for what `--help` and `COMMAND --help` ask for.
fn with_help_asked(words: &[OsString]) -> Vec<OsString> {
    match words {
        [program, help, about @ ..] if help == "help" => {
            let about = about.iter().take(1).filter(|word| *word != "help");
            [program.clone()]
                .into_iter()
                .chain(about.cloned())
                .chain(["--help".into()])
                .collect()
        }
        _ => words.to_vec(),
    }
}

fn command(command: Command, terminal: Terminal) -> Outcome {
    let (json, verbose) = match &command {
        Command::Check(check) => (check.showing.json, check.showing.verbose),
        Command::Fit(fit) => (fit.showing.json, fit.showing.verbose),
        Command::Fill(fill) => (fill.showing.json, fill.showing.verbose),
        Command::Salt(salt) => (salt.showing.json, salt.showing.verbose),
        Command::Thread(thread) => (thread.showing.json, thread.showing.verbose),
        Command::Survey(survey) => (survey.showing.json, survey.showing.verbose),
        Command::Order(order) => (order.showing.json, order.showing.verbose),
        Command::Circuit(circuit) => (circuit.showing.json, circuit.showing.verbose),
        Command::Route(route) => (route.showing.json, route.showing.verbose),
        Command::Flow(flow) => (flow.showing.json, flow.showing.verbose),
        Command::Sheets(sheets) => (sheets.showing.json, sheets.showing.verbose),
        Command::Mend(mend) => (mend.showing.json, mend.showing.verbose),
        Command::Marks(marks) => (marks.showing.json, marks.showing.verbose),
        Command::Serve(serve) => (false, serve.verbose),
        Command::New(_) | Command::Schema(_) | Command::Completions(_) => (false, false),
    };
    if verbose {
        log_to_stderr();
    }
    let done = match command {
        Command::Check(check) => commands::check::run(check, terminal),
        Command::Fit(fit) => commands::fit::run(fit, terminal),
        Command::Fill(fill) => commands::fill::run(fill, terminal),
        Command::Salt(salt) => commands::salt::run(&salt, terminal),
        Command::Thread(thread) => commands::thread::run(thread, terminal),
        Command::Survey(survey) => commands::survey::run(survey, terminal),
        Command::Order(order) => commands::order::run(order, terminal),
        Command::Circuit(circuit) => commands::circuit::run(circuit, terminal),
        Command::Route(route) => commands::route::run(route, terminal),
        Command::Flow(flow) => commands::flow::run(flow, terminal),
        Command::Sheets(sheets) => commands::sheets::run(sheets, terminal),
        Command::Serve(serve) => commands::serve::run(serve),
        Command::Mend(mend) => commands::mend::run(mend, terminal),
        Command::Marks(marks) => commands::marks::run(marks, terminal),
        Command::New(new) => commands::new::run(&new, terminal),
        Command::Schema(schema) => Ok(commands::schema::run(schema.document)),
        Command::Completions(completions) => Ok(commands::completions(completions.shell)),
    };
    done.unwrap_or_else(|fault| refusal(&fault, json, terminal))
}

/// A fault as one sentence on standard error, or as one document on standard output.
fn refusal(fault: &Fault, json: bool, terminal: Terminal) -> Outcome {
    let exit = fault.exit();
    if json {
        let document = Refusal {
            schema: FaultSchema::V1,
            tool: api::TOOL.into(),
            version: api::VERSION.into(),
            fault: fault.to_string(),
            exit: exit as u8,
            remarks: Vec::new(),
        };
        return Outcome::said(api::to_json(&document), exit);
    }
    let mut page = Page::new(terminal);
    for line in fault.to_string().lines() {
        page.hanging("", "  ", line);
    }
    Outcome::refused(page.finish(), exit)
}

/// Tells what is being done, without times, so that two runs say the same.
fn log_to_stderr() {
    let filter = tracing_subscriber::EnvFilter::new("hosewright=debug");
    // A second call in one process finds the first one's log in place, which serves as well.
    let _ = tracing_subscriber::fmt()
        .with_writer(std::io::stderr)
        .with_env_filter(filter)
        .without_time()
        .with_ansi(false)
        .try_init();
}

fn print(outcome: &Outcome) -> Exit {
    let out = write(std::io::stdout().lock(), &outcome.out);
    let err = write(std::io::stderr().lock(), &outcome.err);
    match out.and(err) {
        Ok(()) => outcome.exit,
        Err(error) => {
            // Nothing is left to tell it to but the status.
            let _ = writeln!(std::io::stderr(), "The answer can't be printed: {error}.");
            Exit::Failed
        }
    }
}

/// A reader who stops reading, as `head` does, has what he wanted.
fn write(mut to: impl Write, text: &str) -> std::io::Result<()> {
    match to.write_all(text.as_bytes()).and_then(|()| to.flush()) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        done => done,
    }
}
