//! Pressure: what each place comes to with the cap holding, against what its weakest part stands.

use quantity::Kind;

use super::{
    COMPUTED, Case, HOT, Named, PRACTICE, SOLVED, by_state, input, kpa, of_pascals, percent,
    settles, subject, unmeasured, verdict,
};
use crate::stages::flow::row::PlaceRow;
use crate::stages::types::counted_names;
use crate::verdict::{Basis, Grade, Margin, Verdict, Words};

/// The share of its rating that a part should not pass in use. Common practice, no source.
const SHARE: f64 = 0.8;

/// A place in the state in which its pressure is highest.
struct Highest<'c> {
    named: &'c Named<'c>,
    place: &'c PlaceRow,
    pressure: f64,
}

impl Highest<'_> {
    /// Pressure over what its weakest part stands, where that is told.
    fn share(&self) -> Option<f64> {
        let (rated, _) = self.place.rated.as_ref()?;
        (*rated > 0.0).then(|| self.pressure / rated)
    }

    /// The part that is the weakest there.
    fn part(&self) -> &str {
        self.place
            .rated
            .as_ref()
            .map_or("", |(_, part)| part.as_str())
    }
}

/// Judges the family.
pub(super) fn judge(case: &Case, out: &mut Vec<Verdict>) {
    let all = highest(case);
    let mut rated: Vec<(&Highest, f64)> = all
        .iter()
        .filter_map(|own| Some((own, own.share()?)))
        .collect();
    rated.sort_by(|a, b| b.1.total_cmp(&a.1));
    let before = out.len();
    // One verdict for each part that is loaded too much, at the place where it is worst.
    let mut said_of: Vec<&str> = Vec::new();
    for (own, share) in &rated {
        if *share > SHARE && !said_of.contains(&own.part()) {
            said_of.push(own.part());
            out.push(loaded(case, own, *share));
        }
    }
    if let Some((own, share)) = rated.first()
        && out.len() == before
    {
        out.push(summary(case, own, *share, rated.len()));
    }
}

/// Every place once, in its highest state.
fn highest<'c>(case: &'c Case<'c>) -> Vec<Highest<'c>> {
    let mut all: Vec<Highest<'c>> = Vec::new();
    for (named, figures) in case.steady() {
        for place in &figures.places {
            let own = Highest {
                named,
                place,
                pressure: place.capped.unwrap_or(place.open),
            };
            match all.iter().position(|known| known.place.name == place.name) {
                Some(at) if own.pressure > all[at].pressure => all[at] = own,
                Some(_) => {}
                None => all.push(own),
            }
        }
    }
    all
}

/// What the pressure is, for a sentence.
fn by_cap(own: &Highest) -> &'static str {
    match own.place.capped {
        Some(_) => "with the cap holding",
        None => "with no cap counted",
    }
}

/// A place over its rating, or near it.
fn loaded(case: &Case, own: &Highest, share: f64) -> Verdict {
    let grade = if share > 1.0 {
        Grade::Unsound
    } else {
        Grade::Marginal
    };
    let whole = subject(&own.place.name, &own.place.title, &case.facts.rating_place);
    let rated = own.pressure / share;
    let because = Words::of(|system| {
        format!(
            "In {} it comes to {} {}, {} of the {} that {} stands.",
            own.named.at(system),
            kpa(own.pressure, system),
            by_cap(own),
            percent(share),
            kpa(rated, system),
            own.part()
        )
    });
    let remedy = "Take a part that stands more, or a cap of a lower figure if the margin to boiling allows it.";
    let mut said = verdict(&whole, "pressure", grade, because, remedy);
    if share > 1.0 {
        said.basis = Basis::Physics;
    }
    said.caution = Some(HOT.into());
    working(case, own, &mut said);
    said
}

/// The place that comes nearest to its rating; not sound where the cap is not known.
fn summary(case: &Case, own: &Highest, share: f64, count: usize) -> Verdict {
    let because = Words::of(|system| {
        format!(
            "Of {} whose rating is told, {} comes nearest to it: {} in {} {}, {} of what {} stands.",
            counted_names(count, "place"),
            own.place.title,
            kpa(own.pressure, system),
            own.named.at(system),
            by_cap(own),
            percent(share),
            own.part()
        )
    });
    let whole = case.circuit();
    let mut said = if own.place.capped.is_some() {
        verdict(&whole, "pressure", Grade::Sound, because, "")
    } else {
        let how = "Read the figure on the cap when the engine is cold, and write it.";
        unmeasured(
            &whole,
            "pressure",
            because,
            &settles(&case.facts.cap_place, how),
        )
    };
    working(case, own, &mut said);
    said
}

/// The place's pressures in all states, and its rating.
fn working(case: &Case, own: &Highest, said: &mut Verdict) {
    if let Some((rated, part)) = &own.place.rated {
        said.margin = Some(Margin {
            value: own.pressure,
            deviation: None,
            low: None,
            high: Some(SHARE * rated),
            kind: Kind::PressureDifference,
        });
        input(said, "p_r", part, of_pascals(*rated), "file");
    }
    input(
        said,
        "p",
        &own.place.title,
        of_pascals(own.pressure),
        COMPUTED,
    );
    for (named, figures) in case.steady() {
        let same = figures
            .places
            .iter()
            .find(|place| place.name == own.place.name);
        if let Some(place) = same {
            let words = Words::of(|system| {
                let capped = place.capped.map_or_else(
                    || "cap not known".to_owned(),
                    |capped| format!("{} with the cap holding", kpa(capped, system)),
                );
                format!("{} with it failed; {capped}", kpa(place.open, system))
            });
            by_state(said, "p", named, words);
        }
    }
    said.working.limit = format!(
        "no more than {} of what the weakest part stands",
        percent(SHARE)
    )
    .as_str()
    .into();
    said.source(SOLVED);
    said.source("what each part stands, as the file tells it");
    said.source(PRACTICE);
}
