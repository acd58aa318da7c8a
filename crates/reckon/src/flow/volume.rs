//! Volume of the circuit, and whether the header has room for what it grows.

use boat::{ThingKind, Told};
use quantity::Quantity;
use reference::water::ATMOSPHERE;

use super::desk::Desk;
use super::draw::Drawn;
use crate::solve::net::Medium;
use crate::stages::flow::{Missing, VolumeRow};
use crate::verdict::Settles;

/// At which temperature a circuit is filled [°C]. Common practice, no source.
const FILLED: f64 = 15.0;

/// The volume row; `hot` is the warmest mean of the coolant in any state [°C].
pub(super) fn row(
    desk: &mut Desk,
    drawn: &Drawn,
    medium: &Medium,
    hot: Option<f64>,
    cap: Option<f64>,
) -> VolumeRow {
    let boat = &desk.arranged.boat;
    let coolant = boat.coolant.clone();
    let header = boat
        .things
        .iter()
        .find(|thing| thing.kind.given() == Some(&ThingKind::HeaderTank))
        .or_else(|| boat.things.iter().find(|thing| thing.engine.is_some()))
        .cloned();
    let mut row = VolumeRow {
        temperatures: [FILLED, hot.unwrap_or(FILLED)],
        cap,
        ..VolumeRow::default()
    };
    let mut unknown: Vec<String> = Vec::new();
    for (name, volume, from) in &drawn.volumes {
        if let Some(volume) = volume {
            row.parts.push((name.clone(), *volume, from.clone()));
        } else if !unknown.contains(name) {
            unknown.push(name.clone());
        }
    }
    if !unknown.is_empty() {
        let names = crate::say::list(&unknown, "and");
        row.missing.push(Missing {
            why: format!("the volume of {names} is not written"),
            settles: Settles {
                place: "coolant.drained".into(),
                how: "Meter what runs out when the circuit is drained, and write it; or find in the sheets what each part holds.".into(),
            },
        });
    }
    if let Some(header) = &header {
        let place = header.path();
        let told = header.engine.as_ref().map_or_else(
            || header.detail.volume.clone(),
            |engine| engine.extra.header_volume.clone(),
        );
        row.header = desk.value(&told, &format!("{place}.volume"));
        let above = header.engine.as_ref().map_or_else(
            || header.detail.above_mark.clone(),
            |engine| engine.extra.header_above_mark.clone(),
        );
        row.room = desk.value(&above, &format!("{place}.above_mark"));
        row.place = format!("{place}.above_mark");
        // A tank that is filled to its mark holds what its shape gives; without the room over the mark only
        // its whole volume is known.
        let cold = match (row.header, row.room) {
            (Some(whole), Some(room)) => Some(whole - room),
            _ => None,
        };
        match cold {
            Some(cold) => row.parts.push((format!("{} to its mark", header.key), cold, "as written".into())),
            None => row.missing.push(Missing {
                why: "the room over the header's cold mark is not written".into(),
                settles: Settles {
                    place: row.place.clone(),
                    how: "Fill the header to its cold mark, then pour in from a measure until it stands at the cap's seat: `above_mark = \"1.1 L\"`.".into(),
                },
            }),
        }
    }
    let metered = match (&coolant.drained, &coolant.volume) {
        (Told::Given(_), _) => desk
            .value(&coolant.drained, "coolant.drained")
            .map(|drained| {
                let stays = coolant
                    .inside
                    .volume
                    .given()
                    .map_or(0.0, |inside| inside.value.si());
                (drained + stays, "as drained")
            }),
        (_, Told::Given(_)) => desk
            .value(&coolant.volume, "coolant.volume")
            .map(|volume| (volume, "as written")),
        _ => None,
    };
    let sum: f64 = row.parts.iter().map(|(_, volume, _)| volume).sum();
    if let Some((volume, from)) = metered {
        row.whole = Some(volume);
        row.from = from.into();
        // What the parts hold matters no more.
        row.missing
            .retain(|missing| missing.settles.place != "coolant.drained");
    } else if row.missing.is_empty() {
        row.whole = Some(sum);
        row.from = "by bores and lengths".into();
    } else {
        row.from = "not known".into();
    }
    let (low, _) = medium.range();
    let cold = FILLED.max(low);
    let Some(hot) = hot else {
        // Nothing comes to rest, so that nobody can say how warm it gets.
        return row;
    };
    let growth = row
        .whole
        .map(|whole| whole * (medium.density(cold) / medium.density(hot) - 1.0));
    row.growth = growth;
    if let (Some(growth), Some(room)) = (growth, row.room) {
        // Between mark and seat the tank is taken as upright.
        let seat = header
            .as_ref()
            .and_then(|header| header.cap_height.given())
            .map(|seat| seat.value.si());
        row.levels = seat
            .filter(|seat| *seat > drawn.surface && room > 0.0)
            .map(|seat| {
                let rises = (seat - drawn.surface) * (growth / room).min(1.0);
                [drawn.surface, drawn.surface + rises]
            });
        row.overflow = Some((growth - room).max(0.0));
        // The air over the coolant, closed by the cap, is pressed together.
        row.air = (room > growth).then(|| {
            let warmer = (hot + 273.15) / (FILLED + 273.15);
            ATMOSPHERE * (room / (room - growth) * warmer - 1.0)
        });
    }
    row
}
