//! A run hung between its mouths: the rod of the bay with this run's pieces.

use bay::Vec3;
use bay::lie::{self, Elbow, Held, Hose, Piece, Roll, Run, RunLay, Straight};
use bay::rod::{Around, End, Fault, OpenAir};
use bay::solid::Space;
use boat::Key;

use super::input::{HoseFact, PieceFact, PieceForm, RouteInput, RunFact};
use super::judge::{HOT_MARGIN, TIE};
use super::lain::{
    Exempt, HighSpot, Lain, LainPart, LainSupport, LowSpot, Moved, Swing, SwingPlace, TightBend,
};
use super::lay::Mouth;
use crate::shop::missing;
use crate::stages::types::Missing;

/// Standard gravity [m/s²]. Source: BIPM SI Brochure, 9th edition.
pub(super) const GRAVITY: f64 = reference::pump::STANDARD_GRAVITY;
/// Rises lower than this are no high spot: less air than that is carried along [m]. Common practice, no source.
pub(super) const RISE: f64 = 0.02;
/// A line stands upright where the cosine of its angle to the upright is more than this, as the clock of a clip has it.
const UPRIGHT: f64 = bay::clock::UPRIGHT;

/// A run that hangs, with what it takes to hang it again a little changed.
#[derive(Clone, Debug)]
pub(super) struct Hung {
    pub(super) lain: Lain,
    /// The run as it was asked of the rod.
    pub(super) asked: Run,
    /// Its shape.
    pub(super) shape: RunLay,
    /// Branches of its tees: where a hose goes on, where the roll is decided.
    pub(super) branches: Vec<(Key, Option<End>)>,
    /// Whether bodies press on it; one that would lie deep in one of them is told so, and hung as if it were not there.
    pub(super) pressed: bool,
}

/// What a hose in open air would meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Meets {
    /// Nothing.
    Nothing,
    /// A surface, against which it comes to rest.
    Surface,
    /// The inside of a thing.
    Deep,
}

/// How deep in a thing a hose may lie, in its own radii, before no contact is looked for.
const DEEP: f64 = 3.0;

/// What a shape meets. Its ends are left out as far as what carries them is.
fn meets(pieces: &[PieceFact], shape: &RunLay, exempt: &Exempt, space: &Space) -> Meets {
    let radius = pieces
        .iter()
        .map(|piece| piece.od / 2.0)
        .fold(0.0, f64::max);
    let [first, last] = exempt.free;
    let whole = shape.lay.arcs.last().copied().unwrap_or(0.0);
    let between = shape
        .lay
        .points
        .windows(2)
        .zip(&shape.lay.arcs)
        .filter(|(_, arc)| **arc >= first && **arc <= whole - last);
    let mut found = Meets::Nothing;
    for (pair, _) in between {
        let [a, b] = pair else { continue };
        let least = space
            .near(*a, *b, radius, 0.0)
            .into_iter()
            .map(|(_, near)| near.distance)
            .fold(f64::INFINITY, f64::min);
        if least < -DEEP * radius {
            return Meets::Deep;
        }
        if least < 0.0 {
            found = Meets::Surface;
        }
    }
    found
}

