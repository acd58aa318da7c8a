//! The tables of the bay.

use quantity::Instrument::{Guessed, Maker, Tape};
use quantity::Kind;

use super::Form::{
    File, Heading, Length, LengthOrZero, List, Name, Point, Quantity, Spotted, Table, Triple, Words,
};
use super::Sign::{Any, Over};
use super::{FreeRow, Names, Naming, TableRow, key};
use crate::model::{BayFrame, BayNature, Behind, Facing, RadiusTo, ScanUnit};
use crate::words::Word;

/// `[bay]`.
pub(super) static BAY: TableRow = TableRow {
    name: "bay",
    doc: "The engine bay in space: where mouths point, what stands in the way, how hoses lie. x and y are level, z is up from today's waterline; where there is a survey by tape, they are those of its pins. Without it nothing but shapes is missing.",
    keys: &[
        key(
            "x",
            Words(Facing::LIST),
            "Where x points; forward where nothing is said. y is a quarter turn to the left of it, seen from above.",
            "\"aft\"",
        ),
        key(
            "hatch",
            Table(&HATCH),
            "The opening one gets in by, which is level.",
            "{ at = [400, 0, 900], size = [900, 600] }",
        ),
        key(
            "hoses",
            Table(&HOSES),
            "How hoses bend and what they weigh, by bore and build.",
            "{ \"38 epdm\" = { stiffness = \"1.4 N m²\" } }",
        ),
        key(
            "mouths",
            Table(&MOUTHS),
            "Where mouths are and point, by spigot.",
            "{ \"engine.out\" = { points = \"forward 20 up\" } }",
        ),
        key(
            "things",
            Table(&THINGS),
            "Things in the way, by a name of yours.",
            "{ port-bearer = { keep = 25 } }",
        ),
        key(
            "scan",
            Table(&SCAN),
            "A scan of the bay.",
            "{ file = \"bay.glb\", error = 5 }",
        ),
        key(
            "lies",
            Table(&LIES),
            "What you decided of the lie of runs.",
            "{ hot = { cut = [1145] } }",
        ),
        key(
            "room",
            Table(&ROOM),
            "How far the nearest thing in front of a clip's screw is, by joint; where there is no scan.",
            "{ \"hot.from\" = 120 }",
        ),
        key(
            "room_across",
            Table(&ROOM_ACROSS),
            "How wide the free room in front of a clip's screw is, by joint.",
            "{ \"hot.from\" = 160 }",
        ),
        key(
            "tools",
            Table(&TOOLS),
            "Your own tools.",
            "{ screwdriver = { long = 250, round = 110 } }",
        ),
    ],
    free: None,
};

static HATCH: TableRow = TableRow {
    name: "hatch",
    doc: "The opening one gets in by, which is level.",
    keys: &[
        key("at", Point, "Its middle.", "[400, 0, 900]").by(Tape),
        key(
            "size",
            List(&Length),
            "How long it is along x, and how broad along y.",
            "[900, 600]",
        )
        .by(Tape),
    ],
    free: None,
};

static HOSES: TableRow = TableRow {
    name: "hoses",
    doc: "How hoses bend and what they weigh, by bore and build.",
    keys: &[],
    free: Some(FreeRow {
        what: "hose",
        naming: Naming::Hose,
        form: Table(&HOSE),
        doc: "One kind of hose.",
        example: ("\"38 epdm\"", "{ rmin = 150 }"),
    }),
};

static HOSE: TableRow = TableRow {
    name: "hose",
    doc: "How one kind of hose bends. Of droop and stiffness one is enough.",
    keys: &[
        key(
            "droop",
            Table(&DROOP),
            "How far a piece of it droops, held level at one end.",
            "{ overhang = 700, drop = 180 }",
        ),
        key(
            "stiffness",
            Quantity(Kind::BendingStiffness, Over),
            "How hard it is to bend: the moment, times the radius that it gives.",
            "\"1.4 N m²\"",
        )
        .by(Maker),
        key(
            "rmin",
            Length,
            "The least radius to which it may be bent.",
            "150",
        )
        .by(Maker),
        key(
            "rmin_to",
            Words(RadiusTo::LIST),
            "To where that radius is measured.",
            "\"inside\"",
        ),
    ],
    free: None,
};

static DROOP: TableRow = TableRow {
    name: "droop",
    doc: "A piece of the hose, empty, held level at one end and free at the other.",
    keys: &[
        key("overhang", Length, "How long a piece hung free.", "700").by(Tape),
        key(
            "drop",
            Length,
            "How far the free end hung below the level of the held one.",
            "180",
        )
        .by(Tape),
        key(
            "sample",
            Length,
            "How long the piece was that was weighed.",
            "450",
        )
        .by(Tape),
        key(
            "weighs",
            Quantity(Kind::Mass, Over),
            "What that piece weighed.",
            "\"410 g\"",
        ),
    ],
    free: None,
};

