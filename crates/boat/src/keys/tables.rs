//! The tables, in the order of the file.

use quantity::Instrument::{Caliper, Girth, Guessed, Maker, Plate, Tape, WaterTube};
use quantity::Kind;

use super::Form::{
    Bool, Count, CurrentAtVoltage, DropAtFlow, FlowAtSpeed, Height, Length, LengthOrZero, List,
    Name, Number, Percent, PlainLength, PowerAtSpeed, Quantity, Spread, Table, Text, ThingOrRun,
    Version, Whole, Words,
};
use super::Sign::{Any, NotUnder, Over};
use super::bay::BAY;
use super::survey::SURVEY;
use super::{Form, FreeRow, Grammar, KeyRow, Names, Naming, TableRow, key};
use crate::model::{
    Assume, Berth, Breathing, Carries, ClipWord, Decided, Fouling, Found, HullKind, HullStuff,
    Lies, Magnet, Manifold, Metal, PipeForm, PricePer, Renewal, SpigotForm, StatControl, Streams,
    ThingKind,
};
use crate::words::{BareLength, Joined, Season, Word};

const fn grammar(grammar: Grammar) -> Form {
    Form::Grammar(grammar)
}
const METAL: Form = Words(Metal::LIST);
const TEMPERATURE: Form = Quantity(Kind::Temperature, Any);
const VOLUME: Form = Quantity(Kind::Volume, Over);
const TEXTS: Form = List(&Text);
const NOZZLE: &str = "Bore of the jet by which raw water is sprayed into the exhaust.";
const ABOVE_MARK: &str = "What still goes in between the cold mark and the cap's seat.";
const CURVE: Form = Form::Grammar(Grammar::Curve);
const A_CURVE: &str = "\"0 L/min 9.5 m, 60 L/min 7 m, 90 L/min 4 m @ 2600 rpm\"";
const PATHS: Form = List(&Form::Grammar(Grammar::Path));
/// Of a thing, which its spigots take over.
const ASIDE: KeyRow = aside(
    "How far it lies from the boat's centre line, and on which side. Its spigots lie there where they have no `aside` of their own.",
);
const ALONG: KeyRow = along(
    "How far it lies from amidships. Its spigots lie there where they have no `along` of their own.",
);

const fn aside(doc: &'static str) -> KeyRow {
    key(
        "aside",
        Form::Grammar(Grammar::Aside),
        doc,
        "\"420 mm to port\"",
    )
    .by(Tape)
}
const fn along(doc: &'static str) -> KeyRow {
    key(
        "along",
        Form::Grammar(Grammar::Along),
        doc,
        "\"1.2 m ahead of amidships\"",
    )
    .by(Tape)
}

/// The file itself.
pub static ROOT: TableRow = TableRow {
    name: "file",
    doc: "What stands at the top of the file, before and between the sections.",
    keys: &[
        key("version", Version, "The version of this form of file.", "1").required(),
        key(
            "lengths",
            Words(BareLength::LIST),
            "The unit of a length that has none; all other quantities carry theirs.",
            "\"mm\"",
        )
        .must_be_said(),
        key(
            "instruments",
            Table(&INSTRUMENTS),
            "How far each instrument may be off in your hands.",
            "{ caliper = 0.05, tape = 2 }",
        ),
        key(
            "boat",
            Table(&BOAT),
            "The boat herself.",
            "{ name = \"Dunlin\" }",
        ),
        key(
            "engine",
            Table(&ENGINE),
            "The engine, with its spigots.",
            "{ power = \"46 kW @ 2600 rpm\" }",
        ),
        key(
            "things",
            Table(&THINGS),
            "Every other fixed thing.",
            "{ gearbox = { kind = \"oil cooler\" } }",
        ),
        key(
            "runs",
            Table(&RUNS),
            "All that lies between two fixed ends.",
            "{ hot = { from = \"engine.out\", to = \"gearbox.a\" } }",
        ),
        key(
            "joints",
            Table(&JOINTS),
            "What you decided or measured of single joints.",
            "{ \"hot.from\" = { clips = 1 } }",
        ),
        key(
            "seen",
            Table(&SEEN),
            "What you found, in your words.",
            "{ \"hot.from\" = { hose = \"soft\" } }",
        ),
        key(
            "arrangements",
            Table(&ARRANGEMENTS),
            "The ways in which the circuit is connected, as differences.",
            "{ before = {} }",
        ),
        key(
            "survey",
            Table(&SURVEY),
            "Where the spigots are, by tape from datum pins.",
            "{ pins = { P4 = { h = 415 } } }",
        ),
        key(
            "bay",
            Table(&BAY),
            "The engine bay in space: where mouths point, what stands in the way, how hoses lie.",
            "{ x = \"aft\" }",
        ),
        key(
            "states",
            Table(&STATES),
            "How the boat is being used.",
            "{ cruise = { rpm = \"1900 rpm\" } }",
        ),
        key(
            "readings",
            Table(&READINGS),
            "Readings of the old plumbing, one a sitting.",
            "{ \"2025-07-19\" = { sea = \"17 °C\" } }",
        ),
        key(
            "coolant",
            Table(&COOLANT),
            "What is to be poured in.",
            "{ volume = \"?\" }",
        ),
        key(
            "stock",
            Table(&STOCK),
            "Your own shelf.",
            "{ clips = [\"8 x worm 32-50 316\"] }",
        ),
        key(
            "prices",
            Table(&PRICES),
            "What things cost, and how they are sold.",
            "{ \"worm 32-50 316\" = { each = \"2.40 EUR\" } }",
        ),
        key(
            "job",
            Table(&JOB),
            "The job, and what may be assumed.",
            "{ days_off = 4 }",
        ),
    ],
    free: None,
};

static INSTRUMENTS: TableRow = TableRow {
    name: "instruments",
    doc: "How far each instrument may be off in your hands. What is left out keeps its usual width.",
    keys: &[],
    free: Some(FreeRow {
        what: "instrument",
        naming: Naming::Instrument,
        form: Spread,
        doc: "A length, or a share of the value in per cent.",
        example: ("caliper", "0.05"),
    }),
};

