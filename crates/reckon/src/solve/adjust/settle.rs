//! The solution for one set of measurements: from the best of several beginnings, on the side that
//! was told.

use nalgebra::DMatrix;

use super::doubt::{Blunder, Doubt, LeftOut};
use super::frame::Frame;
use super::least::{Least, least, reads};
use super::mirror::{self, Mirrored};
use super::start::{Ties, starts};
use super::{Adjusted, Lack, Net, Place, What};

/// One solution.
#[derive(Clone, Debug)]
pub(super) struct Solved {
    pub(super) frame: Frame,
    pub(super) placed: Vec<bool>,
    pub(super) used: Vec<bool>,
    pub(super) least: Least,
    pub(super) covariance: DMatrix<f64>,
    pub(super) turning: Vec<(usize, Lack)>,
    pub(super) hand_open: bool,
    pub(super) mirrored: Vec<Mirrored>,
    pub(super) against: Vec<usize>,
}

impl Solved {
    /// How many measurements there are beyond those that the places need.
    pub(super) fn spare(&self) -> usize {
        let used = self.used.iter().filter(|used| **used).count();
        used.saturating_sub(self.least.count())
    }
}

/// Solves from places that stand roughly right; points that nothing holds lose their place.
/// `None` where no frame is left, or where nothing holds the level.
pub(super) fn solve_at(
    net: &Net,
    used: &[bool],
    start: &[Place],
    placed: &[bool],
    level: bool,
) -> Option<Solved> {
    let mut placed = placed.to_vec();
    let mut turning = Vec::new();
    loop {
        let serves = |i: usize| {
            let what = &net.measured[i].what;
            used[i]
                && what.points().iter().all(|point| placed[*point])
                && (level || matches!(what, What::Distance { .. }))
        };
        let serving: Vec<bool> = (0..used.len()).map(serves).collect();
        let heights = net
            .measured
            .iter()
            .zip(&serving)
            .any(|(m, serves)| *serves && matches!(m.what, What::Height { .. }));
        let frame = Frame::of(start, &placed, level, heights)?;
        let found = least(
            &net.measured,
            &serving,
            &frame.turned(start),
            frame.index(&placed),
        );
        match found.covariance() {
            Ok(covariance) => {
                return Some(Solved {
                    frame,
                    placed,
                    used: serving,
                    least: found,
                    covariance,
                    turning,
                    hand_open: false,
                    mirrored: Vec::new(),
                    against: Vec::new(),
                });
            }
            Err(loose) => {
                let standing = placed.iter().filter(|placed| **placed).count();
                if level && loose.len() > 2 && 2 * loose.len() > standing {
                    // It is the level that nothing holds, not the points.
                    return None;
                }
                let ties = Ties::of(net.points, &net.measured, &serving);
                for point in loose {
                    let about = ties.tapes[point].iter().map(|(other, ..)| *other).collect();
                    turning.push((point, Lack::Turns { about }));
                    placed[point] = false;
                }
                if placed.iter().filter(|placed| **placed).count() < 3 {
                    return None;
                }
            }
        }
    }
}

/// Whether heights and slopes are enough to say which way is up.
fn may_level(net: &Net, used: &[bool]) -> bool {
    let (mut heights, mut slopes) = (0_usize, 0);
    for (measure, _) in net.measured.iter().zip(used).filter(|(_, used)| **used) {
        match measure.what {
            What::Height { .. } => heights += 1,
            What::Slope { .. } => slopes += 1,
            What::Distance { .. } => {}
        }
    }
    heights.saturating_sub(1) + slopes >= 2
}

