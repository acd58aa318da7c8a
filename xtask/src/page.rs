//! The page in `web/`: its packages, types, unit tests, build and size; and its tests in a browser.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::metadata::{self, Build};
use crate::steps::{self, Steps};
use crate::{Fault, debian, licences, tree};

/// The oldest Node that builds the page.
const NODE: (u32, u32) = (20, 19);

/// Said where there is none.
const NODE_MISSING: &str =
    "The page needs Node 20 (20.19 or newer) with its npm, and they are not here.";

/// What the whole page may weigh, compressed as a server would, type and all [bytes].
const MOST_BYTES: u64 = 350_000;

/// The variable that tells the tests in the browser which program to start.
const PROGRAM_VARIABLE: &str = "HOSEWRIGHT";

/// The variable by which a browser that stands elsewhere is named.
const BROWSER_VARIABLE: &str = "HOSEWRIGHT_BROWSER";

/// Where the browser stands on Debian.
const BROWSER: &str = "/usr/bin/chromium";

/// The page is built, tested and weighed, so that the program can take it in.
pub fn check(root: &Path) -> Result<(), Fault> {
    let web = root.join("web");
    node()?;
    packages(&web)?;
    for words in [
        &["tsc", "--noEmit"][..],
        &["vitest", "run"],
        &["vite", "build"],
    ] {
        steps::run(npx(&web).args(words))?;
    }
    weigh(&web)
}

/// Builds the page alone, so that the program can take it in.
pub fn build(root: &Path) -> Result<(), Fault> {
    let web = root.join("web");
    node()?;
    packages(&web)?;
    steps::run(npx(&web).args(["vite", "build"]))
}

/// Builds page and program, and runs `web/e2e` against them.
pub fn browser() -> Result<(), Fault> {
    let root = tree::root();
    let mut steps = Steps::default();
    if !steps.run("page", || check(&root)) {
        return steps.finish();
    }
    let mut program = None;
    steps.run("program", || {
        program = Some(metadata::build_program(&root, Build::Plain)?);
        Ok(())
    });
    if let Some(program) = program {
        steps.run("page in a browser", || {
            in_browser(&root, &program, &a_browser()?)
        });
    }
    steps.finish()
}

/// The browser that the page is tested in: the one that is named, else Debian's, which is installed where we may.
pub fn a_browser() -> Result<PathBuf, Fault> {
    let named = std::env::var_os(BROWSER_VARIABLE).map(PathBuf::from);
    let is_named = named.is_some();
    let browser = named.unwrap_or_else(|| PathBuf::from(BROWSER));
    if !browser.exists() && !is_named && debian::is_root() {
        debian::install(&["chromium", "fonts-dejavu-core"])?;
    }
    if browser.exists() {
        return Ok(browser);
    }
    Err(format!(
        "There is no browser at {}: install Debian's (`apt-get install chromium`), or name another by {BROWSER_VARIABLE}.",
        browser.display()
    ))
}

/// The tests in a browser, against a program that was built with the page in it.
pub fn in_browser(root: &Path, program: &Path, browser: &Path) -> Result<(), Fault> {
    let web = root.join("web");
    let mut tests = Vec::new();
    let folder = web.join("e2e");
    for entry in fs::read_dir(&folder).map_err(|e| format!("{}: {e}", folder.display()))? {
        let name = entry.map_err(|e| e.to_string())?.file_name();
        if name.to_string_lossy().ends_with(".test.mjs") {
            tests.push(Path::new("e2e").join(name));
        }
    }
    tests.sort();
    if tests.is_empty() {
        return Err("web/e2e holds no test".to_owned());
    }
    let mut command = Command::new("node");
    command
        .current_dir(&web)
        // One after another: some of them take the time.
        .args(["--test", "--test-reporter=spec", "--test-concurrency=1"])
        .args(tests)
        .env(PROGRAM_VARIABLE, program)
        .env(BROWSER_VARIABLE, browser);
    steps::run(&mut command)
}

