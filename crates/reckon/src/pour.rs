//! What the filling reads of the boat, and the same from a few numbers without one.

use boat::{Arranged, Coolant, Thing, ThingKind, Told};
use quantity::{
    GaugePressure, Instrument, Instruments, Measured, Origin, Quantity, Ratio, Reading,
    Temperature, Volume, show,
};
use reference::media::{Strength, VolumeFraction, strength_for};

use crate::facts::serves;
use crate::stages::fill::{self, FillInput, FillOutput, KindFacts, Lows, ReadingFacts, Tester};
use crate::stages::survey;
use crate::stages::types::{Known, Missing, Subject, Value};
use crate::verdict::{Settles, Words};

/// What to measure where the volume is not known.
pub(crate) const METER: &str = "Meter what runs out when she is drained and what goes in when she is filled, in a bucket with litre marks.";

fn settles(place: &str, how: &str) -> Settles {
    Settles {
        place: place.to_owned(),
        how: how.to_owned(),
    }
}

fn missing(why: &str, place: &str, how: &str) -> Missing {
    Missing {
        why: why.into(),
        settles: settles(place, how),
    }
}

/// How it is metered what runs out.
const DRAINED: &str =
    "Meter what runs out when she is drained and write it as `drained`; what stays is the rest.";

/// What the owner metered and typed without an instrument is his own reading, and no word of a maker.
fn owners<Q: Quantity>(told: &Told<Reading<Q>>, known: Known<Q>) -> Known<Q> {
    let named = told
        .given()
        .is_some_and(|reading| reading.instrument.is_some());
    known.map(|mut value| {
        if !named && value.from == Instrument::Maker.name() {
            value.from = "owner's reading".into();
        }
        value
    })
}

/// Whether the file says anything of coolant.
pub(crate) fn said(coolant: &Coolant) -> bool {
    let Coolant {
        kind,
        percent,
        stand_frost,
        volume,
        drained,
        product,
        inside,
        reading,
    } = coolant;
    !(kind.is_left_out()
        && percent.is_left_out()
        && stand_frost.is_left_out()
        && volume.is_left_out()
        && drained.is_left_out()
        && *product == boat::Product::default()
        && *inside == boat::Inside::default()
        && *reading == boat::CoolantReading::default())
}

/// The filling of a boat, with what the low spots of her hoses hold; `None` where her file says nothing of coolant.
pub(crate) fn of_boat(arranged: &Arranged, lows: Option<Lows>) -> Option<FillOutput> {
    said(&arranged.boat.coolant).then(|| {
        fill::fill(&FillInput {
            lows,
            ..input(arranged)
        })
    })
}

pub(crate) fn input(arranged: &Arranged) -> FillInput {
    let boat = &arranged.boat;
    let (coolant, instruments) = (&boat.coolant, &boat.instruments);
    let serves = serves(arranged);
    let volume = owners(
        &coolant.volume,
        survey::known(&coolant.volume, "coolant.volume", METER, instruments),
    );
    let kind = text(
        &coolant.kind,
        "coolant.wanted.kind",
        "Write which glycol and which family of inhibitor: `propylene, organic acid`.",
    );
    let inside_kind = text(
        &coolant.inside.kind,
        "coolant.inside.kind",
        "Find out what was poured in last and write it: `ethylene, silicate`, or `water` where she was flushed.",
    );
    let reading = reading(coolant, instruments);
    FillInput {
        subject: Subject {
            key: "coolant".into(),
            title: "coolant".into(),
            place: "coolant".into(),
        },
        wanted: decision(
            &coolant.percent,
            "coolant.wanted.percent",
            "Decide on the share by volume and write it: `percent = 45`.",
        ),
        frost: Some(survey::known(
            &coolant.stand_frost,
            "coolant.wanted.stand_frost",
            "Write the coldest that she may lie in: `stand_frost = \"-15 °C\"`.",
            instruments,
        )),
        wrong: ran_out(coolant, &volume, instruments),
        inside: inside(coolant, &volume, instruments),
        lows: None,
        inside_share: inside_share(coolant, &inside_kind, reading.as_ref(), instruments),
        product: survey::known(
            &coolant.product.percent,
            "coolant.product.percent",
            "",
            instruments,
        )
        .ok(),
        least: survey::known(
            &coolant.product.least,
            "coolant.product.least",
            "",
            instruments,
        )
        .ok(),
        room: room(arranged, instruments),
        hottest: serves.alarm.ok(),
        cap: serves.cap.ok(),
        kind,
        inside_kind,
        volume,
        reading,
    }
}

