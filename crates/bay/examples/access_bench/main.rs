//! Finds where tools reach clips of the plain format `access/1`, so that any other solver can be set
//! beside this one: `cargo run --release -p bay --example access_bench -- ACCESS.json [-o RESULT.json]`.

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

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::from(2)
        }
    }
}

fn asked() -> Result<(String, Option<String>), String> {
    let usage = "access_bench ACCESS.json [-o RESULT.json]";
    let mut words = std::env::args().skip(1);
    let (mut file, mut out) = (None, None);
    while let Some(word) = words.next() {
        match word.as_str() {
            "-o" => out = Some(words.next().ok_or(usage)?),
            _ if file.is_none() && !word.starts_with('-') => file = Some(word),
            other => return Err(format!("“{other}” is not known: {usage}")),
        }
    }
    Ok((file.ok_or(usage)?, out))
}

fn run() -> Result<(), String> {
    let (file, out) = asked()?;
    let case: answer::Case = plain::read(&file)?;
    let told = answer::answer(&case, plain::beside(Path::new(&file)))
        .map_err(|why| format!("{file}: {why}"))?;
    plain::write(out.as_deref(), &told)
}
