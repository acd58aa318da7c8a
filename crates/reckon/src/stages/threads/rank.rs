//! The threads of the tables ranked by what was read of one.

use quantity::{Length, NominalSize, Quantity, Reading, Tolerance};
use reference::Limits;
use reference::thread::{Family, ThreadSex, ThreadSize, sizes};

use crate::solve::thread::{
    FITS_WITHIN, Form, Look, Looks, Misfit, STANDS_WITHIN, Wears, likelihood, misfit, shares,
    slope_deviation,
};
use crate::stages::types::Value;

/// A length over some pitches.
#[derive(Clone, Debug, PartialEq)]
pub struct PitchLook {
    /// The length.
    pub over: Value<Length>,
    /// Over how many pitches; over 0.
    pub count: f64,
}

impl PitchLook {
    /// The pitch, with its standard uncertainty [m].
    pub fn look(&self) -> Look {
        Look {
            value: self.over.measured.value.si() / self.count,
            deviation: self.over.measured.standard_uncertainty() / self.count,
        }
    }
}

/// A change of diameter along a thread.
#[derive(Clone, Debug, PartialEq)]
pub struct TaperLook {
    /// By how much, the sign dropped.
    pub change: Value<Length>,
    /// Over what length.
    pub over: Value<Length>,
}

impl TaperLook {
    /// The slope, with its standard uncertainty.
    pub fn look(&self) -> Look {
        let of = |value: &Value<Length>| Look {
            value: value.measured.value.si(),
            deviation: value.measured.standard_uncertainty(),
        };
        let (change, over) = (of(&self.change), of(&self.over));
        Look {
            value: (change.value / over.value).abs(),
            deviation: slope_deviation(change, over),
        }
    }
}

/// What was read of one thread.
#[derive(Clone, Debug, PartialEq)]
pub struct ThreadLooks {
    /// Male or female.
    pub sex: ThreadSex,
    /// Largest diameter of a male, smallest of a female.
    pub diameter: Value<Length>,
    /// Its pitch, where it was measured.
    pub pitch: Option<PitchLook>,
    /// Its taper, where it was measured.
    pub taper: Option<TaperLook>,
}

impl ThreadLooks {
    fn numbers(&self) -> Looks {
        let measured = &self.diameter.measured;
        Looks {
            diameter: Look {
                value: measured.value.si(),
                deviation: measured.standard_uncertainty(),
            },
            wears: match self.sex {
                ThreadSex::Male => Wears::Small,
                ThreadSex::Female => Wears::Large,
            },
            pitch: self.pitch.as_ref().map(PitchLook::look),
            taper: self.taper.as_ref().map(TaperLook::look),
        }
    }

    /// How far the readings lie from a size; `None` where its family has no thread of that sex.
    pub fn misfit(&self, size: &ThreadSize) -> Option<Misfit> {
        form(size, self.sex).map(|form| misfit(&form, &self.numbers()))
    }
}

/// One thread that it may be.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// Which.
    pub size: &'static ThreadSize,
    /// Where its diameter may lie, anywhere along it.
    pub zone: Limits<Length>,
    /// How far the readings lie from it.
    pub misfit: Misfit,
    /// Its chance, where each thread of the tables was as likely beforehand.
    pub chance: f64,
}

/// The threads that it may be.
#[derive(Clone, Debug, PartialEq)]
pub struct Ranking {
    /// Those that stand, the likeliest first; where nothing fits, the nearest.
    pub stands: Vec<Candidate>,
    /// Whether the best is within reach of the readings at all.
    pub fits: bool,
    /// The chance that is left for all others of the tables.
    pub others: f64,
}

impl Ranking {
    /// The likeliest, where any fits.
    pub fn best(&self) -> Option<&Candidate> {
        self.stands.first().filter(|_| self.fits)
    }

    /// The only one that stands.
    pub fn only(&self) -> Option<&Candidate> {
        self.best().filter(|_| self.stands.len() == 1)
    }
}