static BOAT: TableRow = TableRow {
    name: "boat",
    doc: "The boat herself.",
    keys: &[
        key("name", Text, "Her name.", "\"Dunlin\""),
        key(
            "kind",
            Words(HullKind::LIST),
            "Hull and rig, which give the heel to reckon with.",
            "\"motor, one hull\"",
        ),
        key(
            "hull",
            Words(HullStuff::LIST),
            "Of what her hull is built.",
            "\"steel\"",
        ),
        key(
            "use",
            TEXTS,
            "How she is used, in your words.",
            "[\"private\", \"sea\"]",
        ),
        key(
            "rules",
            TEXTS,
            "The rules that bind her. Two are known: “two clips below the waterline” and “no spring clips”; others are printed.",
            "[\"two clips below the waterline\"]",
        ),
        key(
            "now",
            Words(Berth::LIST),
            "Where she lies now.",
            "\"afloat\"",
        ),
        key(
            "waterline",
            Table(&WATERLINE),
            "Her waterline against today's.",
            "{ laden = 35, light = -20 }",
        ),
        key(
            "sea",
            Table(&SEA),
            "The waters she lies in.",
            "{ summer = \"20 °C\" }",
        ),
        key(
            "bilge",
            Table(&BILGE),
            "The bilge under the engine.",
            "{ floor = -410 }",
        ),
    ],
    free: None,
};

static WATERLINE: TableRow = TableRow {
    name: "waterline",
    doc: "Her waterline against today's.",
    keys: &[
        key("laden", Height, "When she is laden.", "35").by(WaterTube),
        key("light", Height, "When she is light.", "-20").by(WaterTube),
    ],
    free: None,
};

static SEA: TableRow = TableRow {
    name: "sea",
    doc: "The waters she lies in.",
    keys: &[
        key("summer", TEMPERATURE, "The warmest she meets.", "\"20 °C\""),
        key("winter", TEMPERATURE, "The coldest.", "\"4 °C\""),
        key(
            "salinity",
            Number(0.0, 50.0),
            "Practical salinity: 0 is fresh water, 35 the open ocean.",
            "31",
        ),
    ],
    free: None,
};

static BILGE: TableRow = TableRow {
    name: "bilge",
    doc: "The bilge under the engine.",
    keys: &[
        key("floor", Height, "Height of its floor.", "-410").by(WaterTube),
        key(
            "drowns_engine",
            Height,
            "Height of water at which the engine is harmed.",
            "-90",
        )
        .by(WaterTube),
        key(
            "free_to_there",
            VOLUME,
            "Water that it takes up to there.",
            "\"380 L\"",
        ),
        key(
            "pump_says",
            Quantity(Kind::VolumeFlow, Over),
            "What is printed on its pump.",
            "\"1100 US gal/h\"",
        )
        .by(Plate),
    ],
    free: None,
};

static ENGINE: TableRow = TableRow {
    name: "engine",
    doc: "The engine. Its key among the things is `engine`.",
    keys: &[
        key(
            "power",
            PowerAtSpeed,
            "Its power, and the speed at which it gives it.",
            "\"46 kW @ 2600 rpm\"",
        )
        .by(Plate),
        key(
            "layout",
            Text,
            "How its inside is arranged. “header apart”, “header on the engine”, “manifold on raw water”, “two circuits”, “header, exchanger and manifold in one” and the same “blanked for keel pipes” are known, and may stand in for the paths where `assume` says so.",
            "\"header apart, keel cooled\"",
        ),
        key(
            "paths",
            PATHS,
            "The ways of the water inside; they win over the layout.",
            "[\"in > pump > block > head > stat\", \"stat.hot > out\"]",
        ),
        key(
            "stat",
            Table(&STAT),
            "The thermostat.",
            "{ opens = \"80 °C\" }",
        ),
        key(
            "cap",
            Quantity(Kind::GaugePressure, NotUnder),
            "What is stamped on a pressure cap that it carries itself.",
            "\"0.9 bar\"",
        )
        .by(Plate),
        key("cap_h", Height, "Height of that cap's seat.", "520").by(WaterTube),
        key(
            "header",
            Table(&HEADER),
            "A header tank that is part of the engine.",
            "{ volume = \"3.1 L\" }",
        ),
        key(
            "alarm",
            Table(&ALARM),
            "The temperature alarm.",
            "{ at = \"98 °C\" }",
        ),
        key(
            "heat",
            Quantity(Kind::Power, Over),
            "Heat to the coolant, from the maker's sheet.",
            "\"48 kW\"",
        )
        .by(Maker),
        key(
            "idle_heat",
            Quantity(Kind::Power, Over),
            "Heat to the coolant at tick-over, from the maker's sheet.",
            "\"4 kW\"",
        )
        .by(Maker),
        key(
            "burns",
            Words(Breathing::LIST),
            "How it breathes: with a turbocharger, or by itself.",
            "\"natural\"",
        ),
        key(
            "manifold",
            Words(Manifold::LIST),
            "Whether its exhaust manifold has a jacket of water.",
            "\"wet\"",
        ),
        key(
            "drop",
            DropAtFlow,
            "What the water loses inside, from its inlet to its outlet; the thermostat does not count.",
            "\"15 kPa @ 72 L/min\"",
        )
        .by(Maker),
        key("nozzle", Length, NOZZLE, "12").by(Caliper),
        key(
            "volume",
            VOLUME,
            "What it holds of the circuit's water, a header tank of its own not counted.",
            "\"7 L\"",
        )
        .by(Maker),
        key(
            "pump",
            Table(&PUMP),
            "The circulating pump.",
            "{ drive = \"belt\", ratio = 1.15 }",
        ),
        key(
            "moves",
            Length,
            "How far it moves on its feet, any way.",
            "7",
        )
        .by(Tape),
        key(
            "belt",
            Text,
            "Its belt, as printed on the old one.",
            "\"13 x 1050\"",
        ),
        key(
            "gearbox",
            Table(&GEARBOX),
            "The gearbox and what cools it.",
            "{ cooler = \"gearbox\" }",
        ),
        key("h", Height, "Height of the crankshaft.", "120").by(WaterTube),
        ASIDE,
        ALONG,
        key(
            "spigots",
            Table(&SPIGOTS),
            "Its spigots.",
            "{ out = { od = 38.1 } }",
        ),
        key(
            "ports",
            Table(&PORTS),
            "Its threaded ports.",
            "{ drain = { female_id = 18.7 } }",
        ),
    ],
    free: None,
};

