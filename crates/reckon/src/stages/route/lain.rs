//! A run as it came to lie, and what it comes near to.

use std::collections::BTreeMap;

use bay::Vec3;
use bay::solid::{Frame, Nature, Space};

/// A run as it hangs.
#[derive(Clone, Debug, Default)]
pub(super) struct Lain {
    /// Its pieces, in order of flow.
    pub(super) parts: Vec<LainPart>,
    /// What it comes near to, each thing once.
    pub(super) gaps: Vec<Gap>,
    /// Forces on its two ends [N] and moments [N m].
    pub(super) ends: [(f64, f64); 2],
    /// How far its lowest place hangs under its lower end [m].
    pub(super) sag: f64,
    /// High spots, upright and tilted.
    pub(super) highs: Vec<HighSpot>,
    /// Low spots, upright.
    pub(super) lows: Vec<LowSpot>,
    /// The longest stretch between two holds [m].
    pub(super) longest_span: f64,
    /// The energy of the next stable shape over the least, less one, where that is within a fifth.
    pub(super) next: Option<f64>,
    /// With the engine's end moved up and down.
    pub(super) moved: Option<[Moved; 2]>,
}

/// One piece.
#[derive(Clone, Debug, Default)]
pub(super) struct LainPart {
    /// Its centre line.
    pub(super) line: Vec<Vec3>,
    /// Half its outside diameter [m].
    pub(super) radius: f64,
    /// Its tightest bend, where it bends.
    pub(super) least: Option<TightBend>,
}

/// A bend.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct TightBend {
    /// Where.
    pub(super) at: Vec3,
    /// The middle of its circle.
    pub(super) centre: Vec3,
    /// To the centre line [m].
    pub(super) radius: f64,
}

/// What it comes near to.
#[derive(Clone, Debug)]
pub(super) struct Gap {
    /// The thing's name.
    pub(super) with: String,
    /// For people.
    pub(super) title: String,
    /// Between the surfaces [m].
    pub(super) gap: f64,
    /// The hose's radius there [m].
    pub(super) radius: f64,
    /// On the hose's surface.
    pub(super) from: Vec3,
    /// On the thing.
    pub(super) to: Vec3,
    /// The clearance that the thing wants [m].
    pub(super) keep: f64,
    /// What it is.
    pub(super) nature: Nature,
    /// Whether the two move against one another as the engine shakes.
    pub(super) moves: bool,
    /// Whether nothing stands between.
    pub(super) seen: bool,
}

/// A high spot.
#[derive(Clone, Debug)]
pub(super) struct HighSpot {
    /// Where.
    pub(super) at: Vec3,
    /// How far it stands over the lower of the brims beside it [m].
    pub(super) rise: f64,
    /// Bore there [m].
    pub(super) bore: f64,
    /// How steeply it falls behind it [rad].
    pub(super) slope: f64,
    /// Froude number that carries air on; `None` where it falls more steeply than was tried.
    pub(super) froude: Option<f64>,
    /// The speed that does [m/s].
    pub(super) clears: Option<f64>,
    /// Under which heel or trim; empty upright.
    pub(super) tilt: String,
}

/// A low spot.
#[derive(Clone, Debug)]
pub(super) struct LowSpot {
    /// Where.
    pub(super) at: Vec3,
    /// What stays there [m³].
    pub(super) volume: f64,
    /// Length of the run that stays full [m].
    pub(super) length: f64,
}

/// With the engine at one end of its movement.
#[derive(Clone, Debug, Default)]
pub(super) struct Moved {
    /// The centre line.
    pub(super) line: Vec<Vec3>,
    /// The least radius of any hose of it [m].
    pub(super) least: f64,
    /// The radius at which the tightest one folds [m].
    pub(super) folds: f64,
    /// The pull on the spigot over that of rest [N].
    pub(super) taut: f64,
}

/// What is not asked about at the two ends of a run: what carries the mouth.
#[derive(Clone, Debug, Default)]
pub(super) struct Exempt {
    /// Bodies by number that carry the mouth at the beginning and the end.
    pub(super) hosts: [Vec<usize>; 2],
    /// How much of the run's ends is exempt from them [m].
    pub(super) free: [f64; 2],
}

/// The least gap of a run's pieces to each body nearer than what is looked for.
///
/// `on_engine` tells of each end of the run whether it moves with the engine; `reach` is how much beyond the wanted
/// clearance is looked at [m].
pub(super) fn gaps(
    space: &Space,
    parts: &[LainPart],
    exempt: &Exempt,
    on_engine: [bool; 2],
    reach: f64,
) -> Vec<Gap> {
    let mut found: BTreeMap<usize, Gap> = BTreeMap::new();
    let whole: f64 = parts.iter().map(length).sum();
    let mut along = 0.0;
    for part in parts {
        for pair in part.line.windows(2) {
            let [a, b] = pair else { continue };
            let piece = (*b - *a).length();
            let (before, after) = (along, whole - along - piece);
            along += piece;
            space.each_near(*a, *b, part.radius, reach + MOST_KEPT, |number, near| {
                let Some(body) = space.bodies().get(number) else {
                    return;
                };
                let [first, last] = &exempt.hosts;
                let [free_first, free_last] = exempt.free;
                if (first.contains(&number) && before < free_first)
                    || (last.contains(&number) && after < free_last)
                    || near.distance > body.keep + reach
                {
                    return;
                }
                let known = found.get(&number);
                if known.is_some_and(|known| known.gap <= near.distance) {
                    return;
                }
                // What both of its ends move with does not move against it.
                let with_engine = body.frame == Frame::Engine;
                let moves = on_engine.iter().any(|end| *end != with_engine);
                let way = near.normal;
                found.insert(
                    number,
                    Gap {
                        with: slug(&body.name),
                        title: body.name.clone(),
                        gap: near.distance,
                        radius: part.radius,
                        from: near.on_axis - way * part.radius,
                        to: near.on_body,
                        keep: body.keep,
                        nature: body.nature,
                        moves,
                        seen: true,
                    },
                );
            });
        }
    }
    for (number, gap) in &mut found {
        if gap.nature == Nature::Hot {
            gap.seen = space.sees(gap.from, gap.to, &[*number]);
        }
    }
    found.into_values().collect()
}

/// The greatest clearance that any thing wants: what is asked of the tree of bodies [m].
const MOST_KEPT: f64 = 0.1;

/// A body's name as part of an id.
fn slug(name: &str) -> String {
    name.replace([' ', '.'], "-")
}

/// The length of a piece.
pub(super) fn length(part: &LainPart) -> f64 {
    part.line
        .windows(2)
        .map(|pair| match pair {
            [a, b] => (*b - *a).length(),
            _ => 0.0,
        })
        .sum()
}
