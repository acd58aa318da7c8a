//! A run as it is asked about, and the shapes that it takes.

use super::chained::{Chained, chained};
use crate::Vec3;
use crate::rod::{
    Around, Asked, Bend, CLOSE, Chain, End, Fault, Found, Gap, Joint, Lay, Stop, Work, equilibria,
    least_stiffness, led, one_path, piecewise, place, read,
};

/// A hose of a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hose {
    /// Free length [m].
    pub length: f64,
    /// Bending stiffness [N m²].
    pub stiffness: f64,
    /// Weight per length with what is in it [N/m].
    pub weight: f64,
    /// Outside radius [m].
    pub radius: f64,
    /// Least radius to which its centreline may be bent [m].
    pub least_radius: f64,
}

/// A straight rigid piece: joiner, reducer, tee, valve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Straight {
    /// Length between the ends of the hoses on it [m].
    pub length: f64,
    /// Weight, full [N].
    pub weight: f64,
    /// Outside radius [m].
    pub radius: f64,
}

/// How an elbow is turned about its first leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Roll {
    /// As the hoses let it.
    Free,
    /// Its leg away from the mouth that it sits on leans toward this direction: the second leg at
    /// the first mouth, the first leg, seen from there, at the last. Between hoses its plane
    /// contains the direction, as if a bracket held it.
    Toward(Vec3),
}

/// A moulded or metal elbow, taken as rigid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Elbow {
    /// Angle by which it turns [rad]: above 0, at most 170°.
    pub angle: f64,
    /// Radius of its centreline [m].
    pub bend: f64,
    /// Straight leg before the bend [m].
    pub leg_in: f64,
    /// Straight leg after it [m].
    pub leg_out: f64,
    /// Weight, full [N]: shared by both sides of the corner.
    pub weight: f64,
    /// Outside radius [m].
    pub radius: f64,
    /// How it is turned.
    pub roll: Roll,
}

/// One piece of a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Piece {
    /// It bends.
    Hose(Hose),
    /// Rigid and straight.
    Straight(Straight),
    /// Rigid and bent.
    Elbow(Elbow),
}

/// A place at which a hose of the run is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// Which piece; it must be a hose.
    pub piece: usize,
    /// Distance from that hose's beginning [m].
    pub arc: f64,
    /// Where its centreline is held.
    pub at: Vec3,
}

/// Pieces in order between two mouths.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// The first mouth.
    pub a: End,
    /// The last mouth.
    pub b: End,
    /// What lies between.
    pub pieces: Vec<Piece>,
    /// Clips on the structure.
    pub held: Vec<Held>,
    /// Length at each mouth that may touch what carries it [m].
    pub bare: [f64; 2],
    /// Bodies that carry the mouths, by their numbers.
    pub hosts: [Vec<usize>; 2],
    /// Joints over all hoses together, shared by length; each hose has eight at least, and more where
    /// clips lie close to each other.
    pub edges: usize,
    /// Unit vector of gravity.
    pub down: Vec3,
    /// Points that it was led by, in order from the first mouth: of all its shapes the one that passes nearest to
    /// them is meant.
    pub led: Vec<Vec3>,
}

impl Run {
    /// A run in free air on an even keel.
    #[must_use]
    pub fn of(a: End, b: End, pieces: Vec<Piece>) -> Self {
        Self {
            a,
            b,
            pieces,
            held: Vec::new(),
            bare: [0.0; 2],
            hosts: [Vec::new(), Vec::new()],
            edges: crate::rod::EDGES,
            down: -Vec3::Z,
            led: Vec::new(),
        }
    }