static MOUTHS: TableRow = TableRow {
    name: "mouths",
    doc: "Where mouths are and point, by spigot: what no tape has told.",
    keys: &[],
    free: Some(FreeRow {
        what: "spigot",
        naming: Naming::Spot,
        form: Table(&MOUTH),
        doc: "One mouth.",
        example: ("\"engine.out\"", "{ at = [520, -65, 330] }"),
    }),
};

static MOUTH: TableRow = TableRow {
    name: "mouth",
    doc: "Where a mouth is, and where its spigot points.",
    keys: &[
        key("at", Point, "The middle of the mouth.", "[520, -65, 330]").by(Tape),
        key(
            "points",
            Heading,
            "Where the spigot points, out of its thing.",
            "\"forward 20 up\"",
        ),
    ],
    free: None,
};

static THINGS: TableRow = TableRow {
    name: "things in the way",
    doc: "Things in the way, by a name of yours.",
    keys: &[],
    free: Some(FreeRow {
        what: "thing in the way",
        naming: Naming::Plain,
        form: Table(&THING),
        doc: "One thing in the way.",
        example: (
            "port-bearer",
            "{ box = { from = [0, 180, -60], to = [900, 260, 60] } }",
        ),
    }),
};

static THING: TableRow = TableRow {
    name: "thing in the way",
    doc: "A body, of one shape: a box, a cylinder, a pipe or a hull of points.",
    keys: &[
        key(
            "box",
            Table(&BOX),
            "A box.",
            "{ from = [0, 180, -60], to = [900, 260, 60] }",
        ),
        key(
            "cylinder",
            Table(&CYLINDER),
            "A cylinder with flat ends.",
            "{ from = [0, 0, 0], to = [400, 0, 0], across = 60 }",
        ),
        key(
            "pipe",
            Table(&PIPE),
            "A round pipe through points.",
            "{ along = [[0, 0, 0], [400, 0, 100]], across = 42 }",
        ),
        key(
            "hull",
            List(&Point),
            "Four corners or more, around which a sheet is pulled tight.",
            "[[0, 0, 0], [400, 0, 0], [0, 300, 0], [0, 0, 200]]",
        )
        .by(Tape),
        key(
            "nature",
            Words(BayNature::LIST),
            "Of what nature it is; solid where nothing is said.",
            "\"hot\"",
        ),
        key("keep", LengthOrZero, "What clearance it wants.", "25").by(Guessed),
        key(
            "on",
            Words(BayFrame::LIST),
            "With what it moves; with the hull where nothing is said.",
            "\"engine\"",
        ),
        key(
            "of",
            Name(Names::Thing),
            "The thing that it belongs to, whose own hoses may be near it at their mouths.",
            "\"engine\"",
        ),
    ],
    free: None,
};

static BOX: TableRow = TableRow {
    name: "box",
    doc: "A box between two opposite corners.",
    keys: &[
        key("from", Point, "One corner.", "[0, 180, -60]").by(Tape),
        key("to", Point, "The opposite corner.", "[900, 260, 60]").by(Tape),
        key(
            "turned",
            Quantity(Kind::Angle, Any),
            "By how much it is turned about the upright through its middle, to the left seen from above.",
            "\"15°\"",
        ),
    ],
    free: None,
};

static CYLINDER: TableRow = TableRow {
    name: "cylinder",
    doc: "A cylinder with flat ends.",
    keys: &[
        key("from", Point, "The middle of one end.", "[0, 0, 0]").by(Tape),
        key("to", Point, "The middle of the other.", "[400, 0, 0]").by(Tape),
        key("across", Length, "Its outside diameter.", "60").by(Tape),
    ],
    free: None,
};

static PIPE: TableRow = TableRow {
    name: "pipe in the way",
    doc: "A round pipe through points.",
    keys: &[
        key(
            "along",
            List(&Point),
            "Its centre line.",
            "[[0, 0, 0], [400, 0, 100]]",
        )
        .by(Tape),
        key("across", Length, "Its outside diameter.", "42").by(Tape),
    ],
    free: None,
};

static SCAN: TableRow = TableRow {
    name: "scan",
    doc: "A scan of the bay: triangles, in a file beside this one.",
    keys: &[
        key(
            "file",
            File,
            "The file, in the folder of the boat file or below: glb, gltf, obj, ply or stl.",
            "\"bay.glb\"",
        )
        .required(),
        key(
            "unit",
            Words(ScanUnit::LIST),
            "The unit of its numbers, where the file can't say it.",
            "\"mm\"",
        ),
        key(
            "known",
            Table(&KNOWN),
            "A length in it that is known, where no unit is.",
            "{ from = [0, 0, 0], to = [1, 0, 0], length = 812 }",
        ),
        key("error", Length, "How far its surface may be off.", "5").by(Guessed),
        key(
            "behind",
            Words(Behind::LIST),
            "What lies behind its surface; solid where nothing is said.",
            "\"free\"",
        ),
        key(
            "points",
            List(&Table(&MATCHING)),
            "Three points or more of the scan, with what they are.",
            "{ scan = [0.12, 0.4, -0.3], is = \"P1\" }",
        ),
    ],
    free: None,
};

