//! What the stage of threads reads of the boat: ports and screwed stacks; and one thread without a boat.

use boat::{Arranged, Carries, Port, RunEnd, Sex, Thing, ThingKind, Told};
use quantity::{Instrument, Instruments, Length, Measured, Origin, Quantity, Reading, Tolerance};
use reference::thread::{Family, ThreadSex};

use crate::stages::survey;
use crate::stages::threads::{
    AnodeFacts, Asked, Identified, IdentifyInput, PartFacts, PitchLook, PortInput, StackInput,
    TaperLook, ThreadLooks, Wet, identify, port, rank, stack,
};
use crate::stages::types::{Subject, Value};
use crate::verdict::{Settles, Verdict};

/// Judges the ports of a thing and the screwed joints of its stack.
pub(crate) fn thing(arranged: &Arranged, thing: &Thing) -> Vec<Verdict> {
    let base = arranged.thing_place(&thing.key);
    let mut verdicts: Vec<Verdict> = thing
        .ports
        .iter()
        .flat_map(|own| port(&port_input(arranged, thing, own, &base)))
        .collect();
    if thing.chain.len() > 1 {
        verdicts.extend(stack(&stack_input(arranged, thing, &base)));
    }
    verdicts
}

fn stack_input(arranged: &Arranged, thing: &Thing, base: &str) -> StackInput {
    let instruments = &arranged.boat.instruments;
    StackInput {
        thing: thing.key.clone(),
        place: format!("{base}.chain"),
        parts: thing
            .chain
            .iter()
            .map(|part| PartFacts {
                name: part.name.clone(),
                kind: part.kind.word().to_owned(),
                ends: part.ends.clone(),
                tail: part.tail.is_some(),
                metal: part.metal,
                engaged: part.engaged.map(|length| by_caliper(length, instruments)),
            })
            .collect(),
        at_hull: thing.kind.given() == Some(&ThingKind::HullFitting),
    }
}

/// A length without a tolerance, as the owner's caliper reads it.
fn by_caliper(length: Length, instruments: &Instruments) -> Measured<Length> {
    Reading::plain(length, quantity::Unit::mm())
        .measured(instruments, Instrument::Caliper)
        .unwrap_or_else(|| Measured::exact(length, Origin::Read(Instrument::Caliper)))
}

/// What wets a port: only coolant, where nothing else runs through its thing.
fn wet(arranged: &Arranged, thing: &Thing) -> Wet {
    if thing.kind.given() == Some(&ThingKind::Engine) {
        // Raw water runs through no engine that this file tells of: its exhaust elbow is cast beside it.
        return Wet::Coolant;
    }
    let touches = |carries: Carries| {
        arranged.boat.runs.iter().any(|run| {
            let ends = [&run.from, &run.to];
            run.carries == carries
                && ends
                    .into_iter()
                    .any(|end| matches!(end, RunEnd::Thing { thing: key, .. } if *key == thing.key))
        })
    };
    if touches(Carries::Coolant) && !touches(Carries::RawWater) {
        Wet::Coolant
    } else {
        Wet::Sea
    }
}

fn sex_of(sex: Sex) -> ThreadSex {
    match sex {
        Sex::Male => ThreadSex::Male,
        Sex::Female => ThreadSex::Female,
    }
}

