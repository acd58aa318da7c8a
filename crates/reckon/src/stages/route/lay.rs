//! Lays every run, judges it, and then looks at what lies beside what.

use std::collections::BTreeMap;
use std::sync::Arc;

use bay::Vec3;
use bay::lie::Window;
use bay::rod::End;
use bay::solid::{Body, Faces, Frame, Nature, Shape, Space};
use boat::Key;

use super::hang::{self, Hung, NoShape};
use super::input::{EndFact, PieceForm, RouteInput, RunFact};
use super::judge::{HOSES_APART, Judge, mm};
use super::lain::{Exempt, Gap, Lain, LainPart, Swing, gaps};
use super::near::{CLEARLY, known as known_moves};
use super::types::{
    LaidBody, LaidPart, LaidRun, LaidScan, LaidSpot, LeastBend, LeastGap, NotLaid, Place, Route,
    Stays, place,
};
use crate::memory::remembered;
use crate::seed::hash_of;
use crate::stages::types::{Missing, Subject};
use crate::verdict::{Grade, Stage, Verdict, Words};

/// How far beyond the wanted clearance things are looked for [m].
const LOOK: f64 = 0.10;
/// How much of a hose's end may lie against what carries its spigot, in outside diameters.
const HOST_FREE: f64 = 1.5;

/// A mouth as the rod is clamped in it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mouth {
    pub(super) end: End,
    pub(super) half: f64,
    pub(super) aside: f64,
    pub(super) on_engine: bool,
}

/// Runs as they were found before, by all that they depend on.
#[derive(Clone, Debug, Default)]
pub(crate) struct Known {
    hung: BTreeMap<u64, Result<Hung, NoShape>>,
    settled: BTreeMap<u64, Settled>,
}

/// What takes long to find of a run that hangs: its windows by piece, and what they and tolerances say.
#[derive(Clone, Debug, Default)]
struct Settled {
    windows: Vec<(usize, Option<Window>)>,
    verdicts: Vec<Verdict>,
}

/// How many of each are kept: those of some arrangements, before and after an edit.
const KNOWN: usize = 256;

/// A run that hangs.
pub(super) struct Laid<'a> {
    pub(super) run: &'a RunFact,
    pub(super) mouths: [Mouth; 2],
    pub(super) exempt: Exempt,
    pub(super) hung: Hung,
    /// By what it is known again how it hangs.
    key: u64,
}