/// Hangs a run.
pub(super) fn hang(
    input: &RouteInput,
    run: &RunFact,
    pieces: &[PieceFact],
    mouths: [Mouth; 2],
    exempt: &Exempt,
    space: &Space,
) -> Result<Hung, NoShape> {
    let ahead = Vec3::from_array(input.ahead);
    let (asked, supports) = asked(run, pieces, mouths, exempt, ahead);
    // In open air first: most runs touch nothing, and one that would lie deep in a thing is pushed out by no contact.
    let open = lie::lie(&asked, &OpenAir).map_err(|fault| no_shape(run, pieces, mouths, &fault))?;
    let meets = open
        .first()
        .map_or(Meets::Nothing, |shape| meets(pieces, shape, exempt, space));
    let shapes = match meets {
        Meets::Nothing | Meets::Deep => Ok(open),
        Meets::Surface => match lie::lie(&asked, space) {
            // Among bodies nothing rests: how it would hang without them shows what it runs into.
            Err(Fault::NotFound { .. }) => Ok(open),
            found => found,
        },
    };
    let around: &dyn Around = match meets {
        Meets::Deep => &OpenAir,
        Meets::Nothing | Meets::Surface => space,
    };
    let shapes = shapes.map_err(|fault| no_shape(run, pieces, mouths, &fault))?;
    let mut shapes = shapes.into_iter();
    let Some(shape) = shapes.next() else {
        return Err(no_shape(
            run,
            pieces,
            mouths,
            &Fault::NotFound { starts: 0 },
        ));
    };
    let others = beside(&shape, shapes);
    // A shape that may be turned without effort is as good on any side.
    let turned = (shape.lay.neutral && !shape.lay.bend.radius.is_infinite()).then_some(0.0);
    let next = others.iter().map(|(more, _)| *more).reduce(f64::min);
    let as_good = others.iter().filter(|(more, _)| more.abs() < TIE);
    let others = as_good.map(|(_, other)| parts(pieces, other)).collect();
    let parts = parts(pieces, &shape);
    let branches = branches(pieces, &parts, ahead);
    let mut lain = Lain {
        ends: [
            (shape.lay.force_a.length(), shape.lay.moment_a.length()),
            (shape.lay.force_b.length(), shape.lay.moment_b.length()),
        ],
        sag: sag(&shape),
        longest_span: longest_span(run, &asked, &shape),
        next: turned.or(next),
        others,
        off_lead: (!asked.led.is_empty()).then(|| asked.off_lead(&shape.centreline)),
        supports,
        parts,
        ..Lain::default()
    };
    spots(input, run, pieces, &shape, &mut lain);
    lain.moved = moved(
        input.moves.as_ref().ok().copied(),
        &asked,
        &shape,
        mouths,
        around,
    );
    lain.swing = lain.moved.as_deref().map(|ways| swing(&shape, ways));
    Ok(Hung {
        lain,
        asked,
        shape,
        branches,
        pressed: meets != Meets::Deep,
    })
}

/// What is asked beyond its energy of bending by each other stable shape, as a share of it, where that is under a
/// fifth.
fn beside(shape: &RunLay, others: impl Iterator<Item = RunLay>) -> Vec<(f64, RunLay)> {
    let whole = shape.lay.arcs.last().copied().unwrap_or(0.0);
    let scale = shape.lay.bending.max(1e-9);
    let mut found: Vec<(f64, RunLay)> = Vec::new();
    for other in others.filter(|other| other.lay.stable) {
        let more = (other.lay.energy - shape.lay.energy) / scale;
        let same = |one: &RunLay| one.lay.farthest_from(&other.lay) < OTHER * whole;
        if more < 0.2 && !same(shape) && !found.iter().any(|(_, known)| same(known)) {
            found.push((more, other));
        }
    }
    found
}

/// Shapes nowhere farther apart than this share of the run's length are one. Ours.
const OTHER: f64 = 0.01;

/// The run as the rod wants it, and its supports.
fn asked(
    run: &RunFact,
    pieces: &[PieceFact],
    mouths: [Mouth; 2],
    exempt: &Exempt,
    ahead: Vec3,
) -> (Run, Vec<LainSupport>) {
    let [a, b] = mouths.map(|mouth| mouth.end);
    let mut along = a.along;
    let count = pieces.len();
    let list = pieces
        .iter()
        .enumerate()
        .map(|(i, piece)| {
            let full = std::f64::consts::PI / 4.0 * piece.bore.powi(2) * run.density;
            let radius = piece.od / 2.0;
            match &piece.form {
                PieceForm::Hose(hose) => {
                    let [stiffness, _, _] = hose.stiffness;
                    Piece::Hose(Hose {
                        length: hose.free,
                        stiffness,
                        weight: (hose.mass + full) * GRAVITY,
                        radius,
                        least_radius: limit(hose).unwrap_or(radius),
                    })
                }
                PieceForm::Rigid {
                    long,
                    turn: None,
                    mass,
                    ..
                } => Piece::Straight(Straight {
                    length: *long,
                    weight: (mass + full * long) * GRAVITY,
                    radius,
                }),
                PieceForm::Rigid {
                    long,
                    turn: Some((angle, bend)),
                    legs: [leg_in, leg_out],
                    roll,
                    mass,
                } => {
                    // The roll is told about the line of flow as it enters: at a mouth that is known.
                    let at_mouth = i == 0 || i + 1 == count;
                    let way = if i == 0 { a.along } else { -b.along };
                    let roll = match roll {
                        Some(roll) if at_mouth => Roll::Toward(rolled(way, *roll, ahead)),
                        Some(roll) => Roll::Toward(rolled(along, *roll, ahead)),
                        None => Roll::Free,
                    };
                    if let Roll::Toward(side) = roll {
                        along = (along * angle.cos() + side * angle.sin()).normalize_or(along);
                    }
                    Piece::Elbow(Elbow {
                        angle: *angle,
                        bend: *bend,
                        leg_in: *leg_in,
                        leg_out: *leg_out,
                        weight: (mass + full * long) * GRAVITY,
                        radius,
                        roll,
                    })
                }
            }
        })
        .collect();
    let mut asked = Run::of(a, b, list);
    asked.bare = exempt.free;
    asked.hosts.clone_from(&exempt.hosts);
    asked.led = run.corners.iter().copied().map(Vec3::from_array).collect();
    let supports = held(run, &asked);
    let (holds, supports): (Vec<Option<Held>>, Vec<LainSupport>) = supports.into_iter().unzip();
    asked.held = holds.into_iter().flatten().collect();
    (asked, supports)
}

