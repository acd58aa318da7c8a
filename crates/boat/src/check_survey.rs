//! Whether the survey by tape speaks of places that there are, and of each tape once.

use crate::check::due;
use crate::model::{Boat, Spot, SpotPart};
use crate::places::joined;
use crate::remark::Code;
use crate::walk::Walk;

/// Adds remarks, and gives each place of a thing with one spigot that spigot's name.
pub(crate) fn survey(walk: &mut Walk, boat: &mut Boat) {
    let mut survey = std::mem::take(&mut boat.survey);
    for pin in &survey.pins {
        if boat.thing(&pin.name).is_some() {
            let place = pin.path();
            let span = walk.places.key_span(&place).unwrap_or_default();
            let message = format!(
                "“{}” names a thing already; a pin needs a name of its own",
                pin.name
            );
            walk.remark(Code::NameTwice, span, &place, message, None);
        }
    }
    let pins: Vec<String> = survey.pins.iter().map(|pin| pin.name.clone()).collect();
    let settle = |walk: &mut Walk, spot: &mut Spot, place: &str| {
        one(walk, boat, &pins, "pin or thing", spot, place);
    };
    for tape in &mut survey.tapes {
        let place = tape.path();
        settle(walk, &mut tape.from, &place);
        settle(walk, &mut tape.to, &place);
    }
    for slope in &mut survey.slopes {
        let place = joined("survey.slopes", &slope.key);
        settle(walk, &mut slope.from, &place);
        settle(walk, &mut slope.to, &place);
    }
    for (table, notes) in [
        ("survey.dowels", &mut survey.dowels),
        ("survey.heights", &mut survey.heights),
    ] {
        for note in notes {
            settle(walk, &mut note.spot, &joined(table, &note.key));
        }
    }
    for side in &mut survey.sides {
        let place = side.path();
        settle(walk, &mut side.spot, &place);
        if let crate::model::Told::Given(word) = &mut side.says {
            for spot in word.spots_mut() {
                settle(walk, spot, &place);
            }
        }
    }
    for (i, tape) in survey.tapes.iter().enumerate() {
        let again = survey.tapes[..i].iter().find(|other| {
            (&other.from, &other.to) == (&tape.from, &tape.to)
                || (&other.from, &other.to) == (&tape.to, &tape.from)
        });
        if let Some(other) = again {
            let place = tape.path();
            let span = walk.places.key_span(&place).unwrap_or_default();
            let message = format!(
                "“{}” is the tape “{}” once more; keep the one that you trust",
                tape.key, other.key
            );
            walk.remark(Code::MeasuredTwice, span, &place, message, None);
        }
    }
    boat.survey = survey;
}

/// Which places are known where one is named outside the survey.
#[derive(Clone, Copy)]
pub(crate) enum Known {
    /// Mouths of spigots.
    Spigots,
    /// Pins, and mouths of spigots.
    PinsAndSpigots,
}

/// A place that the bay names: remarked on where there is none, and the only spigot of a thing named.
pub(crate) fn settle(walk: &mut Walk, boat: &Boat, known: Known, spot: &mut Spot, place: &str) {
    let (pins, what): (Vec<String>, &str) = match known {
        Known::Spigots => (Vec::new(), "thing"),
        Known::PinsAndSpigots => {
            let pins = boat.survey.pins.iter().map(|pin| pin.name.clone());
            (pins.collect(), "pin or thing")
        }
    };
    if spot.part != SpotPart::Mouth {
        let message = format!(
            "“{}” is no mouth; that of a spigot is due here",
            spot.text()
        );
        walk.remark_at(Code::UnknownReference, place, message);
        return;
    }
    one(walk, boat, &pins, what, spot, place);
}

/// One place: a pin, or a spigot of a thing.
fn one(walk: &mut Walk, boat: &Boat, pins: &[String], what: &str, spot: &mut Spot, place: &str) {
    let is_pin = pins.contains(&spot.first);
    if is_pin && spot.second.is_none() && spot.part == SpotPart::Mouth {
        return;
    }
    let span = walk.places.key_span(place).unwrap_or_default();
    if is_pin {
        let message = format!("{} is a pin: it has no spigot and no dowel", spot.first);
        walk.remark(Code::UnknownReference, span, place, message, None);
        return;
    }
    let Some(thing) = boat.thing(&spot.first) else {
        let things = boat.things.iter().map(|thing| thing.key.as_str());
        let known = pins.iter().map(String::as_str).chain(things).collect();
        due(walk, place, what, &spot.first, known);
        return;
    };
    let spigots: Vec<&str> = thing.spigots.iter().map(|s| s.name.as_str()).collect();
    match (&spot.second, spigots.as_slice()) {
        (Some(name), _) => due(
            walk,
            place,
            &format!("spigot of {}", spot.first),
            name,
            spigots,
        ),
        (None, [only]) => spot.second = Some((*only).to_owned()),
        (None, []) => {
            let message = format!("{} has no spigot yet that a tape could go to", spot.first);
            walk.remark(Code::NoSpigot, span, place, message, None);
        }
        (None, several) => {
            let message = format!("{} has several spigots; which one?", spot.first);
            let named: Vec<String> = several
                .iter()
                .map(|spigot| format!("{}.{spigot}", spot.first))
                .collect();
            let expected = crate::words::listed(named.iter().map(String::as_str), "or");
            walk.remark(Code::SeveralSpigots, span, place, message, Some(expected));
        }
    }
}
