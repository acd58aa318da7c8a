//! What the route stage reads: mouths, bodies, pieces, tools. Plain numbers in metres, radians, newtons.

use bay::access::Tool;
use bay::solid::{Frame, Mesh, Nature, Shape};
use boat::{Key, KeyPath};

use super::types::Place;
use crate::stages::types::Missing;
use crate::verdict::Words;

/// All that is read.
#[derive(Clone, Debug)]
pub(crate) struct RouteInput {
    /// The arrangement.
    pub arrangement: Option<Key>,
    /// Where x and y point, in words.
    pub axes: [String; 2],
    /// The direction of the bow.
    pub ahead: Place,
    /// The way in: middle, length along x, breadth along y.
    pub hatch: Option<(Place, [f64; 2])>,
    /// How far the engine moves on its mounts, each way [m], and where that is told.
    pub moves: Result<f64, Missing>,
    /// By what all that stands around is known again: bodies, scan, the engine's movement, tilts.
    pub around_key: u64,
    /// What stands in the way.
    pub bodies: Vec<BodyFact>,
    /// Things in the way whose shape is not known: name, and what is missing.
    pub shapeless: Vec<(Key, Missing)>,
    /// The scan as laid in.
    pub scan: Option<ScanFact>,
    /// Why it could not be laid in, where the file names one.
    pub scan_missing: Option<Missing>,
    /// Mouths that have a place.
    pub mouths: Vec<MouthFact>,
    /// Runs in an order in which each tee is laid before what hangs on it.
    pub runs: Vec<RunFact>,
    /// The runs in the order of the file.
    pub file_order: Vec<Key>,
    /// Clips.
    pub clips: Vec<ClipFact>,
    /// The tools at hand.
    pub tools: Vec<Tool>,
    /// Heel and trim that are looked at besides upright: name, and where up is in the bay then.
    pub tilts: Vec<(String, Place)>,
    /// Whether windows, corners and access are wanted too.
    pub settle: bool,
}

/// A thing in the way.
#[derive(Clone, Debug)]
pub(crate) struct BodyFact {
    /// Its name in the file.
    pub name: Key,
    /// For people.
    pub title: String,
    /// Its shape.
    pub shape: Shape,
    /// What it is.
    pub nature: Nature,
    /// Whether it is the hull herself.
    pub hull: bool,
    /// With what it moves.
    pub frame: Frame,
    /// The clearance that it wants [m].
    pub keep: f64,
    /// The thing that it is part of: its own mouths are exempt from it near their ends.
    pub of: Option<Key>,
}

/// The scan as laid in.
#[derive(Clone, Debug)]
pub(crate) struct ScanFact {
    /// Ready to be asked.
    pub mesh: Mesh,
    /// How far a point of it may be off, laying in and thinning counted [m].
    pub half: f64,
    /// How far it may be off, for people.
    pub error_text: Words,
    /// By what it was laid in.
    pub laid: Words,
    /// The clearance that it wants on top of what it may be off [m].
    pub keep: f64,
}

/// The mouth of a spigot.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MouthFact {
    /// `engine.out`.
    pub key: Key,
    /// The thing that it belongs to.
    pub thing: Key,
    /// For people.
    pub title: String,
    /// The middle of the mouth.
    pub at: Place,
    /// Out of it, of length one.
    pub along: Place,
    /// It surely lies within [m].
    pub half: f64,
    /// It surely points within [rad].
    pub aside: f64,
    /// Whether it moves with the engine.
    pub on_engine: bool,
    /// Where that was read: `taped`, `written`.
    pub from: String,
    /// Where it stands in the file.
    pub place: KeyPath,
}

/// Where a run begins or ends.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum EndFact {
    /// On a mouth.
    Mouth(MouthFact),
    /// On the branch of a tee.
    Tee {
        /// The run that the tee is in.
        run: Key,
        /// The tee.
        piece: Key,
    },
}

