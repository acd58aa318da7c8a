//! Measures what `bench/budgets.toml` lists. A figure depends on the machine, so this names the
//! machine and is never a test.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use serde::Deserialize;
use wait4::Wait4;

use crate::metadata::{self, Build};
use crate::{Fault, tree};

const LIST: &str = "bench/budgets.toml";

/// What `bench/budgets.toml` holds.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Budgets {
    /// In the order in which they are measured.
    pub budget: Vec<Budget>,
}

/// One command of the program and what it may cost.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Budget {
    /// What is measured, for the reader.
    pub what: String,
    /// The program's arguments.
    pub run: Vec<String>,
    /// How often it runs; the middle figure counts.
    pub runs: usize,
    /// From start to end \[ms\].
    pub wall_ms: f64,
    /// The most memory held at once \[MB\], 1 MB = 10⁶ bytes.
    pub memory_mb: f64,
}

/// What one run took.
#[derive(Clone, Copy, Debug)]
struct Figure {
    wall: Duration,
    memory: u64,
}

/// Measures and prints.
pub fn run() -> Result<(), Fault> {
    let root = tree::root();
    let budgets = read(&root)?;
    let program = metadata::build_program(&root, Build::Release)?;
    println!("── {}", machine());
    for budget in &budgets.budget {
        let mut figures = Vec::new();
        // The first run warms the file cache and is not counted.
        for _ in 0..=budget.runs {
            figures.push(measure(&root, &program, budget)?);
        }
        figures.remove(0);
        let mut walls: Vec<f64> = figures
            .iter()
            .map(|figure| figure.wall.as_secs_f64() * 1e3)
            .collect();
        walls.sort_by(f64::total_cmp);
        let memory = figures
            .iter()
            .map(|figure| figure.memory)
            .max()
            .unwrap_or(0);
        let (least, most) = (walls[0], walls[walls.len() - 1]);
        println!(
            "{}  (hosewright {}, {} runs)",
            budget.what,
            budget.run.join(" "),
            budget.runs
        );
        println!(
            "  time    {}   ({least:.1} to {most:.1})",
            line(walls[walls.len() / 2], budget.wall_ms, "ms")
        );
        println!(
            "  memory  {}",
            line(memory as f64 / 1e6, budget.memory_mb, "MB")
        );
    }
    Ok(())
}

/// The list, read and found sensible.
pub fn read(root: &Path) -> Result<Budgets, Fault> {
    let budgets: Budgets =
        toml::from_str(&tree::read(root, LIST)?).map_err(|e| format!("{LIST}: {e}"))?;
    match budgets.budget.iter().find(|budget| budget.runs == 0) {
        Some(budget) => Err(format!("{LIST}: `{}` runs no time at all", budget.what)),
        None => Ok(budgets),
    }
}

/// A figure beside its budget.
fn line(figure: f64, budget: f64, unit: &str) -> String {
    let verdict = if figure <= budget { "under" } else { "OVER" };
    format!("{figure:8.1} {unit} of {budget:.0} {unit}: {verdict}")
}

/// Runs it once. The memory is the peak of the child as the system counts it, which on some
/// systems starts at the peak of this chore itself, some megabytes: never too small a figure.
fn measure(root: &Path, program: &Path, budget: &Budget) -> Result<Figure, Fault> {
    let mut command = Command::new(program);
    command
        .args(&budget.run)
        .current_dir(root)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    let start = Instant::now();
    let used = command
        .spawn()
        .and_then(|mut child| child.wait4())
        .map_err(|e| format!("{}: {e}", program.display()))?;
    let wall = start.elapsed();
    match used.status.code() {
        Some(0 | 1) => Ok(Figure {
            wall,
            memory: used.rusage.maxrss,
        }),
        _ => Err(format!(
            "`hosewright {}` ended with {}",
            budget.run.join(" "),
            used.status
        )),
    }
}

/// Which machine this is, and how busy: a figure without that says little.
fn machine() -> String {
    let file = |path: &str| std::fs::read_to_string(path).unwrap_or_default();
    let processor = file("/proc/cpuinfo")
        .lines()
        .find_map(|line| {
            let (name, value) = line.split_once(':')?;
            (name.trim() == "model name").then(|| value.trim().to_owned())
        })
        .unwrap_or_else(|| "a processor that does not say its name".to_owned());
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let load = file("/proc/loadavg");
    let load = load
        .split_whitespace()
        .next()
        .map_or(String::new(), |load| format!(", load {load} at the start"));
    format!(
        "{processor}, {cores} cores, {} {}{load}",
        std::env::consts::OS,
        std::env::consts::ARCH
    )
}
