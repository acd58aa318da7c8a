//! Things that the water runs through: hull fittings, header tanks, coolers, coils, pumps of their own.

use std::sync::Arc;

use boat::{Assume, Carries, Head, ThingKind};
use quantity::{Length, Quantity, VolumeFlow};
use reference::pump::{Point, Quadratic};

use super::{Maker, Tagged, si};
use crate::flow::desk::PRACTICE;
use crate::flow::pieces::{chain, wet};
use crate::flow::sinks::{self, Sink};
use crate::solve::net::{Cooler, Curve, Gives, Part, Pump};
use crate::stages::circuit::plan::Site;
use crate::verdict::Words;

/// Density by which a pump's sheet turns pressure into head [kg/m³]. Source: common practice, water.
const SHEET_DENSITY: f64 = 1000.0;

impl Maker<'_, '_> {
    pub(super) fn fitting(&mut self, thing: usize) {
        let own = self.facts.things[thing].thing;
        let names: Vec<String> = self
            .connections(thing)
            .iter()
            .map(|(name, _)| name.clone())
            .collect();
        if names.is_empty() {
            return;
        }
        let body = self.node(Site::Thing(thing), "body");
        self.nodes[body].height = si(&self.facts.things[thing].height);
        if self.plan.is_shut(&own.key) {
            self.standing.push(format!("{} is shut.", own.key));
            return;
        }
        let (parts, bore) = chain(&own.chain);
        let item = self.item(own.key.clone(), own.key.clone(), own.path());
        self.items[item].bore = bore;
        if let Some(metal) = own.chain.iter().rev().find_map(|part| part.metal) {
            self.items[item].stuff = wet(metal);
        }
        for name in names {
            if self.blanked(thing, &name) {
                continue;
            }
            let spigot = self.spigot(thing, &name);
            let comes = self
                .facts
                .on(thing)
                .any(|(_, own, comes)| own == name && comes);
            let tagged = |parts: &[Part]| parts.iter().map(|part| (part.clone(), item)).collect();
            if comes {
                self.edge(spigot, body, tagged(&parts));
            } else {
                let back: Vec<Part> = parts.iter().rev().cloned().collect();
                self.edge(body, spigot, tagged(&back));
            }
        }
    }

    pub(super) fn header(&mut self, thing: usize) {
        let body = self.node(Site::Thing(thing), "body");
        for (name, comes) in self.connections(thing) {
            if self.blanked(thing, &name) {
                continue;
            }
            let spigot = self.spigot(thing, &name);
            if comes {
                self.edge(spigot, body, Vec::new());
            } else {
                self.edge(body, spigot, Vec::new());
            }
        }
    }

    /// Spigots of a thing on which runs of the circuit end, and whether the water comes by each.
    pub(super) fn connections(&self, thing: usize) -> Vec<(String, bool)> {
        let mut out: Vec<(String, bool)> = Vec::new();
        for (run, name, comes) in self.facts.on(thing) {
            let carries = self.facts.runs[run].run.carries;
            if matches!(carries, Carries::Coolant | Carries::Vent)
                && !out.iter().any(|(own, _)| own == name)
            {
                out.push((name.to_owned(), comes));
            }
        }
        out
    }

    /// A thing that the water goes through in one way.
    pub(super) fn through(&mut self, thing: usize) {
        let facts = self.facts;
        let own = facts.things[thing].thing;
        let mut ends: Vec<(usize, bool)> = Vec::new();
        for key in &own.detail.between {
            let Some(fitting) = facts.thing(key) else {
                continue;
            };
            let comes = self.connections(fitting).iter().any(|(_, comes)| *comes);
            let body = self.node(Site::Thing(fitting), "body");
            ends.push((body, comes));
        }
        for (name, comes) in self.connections(thing) {
            if !self.blanked(thing, &name) {
                let spigot = self.spigot(thing, &name);
                ends.push((spigot, comes));
            }
        }
        let used = !self.connections(thing).is_empty()
            || own.detail.between.iter().any(|key| {
                facts.thing(key).is_some_and(|fitting| {
                    !self.connections(fitting).is_empty() && !self.blanked(fitting, "tail")
                })
            });
        if ends.len() < 2 || !used {
            return;
        }
        let parts = match own.kind.given() {
            Some(ThingKind::KeelPipes | ThingKind::SkinTank | ThingKind::Exchanger) => {
                self.cooler(thing)
            }
            Some(ThingKind::OilCooler) => self.oil_cooler(thing),
            Some(ThingKind::Calorifier | ThingKind::CabinHeater) => self.small(thing),
            Some(ThingKind::Strainer) => self.by_drop(thing, "strainer", 1e3, None),
            Some(ThingKind::CirculatingPump) => self.own_pump(thing),
            _ => Vec::new(),
        };
        if ends.len() == 2 {
            let first = usize::from(!ends[0].1 && ends[1].1);
            self.edge(ends[first].0, ends[1 - first].0, parts);
            return;
        }
        let body = self.node(Site::Thing(thing), "body");
        self.desk.note(Words::from(
            format!("More than two runs end on {}, and its `paths` are not written: its own loss is left out.", own.key).as_str(),
        ));
        for (end, comes) in ends {
            if comes {
                self.edge(end, body, Vec::new());
            } else {
                self.edge(body, end, Vec::new());
            }
        }
    }