/// Lays all runs of the input; those that hang as they did before are taken from there.
pub(super) fn lay(input: &RouteInput, known: &mut Known) -> Route {
    let space = space(input);
    let mut route = Route {
        arrangement: input.arrangement.clone(),
        axes: input.axes.clone(),
        bodies: input.bodies.iter().map(body).collect(),
        scan: input.scan.as_ref().map(|scan| LaidScan {
            mesh: scan.mesh.clone(),
            triangles: scan.mesh.len(),
            half: scan.half,
            error: scan.error_text.clone(),
            laid: scan.laid.clone(),
        }),
        mouths: input
            .mouths
            .iter()
            .map(|mouth| (mouth.key.clone(), mouth.at, mouth.half))
            .collect(),
        hatch: input.hatch.map(corners),
        moves: input.moves.as_ref().copied().unwrap_or(0.0),
        ..Route::default()
    };
    let mut laid: Vec<Laid> = Vec::new();
    for run in &input.runs {
        match one(input, run, &laid, &space, known) {
            Ok(found) => laid.push(found),
            Err(NoShape { missing, short }) => route.missing.push(NotLaid {
                run: run.key.clone(),
                mark: run.mark.clone(),
                why: missing.why.metric.clone(),
                short,
                settles: missing.settles.clone(),
            }),
        }
    }
    for missing in &route.missing {
        let title = format!("{} ({})", missing.run, missing.mark);
        let subject = Subject {
            key: missing.run.clone(),
            title,
            place: missing.settles.place.clone(),
        };
        let (grade, because) = match missing.short {
            Some(_) => (
                Grade::Unsound,
                format!("It does not reach: {}.", missing.why),
            ),
            None => (
                Grade::Unmeasured,
                format!("It can't be laid yet: {}.", missing.why),
            ),
        };
        let mut verdict = subject.verdict(Stage::Route, "laid", grade, because.as_str().into());
        match missing.short {
            Some(short) => {
                verdict.remedy = Words::of(|system| {
                    format!(
                        "Cut it more than {} longer, for it must bend as well; or look at the places of its two mouths again.",
                        mm(short, system)
                    )
                });
                verdict.step(
                    "missing = straight way between its mouths − all its pieces",
                    missing.why.as_str().into(),
                    Words::of(|system| mm(short, system)),
                );
                verdict.working.limit = "it reaches".into();
            }
            None => verdict.settle_by(&missing.settles),
        }
        route.verdicts.push(verdict.spoken());
    }
    if let Some(missing) = &input.scan_missing {
        let subject = Subject {
            key: "scan".into(),
            title: "scan".into(),
            place: missing.settles.place.clone(),
        };
        let verdict = subject.waits(Stage::Route, "laid", "The scan is not laid in", missing);
        route.verdicts.push(verdict.spoken());
    }
    for (name, missing) in &input.shapeless {
        let title = name.replace('-', " ");
        let subject = Subject {
            key: format!("thing-{name}"),
            title: title.clone(),
            place: missing.settles.place.clone(),
        };
        let verdict = subject.waits(
            Stage::Route,
            "shape",
            &format!("What comes near to {title} is not judged"),
            missing,
        );
        route.verdicts.push(verdict.spoken());
    }
    let tubes = tubes(&laid);
    for (at, found) in laid.iter().enumerate() {
        let mut lain = found.hung.lain.clone();
        let neighbours = neighbours(found, at, &laid);
        let near = beside(&neighbours, &lain.parts, known_moves(&input.moves));
        lain.gaps.extend(near);
        let PiecesOf(pieces) = PiecesOf::of(found.run);
        let mut judge = Judge {
            input,
            run: found.run,
            pieces,
            lain: &lain,
            verdicts: Vec::new(),
        };
        judge.shape();
        let mut verdicts = judge.verdicts;
        let rules = super::settle::Rules {
            found,
            pieces,
            space: &space,
            neighbours: &neighbours,
            moves: &input.moves,
        };
        let settled = if input.settle {
            let key = format!(
                "{} {neighbours:?} {:?} {:?}",
                found.key, input.moves, found.run
            );
            remembered(&mut known.settled, KNOWN, hash_of(&key), || {
                let windows = super::settle::windows(&rules);
                let verdicts = super::settle::judge(&rules, &windows);
                Settled { windows, verdicts }
            })
        } else {
            Settled::default()
        };
        let windows = settled.windows;
        verdicts.extend(settled.verdicts);
        if found.run.wet || found.run.raw {
            route.stays.push(Stays {
                run: found.run.key.clone(),
                coolant: found.run.wet,
                volume: if found.run.drain { 0.0 } else { lain.stays() },
            });
        }
        let verdicts: Vec<Verdict> = verdicts.into_iter().map(Verdict::spoken).collect();
        route.runs.push(run(
            found,
            &lain,
            &verdicts,
            &windows,
            known_moves(&input.moves),
        ));
        route.verdicts.extend(verdicts);
    }
    super::reach::clips(input, &space, &laid, &tubes, &mut route);
    // In the order of the file, as everything else is told.
    let order: BTreeMap<&str, usize> = input
        .file_order
        .iter()
        .enumerate()
        .map(|(at, run)| (run.as_str(), at))
        .collect();
    let at = |run: &str| order.get(run).copied().unwrap_or(usize::MAX);
    route.runs.sort_by_key(|run| at(&run.run));
    route.missing.sort_by_key(|run| at(&run.run));
    let of = |subject: &str| at(subject.split('.').next().unwrap_or(subject));
    route.verdicts.sort_by_key(|verdict| of(&verdict.subject));
    route
}

/// The pieces of a run that has them.
struct PiecesOf<'a>(&'a [super::input::PieceFact]);

