//! What lies between two fixed ends: runs, their pieces, and the joints with their clips.

use quantity::{Angle, Length, NominalSize, Ratio, Reading, VolumeFlow};

use super::{Key, Metal, Spigot, Told};

/// What a run carries.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Carries {
    #[default]
    Coolant,
    RawWater,
    Oil,
    DomesticWater,
    Vent,
}

/// Where a run begins or ends.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum RunEnd {
    /// On a thing: `engine.out`; the spigot is empty where the thing has but one (`port-hull`).
    Thing {
        /// The thing's key.
        thing: Key,
        /// The spigot's or port's name.
        spigot: Option<Key>,
    },
    /// On a tee of another run: `suck.tee`.
    Tee {
        /// The run whose tee it is.
        run: Key,
        /// The tee's name in that run's way.
        piece: Key,
    },
}

/// All that lies between two ends.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Its identity.
    pub key: Key,
    /// What one writes on the hose with a felt pen; `None` until it was first given.
    pub mark: Option<String>,
    /// Upstream end.
    pub from: RunEnd,
    /// Downstream end.
    pub to: RunEnd,
    /// What it carries.
    pub carries: Carries,
    /// Length along the run between the mouths of its two spigots.
    pub length: Told<Reading<Length>>,
    /// Bends in order of flow; none where it was said that there are none.
    pub bends: Told<Vec<Bend>>,
    /// Pieces in order of flow.
    pub way: Told<Vec<Piece>>,
    /// Height of its highest point against today's waterline.
    pub high_at: Told<Reading<Length>>,
    /// Height of its lowest point.
    pub low_at: Told<Reading<Length>>,
}

/// One bend of a run: `90 down`, `S, 60 across`.
#[derive(Clone, Debug, PartialEq)]
pub enum Bend {
    /// A turn by an angle towards a direction.
    Turn {
        /// By how much.
        angle: Angle,
        /// Which way it goes after the turn.
        towards: Direction,
    },
    /// Two turns that leave the run parallel, set over by a distance.
    Offset {
        /// How far over.
        by: Length,
        /// Which way.
        towards: Direction,
    },
}

/// Directions aboard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Direction {
    Up,
    Down,
    Forward,
    Aft,
    Port,
    Starboard,
    Across,
}

/// One bought thing in a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its name in the run: its kind (`hose`, `reducer`, `elbow`), numbered from 2 where one repeats.
    pub name: Key,
    /// What it is.
    pub kind: PieceKind,
    /// Its length along the run, where typed: of a hose between the mouths of its two spigots, of
    /// anything else over all, from mouth to mouth.
    pub long: Option<Length>,
    /// For a valve: how far it stands open, where typed. It is how it is set, no part of it.
    pub open: Option<Ratio>,
    /// For a hose: its wire stands out inside as ribs.
    pub ribbed: bool,
}

impl Piece {
    /// A piece without a name, of no known length and as open as it comes.
    pub fn of(kind: PieceKind) -> Self {
        Self {
            name: Key::new(),
            kind,
            long: None,
            open: None,
            ribbed: false,
        }
    }
}

/// A size that is decided, or left to the tool.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Size {
    /// By name.
    Named(NominalSize),
    /// `choose`.
    Choose,
}

impl Size {
    /// The size by name, where it is decided.
    pub fn named(self) -> Option<NominalSize> {
        match self {
            Self::Named(size) => Some(size),
            Self::Choose => None,
        }
    }
}

/// Kinds of piece. Hoses and moulded elbows have female ends, the others male ones.
#[derive(Clone, Debug, PartialEq)]
pub enum PieceKind {
    /// `hose 38 wired`, `hose choose`.
    Hose {
        /// Bore by name.
        size: Size,
        /// Build, if typed.
        build: Option<HoseBuild>,
    },
    /// `elbow 45 38 moulded silicone` (female ends) or `elbow 90 38 bronze` (male ends).
    Elbow {
        /// By how much it turns.
        angle: Angle,
        /// Bore by name (moulded) or spigot by name (metal).
        size: Size,
        /// Its stuff.
        stuff: Stuff,
        /// Its two legs, from each end to where the centre lines cross, upstream first.
        legs: Option<[Length; 2]>,
        /// Radius of its bend, to the centre line.
        radius: Option<Length>,
        /// Its free bore, where typed.
        bore: Option<Length>,
    },
    /// `reducer 42>38 bronze`, `reducer choose>38 metal`; with male ends if of metal or plastic, cuffs if moulded.
    Reducer {
        /// Upstream end.
        from: Size,
        /// Downstream end.
        to: Size,
        /// Its stuff.
        stuff: Stuff,
    },
    /// `joiner 38 bronze`: a short pipe with male ends; with a small bore a restrictor.
    Joiner {
        /// Outside diameter by name.
        size: Size,
        /// Its stuff.
        stuff: Stuff,
        /// Its free bore, where typed.
        bore: Option<Length>,
    },
    /// `valve 1/2 bronze`, `valve 38 full bronze`, `check 8 brass`: male ends.
    Valve {
        /// What shuts in it.
        form: ValveForm,
        /// Size of its tails by name.
        size: Size,
        /// Full bore, where typed.
        full_bore: bool,
        /// Its stuff.
        stuff: Stuff,
        /// Its free bore, where typed.
        bore: Option<Length>,
        /// Its Kv, where typed: the flow of water at 1 bar.
        kv: Option<VolumeFlow>,
    },
    /// `pipe 38 copper`: rigid, male ends.
    Pipe {
        /// Outside diameter by name.
        size: Size,
        /// Its stuff.
        stuff: Stuff,
        /// Its free bore, where typed.
        bore: Option<Length>,
    },
    /// `tee 38 x 38 x 16 brass`: male ends, the third is the branch.
    Tee {
        /// Upstream, downstream, branch.
        sizes: [Size; 3],
        /// Its stuff.
        stuff: Stuff,
        /// The free bore of its straight way, where typed.
        bore: Option<Length>,
    },
}