static STAT: TableRow = TableRow {
    name: "stat",
    doc: "The thermostat.",
    keys: &[
        key(
            "opens",
            TEMPERATURE,
            "Where it begins to open, as stamped.",
            "\"80 °C\"",
        )
        .by(Plate),
        key("full", TEMPERATURE, "Where it is fully open.", "\"92 °C\"").by(Maker),
        key(
            "bypass",
            Text,
            "How the by-pass is shut when it opens. It begins with “shut by”, “always open”, or with “capped” where nothing runs through it.",
            "\"shut by the stat's own disc\"",
        ),
        key(
            "bypass_bore",
            Length,
            "Bore of the by-pass where it is narrowest.",
            "14",
        )
        .by(Caliper),
        key(
            "hole",
            LengthOrZero,
            "Diameter of the hole in its plate; 0 for none.",
            "3",
        )
        .by(Caliper),
        key(
            "control",
            Words(StatControl::LIST),
            "Which water it feels: what leaves the engine, or what comes back to it.",
            "\"outlet\"",
        ),
        key(
            "bore",
            Length,
            "Diameter of its free way when it is fully open.",
            "35",
        )
        .by(Caliper),
        key(
            "closes_at",
            TEMPERATURE,
            "Where it is shut again as the water cools.",
            "\"77 °C\"",
        )
        .by(Maker),
        key("gasket", Text, "Its gasket.", "\"paper, 54 across\""),
    ],
    free: None,
};

static HEADER: TableRow = TableRow {
    name: "header",
    doc: "A header tank that is part of the engine; one that stands apart is a thing.",
    keys: &[
        key("volume", VOLUME, "What it holds to the brim.", "\"3.1 L\"").by(Maker),
        key("cap_h", Height, "Height of its cap's seat.", "520").by(WaterTube),
        key(
            "sight_glass",
            Bool,
            "Whether its level can be seen.",
            "false",
        ),
        key(
            "cold_mark",
            Height,
            "Height of the mark up to which it is filled cold.",
            "455",
        )
        .by(WaterTube),
        key("above_mark", VOLUME, ABOVE_MARK, "\"0.9 L\""),
    ],
    free: None,
};

static ALARM: TableRow = TableRow {
    name: "alarm",
    doc: "The temperature alarm.",
    keys: &[
        key("at", TEMPERATURE, "Where it sounds.", "\"98 °C\"").by(Plate),
        key("senses", Text, "Where its sender sits.", "\"head\""),
        key("tried", Text, "When it was last tried.", "\"2024\""),
    ],
    free: None,
};

static PUMP: TableRow = TableRow {
    name: "pump",
    doc: "The circulating pump of the engine.",
    keys: &[
        key("drive", Text, "What drives it.", "\"belt\""),
        key(
            "ratio",
            Number(0.01, 100.0),
            "Its turns in one of the engine's.",
            "1.15",
        ),
        key(
            "curve",
            CURVE,
            "Its curve, at a speed of the pump itself.",
            A_CURVE,
        ),
    ],
    free: None,
};

static GEARBOX: TableRow = TableRow {
    name: "gearbox of the engine",
    doc: "The gearbox and what cools it.",
    keys: &[
        key(
            "oil_normal",
            TEMPERATURE,
            "Its oil when all is well.",
            "\"60 °C\"",
        ),
        key(
            "loses",
            Percent,
            "Share of the power that goes through it and heats its oil.",
            "\"3 %\"",
        )
        .by(Guessed),
        key(
            "cooler",
            Name(Names::Thing),
            "The thing that cools it.",
            "\"gearbox\"",
        )
        .must_be_said(),
    ],
    free: None,
};

static SPIGOTS: TableRow = TableRow {
    name: "spigots",
    doc: "Stubs that hoses go over. `both` stands for two alike, `a` and `b`.",
    keys: &[],
    free: Some(FreeRow {
        what: "spigot",
        naming: Naming::Plain,
        form: Table(&SPIGOT),
        doc: "One spigot.",
        example: ("out", "{ od = 38.1, bead = 40.7, behind_bead = 32 }"),
    }),
};

pub(crate) static SPIGOT: TableRow = TableRow {
    name: "spigot",
    doc: "A stub that a hose goes over.",
    keys: &[
        key(
            "od",
            Length,
            "Outside diameter of the cylindrical part, behind the bead.",
            "\"38.1 ± 0.1\"",
        )
        .by(Caliper),
        key(
            "bead",
            Length,
            "Outside diameter over the bead, or over the highest barb.",
            "40.7",
        )
        .by(Caliper),
        key(
            "behind_bead",
            Length,
            "Length of the cylindrical part behind the bead.",
            "32",
        )
        .by(Caliper),
        key(
            "bead_width",
            Length,
            "Width of the bead along the spigot.",
            "4",
        )
        .by(Caliper),
        key(
            "form",
            Words(SpigotForm::LIST),
            "Plain, beaded or barbed.",
            "\"beaded\"",
        ),
        key("metal", METAL, "Of what it is made.", "\"cast iron\""),
        key("h", Height, "Height of its centre.", "330").by(WaterTube),
        aside("How far its mouth lies from the boat's centre line, and on which side."),
        along("How far its mouth lies from amidships."),
        key(
            "hidden",
            Table(&HIDDEN),
            "What can be measured while the old hose hides it.",
            "{ over_hose = \"49.4 ± 0.5\", free_hose = \"47.6 ± 0.5\", print = \"38 mm EPDM 2011\" }",
        ),
    ],
    free: None,
};

static HIDDEN: TableRow = TableRow {
    name: "hidden",
    doc: "What can be measured of a spigot while the old hose hides it.",
    keys: &[
        key(
            "over_hose",
            Length,
            "Outside diameter of the old hose where it sits on the spigot, clear of the clip.",
            "\"49.4 ± 0.5\"",
        )
        .by(Girth),
        key(
            "free_hose",
            Length,
            "Outside diameter of the same hose where it is free.",
            "\"47.6 ± 0.5\"",
        )
        .by(Girth),
        key(
            "print",
            Text,
            "What is printed on it.",
            "\"38 mm EPDM 2011\"",
        ),
    ],
    free: None,
};