impl<'a> PiecesOf<'a> {
    fn of(run: &'a RunFact) -> Self {
        Self(run.pieces.as_deref().unwrap_or(&[]))
    }
}

fn corners((at, [long, broad]): (Place, [f64; 2])) -> [Place; 4] {
    let [x, y, z] = at;
    let corner = |i: f64, j: f64| [x + i * long / 2.0, y + j * broad / 2.0, z];
    [
        corner(-1.0, -1.0),
        corner(1.0, -1.0),
        corner(1.0, 1.0),
        corner(-1.0, 1.0),
    ]
}

fn body(fact: &super::input::BodyFact) -> LaidBody {
    let faces = Faces::of(&fact.shape);
    LaidBody {
        name: fact.name.clone(),
        title: fact.title.clone(),
        nature: match fact.nature {
            _ if fact.hull => "hull",
            Nature::Hot => "hot",
            Nature::Moving => "moving",
            Nature::Solid => "solid",
        }
        .to_owned(),
        frame: match fact.frame {
            Frame::Engine => "engine",
            Frame::Hull => "hull",
        }
        .to_owned(),
        keep: fact.keep,
        points: faces.points.into_iter().map(place).collect(),
        triangles: faces.triangles,
        edges: faces.edges,
    }
}

fn space(input: &RouteInput) -> Space {
    let mut bodies: Vec<Body> = input
        .bodies
        .iter()
        .map(|fact| Body {
            name: fact.title.clone(),
            shape: fact.shape.clone(),
            nature: fact.nature,
            frame: fact.frame,
            keep: fact.keep,
        })
        .collect();
    if let Some(scan) = &input.scan {
        bodies.push(Body {
            name: "scan".into(),
            shape: Shape::Mesh(Arc::new(scan.mesh.clone())),
            nature: Nature::Solid,
            frame: Frame::Hull,
            // What the scan may be off is in its own inflation; what a solid wants comes on top.
            keep: scan.keep,
        });
    }
    Space::new(bodies)
}

/// Lays one run.
fn one<'a>(
    input: &'a RouteInput,
    run: &'a RunFact,
    laid: &[Laid<'a>],
    space: &Space,
    known: &mut Known,
) -> Result<Laid<'a>, NoShape> {
    let [from, to] = &run.ends;
    let mouths = [mouth(from, run, laid)?, mouth(to, run, laid)?];
    let pieces = run.pieces.as_ref().map_err(Clone::clone)?;
    let exempt = exempt(input, run, space, mouths.map(|mouth| mouth.half));
    // How fast it flows there and which verdicts are wanted moves no hose.
    let key = format!(
        "{} {mouths:?} {pieces:?} {:?} {:?} {:?}",
        input.around_key,
        (&run.supports, &run.corners),
        (run.density, run.wet, run.raw),
        exempt
    );
    let key = hash_of(&key);
    let hung = remembered(&mut known.hung, KNOWN, key, || {
        let mut hung = hang::hang(input, run, pieces, mouths, &exempt, space)?;
        let on_engine = mouths.map(|mouth| mouth.on_engine);
        let swing = hung.lain.swing.clone();
        let near =
            |parts: &[LainPart]| gaps(space, parts, &exempt, on_engine, swing.as_ref(), LOOK);
        hung.lain.gaps = near(&hung.lain.parts);
        // Where it may hang on either side, what it comes near to on the other counts as much.
        for other in &hung.lain.others {
            let others = near(other);
            merge(&mut hung.lain.gaps, others);
        }
        Ok(hung)
    })?;
    Ok(Laid {
        run,
        mouths,
        exempt,
        hung,
        key,
    })
}

/// Puts in what a shape on the other side comes nearer to.
fn merge(gaps: &mut Vec<Gap>, others: Vec<Gap>) {
    for mut other in others {
        other.aside = true;
        match gaps.iter_mut().find(|gap| gap.with == other.with) {
            Some(gap) if other.gap < gap.gap - ASIDE => *gap = other,
            Some(_) => {}
            None => gaps.push(other),
        }
    }
}

