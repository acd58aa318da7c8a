//! The outputs that README.md shows: run again and compared, so that they stay true.
//!
//! In a block marked `console`, a line `$ hosewright …` is run in the project's root, and the
//! lines below it are its output; a last line `…` says that more follows.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::{Fault, tree};

const DOCUMENT: &str = "README.md";
const OPENING: &str = "```console";
const CLOSING: &str = "```";
const PROMPT: &str = "$ hosewright ";
const MORE: &str = "…";

/// Compares; every line that differs is named.
pub fn check(root: &Path, program: &Path) -> Result<(), Fault> {
    let text = tree::read(root, DOCUMENT)?;
    let fresh = renewed(&text, |arguments| output(root, program, arguments))?;
    match text
        .lines()
        .zip(fresh.lines())
        .enumerate()
        .find(|(_, (a, b))| a != b)
    {
        _ if text == fresh => Ok(()),
        Some((n, (shown, real))) => Err(format!(
            "{DOCUMENT}:{}: the program prints something else; run `cargo xtask readme`\n  shown: {shown}\n  real:  {real}",
            n + 1
        )),
        None => Err(format!(
            "{DOCUMENT}: the program prints more or less; run `cargo xtask readme`"
        )),
    }
}

/// Writes the outputs anew.
pub fn write(root: &Path, program: &Path) -> Result<(), Fault> {
    let text = tree::read(root, DOCUMENT)?;
    let fresh = renewed(&text, |arguments| output(root, program, arguments))?;
    std::fs::write(root.join(DOCUMENT), fresh).map_err(|e| format!("{DOCUMENT}: {e}"))
}

/// The document with each output as `ask` gives it now.
///
/// # Errors
/// Where no command is found (a check of nothing would always pass), or one cannot be run.
pub fn renewed(text: &str, ask: impl Fn(&str) -> Result<String, Fault>) -> Result<String, Fault> {
    let mut fresh = Vec::new();
    let mut asked = BTreeMap::new();
    let mut lines = text.lines().peekable();
    let mut inside = false;
    while let Some(line) = lines.next() {
        fresh.push(line.to_owned());
        match line {
            OPENING => inside = true,
            CLOSING => inside = false,
            _ => {}
        }
        let Some(arguments) = line.strip_prefix(PROMPT).filter(|_| inside) else {
            continue;
        };
        let mut shown = Vec::new();
        while let Some(line) = lines.next_if(|line| *line != CLOSING && !line.starts_with("$ ")) {
            shown.push(line);
        }
        let real = ask(arguments)?;
        let mut real: Vec<&str> = real.trim_end().lines().map(str::trim_end).collect();
        if shown.last() == Some(&MORE) && real.len() >= shown.len() {
            real.truncate(shown.len() - 1);
            real.push(MORE);
        }
        fresh.extend(real.into_iter().map(str::to_owned));
        // A blank line parts two commands of one block.
        if lines.peek().is_some_and(|line| line.starts_with("$ ")) {
            fresh.push(String::new());
        }
        asked.insert(arguments, ());
    }
    if asked.is_empty() {
        return Err(format!("{DOCUMENT} shows no output of the program"));
    }
    Ok(fresh.join("\n") + "\n")
}

fn output(root: &Path, program: &Path, arguments: &str) -> Result<String, Fault> {
    let words = words(arguments)?;
    let output = Command::new(program)
        .args(&words)
        .current_dir(root)
        .env("NO_COLOR", "1")
        .env("LC_ALL", "C.UTF-8")
        .env_remove("COLUMNS")
        .stdin(Stdio::null())
        .output()
        .map_err(|e| format!("{} does not start: {e}", program.display()))?;
    match output.status.code() {
        Some(0 | 1) => Ok(String::from_utf8_lossy(&output.stdout).into_owned()),
        _ => Err(format!(
            "`hosewright {arguments}` ended with {}\n{}",
            output.status,
            String::from_utf8_lossy(&output.stderr)
        )),
    }
}

/// A typed line as words: parted by blanks, kept together by double quotes.
fn words(line: &str) -> Result<Vec<String>, Fault> {
    let parts: Vec<&str> = line.split('"').collect();
    if parts.len().is_multiple_of(2) {
        return Err(format!("`{line}`: a quote is left open"));
    }
    let mut words = Vec::new();
    for (n, part) in parts.into_iter().enumerate() {
        if n % 2 == 1 {
            words.push(part.to_owned());
        } else {
            words.extend(part.split_whitespace().map(str::to_owned));
        }
    }
    Ok(words)
}
