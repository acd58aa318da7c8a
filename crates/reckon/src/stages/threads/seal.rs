//! What seals a thread, in words with their figures.

use quantity::{Length, Quantity, System, show_range};
use reference::Limits;
use reference::seal::{
    SealPlace, bonded_washer_hole, least_seating, seals, tape_turns, turns_past_hand_tight, washer,
};
use reference::thread::{ThreadSize, thread_fact};

use crate::say;
use crate::verdict::{Verdict, Words};

/// A number without decimals where it has none: `3`, `1.5`.
fn plain(value: f64) -> String {
    format!("{}", (value * 10.0).round() / 10.0)
}

fn turns(limits: Limits<quantity::Ratio>) -> String {
    let (low, high) = (limits.low.to_f64(), limits.high.to_f64());
    if low == high {
        plain(low)
    } else {
        format!("{} to {}", plain(low), plain(high))
    }
}

/// `a copper washer 42 x 49 x 2 mm between two flat faces`.
pub(super) fn on_faces(verdict: &mut Verdict, size: &ThreadSize) -> Words {
    let seating = least_seating();
    let bonded = bonded_washer_hole(size.major);
    let by_kind: Vec<String> = seals(SealPlace::Face)
        .into_iter()
        .map(|seal| format!("{}: {}", seal.name, seal.says))
        .collect();
    verdict.step(
        "what seals between flat faces",
        "one of these, or a sealing ring where the part has its groove".into(),
        by_kind.join("; ").as_str().into(),
    );
    verdict.step(
        "hole of a bonded washer",
        "0.3 to 0.5 mm over the thread".into(),
        Words::of(|system| show_range(bonded.value.low, bonded.value.high, system)),
    );
    for seal in seals(SealPlace::Face) {
        verdict.source(seal.source.cite());
    }
    verdict.source(seating.source.cite());
    for id in ["no-tape-with-washer", "flat-faces"] {
        if let Some(fact) = thread_fact(id) {
            verdict.source(fact.source.cite());
        }
    }
    let named = match washer(size) {
        Ok(washer) => {
            verdict.source(washer.source.cite());
            let mm = |length: Length| plain(length.to_mm());
            format!(
                "a new copper washer {} x {} x {} mm",
                mm(washer.hole.high),
                mm(washer.outside),
                mm(washer.thickness)
            )
        }
        Err(_) => "a new washer".to_owned(),
    };
    Words::of(|system| {
        let wide = say::mm(seating.value.si(), system);
        format!(
            "It seals on {named}, or a bonded one, between flat faces at least {wide} wide; no tape"
        )
    })
}

/// `3 to 5 turns of thin tape, clockwise seen from its end …`.
pub(super) fn in_thread(verdict: &mut Verdict, size: &ThreadSize) -> Words {
    let tape = tape_turns(size.size);
    let past = turns_past_hand_tight();
    let by_kind: Vec<String> = seals(SealPlace::Thread)
        .into_iter()
        .map(|seal| format!("{}: {}", seal.name, seal.says))
        .collect();
    verdict.step(
        "what seals in the thread",
        "one of these".into(),
        by_kind.join("; ").as_str().into(),
    );
    let other: Vec<String> = tape
        .iter()
        .map(|row| format!("{} ({}; {})", turns(row.turns), row.says, row.source.text))
        .collect();
    if !other.is_empty() {
        verdict.step(
            "turns of tape, by source",
            other.join(", ").as_str().into(),
            "too few leak, too many jam the thread".into(),
        );
    }
    for row in &tape {
        verdict.source(row.source.cite());
    }
    verdict.source(past.source.cite());
    for id in ["tape-first-thread", "cast-aluminium"] {
        if let Some(fact) = thread_fact(id) {
            verdict.source(fact.source.cite());
        }
    }
    let wound = tape.first().map_or_else(
        || "tape".to_owned(),
        |row| format!("{} turns of {}", turns(row.turns), row.says),
    );
    let past = turns(past.value);
    format!(
        "It seals on the thread: {wound}, clockwise seen from its end, the first thread left free, or paste; then {past} turns past hand-tight"
    )
    .as_str()
    .into()
}

/// Two sentences as one text.
pub(super) fn joined(first: &Words, second: &Words) -> Words {
    Words::of(|system: System| format!("{} {}.", first.in_units(system), second.in_units(system)))
}
