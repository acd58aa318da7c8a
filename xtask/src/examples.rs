//! The outputs that the README and the manual show: run again and compared, so that they stay true.
//!
//! In a block marked `console`, a line `$ hosewright …` is run in the project's root, and the
//! lines below it are its output. A line `…` says that something is left out there, and the output
//! goes on below it with the verdict or line that is named there.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::{Fault, tree};

const FIRST: &str = "README.md";
const MANUAL: &str = "docs/";
const OPENING: &str = "```console";
const CLOSING: &str = "```";
const PROMPT: &str = "$ hosewright ";
const MORE: &str = "…";

/// Compares; of every document the first line that differs is named.
///
/// # Errors
/// Where something differs, or a command cannot be run.
pub fn check(root: &Path, program: &Path) -> Result<(), Fault> {
    let faults: Vec<Fault> = documents(root)?
        .into_iter()
        .filter_map(|(path, text)| {
            let fresh = fresh(root, program, &path, &text);
            fresh.and_then(|fresh| same(&path, &text, &fresh)).err()
        })
        .collect();
    if faults.is_empty() {
        Ok(())
    } else {
        Err(faults.join("\n"))
    }
}

/// Writes the outputs anew.
///
/// # Errors
/// Where a command cannot be run, or a file cannot be written.
pub fn write(root: &Path, program: &Path) -> Result<(), Fault> {
    for (path, text) in documents(root)? {
        let fresh = fresh(root, program, &path, &text)?;
        if fresh != text {
            std::fs::write(root.join(&path), fresh).map_err(|e| format!("{path}: {e}"))?;
        }
    }
    Ok(())
}

/// The README, which must show something, and every page of the manual that does.
fn documents(root: &Path) -> Result<Vec<(String, String)>, Fault> {
    let mut documents = vec![(FIRST.to_owned(), tree::read(root, FIRST)?)];
    for file in tree::files(root)? {
        let inside = file.path.strip_prefix(MANUAL);
        if inside.is_none_or(|name| name.contains('/') || !name.ends_with(".md")) {
            continue;
        }
        let text = file.text().unwrap_or_default().to_owned();
        if text.lines().any(|line| line == OPENING) {
            documents.push((file.path, text));
        }
    }
    Ok(documents)
}

fn fresh(root: &Path, program: &Path, path: &str, text: &str) -> Result<String, Fault> {
    renewed(text, |arguments| output(root, program, arguments))
        .map_err(|fault| format!("{path}: {fault}"))
}

fn same(path: &str, text: &str, fresh: &str) -> Result<(), Fault> {
    match text
        .lines()
        .zip(fresh.lines())
        .enumerate()
        .find(|(_, (a, b))| a != b)
    {
        _ if text == fresh => Ok(()),
        Some((n, (shown, real))) => Err(format!(
            "{path}:{}: the program prints something else; run `cargo xtask readme`\n  shown: {shown}\n  real:  {real}",
            n + 1
        )),
        None => Err(format!(
            "{path}: the program prints more or less; run `cargo xtask readme`"
        )),
    }
}

/// The document with each output as `ask` gives it now.
///
/// # Errors
/// Where no command is found (a check of nothing would always pass), one cannot be run, or a line
/// from which an output should go on is printed no more.
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
        // The blank line that parts two commands of one block is no line of an output.
        while shown.last() == Some(&"") {
            shown.pop();
        }
        let real = ask(arguments)?;
        let real: Vec<&str> = real.trim_end().lines().map(str::trim_end).collect();
        let part = part(&shown, &real).map_err(|fault| format!("`{arguments}`: {fault}"))?;
        fresh.extend(part);
        // A blank line parts two commands of one block.
        if lines.peek().is_some_and(|line| line.starts_with("$ ")) {
            fresh.push(String::new());
        }
        asked.insert(arguments, ());
    }
    if asked.is_empty() {
        return Err("it shows no output of the program".to_owned());
    }
    Ok(fresh.join("\n") + "\n")
}

/// As much of the real output as was shown of the old one, left out where the old one left out.
///
/// Above the first `…` as many lines stand as stood there; below one, as many paragraphs, so that
/// a verdict that now takes a line more is still shown whole.
fn part(shown: &[&str], real: &[&str]) -> Result<Vec<String>, Fault> {
    let pieces: Vec<&[&str]> = shown.split(|line| *line == MORE).collect();
    let last = pieces.len() - 1;
    let mut part: Vec<&str> = Vec::new();
    let mut at = 0;
    for (n, piece) in pieces.iter().enumerate() {
        let first = piece.iter().position(|line| !line.is_empty());
        let begin = match first {
            _ if n == 0 => 0,
            // Nothing below a last `…`: it stands for all that follows.
            None => real.len(),
            Some(first) => {
                let wanted = piece[first];
                let found = real
                    .iter()
                    .skip(at)
                    .position(|line| heading(line) == heading(wanted));
                at + found.ok_or_else(|| {
                    format!("the line `{wanted}` is printed no more; choose by hand what to show")
                })?
            }
        };
        let left_out = &real[at..begin];
        if left_out.iter().any(|line| !line.is_empty()) {
            part.push(MORE);
        } else {
            part.extend(left_out);
        }
        at = if n == last {
            real.len()
        } else if n == 0 {
            real.len().min(piece.len())
        } else {
            end_of(paragraphs(piece), real, begin)
        };
        part.extend(&real[begin..at]);
    }
    Ok(part.into_iter().map(str::to_owned).collect())
}

/// What names a line: without the grade, whose shape stands before it and whose word after it, so
/// that a verdict is found again when its grade has changed.
fn heading(line: &str) -> &str {
    let line = line.trim_start_matches(['◆', '◖', '▫', '●', ' ']);
    line.split("  ").next().unwrap_or(line)
}

/// How many blocks of lines without a blank one between them.
fn paragraphs(lines: &[&str]) -> usize {
    lines
        .split(|line| line.is_empty())
        .filter(|block| !block.is_empty())
        .count()
}

/// Where so many paragraphs from `begin` end.
fn end_of(count: usize, real: &[&str], begin: usize) -> usize {
    let mut left = count;
    for (n, line) in real.iter().enumerate().skip(begin + 1) {
        if line.is_empty() && !real[n - 1].is_empty() {
            left -= 1;
            if left == 0 {
                return n;
            }
        }
    }
    real.len()
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
