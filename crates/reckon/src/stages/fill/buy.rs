//! What to buy for a filling: the same recipe, at the most that the circuit may hold.

use quantity::{Quantity, Ratio, Volume};

use super::{FillInput, Numbers};
use crate::solve::mix::{Fill, Recipe};
use crate::stages::types::Value;

/// What to buy for a filling; volumes in m³.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ToBuy {
    /// Product and water of the recipe, as `fill` says them.
    pub(crate) recipe: (f64, f64),
    /// Product and water at the most that was measured.
    pub(crate) most: (f64, f64),
    /// What stays inside at the least, where it is taken off.
    pub(crate) taken_off: Option<f64>,
    /// Old and new do not go together, so that water stays inside.
    pub(crate) flushed: bool,
}

/// What to buy for a circuit of this volume; `None` where no share is known.
pub(crate) fn to_buy(input: &FillInput, volume: &Value<Volume>) -> Option<ToBuy> {
    let all = &volume.measured;
    if input.waterless() {
        // It is the filling alone, and nothing may be inside.
        return Some(ToBuy {
            recipe: (all.value.si(), 0.0),
            most: (all.high.si(), 0.0),
            taken_off: None,
            flushed: false,
        });
    }
    let numbers = Numbers::of(input);
    let wanted = numbers.share()?;
    let parts = |volume: f64, inside: f64, inside_share: f64| {
        let fill = Fill {
            volume,
            inside,
            inside_share,
            wanted,
            product: numbers.product,
        };
        match fill.recipe() {
            Some(Recipe::Pour { product, water }) => (product, water),
            Some(Recipe::NoRoom { product, .. }) => (product, 0.0),
            Some(Recipe::TooRich { water, .. }) => (0.0, water),
            // A product that is weaker than what is wanted fills it alone.
            Some(Recipe::ProductTooWeak) | None => (volume, 0.0),
        }
    };
    // What is not known is not taken off: rather a litre too many than too few.
    let known = input.wrong.is_none() && input.volume.is_ok();
    let share = match (&input.inside_share, numbers.flushed) {
        (_, true) => Some((0.0, 0.0, 0.0)),
        (Ok(share), false) => {
            let of = |share: Ratio| share.to_f64();
            let measured = &share.measured;
            Some((of(measured.low), of(measured.value), of(measured.high)))
        }
        (Err(_), false) => None,
    };
    let Some((inside, (weak, nominal, rich))) = input
        .inside
        .as_ref()
        .ok()
        .filter(|_| known)
        .map(|inside| &inside.measured)
        .zip(share)
    else {
        return Some(ToBuy {
            recipe: parts(all.value.si(), 0.0, 0.0),
            most: parts(all.high.si(), 0.0, 0.0),
            taken_off: None,
            flushed: numbers.flushed,
        });
    };
    let recipe = parts(all.value.si(), inside.value.si(), nominal);
    let least = inside.low.si();
    // The weaker what stays inside, the more product; the richer, the more water.
    let (product, _) = parts(all.high.si(), least, weak);
    let (_, water) = parts(all.high.si(), least, rich);
    Some(ToBuy {
        recipe,
        most: (product.max(recipe.0), water.max(recipe.1)),
        taken_off: (least > 0.0).then_some(least),
        flushed: numbers.flushed,
    })
}
