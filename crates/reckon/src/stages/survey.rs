//! Survey: what was written down becomes values that surely lie between, or says why it is not known.

pub(crate) mod beside;
mod cause;
mod place;
mod side;
mod slip;
pub mod tape;

use boat::{Boat, Hidden, HoseBuild, JointNote, KeyPath, Spigot, StockHose, Told, instrument_of};
use quantity::{Instrument, Instruments, Length, Measured, Origin, Quantity, Reading};
use reference::hose::widest_bore_limits;

use crate::say;
use crate::solve::chance::Spread;
use crate::solve::fitted::hidden_spigot;
use crate::stages::types::{Known, Missing, ShelfHose, SpigotFacts, Value, hose_kind};
use crate::verdict::{Settles, Words};

/// A value of the file as one that surely lies between; `how` says what to measure, with what.
pub fn known<Q: Quantity>(
    told: &Told<Reading<Q>>,
    place: &str,
    how: &str,
    instruments: &Instruments,
) -> Known<Q> {
    let settles = || Settles {
        place: place.to_owned(),
        how: how.to_owned(),
    };
    let missing = |why: &str| {
        Err(Missing {
            why: why.into(),
            settles: settles(),
        })
    };
    match told {
        Told::Given(reading) => {
            let usual = instrument_of(place).unwrap_or(Instrument::Maker);
            match reading.measured(instruments, usual) {
                Some(measured) => {
                    let from = match measured.origin {
                        Origin::Read(instrument) => instrument.name().to_owned(),
                        other => other.word().to_owned(),
                    };
                    Ok(Value {
                        measured,
                        from,
                        place: Some(place.to_owned()),
                        settles: settles(),
                    })
                }
                None => missing("nothing says how far off it may be; write it with a ±"),
            }
        }
        Told::LeftOut => missing("not measured yet"),
        Told::Unknown => missing("marked “?” in the file"),
        Told::Choose => missing("left to the tool, which can't choose it"),
        Told::Two(one, other) => {
            let why = Words::of(|system| {
                let show = |reading: &Reading<Q>| quantity::show(reading.value, None, system);
                format!("two readings differ, {} and {}", show(one), show(other))
            });
            let how = format!("Settle which reading stands and write that one alone. {how}");
            Err(Missing {
                why,
                settles: Settles {
                    place: place.to_owned(),
                    how,
                },
            })
        }
    }
}

/// A spigot with all that is known of it. `name` is for people; `height` is where to look for a
/// height that the spigot itself does not have.
pub fn spigot(
    spigot: &Spigot,
    name: &str,
    place: &str,
    height: (&Told<Reading<Length>>, &str),
    instruments: &Instruments,
) -> SpigotFacts {
    let at = |key: &str| -> KeyPath { format!("{place}.{key}") };
    let mut facts = SpigotFacts {
        name: name.to_owned(),
        place: place.to_owned(),
        od: known(
            &spigot.od,
            &at("od"),
            "Measure its outside diameter behind the bead with a caliper.",
            instruments,
        ),
        bead: known(
            &spigot.bead,
            &at("bead"),
            "Measure over the bead with a caliper.",
            instruments,
        ),
        behind_bead: known(
            &spigot.behind_bead,
            &at("behind_bead"),
            "Measure the straight length behind the bead with the caliper's depth rod.",
            instruments,
        ),
        bead_width: known(
            &spigot.bead_width,
            &at("bead_width"),
            "Measure the width of the bead with a caliper.",
            instruments,
        ),
        form: spigot.form.given().copied(),
        metal: spigot.metal.given().copied(),
        height: known(
            &spigot.height,
            &at("h"),
            "Measure its height against the waterline with a water-filled tube.",
            instruments,
        ),
        inferred: None,
    };
    if spigot.height.is_left_out() && !height.0.is_left_out() {
        facts.height = known(
            height.0,
            height.1,
            "Measure its height against the waterline with a water-filled tube.",
            instruments,
        );
    }
    if let (Some(hidden), Err(missing)) = (&spigot.hidden, &mut facts.od) {
        missing.why = "hidden under its old hose".into();
        missing.settles.how = "Take the old hose off and measure the spigot with a caliper; its parts wait until then.".into();
        facts.inferred = inferred(hidden, &at("hidden"), instruments);
    }
    facts
}

/// What a hidden spigot can be, by its hose: rubber keeps its volume.
fn inferred(hidden: &Hidden, place: &str, instruments: &Instruments) -> Option<Words> {
    let read =
        |told, key: &str| known::<Length>(told, &format!("{place}.{key}"), "", instruments).ok();
    let over = read(&hidden.over_hose, "over_hose")?;
    let free = read(&hidden.free_hose, "free_hose")?;
    let bore = widest_bore_limits(hidden.print_bore?).ok()?;
    let spread = |low: Length, high: Length| Spread {
        low: low.si(),
        high: high.si(),
    };
    let spigot = hidden_spigot(
        spread(over.measured.low, over.measured.high),
        spread(free.measured.low, free.measured.high),
        spread(bore.value.low, bore.value.high),
    )?;
    Some(Words::of(|system| {
        format!(
            "By its old hose it lies somewhere in {}.",
            say::mm_range(spigot.low, spigot.high, system)
        )
    }))
}

/// The male end of a bought piece, as measured in `[joints]`.
pub fn piece_end(
    note: Option<&JointNote>,
    name: &str,
    place: &str,
    instruments: &Instruments,
) -> SpigotFacts {
    let nothing = Spigot::default();
    let own = note.map_or(&nothing, |note| &note.spigot);
    spigot(own, name, place, (&Told::LeftOut, ""), instruments)
}

/// A hose on the owner's shelf.
pub fn shelf_hose(hose: &StockHose, index: usize, instruments: &Instruments) -> ShelfHose {
    let place = format!("stock.hose[{index}]");
    let value = |reading: &Option<Reading<Length>>| {
        let measured = reading
            .as_ref()?
            .measured(instruments, Instrument::Caliper)?;
        let from = match measured.origin {
            Origin::Read(instrument) => instrument.name(),
            other => other.word(),
        };
        let how = "Measure the hose on your shelf once more, with a caliper.".to_owned();
        Some(Value {
            measured,
            from: format!("{from}, your shelf"),
            place: Some(place.clone()),
            settles: Settles {
                place: place.clone(),
                how,
            },
        })
    };
    let works_at = hose.works_at.as_ref().and_then(|(pressure, at)| {
        let pressure: Measured<_> = pressure.measured(instruments, Instrument::Maker)?;
        Some((
            pressure,
            at.as_ref()
                .and_then(|at| at.measured(instruments, Instrument::Maker)),
        ))
    });
    ShelfHose {
        size: hose.size,
        length: hose.length,
        build: hose.build.map(|build: HoseBuild| hose_kind(build)),
        bore: value(&hose.id),
        over: value(&hose.od),
        place: place.clone(),
        works_at,
    }
}

/// All hoses on the owner's shelf.
pub fn shelf(boat: &Boat) -> Vec<ShelfHose> {
    boat.stock
        .hose
        .iter()
        .enumerate()
        .map(|(i, hose)| shelf_hose(hose, i, &boat.instruments))
        .collect()
}
