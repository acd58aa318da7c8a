//! What lies inside an engine: thermostat, by-pass, pump and block.

use boat::{Assume, StatControl};
use quantity::{Density, Length, Quantity};
use reference::pump::{Point, Quadratic};
use reference::usual::{Rise, rise};

use super::things::{point, rated};
use super::{Maker, Tagged};
use crate::flow::desk::PRACTICE;
use crate::flow::pieces::throat;
use crate::solve::net::{Curve, Lift, Part, Pump, Role};
use crate::stages::circuit::inside::{Bypass, bypass};
use crate::stages::circuit::plan::Site;
use crate::stages::flow::Stuff;
use crate::verdict::Words;

/// Loss of an open thermostat on the velocity head in its bore. Common practice, no source.
const STAT_OPEN: f64 = 6.0;
/// Bore of a by-pass over that of the thermostat. Common practice, no source.
const BYPASS_BORE: f64 = 0.6;

impl Maker<'_, '_> {
    /// The thermostat's bore [m].
    pub(super) fn stat_bore(&mut self, thing: usize) -> Option<f64> {
        let own = self.facts.things[thing].thing;
        let place = &self.facts.things[thing].place;
        let engine = own.engine.as_ref()?;
        if let Some(bore) = self
            .desk
            .value(&engine.stat.bore, &format!("{place}.stat.bore"))
        {
            return Some(bore);
        }
        let out = own.spigot("out").and_then(|spigot| spigot.od.given());
        let bore = out.map_or(0.035, |od| od.value.si() - 0.004);
        self.desk
            .typical(
                Assume::Stat,
                "The bore of the thermostat",
                Words::of(|system| quantity::show(Length::of_si(bore), None, system)),
                format!("as wide as the engine's outlet: {PRACTICE}"),
                &format!("{place}.stat.bore"),
                "Measure the thermostat's opening when its housing is off.",
            )
            .then_some(bore)
    }

    /// The parts of a port of the thermostat: `hot` or `cold`. `None` where nothing runs there.
    pub(super) fn way_of_stat(&mut self, thing: usize, port: &str) -> Option<Vec<Tagged>> {
        let own = self.facts.things[thing].thing;
        let place = self.facts.things[thing].place.clone();
        let engine = own.engine.as_ref()?;
        let bore = self.stat_bore(thing)?;
        let told = engine.stat.bypass.given().and_then(|text| bypass(text));
        if port == "cold" {
            let role = match told {
                Some(Bypass::Blocked) => {
                    self.standing
                        .push("The by-pass is blocked: nothing runs in it.".into());
                    return None;
                }
                Some(Bypass::ShutByStat) => Role::Bypass,
                Some(Bypass::AlwaysOpen) => Role::OpenBypass,
                None => {
                    let may = self.desk.typical(
                        Assume::Stat,
                        "Whether the thermostat shuts its by-pass",
                        Words::from("shut by the thermostat's own disc"),
                        PRACTICE.into(),
                        &format!("{place}.stat.bypass"),
                        "Look at the thermostat: a second disc under it shuts the by-pass.",
                    );
                    if !may {
                        return None;
                    }
                    Role::Bypass
                }
            };
            let written = self.desk.value(
                &engine.stat.bypass_bore,
                &format!("{place}.stat.bypass_bore"),
            );
            let line = match written {
                Some(line) => line,
                None => {
                    let line = BYPASS_BORE * bore;
                    let may = self.desk.typical(
                        Assume::Stat,
                        "The bore of the by-pass",
                        Words::of(|system| quantity::show(Length::of_si(line), None, system)),
                        PRACTICE.into(),
                        &format!("{place}.stat.bypass_bore"),
                        "Measure the by-pass where it is narrowest, when the housing is off.",
                    );
                    if !may {
                        return None;
                    }
                    line
                }
            };
            let may = self.desk.typical(
                Assume::Stat,
                "What the open thermostat and its by-pass lose",
                Words::from(format!("{STAT_OPEN:.0} velocity heads each").as_str()),
                PRACTICE.into(),
                &format!("{place}.stat"),
                "Nobody publishes it for a thermostat of an engine; a gauge either side would tell it.",
            );
            if !may {
                return None;
            }
            let hole = engine
                .stat
                .bypass
                .given()
                .and_then(|text| hole(text))
                .filter(|_| role == Role::OpenBypass);
            let item = self.item(
                "engine.bypass".into(),
                "by-pass of the thermostat".into(),
                format!("{place}.stat"),
            );
            let open = hole.map_or(STAT_OPEN, |hole| {
                throat((hole / line).powi(2).min(1.0)) + 1.5
            });
            let lift = Part::Lift(Lift {
                role,
                bore: line,
                open,
                leak: 0.02,
            });
            return Some(vec![(lift, item)]);
        }
        let leak = match self
            .desk
            .value(&engine.stat.hole, &format!("{place}.stat.hole"))
        {
            Some(hole) => (hole / bore).powi(2),
            None => {
                let may = self.desk.typical(
                    Assume::Stat,
                    "The hole in the thermostat's plate",
                    Words::from("half a per cent of its opening"),
                    PRACTICE.into(),
                    &format!("{place}.stat.hole"),
                    "Look for the small hole or the loose pin in its plate and measure it.",
                );
                if !may {
                    return None;
                }
                0.005
            }
        };
        let item = self.item(
            "engine.stat".into(),
            "thermostat".into(),
            format!("{place}.stat"),
        );
        self.items[item].bore = Some(bore);
        let lift = Part::Lift(Lift {
            role: Role::Main,
            bore,
            open: STAT_OPEN,
            leak: leak.clamp(0.0, 1.0),
        });
        Some(vec![(lift, item)])
    }

