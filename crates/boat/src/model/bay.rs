//! The bay: what stands in the way, where mouths point, how hoses feel, and what was decided of
//! their lie.

use quantity::{Angle, BendingStiffness, Length, Mass, NominalSize, Quantity, Reading};

use super::{Direction, HoseBuild, Key, KeyPath, Piece, PieceKind, Spot, Told};
use crate::places::joined;

/// `[bay]`: the boat as she lies.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bay {
    /// Where x points.
    pub x: Told<Facing>,
    /// The opening one gets in by.
    pub hatch: Option<BayHatch>,
    /// How hoses bend and what they weigh.
    pub hoses: Vec<BayHose>,
    /// Where mouths are and point.
    pub mouths: Vec<BayMouth>,
    /// Things in the way.
    pub things: Vec<BayThing>,
    /// A scan of the bay.
    pub scan: Option<BayScan>,
    /// What was decided of the lie of runs.
    pub lies: Vec<BayLie>,
    /// How far the nearest thing in front of a screw is, by joint.
    pub room: Vec<BayRoom>,
    /// Tools of the owner's.
    pub tools: Vec<BayTool>,
}

/// Where x of the bay points. z is up from today's waterline, and y is a quarter turn to the left
/// of x, seen from above.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Facing {
    #[default]
    Forward,
    Aft,
    Port,
    Starboard,
}

impl Facing {
    /// A direction of the boat as a unit vector (x, y, z) of the bay [1]; `None` for `across`, which
    /// is two directions.
    pub fn vector(self, of: Direction) -> Option<[f64; 3]> {
        // How often x has to be turned by a quarter to the left until it points forward.
        let quarters = match self {
            Self::Forward => 0,
            Self::Starboard => 1,
            Self::Aft => 2,
            Self::Port => 3,
        };
        let left_of_forward = match of {
            Direction::Up => return Some([0.0, 0.0, 1.0]),
            Direction::Down => return Some([0.0, 0.0, -1.0]),
            Direction::Across => return None,
            Direction::Forward => 0,
            Direction::Port => 1,
            Direction::Aft => 2,
            Direction::Starboard => 3,
        };
        Some(match (quarters + left_of_forward) % 4 {
            0 => [1.0, 0.0, 0.0],
            1 => [0.0, 1.0, 0.0],
            2 => [-1.0, 0.0, 0.0],
            _ => [0.0, -1.0, 0.0],
        })
    }
}

/// A point of the bay, against its origin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct BayPoint {
    /// Along x.
    pub x: Reading<Length>,
    /// Along y.
    pub y: Reading<Length>,
    /// Above today's waterline.
    pub z: Reading<Length>,
}

impl BayPoint {
    /// Its coordinates [m].
    pub fn si(&self) -> [f64; 3] {
        [self.x.value.si(), self.y.value.si(), self.z.value.si()]
    }
}

/// `hatch = { at = [400, 0, 900], size = [900, 600] }`: a level opening.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BayHatch {
    /// Its middle.
    pub at: Told<BayPoint>,
    /// How long it is along x, and how broad along y.
    pub size: Vec<Told<Reading<Length>>>,
}

/// How one kind of hose bends.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BayHose {
    /// As typed: `38 epdm`.
    pub key: String,
    /// Its bore by name.
    pub size: Option<NominalSize>,
    /// Its build, where typed.
    pub build: Option<HoseBuild>,
    /// How far a piece of it droops.
    pub droop: Option<BayDroop>,
    /// How hard it is to bend.
    pub stiffness: Told<Reading<BendingStiffness>>,
    /// The least radius to which it may be bent.
    pub least_radius: Told<Reading<Length>>,
    /// To where that radius is measured.
    pub radius_to: Told<RadiusTo>,
}

impl BayHose {
    /// Where it stands in the file.
    pub fn path(&self) -> KeyPath {
        joined("bay.hoses", &self.key)
    }
}

/// To where a least radius is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RadiusTo {
    /// The inside of the bend.
    Inside,
    /// The centre line.
    Centre,
}

