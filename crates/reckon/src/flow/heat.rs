//! What a state asks of the circuit: speed of the engine, heat, sea, way through the water.

use boat::{Assume, Breathing, Manifold, State, Thing, Told};
use quantity::{Power, Quantity, Ratio, Temperature};
use reference::heat::{ShareOf, alternator_takes, part_load, propeller_load, share};

use super::desk::Desk;
use crate::stages::flow::{Duty, Missing, Span};
use crate::verdict::{Settles, Words};

/// What is done to the circuit in a state.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Asked {
    pub(super) key: String,
    pub(super) duty: Duty,
    /// Speed of the engine [1/s].
    pub(super) revs: f64,
    /// Speed of the water along her [m/s].
    pub(super) speed: f64,
    /// Sea [°C].
    pub(super) sea: f64,
    /// Power at the shaft [W].
    pub(super) power: f64,
    /// Heat to the coolant in the engine [W].
    pub(super) heat: Span,
    pub(super) heat_from: String,
    /// Heat of the gearbox [W].
    pub(super) gearbox: f64,
    /// Raw water [m³/s], where the state tells it.
    pub(super) raw: Option<f64>,
}

/// The engine's rated power [W] and speed [1/s].
pub(super) fn rated(desk: &mut Desk, engine: &Thing) -> Option<(f64, f64)> {
    let own = engine.engine.as_ref()?;
    match own.power.given() {
        Some(power) => Some((power.what.value.si(), power.at.value.si())),
        None => {
            desk.miss(
                "The engine's rated power is not written.".into(),
                "engine.power".into(),
                "Read power and speed on the engine's plate: `power = \"46 kW @ 2600 rpm\"`.",
            );
            None
        }
    }
}

/// Heat to the coolant at rated power [W], as a span, and whence.
pub(super) fn full(desk: &mut Desk, engine: &Thing, rated: f64) -> Option<(Span, String)> {
    let own = engine.engine.as_ref()?;
    if let Some(heat) = desk.value(&own.heat, "engine.heat") {
        let half = desk.half(&own.heat);
        let span = Span {
            low: heat - half,
            mid: heat,
            high: heat + half,
        };
        return Some((span, "the engine's own sheet".into()));
    }
    let of = match own.burns.given() {
        Some(Breathing::Turbo) => ShareOf::CoolantTurbo,
        Some(Breathing::Natural) => ShareOf::CoolantOlder,
        None => ShareOf::Coolant,
    };
    let mut shares = vec![share(of)];
    if own.manifold.given() == Some(&Manifold::Wet) {
        shares.push(share(ShareOf::WetManifold));
    }
    let (low, high) = shares.iter().fold((0.0, 0.0), |(low, high), one| {
        (low + one.value.low.to_f64(), high + one.value.high.to_f64())
    });
    let words = Words::from(format!("{low:.2} to {high:.2} of the power at the shaft").as_str());
    let may = desk.typical(
        Assume::HeatShare,
        "Heat to the coolant",
        words,
        shares[0].source.cite(),
        &"engine.heat".into(),
        "Find the heat to the coolant in the engine's sheet.",
    );
    may.then(|| {
        let span = Span {
            low: low * rated,
            mid: 0.5 * (low + high) * rated,
            high: high * rated,
        };
        (span, "a share of the power".into())
    })
}

/// The sea of a state [°C].
fn sea(desk: &mut Desk, state: &State) -> Result<f64, Missing> {
    let waters = desk.arranged.boat.about.sea.clone();
    let missing = |what: &str, place: &str| {
        Missing {
        why: format!("How warm the sea is {what} is not written."),
        settles: Settles {
            place: place.into(),
            how: "Write the warmest and the coldest water she lies in: `sea = { summer = \"20 °C\", winter = \"4 °C\" }`.".into(),
        },
    }
    };
    let word = state.sea.given().map(|text| text.trim().to_lowercase());
    if let Some(text) = &word
        && let Ok(at) = quantity::parse::<Temperature>(text, None)
    {
        return Ok(at.to_celsius());
    }
    if word.as_deref() == Some("winter") {
        return desk
            .value(&waters.winter, "boat.sea.winter")
            .and_then(Temperature::from_si)
            .map(|t| t.to_celsius())
            .ok_or_else(|| missing("in winter", "boat.sea.winter"));
    }
    desk.value(&waters.summer, "boat.sea.summer")
        .and_then(Temperature::from_si)
        .map(|t| t.to_celsius())
        .ok_or_else(|| missing("in summer", "boat.sea.summer"))
}

