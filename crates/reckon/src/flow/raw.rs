//! The raw-water side of an exchanger: what runs in it, and what its pieces take. It has no pressures of its own
//! here, for nobody types where its siphon break and its outlet lie.

use std::f64::consts::PI;

use boat::{Boat, Carries, PieceKind, Thing, ThingKind};
use quantity::Quantity;

use super::desk::Desk;
use super::heat::Asked;
use super::pieces::lay;
use crate::solve::net::{Law, Medium};
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::flow::ItemRow;

/// Raw water [m³/s] in a state: as told for it, where the pump is the one that it was told of; else what the pump
/// gives. Nought where none can come to the exchanger.
pub(super) fn flow(desk: &Desk, plan: &Plan, boat: &Boat, asked: &Asked) -> Option<f64> {
    let is_pump = |thing: &&Thing| thing.kind.given() == Some(&ThingKind::RawWaterPump);
    let wet = plan.with_raw_water_at_best();
    let reaches = plan.nodes.iter().zip(&wet).any(|(node, wet)| {
        let Site::Thing(thing) = node.site else {
            return false;
        };
        *wet && plan.facts.things[thing].is(ThingKind::Exchanger)
    });
    if !reaches {
        return Some(0.0);
    }
    let own = &desk.arranged.boat;
    let pump = own.things.iter().find(is_pump);
    let was = boat.things.iter().find(is_pump);
    let same = pump.map(|pump| &pump.key) == was.map(|was| &was.key);
    asked.raw.filter(|_| same).or_else(|| {
        let gives = pump?.detail.duty.gives.given().copied()?;
        let scale = gives.at.map_or(1.0, |at| asked.revs / at.value.si());
        Some(gives.flow.value.si() * scale)
    })
}

/// The pieces of the raw-water runs with what each takes of a flow [m³/s] of sea at a temperature [°C]. A run of
/// which a length or a size is not written is left out: nothing of the coolant hangs on it.
pub(super) fn items(desk: &Desk, plan: &Plan, sea: &Medium, flow: f64, t: f64) -> Vec<ItemRow> {
    let wet = plan.with_raw_water_at_best();
    let mut aside = Desk::of(desk.arranged);
    let props = sea.at(t);
    let mut rows = Vec::new();
    for (at, own) in plan.facts.runs.iter().enumerate() {
        let run = own.run;
        let reached = run.carries == Carries::RawWater && plan.any(Site::Run(at), &wet);
        let Some(laid) = reached.then(|| lay(&mut aside, run, &own.place)).flatten() else {
            continue;
        };
        let pieces = run.way.given().map_or(&[][..], Vec::as_slice);
        for (i, (piece, laid)) in pieces.iter().zip(laid).enumerate() {
            let taken: Option<f64> = laid
                .parts
                .iter()
                .map(|part| {
                    part.loss(Law::Smooth, flow * props.density, &props, 1.0)
                        .ok()
                })
                .sum();
            let Some(drop) = taken else { continue };
            let speed = laid.bore.map(|bore| flow / (PI / 4.0 * bore * bore));
            rows.push(ItemRow {
                subject: format!("{}.{}", run.key, piece.name),
                title: format!("{} of {} ({})", piece.name, run.key, own.mark),
                run: run.key.clone(),
                place: format!("{}.way[{i}]", own.place),
                flow,
                drop,
                temperatures: [t, t],
                speed,
                bore: laid.bore,
                reynolds: speed
                    .zip(laid.bore)
                    .map(|(speed, bore)| speed * bore * props.density / props.viscosity),
                stuff: laid.stuff,
                soft: laid.soft && matches!(piece.kind, PieceKind::Hose { .. }),
                raw: true,
                ..ItemRow::default()
            });
        }
    }
    rows
}