/// A gap that is less by no more than this on the other side is told of this one [m]. Ours.
const ASIDE: f64 = 0.001;

/// What carries the mouths of a run, by the numbers of the space; a scan carries every mouth.
fn exempt(input: &RouteInput, run: &RunFact, space: &Space, off: [f64; 2]) -> Exempt {
    let scan = input.scan.is_some().then(|| space.bodies().len() - 1);
    let hosts = run.ends.each_ref().map(|end| {
        let thing = match end {
            Ok(EndFact::Mouth(mouth)) => Some(mouth.thing.as_str()),
            _ => None,
        };
        let own = input
            .bodies
            .iter()
            .enumerate()
            .filter(|(_, body)| thing.is_some() && body.of.as_deref() == thing)
            .map(|(number, _)| number);
        own.chain(scan).collect::<Vec<usize>>()
    });
    let pieces = run.pieces.as_deref().unwrap_or(&[]);
    let od =
        |piece: Option<&super::input::PieceFact>| piece.map_or(0.0, |piece| piece.od * HOST_FREE);
    Exempt {
        hosts,
        free: [od(pieces.first()), od(pieces.last())],
        off,
        scan,
        joined: false,
    }
}

/// The mouth of an end; that of a tee once its run is laid.
fn mouth(end: &Result<EndFact, Missing>, run: &RunFact, laid: &[Laid]) -> Result<Mouth, Missing> {
    match end.as_ref().map_err(Clone::clone)? {
        EndFact::Mouth(fact) => Ok(Mouth {
            end: End {
                at: Vec3::from_array(fact.at),
                along: Vec3::from_array(fact.along),
            },
            half: fact.half,
            aside: fact.aside,
            on_engine: fact.on_engine,
        }),
        EndFact::Tee { run: of, piece } => {
            let carrier = laid.iter().find(|laid| laid.run.key == *of);
            let Some(carrier) = carrier else {
                return Err(crate::shop::missing(
                    &format!("{of}, from whose tee it goes, is not laid yet"),
                    &run.place,
                    &format!("Settle what {of} waits for first."),
                ));
            };
            let key = format!("{of}.{piece}");
            let branch = carrier.hung.branches.iter().find(|(name, _)| *name == key);
            match branch {
                Some((_, Some(end))) => Ok(Mouth {
                    end: *end,
                    half: carrier
                        .mouths
                        .iter()
                        .map(|mouth| mouth.half)
                        .fold(0.0, f64::max),
                    aside: 0.05,
                    on_engine: false,
                }),
                _ => Err(crate::shop::missing(
                    &format!(
                        "how {key} is rolled is not decided, so that its branch points nowhere"
                    ),
                    &format!("bay.lies.{of}.roll"),
                    &format!(
                        "Write where its branch points, clockwise seen along the flow, 0° being up: `roll = {{ {piece} = \"90°\" }}` under bay.lies.{of}."
                    ),
                )),
            }
        }
    }
}

/// Each run as one tube, by its key.
fn tubes(laid: &[Laid]) -> Vec<(Key, Shape)> {
    laid.iter()
        .map(|found| {
            let parts = &found.hung.lain.parts;
            let radius = parts.iter().map(|part| part.radius).fold(0.0, f64::max);
            (
                found.run.key.clone(),
                Shape::Tube {
                    points: line(&found.hung.lain),
                    radius,
                },
            )
        })
        .collect()
}

fn line(lain: &Lain) -> Vec<Vec3> {
    let mut points: Vec<Vec3> = Vec::new();
    for point in lain.parts.iter().flat_map(|part| &part.line) {
        if points
            .last()
            .is_none_or(|last| (*last - *point).length() > 1e-6)
        {
            points.push(*point);
        }
    }
    points
}

/// Another run as what stands in the way of this one.
#[derive(Debug)]
pub(super) struct Neighbour {
    /// Its pieces.
    space: Space,
    /// What is not asked about where one hangs on the other's tee.
    exempt: Exempt,
    /// The name of the gap.
    with: Key,
    /// Whether the two move against one another as the engine shakes.
    moves: bool,
    /// How far each of the two swings then, and where the other one runs.
    swings: [Option<Swing>; 2],
    line: Vec<Vec3>,
}

