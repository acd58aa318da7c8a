//! Solves a circuit of the plain format `network/1`, so that any other solver can be set beside this one:
//! `cargo run --release -p reckon --example network_bench -- CASE.json [-o RESULT.json] [--repeat N]`.

// A program of its own beside the crate: it may read, write and time what the crate may not.
#![allow(
    clippy::disallowed_macros,
    clippy::disallowed_methods,
    clippy::disallowed_types
)]

mod build;
mod case;
mod result;

use std::process::ExitCode;
use std::time::Instant;

use reckon::solve::net;

/// What was asked for on the command line.
struct Asked {
    case: String,
    out: Option<String>,
    repeat: usize,
}

fn asked() -> Result<Asked, String> {
    let usage = "network_bench CASE.json [-o RESULT.json] [--repeat N]";
    let mut words = std::env::args().skip(1);
    let (mut case, mut out, mut repeat) = (None, None, 0);
    while let Some(word) = words.next() {
        match word.as_str() {
            "-o" => out = Some(words.next().ok_or(usage)?),
            "--repeat" => {
                let count = words.next().ok_or(usage)?;
                repeat = count
                    .parse()
                    .map_err(|_| format!("--repeat wants a count, not “{count}”"))?;
            }
            _ if case.is_none() && !word.starts_with('-') => case = Some(word),
            other => return Err(format!("“{other}” is not known: {usage}")),
        }
    }
    Ok(Asked {
        case: case.ok_or(usage)?,
        out,
        repeat,
    })
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

fn run() -> Result<(), String> {
    let asked = asked()?;
    let text =
        std::fs::read_to_string(&asked.case).map_err(|why| format!("{}: {why}", asked.case))?;
    let mut reader = serde_json::Deserializer::from_str(&text);
    let case: case::Case = serde_path_to_error::deserialize(&mut reader)
        .map_err(|why| format!("{}: {}: {}", asked.case, why.path(), why.inner()))?;
    let made = build::build(&case).map_err(|why| format!("{}: {why}", asked.case))?;
    let outcome = net::solve(&made.network, None);
    let mut times = Vec::with_capacity(asked.repeat);
    for _ in 0..asked.repeat {
        let begun = Instant::now();
        std::hint::black_box(net::solve(std::hint::black_box(&made.network), None));
        times.push(begun.elapsed().as_secs_f64());
    }
    let mut warm = Vec::with_capacity(asked.repeat);
    if let net::Outcome::Solved(state) = &outcome {
        // A like state: every flow a hundredth more, every temperature a kelvin less.
        let mut near = state.as_ref().clone();
        for run in &mut near.runs {
            run.flow *= 1.01;
        }
        for t in &mut near.temperatures {
            *t -= 1.0;
        }
        for _ in 0..asked.repeat {
            let begun = Instant::now();
            std::hint::black_box(net::solve(std::hint::black_box(&made.network), Some(&near)));
            warm.push(begun.elapsed().as_secs_f64());
        }
    }
    let told = result::result(&case, &made, &outcome, median(times), median(warm));
    let text = serde_json::to_string_pretty(&told).map_err(|why| why.to_string())?;
    match asked.out {
        Some(path) => std::fs::write(&path, text + "\n").map_err(|why| format!("{path}: {why}")),
        None => {
            println!("{text}");
            Ok(())
        }
    }
}

fn median(mut times: Vec<f64>) -> Option<f64> {
    times.sort_by(f64::total_cmp);
    times.get(times.len() / 2).copied()
}