fn port_input(arranged: &Arranged, thing: &Thing, own: &Port, base: &str) -> PortInput {
    let instruments = &arranged.boat.instruments;
    let place = format!("{base}.ports.{}", boat::key_text(&own.name));
    let at = |key: &str| format!("{place}.{key}");
    let (male, female) = (!own.male_od.is_left_out(), !own.female_id.is_left_out());
    let measured = match (male, female) {
        (true, false) => Some(ThreadSex::Male),
        (false, true) => Some(ThreadSex::Female),
        _ => None,
    };
    let written = own.sex.map(sex_of);
    let against = matches!((measured, written), (Some(one), Some(other)) if one != other);
    let sex = measured.or(written);
    let (told, key) = match measured {
        Some(ThreadSex::Male) => (&own.male_od, "male_od"),
        _ => (&own.female_id, "female_id"),
    };
    let diameter = measured.map(|_| {
        let how = "Measure the diameter over its crests once more with a caliper.";
        let known = survey::known(told, &at(key), how, instruments);
        // Where nothing was read the typed value is never looked at.
        let typed = told
            .given()
            .copied()
            .unwrap_or_else(|| Reading::plain(Length::mm(0.0), quantity::Unit::mm()));
        (typed, known)
    });
    let pitch = pitch(&own.ten_pitches, &at("ten_pitches"), 10.0, instruments);
    let taper = own
        .taper
        .given()
        .and_then(|taper| taper_look(*taper, &at("taper"), instruments));
    let looks = match (&diameter, sex) {
        (Some((_, Ok(value))), Some(sex)) => Some(ThreadLooks {
            sex,
            diameter: value.clone(),
            pitch,
            taper,
        }),
        _ => None,
    };
    let wet = wet(arranged, thing);
    let anode = has_anode(own).then(|| {
        let nothing = boat::Anode::default();
        let found = own.anode.as_ref().unwrap_or(&nothing);
        AnodeFacts {
            left: survey::known(
                &found.left,
                &at("anode.left"),
                "Unscrew the anode and write how much of it is left; in the first season look monthly.",
                instruments,
            ),
            seen: found.seen.given().cloned(),
            tape: found.tape.given() == Some(&true),
        }
    });
    let caution = match wet {
        Wet::Coolant => "Hot and under pressure: open it only when the engine is cold.",
        Wet::Sea => "It opens the cooler: shut the seacock first, engine cold.",
    };
    PortInput {
        subject: Subject {
            key: format!("{}.{}", thing.key, own.name),
            title: format!("{} of {}", own.name, thing.key),
            place,
        },
        stated: own.thread.given().copied(),
        sex,
        both_sexes: (male && female) || against,
        diameter,
        looks,
        looked: !own.ten_pitches.is_left_out() || !own.taper.is_left_out(),
        anode,
        wet,
        caution: caution.to_owned(),
    }
}

/// A length over some pitches, where it is known.
fn pitch(
    told: &Told<Reading<Length>>,
    place: &str,
    count: f64,
    instruments: &Instruments,
) -> Option<PitchLook> {
    survey::known(told, place, "", instruments)
        .ok()
        .map(|over| PitchLook { over, count })
}

/// A change of diameter over a length. It is the difference of two readings: where no tolerance is
/// written, both may be off the way the caliper is.
fn taper_look(
    (change, over): (Reading<Length>, Reading<Length>),
    place: &str,
    instruments: &Instruments,
) -> Option<TaperLook> {
    let settles = Settles {
        place: place.to_owned(),
        how: "Read two diameters 8 mm apart with a caliper.".into(),
    };
    let value = |reading: Reading<Length>| -> Option<Value<Length>> {
        let measured = reading.measured(instruments, Instrument::Caliper)?;
        let from = match measured.origin {
            Origin::Read(instrument) => instrument.name().to_owned(),
            other => other.word().to_owned(),
        };
        Some(Value {
            measured,
            from,
            place: Some(place.to_owned()),
            settles: settles.clone(),
        })
    };
    let mut changed = value(change)?;
    if change.tolerance == Tolerance::Unstated {
        let half = changed.measured.half_width() * std::f64::consts::SQRT_2;
        let origin = changed.measured.origin;
        changed.measured = Measured {
            value: change.value,
            low: change.value - half,
            high: change.value + half,
            origin,
        };
    }
    let over = value(over)?;
    (over.measured.value.si() > 0.0).then_some(TaperLook {
        change: changed,
        over,
    })
}