/// The best solution for the measurements in use.
pub(super) fn settle(net: &Net, used: &[bool]) -> Option<Solved> {
    let count = |placed: &[bool]| placed.iter().filter(|p| **p).count();
    let best = |level: bool| {
        let roughs = starts(net.points, net.pins, &net.measured, used, level);
        let most = roughs.iter().map(|r| r.iter().flatten().count()).max();
        let mut best: Option<Solved> = None;
        for rough in roughs {
            let placed: Vec<bool> = rough.iter().map(Option::is_some).collect();
            let start: Vec<Place> = rough.iter().map(|p| p.unwrap_or([0.0; 3])).collect();
            let Some(solved) = solve_at(net, used, &start, &placed, level) else {
                continue;
            };
            let rank = |s: &Solved| (std::cmp::Reverse(count(&s.placed)), s.least.squares);
            let better = best.as_ref().is_none_or(|best| {
                let (new, old) = (rank(&solved), rank(best));
                new.0.cmp(&old.0).then(new.1.total_cmp(&old.1)).is_lt()
            });
            if better {
                best = Some(solved);
            }
            // Where all have a place and fit as they should, no other beginning does better.
            let done = best.as_ref().is_some_and(|best| {
                Some(count(&best.placed)) == most
                    && best.least.squares < 20.0 + 2.0 * best.spare() as f64
            });
            if done {
                break;
            }
        }
        best
    };
    let levelled = may_level(net, used).then(|| best(true)).flatten();
    let solved = levelled.or_else(|| best(false))?;
    Some(mirror::sided(net, used, solved))
}

/// Where nothing could be solved.
pub(super) fn nothing(net: &Net) -> Adjusted {
    let used = vec![true; net.measured.len()];
    let ties = Ties::of(net.points, &net.measured, &used);
    let lacks = (0..net.points)
        .map(|point| {
            let has = ties.tapes[point].len();
            (point, Lack::TooFew { has, due: 3 })
        })
        .collect();
    Adjusted {
        places: vec![None; net.points],
        used: vec![false; net.measured.len()],
        left: vec![None; net.measured.len()],
        tests: vec![None; net.measured.len()],
        lacks,
        ..Adjusted::default()
    }
}

/// Everything that is told of a solution.
pub(super) fn told(
    net: &Net,
    solved: Solved,
    tests: Vec<Option<LeftOut>>,
    blunders: Vec<Blunder>,
    doubt: Option<Doubt>,
) -> Adjusted {
    let spare = solved.spare();
    let Solved {
        frame,
        placed,
        used,
        least,
        covariance,
        turning,
        hand_open,
        mirrored,
        against,
    } = solved;
    let mut whole = DMatrix::zeros(3 * net.points, 3 * net.points);
    let free: Vec<(usize, usize)> = least
        .index
        .iter()
        .enumerate()
        .flat_map(|(point, own)| {
            (0..3).filter_map(move |axis| own[axis].map(|at| (3 * point + axis, at)))
        })
        .collect();
    for &(row, i) in &free {
        for &(column, j) in &free {
            whole[(row, column)] = covariance[(i, j)];
        }
    }
    let all = vec![true; net.measured.len()];
    let ties = Ties::of(net.points, &net.measured, &all);
    let lacks = (0..net.points)
        .filter(|point| !placed[*point])
        .map(|point| {
            let turns = turning.iter().find(|(of, _)| *of == point);
            let lack = turns.map(|(_, lack)| lack.clone()).unwrap_or_else(|| {
                let standing = ties.tapes[point]
                    .iter()
                    .filter(|(other, ..)| placed[*other]);
                let height = frame.level && ties.heights[point].is_some();
                Lack::TooFew {
                    has: standing.count(),
                    due: if height { 2 } else { 3 },
                }
            });
            (point, lack)
        })
        .collect();
    Adjusted {
        level: frame.level,
        frame: Some(frame),
        places: least
            .places
            .iter()
            .zip(&placed)
            .map(|(place, placed)| placed.then_some(*place))
            .collect(),
        covariance: whole,
        squares: least.squares,
        spare,
        left: net
            .measured
            .iter()
            .zip(&used)
            .map(|(m, used)| used.then(|| m.value - reads(&m.what, &least.places)))
            .collect(),
        used,
        lacks,
        hand_open,
        mirrored,
        against,
        tests,
        blunders,
        doubt,
    }
}
