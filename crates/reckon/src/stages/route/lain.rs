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
    /// By which share of this shape's energy of bending the nearest other stable one asks more, where that is within
    /// a fifth.
    pub(super) next: Option<f64>,
    /// The other stable shapes that cost as much.
    pub(super) others: Vec<Vec<LainPart>>,
    /// How far it stays off the points that it was led by, at most [m].
    pub(super) off_lead: Option<f64>,
    /// Its supports, in the order of the file.
    pub(super) supports: Vec<LainSupport>,
    /// With the engine's end moved: up, down, then along the other axes.
    pub(super) moved: Option<Vec<Moved>>,
    /// How far it swings then, where one end alone is on the engine.
    pub(super) swing: Option<Swing>,
}

/// How far the places of a run swing as the engine moves.
#[derive(Clone, Debug, Default)]
pub(super) struct Swing {
    /// By the share of the way along the run.
    pub(super) places: Vec<SwingPlace>,
}

/// A place of a run, and where it swings.
#[derive(Clone, Debug, Default)]
pub(super) struct SwingPlace {
    /// Share of the way along the run.
    pub(super) along: f64,
    /// By how much it is off where it rests [m], and by how much the engine is then: both ways along each axis.
    pub(super) off: Vec<(Vec3, Vec3)>,
}

impl SwingPlace {
    /// How far it comes nearer in a direction to what moves with the engine, or stands [m]. What the three axes do adds
    /// up by squares, as the engine moves in any direction by as much.
    fn nearer(&self, toward: Vec3, engine: bool) -> f64 {
        let way = |(off, by): &(Vec3, Vec3)| {
            let off = if engine { *off - *by } else { *off };
            off.dot(toward)
        };
        let axes = self.off.chunks(2).map(|ways| {
            let most = ways.iter().map(way).fold(0.0, f64::max);
            most * most
        });
        axes.sum::<f64>().sqrt()
    }
}

impl Swing {
    /// How far a share of the way along it the run comes nearer in a direction [m]: the greater of the two places beside.
    pub(super) fn at(&self, along: f64, toward: Vec3, engine: bool) -> f64 {
        let next = self.places.partition_point(|place| place.along < along);
        [next.checked_sub(1), Some(next)]
            .into_iter()
            .flatten()
            .filter_map(|number| self.places.get(number))
            .map(|place| place.nearer(toward, engine))
            .fold(0.0, f64::max)
    }
}

impl Lain {
    /// What stays in its low spots, upright [m³].
    pub(super) fn stays(&self) -> f64 {
        self.lows.iter().map(|low| low.volume).sum()
    }
}

/// A support as it came to hold.
#[derive(Clone, Debug, Default)]
pub(super) struct LainSupport {
    /// Where its place along the run stands in the file.
    pub(super) place: boat::KeyPath,
    /// How far along the run it holds [m].
    pub(super) along: Option<f64>,
    /// Whether nobody wrote that.
    pub(super) guessed: bool,
    /// Why it holds nothing.
    pub(super) dropped: Option<&'static str>,
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
    /// How far they do there [m]; as far as the engine where nothing tells.
    pub(super) by: Option<f64>,
    /// Where along the run, as a share of it.
    pub(super) along: f64,
    /// Whether nothing stands between.
    pub(super) seen: bool,
    /// Whether that is so only as it may hang on the other side.
    pub(super) aside: bool,
}

/// A high spot.
#[derive(Clone, Debug)]
pub(super) struct HighSpot {
    /// Where.
    pub(super) at: Vec3,
    /// How far it stands over the higher of the lowest places on either side [m].
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
    /// By what its end is moved [m].
    pub(super) by: Vec3,
    /// The centre line.
    pub(super) line: Vec<Vec3>,
    /// The least radius of each hose [m], by its piece.
    pub(super) least: BTreeMap<usize, f64>,
    /// The pull on the spigot over that of rest [N].
    pub(super) taut: f64,
}

