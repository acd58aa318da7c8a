//! The owner's shelf and prices, by the names that the list goes by.

use boat::{Boat, piece_text};
use quantity::Quantity;

use crate::stages::fit;
use crate::stages::order::{Measure, Own, Tag};

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