/// `droop = { overhang = 700, drop = 180, sample = 450, weighs = "410 g" }`: a piece of the hose held
/// level at one end.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BayDroop {
    /// How long a piece hung free.
    pub overhang: Told<Reading<Length>>,
    /// How far its free end hung below the level.
    pub drop: Told<Reading<Length>>,
    /// How long the piece was that was weighed.
    pub sample: Told<Reading<Length>>,
    /// What that piece weighed.
    pub weighs: Told<Reading<Mass>>,
}

/// Where a mouth is and where its spigot points.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BayMouth {
    /// As typed.
    pub key: String,
    /// Of which spigot.
    pub spot: Spot,
    /// The middle of its mouth.
    pub at: Told<BayPoint>,
    /// Where it points, out of the thing.
    pub points: Told<Heading>,
}

impl BayMouth {
    /// Where it stands in the file.
    pub fn path(&self) -> KeyPath {
        joined("bay.mouths", &self.key)
    }
}

/// By how much a heading is turned, and towards what.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Tilt {
    /// How far, over 0° and at most 90°.
    pub by: Angle,
    /// Towards which direction.
    pub towards: Direction,
}

/// A direction in the bay.
#[derive(Clone, Debug, PartialEq)]
pub enum Heading {
    /// `forward 20 up`: a direction of the boat, turned towards others one after another.
    Words {
        /// The direction with which it begins.
        first: Direction,
        /// What it is turned by, in order.
        tilts: Vec<Tilt>,
    },
    /// `[1, 0, 0.36]`: along x, y and z, of any length over 0.
    Along([f64; 3]),
}

impl Heading {
    /// It as a unit vector (x, y, z) of a bay whose x points as said [1]; `None` where it has no
    /// direction: nought along x, y and z, or turned towards where it points already.
    pub fn unit(&self, x: Facing) -> Option<[f64; 3]> {
        match self {
            Self::Along(along) => normed(*along),
            Self::Words { first, tilts } => {
                tilts.iter().try_fold(x.vector(*first)?, |now, tilt| {
                    let goal = x.vector(tilt.towards)?;
                    let share = dot(now, goal);
                    let across = sum(goal, now, -share);
                    // Nearer than that to where it points it has no side towards which to turn.
                    if dot(across, across) < 1e-12 {
                        return None;
                    }
                    let across = normed(across)?;
                    let (sin, cos) = tilt.by.si().sin_cos();
                    normed(sum(now.map(|part| part * cos), across, sin))
                })
            }
        }
    }
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    let [ax, ay, az] = a;
    let [bx, by, bz] = b;
    ax * bx + ay * by + az * bz
}

/// The first and a multiple of the second.
fn sum(a: [f64; 3], b: [f64; 3], times: f64) -> [f64; 3] {
    let [ax, ay, az] = a;
    let [bx, by, bz] = b;
    [ax + times * bx, ay + times * by, az + times * bz]
}

fn normed(vector: [f64; 3]) -> Option<[f64; 3]> {
    let length = dot(vector, vector).sqrt();
    (length.is_finite() && length > 0.0).then(|| vector.map(|part| part / length))
}

/// A thing in the way.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BayThing {
    /// Its name.
    pub key: Key,
    /// Its body.
    pub shape: Option<BayShape>,
    /// Of what nature it is; solid where nothing is said.
    pub nature: Told<BayNature>,
    /// What clearance it wants.
    pub keep: Told<Reading<Length>>,
    /// With what it moves; the hull where nothing is said.
    pub on: Told<BayFrame>,
    /// The thing of the file that it belongs to.
    pub of: Option<Key>,
}

impl BayThing {
    /// Where it stands in the file.
    pub fn path(&self) -> KeyPath {
        joined("bay.things", &self.key)
    }
}