impl PieceKind {
    /// Whether hoses go over its ends.
    pub fn is_male(&self) -> bool {
        match self {
            Self::Hose { .. } => false,
            Self::Elbow { stuff, .. } | Self::Reducer { stuff, .. } => {
                !matches!(stuff, Stuff::Moulded(_))
            }
            Self::Joiner { .. } | Self::Valve { .. } | Self::Pipe { .. } | Self::Tee { .. } => true,
        }
    }

    /// Whether it is a valve that one can shut.
    pub fn can_be_shut(&self) -> bool {
        matches!(self, Self::Valve { form, .. } if *form != ValveForm::Check)
    }

    /// Its free bore, where that was typed.
    pub fn bore(&self) -> Option<Length> {
        match self {
            Self::Hose { .. } | Self::Reducer { .. } => None,
            Self::Elbow { bore, .. }
            | Self::Joiner { bore, .. }
            | Self::Valve { bore, .. }
            | Self::Pipe { bore, .. }
            | Self::Tee { bore, .. } => *bore,
        }
    }
}

/// What shuts in a valve of a run.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum ValveForm {
    /// A ball.
    #[default]
    Ball,
    /// A gate.
    Gate,
    /// A cone.
    Cone,
    /// The water itself, when it would run back; nobody can shut it by hand.
    Check,
}

impl ValveForm {
    /// The word with which a piece of it begins, which is its name in the run too.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ball => "valve",
            Self::Gate => "gate",
            Self::Cone => "cone",
            Self::Check => "check",
        }
    }
}

/// Builds of hose.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum HoseBuild {
    /// EPDM with fabric.
    Epdm,
    /// EPDM or like with a wire helix.
    Wired,
    /// Silicone with fabric.
    Silicone,
    /// Rubber without reinforcement.
    PlainRubber,
    /// Silicone without reinforcement.
    PlainSilicone,
}

/// What a fitting is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stuff {
    /// A named metal (or plastic): male ends.
    Metal(Metal),
    /// `metal`: some metal, not named.
    SomeMetal,
    /// `moulded`, of this build of hose: female ends.
    Moulded(HoseBuild),
}

/// What the owner decided or measured of one joint: `[joints] "hot.from" = { … }`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct JointNote {
    /// Which joint: `hot.from`, `hot.to`, `hot.reducer.a`.
    pub joint: Key,
    /// The clip decided on.
    pub clip: Told<ClipSpec>,
    /// How many of them.
    pub clips: Told<u32>,
    /// Outside diameter measured with the hose pushed on for trial.
    pub fitted_od: Told<Reading<Length>>,
    /// Bore of this very hose end or cuff, before it is pushed on.
    pub hose_bore: Told<Reading<Length>>,
    /// Outside diameter of this very hose end or cuff, before it is pushed on.
    pub hose_over: Told<Reading<Length>>,
    /// The hose was pushed on for trial, and went.
    pub trial_fit: Told<bool>,
    /// The hose end is used again.
    pub reused_hose: Told<bool>,
    /// A clip of a rule or taste that the owner wants: its kind only.
    pub clip_kind: Told<ClipWord>,
    /// The ring clip goes on the bare spigot before the hose.
    pub ring_on_first: Told<bool>,
    /// The male end of a bought piece as measured; its name is that of the joint.
    pub spigot: Spigot,
}

/// Kinds of clip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum ClipWord {
    Worm,
    SingleEar,
    TwoEar,
    TBolt,
    SpringBand,
}

/// A clip as written: `worm 32-50 316`, `single-ear 19.8`, `spring 36`.
#[derive(Clone, Debug, PartialEq)]
pub struct ClipSpec {
    /// Its kind.
    pub kind: ClipWord,
    /// Closed and open diameter, for clips sold by range.
    pub range: Option<(Length, Length)>,
    /// The one diameter by which rings are sold (open inside diameter, or d_n of a spring band).
    pub size: Option<Length>,
    /// Band width, where typed.
    pub band: Option<Length>,
    /// Its metal, where typed.
    pub metal: Option<Metal>,
}