/// The tightest that a hose may be bent by every rule, where that is known [m].
pub(super) fn limit(hose: &HoseFact) -> Option<f64> {
    let ((least, _), (kinks, _)) = (hose.least.as_ref()?, hose.kinks.as_ref()?);
    Some(least.max(kinks * HOT_MARGIN))
}

/// The direction that stands straight up from a line, turned clockwise about it as seen along it.
fn rolled(along: Vec3, roll: f64, ahead: Vec3) -> Vec3 {
    // On a line that runs straight up or down, the bow stands for up.
    let up = if along.z.abs() > UPRIGHT {
        ahead
    } else {
        Vec3::new(0.0, 0.0, 1.0)
    };
    let up = (up - along * along.dot(up))
        .try_normalize()
        .unwrap_or_else(|| along.any_orthonormal_vector());
    // Seen along the line, clockwise is from up to the right hand: along × up lies to the right of who looks along.
    let right = along.cross(up);
    up * roll.cos() + right * roll.sin()
}

/// Supports on the hoses they lie nearest to by the length told, or by their share of the way; and what became of each.
fn held(run: &RunFact, asked: &Run) -> Vec<(Option<Held>, LainSupport)> {
    let lengths: Vec<(usize, f64, bool)> = asked
        .pieces
        .iter()
        .enumerate()
        .map(|(i, piece)| match piece {
            Piece::Hose(hose) => (i, hose.length, true),
            Piece::Straight(straight) => (i, straight.length, false),
            Piece::Elbow(elbow) => (
                i,
                elbow.leg_in + elbow.leg_out + elbow.bend * elbow.angle,
                false,
            ),
        })
        .collect();
    let whole: f64 = lengths.iter().map(|(_, length, _)| length).sum();
    run.supports
        .iter()
        .map(|support| {
            let mut told = LainSupport {
                place: support.place.clone(),
                guessed: support.after.is_none(),
                ..LainSupport::default()
            };
            let Some(at) = support.at else {
                told.dropped = Some("its place is not known");
                return (None, told);
            };
            let place = Vec3::from_array(at);
            let (near, far) = ((place - asked.a.at).length(), (place - asked.b.at).length());
            let along = support
                .after
                .unwrap_or(whole * near / (near + far).max(1e-9));
            let mut before = 0.0;
            for (piece, length, bends) in &lengths {
                if along < before + length {
                    if !bends {
                        told.dropped = Some("it falls on a piece that does not bend");
                        return (None, told);
                    }
                    let arc = (along - before).clamp(0.02 * length, 0.98 * length);
                    told.along = Some(before + arc);
                    let held = Held {
                        piece: *piece,
                        arc,
                        at: place,
                    };
                    return (Some(held), told);
                }
                before += length;
            }
            told.dropped = Some("it falls beyond the end of the run");
            (None, told)
        })
        .collect()
}

/// Why a run has no shape.
#[derive(Clone, Debug)]
pub(super) struct NoShape {
    pub(super) missing: Missing,
    /// It surely does not reach from mouth to mouth: by how much [m].
    pub(super) short: Option<f64>,
}

