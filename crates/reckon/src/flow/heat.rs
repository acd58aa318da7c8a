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
    /// How its heat goes with the power.
    pub(super) law: Law,
    /// Raw water [m³/s], where the state tells it.
    pub(super) raw: Option<f64>,
    /// The cabin heaters are on.
    pub(super) heaters: bool,
}

/// How heat to the coolant goes with the power.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Law {
    /// At rated power [W].
    full: Span,
    /// Told for idling [W].
    idle: Option<f64>,
    /// Rated power [W].
    pub(super) rated: f64,
    /// What the alternator takes [W].
    alternator: f64,
    /// Share of the power that the gearbox loses.
    gearbox: f64,
}

impl Law {
    /// Share of the rated power that the engine gives at a power on its shaft [W].
    fn load(&self, power: f64) -> f64 {
        (power + self.alternator) / self.rated
    }

    /// Heat to the coolant [W] at a power on the shaft [W].
    pub(super) fn heat(&self, power: f64) -> Span {
        let load = self.load(power).clamp(0.0, 1.0);
        let part = Ratio::from_si(load).and_then(|load| part_load(load).ok());
        let (mut low, mut high) = part.map_or((load, load), |part| {
            (part.value.low.to_f64(), part.value.high.to_f64())
        });
        // A heat that was told for idling stands in for the trade's share of it.
        let least = self.idle.unwrap_or(0.0);
        if self.idle.is_some() {
            (low, high) = (load.powf(0.8), load.powf(0.7));
        }
        Span {
            low: (self.full.low * low).max(least),
            mid: (self.full.mid * 0.5 * (low + high)).max(least),
            high: (self.full.high * high).max(least),
        }
    }

    /// Power on the shaft [W], from nothing to the rated one, at which so much heat [W] comes to the coolant at most.
    pub(super) fn power(&self, heat: f64) -> f64 {
        let (mut low, mut high) = (0.0, self.rated);
        for _ in 0..20 {
            let mid = 0.5 * (low + high);
            if self.heat(mid).high < heat {
                low = mid;
            } else {
                high = mid;
            }
        }
        0.5 * (low + high)
    }

    /// Heat of the gearbox [W] at a power on the shaft [W].
    pub(super) fn gearbox(&self, power: f64) -> f64 {
        self.gearbox * power
    }
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
    if revs <= 0.0 {
        return Err(missing(
            format!(
                "The engine stands in {}: nothing moves the coolant.",
                state.key
            ),
            "rpm",
            "Write the speed at which it runs.",
        ));
    }
    if revs > 1.02 * sheet.1 {
        return Err(missing(
            format!(
                "In {} the engine is written to turn faster than its rated speed.",
                state.key
            ),
            "rpm",
            "Read the speed again, and the rated one on the plate.",
        ));
    }
    let told = desk.value(&state.power, &format!("{place}.power"));
    let way = desk.value(&state.speed, &format!("{place}.speed"));
    if told.is_none() && way.is_none() && state.alternator.given().is_none() {
        return Err(missing(
            format!(
                "What the engine works against in {} is not written: neither speed nor power.",
                state.key
            ),
            "speed",
            "Write her speed through the water, `0 kn` where she lies still out of gear; or the power at the shaft.",
        ));
    }
    let speed = way.unwrap_or(0.0);
    let moving = speed > 0.0 && !tied;
    let tide = desk
        .value(&state.tide, &format!("{place}.tide"))
        .unwrap_or(0.0);
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
    if propeller > 1.02 * sheet.0 {
        return Err(missing(
            format!(
                "In {} more power is written than the engine is rated for.",
                state.key
            ),
            "power",
            "Read the power again, and the rated one on the plate.",
        ));
    }
    let Some((full, from)) = full(desk, engine, sheet.0) else {
        let last = desk.missing.last().cloned();
        return Err(last.unwrap_or_else(|| {
            missing("The heat to the coolant is not known.".into(), "power", "")
        }));
    };
    let own = engine.engine.as_ref();
    let idle = own.and_then(|own| desk.value(&own.idle_heat, "engine.idle_heat"));
    let loses = own.and_then(|own| desk.value(&own.extra.gearbox_loses, "engine.gearbox.loses"));
    let usual = share(ShareOf::Gearbox);
    // Without a cooler for it the gearbox's loss does not come into the coolant.
    let cooled = own.is_some_and(|own| own.extra.gearbox_cooler.is_some());
    let gearbox = match loses {
        Some(loses) => loses,
        None if !cooled => 0.0,
        None => desk
            .middle(
                Assume::HeatShare,
                "What the gearbox loses",
                &usual,
                &"engine.gearbox.loses".into(),
                "Find it in its sheet: `gearbox = { loses = \"3 %\" }`.",
            )
            .ok_or_else(|| Missing {
                why: "What the gearbox loses is not known.".into(),
                settles: Settles {
                    place: "engine.gearbox.loses".into(),
                    how: "Find it in its sheet: `gearbox = { loses = \"3 %\" }`.".into(),
                },
            })?,
    };
    let law = Law {
        full,
        idle,
        rated: sheet.0,
        alternator,
        gearbox,
    };
    let load = law.load(propeller);
    let heat = law.heat(propeller);
    let mut from = from;
    if load < 0.995 {
        let floor = if idle.is_some() {
            "the heat of idling"
        } else {
            "a tenth to a fifth of the full heat"
        };
        from.push_str(&format!(
            ", at {:.0} % of the power: to the power of 0.7 to 0.8, not under {floor}",
            100.0 * load
        ));
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
        gearbox: law.gearbox(propeller),
        law,
        heaters: state.heaters.given().copied().unwrap_or(false),
        raw: match &state.raw {
            Told::LeftOut => None,
            told => desk.value(told, &format!("{place}.raw")),
        },
    })
}
