//! The places of a run that the words beside its views tell of, each by a letter.

use reckon::Place;

use super::HoseForm;
use super::look::{minus, times};

/// A place that the words tell of, by a small letter.
pub(super) struct Told {
    pub(super) letter: char,
    pub(super) at: Place,
    pub(super) words: String,
}

/// The places that the words tell of, each by a letter.
pub(super) fn told(form: &HoseForm<'_>) -> Vec<Told> {
    let (run, units) = (form.run, form.units);
    let mut told: Vec<(Place, String)> = Vec::new();
    let named = |name: &str, text: &str| {
        // The words may say what it is already.
        if text.to_lowercase().starts_with(name) {
            text.to_owned()
        } else {
            format!("{name}: {text}")
        }
    };
    if let Some(gap) = &run.gap {
        let text = gap.text.in_units(units);
        let words = named("tightest gap", text);
        let words = if words.contains(gap.with.as_str()) {
            words
        } else {
            format!("{words} to {}", gap.with)
        };
        told.push((middle(gap.from, gap.to), words));
    }
    if let Some(bend) = &run.bend {
        told.push((bend.at, named("tightest bend", bend.text.in_units(units))));
    }
    for (name, spots) in [("high spot", &run.highs), ("low spot", &run.lows)] {
        for spot in spots {
            told.push((spot.at, named(name, spot.text.in_units(units))));
        }
    }
    let letters = ('a'..='z').cycle();
    told.into_iter()
        .zip(letters)
        .map(|((at, words), letter)| Told { letter, at, words })
        .collect()
}

/// Half way between two places.
pub(super) fn middle(a: Place, b: Place) -> Place {
    times(minus(a, times(b, -1.0)), 0.5)
}
