//! What can be asked for: demo, test, check and the small ones.

use std::fs;
use std::path::Path;
use std::process::Command;
use std::thread;
use std::time::Instant;

use crate::metadata::{self, Build};
use crate::steps::{self, Steps};
use crate::tree::{self, Imprint};
use crate::{Fault, examples, licences, page, python, tidy, validation};

/// The boat on which the main job is shown.
const DEMO_BOAT: &str = "boats/dunlin";

/// Where her copy stands that the page may write in.
const DEMO_COPY: &str = "target/demo/dunlin";

/// The variable from which sampled tests learn how many samples are wanted.
const TIER_VARIABLE: &str = "HOSEWRIGHT_TEST_TIER";

/// The variable that tells tests to write the documents which they else compare.
const WRITE_VARIABLE: &str = "HOSEWRIGHT_BLESS";

/// How thorough the tests are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tier {
    /// Reduced counts.
    Usual,
    /// Full counts.
    Long,
}

/// Sets up what the main job needs and runs it on the first demo boat.
pub fn demo(no_page: bool) -> Result<(), Fault> {
    let root = tree::root();
    if !no_page {
        println!("── building the page");
        if let Err(fault) = page::build(&root) {
            println!("   the page will be missing: {fault}");
        }
    }
    println!("── building the program");
    let program = metadata::build_program(&root, Build::Plain)?;
    println!("── judging the demo boat");
    println!("   $ hosewright check {DEMO_BOAT}\n");
    let status = Command::new(&program)
        .current_dir(&root)
        .args(["check", DEMO_BOAT])
        .status()
        .map_err(|e| format!("{} does not start: {e}", program.display()))?;
    println!();
    match status.code() {
        // The boat is drawn with faults in her, so a status of 1 is what a demonstration wants.
        Some(0 | 1) => {}
        _ => {
            return Err(format!(
                "`hosewright check {DEMO_BOAT}` ended with {status}"
            ));
        }
    }
    println!("The program: {}", program.display());
    println!("The whole working of a verdict: hosewright check {DEMO_BOAT} --explain");
    if no_page {
        return Ok(());
    }
    serve(&root, &program)
}

/// Opens the page on a copy of the demo boat, so that what is tried there changes nothing of the project. It ends when
/// it is stopped.
fn serve(root: &Path, program: &Path) -> Result<(), Fault> {
    let (from, to) = (root.join(DEMO_BOAT), root.join(DEMO_COPY));
    copied(&from, &to).map_err(|e| format!("{}: {e}", to.display()))?;
    println!("── opening the page on a copy of her; Ctrl+C ends it");
    println!("   $ hosewright serve {DEMO_COPY}\n");
    let status = Command::new(program)
        .current_dir(root)
        .args(["serve", DEMO_COPY])
        .status()
        .map_err(|e| format!("{} does not start: {e}", program.display()))?;
    if status.success() {
        Ok(())
    } else {
        Err(format!(
            "`hosewright serve {DEMO_COPY}` ended with {status}"
        ))
    }
}

/// Copies the files of a folder, the boat's scan among them.
fn copied(from: &Path, to: &Path) -> std::io::Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        if entry.file_type()?.is_file() {
            fs::copy(entry.path(), to.join(entry.file_name()))?;
        }
    }
    Ok(())
}

/// Sets up everything and runs every test.
pub fn test(tier: Tier) -> Result<(), Fault> {
    let root = tree::root();
    let before = Imprint::of(&root)?;
    // The environment and the browser are fetched while cargo builds.
    let environment = {
        let root = root.clone();
        thread::spawn(move || {
            let start = Instant::now();
            let made = python::environment(&root);
            (start.elapsed(), made)
        })
    };

    let browser = thread::spawn(page::a_browser);

    let mut steps = Steps::default();
    let tools = steps.run("tools", || tools(&root));
    if !tools {
        return steps.finish();
    }
    steps.run("format", || format(&root));
    steps.run("tidy", || tidy::check(&root));
    steps.run("licences", || licences::check(&root));
    // Ahead of all that cargo builds: the program takes the page in as it is built.
    steps.run("page", || page::check(&root));
    steps.run("lints", || lints(&root));
    steps.run("tests", || tests(&root, tier));
    steps.run("examples in the documentation", || doc_tests(&root, tier));
    steps.run("outputs in README and manual", || {
        let program = metadata::build_program(&root, Build::Tests)?;
        examples::check(&root, &program)
    });
    steps.run("page in a browser", || {
        let browser = browser
            .join()
            .map_err(|_| "looking for a browser broke off".to_owned())??;
        let program = metadata::build_program(&root, Build::Tests)?;
        page::in_browser(&root, &program, &browser)
    });
    steps.run("validation page", || validation::check(&root));
    let (took, made) = environment
        .join()
        .map_err(|_| "making the Python environment broke off".to_owned())?;
    let python = made.as_ref().ok().cloned();
    println!("── Python environment (made meanwhile)");
    steps.close("Python environment", took, made.map(drop));
    if let Some(python) = python {
        steps.run("sibling libraries", || {
            python::siblings(&root, &python, true)
        });
    }
    steps.run("tree unchanged", || unchanged(&root, &before));
    steps.finish()
}