/// A text of the file as what it says of a kind.
fn text(told: &Told<String>, place: &str, how: &str) -> Result<KindFacts, Missing> {
    match told {
        Told::Given(text) => Ok(KindFacts::of(text)),
        Told::Unknown => Err(missing("marked “?” in the file", place, how)),
        _ => Err(missing("not written", place, how)),
    }
}

/// A share that the owner decided on.
fn decision(told: &Told<Reading<Ratio>>, place: &str, how: &str) -> Result<Ratio, Missing> {
    match told {
        Told::Given(reading) => Ok(reading.value),
        Told::Unknown => Err(missing("marked “?” in the file", place, how)),
        _ => Err(missing("not written", place, how)),
    }
}

/// What stays inside: as written, else what the circuit holds less what was drained.
fn inside(coolant: &Coolant, volume: &Known<Volume>, instruments: &Instruments) -> Known<Volume> {
    let how = DRAINED;
    let known = owners(
        &coolant.inside.volume,
        survey::known(
            &coolant.inside.volume,
            "coolant.inside.volume",
            how,
            instruments,
        ),
    );
    if known.is_ok() || !coolant.inside.volume.is_left_out() {
        return known;
    }
    let drained = survey::known(&coolant.drained, "coolant.drained", METER, instruments).map_err(
        |missing| Missing {
            settles: settles("coolant.drained", how),
            ..missing
        },
    )?;
    let volume = volume.as_ref().map_err(Clone::clone)?;
    if let Some(wrong) = more_out(volume, &drained) {
        return Err(wrong);
    }
    let (all, out) = (&volume.measured, &drained.measured);
    let left = |all: Volume, out: Volume| Volume::of_si((all - out).si().max(0.0));
    let (low, value, high) = (
        left(all.low, out.high),
        left(all.value, out.value),
        left(all.high, out.low),
    );
    match Measured::new(low, value, high, Origin::Computed) {
        Some(measured) => Ok(Value {
            measured,
            from: "computed".into(),
            place: Some("coolant.drained".into()),
            settles: settles("coolant.drained", how),
        }),
        None => Err(missing(
            "not clear from volume and drained",
            "coolant.drained",
            how,
        )),
    }
}

/// Why more can't have run out than she holds.
fn more_out(volume: &Value<Volume>, drained: &Value<Volume>) -> Option<Missing> {
    let (all, out) = (volume.measured.value, drained.measured.value);
    (out > all).then(|| Missing {
        why: Words::of(|system| {
            format!(
                "{} ran out of a circuit of {}: one of the two is wrong",
                show(out, None, system),
                show(all, None, system)
            )
        }),
        settles: settles(
            "coolant.drained",
            "Meter once more what runs out and what goes in, in a bucket with litre marks, and mend `drained` or `volume`.",
        ),
    })
}

/// The same as the file has it.
fn ran_out(
    coolant: &Coolant,
    volume: &Known<Volume>,
    instruments: &Instruments,
) -> Option<Missing> {
    let drained = survey::known(&coolant.drained, "coolant.drained", DRAINED, instruments).ok()?;
    more_out(volume.as_ref().ok()?, &drained)
}