    /// How far a line stays off the points that it was led by, at most [m].
    #[must_use]
    pub fn off_lead(&self, line: &[Vec3]) -> f64 {
        self.led.iter().fold(0.0, |most: f64, point| {
            let near = line
                .windows(2)
                .map(|pair| match pair {
                    [a, b] => {
                        let way = *b - *a;
                        let share = (*point - *a).dot(way) / way.length_squared().max(1e-18);
                        (*a + way * share.clamp(0.0, 1.0) - *point).length()
                    }
                    _ => f64::INFINITY,
                })
                .fold(f64::INFINITY, f64::min);
            most.max(near)
        })
    }
}

/// How one hose of a run lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoseLay {
    /// Which piece.
    pub piece: usize,
    /// Its tightest bend.
    pub bend: Bend,
    /// The tightest that it may have [m].
    pub least_radius: f64,
    /// Where it begins along the run's centreline [m], corners of elbows unrounded.
    pub begin: f64,
    /// Where it ends [m].
    pub end: f64,
}

/// A shape of a whole run.
#[derive(Debug, Clone, PartialEq)]
pub struct RunLay {
    /// The whole as one line, whose elbows have corners.
    pub lay: Lay,
    /// Each hose.
    pub hoses: Vec<HoseLay>,
    /// Greatest error of an elbow's angle [rad].
    pub elbow_error: f64,
    /// The centreline with the elbows' bends rounded.
    pub centreline: Vec<Vec3>,
    /// Joints of each hose.
    joints: Vec<usize>,
}

impl RunLay {
    /// Least of radius over least radius allowed, over all hoses.
    #[must_use]
    pub fn bend_share(&self) -> f64 {
        self.hoses.iter().fold(f64::INFINITY, |least, hose| {
            least.min(hose.bend.radius / hose.least_radius)
        })
    }
}

/// Corners are first solved with this many times the hose's joint stiffness, then with the other.
const SOFT: f64 = 4.0;
const STIFF: f64 = 2e3;

fn stiffen(chain: &mut Chain, times: f64) {
    let most = chain
        .joints
        .iter()
        .fold(0.0_f64, |most, joint| match joint {
            Joint::Hose { k, .. } => most.max(*k),
            Joint::Corner { .. } => most,
        });
    for joint in &mut chain.joints {
        if let Joint::Corner { k, .. } = joint {
            *k = most * times;
        }
    }
}

/// The shapes of a run: the lowest first, then those within a fifth of its bending energy. Of a run that was led by
/// points the stable shape nearest to them comes first, and then all others.
///
/// # Errors
///
/// Where a figure can't be, the run is too short, or nothing was found.
pub fn lie(run: &Run, around: &dyn Around) -> Result<Vec<RunLay>, Fault> {
    anew(run, around, None)
}

/// The shapes of a run, with so many joints in each hose if they are told.
fn anew(run: &Run, around: &dyn Around, joints: Option<&[usize]>) -> Result<Vec<RunLay>, Fault> {
    let mut of = chained(run, joints)?;
    let mut work = Work::default();
    let begun = begin(run, &of);
    let none = Fault::NotFound {
        starts: begun.len(),
    };
    // An elbow may be found leaning the wrong way, so that what is lowest of all may not count.
    let every = !run.led.is_empty() || of.has_corners();
    let mut found = if of.has_corners() {
        stiffen(&mut of.chain, SOFT);
        let soft = equilibria(&mut work, &of.chain, &begun, around, every);
        let again: Vec<Vec<Vec3>> = soft.into_iter().map(|found| found.work.t).collect();
        stiffen(&mut of.chain, STIFF);
        equilibria(&mut work, &of.chain, &again, around, every)
    } else {
        equilibria(&mut work, &of.chain, &begun, around, every)
    };
    found.retain(|one| of.leans(&one.work.t));
    let lowest = match found.first() {
        Some(first) => (first.energy, CLOSE * first.work_scale(&of.chain)),
        None => return Err(none),
    };
    if run.led.is_empty() {
        found.retain(|one| one.energy - lowest.0 <= lowest.1);
    }
    let mut shapes: Vec<RunLay> = found
        .iter_mut()
        .map(|one| {
            let mut lay = run_lay(run, &of, one, around);
            lay.lay.least_stiffness = Some(least_stiffness(&mut one.work, &of.chain));
            lay
        })
        .collect();
    if !run.led.is_empty() {
        // Sorting is steady: of shapes as near, the lowest.
        shapes.sort_by(|a, b| {
            let off = |shape: &RunLay| (run.off_lead(&shape.centreline) * 1e4).round();
            b.lay
                .stable
                .cmp(&a.lay.stable)
                .then(off(a).total_cmp(&off(b)))
        });
    }
    Ok(shapes)
}

