//! Which piece to cut from which length: first fit, longest piece first, with what each cut loses.
//!
//! First fit decreasing never takes more than 11/9 of the fewest lengths plus 6/9.
//! Source: G. Dósa (2007), “The tight bound of first fit decreasing bin-packing algorithm”.

/// What is cut from what.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CutPlan {
    /// For each piece the length it comes from; `None` where none is long enough.
    pub from: Vec<Option<usize>>,
    /// What is left of each length [m].
    pub left: Vec<f64>,
}

/// How much a length may fall short of a piece and still give it: a hundredth of a millimetre, which
/// only takes up rounding [m].
const ROUNDING: f64 = 1e-5;

/// Places each piece in the first length that still holds it.
///
/// Pieces go longest first, lengths shortest first, so that remnants are spent before long lengths
/// are broken into. A cut loses `kerf`, unless what is left ends with the piece. All in metres.
pub fn first_fit(pieces: &[f64], lengths: &[f64], kerf: f64) -> CutPlan {
    let mut plan = CutPlan {
        from: vec![None; pieces.len()],
        left: lengths.to_vec(),
    };
    let mut shortest_first: Vec<usize> = (0..lengths.len()).collect();
    shortest_first.sort_by(|&a, &b| lengths[a].total_cmp(&lengths[b]).then(a.cmp(&b)));
    for piece in longest_first(pieces) {
        let found = shortest_first
            .iter()
            .copied()
            .find(|&at| plan.left[at] + ROUNDING >= pieces[piece]);
        if let Some(at) = found {
            plan.from[piece] = Some(at);
            plan.left[at] = (plan.left[at] - pieces[piece] - kerf).max(0.0);
        }
    }
    plan
}

/// Lengths to buy, and what is cut from each.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Purchase {
    /// Lengths to buy [m].
    pub lengths: Vec<f64>,
    /// How the pieces are cut from them.
    pub plan: CutPlan,
}

/// The lengths to buy for pieces, of those that are sold, with the least hose in all; of plans that
/// take as much, the one with the fewest lengths. `None` where a piece is longer than any.
pub fn purchase(pieces: &[f64], sold: &[f64], kerf: f64) -> Option<Purchase> {
    let mut best: Option<Purchase> = None;
    for &size in sold {
        let Some(found) = of_one_size(pieces, size, sold, kerf) else {
            continue;
        };
        let total = |purchase: &Purchase| purchase.lengths.iter().sum::<f64>();
        let better = best.as_ref().is_none_or(|best| {
            let (new, old) = (total(&found), total(best));
            new < old - ROUNDING
                || (new < old + ROUNDING && found.lengths.len() < best.lengths.len())
        });
        if better {
            best = Some(found);
        }
    }
    best
}

/// First fit in lengths of one size (a piece longer than that gets the shortest that holds it), each
/// of which is then changed for the shortest length that holds what is cut from it.
fn of_one_size(pieces: &[f64], size: f64, sold: &[f64], kerf: f64) -> Option<Purchase> {
    let shortest = |needed: f64| {
        sold.iter()
            .copied()
            .filter(|length| length + ROUNDING >= needed)
            .min_by(f64::total_cmp)
    };
    let mut left: Vec<f64> = Vec::new();
    let mut held: Vec<Vec<usize>> = Vec::new();
    for piece in longest_first(pieces) {
        let length = pieces[piece];
        match (0..left.len()).find(|&at| left[at] + ROUNDING >= length) {
            Some(at) => {
                left[at] = (left[at] - length - kerf).max(0.0);
                held[at].push(piece);
            }
            None => {
                let bought = if size + ROUNDING >= length {
                    size
                } else {
                    shortest(length)?
                };
                left.push((bought - length - kerf).max(0.0));
                held.push(vec![piece]);
            }
        }
    }
    let mut found = Purchase::default();
    found.plan.from = vec![None; pieces.len()];
    for (at, cuts) in held.iter().enumerate() {
        let cut: f64 = cuts.iter().map(|&piece| pieces[piece]).sum();
        let needed = cut + kerf * (cuts.len() as f64 - 1.0);
        let length = shortest(needed)?;
        for &piece in cuts {
            found.plan.from[piece] = Some(at);
        }
        // Where the last piece ends the length, its cut loses nothing.
        let left = length - needed;
        found.plan.left.push((left - kerf).max(0.0));
        found.lengths.push(length);
    }
    Some(found)
}

fn longest_first(pieces: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by(|&a, &b| pieces[b].total_cmp(&pieces[a]).then(a.cmp(&b)));
    order
}