/// Where the diameter of a sound thread may lie, wherever along it a caliper is put; `None` where its
/// family has no thread of that sex.
pub fn zone(size: &ThreadSize, sex: ThreadSex) -> Option<Limits<Length>> {
    let crest = |along: Length| match sex {
        ThreadSex::Male => size.male_crest(along).ok(),
        ThreadSex::Female => size.female_crest(along).ok(),
    };
    let near = crest(Length::mm(0.0))?.value;
    let far = match size
        .taper_lengths
        .filter(|_| size.family.taper().si() > 0.0)
    {
        Some(lengths) => crest(lengths.useful)?.value,
        None => near,
    };
    Some(Limits {
        low: near.low.min(far.low),
        high: near.high.max(far.high),
    })
}

fn form(size: &ThreadSize, sex: ThreadSex) -> Option<Form> {
    let zone = zone(size, sex)?;
    Some(Form {
        low: zone.low.si(),
        high: zone.high.si(),
        pitch: size.pitch.si(),
        taper: size.family.taper().si(),
    })
}

/// Ranks every thread of the tables. All that come within [`STANDS_WITHIN`] of the best stand.
pub fn rank(looks: &ThreadLooks) -> Ranking {
    let numbers = looks.numbers();
    let all: Vec<(&'static ThreadSize, Form)> = Family::ALL
        .into_iter()
        .flat_map(sizes)
        .filter_map(|size| Some((size, form(size, looks.sex)?)))
        .collect();
    let likelihoods: Vec<f64> = all
        .iter()
        .map(|(_, form)| likelihood(form, &numbers))
        .collect();
    let candidates = all
        .iter()
        .zip(shares(&likelihoods))
        .filter_map(|((size, form), chance)| {
            Some(Candidate {
                size,
                zone: Limits {
                    low: Length::from_si(form.low)?,
                    high: Length::from_si(form.high)?,
                },
                misfit: misfit(form, &numbers),
                chance,
            })
        });
    let mut candidates: Vec<Candidate> = candidates.collect();
    let total = |one: &Candidate| one.misfit.total();
    let best = candidates.iter().map(total).fold(f64::MAX, f64::min);
    candidates.retain(|one| total(one) <= best + STANDS_WITHIN);
    candidates.sort_by(|one, other| {
        let by_chance = other.chance.total_cmp(&one.chance);
        by_chance.then(total(one).total_cmp(&total(other)))
    });
    let others = 1.0 - candidates.iter().map(|one| one.chance).sum::<f64>();
    Ranking {
        fits: best <= FITS_WITHIN,
        others: others.max(0.0),
        stands: candidates,
    }
}

/// A size by name that was typed where a diameter is due.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ByName {
    /// The size.
    pub(super) size: NominalSize,
    /// A thread of that size, which measures something else.
    pub(super) thread: &'static ThreadSize,
}

/// Whether a diameter reads like the size by name of a pipe thread: a fraction of an inch, without a
/// tolerance, that no thread of such a diameter and pitch bears out.
pub(super) fn by_name(
    typed: &Reading<Length>,
    looks: &ThreadLooks,
    ranking: &Ranking,
) -> Option<ByName> {
    if typed.tolerance != Tolerance::Unstated {
        return None;
    }
    let pitch = looks.pitch.as_ref().map(PitchLook::look);
    if pitch.is_some() && ranking.fits {
        return None;
    }
    let in_inches = typed.unit.name == "in";
    let named = |size: &&'static ThreadSize| {
        let away = (size.size.as_length() - typed.value).to_mm().abs();
        let pitch_fits = pitch.map(|look| {
            let off = (look.value - size.pitch.si()).abs();
            off <= 3.0 * look.deviation
        });
        // Inches that are a size are one by name unless the pitch speaks against it; millimetres
        // only where the pitch speaks for it.
        away < 0.02 && pitch_fits.unwrap_or(in_inches)
    };
    [Family::G, Family::Npt]
        .into_iter()
        .filter(|family| family.has(looks.sex))
        .flat_map(sizes)
        .find(named)
        .map(|thread| ByName {
            size: thread.size,
            thread,
        })
}
