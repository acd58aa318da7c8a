//! Fill: what to pour, what comes out, what cold and heat it stands, and whether the header has room for it.

mod buy;
mod facts;
mod lows;
mod recipe;
mod strength;

pub(crate) use buy::to_buy;
pub use facts::{FillInput, FillRow, KindFacts, Lows, ReadingFacts, Tester};

use quantity::{
    AbsolutePressure, GaugePressure, Quantity, Ratio, Temperature, TemperatureDifference, Volume,
};
use reference::media::{
    self, Glycol, MassFraction, Strength, VolumeFraction, density, pure_density,
};
use reference::water::ATMOSPHERE;

use self::facts::Together;
use self::strength::Mix;
use crate::say;
use crate::solve::mix::{Fill, Recipe, flushes};
use crate::verdict::{Number, Verdict};

/// What the stage gives.
#[derive(Clone, Debug, PartialEq)]
pub struct FillOutput {
    /// The figures.
    pub row: FillRow,
    /// The verdicts.
    pub verdicts: Vec<Verdict>,
}

/// How warm it is when she is filled [°C]; common practice, no source.
const COLD: f64 = 15.0;
/// How hot a circuit gets where no alarm is written [°C]: the top of what is usual; common practice, no source.
const HOT: f64 = 95.0;
/// Where the tables of density end [°C].
const TABLE_END: f64 = 100.0;
/// How much old coolant may be left when the family changes; common practice, no source.
const OLD_LEFT: f64 = 0.05;
/// How far published freezing points lie apart [K]: by the rows of `media_printed.csv` and `media_sibling.csv`.
const TABLES_APART: f64 = 3.0;

/// Reckons what to pour and judges it.
pub fn fill(input: &FillInput) -> FillOutput {
    let numbers = Numbers::of(input);
    let mut verdicts = strength::verdicts(input, &numbers);
    verdicts.extend(recipe::verdicts(input, &numbers));
    FillOutput {
        row: numbers.row(input),
        verdicts: verdicts.into_iter().map(Verdict::spoken).collect(),
    }
}

/// What several verdicts share, as plain numbers: volumes in m³, shares of one.
struct Numbers {
    glycol: Option<Glycol>,
    /// The share that is wanted.
    wanted: Option<f64>,
    /// The share that the recipe is for; see [`strength::mix`].
    mix: Option<Mix>,
    /// The share in what is bought.
    product: f64,
    volume: Option<f64>,
    inside: Option<f64>,
    inside_share: Option<f64>,
    /// Old and new do not go together: the old is flushed out first, and water stays inside.
    flushed: bool,
    recipe: Option<Recipe>,
}

impl Numbers {
    fn of(input: &FillInput) -> Self {
        let waterless = input.waterless();
        // Of a coolant without water no table of mixes holds.
        let glycol = input
            .kind
            .as_ref()
            .ok()
            .filter(|_| !waterless)
            .and_then(|kind| kind.glycol);
        let wanted = input.wanted.as_ref().ok().map(|wanted| wanted.to_f64());
        let nominal = |known: &crate::stages::types::Known<Ratio>| {
            known
                .as_ref()
                .ok()
                .map(|value| value.measured.value.to_f64())
        };
        let litres = |known: &crate::stages::types::Known<Volume>| {
            known.as_ref().ok().map(|value| value.measured.value.si())
        };
        let product = input
            .product
            .as_ref()
            .map(|value| value.measured.value.to_f64())
            // A product without any concentrate is a slip of the pen.
            .filter(|share| *share > 0.0)
            .unwrap_or(1.0);
        let (volume, mut inside) = (litres(&input.volume), litres(&input.inside));
        if input.wrong.is_some() {
            // One of the two volumes is wrong, so that no recipe holds.
            inside = None;
        }
        let flushed = !waterless && input.together() == Together::No;
        // Of nothing the strength does not matter.
        let inside_share = nominal(&input.inside_share).or((inside == Some(0.0)).then_some(0.0));
        let mut numbers = Self {
            glycol,
            wanted,
            mix: strength::mix(input, glycol, wanted).filter(|_| !waterless),
            product,
            volume,
            inside,
            inside_share,
            flushed,
            recipe: None,
        };
        // Where nothing runs out, nothing can be flushed out either.
        let stuck = flushed && numbers.flushes().is_none();
        numbers.recipe = numbers
            .fill()
            .filter(|_| !stuck)
            .and_then(|fill| fill.recipe());
        numbers
    }

