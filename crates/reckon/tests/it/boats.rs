//! Small boats: one text, and edits of it by place, as the owner would make them.

use boat::{Boat, Severity};
use reckon::{Answer, Input, Memo, Set, Verdict, reckon};

/// Two runs of 38 mm hose: `dry` from the engine to the cooler, well above the water, and `wet` from
/// a valve in the hull to the cooler. All is measured, decided and on the shelf, and all of it is sound.
pub(crate) const SMALL: &str = r#"version = 1
lengths = "mm"
instruments = { caliper = 0.1, tape = 3, "water tube" = 4 }

[boat]
name = "Small"
kind = "motor, one hull"
rules = []
now = "ashore"
waterline = { laden = 30, light = -10 }
sea = { salinity = 31 }

[engine]
alarm = { at = "98 °C" }
spigots.out = { od = 38.1, bead = 39.4, behind_bead = 45, bead_width = 4, form = "beaded", metal = "steel", h = 330 }

[things.header]
kind = "header tank"
cap = "0.7 bar"
cap_h = 700

[things.hull]
kind = "hull fitting"
spigots.tail = { od = 38.2, bead = 39.4, behind_bead = 60, bead_width = 4, form = "beaded", metal = "bronze", h = -230 }

[things.cooler]
kind = "oil cooler"
spigots.a = { od = 38.1, bead = 39.4, behind_bead = 45, bead_width = 4, form = "beaded", metal = "steel", h = 200 }
spigots.b = { od = 38.1, bead = 39.4, behind_bead = 45, bead_width = 4, form = "beaded", metal = "steel", h = 180 }

[runs]
dry = { from = "engine.out", to = "cooler.a", length = 500, way = "hose 38 epdm" }
wet = { from = "hull", to = "cooler.b", length = 600, way = "hose 38 epdm" }

[joints]
"dry.from" = { clip = "worm 40-60 316", clips = 1 }
"dry.to" = { clip = "worm 40-60 316", clips = 1 }
"wet.from" = { clip = "worm 40-60 316", clips = 2 }
"wet.to" = { clip = "worm 40-60 316", clips = 1 }

[stock]
hose = ["5 m x 38 epdm, id 37.8 od 47.4, works 3 bar @ 110 °C"]

[job]
assume = ["hose wall", "bead width", "band width"]
"#;

/// The demo boat, as she is handed out.
pub(crate) const DUNLIN: &str = include_str!("../../../../boats/dunlin/boat.toml");

/// Every demo boat by name.
pub(crate) const DEMO: [(&str, &str); 3] = [
    ("dunlin", DUNLIN),
    (
        "tansley",
        include_str!("../../../../boats/tansley/boat.toml"),
    ),
    ("wenna", include_str!("../../../../boats/wenna/boat.toml")),
];

/// One edit: a place, and the TOML that is to stand there; empty to take the value out.
pub(crate) type Change<'a> = (&'a str, &'a str);

/// A text with edits made in it.
#[track_caller]
pub(crate) fn edited(text: &str, changes: &[Change]) -> String {
    changes
        .iter()
        .fold(text.to_owned(), |text, (place, value)| {
            let edited = if value.is_empty() {
                boat::remove_value(&text, place)
            } else {
                boat::set_value(&text, place, value)
            };
            edited.unwrap_or_else(|error| panic!("{place} = {value}: {error}"))
        })
}

/// A boat that reads without a stop.
#[track_caller]
pub(crate) fn read(text: &str) -> Boat {
    let (boat, _, remarks) = boat::read(text);
    let stops: Vec<&String> = remarks
        .iter()
        .filter(|remark| remark.code.severity() == Severity::Stop)
        .map(|remark| &remark.message)
        .collect();
    assert!(stops.is_empty(), "{stops:?} in\n{text}");
    boat
}

/// The whole answer for a boat.
pub(crate) fn answer(boat: &Boat, set: Set) -> Answer {
    answer_with(boat, set, &mut Memo::default())
}

pub(crate) fn answer_with(boat: &Boat, set: Set, memo: &mut Memo) -> Answer {
    let input = Input {
        boat,
        arrangement: None,
        seed: 1,
        set,
        flow: None,
        bay: None,
    };
    reckon(&input, memo)
}

/// The answer for the small boat with some edits.
#[track_caller]
pub(crate) fn small(changes: &[Change]) -> Answer {
    answer(&read(&edited(SMALL, changes)), Set::All)
}

/// The verdict of an id.
#[track_caller]
pub(crate) fn verdict<'a>(answer: &'a Answer, id: &str) -> &'a Verdict {
    answer
        .verdicts
        .iter()
        .find(|verdict| verdict.id == id)
        .unwrap_or_else(|| {
            let ids: Vec<&String> = answer.verdicts.iter().map(|verdict| &verdict.id).collect();
            panic!("no verdict {id} among {ids:#?}")
        })
}

/// Whether the working says something, in any of its steps or its limit.
pub(crate) fn works_out(verdict: &Verdict, text: &str) -> bool {
    let working = &verdict.working;
    let steps = working.steps.iter().flat_map(|step| {
        [
            step.formula.as_str(),
            step.filled.metric.as_str(),
            step.result.metric.as_str(),
        ]
    });
    steps
        .chain([working.limit.metric.as_str()])
        .any(|said| said.contains(text))
}