/// The shape next to one that the run, or one like it, had before: one path. Every hose keeps the
/// joints that it had there, whatever its length is now.
///
/// # Errors
///
/// As [`lie`]; hoses of another number count as no start.
pub fn lie_from(run: &Run, around: &dyn Around, before: &RunLay) -> Result<RunLay, Fault> {
    let mut of = chained(run, Some(&before.joints))?;
    let mut work = Work::default();
    if before.lay.directions().len() != of.chain.edges.len() {
        return Err(Fault::NotFound { starts: 0 });
    }
    work.t.extend_from_slice(before.lay.directions());
    of.tie(&mut work.t);
    stiffen(&mut of.chain, STIFF);
    let none = Fault::NotFound { starts: 1 };
    let mut found = one_path(&mut work, &of.chain, around).ok_or(none.clone())?;
    if !of.leans(&found.work.t) {
        return Err(none);
    }
    Ok(run_lay(run, &of, &mut found, around))
}

/// As [`lie`], with the joints that every hose had before if those were of as many hoses.
pub(crate) fn lie_as(
    run: &Run,
    around: &dyn Around,
    before: &RunLay,
) -> Result<Vec<RunLay>, Fault> {
    let hose = |piece: &&Piece| matches!(piece, Piece::Hose(_));
    let alike = run.pieces.iter().filter(hose).count() == before.joints.len();
    anew(run, around, alike.then_some(&before.joints))
}

/// As [`lie_from`]; where nothing is found from there, or a saddle that it would not stay on, the shape nearest to the
/// former of those found anew, a stable one if there is any.
///
/// # Errors
///
/// As [`lie`]; hoses of another number count as no start.
pub fn next_to(run: &Run, around: &dyn Around, before: &RunLay) -> Result<RunLay, Fault> {
    let near = lie_from(run, around, before);
    match &near {
        Err(Fault::NotFound { starts }) if *starts > 0 => {}
        Ok(saddle) if !saddle.lay.stable => {}
        _ => return near,
    }
    let found = match anew(run, around, Some(&before.joints)) {
        Ok(found) => found,
        Err(fault) => return near.or(Err(fault)),
    };
    found
        .into_iter()
        .min_by(|a, b| {
            let far = |lay: &RunLay| lay.lay.farthest_from(&before.lay);
            b.lay
                .stable
                .cmp(&a.lay.stable)
                .then(far(a).total_cmp(&far(b)))
        })
        .map_or(near, Ok)
}

