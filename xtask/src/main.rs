//! `cargo xtask`: every chore of the project by one name.
#![allow(clippy::disallowed_macros)] // A chore prints; see the library part.

use std::process::ExitCode;

use clap::{Parser, Subcommand};
use xtask::chores::{self, Tier};
use xtask::{bench, book, fonts, page, scan, validation};

/// The project's chores.
#[derive(Parser)]
#[command(name = "cargo xtask", bin_name = "cargo xtask", version)]
struct Arguments {
    #[command(subcommand)]
    chore: Chore,
}

#[derive(Subcommand)]
enum Chore {
    /// Sets up what the main job needs and runs it on the first demo boat
    Demo {
        /// Ends after printing; opens no page
        #[arg(long)]
        no_page: bool,
    },
    /// Sets up everything and runs every test; half an hour from nothing on two cores
    Test {
        /// The full counts of the sampled tests, for as long as they take
        #[arg(long)]
        long: bool,
    },
    /// The quick loop while writing: format, lints, tidy, tests of the domain crates
    Check,
    /// Builds the page and the program, and tests the page in Debian's Chromium, as `test` does among all else
    Browser,
    /// Measures what `bench/budgets.toml` lists and prints it beside its budget
    Bench,
    /// Asks the sibling libraries again and rewrites their validation rows
    References,
    /// Writes `docs/validation.md` from the validation rows of all crates
    Validation,
    /// Writes the outputs of the commands that README.md and the manual show
    Readme,
    /// Makes the embedded fonts anew out of pinned packages; needs npm
    Fonts,
    /// Makes the scan of the demo boat's engine bay anew
    Scan,
    /// Makes the manual in `docs/` into a book under `target/book`
    Book,
    /// Writes every generated document: schemas, pages of `docs/`, outputs in README.md and in the manual
    Generate,
}

fn main() -> ExitCode {
    let done = match Arguments::parse().chore {
        Chore::Demo { no_page } => chores::demo(no_page),
        Chore::Test { long } => chores::test(if long { Tier::Long } else { Tier::Usual }),
        Chore::Check => chores::check(),
        Chore::Browser => page::browser(),
        Chore::Bench => bench::run(),
        Chore::References => chores::references(),
        Chore::Validation => validation::write(),
        Chore::Readme => chores::readme(),
        Chore::Fonts => fonts::make(),
        Chore::Scan => scan::write(),
        Chore::Book => book::make(),
        Chore::Generate => chores::generate(),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            eprintln!("{fault}");
            ExitCode::FAILURE
        }
    }
}
