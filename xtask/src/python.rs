//! The Python environment in which the sibling libraries run.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::{Fault, debian, steps};

/// The pinned libraries.
const REQUIREMENTS: &str = "references/requirements.txt";

/// The oldest Python for which the pinned libraries are made.
const LEAST: (u32, u32) = (3, 11);

/// The interpreter of the project's own environment, `.venv`, made or brought up to date first.
/// Silent, so that it can run beside a build.
pub fn environment(root: &Path) -> Result<PathBuf, Fault> {
    let folder = root.join(".venv");
    let python = inside(&folder);
    let wanted =
        fs::read_to_string(root.join(REQUIREMENTS)).map_err(|e| format!("{REQUIREMENTS}: {e}"))?;
    // What was installed is noted beside it: an environment with the same note is ready.
    let note = folder.join("installed.txt");
    if fs::read_to_string(&note).is_ok_and(|installed| installed == wanted)
        && steps::capture(Command::new(&python).arg("--version")).is_ok()
    {
        return Ok(python);
    }
    let base = interpreter()?;
    steps::capture(
        Command::new(&base)
            .args(["-m", "venv", "--clear"])
            .arg(&folder),
    )?;
    steps::capture(
        Command::new(&python)
            .args(["-m", "pip", "install", "--quiet"])
            .args(["--disable-pip-version-check", "--requirement"])
            .arg(root.join(REQUIREMENTS)),
    )?;
    fs::write(&note, &wanted).map_err(|e| format!("{}: {e}", note.display()))?;
    Ok(python)
}

/// The interpreter of a small environment of its own, with a few libraries, for a chore that is
/// rarely run.
pub fn small(folder: &Path, libraries: &[&str]) -> Result<PathBuf, Fault> {
    let python = inside(folder);
    if !python.exists() {
        steps::capture(
            Command::new(interpreter()?)
                .args(["-m", "venv", "--clear"])
                .arg(folder),
        )?;
    }
    steps::capture(
        Command::new(&python)
            .args(["-m", "pip", "install", "--quiet"])
            .arg("--disable-pip-version-check")
            .args(libraries),
    )?;
    Ok(python)
}

/// The interpreter within an environment.
fn inside(folder: &Path) -> PathBuf {
    if cfg!(windows) {
        folder.join("Scripts/python.exe")
    } else {
        folder.join("bin/python")
    }
}

/// A Python that can make environments: the one named by `PYTHON`, else `python3`; as root on
/// Debian it is installed where it is missing.
fn interpreter() -> Result<PathBuf, Fault> {
    if let Some(named) = std::env::var_os("PYTHON").filter(|name| !name.is_empty()) {
        let named = PathBuf::from(named);
        return match usable(&named) {
            Ok(()) => Ok(named),
            Err(fault) => Err(format!(
                "PYTHON names {}, which will not do: {fault}",
                named.display()
            )),
        };
    }
    let usual = PathBuf::from(if cfg!(windows) { "python" } else { "python3" });
    let Err(fault) = usable(&usual) else {
        return Ok(usual);
    };
    if !debian::is_root() {
        return Err(format!(
            "Python {}.{} or newer with its venv module is needed for the outside references: \
             {fault}\nInstall it (on Debian or Ubuntu: `apt-get install python3 python3-venv`), \
             or name another one in PYTHON.",
            LEAST.0, LEAST.1
        ));
    }
    debian::install(&["python3", "python3-venv"])?;
    // The system's own, by its full name: another python3 may stand before it on the path.
    let system = PathBuf::from("/usr/bin/python3");
    usable(&system).map(|()| system)
}

/// Whether an interpreter is new enough and can make environments.
fn usable(python: &Path) -> Result<(), Fault> {
    let question = "import sys, venv, ensurepip; print(*sys.version_info[:2])";
    let answer = steps::capture(Command::new(python).args(["-c", question]))?;
    let mut numbers = answer
        .split_whitespace()
        .filter_map(|word| word.parse::<u32>().ok());
    let found = (numbers.next().unwrap_or(0), numbers.next().unwrap_or(0));
    if found >= LEAST {
        Ok(())
    } else {
        Err(format!("it is Python {}.{}", found.0, found.1))
    }
}

/// Runs the script that asks the sibling libraries: to compare with the committed rows, or to
/// write them anew.
pub fn siblings(root: &Path, python: &Path, only_compare: bool) -> Result<(), Fault> {
    let mut command = Command::new(python);
    command
        .current_dir(root)
        // Bytecode beside the scripts would be a change to the tree.
        .env("PYTHONDONTWRITEBYTECODE", "1")
        .arg("references/regenerate.py");
    if only_compare {
        command.arg("--check");
    }
    steps::run(&mut command)
}
