//! Starts the program; everything else is in the library.
#![allow(clippy::disallowed_methods)]

use std::process::ExitCode;

fn main() -> ExitCode {
    let exit = hosewright::main_with(std::env::args_os(), hosewright::text::Terminal::here());
    ExitCode::from(exit as u8)
}