static PORTS: TableRow = TableRow {
    name: "ports",
    doc: "Holes and stubs with a screw thread.",
    keys: &[],
    free: Some(FreeRow {
        what: "port",
        naming: Naming::Plain,
        form: Table(&PORT),
        doc: "One threaded port.",
        example: (
            "drain",
            "{ female_id = \"18.7 ± 0.1\", ten_pitches = \"18.1 ± 0.2\" }",
        ),
    }),
};

pub(crate) static PORT: TableRow = TableRow {
    name: "port",
    doc: "A hole or stub with a screw thread. Which thread it is follows from measuring, where the name isn't known.",
    keys: &[
        key(
            "thread",
            grammar(Grammar::Thread),
            "The thread by name, with its sex if you like.",
            "\"G1/2 F\"",
        ),
        key(
            "male_od",
            Length,
            "Largest diameter of a male thread.",
            "\"20.8 ± 0.1\"",
        )
        .by(Caliper),
        key(
            "female_id",
            Length,
            "Smallest diameter of a female thread.",
            "\"18.7 ± 0.1\"",
        )
        .by(Caliper),
        key(
            "ten_pitches",
            Length,
            "Length over ten pitches.",
            "\"18.1 ± 0.2\"",
        )
        .by(Caliper),
        key(
            "taper",
            grammar(Grammar::Taper),
            "How much the diameter changes over how much length.",
            "\"0.5 over 8\"",
        ),
        key("metal", METAL, "Of what it is made.", "\"cast iron\""),
        key("h", Height, "Height of its centre.", "40").by(WaterTube),
        key(
            "anode",
            Table(&ANODE),
            "The anode on its plug, as found. A port by the name `anode` carries one too.",
            "{ left = \"60 %\", seen = \"2026-03\", tape = false }",
        ),
    ],
    free: None,
};

static ANODE: TableRow = TableRow {
    name: "anode",
    doc: "An anode on a plug, as found.",
    keys: &[
        key(
            "left",
            Percent,
            "How much of it is left, of a new one.",
            "\"60 %\"",
        )
        .by(Guessed),
        key("seen", Text, "When that was seen.", "\"2026-03\""),
        key(
            "tape",
            Bool,
            "Whether there is tape or paste on the thread of its plug.",
            "false",
        ),
    ],
    free: None,
};

static THINGS: TableRow = TableRow {
    name: "things",
    doc: "Every fixed thing but the engine, by a name of yours.",
    keys: &[],
    free: Some(FreeRow {
        what: "thing",
        naming: Naming::Plain,
        form: Table(&THING),
        doc: "One thing.",
        example: ("gearbox", "{ kind = \"oil cooler\" }"),
    }),
};

pub(crate) static THING: TableRow = TableRow {
    name: "thing",
    doc: "A fixed thing: cooler, tank, hull fitting. Keys that don't belong to its kind are left out.",
    keys: &[
        key("kind", Words(ThingKind::LIST), "What it is. Must stand unless `like` does.", "\"oil cooler\"").must_be_said(),
        key("like", Name(Names::Thing), "Another thing that is the same part. Its sizes are taken over; heights, `aside` and `along`, depth, valve and hidden spigots are not, unless it is the thing in whose place this comes. What you type here wins.", "\"keel-fwd\"").must_be_said(),
        key("chain", grammar(Grammar::Chain), "A screwed stack, from the sea inward. Its tail is the spigot `tail`; `engaged` is the length of thread that holds a part in the one before it.", "\"stub G1-1/4 male steel + ball valve G1-1/4 F F bronze bore 30 + tail G1-1/4 M x 38 barbed bronze\""),
        key("spigots", Table(&SPIGOTS), "Its spigots.", "{ both = { od = 34.0 } }"),
        key("ports", Table(&PORTS), "Its threaded ports.", "{ anode = { thread = \"3/8 NPT F\" } }"),
        key("h", Height, "Its height.", "-230").by(WaterTube),
        ASIDE,
        ALONG,
        key("valve", Table(&VALVE), "Its hull valve as found.", "{ worked = \"2025-10\", feels = \"free\" }"),
        key("cap", Quantity(Kind::GaugePressure, NotUnder), "What is stamped on its pressure cap.", "\"10 psi\"").by(Plate),
        key("cap_h", Height, "Height of the cap's seat.", "760").by(WaterTube),
        key("volume", VOLUME, "What it holds of the circuit's water, to the brim.", "\"5.5 L\"").by(Maker),
        key("sight_glass", Bool, "Whether its level can be seen.", "true"),
        key("cold_mark", Height, "Height of the mark up to which it is filled cold.", "660").by(WaterTube),
        key("above_mark", VOLUME, ABOVE_MARK, "\"1.2 L\""),
        key("pipes", Table(&PIPES), "Keel pipes.", "{ count = 4, joined = \"series\", od = 60.3 }"),
        key("channel", Table(&CHANNEL), "The way of the water in a skin tank.", "{ width = 180, depth = 40, length = \"5.6 m\", wall = 6 }"),
        key("tubes", Table(&TUBES), "The tubes of a heat exchanger.", "{ count = 40, passes = 2, od = 8, wall = 0.7, length = 300 }"),
        key("arrangement", Words(Streams::LIST), "How the two waters of a heat exchanger run.", "\"one shell pass\""),
        key("lies", Words(Lies::LIST), "Where keel pipes or a skin tank lie: on an upright side, under a flat bottom, in a recess or behind a fin.", "\"side\""),
        key("aft_of_bow", Length, "How far the fore end of a cooler lies abaft the stem, where the water first meets the hull.", "\"3.2 m\"").by(Tape),
        key("sees_speed", Percent, "Share of the boat's speed that the water has along a cooler.", "\"60 %\"").by(Guessed),
        key("fouling", Words(Fouling::LIST), "What sits on a cooler where the water outside meets it.", "\"slime\""),
        key("drop", DropAtFlow, "What the circuit's water loses in it; of a raw-water cooler, the raw water.", "\"4 kPa @ 60 L/min\"").by(Maker),
        key("raw_drop", DropAtFlow, "What the raw water loses in the tubes of a heat exchanger.", "\"12 kPa @ 60 L/min\"").by(Maker),
        key("nozzle", Length, NOZZLE, "12").by(Caliper),
        key("ua", Quantity(Kind::HeatPerKelvin, Over), "Heat that it passes on for each kelvin between its two waters, clean.", "\"180 W/K\"").by(Maker),
        key("takes", Quantity(Kind::Power, Over), "Heat that a calorifier or a cabin heater takes when it is cold.", "\"4 kW\"").by(Maker),
        key("air", TEMPERATURE, "The air at a cabin heater.", "\"20 °C\""),
        key("works_at", Quantity(Kind::GaugePressure, Over), "The pressure that it is rated for.", "\"1 bar\"").by(Plate),
        key("gives", FlowAtSpeed, "What a pump gives, at a speed of the engine where the engine drives it.", "\"70 L/min @ 2600 rpm\"").by(Maker),
        key("curve", CURVE, "A pump's curve, at a speed of the pump itself.", A_CURVE),
        key("depth", Length, "How deep below today's waterline keel pipes or a skin tank lie.", "480").by(Tape),
        key("between", List(&Name(Names::Thing)), "The two hull fittings between which it lies outside.", "[\"keel-fwd\", \"keel-aft\"]"),
        key("tank", VOLUME, "What a calorifier holds of domestic water.", "\"40 L\"").by(Plate),
        key("coil", Table(&COIL), "The coil of a calorifier.", "{ skins = 1, top_h = 540 }"),
        key("paths", PATHS, "The ways of the water inside, where there is more than one.", "[\"a > shell > b\"]"),
        key("layout", Text, "How the inside of a second engine is arranged, as with the first.", "\"header apart\""),
        key("stat", Table(&STAT), "The thermostat of a second engine.", "{ opens = \"80 °C\" }"),
        key("isolated", Bool, "Whether a hull fitting is kept from the metal of the hull by pads, bushes and washers.", "true"),
        key("stands", TEMPERATURE, "The hottest water that a pump in the circuit stands, as its maker says.", "\"110 °C\"").by(Maker),
        key("in", Name(Names::Run), "The run in which a bleed or a drain sits.", "\"cal-out\"").must_be_said(),
    ],
    free: None,
};

