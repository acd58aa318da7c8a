//! What to have in the bag so that each place gets what it needs, whichever truth holds.
//!
//! A *place* needs some number of parts. In each *draw* (one possible truth) every kind of part
//! either serves a place or does not. Parts are bought until the share of draws in which all places
//! can be served at once reaches a target.

/// One place and the parts that serve it.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// How many parts it needs.
    pub needs: u32,
    /// Kinds of part that may serve it: index of the kind, and whether it does in each draw.
    pub serves: Vec<(usize, Vec<bool>)>,
    /// Which kind to take where nothing else is known.
    pub usual: Option<usize>,
}

/// What is bought, and what that gives.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cover {
    /// How many of each kind to buy.
    pub buy: Vec<u32>,
    /// Of these, how many only guard against a size that turns out wrong.
    pub spare: Vec<u32>,
    /// The share of draws in which every place is served.
    pub share: f64,
    /// That share with the usual part for each place and nothing more.
    pub naive: f64,
}

/// Buys parts until all places are served in `target` of the draws, or nothing more helps.
///
/// Starts from the usual part of each place less what is owned, then adds, one at a time, the part
/// that mends most of the failing draws for its cost, and at last gives back every part that is not needed.
pub fn cover(places: &[Place], owned: &[u32], cost: &[f64], draws: usize, target: f64) -> Cover {
    let kinds = owned.len();
    let mut needed = vec![0; kinds];
    for place in places {
        if let Some(usual) = place.usual {
            needed[usual] = u32::saturating_add(needed[usual], place.needs);
        }
    }
    let usual_buy: Vec<u32> = (0..kinds)
        .map(|kind| needed[kind].saturating_sub(owned[kind]))
        .collect();
    let bag = |buy: &[u32]| -> Vec<u32> {
        (0..kinds)
            .map(|kind| u32::saturating_add(buy[kind], owned[kind]))
            .collect()
    };
    let naive = share(places, &needed, draws);

    let mut buy = usual_buy.clone();
    let mut failing: Vec<usize> = (0..draws)
        .filter(|&draw| !all_served(places, &bag(&buy), draw))
        .collect();
    let allowed = ((1.0 - target) * draws as f64).floor() as usize;
    while failing.len() > allowed {
        let best = (0..kinds)
            .map(|kind| {
                let mut more = buy.clone();
                more[kind] += 1;
                let full = bag(&more);
                let mended = failing
                    .iter()
                    .filter(|&&draw| {
                        places_served(places, &full, draw) > places_served(places, &bag(&buy), draw)
                    })
                    .count();
                (kind, mended as f64 / cost[kind].max(f64::MIN_POSITIVE))
            })
            .filter(|(_, worth)| *worth > 0.0)
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)));
        let Some((kind, _)) = best else { break };
        buy[kind] += 1;
        let full = bag(&buy);
        failing.retain(|&draw| !all_served(places, &full, draw));
    }
    // What was bought at first may have become needless through what was added.
    for kind in 0..kinds {
        while buy[kind] > 0 {
            let mut less = buy.clone();
            less[kind] -= 1;
            let full = bag(&less);
            let fails = (0..draws)
                .filter(|&draw| !all_served(places, &full, draw))
                .count();
            if fails > failing.len().max(allowed) {
                break;
            }
            buy = less;
        }
    }
    Cover {
        share: share(places, &bag(&buy), draws),
        naive,
        spare: (0..kinds)
            .map(|kind| buy[kind].saturating_sub(usual_buy[kind]))
            .collect(),
        buy,
    }
}

/// The share of draws in which every place is served from a bag.
pub fn share(places: &[Place], bag: &[u32], draws: usize) -> f64 {
    if draws == 0 {
        return 0.0;
    }
    let served = (0..draws)
        .filter(|&draw| all_served(places, bag, draw))
        .count();
    served as f64 / draws as f64
}

fn all_served(places: &[Place], bag: &[u32], draw: usize) -> bool {
    let wanted: u32 = places.iter().map(|place| place.needs).sum();
    places_served(places, bag, draw) == wanted
}

/// How many parts can be placed at most: a largest matching of needs to the parts in the bag, by
/// augmenting paths (each need in turn takes a free part, or pushes another need to a part that is free).
/// Source of the method: H. W. Kuhn (1955), the Hungarian method; recalled, checked by trial against
/// all assignments in a test.
fn places_served(places: &[Place], bag: &[u32], draw: usize) -> u32 {
    let needs: Vec<usize> = places
        .iter()
        .enumerate()
        .flat_map(|(at, place)| std::iter::repeat_n(at, place.needs as usize))
        .collect();
    let mut holders: Vec<Vec<usize>> = vec![Vec::new(); bag.len()];
    let mut served = 0;
    for need in 0..needs.len() {
        let mut seen = vec![false; bag.len()];
        if assign(places, bag, draw, &needs, need, &mut holders, &mut seen) {
            served += 1;
        }
    }
    served
}

fn assign(
    places: &[Place],
    bag: &[u32],
    draw: usize,
    needs: &[usize],
    need: usize,
    holders: &mut [Vec<usize>],
    seen: &mut [bool],
) -> bool {
    for (kind, serves) in &places[needs[need]].serves {
        if seen[*kind] || bag[*kind] == 0 || !serves[draw] {
            continue;
        }
        seen[*kind] = true;
        if holders[*kind].len() < bag[*kind] as usize {
            holders[*kind].push(need);
            return true;
        }
        for slot in 0..holders[*kind].len() {
            let other = holders[*kind][slot];
            if assign(places, bag, draw, needs, other, holders, seen) {
                holders[*kind][slot] = need;
                return true;
            }
        }
    }
    false
}
