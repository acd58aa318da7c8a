//! What the route stage found: each run as it hangs, each clip as a tool reaches it.

use bay::solid::Mesh;
use boat::Key;

use crate::say;
use crate::verdict::{Grade, Settles, Verdict, Words};

/// A place or direction in the bay: x as the file says, y to the left of it, z up from today's waterline [m].
pub type Place = [f64; 3];

/// All that is known of the bay in one arrangement.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Route {
    /// The arrangement that was laid; `None` for the file as it stands.
    pub arrangement: Option<Key>,
    /// Where x and y point, in words: `forward`, `to port`.
    pub axes: [String; 2],
    /// The opening one gets in by, corner by corner.
    pub hatch: Option<[Place; 4]>,
    /// How far the engine moves on its mounts, each way [m].
    pub moves: f64,
    /// What stands in the way.
    pub bodies: Vec<LaidBody>,
    /// The scan that was laid in.
    pub scan: Option<LaidScan>,
    /// Mouths of spigots: key, place, half width [m].
    pub mouths: Vec<(Key, Place, f64)>,
    /// Runs that could be laid, in the order of the file.
    pub runs: Vec<LaidRun>,
    /// Their clips.
    pub clips: Vec<LaidClip>,
    /// Runs that could not, and why.
    pub missing: Vec<NotLaid>,
    /// An order in which each clip is reached, or what blocks itself; `None` where it was not reckoned.
    pub order: Option<LayOrder>,
    /// What stays in the low spots of each run that carries coolant or raw water when she is drained upright.
    pub stays: Vec<Stays>,
    /// The verdicts.
    pub verdicts: Vec<Verdict>,
}

/// What stays in a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Stays {
    /// The run.
    pub run: Key,
    /// Whether it is coolant; raw water else.
    pub coolant: bool,
    /// How much [m³]; nought where a drain sits at its low spot.
    pub volume: f64,
}

impl Route {
    /// Coolant that stays in the low spots of all runs that were laid when she is drained upright [m³].
    pub fn coolant_stays(&self) -> f64 {
        let coolant = self.stays.iter().filter(|stays| stays.coolant);
        coolant.map(|stays| stays.volume).sum()
    }

    /// The same with the runs that it stays in; `None` where nothing does.
    pub(crate) fn lows(&self) -> Option<(f64, Vec<Key>)> {
        let held = |stays: &&Stays| stays.coolant && stays.volume > 0.0;
        let runs = self.stays.iter().filter(held);
        let names: Vec<Key> = runs.map(|stays| stays.run.clone()).collect();
        (!names.is_empty()).then(|| (self.coolant_stays(), names))
    }

    /// Where a joint, a mouth or a run's mark stands, and how far that may be off [m].
    pub fn place_of(&self, key: &str) -> Option<(Place, f64)> {
        let clip = self
            .clips
            .iter()
            .find(|clip| clip.joint == key || clip.mark == key);
        let mouth = || self.mouths.iter().find(|(mouth, ..)| mouth == key);
        match clip {
            Some(clip) => Some((clip.at, clip.half)),
            None => mouth().map(|(_, at, half)| (*at, *half)),
        }
    }
}

/// A thing in the way, as faces.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LaidBody {
    /// Its name in the file.
    pub name: Key,
    /// For people.
    pub title: String,
    /// `solid`, `hot`, `moving` or `hull`.
    pub nature: String,
    /// `engine` or `hull`: with what it moves.
    pub frame: String,
    /// The clearance that it wants [m].
    pub keep: f64,
    /// Corners.
    pub points: Vec<Place>,
    /// Faces of three corners.
    pub triangles: Vec<[u32; 3]>,
    /// Sharp edges.
    pub edges: Vec<[u32; 2]>,
}

/// The scan as it was laid in.
#[derive(Clone, Debug)]
pub struct LaidScan {
    /// Ready to be asked and drawn; copies share it.
    pub mesh: Mesh,
    /// Its triangles.
    pub triangles: usize,
    /// How far a point of it may be off [m].
    pub half: f64,
    /// The same in words.
    pub error: Words,
    /// By what it was laid in, and how well.
    pub laid: Words,
}

impl PartialEq for LaidScan {
    /// A mesh of the same size that was laid in by the same words is the same.
    fn eq(&self, other: &Self) -> bool {
        self.triangles == other.triangles && self.error == other.error && self.laid == other.laid
    }
}

/// One run as it hangs.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidRun {
    /// Its key.
    pub run: Key,
    /// Its letter.
    pub mark: String,
    /// For people.
    pub title: String,
    /// The worst of its verdicts.
    pub grade: Grade,
    /// Its pieces in order of flow.
    pub parts: Vec<LaidPart>,
    /// Its centre line with the engine at the top of its movement.
    pub up: Vec<Place>,
    /// The same at the bottom.
    pub down: Vec<Place>,
    /// Its tightest bend.
    pub bend: Option<LeastBend>,
    /// What it comes nearest to.
    pub gap: Option<LeastGap>,
    /// Where air gathers.
    pub highs: Vec<LaidSpot>,
    /// Where water stays.
    pub lows: Vec<LaidSpot>,
    /// What else there is to tell: name and words.
    pub facts: Vec<(String, Words)>,
}