    pub(super) fn thermostat(&mut self, thing: usize, feels: usize) {
        let own = self.facts.things[thing].thing;
        let place = self.facts.things[thing].place.clone();
        let Some(engine) = &own.engine else { return };
        let opens = self
            .desk
            .value(&engine.stat.opens, &format!("{place}.stat.opens"));
        let Some(opens) = opens else {
            self.desk.miss(
                "Where the thermostat opens is not written.".into(),
                format!("{place}.stat.opens"),
                "Read the temperature stamped on the thermostat.",
            );
            return;
        };
        let over = rise(Rise::ThermostatOpensOver);
        let full = match self
            .desk
            .value(&engine.stat.full, &format!("{place}.stat.full"))
        {
            Some(full) => Some(full),
            None => self
                .desk
                .middle(
                    Assume::Stat,
                    "Over how many degrees the thermostat opens",
                    &over,
                    &format!("{place}.stat.full"),
                    "Watch it open in a pan of water with a thermometer.",
                )
                .map(|more| opens + more),
        };
        let Some(full) = full else { return };
        if full <= opens {
            self.desk.miss(
                "The thermostat is written as fully open no warmer than where it begins to open."
                    .into(),
                format!("{place}.stat.full"),
                "Read both temperatures again: it is fully open some 10 to 15 °C over its stamp.",
            );
            return;
        }
        if let Some(closes) = self
            .desk
            .value(&engine.stat.closes_at, &format!("{place}.stat.closes_at"))
            && closes < opens
        {
            self.desk.note(Words::of(|system| {
                let colder = quantity::TemperatureDifference::of_si(opens - closes);
                format!(
                    "The thermostat shuts colder than it opens: while she cools down the coolant stands up to {} colder than is told here.",
                    quantity::show(colder, None, system)
                )
            }));
        }
        let node = if engine.stat.control.given() == Some(&StatControl::Inlet) {
            self.node(Site::Thing(thing), "pump<")
        } else {
            feels
        };
        self.nodes[node].kept = true;
        let zero = 273.15;
        self.stat = Some((node, opens - zero, full - zero));
    }