/// A run.
#[derive(Clone, Debug)]
pub(crate) struct RunFact {
    /// Its key.
    pub key: Key,
    /// Its letter.
    pub mark: String,
    /// For people.
    pub title: String,
    /// Where it stands in the file.
    pub place: KeyPath,
    /// Its two ends, or why one has no place.
    pub ends: [Result<EndFact, Missing>; 2],
    /// Its pieces, or why they are not known.
    pub pieces: Result<Vec<PieceFact>, Missing>,
    /// What holds it, in the order of the file.
    pub supports: Vec<SupportFact>,
    /// Points that it was led by, in order of flow.
    pub corners: Vec<Place>,
    /// Density of what fills it [kg/m³].
    pub density: f64,
    /// Whether it carries coolant whose air must get out.
    pub wet: bool,
    /// Whether it carries raw water, which freezes where it stays.
    pub raw: bool,
    /// Least speed of the coolant in any running state [m/s], by which air is carried.
    pub speed: Option<f64>,
    /// Whether a bleed sits at its high spot.
    pub bleed: bool,
    /// Whether a drain sits at its low spot.
    pub drain: bool,
}

/// A place that holds a hose.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SupportFact {
    /// Where, where that is known.
    pub at: Option<Place>,
    /// How far along the run it is held, where that is told [m].
    pub after: Option<f64>,
    /// Where that stands in the file.
    pub place: KeyPath,
}

/// One piece of a run.
#[derive(Clone, Debug)]
pub(crate) struct PieceFact {
    /// `hot.hose`.
    pub key: Key,
    /// For people.
    pub title: String,
    /// Its outside diameter [m].
    pub od: f64,
    /// Its bore [m].
    pub bore: f64,
    /// What it is.
    pub form: PieceForm,
}

/// What a piece is to the bay.
#[derive(Clone, Debug)]
pub(crate) enum PieceForm {
    /// A hose.
    Hose(Box<HoseFact>),
    /// What does not bend.
    Rigid {
        /// Length over all, from mouth to mouth along its centre line [m].
        long: f64,
        /// By how much it turns [rad] and on which radius [m].
        turn: Option<(f64, f64)>,
        /// Straight legs before and after its bend, between the ends that show [m].
        legs: [f64; 2],
        /// How it is rolled about its upstream end [rad], from straight up, right-handed along the flow.
        roll: Option<f64>,
        /// Its mass [kg].
        mass: f64,
    },
}

/// A hose.
#[derive(Clone, Debug)]
pub(crate) struct HoseFact {
    /// Its free length between the mouths of its spigots [m].
    pub free: f64,
    /// How far that may be off [m].
    pub free_half: f64,
    /// What is pushed over the two spigots [m], where that is known.
    pub pushed: Option<[f64; 2]>,
    /// Whether the owner decided the cut.
    pub decided: bool,
    /// EI [N m²]: likely value, least, greatest.
    pub stiffness: [f64; 3],
    /// Where that is from.
    pub stiffness_from: String,
    /// What a droop test would settle, where the stiffness is not measured.
    pub stiffness_missing: Option<Missing>,
    /// Its own mass [kg/m].
    pub mass: f64,
    /// Least radius to the centre line [m] and whose figure it is.
    pub least: Option<(f64, String)>,
    /// The radius at which it folds [m].
    pub kinks: Option<(f64, String)>,
    /// Where its cut is written.
    pub place: KeyPath,
}

impl ClipFact {
    /// Its title, with which of several on its end it is.
    pub(crate) fn whole_title(&self) -> String {
        match self.of {
            1 => self.title.clone(),
            of => format!(
                "{}, clip {} of {of} from the hose's end",
                self.title, self.nth
            ),
        }
    }

    /// Which it is, for people: `hot.from`, `clip 2 of 2 at hot.from`.
    pub(crate) fn name(&self) -> String {
        match self.of {
            1 => self.joint.clone(),
            of => format!("clip {} of {of} at {}", self.nth, self.joint),
        }
    }
}

/// A clip.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ClipFact {
    /// Its joint.
    pub joint: Key,
    /// Which of the clips there, from the hose's end on: 1 is the first.
    pub nth: u32,
    /// How many clips there are.
    pub of: u32,
    /// The joint's mark.
    pub mark: String,
    /// The run.
    pub run: Key,
    /// The piece whose end it holds.
    pub piece: Key,
    /// Whether it holds the upstream end of that piece.
    pub upstream: bool,
    /// For people.
    pub title: String,
    /// The kind of clip, where it is known.
    pub kind: Option<boat::ClipWord>,
    /// Diameter that it sits on [m].
    pub od: f64,
    /// From the mouth of the spigot back to the middle of the band [m].
    pub back: f64,
    /// What the owner typed of the room in front of the screw [m], and where.
    pub room: Option<f64>,
    /// How wide that room is [m].
    pub across: Option<f64>,
    /// Where the joint stands in the file.
    pub place: KeyPath,
}
