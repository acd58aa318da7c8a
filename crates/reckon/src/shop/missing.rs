//! What is not known yet, in the words of the list.

use crate::stages::types::Missing;
use crate::verdict::{Settles, Words};

pub(crate) fn settles(place: &str, how: &str) -> Settles {
    Settles {
        place: place.to_owned(),
        how: how.to_owned(),
    }
}

pub(crate) fn missing(why: &str, place: &str, how: &str) -> Missing {
    Missing {
        why: why.into(),
        settles: settles(place, how),
    }
}

pub(super) fn sentence(name: &str, missing: &Missing) -> Words {
    Words::of(|system| format!("{name}: {}.", missing.why.in_units(system)))
}