    /// Drop and flow of a thing, as written or typical.
    pub(super) fn drop_of(
        &mut self,
        thing: usize,
        what: &str,
        usual: f64,
        flow: Option<f64>,
    ) -> Option<(f64, f64)> {
        let own = self.facts.things[thing].thing;
        let place = format!("{}.drop", self.facts.things[thing].place);
        if let Some(at) = own.detail.duty.drop.given() {
            return Some((at.what.value.si(), at.at.value.si()));
        }
        let flow = flow.or(self.usual.as_ref().map(|usual| usual.flow.middle().si()))?;
        let value = Words::of(|system| {
            format!(
                "{} at {}",
                crate::say::kpa(usual, system),
                quantity::show(VolumeFlow::of_si(flow), None, system)
            )
        });
        self.desk
            .typical(
                Assume::CoolerDrop,
                &format!("What the water loses in {} ({what})", own.key),
                value,
                PRACTICE.into(),
                &place,
                "Read it in its sheet, or by two gauges: `drop = \"4 kPa @ 60 L/min\"`.",
            )
            .then_some((usual, flow))
    }

    pub(super) fn by_drop(
        &mut self,
        thing: usize,
        what: &str,
        usual: f64,
        flow: Option<f64>,
    ) -> Vec<Tagged> {
        let own = self.facts.things[thing].thing;
        let Some((drop, at)) = self.drop_of(thing, what, usual, flow) else {
            return Vec::new();
        };
        let item = self.item(own.key.clone(), own.key.clone(), own.path());
        self.volume_of(thing);
        vec![(rated(drop, at), item)]
    }

    pub(super) fn oil_cooler(&mut self, thing: usize) -> Vec<Tagged> {
        let parts = self.by_drop(thing, "oil cooler", 4e3, None);
        if let Some((_, item)) = parts.first() {
            let named = self.facts.things.iter().find_map(|own| {
                let engine = own.thing.engine.as_ref()?;
                engine.extra.gearbox_cooler.clone()
            });
            if named.is_none_or(|named| named == self.key(thing)) {
                self.gearbox_item = Some(*item);
            }
        }
        parts
    }

    /// Calorifiers and cabin heaters: a drop. In a steady state a calorifier is hot and takes nothing; a heater
    /// takes heat by its UA where it is on.
    pub(super) fn small(&mut self, thing: usize) -> Vec<Tagged> {
        let ten = 10e-3 / 60.0;
        let mut parts = self.by_drop(thing, "coil", 10e3, Some(ten));
        let own = self.facts.things[thing].thing;
        let Some((part, item)) = parts.first_mut() else {
            return parts;
        };
        self.stores.push(*item);
        if own.kind.given() == Some(&ThingKind::CabinHeater) {
            let duty = &own.detail.duty;
            let place = &self.facts.things[thing].place;
            let ua = self.desk.value(&duty.ua, &format!("{place}.ua"));
            let air = duty.air.given().map(|air| air.value.to_celsius());
            if let (Some(ua), Some(air), Part::Rated { drop, flow, .. }) = (ua, air, &*part) {
                let rated = Some((*drop, *flow));
                *part = Part::Cooler(Box::new(Cooler {
                    gives: Gives::Sink {
                        ua: 0.0,
                        temperature: air,
                    },
                    rated,
                }));
                self.heaters.push((*item, Some(ua)));
            } else {
                self.heaters.push((*item, None));
            }
        }
        parts
    }

    pub(super) fn own_pump(&mut self, thing: usize) -> Vec<Tagged> {
        let own = self.facts.things[thing].thing;
        let place = format!("{}.curve", self.facts.things[thing].place);
        let points: Option<Vec<Point>> = own.detail.duty.curve.given().map(|told| {
            told.points
                .iter()
                .filter_map(|(flow, head)| point(*flow, *head))
                .collect()
        });
        let Some(Ok(curve)) = points.map(|points| Quadratic::through(&points)) else {
            self.desk.miss(
                format!("The curve of {} is not written.", own.key),
                place,
                "Read three points of its curve in its sheet.",
            );
            return Vec::new();
        };
        let item = self.item(own.key.clone(), own.key.clone(), place);
        self.pumps.push((item, 0.0));
        let pump = Part::Pump(Pump {
            curve: Curve::Quadratic(curve),
            ratio: 1.0,
        });
        vec![(pump, item)]
    }

    pub(super) fn cooler(&mut self, thing: usize) -> Vec<Tagged> {
        let own = self.facts.things[thing].thing;
        let place = self.facts.things[thing].place.clone();
        let sea = Arc::clone(&self.sea);
        let usual = self
            .usual
            .as_ref()
            .map_or(1e-3, |usual| usual.flow.middle().si());
        let sink: Option<Sink> = match own.kind.given() {
            Some(ThingKind::KeelPipes) => sinks::keel(self.desk, own, &place, &sea),
            Some(ThingKind::SkinTank) => sinks::skin(self.desk, own, &place, &sea),
            _ => {
                let rated = self.drop_of(thing, "shell", 8e3, None);
                sinks::exchanger(self.desk, own, &place, &sea, rated, usual)
            }
        };
        let Some(sink) = sink else {
            return Vec::new();
        };
        let item = self.item(own.key.clone(), own.key.clone(), own.path());
        self.items[item].bore = sink.bore;
        self.coolers.insert(item, (sink.sees, sink.area));
        match sink.volume {
            Some(volume) => {
                self.volumes
                    .push((own.key.clone(), Some(volume), "by its sizes".into()))
            }
            None => self.volume_of(thing),
        }
        vec![(Part::Cooler(Box::new(sink.cooler)), item)]
    }
}

pub(super) fn rated(drop: f64, flow: f64) -> Part {
    Part::Rated {
        drop,
        flow,
        power: 2.0,
        density: SHEET_DENSITY,
        heat: 0.0,
    }
}

pub(super) fn point(flow: VolumeFlow, head: Head) -> Option<Point> {
    let head = match head {
        Head::Metres(head) => head,
        Head::Pressure(pressure) => {
            Length::from_si(pressure.si() / (SHEET_DENSITY * crate::solve::net::GRAVITY))?
        }
    };
    Some(Point { flow, head })
}