/// Starts over what is not given.
fn begin(run: &Run, of: &Chained) -> Vec<Vec<Vec3>> {
    let count = of.chain.edges.len();
    let (first, last) = (of.prefix, count - of.suffix);
    let mut from = run.a.at;
    let mut leave = run.a.along;
    for (edge, way) in of.chain.edges.iter().zip(&of.given).take(first) {
        if let Some(way) = way {
            leave = *way;
            from += *way * edge.length;
        }
    }
    let mut to = run.b.at;
    let mut arrive = -run.b.along;
    for (edge, way) in of.chain.edges.iter().zip(&of.given).skip(last).rev() {
        if let Some(way) = way {
            arrive = *way;
            to -= *way * edge.length;
        }
    }
    let open = of.chain.edges.get(first..last).unwrap_or_default();
    let gap = Gap {
        from,
        leave,
        to,
        arrive,
        length: open.iter().map(|edge| edge.length).sum(),
        down: run.down,
    };
    let passed = of.chain.arc(first, 0.0);
    let holds = of.chain.order().into_iter();
    let stops: Vec<Stop> = holds
        .filter(|number| *number < run.held.len())
        .filter_map(|number| of.chain.holds.get(number))
        .map(|hold| Stop {
            at: hold.at,
            arc: of.chain.arc(hold.edge, hold.along) - passed,
            along: None,
        })
        .collect();
    let mut middles = piecewise(&gap, &stops, open);
    if !run.led.is_empty() {
        let mut points = vec![from];
        points.extend(run.led.iter().copied());
        points.push(to);
        middles.push(led(&points, open));
    }
    middles
        .into_iter()
        .map(|middle| {
            let mut all = vec![leave; first];
            all.extend(middle);
            all.extend(vec![arrive; count - last]);
            of.tie(&mut all);
            of.lean(run, &mut all);
            all
        })
        .collect()
}

fn run_lay(run: &Run, of: &Chained, found: &mut Found, around: &dyn Around) -> RunLay {
    let asked = Asked {
        tip: Some(run.b.at),
        supports: run.held.len(),
    };
    let mut lay = read(&of.chain, found, around, &asked);
    let hoses: Vec<HoseLay> = of
        .hoses
        .iter()
        .filter_map(|part| part.read(run, &lay))
        .collect();
    if let Some(worst) = hoses
        .iter()
        .min_by(|a, b| a.bend.radius.total_cmp(&b.bend.radius))
    {
        lay.bend = worst.bend;
    }
    let mut elbow_error = 0.0_f64;
    for (joint, pair) in of.chain.joints.iter().zip(lay.directions().windows(2)) {
        if let (Joint::Corner { cos, .. }, [s, t]) = (joint, pair) {
            elbow_error = elbow_error.max((crate::rod::turning(*s, *t) - cos.acos()).abs());
        }
    }
    let centreline = of.rounded(run, &lay);
    RunLay {
        lay,
        hoses,
        elbow_error,
        centreline,
        joints: of.hoses.iter().map(|part| part.count).collect(),
    }
}

impl super::chained::Part {
    /// Reads the tightest bend of one hose, its ends by the line through the two joints next to
    /// them.
    fn read(&self, run: &Run, lay: &Lay) -> Option<HoseLay> {
        let Some(Piece::Hose(hose)) = run.pieces.get(self.piece) else {
            return None;
        };
        let bow = |joint: usize| -> Option<Vec3> {
            let (s, t) = (
                lay.directions().get(joint)?,
                lay.directions().get(joint + 1)?,
            );
            let axis = s.cross(*t).normalize_or_zero();
            Some(axis * (crate::rod::turning(*s, *t) / self.span))
        };
        let last = self.first + self.count - 1;
        let begin = lay.arcs.get(self.first + 1)? - self.span / 2.0;
        let end = lay.arcs.get(last + 1)? + self.span / 2.0;
        let mut list = Vec::with_capacity(self.count + 2);
        list.push((
            begin,
            (bow(self.first)? * 1.5 - bow(self.first + 1)? * 0.5).length(),
        ));
        for joint in self.first..=last {
            list.push((*lay.arcs.get(joint + 1)?, bow(joint)?.length()));
        }
        list.push((end, (bow(last)? * 1.5 - bow(last - 1)? * 0.5).length()));
        let most = list.iter().copied().max_by(|a, b| a.1.total_cmp(&b.1))?;
        Some(HoseLay {
            piece: self.piece,
            bend: Bend {
                radius: if most.1 > 1e-9 {
                    1.0 / most.1
                } else {
                    f64::INFINITY
                },
                arc: most.0,
                at: place(&lay.arcs, &lay.points, most.0),
            },
            least_radius: hose.least_radius,
            begin,
            end,
        })
    }
}