static VALVE: TableRow = TableRow {
    name: "valve",
    doc: "A hull valve as found.",
    keys: &[
        key("worked", Text, "When it was last worked.", "\"2025-10\""),
        key("feels", Text, "How it feels.", "\"stiff, closes\""),
        key(
            "reach",
            Text,
            "How one gets at it.",
            "\"under sole board 4\"",
        ),
        key(
            "secs",
            Number(0.0, 86_400.0),
            "Seconds to get there and shut it.",
            "25",
        ),
        key(
            "drowned_at",
            Height,
            "Height of bilge water at which it can't be reached.",
            "-170",
        )
        .by(WaterTube),
    ],
    free: None,
};

static PIPES: TableRow = TableRow {
    name: "pipes",
    doc: "Keel pipes.",
    keys: &[
        key("count", Count, "How many.", "4"),
        key(
            "joined",
            Words(Joined::LIST),
            "One after the other, or side by side.",
            "\"series\"",
        ),
        key(
            "form",
            Words(PipeForm::LIST),
            "Their section: whole, half a pipe on the shell, or square; round where nothing is said.",
            "\"round\"",
        ),
        key("od", Length, "Outside diameter.", "60.3").by(Caliper),
        key("wall", Length, "Thickness of the wall.", "2.9").by(Caliper),
        key("length", Length, "Length of one.", "2400").by(Tape),
        key("metal", METAL, "Of what they are made.", "\"steel\""),
        key(
            "coat",
            Text,
            "What is painted on them.",
            "\"two thin coats of primer\"",
        ),
        key(
            "paint",
            Length,
            "Thickness of all that is painted on them.",
            "\"0.3 mm\"",
        )
        .by(Guessed),
    ],
    free: None,
};

static CHANNEL: TableRow = TableRow {
    name: "channel",
    doc: "The way of the water in a skin tank: a flat channel along the hull's skin, which baffles may fold.",
    keys: &[
        key(
            "width",
            Length,
            "Its width along the skin, across the flow.",
            "180",
        )
        .by(Tape),
        key("depth", Length, "Its depth from the skin inward.", "40").by(Tape),
        key(
            "length",
            Length,
            "Its length along the flow, all lanes between baffles together.",
            "\"5.6 m\"",
        )
        .by(Tape),
        key("wall", Length, "Thickness of the hull's skin.", "6").by(Caliper),
        key("metal", METAL, "Of what the skin is made.", "\"steel\""),
        key(
            "paint",
            Length,
            "Thickness of all that is painted on the skin outside.",
            "0.3",
        )
        .by(Guessed),
    ],
    free: None,
};

static TUBES: TableRow = TableRow {
    name: "tubes",
    doc: "The tubes of a heat exchanger.",
    keys: &[
        key("count", Count, "How many there are in all.", "40"),
        key(
            "passes",
            Count,
            "How often the water in them goes through from end to end.",
            "2",
        ),
        key("od", Length, "Outside diameter of one.", "8").by(Caliper),
        key("wall", Length, "Thickness of the wall.", "0.7").by(Caliper),
        key("length", Length, "Length of one.", "300").by(Tape),
        key("metal", METAL, "Of what they are made.", "\"cupro-nickel\""),
    ],
    free: None,
};

static COIL: TableRow = TableRow {
    name: "coil",
    doc: "The coil of a calorifier.",
    keys: &[
        key(
            "skins",
            Count,
            "Skins between coolant and drinking water: one or two.",
            "1",
        ),
        key("bore", Length, "Its bore.", "14").by(Caliper),
        key("top_h", Height, "Height of its top.", "540").by(WaterTube),
    ],
    free: None,
};

static RUNS: TableRow = TableRow {
    name: "runs",
    doc: "All that lies between two fixed ends, by a name of yours, in the direction of flow.",
    keys: &[],
    free: Some(FreeRow {
        what: "run",
        naming: Naming::Plain,
        form: Table(&RUN),
        doc: "One run.",
        example: (
            "hot",
            "{ from = \"engine.out\", to = \"keel-fwd\", length = 1150, way = \"hose 38 epdm\" }",
        ),
    }),
};