    /// The share that the recipe is for.
    fn share(&self) -> Option<f64> {
        self.mix.as_ref().map(|mix| mix.share)
    }

    /// The circuit as it is when the recipe begins, where all of it is known.
    fn fill(&self) -> Option<Fill> {
        Some(Fill {
            volume: self.volume?,
            inside: self.inside?,
            inside_share: if self.flushed {
                0.0
            } else {
                self.inside_share?
            },
            wanted: self.share()?,
            product: self.product,
        })
    }

    /// Share of the circuit that runs out at each draining; nothing where more is inside than it holds.
    fn drains(&self) -> Option<f64> {
        let drains = 1.0 - self.inside? / self.volume?;
        (0.0..=1.0).contains(&drains).then_some(drains)
    }

    /// Drainings and fillings until the old coolant is thin enough for another family.
    fn flushes(&self) -> Option<u32> {
        flushes(1.0, 0.0, OLD_LEFT, self.drains()?)
    }

    fn row(&self, input: &FillInput) -> FillRow {
        let volume = |cubic: f64| Volume::from_si(cubic).map(|volume| say::number(volume, None));
        let litres = |cubic: Option<f64>| cubic.and_then(volume);
        let ratio = |share: Option<f64>| {
            let share = share.and_then(Ratio::from_si);
            share.map(|share| say::number(share, None))
        };
        let (mut pour, mut water, mut drain_first) = (None, None, None);
        match self.recipe {
            Some(Recipe::Pour { product, water: w }) => (pour, water) = (Some(product), Some(w)),
            Some(Recipe::NoRoom { drain, product }) => {
                (drain_first, pour, water) = (Some(drain), Some(product), Some(0.0));
            }
            Some(Recipe::TooRich { drain, water: w }) => {
                (drain_first, pour, water) = (Some(drain), Some(0.0), Some(w));
            }
            Some(Recipe::ProductTooWeak) | None => {}
        }
        let per_ten = self
            .share()
            .filter(|share| *share <= self.product)
            .map(|share| 0.01 * share / self.product);
        let ready = self
            .fill()
            .filter(|fill| fill.inside > 0.0)
            .map(|fill| fill.topped_up(fill.wanted));
        let mix = self.glycol.zip(self.share());
        // What is sold as a mix has shrunk already, and a mix never grows by mixing.
        let short = mix
            .filter(|_| self.product >= 1.0)
            .and_then(|(glycol, share)| shrinks(glycol, share))
            .filter(|short| *short > 0.0);
        let grows = mix.and_then(|(glycol, share)| expands(glycol, share, hottest(input)));
        FillRow {
            kind: input
                .kind
                .as_ref()
                .map(|kind| kind.words.clone())
                .unwrap_or_default(),
            wanted: ratio(self.wanted),
            product: ratio(Some(self.product)),
            volume: litres(self.volume),
            inside: litres(self.inside),
            inside_share: ratio(self.inside_share),
            mix: ratio(self.share()),
            mix_why: self.mix.as_ref().and_then(|mix| mix.why.clone()),
            flush_first: self.flushed && self.recipe.is_some(),
            drain_first: litres(drain_first),
            pour: litres(pour),
            water: litres(water),
            pour_in_ten: litres(per_ten),
            water_in_ten: litres(per_ten.map(|pour| 0.01 - pour)),
            ready_mix: ratio(ready),
            ready_mix_freezes: ready.and_then(|share| freezing(self.glycol?, share)),
            freezes: mix.and_then(|(glycol, share)| freezing(glycol, share)),
            boils_open: mix.and_then(|(glycol, share)| boiling(glycol, share, None)),
            boils_under_cap: mix.and_then(|(glycol, share)| {
                boiling(glycol, share, Some(input.cap.as_ref()?.measured.low))
            }),
            // All that is mixed counts, what stays inside too, less what that has shrunk already.
            shrinks: short
                .zip(pour.zip(water))
                .and_then(|(share, (pour, water))| {
                    let inside = self.inside.unwrap_or(0.0) - drain_first.unwrap_or(0.0);
                    let before = mix
                        .zip(self.inside_share)
                        .and_then(|((glycol, _), old)| shrinks(glycol, old))
                        .filter(|before| *before > 0.0)
                        .unwrap_or(0.0);
                    volume(share * (pour + water + inside) - before * inside)
                }),
            expands_by: ratio(grows),
            expands: grows
                .zip(self.volume)
                .and_then(|(grows, all)| volume(whole(all, grows * all))),
            expands_to: say::number(hottest(input), Some(TemperatureDifference::kelvin(2.0))),
            drains: ratio(self.drains()),
            // Water is the last thing that may stay in a circuit for coolant without it.
            flushes: self.flushes().filter(|_| !input.waterless()),
        }
    }
}

