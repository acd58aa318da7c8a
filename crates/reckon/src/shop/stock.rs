//! The owner's shelf and prices by the names that the list goes by, and what a hose or cuff is as it is sold.

use boat::{Boat, piece_text};
use quantity::{Length, Quantity};

use super::Wanted;
use crate::job::KeptHose;
use crate::stages::fit;
use crate::stages::fit::hoses::{self, Window};
use crate::stages::order::{Measure, Own, Tag};
use crate::stages::types::{HoseFacts, Outside, ShelfHose};

pub(super) fn own_clips(boat: &Boat) -> Vec<Own> {
    let clips = boat.stock.clips.iter();
    clips
        .filter_map(|own| {
            Some(Own {
                name: fit::clip_name(&crate::facts::wanted(&own.clip))?,
                count: own.count,
                place: own.place.clone(),
            })
        })
        .collect()
}

pub(super) fn own_parts(boat: &Boat) -> Vec<Own> {
    let parts = boat.stock.parts.iter();
    parts
        .map(|own| Own {
            name: piece_text(&own.kind),
            count: own.count,
            place: own.place.clone(),
        })
        .collect()
}

pub(super) fn tags(boat: &Boat) -> Vec<Tag> {
    let tag = |entry: &boat::PriceEntry| Tag {
        name: entry.name.clone(),
        each: entry
            .each
            .given()
            .map(|price| (price.amount, price.currency.clone())),
        per: entry.per.given().map(|per| match per {
            boat::PricePer::Piece => Measure::Pieces,
            boat::PricePer::Metre => Measure::Metres,
            boat::PricePer::Litre => Measure::Litres,
        }),
        pack: entry.pack.given().copied(),
        days: entry.days.given().copied(),
        returnable: entry.returnable.given().copied(),
        shop: entry.shop.given().cloned(),
        lengths: entry.lengths.iter().map(|length| length.si()).collect(),
    };
    boat.prices.iter().map(tag).collect()
}

/// The cuff of a moulded piece as a shop sells it; nothing for a length of hose.
pub(super) fn cuff_as_bought(kept: &KeptHose) -> Option<(HoseFacts, Option<Window>)> {
    kept.input.moulded.as_ref()?;
    let size = kept.output.hose.as_ref().ok()?.size?;
    hoses::bought(&kept.input, size)
}

/// Whether a piece is judged as cut from this entry of the shelf, or might be.
pub(super) fn is_from(wanted: &Wanted, own: &ShelfHose) -> bool {
    let Ok((kind, _)) = &wanted.hose.build else {
        return false;
    };
    let same = wanted
        .hose
        .size
        .is_some_and(|size| hoses::is_same_size(size, own.size));
    let of_it = match (&wanted.hose.bore, &own.bore) {
        (Ok(judged), Some(own)) => judged.place == own.place,
        _ => true,
    };
    wanted.hose.own && same && of_it && own.build.is_none_or(|build| build == *kind)
}

/// Outside diameter of a hose when free, where it is known.
pub(crate) fn outside(facts: &HoseFacts) -> Option<Length> {
    match (&facts.outside, &facts.bore) {
        (Ok(Outside::Over(over)), _) => Some(over.measured.value),
        (Ok(Outside::Wall(wall)), Ok(bore)) => {
            Some(bore.measured.value + wall.measured.value + wall.measured.value)
        }
        _ => None,
    }
}

impl Wanted<'_> {
    /// Whether a spigot that it goes on is not measured, so that its size may yet turn out wrong.
    pub(super) fn has_unmeasured_end(&self) -> bool {
        self.ends.iter().any(|end| end.spigot.od.is_err())
    }
}