impl Neighbour {
    /// How far the two come nearer at a gap [m]: both follow the same engine, so that the greater swing tells.
    fn by(&self, gap: &Gap) -> Option<f64> {
        let [own, other] = &self.swings;
        let mut arc = 0.0;
        let mut near = (f64::INFINITY, 0.0);
        for pair in self.line.windows(2) {
            let [a, b] = pair else { continue };
            let long = (*b - *a).length();
            let middle = (*a + *b) * 0.5;
            let far = (middle - gap.to).length();
            if far < near.0 {
                near = (far, arc + long / 2.0);
            }
            arc += long;
        }
        let toward =
            (gap.to - gap.from).normalize_or_zero() * if gap.gap < 0.0 { -1.0 } else { 1.0 };
        let own = own.as_ref()?.at(gap.along, toward, false);
        Some(own.max(other.as_ref()?.at(near.1 / arc.max(1e-12), -toward, false)))
    }
}

/// Other runs. Those that were laid before are told of here alone, so that each pair is told once.
fn neighbours(found: &Laid, at: usize, laid: &[Laid]) -> Vec<Neighbour> {
    let engine = |found: &Laid| found.mouths.map(|mouth| mouth.on_engine);
    let others = laid.iter().take(at).map(|other| {
        // A branch touches the run whose tee it hangs on.
        let joined = |one: &RunFact, two: &RunFact| {
            one.ends
                .iter()
                .any(|end| matches!(end, Ok(EndFact::Tee { run, .. }) if *run == two.key))
        };
        let skip = if joined(found.run, other.run) || joined(other.run, found.run) {
            0.08
        } else {
            0.0
        };
        let bodies: Vec<Body> = other
            .hung
            .lain
            .parts
            .iter()
            .filter(|part| part.line.len() > 1)
            .map(|part| Body {
                name: format!("{} ({})", other.run.key, other.run.mark),
                shape: Shape::Tube {
                    points: part.line.clone(),
                    radius: part.radius,
                },
                nature: Nature::Solid,
                frame: Frame::Hull,
                keep: HOSES_APART,
            })
            .collect();
        let all: Vec<usize> = (0..bodies.len()).collect();
        Neighbour {
            exempt: Exempt {
                hosts: [all.clone(), all],
                free: [skip, skip],
                joined: true,
                ..Exempt::default()
            },
            space: Space::new(bodies),
            with: format!("beside-{}", other.run.key),
            // Two runs of which one moves with the engine rub where they touch.
            moves: engine(found) != engine(other),
            swings: [found, other].map(|run| run.hung.lain.swing.clone()),
            line: line(&other.hung.lain),
        }
    });
    others.collect()
}

/// The least gap of a run's pieces to each other run that lies close.
pub(super) fn beside(neighbours: &[Neighbour], parts: &[LainPart], moves: Option<f64>) -> Vec<Gap> {
    let reach = moves.unwrap_or(CLEARLY);
    let near = neighbours.iter().filter_map(|other| {
        let near = gaps(
            &other.space,
            parts,
            &other.exempt,
            [false, false],
            None,
            reach,
        );
        let least = near.into_iter().min_by(|a, b| a.gap.total_cmp(&b.gap));
        least.map(|gap| Gap {
            with: other.with.clone(),
            moves: other.moves,
            by: other.by(&gap),
            ..gap
        })
    });
    near.collect()
}

/// What is said of a cut where no window was found.
const NO_LENGTH: &str = "no length near it will do: see what is said of it before you cut";

