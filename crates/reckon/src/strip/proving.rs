//! Rows for proving her tight: the pressure at each joint while the circuit is on test, and the valve on each side.
//!
//! She is put on test at the header's neck with what her cap holds: more would only open the cap, or burst what was
//! chosen for it. Common practice, no source. Under the level in the header stands the weight of the coolant as well.

use quantity::Quantity;

use super::bands::{Rows, both, pressure};
use super::{Band, SignKind, StripStation, Way};
use crate::say;
use crate::stages::circuit::rules::height;
use crate::verdict::Words;

/// What is known of the test.
struct Test {
    /// Pressure over the coolant in the header [Pa].
    cap: f64,
    /// Height of the coolant in it [m].
    level: f64,
    /// What a metre of coolant presses [Pa/m].
    weight: f64,
}

/// A valve by its key, and whether it is shut.
type Valve<'a> = (&'a str, bool);

impl Rows<'_> {
    /// `on test` and `valve each side`. `round`: the way comes round to where it begins. `wet`: it carries coolant.
    pub(super) fn proving(&self, way: &Way, round: bool, wet: bool) -> Vec<Band> {
        let test = self.test();
        let from = match &test {
            Ok(test) => Words::of(|system| {
                format!(
                    "what the cap holds, {}, on the coolant at {} in the header, and the weight of the coolant from there to the joint. Reckoned; nobody has put her on test. Common practice, no source.",
                    say::kpa(test.cap, system),
                    height(test.level, system)
                )
            }),
            Err(why) => why.clone(),
        };
        let on_test = Band {
            from: if wet { from } else { Words::default() },
            ..self.row(way, both("on test, kPa", "on test, psi"), false, |own| {
                wet.then(|| on_test(way, own, round, test.as_ref().ok()))
            })
        };
        let sides = self.row(way, "valve each side".into(), false, |own| {
            let [behind, ahead] = sides(way, own, round);
            let said = |valve: Option<Valve>| match valve {
                Some((key, true)) => format!("{key} shut"),
                Some((key, false)) => format!("{key} open"),
                None => "none".to_owned(),
            };
            let both = if behind == ahead {
                said(behind)
            } else {
                format!("{}, {}", said(behind), said(ahead))
            };
            Some(both.as_str().into())
        });
        vec![on_test, sides]
    }

    /// What the test is made of, or what is missing for it in words.
    fn test(&self) -> Result<Test, Words> {
        let cap = self.cap.as_ref().map_err(|missing| {
            Words::of(|system| {
                format!(
                    "unmeasured: the pressure of the cap is {}. {}",
                    missing.why.in_units(system),
                    missing.settles.how
                )
            })
        })?;
        let level = self.header.and_then(|header| header.level.or(header.cap));
        let level = level.ok_or_else(|| {
            Words::from(
                "unmeasured: the height of the cold mark in the header is not known. Measure it with a water-filled tube.",
            )
        })?;
        let weight = self.weight.ok_or_else(|| {
            Words::from(
                "unmeasured: the weight of the coolant is not known. Write its kind and its share of concentrate.",
            )
        })?;
        Ok(Test {
            cap: cap.measured.value.si(),
            level,
            weight,
        })
    }
}

fn on_test(way: &Way, own: &StripStation, round: bool, test: Option<&Test>) -> Words {
    let shut = |valve: Option<Valve>| valve.is_some_and(|(_, shut)| shut);
    let [behind, ahead] = sides(way, own, round);
    // What is shut off on both sides gets nothing of the test.
    if !round && shut(behind) && shut(ahead) {
        return "shut off".into();
    }
    match (test, own.z) {
        (Some(test), Some(z)) => pressure(test.cap + test.weight * (test.level - z)),
        _ => "unmeasured".into(),
    }
}

/// The nearest valves on either side along the way, behind and ahead; round the pump on a way that comes round.
pub(super) fn sides<'w>(way: &'w Way, own: &StripStation, round: bool) -> [Option<Valve<'w>>; 2] {
    let mut valves: Vec<(f64, Valve)> = way
        .signs
        .iter()
        .filter_map(|sign| match sign.kind {
            SignKind::Valve { shut, .. } => {
                let key = sign.key.strip_suffix(".valve").unwrap_or(&sign.key);
                Some((sign.at, (key, shut)))
            }
            _ => None,
        })
        .collect();
    valves.sort_by(|a, b| a.0.total_cmp(&b.0));
    let behind = valves.iter().rev().find(|(at, _)| *at <= own.at);
    let ahead = valves.iter().find(|(at, _)| *at > own.at);
    let behind = behind.or(valves.last().filter(|_| round));
    let ahead = ahead.or(valves.first().filter(|_| round));
    [behind, ahead].map(|valve| valve.map(|(_, valve)| *valve))
}