impl From<Missing> for NoShape {
    fn from(missing: Missing) -> Self {
        Self {
            missing,
            short: None,
        }
    }
}

/// As [`why_not`], and whether it is sure that the run is too short.
fn no_shape(run: &RunFact, pieces: &[PieceFact], mouths: [Mouth; 2], fault: &Fault) -> NoShape {
    // A place is told of along each axis; what is rigid at a mouth swings with it.
    let rigid: f64 = pieces
        .iter()
        .map(|piece| match &piece.form {
            PieceForm::Rigid { long, .. } => *long,
            PieceForm::Hose(_) => 0.0,
        })
        .sum();
    let place = |mouth: &Mouth| 3.0_f64.sqrt() * mouth.half + mouth.aside * rigid;
    let cut = super::settle::hoses(pieces).map(|(_, hose)| hose.free_half);
    let off = mouths.iter().map(place).sum::<f64>() + cut.sum::<f64>();
    let short = match fault {
        Fault::TooShort { chord, length } if chord - length > off => Some(chord - length),
        _ => None,
    };
    NoShape {
        missing: why_not(run, pieces, fault),
        short,
    }
}

fn why_not(run: &RunFact, pieces: &[PieceFact], fault: &Fault) -> Missing {
    let hose = pieces.iter().find_map(|piece| match &piece.form {
        PieceForm::Hose(hose) => Some(hose),
        PieceForm::Rigid { .. } => None,
    });
    let place = hose.map_or(run.place.as_str(), |hose| hose.place.as_str());
    let lies = format!("bay.lies.{}", boat::key_text(&run.key));
    match fault {
        Fault::TooShort { chord, length } => missing(
            &format!(
                "its mouths lie {:.0} mm apart along the straightest way and all its pieces together are {:.0} mm long",
                chord * 1000.0,
                length * 1000.0
            ),
            place,
            "Cut it longer, or look at the places of its two mouths again.",
        ),
        Fault::Supports {
            first,
            second,
            chord,
            arc,
        } => missing(
            &format!(
                "{first} and {second} lie {:.0} mm apart along the straightest way and {:.0} mm of it lie between them",
                chord * 1000.0,
                arc * 1000.0
            ),
            &lies,
            "Measure again where the two are, and how far along it they hold it.",
        ),
        other => missing(
            &format!("no shape was found in which it rests ({other})"),
            &lies,
            "Write a support where it is to be held, or look at the places and directions of its two mouths again.",
        ),
    }
}

/// The centre line of each piece out of that of the run.
pub(super) fn parts(pieces: &[PieceFact], shape: &RunLay) -> Vec<LainPart> {
    // Along the rounded centre line, each piece takes its own length.
    let line = &shape.centreline;
    let mut arcs = vec![0.0];
    let mut whole = 0.0;
    for pair in line.windows(2) {
        if let [a, b] = pair {
            whole += (*b - *a).length();
            arcs.push(whole);
        }
    }
    let lengths: Vec<f64> = pieces
        .iter()
        .map(|piece| match &piece.form {
            PieceForm::Hose(hose) => hose.free,
            PieceForm::Rigid { long, .. } => *long,
        })
        .collect();
    let sum: f64 = lengths.iter().sum();
    let share = if sum > 0.0 { whole / sum } else { 1.0 };
    let mut begin = 0.0;
    pieces
        .iter()
        .zip(&lengths)
        .enumerate()
        .map(|(i, (piece, length))| {
            let end = begin + length * share;
            let mut own = vec![at_arc(line, &arcs, begin)];
            own.extend(
                line.iter()
                    .zip(&arcs)
                    .filter(|(_, arc)| **arc > begin + 1e-6 && **arc < end - 1e-6)
                    .map(|(point, _)| *point),
            );
            own.push(at_arc(line, &arcs, end));
            begin = end;
            let least = shape.hoses.iter().find(|hose| hose.piece == i);
            LainPart {
                line: own,
                radius: piece.od / 2.0,
                least: least
                    .filter(|hose| hose.bend.radius.is_finite())
                    .map(|hose| TightBend {
                        at: hose.bend.at,
                        centre: centre(line, &arcs, hose.bend.arc, hose.bend.radius),
                        radius: hose.bend.radius,
                    }),
            }
        })
        .collect()
}