    pub(super) fn engine_pump(&mut self, thing: usize) -> Vec<Tagged> {
        let own = self.facts.things[thing].thing;
        let place = self.facts.things[thing].place.clone();
        let Some(engine) = &own.engine else {
            return Vec::new();
        };
        let at = format!("{place}.pump.curve");
        let mut ratio = self.facts.things[thing]
            .thing
            .engine
            .as_ref()
            .and_then(|engine| engine.extra.pump_ratio.given().copied());
        let (curve, per_turn) = match engine.extra.pump_curve.given() {
            Some(told) => {
                let points: Vec<Point> = told
                    .points
                    .iter()
                    .filter_map(|(flow, head)| point(*flow, *head))
                    .collect();
                let Ok(curve) = Quadratic::through(&points) else {
                    self.desk.miss(
                        "The pump's curve has fewer than three different flows.".into(),
                        at,
                        "Write three points of its curve or more, from no flow on.",
                    );
                    return Vec::new();
                };
                let last = points.last().map(|point| point.flow);
                let falls =
                    last.is_some_and(|flow| !curve.rises_at(flow) && curve.shut_off.si() > 0.0);
                if !falls {
                    self.desk.miss(
                        "The pump's curve does not fall as the flow grows, so that it has no one working point.".into(),
                        at,
                        "Look at the points of its curve again: head is greatest shut off and falls from there.",
                    );
                    return Vec::new();
                }
                let speed = match told.at {
                    Some(speed) => speed.si(),
                    None => {
                        let rated = self.rated.1;
                        let may = self.desk.typical(
                            Assume::PumpSpeed,
                            "The speed of the pump's curve",
                            Words::from("the engine's rated speed by the belt"),
                            PRACTICE.into(),
                            &at,
                            "Write the pump's own speed after its curve: `… @ 2600 rpm`.",
                        );
                        if !may {
                            return Vec::new();
                        }
                        rated * ratio.unwrap_or(1.0)
                    }
                };
                if ratio.is_none() {
                    let may = self.desk.typical(
                        Assume::PumpSpeed,
                        "How fast the pump turns against the engine",
                        Words::from("as fast as the engine"),
                        PRACTICE.into(),
                        &format!("{place}.pump.ratio"),
                        "Measure both pulleys: `ratio` is the crank's over the pump's.",
                    );
                    if !may {
                        return Vec::new();
                    }
                    ratio = Some(1.0);
                }
                (curve, ratio.unwrap_or(1.0) / speed)
            }
            None => {
                let Some(usual) = self.usual.clone() else {
                    return Vec::new();
                };
                let density = Density::from_si(self.density);
                let Some(points) = density.and_then(|density| usual.pump(density).ok()) else {
                    return Vec::new();
                };
                let value = Words::of(|system| {
                    format!(
                        "{} against {} at rated speed",
                        quantity::show(usual.flow.middle(), None, system),
                        crate::say::kpa(usual.external.middle().si(), system)
                    )
                });
                let may = self.desk.typical(
                    Assume::PumpCurve,
                    "The curve of the engine's pump",
                    value,
                    points.source.cite(),
                    &at,
                    "Find the pump's curve in its sheet, or measure its pressure shut off and at two flows.",
                );
                let Ok(curve) = Quadratic::through(&points.value) else {
                    return Vec::new();
                };
                if !may {
                    return Vec::new();
                }
                // The curve is one at the engine's rated speed, whatever the belt does.
                (curve, 1.0 / self.rated.1)
            }
        };
        let item = self.item(format!("{}.pump", own.key), "circulating pump".into(), at);
        self.pumps.push((item, per_turn));
        let pump = Part::Pump(Pump {
            curve: Curve::Quadratic(curve),
            ratio: 1.0,
        });
        vec![(pump, item)]
    }

    pub(super) fn engine_block(&mut self, thing: usize) -> Vec<Tagged> {
        let own = self.facts.things[thing].thing;
        let place = self.facts.things[thing].place.clone();
        let told = own.detail.duty.drop.given();
        let (drop, flow) = match (told, self.usual.clone()) {
            (Some(at), _) => (at.what.value.si(), at.at.value.si()),
            (None, Some(usual)) => {
                let value = Words::of(|system| {
                    format!(
                        "{} at {}",
                        crate::say::kpa(usual.inside.middle().si(), system),
                        quantity::show(usual.flow.middle(), None, system)
                    )
                });
                let may = self.desk.typical(
                    Assume::EngineDrop,
                    "What the water loses inside the engine",
                    value,
                    usual.source.cite(),
                    &format!("{place}.drop"),
                    "Read it in the engine's sheet, or by two gauges: `drop = \"15 kPa @ 72 L/min\"`.",
                );
                if !may {
                    return Vec::new();
                }
                (usual.inside.middle().si(), usual.flow.middle().si())
            }
            (None, None) => return Vec::new(),
        };
        let item = self.item(own.key.clone(), "engine".into(), format!("{place}.drop"));
        self.items[item].stuff = Stuff::Steel;
        self.engine_item = Some(item);
        vec![(rated(drop, flow), item)]
    }

    pub(super) fn volume_of(&mut self, thing: usize) {
        let own = &self.facts.things[thing];
        let place = format!("{}.volume", own.place);
        let volume = self.desk.value(&own.thing.detail.volume, &place);
        self.volumes
            .push((self.key(thing).to_owned(), volume, "as written".into()));
    }
}

/// The diameter of a hole in a text: `always open, a 10 mm hole` [m].
fn hole(text: &str) -> Option<f64> {
    let words: Vec<&str> = text.split([' ', ',', ';']).collect();
    words
        .windows(2)
        .find_map(|pair| quantity::parse::<Length>(&pair.join(" "), None).ok())
        .map(|length| length.si())
}