/// The quick loop: no Python, no program tests, nothing that takes minutes.
pub fn check() -> Result<(), Fault> {
    let root = tree::root();
    let mut steps = Steps::default();
    if !steps.run("tools", || tools(&root)) {
        return steps.finish();
    }
    steps.run("format", || format(&root));
    steps.run("tidy", || tidy::check(&root));
    steps.run("lints", || lints(&root));
    steps.run("tests of the domain crates", || {
        let mut command = steps::cargo(&root);
        command
            .args(["test", "--quiet", "--workspace"])
            .args(["--exclude", "hosewright", "--exclude", "xtask"])
            .args(["--lib", "--tests"])
            .env(TIER_VARIABLE, "usual");
        steps::run(&mut command)
    });
    steps.finish()
}

/// Asks the sibling libraries again and rewrites their rows.
pub fn references() -> Result<(), Fault> {
    let root = tree::root();
    let mut steps = Steps::default();
    let mut python = None;
    steps.run("Python environment", || {
        python = Some(python::environment(&root)?);
        Ok(())
    });
    if let Some(python) = python {
        steps.run("sibling libraries", || {
            python::siblings(&root, &python, false)
        });
    }
    steps.finish()
}

/// Writes the outputs that the README and the manual show.
pub fn readme() -> Result<(), Fault> {
    let root = tree::root();
    let program = metadata::build_program(&root, Build::Tests)?;
    examples::write(&root, &program)
}

/// Writes every generated document. Tests compare the schemas and most pages with what is
/// committed; told so, they write them instead.
pub fn generate() -> Result<(), Fault> {
    let root = tree::root();
    let mut steps = Steps::default();
    steps.run("schemas and pages", || {
        let mut command = steps::cargo(&root);
        command
            .args(["test", "--quiet", "-p", "boat", "-p", "hosewright"])
            .args(["--test", "it"])
            .env(WRITE_VARIABLE, "1");
        steps::run(&mut command)
    });
    steps.run("validation page", validation::write);
    steps.run("outputs in README and manual", readme);
    steps.finish()
}

/// Whether the tools are there that no crate brings along; each that is missing is named with the
/// command that brings it.
fn tools(root: &Path) -> Result<(), Fault> {
    let missing: Vec<&str> = [("fmt", "rustfmt"), ("clippy", "clippy")]
        .into_iter()
        .filter(|(tool, _)| steps::capture(steps::cargo(root).args([tool, "--version"])).is_err())
        .map(|(_, component)| component)
        .collect();
    if missing.is_empty() {
        Ok(())
    } else {
        Err(format!(
            "Missing: run `rustup component add {}`.",
            missing.join(" ")
        ))
    }
}

fn format(root: &Path) -> Result<(), Fault> {
    steps::run(steps::cargo(root).args(["fmt", "--all", "--check"]))
}

fn lints(root: &Path) -> Result<(), Fault> {
    let mut command = steps::cargo(root);
    command.args(["clippy", "--quiet", "--workspace", "--all-targets"]);
    steps::run(command.args(["--", "-D", "warnings"]))
}

/// Every test, by nextest where it is there: it runs the tests of all crates side by side.
fn tests(root: &Path, tier: Tier) -> Result<(), Fault> {
    let mut command = steps::cargo(root);
    if steps::capture(steps::cargo(root).args(["nextest", "--version"])).is_ok() {
        command.args(["nextest", "run", "--workspace", "--no-fail-fast"]);
        command.args(["--status-level", "slow", "--final-status-level", "fail"]);
    } else {
        command.args(["test", "--workspace", "--no-fail-fast"]);
        command.args(["--lib", "--bins", "--tests"]);
    }
    steps::run(command.env(TIER_VARIABLE, word(tier)))
}

fn doc_tests(root: &Path, tier: Tier) -> Result<(), Fault> {
    let mut command = steps::cargo(root);
    command.args(["test", "--quiet", "--workspace", "--doc"]);
    steps::run(command.env(TIER_VARIABLE, word(tier)))
}

fn word(tier: Tier) -> &'static str {
    match tier {
        Tier::Usual => "usual",
        Tier::Long => "long",
    }
}

/// Nothing that is kept in the project may change because its tests ran: a generated file that
/// does was out of date.
fn unchanged(root: &Path, before: &Imprint) -> Result<(), Fault> {
    let changed = Imprint::of(root)?.changed_since(before);
    if changed.is_empty() {
        Ok(())
    } else {
        Err(format!(
            "These files changed while the tests ran; what a test writes must be kept up to date:\n  {}",
            changed.join("\n  ")
        ))
    }
}