/// One thread from a few readings, without a boat.
#[derive(Clone, Debug)]
pub struct QuickThread {
    /// Male or female.
    pub sex: ThreadSex,
    /// Largest diameter of a male, smallest of a female.
    pub diameter: Reading<Length>,
    /// A length, and over how many pitches.
    pub pitch: Option<(Reading<Length>, f64)>,
    /// A change of diameter, and over what length.
    pub taper: Option<(Reading<Length>, Reading<Length>)>,
}

/// Names one thread from a few readings.
pub fn quick_thread(input: &QuickThread) -> Identified {
    let instruments = Instruments::usual();
    let (flag, how) = match input.sex {
        ThreadSex::Male => (
            "--major",
            "Measure the largest diameter over its crests with a caliper and give it as read: --major \"33.1 mm\".",
        ),
        ThreadSex::Female => (
            "--minor",
            "Measure the smallest diameter between its crests with a caliper's inner jaws and give it as read: --minor \"30.5 mm\".",
        ),
    };
    let settles = |place: &str, how: &str| Settles {
        place: place.to_owned(),
        how: how.to_owned(),
    };
    let value = |reading: Reading<Length>, flag: &str| -> Value<Length> {
        let measured = reading
            .measured(&instruments, Instrument::Caliper)
            .unwrap_or_else(|| Measured::exact(reading.value, Origin::Read(Instrument::Caliper)));
        let from = match measured.origin {
            Origin::Read(instrument) => instrument.name().to_owned(),
            other => other.word().to_owned(),
        };
        Value {
            measured,
            from,
            place: None,
            settles: settles(flag, how),
        }
    };
    let taper = input.taper.and_then(|taper| {
        let look = taper_look(taper, "--taper", &instruments)?;
        let bare = |value: Value<Length>| Value {
            place: None,
            ..value
        };
        Some(TaperLook {
            change: bare(look.change),
            over: bare(look.over),
        })
    });
    let looks = ThreadLooks {
        sex: input.sex,
        diameter: value(input.diameter, flag),
        pitch: input.pitch.map(|(over, count)| PitchLook {
            over: value(over, "--ten-pitches"),
            count,
        }),
        taper,
    };
    let mut identified = identify(&IdentifyInput {
        subject: Subject {
            key: "thread".into(),
            title: "the thread".into(),
            place: String::new(),
        },
        looks,
        typed: input.diameter,
        stated: None,
        asked: Asked {
            diameter: settles(flag, how),
            pitch: settles(
                "--ten-pitches",
                "Measure the length over ten pitches with a caliper and give --ten-pitches.",
            ),
            taper: "--taper".into(),
            name: "--taper".into(),
        },
    });
    identified.verdict = identified.verdict.spoken();
    identified
}

/// Whether a port carries an anode: by its key, or by its name.
pub(crate) fn has_anode(port: &Port) -> bool {
    port.anode.is_some() || port.name == "anode"
}

/// What a port is likeliest to be, for a trial.
pub(crate) struct Likely {
    /// By name, as it is typed; none for a family that a boat file does not name.
    pub(crate) by_name: Option<String>,
    /// Length over ten pitches.
    pub(crate) ten_pitches: Length,
    /// Whether it tapers.
    pub(crate) tapers: bool,
}

/// The likeliest thread of a port by what was read of it so far.
pub(crate) fn likely(port: &Port, instruments: &Instruments) -> Option<Likely> {
    let (told, sex, word) = if port.male_od.is_left_out() {
        (&port.female_id, ThreadSex::Female, "F")
    } else {
        (&port.male_od, ThreadSex::Male, "M")
    };
    let place = "engine.ports.x.female_id";
    let diameter = survey::known(told, place, "", instruments).ok()?;
    let looks = ThreadLooks {
        sex,
        diameter,
        pitch: pitch(&port.ten_pitches, place, 10.0, instruments),
        taper: None,
    };
    let best = rank(&looks).best()?.size;
    Some(Likely {
        by_name: (best.family != Family::Unified).then(|| format!("{} {word}", best.designation())),
        ten_pitches: best.ten_pitches(),
        tapers: best.family.taper().si() > 0.0,
    })
}
