//! The tables of the survey by tape.

use quantity::Instrument::WaterTube;
use quantity::Kind;

use super::Form::{Height, Length, Quantity, Table, Text};
use super::Sign::Any;
use super::{Form, FreeRow, Grammar, Naming, TableRow, key};

/// `[survey]`.
pub(super) static SURVEY: TableRow = TableRow {
    name: "survey",
    doc: "Where the spigots are, by tape from datum pins. Without it nothing but routes is missing.",
    keys: &[
        key(
            "pins",
            Table(&PINS),
            "Datum pins: four or more marks that stay put.",
            "{ P1 = { h = 120, on = \"engine bearer, port, forward\" } }",
        ),
        key(
            "tapes",
            Table(&TAPES),
            "Tapes, straight from a place to another.",
            "{ \"P1 P2\" = 1240 }",
        ),
        key(
            "dowels",
            Table(&DOWELS),
            "How far a dowel stands out of its spigot, from the mouth to its far end.",
            "{ \"engine.out\" = 400 }",
        ),
        key(
            "heights",
            Table(&HEIGHTS),
            "Heights of places that have no `h` of their own.",
            "{ \"engine.out dowel\" = 380 }",
        ),
        key(
            "slopes",
            Table(&SLOPES),
            "How the line from a place to another rises, by inclinometer.",
            "{ \"P1 P2\" = \"2.5°\" }",
        ),
        key(
            "side",
            Table(&SIDES),
            "On which side a place lies, where tapes alone can't tell.",
            "{ P3 = \"left of P1 P2\" }",
        ),
    ],
    free: None,
};

static PINS: TableRow = TableRow {
    name: "pins",
    doc: "Datum pins, by a name of yours. The first is where x and y begin, the second shows where x points.",
    keys: &[],
    free: Some(FreeRow {
        what: "pin",
        naming: Naming::Plain,
        form: Table(&PIN),
        doc: "One pin.",
        example: ("P4", "{ h = 415, on = \"frame 7, starboard\" }"),
    }),
};

static PIN: TableRow = TableRow {
    name: "pin",
    doc: "A mark that stays put: a centre punch, a screw head, a cross in paint.",
    keys: &[
        key("h", Height, "Its height.", "120").by(WaterTube),
        key(
            "on",
            Text,
            "On what it sits, so that you find it again.",
            "\"engine bearer, port, forward\"",
        ),
    ],
    free: None,
};

static TAPES: TableRow = TableRow {
    name: "tapes",
    doc: "Tapes, by their two ends with a space between. Read with a tape where nothing is said.",
    keys: &[],
    free: Some(FreeRow {
        what: "tape",
        naming: Naming::Tape,
        form: Length,
        doc: "One tape.",
        example: ("\"P1 engine.out\"", "812"),
    }),
};

static DOWELS: TableRow = TableRow {
    name: "dowels",
    doc: "How far dowels stand out, by spigot.",
    keys: &[],
    free: Some(FreeRow {
        what: "spigot",
        naming: Naming::Spot,
        form: Length,
        doc: "One dowel, read as an instrument of that name where nothing is said.",
        example: ("\"engine.out\"", "400"),
    }),
};

static HEIGHTS: TableRow = TableRow {
    name: "heights",
    doc: "Heights by place: the far end of a dowel, the foot of a stub. Read with a water tube where nothing is said.",
    keys: &[],
    free: Some(FreeRow {
        what: "place",
        naming: Naming::Spot,
        form: Height,
        doc: "One height.",
        example: ("\"engine.out dowel\"", "380"),
    }),
};

static SLOPES: TableRow = TableRow {
    name: "slopes",
    doc: "Slopes, by the two ends of the line; over 0 where the second is the higher. Read with a spirit level where nothing is said.",
    keys: &[],
    free: Some(FreeRow {
        what: "line",
        naming: Naming::Tape,
        form: Quantity(Kind::Angle, Any),
        doc: "One slope.",
        example: ("\"P1 P2\"", "\"2.5°\""),
    }),
};

static SIDES: TableRow = TableRow {
    name: "side",
    doc: "On which side places lie.",
    keys: &[],
    free: Some(FreeRow {
        what: "place",
        naming: Naming::Spot,
        form: Form::Grammar(Grammar::Side),
        doc: "One side.",
        example: ("P3", "\"left of P1 P2\""),
    }),
};