/// A point of a line at a distance along it.
fn at_arc(line: &[Vec3], arcs: &[f64], arc: f64) -> Vec3 {
    let next = arcs.partition_point(|known| *known < arc);
    let (Some(before), Some(after)) = (next.checked_sub(1), line.get(next)) else {
        let end = if next == 0 { line.first() } else { line.last() };
        return end.copied().unwrap_or(Vec3::ZERO);
    };
    let (Some(from), Some(a), Some(b)) = (line.get(before), arcs.get(before), arcs.get(next))
    else {
        return *after;
    };
    let share = if b > a { (arc - a) / (b - a) } else { 0.0 };
    *from + (*after - *from) * share
}

/// The middle of the circle of a bend.
fn centre(line: &[Vec3], arcs: &[f64], arc: f64, radius: f64) -> Vec3 {
    let step = radius * 0.3;
    let (before, at, after) = (
        at_arc(line, arcs, arc - step),
        at_arc(line, arcs, arc),
        at_arc(line, arcs, arc + step),
    );
    let inward = ((before + after) * 0.5 - at).normalize_or_zero();
    at + inward * radius
}

/// Where the branches of tees go off, half a tee's length along and half its length out.
fn branches(pieces: &[PieceFact], parts: &[LainPart], ahead: Vec3) -> Vec<(Key, Option<End>)> {
    pieces
        .iter()
        .zip(parts)
        .filter(|(piece, _)| {
            piece
                .key
                .rsplit('.')
                .next()
                .is_some_and(|name| name.starts_with("tee"))
        })
        .map(|(piece, part)| {
            let PieceForm::Rigid { roll, long, .. } = &piece.form else {
                return (piece.key.clone(), None);
            };
            let end = roll.and_then(|roll| {
                let (first, last) = (*part.line.first()?, *part.line.last()?);
                let along = (last - first).try_normalize()?;
                let side = rolled(along, roll, ahead);
                Some(End {
                    at: (first + last) * 0.5 + side * (long / 2.0),
                    along: side,
                })
            });
            (piece.key.clone(), end)
        })
        .collect()
}

/// How far its lowest place hangs under its lower end.
fn sag(shape: &RunLay) -> f64 {
    let ends = [shape.centreline.first(), shape.centreline.last()];
    let lower = ends
        .into_iter()
        .flatten()
        .map(|end| end.z)
        .fold(f64::INFINITY, f64::min);
    let lowest = shape
        .centreline
        .iter()
        .map(|point| point.z)
        .fold(f64::INFINITY, f64::min);
    (lower - lowest).max(0.0)
}

/// The longest stretch between two holds: mouths and supports.
fn longest_span(run: &RunFact, asked: &Run, shape: &RunLay) -> f64 {
    let whole = shape.lay.arcs.last().copied().unwrap_or(0.0);
    let mut holds = vec![0.0, whole];
    for held in &asked.held {
        let hose = shape.hoses.iter().find(|hose| hose.piece == held.piece);
        holds.extend(hose.map(|hose| hose.begin + held.arc));
    }
    // Whatever hangs on a tee holds nothing, and vents are light.
    if run.density <= 0.0 {
        return 0.0;
    }
    holds.sort_by(f64::total_cmp);
    holds
        .windows(2)
        .map(|pair| match pair {
            [a, b] => b - a,
            _ => 0.0,
        })
        .fold(0.0, f64::max)
}

/// High and low spots, upright and tilted.
fn spots(input: &RouteInput, run: &RunFact, pieces: &[PieceFact], shape: &RunLay, lain: &mut Lain) {
    let bore = pieces
        .iter()
        .map(|piece| piece.bore)
        .fold(f64::INFINITY, f64::min);
    let upright = (String::new(), [0.0, 0.0, 1.0]);
    let tilts = std::iter::once(&upright).chain(&input.tilts);
    for (name, up) in tilts {
        let up = Vec3::from_array(*up);
        for spot in lie::spots(&shape.centreline, bore, -up) {
            match spot.kind {
                lie::Kind::High if spot.depth > RISE => {
                    let slope = falls(&shape.centreline, spot.arc, up);
                    let froude = lie::froude_needed(slope);
                    lain.highs.push(HighSpot {
                        at: spot.at,
                        rise: spot.depth,
                        bore,
                        slope,
                        froude,
                        clears: froude.map(|froude| froude * (GRAVITY * bore).sqrt()),
                        tilt: name.clone(),
                    });
                }
                lie::Kind::Low if name.is_empty() && (run.wet || run.raw) => {
                    lain.lows.push(LowSpot {
                        at: spot.at,
                        volume: spot.volume,
                        length: spot.length,
                    })
                }
                lie::Kind::High | lie::Kind::Low => {}
            }
        }
    }
}

