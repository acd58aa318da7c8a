//! The program as the tests run it.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// The root of the project.
pub(crate) fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors()
        .nth(2)
        .expect("the crate lies two folders down")
        .to_owned()
}

/// What a run printed and returned.
#[derive(Debug)]
pub(crate) struct Run {
    pub(crate) out: String,
    pub(crate) err: String,
    pub(crate) exit: i32,
}

/// Runs the program at the root of the project, in a UTF-8 locale, piped.
pub(crate) fn run(words: &[&str]) -> Run {
    run_in(&root(), "C.UTF-8", words)
}

/// Runs the program in a folder and a locale.
pub(crate) fn run_in(folder: &Path, locale: &str, words: &[&str]) -> Run {
    let Output {
        status,
        stdout,
        stderr,
    } = Command::new(env!("CARGO_BIN_EXE_hosewright"))
        .args(words)
        .current_dir(folder)
        .env_clear()
        .env("LC_ALL", locale)
        .output()
        .expect("the program starts");
    Run {
        out: String::from_utf8(stdout).expect("output is UTF-8"),
        err: String::from_utf8(stderr).expect("output is UTF-8"),
        exit: status.code().expect("the program ends by itself"),
    }
}

/// A copy of the demo boat to write in.
pub(crate) fn demo_copy() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder for the test");
    std::fs::copy(
        root().join("boats/dunlin/boat.toml"),
        folder.path().join("boat.toml"),
    )
    .expect("the demo boat is there");
    folder
}
