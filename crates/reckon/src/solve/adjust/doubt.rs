//! Blunders: each measurement is left out and all is solved again.

use nalgebra::DMatrix;

use super::least::{Index, least, minus, reads, size};
use super::mirror::{self, APART};
use super::settle::Solved;
use super::{Measure, Net, Place, What};

/// By how much the sum of squares must fall where one measurement is left out, before it is called
/// wrong: the square of 3.29, which one good measurement in a thousand reaches.
/// Source: W. Baarda (1968), the usual level of his test, from memory.
pub const SURE: f64 = 10.83;

/// A measurement whose own part in its check is below this is checked by nothing.
const UNCHECKED: f64 = 1e-3;

/// More wrong measurements than this are no slips any more.
pub(super) const MOST: usize = 3;

/// What comes out with one measurement left out.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// Sum of squares without it.
    pub squares: f64,
    /// What it would have read, by all others.
    pub rest_gives: f64,
    /// How far it is off: read less what the rest gives.
    pub off: f64,
    /// Standard uncertainty of `off`.
    pub sigma: f64,
    /// How much of a slip shows in its own check, 0 to 1.
    pub share: f64,
}

/// A measurement that is wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Blunder {
    /// Which.
    pub measure: usize,
    /// How far it is off.
    pub off: f64,
    /// Standard uncertainty of `off`.
    pub sigma: f64,
}

/// One of several measurements is wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubt {
    /// Which ones it may be, the likeliest first.
    pub among: Vec<Blunder>,
    /// The one whose repetition would tell most.
    pub repeat: usize,
    /// Points whose place hangs on which one it is.
    pub touched: Vec<usize>,
}

/// What the tests say.
pub(super) enum Found {
    Nothing,
    One(Blunder),
    Several(Doubt),
}

/// A test with the places that went with it.
#[derive(Clone, Debug)]
struct Without {
    test: LeftOut,
    places: Vec<Place>,
}

fn without(net: &Net, solved: &Solved, measure: usize, share: f64) -> Without {
    let mut used = solved.used.clone();
    used[measure] = false;
    let Measure { what, value, sigma } = net.measured[measure];
    let mut starts = vec![solved.least.places.clone()];
    // A wrong tape may have drawn its end to the wrong side.
    if solved.least.squares > SURE && matches!(what, What::Distance { .. }) {
        for group in mirror::groups_of(net, solved, &what.points()) {
            if group.iter().all(|&point| point >= net.pins) {
                starts.extend(mirror::reflected(net, solved, &group));
            }
        }
    }
    let best = starts
        .into_iter()
        .map(|start| {
            let index: Index = solved.least.index.clone();
            least(&net.measured, &used, &start, index)
        })
        .min_by(|a, b| a.squares.total_cmp(&b.squares));
    // OK because the solution itself is always among the starts; the fallback says no change.
    let best = best.unwrap_or_else(|| solved.least.clone());
    let rest_gives = reads(&what, &best.places);
    Without {
        test: LeftOut {
            squares: best.squares,
            rest_gives,
            off: value - rest_gives,
            sigma: sigma / share.sqrt(),
            share,
        },
        places: best.places,
    }
}

/// How much of a slip in each measurement shows in its own check.
fn shares(net: &Net, solved: &Solved) -> Vec<f64> {
    net.measured
        .iter()
        .zip(&solved.used)
        .map(|(measure, used)| {
            if !used {
                return 0.0;
            }
            let fitted = solved.least.variance(&solved.covariance, &measure.what);
            (1.0 - fitted / (measure.sigma * measure.sigma)).clamp(0.0, 1.0)
        })
        .collect()
}

/// Leaves out each measurement that the others check, and solves again.
pub(super) fn leave_each_out(net: &Net, solved: &Solved) -> Vec<Option<LeftOut>> {
    shares(net, solved)
        .into_iter()
        .enumerate()
        .map(|(measure, share)| {
            (share > UNCHECKED).then(|| without(net, solved, measure, share).test)
        })
        .collect()
}

/// Names the measurement that is wrong, or those among which it is.
pub(super) fn find(net: &Net, solved: &Solved, tests: &[Option<LeftOut>]) -> Found {
    let mut order: Vec<(usize, &LeftOut)> = tests
        .iter()
        .enumerate()
        .filter_map(|(measure, test)| Some((measure, test.as_ref()?)))
        .collect();
    order.sort_by(|a, b| a.1.squares.total_cmp(&b.1.squares));
    let Some((_, best)) = order.first() else {
        return Found::Nothing;
    };
    if solved.least.squares - best.squares <= SURE {
        return Found::Nothing;
    }
    let limit = best.squares + APART;
    let blunder = |(measure, test): &(usize, &LeftOut)| Blunder {
        measure: *measure,
        off: test.off,
        sigma: test.sigma,
    };
    let among: Vec<Blunder> = order
        .iter()
        .filter(|(_, test)| test.squares <= limit)
        .map(blunder)
        .collect();
    if let [one] = among.as_slice() {
        return Found::One(one.clone());
    }
    let cases: Vec<Without> = among
        .iter()
        .map(|blunder| {
            let share = tests[blunder.measure].as_ref().map_or(1.0, |t| t.share);
            without(net, solved, blunder.measure, share)
        })
        .collect();
    let repeat = most_telling(net, &among, &cases);
    Found::Several(Doubt {
        repeat,
        touched: touched(net, solved, &cases),
        among,
    })
}

/// The measurement whose repetition leaves fewest of the cases standing, on the whole.
fn most_telling(net: &Net, among: &[Blunder], cases: &[Without]) -> usize {
    let stand = |candidate: &Blunder| -> usize {
        let Measure { what, sigma, .. } = net.measured[candidate.measure];
        let readings: Vec<f64> = cases
            .iter()
            .map(|case| reads(&what, &case.places))
            .collect();
        let alike = |a: f64, b: f64| (a - b).abs() < 3.0 * std::f64::consts::SQRT_2 * sigma;
        readings
            .iter()
            .map(|true_one| readings.iter().filter(|r| alike(**r, *true_one)).count())
            .sum()
    };
    // A tape is repeated in a minute; a height or a slope only where no tape is in question.
    let is_tape = |b: &&Blunder| matches!(net.measured[b.measure].what, What::Distance { .. });
    let tapes: Vec<&Blunder> = among.iter().filter(is_tape).collect();
    let choice: Vec<&Blunder> = if tapes.is_empty() {
        among.iter().collect()
    } else {
        tapes
    };
    choice
        .into_iter()
        .min_by_key(|candidate| stand(candidate))
        .map_or(0, |candidate| candidate.measure)
}

/// Points whose places differ from case to case by more than they are uncertain.
fn touched(net: &Net, solved: &Solved, cases: &[Without]) -> Vec<usize> {
    let deviation = |point: usize, covariance: &DMatrix<f64>| {
        solved.least.index[point]
            .iter()
            .flatten()
            .map(|&at| covariance[(at, at)].max(0.0))
            .sum::<f64>()
            .sqrt()
    };
    (0..net.points)
        .filter(|&point| solved.placed[point])
        .filter(|&point| {
            let own = 3.0 * deviation(point, &solved.covariance);
            cases.iter().enumerate().any(|(i, one)| {
                cases[..i].iter().any(|other| {
                    size(minus(one.places[point], other.places[point])) > own.max(1e-9)
                })
            })
        })
        .collect()
}
