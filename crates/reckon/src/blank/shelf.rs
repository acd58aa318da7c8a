//! The boxes of the hose by the metre: its own bore and outside, and what it stands.

use boat::{PieceKind, Size, StockHose};
use quantity::{Instrument, NominalSize};

use super::{Entry, Sheet, Station, SurveyBox, held_if, hose_name};
use crate::stages::fit::hoses::is_same_size;

impl Sheet<'_> {
    /// The hoses that the runs name.
    pub(super) fn shelf(&mut self) {
        let station = Station {
            place: "stock.hose".into(),
            title: "shelf and shop, hose by the metre".into(),
        };
        let mut named: Vec<(NominalSize, Option<boat::HoseBuild>)> = Vec::new();
        for run in &self.arranged.boat.runs {
            for piece in run.way.given().map_or(&[][..], Vec::as_slice) {
                if let PieceKind::Hose {
                    size: Size::Named(size),
                    build,
                } = &piece.kind
                    && !named.contains(&(*size, *build))
                {
                    named.push((*size, *build));
                }
            }
        }
        for (size, build) in named {
            let shelf = &self.arranged.boat.stock.hose;
            let own: Vec<&StockHose> = shelf
                .iter()
                .filter(|own| {
                    is_same_size(own.size, size) && (own.build == build || build.is_none())
                })
                .collect();
            let part = hose_name(size, build);
            let works = own.iter().find_map(|own| own.works_at.as_ref());
            for (name, says, entry, instrument, held) in [
                (
                    "id",
                    "Bore of the hose, at a clean cut.",
                    Entry::Length,
                    Instrument::Caliper,
                    held_if(own.iter().find_map(|own| own.id.as_ref())),
                ),
                (
                    "od",
                    "Outside diameter of the hose, when free.",
                    Entry::Length,
                    // As the answer takes it where the file says nothing else.
                    Instrument::Caliper,
                    held_if(own.iter().find_map(|own| own.od.as_ref())),
                ),
                (
                    "works",
                    "Working pressure printed on the hose or in its sheet, with its temperature.",
                    Entry::PressureAtTemperature,
                    Instrument::Maker,
                    held_if(works.map(|(pressure, _)| pressure)),
                ),
            ] {
                let written = held.written("", false, Some(instrument), &self.file.instruments);
                self.boxes.push(SurveyBox {
                    station: station.clone(),
                    part: part.clone(),
                    name: name.into(),
                    place: "stock.hose".into(),
                    entry,
                    says: says.into(),
                    instrument: Some(instrument),
                    holds: held.holds,
                    written,
                    stand_in: None,
                });
            }
        }
    }
}