const FROM: KeyRow = key(
    "from",
    grammar(Grammar::End),
    "Where it begins: a thing and its spigot, or a tee of another run.",
    "\"engine.out\"",
)
.must_be_said();
const TO: KeyRow = key(
    "to",
    grammar(Grammar::End),
    "Where it ends.",
    "\"suck.tee\"",
)
.must_be_said();
const LENGTH: KeyRow = key(
    "length",
    Length,
    "Length along the run between the two spigots.",
    "1150",
)
.by(Tape);
const BENDS: KeyRow = key(
    "bends",
    grammar(Grammar::Bends),
    "Its bends in order of flow, or “none”.",
    "\"90 down, S 60 across\"",
);
const WAY: KeyRow = key(
    "way",
    grammar(Grammar::Way),
    "Its pieces in order of flow.",
    "\"hose 38 epdm + reducer 38>32 bronze + hose 32 epdm\"",
)
.may_choose();
const HIGH_AT: KeyRow = key("high_at", Height, "Height of its highest point.", "540").by(WaterTube);
const LOW_AT: KeyRow = key("low_at", Height, "Height of its lowest point.", "120").by(WaterTube);

pub(crate) static RUN: TableRow = TableRow {
    name: "run",
    doc: "All that lies between two fixed ends.",
    keys: &[
        FROM.required(),
        TO.required(),
        key(
            "mark",
            grammar(Grammar::Mark),
            "What you write on the hose with a felt pen. The tool gives it once; it never moves.",
            "\"A\"",
        )
        .must_be_said(),
        key(
            "carries",
            Words(Carries::LIST),
            "What runs through it; coolant where nothing is said.",
            "\"vent\"",
        )
        .must_be_said(),
        LENGTH,
        BENDS,
        WAY,
        HIGH_AT,
        LOW_AT,
    ],
    free: None,
};

pub(crate) static RUN_CHANGE: TableRow = TableRow {
    name: "replaced run",
    doc: "What an arrangement changes of a run; the rest stays.",
    keys: &[FROM, TO, LENGTH, BENDS, WAY, HIGH_AT, LOW_AT],
    free: None,
};

static JOINTS: TableRow = TableRow {
    name: "joints",
    doc: "What you decided or measured of single joints, by the joint's name: `hot.from`, `hot.to`, `hot.reducer.a`.",
    keys: &[],
    free: Some(FreeRow {
        what: "joint",
        naming: Naming::Dotted,
        form: Table(&JOINT),
        doc: "One joint.",
        example: ("\"hot.from\"", "{ clip = \"worm 40-60 316\", clips = 1 }"),
    }),
};

static JOINT: TableRow = TableRow {
    name: "joint",
    doc: "What you decided or measured of one joint. The sizes are those of a bought piece's end; the ends of things are measured with the thing.",
    keys: &[
        key(
            "clip",
            grammar(Grammar::Clip),
            "The clip that you decided on.",
            "\"worm 40-60 316\"",
        )
        .may_choose(),
        key("clips", Count, "How many of them.", "2").may_choose(),
        key(
            "clip_kind",
            Words(ClipWord::LIST),
            "The kind of clip that you want; its size is the tool's to choose.",
            "\"worm\"",
        )
        .may_choose(),
        key(
            "hose_bore",
            Length,
            "Bore of this very hose end or cuff, before it is pushed on.",
            "37.8",
        )
        .by(Caliper),
        key(
            "hose_over",
            Length,
            "Outside diameter of this very hose end or cuff, before it is pushed on.",
            "47.4",
        )
        .by(Girth),
        key(
            "fitted_od",
            Length,
            "Outside diameter measured round the hose when it was pushed on for trial.",
            "\"47.6 ± 0.3\"",
        )
        .by(Girth),
        key(
            "trial_fit",
            Bool,
            "Whether the hose was pushed on for trial, and went.",
            "true",
        ),
        key(
            "reused_hose",
            Bool,
            "Whether the hose end is used again.",
            "false",
        ),
        key(
            "ring_on_first",
            Bool,
            "Whether a ring clip goes on the bare spigot before the hose.",
            "true",
        ),
        key(
            "od",
            Length,
            "Outside diameter of the piece's end, behind its bead.",
            "38.1",
        )
        .by(Caliper),
        key("bead", Length, "Outside diameter over its bead.", "39.8").by(Caliper),
        key(
            "behind_bead",
            Length,
            "Length of the cylindrical part behind the bead.",
            "38",
        )
        .by(Caliper),
        key("bead_width", Length, "Width of the bead.", "4").by(Caliper),
        key(
            "form",
            Words(SpigotForm::LIST),
            "Plain, beaded or barbed.",
            "\"beaded\"",
        ),
        key(
            "metal",
            METAL,
            "Of what it is made, where the way doesn't say.",
            "\"bronze\"",
        ),
    ],
    free: None,
};

static SEEN: TableRow = TableRow {
    name: "seen",
    doc: "What you found, in your words, by the name of a run, a joint or a thing.",
    keys: &[],
    free: Some(FreeRow {
        what: "place",
        naming: Naming::Dotted,
        form: Table(&SEEN_AT),
        doc: "One place.",
        example: (
            "\"hot.from\"",
            "{ hose = \"soft for 30 mm from the end\", photo = \"hot-end.jpg\" }",
        ),
    }),
};

pub(crate) static SEEN_AT: TableRow = TableRow {
    name: "seen at one place",
    doc: "What you found at one place. Any other key is a word of yours with a text.",
    keys: &[
        key(
            "not_seen",
            Text,
            "Why it was not seen.",
            "\"behind the alternator bracket\"",
        )
        .must_be_said(),
        key(
            "photo",
            TEXTS,
            "File names in the folder `photos`.",
            "\"hot-end.jpg\"",
        )
        .must_be_said(),
        key(
            "found",
            List(&Words(Found::LIST)),
            "The state that it was found in; `good` says that you pinched it and found nothing.",
            "[\"soft ends\"]",
        ),
        key("made", Whole, "The year printed on the hose.", "2011"),
        key(
            "magnet",
            Words(Magnet::LIST),
            "What of the clip a magnet draws: band and screw of 316 draw nothing.",
            "\"screw\"",
        ),
        key(
            "decided",
            Words(Decided::LIST),
            "Whether you keep or renew it, where you have decided.",
            "\"renew\"",
        ),
    ],
    free: Some(FreeRow {
        what: "word",
        naming: Naming::Plain,
        form: Text,
        doc: "A word of yours.",
        example: ("hose", "\"soft for 30 mm from the end\""),
    }),
};

