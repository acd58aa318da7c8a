//! Takes the survey by tape out of the boat: places, readings, sides.

use boat::{Boat, KeyPath, SideWord, Spot, SpotPart, Told, key_text, spigot_path};
use quantity::{Instrument, Measured, Quantity};

use crate::stages::survey;
use crate::stages::survey::tape::{Read, Reading, SideFact, SideKind, SpotFact, TapeInput};
use crate::stages::types::Missing;

/// What the survey by tape reads; empty where the file has none.
pub(crate) fn of(boat: &Boat) -> TapeInput {
    let mut gather = Gather {
        boat,
        input: TapeInput::default(),
    };
    let survey = &boat.survey;
    for pin in &survey.pins {
        gather.spot(&Spot {
            first: pin.name.clone(),
            ..Spot::default()
        });
    }
    gather.input.pins = gather.input.spots.len();
    for tape in &survey.tapes {
        let (from, to) = (gather.spot(&tape.from), gather.spot(&tape.to));
        let title = format!("the tape from {} to {}", tape.from.text(), tape.to.text());
        let (place, how) = (tape.path(), "Tape it again.");
        gather.read(&tape.length, Instrument::Tape, title, place, how, |m| {
            Read::Distance(from, to, m)
        });
    }
    for dowel in &survey.dowels {
        let end = Spot {
            part: SpotPart::Dowel,
            ..dowel.spot.clone()
        };
        let (mouth, far) = (gather.spot(&dowel.spot), gather.spot(&end));
        let title = format!("the dowel in {}", dowel.spot.text());
        let place = under("survey.dowels", &dowel.key);
        let how = "Measure how far the dowel stands out, from the mouth to its far end.";
        gather.read(&dowel.length, Instrument::Dowel, title, place, how, |m| {
            Read::Dowel(mouth, far, m)
        });
    }
    for slope in &survey.slopes {
        let (from, to) = (gather.spot(&slope.from), gather.spot(&slope.to));
        let title = format!(
            "the slope from {} to {}",
            slope.from.text(),
            slope.to.text()
        );
        let place = under("survey.slopes", &slope.key);
        let how = "Lay the inclinometer on a straight lath between the two and read it again.";
        let level = Instrument::SpiritLevel;
        gather.read(&slope.rises, level, title, place, how, |m| {
            Read::Slope(from, to, m)
        });
    }
    gather.heights();
    for side in &survey.sides {
        let Told::Given(word) = &side.says else {
            continue;
        };
        let spot = gather.spot(&side.spot);
        let of: Vec<usize> = word.spots().iter().map(|spot| gather.spot(spot)).collect();
        let names: Vec<String> = word.spots().iter().map(Spot::text).collect();
        let (word, text) = match word {
            SideWord::Left(_) => (SideKind::Left, "left of"),
            SideWord::Right(_) => (SideKind::Right, "right of"),
            SideWord::Clockwise(_) => (SideKind::Clockwise, "so that it sees clockwise"),
            SideWord::Anticlockwise(_) => {
                (SideKind::Anticlockwise, "so that it sees anticlockwise")
            }
        };
        gather.input.sides.push(SideFact {
            spot,
            text: format!("{text} {}", names.join(" ")),
            word,
            of,
            place: side.path(),
        });
    }
    // A file that only names its pins has begun no survey yet.
    if survey.tapes.is_empty() {
        return TapeInput::default();
    }
    gather.input
}

fn under(table: &str, key: &str) -> KeyPath {
    format!("{table}.{}", key_text(key))
}

struct Gather<'a> {
    boat: &'a Boat,
    input: TapeInput,
}

impl Gather<'_> {
    /// The number of a place, which is added where it is new.
    fn spot(&mut self, spot: &Spot) -> usize {
        let name = spot.text();
        if let Some(at) = self.input.spots.iter().position(|known| known.name == name) {
            return at;
        }
        let fact = match &spot.second {
            None => SpotFact {
                title: format!("pin {name}"),
                part: None,
                of: name.clone(),
                place: under("survey.pins", &spot.first),
                name,
            },
            Some(second) => SpotFact {
                title: format!("{} {second}", spot.first),
                part: Some(spot.part),
                of: format!("{}.{second}", spot.first),
                place: spigot_path(&spot.first, second),
                name,
            },
        };
        self.input.spots.push(fact);
        self.input.spots.len() - 1
    }

    fn read<Q: Quantity>(
        &mut self,
        told: &Told<quantity::Reading<Q>>,
        instrument: Instrument,
        title: String,
        place: KeyPath,
        how: &str,
        read: impl Fn(Measured<Q>) -> Read,
    ) {
        let measured = match told {
            Told::Given(reading) => reading.measured(&self.boat.instruments, instrument),
            // What was left out or could not be reached is one measurement less, and no fault.
            Told::LeftOut | Told::Unknown | Told::Choose => return,
            Told::Two(..) => None,
        };
        match measured {
            Some(measured) => self.input.readings.push(Reading {
                read: read(measured),
                title,
                place,
            }),
            None => {
                let missing: Option<Missing> =
                    survey::known(told, &place, how, &self.boat.instruments).err();
                self.input
                    .unread
                    .extend(missing.map(|missing| (title, missing)));
            }
        }
    }

    /// Heights of pins, of mouths by their own `h`, and of what else was measured.
    fn heights(&mut self) {
        let boat = self.boat;
        let how = "Measure its height against the waterline with a water-filled tube.";
        for (at, pin) in boat.survey.pins.iter().enumerate() {
            let title = format!("the height of {}", pin.name);
            let place = format!("{}.h", pin.path());
            let tube = Instrument::WaterTube;
            self.read(&pin.height, tube, title, place, how, |m| {
                Read::Height(at, m)
            });
        }
        let own: Vec<String> = boat.survey.heights.iter().map(|h| h.spot.text()).collect();
        for at in self.input.pins..self.input.spots.len() {
            let fact = self.input.spots[at].clone();
            if fact.part != Some(SpotPart::Mouth) || own.contains(&fact.name) {
                continue;
            }
            let Some((thing, spigot)) = fact.of.split_once('.') else {
                continue;
            };
            let spigot = boat.thing(thing).and_then(|thing| thing.spigot(spigot));
            // The height of a whole thing is not that of its mouth.
            if let Some(spigot) = spigot {
                let title = format!("the height of {}", fact.name);
                let place = format!("{}.h", fact.place);
                let tube = Instrument::WaterTube;
                self.read(&spigot.height, tube, title, place, how, |m| {
                    Read::Height(at, m)
                });
            }
        }
        for note in &boat.survey.heights {
            let at = self.spot(&note.spot);
            let title = format!("the height of {}", note.spot.text());
            let place = under("survey.heights", &note.key);
            let tube = Instrument::WaterTube;
            self.read(&note.length, tube, title, place, how, |m| {
                Read::Height(at, m)
            });
        }
    }
}
