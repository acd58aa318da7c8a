//! Finds in which order hoses of the plain format `sequence/1` can be fitted, so that any other solver can
//! be set beside this one:
//! `cargo run --release -p bay --example sequence_bench -- SEQUENCE.json [-o RESULT.json] [--all]`.

// A program of its own beside the crate: it may read and write what the crate may not.
#![allow(
    clippy::disallowed_macros,
    clippy::disallowed_methods,
    clippy::disallowed_types
)]

#[path = "../plain/mod.rs"]
mod plain;

mod answer;

use std::path::Path;
use std::process::ExitCode;

use answer::Wanted;

struct Asked {
    file: String,
    out: Option<String>,
    wanted: Wanted,
}

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::from(2)
        }
    }
}

fn asked() -> Result<Asked, String> {
    let usage = "sequence_bench SEQUENCE.json [-o RESULT.json] [--all]";
    let mut words = std::env::args().skip(1);
    let (mut file, mut out, mut wanted) = (None, None, Wanted::One);
    while let Some(word) = words.next() {
        match word.as_str() {
            "-o" => out = Some(words.next().ok_or(usage)?),
            "--all" => wanted = Wanted::All,
            _ if file.is_none() && !word.starts_with('-') => file = Some(word),
            other => return Err(format!("“{other}” is not known: {usage}")),
        }
    }
    Ok(Asked {
        file: file.ok_or(usage)?,
        out,
        wanted,
    })
}

fn run() -> Result<(), String> {
    let asked = asked()?;
    let case: answer::Case = plain::read(&asked.file)?;
    let beside = plain::beside(Path::new(&asked.file));
    let told = answer::answer(&case, asked.wanted, beside)
        .map_err(|why| format!("{}: {why}", asked.file))?;
    plain::write(asked.out.as_deref(), &told)
}