static ARRANGEMENTS: TableRow = TableRow {
    name: "arrangements",
    doc: "The ways in which the circuit is connected, by a name of yours, as differences from the file as it stands.",
    keys: &[],
    free: Some(FreeRow {
        what: "arrangement",
        naming: Naming::Plain,
        form: Table(&ARRANGEMENT),
        doc: "One arrangement.",
        example: ("after", "{ blank = [\"engine.cap\"] }"),
    }),
};

static ARRANGEMENT: TableRow = TableRow {
    name: "arrangement",
    doc: "One way in which the circuit is connected.",
    keys: &[
        key(
            "from",
            Name(Names::Arrangement),
            "The arrangement that it changes; the file as it stands where nothing is said.",
            "\"after\"",
        )
        .must_be_said(),
        key(
            "replace",
            Table(&REPLACE),
            "Things that stand in for others, and what changes of runs.",
            "{ hot = { way = \"hose 40 epdm\" } }",
        ),
        key(
            "add",
            Table(&ADD),
            "Things and runs that are new.",
            "{ bleed = { kind = \"bleed\", in = \"hot\" } }",
        ),
        key(
            "remove",
            List(&Name(Names::Either)),
            "Things and runs that are taken out.",
            "[\"keel\"]",
        ),
        key(
            "blank",
            List(&Name(Names::Blank)),
            "Spigots, caps and tees that are blanked off.",
            "[\"engine.cap\"]",
        ),
        key(
            "shut",
            List(&Name(Names::Valve)),
            "Valves that are shut.",
            "[\"keel-fwd.valve\"]",
        ),
        key(
            "tried",
            Text,
            "When she was last run so, or “never”.",
            "\"2026-05\"",
        ),
    ],
    free: None,
};

static REPLACE: TableRow = TableRow {
    name: "replace",
    doc: "By name: a thing that stands in for the old one (whole, unless it is `like` the old one), or what changes of a run.",
    keys: &[],
    free: Some(FreeRow {
        what: "thing or run",
        naming: Naming::Plain,
        form: ThingOrRun(&THING, &RUN_CHANGE),
        doc: "A thing or a run.",
        example: ("hot", "{ way = \"hose 40 epdm\" }"),
    }),
};

static ADD: TableRow = TableRow {
    name: "add",
    doc: "By name: things and runs that are new.",
    keys: &[],
    free: Some(FreeRow {
        what: "thing or run",
        naming: Naming::Plain,
        form: ThingOrRun(&THING, &RUN),
        doc: "A thing or a run.",
        example: ("bleed", "{ kind = \"bleed\", in = \"hot\" }"),
    }),
};

static STATES: TableRow = TableRow {
    name: "states",
    doc: "How the boat is being used, by a name of yours.",
    keys: &[],
    free: Some(FreeRow {
        what: "state",
        naming: Naming::Plain,
        form: Table(&STATE),
        doc: "One state.",
        example: ("cruise", "{ rpm = \"1900 rpm\", speed = \"6.5 kn\" }"),
    }),
};

static STATE: TableRow = TableRow {
    name: "state",
    doc: "One way of using the boat.",
    keys: &[
        key(
            "rpm",
            Quantity(Kind::RotationalSpeed, NotUnder),
            "Speed of the engine.",
            "\"1900 rpm\"",
        ),
        key(
            "speed",
            Quantity(Kind::Speed, NotUnder),
            "Speed through the water.",
            "\"6.5 kn\"",
        ),
        key(
            "alternator",
            CurrentAtVoltage,
            "What the alternator gives.",
            "\"70 A @ 14 V\"",
        ),
        key(
            "sea",
            Words(Season::LIST),
            "Which of the temperatures in `boat.sea`.",
            "\"summer\"",
        ),
        key(
            "power",
            Quantity(Kind::Power, NotUnder),
            "Power at the shaft, where you know it better than the propeller tells.",
            "\"12 kW\"",
        ),
        key(
            "tide",
            Quantity(Kind::Speed, NotUnder),
            "Water that runs past her when she is tied up.",
            "\"0.5 kn\"",
        ),
        key(
            "raw",
            Quantity(Kind::VolumeFlow, NotUnder),
            "Raw water that runs through.",
            "\"40 L/min\"",
        ),
        key(
            "heaters",
            Bool,
            "Whether the cabin heaters are on, taps open and fans running; left out, they are off and take nothing.",
            "true",
        ),
    ],
    free: None,
};

static READINGS: TableRow = TableRow {
    name: "readings",
    doc: "Readings of the old plumbing, by day and hour. Those after the refit belong in the logbook.",
    keys: &[],
    free: Some(FreeRow {
        what: "sitting",
        naming: Naming::Moment,
        form: Table(&SITTING),
        doc: "One sitting.",
        example: (
            "\"2025-07-19 11:40\"",
            "{ state = \"cruise\", sea = \"17 °C\", \"engine.out\" = \"82 ± 2 °C\", steady = true }",
        ),
    }),
};

static SITTING: TableRow = TableRow {
    name: "sitting",
    doc: "One sitting of readings. Any other key is a place with its temperature: a spigot, or the thermostat, the head.",
    keys: &[
        key(
            "state",
            Name(Names::State),
            "Which state she was in.",
            "\"cruise\"",
        )
        .must_be_said(),
        key("sea", TEMPERATURE, "The sea.", "\"17 °C\""),
        key("steady", Bool, "Whether nothing moved any more.", "true"),
    ],
    free: Some(FreeRow {
        what: "place",
        naming: Naming::Dotted,
        form: TEMPERATURE,
        doc: "The temperature of one place.",
        example: ("\"engine.out\"", "\"82 ± 2 °C\""),
    }),
};

static COOLANT: TableRow = TableRow {
    name: "coolant",
    doc: "What is to be poured in.",
    keys: &[
        key(
            "wanted",
            Table(&WANTED),
            "What you want in the circuit.",
            "{ kind = \"propylene, organic acid\", percent = 45 }",
        ),
        key("volume", VOLUME, "What the circuit holds.", "\"34 L\""),
        key(
            "drained",
            VOLUME,
            "What came out when it was drained.",
            "\"31.5 L\"",
        ),
        key(
            "product",
            Table(&PRODUCT),
            "What is bought for it. Left out, it is concentrate.",
            "{ percent = 100, least = 33 }",
        ),
        key(
            "inside",
            Table(&INSIDE),
            "What stays inside when it is drained.",
            "{ volume = \"2.5 L\", percent = 0, kind = \"water\" }",
        ),
        key(
            "reading",
            Table(&COOLANT_READING),
            "The old coolant, by an instrument.",
            "{ refractometer = \"-19 °C\", scale = \"ethylene\", stat_opened = true }",
        ),
    ],
    free: None,
};