/// The body of a thing in the way.
#[derive(Clone, Debug, PartialEq)]
pub enum BayShape {
    /// A box between two opposite corners.
    Box {
        /// One corner.
        from: Told<BayPoint>,
        /// The opposite corner.
        to: Told<BayPoint>,
        /// By how much it is turned about the upright through its middle, to the left seen from above.
        turned: Told<Reading<Angle>>,
    },
    /// A cylinder with flat ends.
    Cylinder {
        /// The middle of one end.
        from: Told<BayPoint>,
        /// The middle of the other.
        to: Told<BayPoint>,
        /// Its outside diameter.
        across: Told<Reading<Length>>,
    },
    /// A round pipe through points.
    Pipe {
        /// Its centre line.
        along: Vec<Told<BayPoint>>,
        /// Its outside diameter.
        across: Told<Reading<Length>>,
    },
    /// What a sheet pulled tight around these points would hold.
    Hull(Vec<Told<BayPoint>>),
}

/// Of what nature a thing in the way is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum BayNature {
    /// It stands still, and may be touched.
    #[default]
    Solid,
    /// It is hot.
    Hot,
    /// It moves: a belt, a shaft.
    Moving,
    /// It is the hull's skin.
    Hull,
}

/// With what a thing in the way moves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum BayFrame {
    #[default]
    Hull,
    Engine,
}

/// `[bay.scan]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BayScan {
    /// The file, seen from the folder of the boat file.
    pub file: Told<String>,
    /// The unit of its numbers.
    pub unit: Told<ScanUnit>,
    /// A length in it that is known.
    pub known: Option<ScanKnown>,
    /// How far its surface may be off.
    pub error: Told<Reading<Length>>,
    /// What lies behind its surface; solid where nothing is said.
    pub behind: Told<Behind>,
    /// Points that match.
    pub points: Vec<ScanPair>,
}

/// The unit of the numbers of a scan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum ScanUnit {
    Metre,
    Centimetre,
    Millimetre,
    Inch,
    Foot,
}

impl ScanUnit {
    /// How many metres one of it is [m].
    pub const fn metres(self) -> f64 {
        match self {
            Self::Metre => 1.0,
            Self::Centimetre => 0.01,
            Self::Millimetre => 0.001,
            Self::Inch => 0.0254,
            Self::Foot => 0.3048,
        }
    }
}

/// Two points of a scan whose distance is known; the points in the scan's own numbers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ScanKnown {
    /// One.
    pub from: Told<[f64; 3]>,
    /// The other.
    pub to: Told<[f64; 3]>,
    /// How far they are apart.
    pub length: Told<Reading<Length>>,
}

/// What lies behind the surface of a scan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Behind {
    /// The thing that was scanned.
    #[default]
    Solid,
    /// Nothing: sheets without thickness.
    Free,
}

/// A point of a scan and where it is in the bay.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ScanPair {
    /// In the scan's own numbers.
    pub scan: Told<[f64; 3]>,
    /// What it is.
    pub is: Told<ScanPlace>,
}

/// What a point of a scan is.
#[derive(Clone, Debug, PartialEq)]
pub enum ScanPlace {
    /// A pin, or the mouth of a spigot.
    Spot(Spot),
    /// A point of the bay.
    At(BayPoint),
}

/// What was decided of the lie of one run.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BayLie {
    /// The run, in whichever arrangement it stands.
    pub run: Key,
    /// The length of each of its hoses, in order of flow.
    pub cut: Vec<Told<Reading<Length>>>,
    /// How far rigid pieces are rolled about the line of flow, clockwise seen along it; at 0° the
    /// branch of a tee or the second leg of an elbow points up.
    pub roll: Vec<(Key, Told<Reading<Angle>>)>,
    /// What holds it on the way.
    pub supports: Vec<BaySupport>,
    /// Points by which it was led, in order of flow.
    pub corners: Vec<Told<BayPoint>>,
}

impl BayLie {
    /// Where it stands in the file.
    pub fn path(&self) -> KeyPath {
        joined("bay.lies", &self.run)
    }

