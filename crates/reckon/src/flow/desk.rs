//! What is looked up in the boat file while a circuit is put together: values, what may stand in for them,
//! and what is missing.

use boat::{Arranged, Assume, KeyPath, Told};
use quantity::{Quantity, Reading};
use reference::{Limits, Sourced};

use crate::stages::flow::{Assumed, Missing};
use crate::verdict::{Settles, Words};

/// The value of the file in SI; the middle of two readings that differ.
pub(crate) fn middle_of<Q: Quantity>(told: &Told<Reading<Q>>) -> Option<f64> {
    match told {
        Told::Given(reading) => Some(reading.value.si()),
        Told::Two(one, other) => Some(0.5 * (one.value.si() + other.value.si())),
        Told::LeftOut | Told::Unknown | Told::Choose => None,
    }
}

/// Looks things up, and keeps a list of what stood in and of what was missing.
pub(super) struct Desk<'a> {
    pub(super) arranged: &'a Arranged,
    pub(super) assumed: Vec<Assumed>,
    pub(super) missing: Vec<Missing>,
    pub(super) notes: Vec<Words>,
}

/// A figure of the trade that no table holds: common practice, no source.
pub(super) const PRACTICE: &str = "common practice, no source";

impl<'a> Desk<'a> {
    pub(super) fn of(arranged: &'a Arranged) -> Self {
        Self {
            arranged,
            assumed: Vec::new(),
            missing: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// The value of the file in SI; the middle of two readings that differ, which is said.
    pub(super) fn value<Q: Quantity>(
        &mut self,
        told: &Told<Reading<Q>>,
        place: &str,
    ) -> Option<f64> {
        if let Told::Two(one, other) = told {
            self.note(Words::of(|system| {
                let show = |reading: &Reading<Q>| quantity::show(reading.value, None, system);
                format!(
                    "Two readings stand for {place}, {} and {}; the middle is reckoned with.",
                    show(one),
                    show(other)
                )
            }));
        }
        middle_of(told)
    }

    /// Half of the interval that the file gives with a value, where it gives one [SI].
    pub(super) fn half<Q: Quantity>(&self, told: &Told<Reading<Q>>) -> f64 {
        let instruments = &self.arranged.boat.instruments;
        told.given()
            .and_then(|reading| reading.measured(instruments, quantity::Instrument::Maker))
            .map_or(0.0, |measured| {
                0.5 * (measured.high.si() - measured.low.si())
            })
    }

    pub(super) fn note(&mut self, note: Words) {
        if !self.notes.contains(&note) {
            self.notes.push(note);
        }
    }

    /// Notes that something is missing.
    pub(super) fn miss(&mut self, why: String, place: String, how: &str) {
        let missing = Missing {
            why,
            settles: Settles {
                place,
                how: how.into(),
            },
        };
        if !self.missing.contains(&missing) {
            self.missing.push(missing);
        }
    }

    /// Whether the file lets a typical value stand in.
    pub(super) fn may(&self, what: Assume) -> bool {
        self.arranged.boat.job.assume.contains(&what)
    }

    /// A typical value, where the file lets one stand in; else it is missing.
    pub(super) fn typical(
        &mut self,
        by: Assume,
        what: &str,
        value: Words,
        source: String,
        place: &KeyPath,
        how: &str,
    ) -> bool {
        if self.may(by) {
            let assumed = Assumed {
                what: what.into(),
                value,
                source,
                place: place.clone(),
            };
            if !self.assumed.contains(&assumed) {
                self.assumed.push(assumed);
            }
            return true;
        }
        self.miss(
            format!(
                "{what} is not known, and no typical value may stand in: “{}” is not in `assume`.",
                word(by)
            ),
            place.clone(),
            how,
        );
        false
    }

    /// The middle of published limits in SI, where the file lets it stand in.
    pub(super) fn middle<Q: Quantity>(
        &mut self,
        by: Assume,
        what: &str,
        limits: &Sourced<Limits<Q>>,
        place: &KeyPath,
        how: &str,
    ) -> Option<f64> {
        let (low, high) = (limits.value.low, limits.value.high);
        let words = Words::of(|system| quantity::show_range(low, high, system));
        let cite = limits.source.cite();
        self.typical(by, what, words, cite, place, how)
            .then(|| limits.value.middle().si())
    }
}

/// The word by which the file lets something be assumed.
pub(super) fn word(by: Assume) -> &'static str {
    match by {
        Assume::HoseWall => "hose wall",
        Assume::HoseBuild => "hose build",
        Assume::BeadWidth => "bead width",
        Assume::BandWidth => "band width",
        Assume::BeadHeight => "bead height",
        Assume::PumpCurve => "pump curve",
        Assume::CoilBore => "coil bore",
        Assume::KeelWall => "keel wall",
        Assume::EngineInside => "engine inside",
        Assume::HeatShare => "heat share",
        Assume::EngineDrop => "engine drop",
        Assume::Stat => "stat",
        Assume::CoolerDrop => "cooler drop",
        Assume::Paint => "paint",
        Assume::Fouling => "fouling",
        Assume::CoolerPlace => "cooler place",
        Assume::PumpSpeed => "pump speed",
        Assume::HoseStiffness => "hose stiffness",
    }
}