/// The strength of what stays: as written, 0 for water, else by the reading of the old coolant.
fn inside_share(
    coolant: &Coolant,
    kind: &Result<KindFacts, Missing>,
    reading: Option<&ReadingFacts>,
    instruments: &Instruments,
) -> Known<Ratio> {
    let place = "coolant.inside.percent";
    let how = "Take a sample of what is inside once the thermostat has opened, read it with a refractometer, and write the share: `percent = 40`, 0 for water.";
    let known = owners(
        &coolant.inside.percent,
        survey::known(&coolant.inside.percent, place, how, instruments),
    );
    if known.is_ok() || !coolant.inside.percent.is_left_out() {
        return known;
    }
    let value = |measured, from: &str| Value {
        measured,
        from: from.into(),
        place: None,
        settles: settles(place, how),
    };
    if kind.as_ref().is_ok_and(|kind| kind.water) {
        let water = Measured::exact(Ratio::of(0.0), Origin::Computed);
        return Ok(value(water, "water"));
    }
    // The reading counts where the sample was good and the scale is that of the glycol inside.
    let by_reading = || {
        let reading = reading.filter(|reading| reading.stat_opened == Ok(true))?;
        let (shows, scale) = (reading.shows.as_ref().ok()?, *reading.scale.as_ref().ok()?);
        let inside = kind.as_ref().ok()?.glycol;
        let share = |at: Temperature| {
            let share = strength_for::<VolumeFraction>(scale, at).ok()?;
            // An instrument tells whole per cent at best.
            Ratio::from_si((share.value.share() * 100.0).round() / 100.0)
        };
        let measured = Measured::new(
            share(shows.measured.high)?,
            share(shows.measured.value)?,
            share(shows.measured.low)?,
            Origin::Computed,
        )?;
        (inside == Some(scale)).then(|| value(measured, reading.tester.word()))
    };
    by_reading().ok_or_else(|| missing("not measured yet", place, how))
}

fn reading(coolant: &Coolant, instruments: &Instruments) -> Option<ReadingFacts> {
    let own = &coolant.reading;
    let (tester, told, key) = if own.refractometer.is_left_out() {
        (Tester::Hydrometer, &own.hydrometer, "hydrometer")
    } else {
        (Tester::Refractometer, &own.refractometer, "refractometer")
    };
    if told.is_left_out() {
        return None;
    }
    let scale_how = "Read on the instrument for which glycol its scale is and write it: `scale = \"ethylene\"`.";
    let scale = text(&own.scale, "coolant.reading.scale", scale_how).and_then(|scale| {
        scale
            .glycol
            .ok_or_else(|| missing("says no glycol", "coolant.reading.scale", scale_how))
    });
    let opened = settles(
        "coolant.reading.stat_opened",
        "Write whether the thermostat had opened since anything was poured in; if not, take another sample after it has.",
    );
    Some(ReadingFacts {
        tester,
        shows: owners(
            told,
            survey::known(
                told,
                &format!("coolant.reading.{key}"),
                "Read the old coolant once more.",
                instruments,
            ),
        ),
        scale,
        at: owners(
            &own.at,
            survey::known(&own.at, "coolant.reading.at", "", instruments),
        )
        .ok(),
        stat_opened: own.stat_opened.given().copied().ok_or(opened),
    })
}

/// Room over the cold mark of the header; `None` where she has no header.
fn room(arranged: &Arranged, instruments: &Instruments) -> Option<Known<Volume>> {
    let how = "With the engine cold, fill to the cold mark, pour water out of a measuring jug up to the cap's seat, note how much, and take it out again.";
    let things = &arranged.boat.things;
    let apart = things
        .iter()
        .find(|thing| thing.kind.given() == Some(&ThingKind::HeaderTank));
    if let Some(Thing { key, detail, .. }) = apart {
        let place = format!("{}.above_mark", arranged.thing_place(key));
        return Some(owners(
            &detail.above_mark,
            survey::known(&detail.above_mark, &place, how, instruments),
        ));
    }
    let engine = things.iter().find_map(|thing| thing.engine.as_ref())?;
    let extra = &engine.extra;
    let has = !(extra.header_volume.is_left_out()
        && extra.header_cold_mark.is_left_out()
        && extra.header_above_mark.is_left_out());
    has.then(|| {
        let place = "engine.header.above_mark";
        owners(
            &extra.header_above_mark,
            survey::known(&extra.header_above_mark, place, how, instruments),
        )
    })
}