    /// How long the hose is cut that is the piece of this number, and where that stands in the file; `None` where that
    /// is not decided, or the piece is no hose. Where more are written than the run has hoses they are those of another
    /// way, and none of them counts.
    pub(crate) fn cut_of(&self, pieces: &[Piece], at: usize) -> Option<(Length, KeyPath)> {
        let is_hose = |piece: &&Piece| matches!(piece.kind, PieceKind::Hose { .. });
        pieces.get(at).filter(is_hose)?;
        if self.cut.len() > pieces.iter().filter(is_hose).count() {
            return None;
        }
        let before = pieces.iter().take(at).filter(is_hose).count();
        let cut = self.cut.get(before)?.given()?;
        Some((cut.value, format!("{}.cut[{before}]", self.path())))
    }
}

/// What holds a run on its way.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BaySupport {
    /// Where the run's centre line is held.
    pub at: Told<BayPoint>,
    /// After which length of the run from its upstream end.
    pub after: Told<Reading<Length>>,
}

/// How far the nearest thing in front of a joint's screw is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BayRoom {
    /// The joint.
    pub joint: Key,
    /// How far.
    pub free: Told<Reading<Length>>,
    /// How wide the room before it is.
    pub across: Told<Reading<Length>>,
}

/// A tool of the owner's.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BayTool {
    /// What the owner calls it.
    pub name: String,
    /// How long it is, from the screw to where the hand ends.
    pub long: Told<Reading<Length>>,
    /// How much room it and the hand need around its axis, across.
    pub round: Told<Reading<Length>>,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(found: Option<[f64; 3]>, expected: [f64; 3]) {
        let found = found.unwrap();
        for (found, expected) in found.into_iter().zip(expected) {
            assert!(
                (found - expected).abs() < 1e-12,
                "{found} is not {expected}"
            );
        }
    }

    #[test]
    fn directions_follow_x() {
        use Direction as D;
        let of = |x: Facing, of: D| x.vector(of).unwrap();
        assert_eq!(of(Facing::Forward, D::Port), [0.0, 1.0, 0.0]);
        assert_eq!(of(Facing::Aft, D::Forward), [-1.0, 0.0, 0.0]);
        assert_eq!(of(Facing::Aft, D::Starboard), [0.0, 1.0, 0.0]);
        // Who looks to port has the bow on the right hand and the stern on the left.
        assert_eq!(of(Facing::Port, D::Port), [1.0, 0.0, 0.0]);
        assert_eq!(of(Facing::Port, D::Forward), [0.0, -1.0, 0.0]);
        assert_eq!(of(Facing::Port, D::Aft), [0.0, 1.0, 0.0]);
        assert_eq!(of(Facing::Starboard, D::Forward), [0.0, 1.0, 0.0]);
        assert_eq!(of(Facing::Starboard, D::Starboard), [1.0, 0.0, 0.0]);
        assert_eq!(Facing::Forward.vector(D::Across), None);
    }

    #[test]
    fn a_heading_turns_towards_what_it_names() {
        let tilt = |by: f64, towards| Tilt {
            by: Angle::degrees(by),
            towards,
        };
        let words = |first, tilts: &[Tilt]| Heading::Words {
            first,
            tilts: tilts.to_vec(),
        };
        let up = words(Direction::Forward, &[tilt(30.0, Direction::Up)]);
        near(up.unit(Facing::Forward), [0.75_f64.sqrt(), 0.0, 0.5]);
        near(up.unit(Facing::Aft), [-(0.75_f64.sqrt()), 0.0, 0.5]);
        let twice = words(
            Direction::Forward,
            &[tilt(45.0, Direction::Up), tilt(90.0, Direction::Port)],
        );
        near(twice.unit(Facing::Forward), [0.0, 1.0, 0.0]);
        let back = words(
            Direction::Forward,
            &[tilt(40.0, Direction::Up), tilt(40.0, Direction::Down)],
        );
        near(back.unit(Facing::Forward), [1.0, 0.0, 0.0]);
        near(
            Heading::Along([0.0, -3.0, 4.0]).unit(Facing::Aft),
            [0.0, -0.6, 0.8],
        );
        let nowhere = words(Direction::Forward, &[tilt(10.0, Direction::Aft)]);
        assert_eq!(nowhere.unit(Facing::Forward), None);
        assert_eq!(Heading::Along([0.0; 3]).unit(Facing::Forward), None);
    }
}