fn run(
    found: &Laid,
    lain: &Lain,
    verdicts: &[Verdict],
    windows: &[(usize, Option<Window>)],
    moves: Option<f64>,
) -> LaidRun {
    let grade = verdicts
        .iter()
        .map(|verdict| verdict.grade)
        .max()
        .unwrap_or(Grade::Unmeasured);
    let PiecesOf(pieces) = PiecesOf::of(found.run);
    let hoses = super::settle::hoses(pieces).count();
    let parts: Vec<LaidPart> = pieces
        .iter()
        .zip(&lain.parts)
        .enumerate()
        .map(|(i, (piece, part))| {
            let cut = match &piece.form {
                PieceForm::Hose(hose) => hose.pushed.map(|[up, down]| hose.free + up + down),
                PieceForm::Rigid { .. } => None,
            };
            let sought = windows.iter().find(|(of, _)| *of == i);
            let window = match (&piece.form, sought) {
                (PieceForm::Hose(hose), Some((_, Some(window)))) => {
                    super::settle::as_cut(hose, window)
                }
                _ => None,
            };
            let none = matches!(sought, Some((_, None)));
            LaidPart {
                key: piece.key.clone(),
                bends: matches!(piece.form, PieceForm::Hose(_)),
                line: part.line.iter().copied().map(place).collect(),
                radius: part.radius,
                title: piece.title.clone(),
                cut,
                cut_text: cut.map(|cut| Words::of(|system| mm(cut, system))),
                window_text: none.then(|| NO_LENGTH.into()).or_else(|| {
                    window.map(|(low, high)| {
                        let others = if hoses > 1 {
                            ", the others as they are"
                        } else {
                            ""
                        };
                        // OK because a window is of a cut.
                        let outside = cut.is_some_and(|cut| cut < low - 1e-4 || cut > high + 1e-4);
                        let this = if outside { "; this will not" } else { "" };
                        Words::of(|system| {
                            format!(
                                "{} to {} will do{others}{this}",
                                mm(low, system),
                                mm(high, system)
                            )
                        })
                    })
                }),
                window,
            }
        })
        .collect();
    let least = lain
        .parts
        .iter()
        .filter_map(|part| part.least)
        .min_by(|a, b| a.radius.total_cmp(&b.radius));
    let nearest = lain
        .gaps
        .iter()
        .filter(|gap| !gap.aside)
        .min_by(|a, b| (a.left(moves) - a.keep).total_cmp(&(b.left(moves) - b.keep)));
    let [(force, moment), (far_force, far_moment)] = lain.ends;
    LaidRun {
        run: found.run.key.clone(),
        mark: found.run.mark.clone(),
        title: found.run.title.clone(),
        grade,
        parts,
        up: moved(lain, 0),
        down: moved(lain, 1),
        bend: least.map(|bend| LeastBend {
            at: place(bend.at),
            centre: place(bend.centre),
            radius: bend.radius,
            text: Words::of(|system| format!("least radius {}", mm(bend.radius, system))),
        }),
        gap: nearest.map(|gap| LeastGap {
            from: place(gap.from),
            to: place(gap.to),
            gap: gap.gap,
            with: gap.title.clone(),
            text: Words::of(|system| format!("{} to {}", mm(gap.gap, system), gap.title)),
        }),
        highs: lain
            .highs
            .iter()
            .filter(|high| high.tilt.is_empty())
            .map(|high| LaidSpot {
                at: place(high.at),
                text: Words::of(|system| format!("high by {}", mm(high.rise, system))),
            })
            .collect(),
        lows: lain
            .lows
            .iter()
            .map(|low| LaidSpot {
                at: place(low.at),
                text: Words::of(|system| {
                    let litres = quantity::Volume::of_si(low.volume);
                    format!("{} stay", quantity::show(litres, Some(litres * 0.1), system))
                }),
            })
            .collect(),
        facts: vec![
            (
                "hangs".into(),
                Words::of(|system| format!("{} under its lower end", mm(lain.sag, system))),
            ),
            (
                "on its ends".into(),
                Words::from(
                    format!(
                        "{force:.0} N and {moment:.1} N m upstream, {far_force:.0} N and {far_moment:.1} N m downstream"
                    )
                    .as_str(),
                ),
            ),
        ],
    }
}

fn moved(lain: &Lain, at: usize) -> Vec<Place> {
    lain.moved
        .as_ref()
        .and_then(|moved| moved.get(at))
        .map_or_else(Vec::new, |moved| {
            moved.line.iter().copied().map(place).collect()
        })
}