/// One piece of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidPart {
    /// Its key: `hot.hose`.
    pub key: Key,
    /// Whether it bends.
    pub bends: bool,
    /// Its centre line.
    pub line: Vec<Place>,
    /// Half its outside diameter [m].
    pub radius: f64,
    /// For people.
    pub title: String,
    /// How long a hose is cut, with what goes over the spigots [m].
    pub cut: Option<f64>,
    /// The same for people.
    pub cut_text: Option<Words>,
    /// What else would do, for people: `358 to 392 mm will do`.
    pub window_text: Option<Words>,
    /// Between which cut lengths bend and clearances hold [m], where that was searched.
    pub window: Option<(f64, f64)>,
}

/// The tightest bend of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct LeastBend {
    /// Where.
    pub at: Place,
    /// The middle of its circle.
    pub centre: Place,
    /// Radius to the centre line [m].
    pub radius: f64,
    /// For people.
    pub text: Words,
}

/// What a run comes nearest to.
#[derive(Clone, Debug, PartialEq)]
pub struct LeastGap {
    /// On the hose.
    pub from: Place,
    /// On the other.
    pub to: Place,
    /// Between the two surfaces [m]; below zero where one lies in the other.
    pub gap: f64,
    /// What it is.
    pub with: String,
    /// For people.
    pub text: Words,
}

/// A high or low spot.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidSpot {
    /// Where.
    pub at: Place,
    /// For people.
    pub text: Words,
}

/// One clip.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidClip {
    /// Its joint.
    pub joint: Key,
    /// Which of the clips there, from the hose's end on: 1 is the first.
    pub nth: u32,
    /// How many clips there are.
    pub of: u32,
    /// The joint's mark.
    pub mark: String,
    /// For people.
    pub title: String,
    /// The worst of its verdicts.
    pub grade: Grade,
    /// The middle of the band.
    pub at: Place,
    /// How far that may be off [m].
    pub half: f64,
    /// Along the hose, out of the spigot.
    pub axis: Place,
    /// Where its twelve o'clock is.
    pub noon: Place,
    /// Half the diameter that it sits on [m].
    pub radius: f64,
    /// Where the screw's head stands, where a tool reaches it.
    pub screw: Option<Place>,
    /// The clock position in words.
    pub clock: Option<String>,
    /// The tool to take.
    pub tool: Option<String>,
    /// The tool in place: capsules, end by end, with their radius [m].
    pub way: Vec<(Vec<Place>, f64)>,
    /// Free arcs of the clock, from noon clockwise as seen from the open end [degrees].
    pub free: Vec<(f64, f64)>,
    /// What holds of it when it is fitted, when all is in, and when its hose alone is to come out; empty where it was
    /// not swept.
    pub moments: Vec<LaidMoment>,
    /// In one sentence.
    pub text: Words,
}

impl LaidClip {
    /// The rule that judges whether a clip is reached, by which of its end it is.
    pub(crate) fn rule(nth: u32) -> String {
        match nth {
            1 => "access".to_owned(),
            nth => format!("access-{nth}"),
        }
    }

    /// Whether a verdict of its joint is about it, and not about another clip there.
    pub fn is_judged_by(&self, id: &str) -> bool {
        let rule = id.rsplit('.').next().unwrap_or_default();
        rule == Self::rule(self.nth) || (self.nth == 1 && !rule.starts_with("access"))
    }

    /// Takes the tool away, and where it would stand.
    pub(crate) fn without_tool(&mut self) {
        self.tool = None;
        self.clock = None;
        self.screw = None;
        self.way.clear();
        self.free.clear();
    }
}

/// What holds of a clip at one moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LaidMoment {
    /// Which: `when it is fitted`.
    pub when: String,
    /// How well it is reached then.
    pub grade: Grade,
    /// The tool to take.
    pub tool: Option<String>,
    /// The clock position in words.
    pub clock: Option<String>,
    /// In a few words.
    pub text: Words,
}

/// A run that could not be laid.
#[derive(Clone, Debug, PartialEq)]
pub struct NotLaid {
    /// Its key.
    pub run: Key,
    /// Its letter.
    pub mark: String,
    /// Why.
    pub why: String,
    /// By how much it surely falls short of its far mouth [m]; `None` where that is not why.
    pub short: Option<f64>,
    /// What would settle it.
    pub settles: Settles,
}

/// In which order hoses go in, by the reach of their clips.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LayOrder {
    /// One order that works.
    Works(Vec<Key>),
    /// Hoses of which none can go in last.
    Blocked(Vec<Key>),
}

/// How far two places lie apart, and by how much that may be off, in words. `half` is how far the two may be off
/// together [m].
pub fn apart(from: Place, to: Place, half: f64) -> (Words, Option<Words>) {
    let squares = from.iter().zip(to).map(|(a, b)| (a - b).powi(2));
    let far = squares.sum::<f64>().sqrt();
    let off =
        (half > 0.0).then(|| Words::of(|system| format!("± {}", say::whole_mm(half, system))));
    (Words::of(|system| say::whole_mm(far, system)), off)
}

/// As plain numbers.
pub(super) fn place(at: bay::Vec3) -> Place {
    [at.x, at.y, at.z]
}
