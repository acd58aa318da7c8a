//! The figures of a filling, and of salt.

use quantity::{System, Temperature, TemperatureDifference, show};
use reckon::{FillRow, Number, SaltRow};

use crate::text::{Column, Page};

fn shown(number: &Option<Number>, units: System) -> Option<&str> {
    number.as_ref().map(|number| number.text.in_units(units))
}

fn table(page: &mut Page, rows: Vec<(&str, String)>) {
    let rows: Vec<Vec<String>> = rows
        .into_iter()
        .map(|(name, value)| vec![name.to_owned(), value])
        .collect();
    page.gap();
    page.table(0, &[Column::words(""), Column::words("")], &rows);
}

/// What to pour, and what comes out; a line a figure that is known.
pub fn filling(page: &mut Page, row: &FillRow, units: System) {
    let of = |number| shown(number, units);
    let mut rows: Vec<(&str, String)> = Vec::new();
    if !row.kind.is_empty() {
        let share = of(&row.wanted).map_or_else(String::new, |share| format!("{share} "));
        rows.push(("wanted", format!("{share}{}", row.kind)));
    }
    let circuit = of(&row.volume).unwrap_or("–").to_owned();
    rows.push(("circuit", circuit));
    let inside = match (of(&row.inside), of(&row.inside_share)) {
        (Some(inside), Some(share)) => format!("{inside} at {share}"),
        (Some(inside), None) => format!("{inside}, strength not known"),
        (None, _) => "–".to_owned(),
    };
    rows.push(("stays inside", inside));
    let mut say = |name, value: Option<String>| {
        if let Some(value) = value {
            rows.push((name, value));
        }
    };
    say(
        "recipe for",
        of(&row.mix)
            .zip(row.mix_why.as_ref())
            .map(|(share, why)| format!("{share}: {why}")),
    );
    let flushes = row.flushes.zip(of(&row.drains)).map(|(times, drains)| {
        let times = if times == 1 {
            "once".to_owned()
        } else {
            format!("{times} times")
        };
        (times, drains.to_owned())
    });
    if row.flush_first {
        say(
            "flush first",
            flushes.as_ref().map(|(times, drains)| {
                format!("{times}, {drains} out each time; then it is water that stays inside")
            }),
        );
    }
    say("drain first", of(&row.drain_first).map(str::to_owned));
    let bought = match of(&row.product) {
        Some(share) if share != "100 %" => format!("mix of {share}"),
        _ => "concentrate".to_owned(),
    };
    say(
        "pour first",
        of(&row.pour).map(|pour| format!("{pour} {bought}")),
    );
    say(
        "then",
        of(&row.water).map(|water| format!("{water} de-ionised water")),
    );
    let ten = of(&row.pour_in_ten).zip(of(&row.water_in_ten));
    say(
        "ten litres of mix",
        ten.map(|(pour, water)| format!("{pour} {bought}, {water} water")),
    );
    say("freezes at", of(&row.freezes).map(str::to_owned));
    let boils = of(&row.boils_open).map(|open| match of(&row.boils_under_cap) {
        Some(cap) => {
            format!("{open} cap off; at least {cap} under the cap at its low end")
        }
        None => format!("{open} with the cap off"),
    });
    say("boils at", boils);
    say(
        "short by mixing",
        of(&row.shrinks).map(|short| format!("{short}, topped up with the same mix")),
    );
    let hot = row.expands_to.text.in_units(units);
    let grows = of(&row.expands_by).map(|by| match of(&row.expands) {
        Some(all) => format!("{by} up to {hot}, {all} in all"),
        None => format!("{by} up to {hot}"),
    });
    say("grows when hot", grows);
    let ready = of(&row.ready_mix).zip(of(&row.ready_mix_freezes));
    say(
        "with ready mix",
        ready.map(|(share, freezes)| format!("{share} would come out, freezing at {freezes}")),
    );
    if !row.flush_first {
        say(
            "flush",
            flushes.map(|(times, drains)| {
                format!("{times} before another family, {drains} out each time")
            }),
        );
    }
    table(page, rows);
}

/// What is known of the sea, and what of it came in.
pub fn brine(page: &mut Page, row: &SaltRow, units: System) {
    let of = |number| shown(number, units);
    let at = |celsius: f64| {
        let half = TemperatureDifference::kelvin(2.0);
        show(Temperature::celsius(celsius), Some(half), units)
    };
    let mut rows: Vec<(&str, String)> = Vec::new();
    if let Some(salinity) = &row.salinity_text {
        rows.push(("practical salinity", salinity.clone()));
    }
    if let Some(conductivity) = of(&row.conductivity) {
        rows.push(("conductivity", format!("{conductivity} at {}", at(15.0))));
    }
    if let Some(chloride) = of(&row.chloride) {
        rows.push(("chloride", format!("{chloride} at {}", at(20.0))));
    }
    if let Some(taken) = &row.taken_in {
        let text = |number: &Number| number.text.in_units(units).to_owned();
        let taken = if taken.shown {
            format!(
                "{}, {} to {} with 95 in 100",
                text(&taken.volume),
                text(&taken.low),
                text(&taken.high)
            )
        } else if taken.high.si > 0.0 {
            format!("not shown; {} at most", text(&taken.high))
        } else {
            "not shown".to_owned()
        };
        rows.push(("sea water taken in", taken));
    }
    table(page, rows);
}
