//! Seeded draws of uncertain inputs.

use rand::seq::SliceRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

use super::chance::Spread;

/// How many draws a joint gets: the share of them that hold is then within about one in a hundred.
pub const DRAWS: usize = 2048;

/// Draws of several inputs, one row a draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Draws {
    width: usize,
    rows: Vec<f64>,
}

impl Draws {
    /// Draws each input evenly over its spread, stratified: every input takes each of `count` equal
    /// strips of its spread once, in an order of its own (a Latin square in many dimensions), which
    /// settles far sooner than free draws. The same seed gives the same draws.
    pub fn of(inputs: &[Spread], count: usize, seed: u64) -> Self {
        let width = inputs.len();
        let mut rng = Pcg64::seed_from_u64(seed);
        let mut rows = vec![0.0; width * count];
        let mut strips: Vec<u32> = (0..u32::try_from(count).unwrap_or(u32::MAX)).collect();
        for (i, input) in inputs.iter().enumerate() {
            strips.shuffle(&mut rng);
            for (row, &strip) in strips.iter().enumerate() {
                let share = (f64::from(strip) + rng.random::<f64>()) / count as f64;
                rows[row * width + i] = input.at(share);
            }
        }
        Self { width, rows }
    }

    /// All rows.
    pub fn rows(&self) -> impl Iterator<Item = &[f64]> {
        self.rows.chunks_exact(self.width.max(1))
    }

    /// A result for each row.
    pub fn map(&self, relation: impl Fn(&[f64]) -> f64) -> Vec<f64> {
        self.rows().map(relation).collect()
    }
}

/// What share of a number of draws holds.
pub fn share(count: usize, holds: impl Fn(usize) -> bool) -> f64 {
    if count == 0 {
        return 0.0;
    }
    (0..count).filter(|&row| holds(row)).count() as f64 / count as f64
}

/// The standard deviation of drawn results.
pub fn deviation(results: &[f64]) -> f64 {
    let count = results.len() as f64;
    if count < 2.0 {
        return 0.0;
    }
    let mean = results.iter().sum::<f64>() / count;
    (results
        .iter()
        .map(|result| (result - mean).powi(2))
        .sum::<f64>()
        / (count - 1.0))
        .sqrt()
}