static KNOWN: TableRow = TableRow {
    name: "known length",
    doc: "Two points of a scan, in its own numbers, whose distance is known.",
    keys: &[
        key("from", Triple, "One.", "[0, 0, 0]"),
        key("to", Triple, "The other.", "[1.2, 0, 0]"),
        key("length", Length, "How far they are apart.", "812").by(Tape),
    ],
    free: None,
};

static MATCHING: TableRow = TableRow {
    name: "matching point",
    doc: "A point of a scan and what it is.",
    keys: &[
        key(
            "scan",
            Triple,
            "Where it is in the scan, in the scan's own numbers.",
            "[0.12, 0.4, -0.3]",
        ),
        key(
            "is",
            Spotted,
            "What it is: a pin, the mouth of a spigot, or a point of the bay.",
            "\"P1\"",
        ),
    ],
    free: None,
};

static LIES: TableRow = TableRow {
    name: "lies",
    doc: "What you decided of the lie of runs, by run: that of the file or of the arrangement in which it stands.",
    keys: &[],
    free: Some(FreeRow {
        what: "run",
        naming: Naming::Plain,
        form: Table(&LIE),
        doc: "One run.",
        example: ("suck", "{ cut = [1145, 410] }"),
    }),
};

static LIE: TableRow = TableRow {
    name: "lie",
    doc: "What you decided of the lie of one run.",
    keys: &[
        key(
            "cut",
            List(&Length),
            "The length of each of its hoses, in order of flow.",
            "[1145, 410]",
        )
        .by(Tape),
        key(
            "roll",
            Table(&ROLL),
            "How far rigid pieces are rolled.",
            "{ tee = \"90°\" }",
        ),
        key(
            "supports",
            List(&Table(&SUPPORT)),
            "What holds it on the way.",
            "{ at = [300, -80, 150], after = 400 }",
        ),
        key(
            "corners",
            List(&Point),
            "Points by which it is led, in order of flow; eight at most.",
            "[[300, -80, 150], [600, -80, 150]]",
        ),
    ],
    free: None,
};

static ROLL: TableRow = TableRow {
    name: "roll",
    doc: "How far rigid pieces are rolled about the line of flow, clockwise seen along it. At 0° the branch of a tee, or the second leg of an elbow, points up.",
    keys: &[],
    free: Some(FreeRow {
        what: "piece",
        naming: Naming::Plain,
        form: Quantity(Kind::Angle, Any),
        doc: "One piece of the run's way.",
        example: ("tee", "\"90°\""),
    }),
};

static SUPPORT: TableRow = TableRow {
    name: "support",
    doc: "What holds a run on its way.",
    keys: &[
        key(
            "at",
            Point,
            "Where the run's centre line is held.",
            "[300, -80, 150]",
        )
        .by(Tape),
        key(
            "after",
            Length,
            "After which length of the run, from its upstream end.",
            "400",
        )
        .by(Tape),
    ],
    free: None,
};

static ROOM: TableRow = TableRow {
    name: "room",
    doc: "How far the nearest thing in front of a clip's screw is, by joint.",
    keys: &[],
    free: Some(FreeRow {
        what: "joint",
        naming: Naming::Dotted,
        form: Length,
        doc: "One joint, read with a tape where nothing is said.",
        example: ("\"hot.from\"", "120"),
    }),
};

static ROOM_ACROSS: TableRow = TableRow {
    name: "room across",
    doc: "How wide the free room in front of a clip's screw is where it is narrowest, by joint.",
    keys: &[],
    free: Some(FreeRow {
        what: "joint",
        naming: Naming::Dotted,
        form: Length,
        doc: "One joint, read with a tape where nothing is said.",
        example: ("\"hot.from\"", "160"),
    }),
};

static TOOLS: TableRow = TableRow {
    name: "tools",
    doc: "Your own tools, by what you call them.",
    keys: &[],
    free: Some(FreeRow {
        what: "tool",
        naming: Naming::Title,
        form: Table(&TOOL),
        doc: "One tool.",
        example: ("screwdriver", "{ long = 250, round = 110 }"),
    }),
};

static TOOL: TableRow = TableRow {
    name: "tool",
    doc: "A tool that turns a screw along its own axis.",
    keys: &[
        key(
            "long",
            Length,
            "How long it is, from the screw to where the hand ends.",
            "250",
        )
        .by(Tape),
        key(
            "round",
            Length,
            "How much room it and the hand need around its axis, across.",
            "110",
        )
        .by(Tape),
    ],
    free: None,
};