/// A filling from a few numbers, without a boat.
#[derive(Clone, Debug, Default)]
pub struct FillAsk {
    /// What the circuit holds.
    pub volume: Option<Reading<Volume>>,
    /// Share of concentrate wanted.
    pub wanted: Option<Ratio>,
    /// Which coolant, in words; ethylene glycol where nothing is said.
    pub kind: Option<String>,
    /// What stays inside.
    pub inside: Option<Reading<Volume>>,
    /// Share of concentrate in that; water where nothing is said.
    pub inside_strength: Option<Reading<Ratio>>,
    /// Share of concentrate in what is bought.
    pub product_strength: Option<Reading<Ratio>>,
    /// The least share that its maker asks for.
    pub least_dose: Option<Reading<Ratio>>,
    /// Room in the header over the cold mark.
    pub header: Option<Reading<Volume>>,
    /// The frost to be stood.
    pub frost: Option<Reading<Temperature>>,
    /// What is stamped on the pressure cap.
    pub cap: Option<Reading<GaugePressure>>,
}

/// Reckons a filling from a few numbers.
pub fn filling(ask: &FillAsk) -> FillOutput {
    fn read<Q: Quantity>(reading: Option<&Reading<Q>>, flag: &str, how: &str) -> Option<Known<Q>> {
        let reading = reading?;
        // What is typed without a ± is meant as it stands: there is no instrument to ask about.
        let exact = || Measured::exact(reading.value, Origin::Read(quantity::Instrument::Maker));
        let stated = match reading.tolerance {
            quantity::Tolerance::Unstated if reading.instrument.is_none() => Some(exact()),
            _ => reading.measured(&Instruments::usual(), quantity::Instrument::Maker),
        };
        Some(match stated {
            Some(measured) => Ok(Value {
                measured,
                from: "as given".into(),
                place: None,
                settles: settles(flag, how),
            }),
            None => Err(missing(
                "nothing says how far off it may be; write it with a ±",
                flag,
                how,
            )),
        })
    }
    let due = |flag: &str, how: &str| missing("not given", flag, how);
    let water = Value {
        measured: Measured::exact(Ratio::of(0.0), Origin::Computed),
        from: "water, where nothing else is given".into(),
        place: None,
        settles: settles(
            "--inside-strength",
            "Read what is inside with a refractometer.",
        ),
    };
    let words = ask.kind.as_deref().unwrap_or("ethylene");
    let inside_how = "Meter what runs out; what the circuit holds less that stayed inside. Give --inside, 0 L where she is dry.";
    fill::fill(&FillInput {
        lows: None,
        subject: Subject {
            key: "coolant".into(),
            title: "the coolant".into(),
            place: String::new(),
        },
        kind: Ok(KindFacts::of(words)),
        wanted: ask
            .wanted
            .ok_or_else(|| due("--wanted", "Decide on the share and give --wanted.")),
        frost: read(ask.frost.as_ref(), "--frost", ""),
        volume: read(ask.volume.as_ref(), "--volume", METER)
            .unwrap_or_else(|| Err(due("--volume", METER))),
        wrong: None,
        inside: read(ask.inside.as_ref(), "--inside", inside_how)
            .unwrap_or_else(|| Err(due("--inside", inside_how))),
        inside_share: read(ask.inside_strength.as_ref(), "--inside-strength", "")
            .unwrap_or(Ok(water)),
        // Where a strength is given it is no water, and which family it was no flag asks.
        inside_kind: match &ask.inside_strength {
            None => Ok(KindFacts::of("water")),
            Some(_) => Err(due(
                "--inside-strength",
                "Find out which coolant stayed inside, or flush with water first: families do not mix.",
            )),
        },
        product: read(ask.product_strength.as_ref(), "--product-strength", "").and_then(Result::ok),
        least: read(ask.least_dose.as_ref(), "--least-dose", "").and_then(Result::ok),
        room: read(ask.header.as_ref(), "--header", ""),
        hottest: None,
        cap: read(ask.cap.as_ref(), "--cap", "").and_then(Result::ok),
        reading: None,
    })
}