/// What is not asked about at the two ends of a run: what carries the mouth. Of a solid carrier a hose may come as
/// near as it likes there, but it does not go into it; of a hot or moving one it keeps as far as of anything.
#[derive(Clone, Debug, Default)]
pub(super) struct Exempt {
    /// Bodies by number that carry the mouth at the beginning and the end.
    pub(super) hosts: [Vec<usize>; 2],
    /// How much of the run's ends is exempt from them [m].
    pub(super) free: [f64; 2],
    /// How far the mouth at either end may be off [m]: a carrier's surface that is met by no more is not met.
    pub(super) off: [f64; 2],
    /// The scan by its number: the spigots and what sits on them are in it, and it shades nothing, being grown.
    pub(super) scan: Option<usize>,
    /// Bodies that are not asked about at all near the ends.
    pub(super) joined: bool,
}

/// Where along a run a stretch lies, as its ends are concerned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stretch {
    /// As near to the mouth as the hose is thick: what is nearer there than its flat end is no gap.
    Tip,
    /// By what carries the mouth.
    Host,
    /// Beyond.
    Open,
}

impl Exempt {
    /// In which stretch a place lies, seen from one end.
    fn stretch(&self, end: usize, from_end: f64, radius: f64) -> Stretch {
        let free = self.free.get(end).copied().unwrap_or(0.0);
        if from_end < radius.min(free) {
            Stretch::Tip
        } else if from_end < free {
            Stretch::Host
        } else {
            Stretch::Open
        }
    }

    /// Whether a body at a distance counts at a place so far from both ends.
    fn counts(
        &self,
        number: usize,
        body: &bay::solid::Body,
        distance: f64,
        from: [f64; 2],
        radius: f64,
    ) -> bool {
        let ends = self.hosts.iter().zip(self.off).zip(from).enumerate();
        for (end, ((hosts, off), from_end)) in ends {
            if !hosts.contains(&number) {
                continue;
            }
            let counts = match self.stretch(end, from_end, radius) {
                Stretch::Open => true,
                // The scan has the spigot in it, and the old hose on it.
                _ if self.joined || self.scan == Some(number) => false,
                Stretch::Tip => false,
                Stretch::Host => body.nature != Nature::Solid || distance < -off,
            };
            if !counts {
                return false;
            }
        }
        true
    }
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
    swing: Option<&Swing>,
    reach: f64,
) -> Vec<Gap> {
    let mut found: BTreeMap<usize, Gap> = BTreeMap::new();
    let whole: f64 = parts.iter().map(length).sum();
    // What is hot is asked about as far as its rays reach.
    let band = |body: &bay::solid::Body| match body.nature {
        Nature::Hot => 2.0 * body.keep,
        Nature::Moving | Nature::Solid => body.keep,
    };
    let most = space.bodies().iter().map(band).fold(0.0, f64::max);
    let mut along = 0.0;
    for part in parts {
        // Stretches by the ends are asked about by themselves.
        let [free_first, free_last] = exempt.free;
        let mut walls = [
            part.radius,
            free_first,
            whole - free_last,
            whole - part.radius,
        ];
        walls.sort_by(f64::total_cmp);
        for pair in part.line.windows(2) {
            let [from, to] = pair else { continue };
            let long = (*to - *from).length();
            let begin = along;
            along += long;
            let mut cuts = vec![begin];
            cuts.extend(
                walls
                    .iter()
                    .copied()
                    .filter(|wall| *wall > begin + 1e-6 && *wall < along - 1e-6),
            );
            cuts.push(along);
            for piece in cuts.windows(2) {
                let [first, last] = piece else { continue };
                let at = |arc: f64| *from + (*to - *from) * ((arc - begin) / long.max(1e-12));
                let middle = (first + last) / 2.0;
                let share = middle / whole.max(1e-12);
                space.each_near(
                    at(*first),
                    at(*last),
                    part.radius,
                    reach + most,
                    |number, near| {
                        let Some(body) = space.bodies().get(number) else {
                            return;
                        };
                        let from_ends = [middle, whole - middle];
                        if near.distance > band(body) + reach
                            || !exempt.counts(number, body, near.distance, from_ends, part.radius)
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
                                by: swing.map(|swing| swing.at(share, -way, with_engine)),
                                along: share,
                                seen: true,
                                aside: false,
                            },
                        );
                    },
                );
            }
        }
    }
    for (number, gap) in &mut found {
        if gap.nature == Nature::Hot {
            let mut except = vec![*number];
            except.extend(exempt.scan);
            gap.seen = space.sees(gap.from, gap.to, &except);
        }
    }
    found.into_values().collect()
}

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