/// How steeply a line falls at most beyond a place of it, before it rises again [rad].
fn falls(line: &[Vec3], from: f64, up: Vec3) -> f64 {
    let mut along = 0.0;
    let mut most = 0.0_f64;
    for pair in line.windows(2) {
        let [a, b] = pair else { continue };
        let way = *b - *a;
        along += way.length();
        if along <= from + 1e-9 {
            continue;
        }
        let fall = -way.normalize_or_zero().dot(up);
        if fall < -1e-3 {
            break;
        }
        most = most.max(fall.clamp(0.0, 1.0).asin());
    }
    most
}

/// The run with the engine's end moved: up, down, then along the other axes.
fn moved(
    moves: Option<f64>,
    asked: &Run,
    shape: &RunLay,
    mouths: [Mouth; 2],
    around: &dyn Around,
) -> Option<Vec<Moved>> {
    let [first, last] = mouths.map(|mouth| mouth.on_engine);
    let moves = moves?;
    if first == last || moves <= 0.0 {
        return None;
    }
    let force = |shape: &RunLay| {
        if first {
            shape.lay.force_a
        } else {
            shape.lay.force_b
        }
    };
    let one = |way: Vec3| -> Moved {
        let mut run = asked.clone();
        let end = if first { &mut run.a } else { &mut run.b };
        end.at += way * moves;
        // Where the shape of rest leads to none that rests, the nearest is sought.
        let found = lie::next_to(&run, around, shape).ok();
        let Some(found) = found.filter(|found| found.lay.stable) else {
            // It does not reach any more.
            return Moved {
                by: way * moves,
                taut: f64::INFINITY,
                ..Moved::default()
            };
        };
        Moved {
            by: way * moves,
            least: found
                .hoses
                .iter()
                .map(|hose| (hose.piece, hose.bend.radius))
                .collect(),
            taut: (force(&found) - force(shape)).length(),
            line: found.centreline,
        }
    };
    let ways = [Vec3::Z, -Vec3::Z, Vec3::X, -Vec3::X, Vec3::Y, -Vec3::Y];
    Some(ways.into_iter().map(one).collect())
}

/// How far a run that hangs in another shape swings as the engine moves, where one of its ends alone is on it.
pub(super) fn swing_of(
    moves: Option<f64>,
    asked: &Run,
    shape: &RunLay,
    mouths: [Mouth; 2],
    around: &dyn Around,
) -> Option<Swing> {
    let ways = moved(moves, asked, shape, mouths, around)?;
    Some(swing(shape, &ways))
}

/// How far each place of a run swings as one of its ends moves. Where no shape was found, as far as that end; and no
/// farther than twice that, for a shape that jumped is told of by itself.
fn swing(shape: &RunLay, ways: &[Moved]) -> Swing {
    let line = &shape.centreline;
    let mut arcs = vec![0.0];
    let mut whole = 0.0;
    for pair in line.windows(2) {
        if let [a, b] = pair {
            whole += (*b - *a).length();
            arcs.push(whole);
        }
    }
    let places = line.iter().zip(&arcs).enumerate().map(|(i, (at, arc))| {
        let off = ways.iter().map(|way| {
            let moved = way.line.get(i).filter(|_| way.line.len() == line.len());
            // Where no shape was found it may come as much nearer as the engine moves, to whatever it is.
            moved.map_or((way.by, Vec3::ZERO), |moved| {
                let off = *moved - *at;
                (off.clamp_length_max(2.0 * way.by.length()), way.by)
            })
        });
        SwingPlace {
            along: arc / whole.max(1e-12),
            off: off.collect(),
        }
    });
    Swing {
        places: places.collect(),
    }
}