static PRODUCT: TableRow = TableRow {
    name: "product",
    doc: "What is bought to be poured in.",
    keys: &[
        key(
            "percent",
            Percent,
            "Concentrate in it by volume: 100 for concentrate, 50 for a ready mix of half and half.",
            "50",
        ),
        key(
            "least",
            Percent,
            "The least share of concentrate that its maker asks for in the mix.",
            "40",
        ),
    ],
    free: None,
};

static INSIDE: TableRow = TableRow {
    name: "inside",
    doc: "What stays in the low spots, coils and block when the circuit is drained.",
    keys: &[
        key(
            "volume",
            Quantity(Kind::Volume, NotUnder),
            "How much; left out, it is what the circuit holds less what was drained.",
            "\"2.5 L\"",
        ),
        key(
            "percent",
            Percent,
            "Concentrate in it by volume: 0 for water.",
            "0",
        ),
        key("kind", Text, "Which kind.", "\"ethylene, silicate\""),
    ],
    free: None,
};

static COOLANT_READING: TableRow = TableRow {
    name: "coolant reading",
    doc: "How strong the old coolant is by an instrument.",
    keys: &[
        key(
            "refractometer",
            TEMPERATURE,
            "The freezing point that a refractometer shows.",
            "\"-19 °C\"",
        ),
        key(
            "hydrometer",
            TEMPERATURE,
            "The freezing point that a hydrometer shows.",
            "\"-18 °C\"",
        ),
        key(
            "scale",
            Text,
            "For which glycol its scale is.",
            "\"ethylene\"",
        ),
        key("at", TEMPERATURE, "How warm the sample was.", "\"20 °C\""),
        key(
            "stat_opened",
            Bool,
            "Whether the thermostat had opened since anything was poured in.",
            "true",
        ),
    ],
    free: None,
};

static WANTED: TableRow = TableRow {
    name: "wanted",
    doc: "The coolant that you want.",
    keys: &[
        key("kind", Text, "Which kind.", "\"propylene, organic acid\""),
        key("percent", Percent, "Share of concentrate by volume.", "45"),
        key(
            "stand_frost",
            TEMPERATURE,
            "The frost that it must stand.",
            "\"-15 °C\"",
        ),
    ],
    free: None,
};

static STOCK: TableRow = TableRow {
    name: "stock",
    doc: "Your own shelf, which is used before the shop.",
    keys: &[
        key(
            "clips",
            List(&Form::Grammar(Grammar::StockClip)),
            "Clips.",
            "[\"8 x worm 32-50 316 at forepeak\"]",
        ),
        key(
            "hose",
            List(&Form::Grammar(Grammar::StockHose)),
            "Hose.",
            "[\"1.8 m x 38 wired, id 38.4 od 50.2, Rmin 150 inside\"]",
        ),
        key(
            "parts",
            List(&Form::Grammar(Grammar::StockPart)),
            "Pieces of a run: all but hose.",
            "[\"2 x joiner 38 bronze\", \"1 x reducer 38>32 bronze at locker\"]",
        ),
        key(
            "aboard",
            TEXTS,
            "Spares, in your words.",
            "[\"stat 80 with gasket\"]",
        ),
    ],
    free: None,
};

static PRICES: TableRow = TableRow {
    name: "prices",
    doc: "What things cost and how they are sold, by what is bought: a clip, a hose or a piece as you write it elsewhere in the file, or any other thing by its word.",
    keys: &[],
    free: Some(FreeRow {
        what: "what is bought",
        naming: Naming::Ware,
        form: Table(&PRICE),
        doc: "One thing that is bought.",
        example: (
            "\"hose 38 epdm\"",
            "{ each = \"18.50 EUR\", per = \"m\", lengths = [\"1 m\", \"5 m\"] }",
        ),
    }),
};

static PRICE: TableRow = TableRow {
    name: "price",
    doc: "What one thing costs, and how it is sold.",
    keys: &[
        key(
            "each",
            grammar(Grammar::Price),
            "The price of one piece, one metre or one litre: see `per`.",
            "\"2.40 EUR\"",
        ),
        key(
            "per",
            Words(PricePer::LIST),
            "What the price is the price of.",
            "\"piece\"",
        ),
        key("pack", Count, "Sold only in packs of so many.", "10"),
        key(
            "days",
            Whole,
            "Days until it is delivered; 0 is over the counter.",
            "3",
        ),
        key(
            "returnable",
            Bool,
            "Whether the shop takes it back.",
            "true",
        ),
        key(
            "shop",
            Text,
            "Kind or name of the shop.",
            "\"chandler in the harbour\"",
        ),
        key(
            "lengths",
            List(&PlainLength),
            "The lengths in which a hose is sold, where it is not cut to length.",
            "[\"1 m\", \"5 m\"]",
        )
        .must_be_said(),
    ],
    free: None,
};

static JOB: TableRow = TableRow {
    name: "job",
    doc: "The job, and what may be assumed.",
    keys: &[
        key("days_off", Count, "Days that you have.", "4"),
        key(
            "year",
            Whole,
            "The year in which the job is done; ages are reckoned to it.",
            "2027",
        ),
        key(
            "sleep_aboard",
            Bool,
            "Whether somebody sleeps aboard meanwhile.",
            "true",
        ),
        key(
            "renew",
            Text,
            "What is to be renewed.",
            "\"all hose and all clips\"",
        ),
        key(
            "misfit_risk",
            Percent,
            "The risk you accept that a size bought turns out wrong.",
            "\"2 %\"",
        ),
        key("kerf", LengthOrZero, "Length lost at each cut.", "\"2 mm\""),
        key(
            "also",
            List(&Words(Renewal::LIST)),
            "What is renewed beside hose and clips.",
            "[\"stat\"]",
        ),
        key(
            "assume",
            List(&Words(Assume::LIST)),
            "The only places where a typical value may stand in, and is shown so.",
            "[\"hose wall\"]",
        ),
    ],
    free: None,
};