/// The hottest that the coolant gets before the alarm sounds, or the top of what is usual.
fn hottest(input: &FillInput) -> Temperature {
    let alarm = input.hottest.as_ref().map(|alarm| alarm.measured.high);
    alarm.unwrap_or(Temperature::celsius(HOT))
}

/// A freezing point to whole degrees: the tables agree no better.
fn freezing(glycol: Glycol, share: f64) -> Option<Number> {
    let freezes = media::freezes_at(glycol, VolumeFraction::of(share)?).ok()?;
    Some(degrees(freezes.value))
}

fn degrees(temperature: Temperature) -> Number {
    say::number(temperature, Some(TemperatureDifference::kelvin(2.0)))
}

fn boiling(glycol: Glycol, share: f64, cap: Option<GaugePressure>) -> Option<Number> {
    let air = AbsolutePressure::of_si(ATMOSPHERE);
    let pressure = cap.map_or(Some(air), |cap| cap.above(air))?;
    let boils = media::boils_at(glycol, VolumeFraction::of(share)?, pressure).ok()?;
    Some(degrees(boils.value))
}

/// A volume in steps that are printed whole for a circuit of this size, so that sums add up as they are read.
fn whole(circuit: f64, cubic: f64) -> f64 {
    let step = if circuit < 0.05 { 1e-5 } else { 1e-4 };
    (cubic / step).round() * step
}

/// By how much of itself a fresh mix is smaller than its parts, at 20 °C.
fn shrinks(glycol: Glycol, share: f64) -> Option<f64> {
    let by_volume = VolumeFraction::of(share)?;
    let by_mass: MassFraction = by_volume.to_mass(glycol);
    let mix = density(glycol, by_mass, Temperature::celsius(20.0))
        .ok()?
        .value;
    let parts = share * pure_density(Some(glycol)).value.to_kg_per_m3()
        + (1.0 - share) * pure_density(None).value.to_kg_per_m3();
    Some(1.0 - parts / mix.to_kg_per_m3())
}

/// By how much of itself the mix grows from a cold filling up to this heat.
fn expands(glycol: Glycol, share: f64, to: Temperature) -> Option<f64> {
    let share = VolumeFraction::of(share)?;
    let hot = to.min(Temperature::celsius(TABLE_END));
    let cold = density(glycol, share, Temperature::celsius(COLD))
        .ok()?
        .value;
    Some(cold / density(glycol, share, hot).ok()?.value - 1.0)
}
