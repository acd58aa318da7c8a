//! Where the coolant of the suction side would boil: how far the grade line might sink there.
//!
//! At a height z the coolant boils once the line has sunk to z + (p_v − p_a) / (ρ g), with the pressure of its vapour
//! p_v at the state's temperature there and the air's p_a. The cap holds nothing, as for the line.

use quantity::{Length, Quantity};
use reference::water::ATMOSPHERE;

use super::{At, Strip, StripState, Way};
use crate::say;
use crate::verdict::Words;

/// Fills in the boil line of each state, and the least gap between it and the grade line.
pub(super) fn mark(strip: &mut Strip, vapour: impl Fn(f64) -> Option<f64>) {
    let Some(from) = strip.suction_from else {
        return;
    };
    for state in &mut strip.states {
        let points = points(&strip.main, from, state, &vapour);
        let nearest = points.iter().min_by(|a, b| a.2.total_cmp(&b.2));
        state.margin = nearest.map(|(at, _, gap)| (*at, *gap));
        state.margin_text = said(state.margin.map(|(_, gap)| gap), state.weight);
        state.boil = points.into_iter().map(|(at, z, _)| (at, z)).collect();
    }
}

/// Place, height at which the coolant boils, and how far the grade line lies over that. Only where the height of the
/// way is told: at its ends, and at the crests and sags of runs.
fn points(
    way: &Way,
    from: At,
    state: &StripState,
    vapour: impl Fn(f64) -> Option<f64>,
) -> Vec<(At, f64, f64)> {
    let mut out: Vec<(At, f64, f64)> = Vec::new();
    // OK because the suction side begins at the end of a piece.
    for (i, piece) in way.pieces.iter().enumerate().skip(from as usize) {
        for (share, z) in &piece.poly {
            let end = if *share <= 0.0 {
                Some(i)
            } else if *share >= 1.0 {
                Some(i + 1)
            } else {
                None
            };
            if end.is_some_and(|end| way.heights[end].is_none()) {
                continue;
            }
            let there = |values: &[Option<f64>]| match end {
                Some(end) => values[end],
                None => {
                    let (a, b) = (values[i]?, values[i + 1]?);
                    Some(a + share * (b - a))
                }
            };
            let (Some(line), Some(warm)) = (there(&state.line), there(&state.temperature)) else {
                continue;
            };
            let Some(under) = vapour(warm).filter(|_| state.weight > 0.0) else {
                continue;
            };
            let boils = z + (under - ATMOSPHERE) / state.weight;
            // OK because a way has far fewer pieces than a float counts exactly.
            let at = i as At + share;
            if out.last().is_none_or(|(last, _, _)| *last < at) {
                out.push((at, boils, line - boils));
            }
        }
    }
    out
}

/// `suction side boils 7.9 m, 77 kPa, under the grade line`.
fn said(gap: Option<f64>, weight: f64) -> Words {
    let Some(gap) = gap else {
        return "suction side: room to boiling unmeasured".into();
    };
    let side = if gap < 0.0 { "over" } else { "under" };
    let half = Length::from_si(0.2);
    let (long, tall) = (Length::from_si(gap.abs()), (gap * weight).abs());
    Words::of(|system| {
        let metres = long.map_or_else(
            || "no length".to_owned(),
            |long| say::in_units(long, half, ["m", "ft"], system),
        );
        format!(
            "suction side boils {metres}, {}, {side} the grade line",
            say::kpa(tall, system)
        )
    })
}
