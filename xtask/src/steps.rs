//! Steps of a chore: what runs, how long it took, which failed.

use std::ffi::OsStr;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::Fault;

/// Runs steps one after another, prints each with its seconds, and remembers those that failed so
/// that one run shows all that is wrong.
#[derive(Debug, Default)]
pub struct Steps {
    failed: Vec<&'static str>,
    done: usize,
}

impl Steps {
    /// Runs one step; `true` if it went well.
    pub fn run(&mut self, name: &'static str, step: impl FnOnce() -> Result<(), Fault>) -> bool {
        println!("── {name}");
        let start = Instant::now();
        let outcome = step();
        self.close(name, start.elapsed(), outcome)
    }

    /// Notes a step that ran elsewhere meanwhile.
    pub fn close(
        &mut self,
        name: &'static str,
        took: Duration,
        outcome: Result<(), Fault>,
    ) -> bool {
        let seconds = took.as_secs_f64();
        self.done += 1;
        match outcome {
            Ok(()) => {
                println!("   {name}: done in {seconds:.1} s");
                true
            }
            Err(fault) => {
                println!("{fault}");
                println!("   {name}: FAILED after {seconds:.1} s");
                self.failed.push(name);
                false
            }
        }
    }

    /// The end: which steps failed, if any.
    pub fn finish(self) -> Result<(), Fault> {
        if self.failed.is_empty() {
            println!("All {} steps passed.", self.done);
            Ok(())
        } else {
            Err(format!(
                "{} of {} steps failed: {}.",
                self.failed.len(),
                self.done,
                self.failed.join(", ")
            ))
        }
    }
}

/// A command as one would type it.
pub fn typed(command: &Command) -> String {
    let quoted = |word: &OsStr| {
        let word = word.to_string_lossy();
        if word.contains(' ') {
            format!("'{word}'")
        } else {
            word.into_owned()
        }
    };
    let program = Path::new(command.get_program());
    // Cargo is named by its full path where it runs this; nobody types that.
    let program = if program.file_stem() == Some(OsStr::new("cargo")) {
        OsStr::new("cargo")
    } else {
        program.as_os_str()
    };
    std::iter::once(program)
        .chain(command.get_args())
        .map(quoted)
        .collect::<Vec<_>>()
        .join(" ")
}

/// Runs a command in sight; an error where it cannot start or ends with another status than 0.
pub fn run(command: &mut Command) -> Result<(), Fault> {
    println!("   $ {}", typed(command));
    let status = command
        .stdin(Stdio::null())
        .status()
        .map_err(|e| format!("`{}` does not start: {e}", typed(command)))?;
    if status.success() {
        Ok(())
    } else {
        Err(format!("`{}` ended with {status}", typed(command)))
    }
}

/// Runs a command out of sight and gives what it printed; what it complained of is in the error.
pub fn capture(command: &mut Command) -> Result<String, Fault> {
    let output = command
        .stdin(Stdio::null())
        .output()
        .map_err(|e| format!("`{}` does not start: {e}", typed(command)))?;
    let printed = String::from_utf8_lossy(&output.stdout).into_owned();
    if output.status.success() {
        Ok(printed)
    } else {
        let complaint = String::from_utf8_lossy(&output.stderr);
        Err(format!(
            "`{}` ended with {}\n{printed}{complaint}",
            typed(command),
            output.status
        ))
    }
}

/// The cargo that runs this chore, set to work in the project's root.
pub fn cargo(root: &Path) -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(root);
    command
}