/// Whether Node is there, and new enough.
fn node() -> Result<(), Fault> {
    let said = steps::capture(Command::new("node").arg("--version"))
        .map_err(|_| NODE_MISSING.to_owned())?;
    steps::capture(Command::new("npm").arg("--version")).map_err(|_| NODE_MISSING.to_owned())?;
    if is_new_enough(&said) {
        Ok(())
    } else {
        Err(format!(
            "The page needs Node 20 (20.19 or newer), and this is {}.",
            said.trim()
        ))
    }
}

/// Whether `node --version` names one that builds the page.
pub fn is_new_enough(said: &str) -> bool {
    let mut parts = said
        .trim()
        .trim_start_matches('v')
        .split('.')
        .map(str::parse);
    match (parts.next(), parts.next()) {
        (Some(Ok(major)), Some(Ok(minor))) => (major, minor) >= NODE,
        _ => false,
    }
}

/// The packages of the lock; they are fetched only where those there are of another lock.
fn packages(web: &Path) -> Result<(), Fault> {
    let lock = web.join("package-lock.json");
    let wanted = fs::read(&lock).map_err(|e| format!("{}: {e}", lock.display()))?;
    let stamp = web.join("node_modules/.of-this-lock");
    if fs::read(&stamp).is_ok_and(|there| there == wanted) {
        println!("   packages are those of the lock");
        return Ok(());
    }
    let mut command = Command::new("npm");
    command
        .current_dir(web)
        .args(["ci", "--no-audit", "--no-fund"]);
    steps::run(&mut command)?;
    fs::write(&stamp, wanted).map_err(|e| format!("{}: {e}", stamp.display()))
}

/// A tool of the packages that are there; it fetches none.
fn npx(web: &Path) -> Command {
    let mut command = Command::new("npx");
    command.current_dir(web).arg("--no-install");
    command
}

/// What the built page weighs; Node compresses, as any server would.
fn weigh(web: &Path) -> Result<(), Fault> {
    let mut command = Command::new("node");
    let said = steps::capture(command.current_dir(web).arg("weigh.mjs"))?;
    print!("{said}");
    let bytes = said
        .lines()
        .last()
        .and_then(|line| line.split_whitespace().next())
        .and_then(|word| word.parse::<u64>().ok())
        .ok_or("web/weigh.mjs names no weight in its last line")?;
    if bytes <= MOST_BYTES {
        println!("   at most {MOST_BYTES} are allowed");
        Ok(())
    } else {
        Err(format!(
            "The page weighs {bytes} bytes compressed; at most {MOST_BYTES} are allowed."
        ))
    }
}

/// Whether the packages of the page may be used, by the licences that its lock states.
pub fn licences(root: &Path, allowed: &licences::Allowed) -> Result<Vec<Fault>, Fault> {
    const LOCK: &str = "web/package-lock.json";
    let lock: serde_json::Value =
        serde_json::from_str(&tree::read(root, LOCK)?).map_err(|e| format!("{LOCK}: {e}"))?;
    let packages = lock["packages"]
        .as_object()
        .ok_or_else(|| format!("{LOCK}: it lists no packages"))?;
    let mut faults = Vec::new();
    for (path, package) in packages {
        let name = match path.rsplit_once("node_modules/") {
            Some((_, name)) => name,
            None => package["name"].as_str().unwrap_or("the page itself"),
        };
        let used = match (package["dev"].as_bool(), name.starts_with("@fontsource/")) {
            (Some(true), _) => licences::Used::NotShipped,
            (_, true) => licences::Used::Type,
            _ => licences::Used::Shipped,
        };
        match package["license"].as_str() {
            Some(stated) => faults.extend(allowed.fault(name, stated, used)?),
            None => faults.push(format!("{name} ({LOCK}): states no licence")),
        }
    }
    println!("   {} packages of the page", packages.len());
    Ok(faults)
}