/// What a state asks; for one in which she moves, the same tied up as well where `tied` is wanted.
pub(super) fn asked(
    desk: &mut Desk,
    engine: &Thing,
    state: &State,
    tied: bool,
) -> Result<Asked, Missing> {
    let place = format!("states.{}", state.key);
    let missing = |why: String, key: &str, how: &str| Missing {
        why,
        settles: Settles {
            place: format!("{place}.{key}"),
            how: how.into(),
        },
    };
    let revs = desk
        .value(&state.rpm, &format!("{place}.rpm"))
        .ok_or_else(|| {
            missing(
                format!(
                    "At what speed the engine runs in {} is not written.",
                    state.key
                ),
                "rpm",
                "Read the speed of the engine on its counter.",
            )
        })?;
    let sheet = rated(desk, engine).ok_or_else(|| Missing {
        why: "The engine's rated power is not written.".into(),
        settles: Settles {
            place: "engine.power".into(),
            how: "Read power and speed on the engine's plate.".into(),
        },
    })?;
    let speed = desk
        .value(&state.speed, &format!("{place}.speed"))
        .unwrap_or(0.0);
    let moving = speed > 0.0 && !tied;
    let tide = desk
        .value(&state.tide, &format!("{place}.tide"))
        .unwrap_or(0.0);
    let told = desk.value(&state.power, &format!("{place}.power"));
    let propeller = match told {
        Some(power) => power,
        None if speed > 0.0 => {
            let share = quantity::RotationalSpeed::from_si(revs)
                .zip(quantity::RotationalSpeed::from_si(sheet.1))
                .and_then(|(own, rated)| propeller_load(own, rated).ok())
                .map_or(1.0, |share| share.value.to_f64());
            sheet.0 * share.min(1.0)
        }
        None => 0.0,
    };
    let alternator = state.alternator.given().map_or(0.0, |at| {
        let output = Power::from_si(at.what.value.si() * at.at.value.si());
        output
            .and_then(|output| alternator_takes(output).ok())
            .map_or(0.0, |taken| taken.value.si())
    });
    let Some((full, from)) = full(desk, engine, sheet.0) else {
        let last = desk.missing.last().cloned();
        return Err(last.unwrap_or_else(|| {
            missing("The heat to the coolant is not known.".into(), "power", "")
        }));
    };
    let load = ((propeller + alternator) / sheet.0).clamp(0.0, 1.0);
    let idle = engine
        .engine
        .as_ref()
        .and_then(|own| desk.value(&own.idle_heat, "engine.idle_heat"));
    let part = Ratio::from_si(load).and_then(|load| part_load(load).ok());
    let (mut low, mut high) = part.map_or((load, load), |part| {
        (part.value.low.to_f64(), part.value.high.to_f64())
    });
    let mut least = 0.0;
    if let Some(idle) = idle {
        // A heat that was told for idling stands in for the trade's share of it.
        least = idle;
        let bare = load.powf(0.8);
        (low, high) = (bare, load.powf(0.7));
    }
    let heat = Span {
        low: (full.low * low).max(least),
        mid: (full.mid * 0.5 * (low + high)).max(least),
        high: (full.high * high).max(least),
    };
    let gearbox = engine
        .engine
        .as_ref()
        .and_then(|own| desk.value(&own.extra.gearbox_loses, "engine.gearbox.loses"))
        .unwrap_or_else(|| share(ShareOf::Gearbox).value.middle().to_f64());
    let mut from = from;
    if load < 1.0 {
        from.push_str(&format!(", at {:.0} % of the power", 100.0 * load));
    }
    Ok(Asked {
        key: state.key.clone(),
        duty: if moving { Duty::Moving } else { Duty::Tied },
        revs,
        speed: if moving { speed } else { tide },
        sea: sea(desk, state)?,
        power: propeller,
        heat,
        heat_from: from,
        gearbox: gearbox * propeller,
        raw: match &state.raw {
            Told::LeftOut => None,
            told => desk.value(told, &format!("{place}.raw")),
        },
    })
}
