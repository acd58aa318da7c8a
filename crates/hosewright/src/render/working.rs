//! The whole working of a verdict: inputs, formula, numbers put in, result, limit, sources.

use reckon::{Number, Verdict, WorkingInput};

use super::Manner;
use crate::text::{Column, Page};

/// Columns that a working stands further in than its verdict.
const INDENT: usize = 4;

/// The working of one verdict.
pub fn working(page: &mut Page, verdict: &Verdict, manner: &Manner) {
    let units = manner.units;
    let working = &verdict.working;
    if !working.inputs.is_empty() {
        page.gap();
        let columns = [
            Column::words(""),
            Column::words(""),
            Column::words(""),
            Column::words(""),
            Column::words(""),
        ];
        let rows: Vec<Vec<String>> = working
            .inputs
            .iter()
            .map(|input| row(input, manner))
            .collect();
        page.table(INDENT, &columns, &rows);
    }
    for step in &working.steps {
        page.gap();
        let (filled, result) = (step.filled.in_units(units), step.result.in_units(units));
        page.hanging("    ", "      ", &step.formula);
        if !filled.is_empty() {
            page.hanging("    = ", "      ", filled.trim_start_matches("= "));
        }
        if !result.is_empty() {
            page.hanging("    = ", "      ", result.trim_start_matches("= "));
        }
    }
    let limit = working.limit.in_units(units);
    if !limit.is_empty() {
        page.gap();
        page.hanging("    limit: ", "      ", limit);
    }
    if !working.sources.is_empty() {
        page.gap();
        for source in &working.sources {
            page.hanging("    source: ", "      ", source);
        }
    }
    page.gap();
}

/// Symbol, name, value, origin and place of an input.
fn row(input: &WorkingInput, manner: &Manner) -> Vec<String> {
    let place = match (&input.place, manner.file) {
        (Some(place), Some(file)) => file.shown(place),
        _ => String::new(),
    };
    let value = with_tolerance(&input.value, input.tolerance.as_ref(), manner);
    vec![
        input.symbol.clone(),
        input.name.clone(),
        dressed(&value, &input.from),
        input.from.clone(),
        place,
    ]
}

/// A measured value stands as it is, a computed one after an equals sign, and what stands in for a measurement in brackets.
fn dressed(value: &str, from: &str) -> String {
    match from {
        "assumed" | "guessed" => format!("({value})"),
        "computed" => format!("= {value}"),
        _ => value.to_owned(),
    }
}

/// `41.8 ± 0.2 mm`: one unit for both where they share it.
fn with_tolerance(value: &Number, tolerance: Option<&Number>, manner: &Manner) -> String {
    let value = value.text.in_units(manner.units);
    let Some(tolerance) = tolerance else {
        return value.to_owned();
    };
    let tolerance = tolerance.text.in_units(manner.units);
    match (value.rsplit_once(' '), tolerance.rsplit_once(' ')) {
        (Some((figure, unit)), Some((half, same))) if unit == same => {
            format!("{figure} ± {half} {unit}")
        }
        _ => format!("{value} ± {tolerance}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::{Kind, System};
    use reckon::Words;

    fn length(text: &str) -> Number {
        Number {
            kind: Kind::Length,
            si: 0.0,
            text: Words::from(text),
        }
    }

    #[test]
    fn value_and_tolerance_share_their_unit() {
        let manner = Manner {
            units: System::Metric,
            file: None,
        };
        let shown = |value: &str, tolerance: &str| {
            with_tolerance(&length(value), Some(&length(tolerance)), &manner)
        };
        assert_eq!(shown("41.8 mm", "0.2 mm"), "41.8 ± 0.2 mm");
        assert_eq!(shown("82 °C", "2 K"), "82 °C ± 2 K");
        assert_eq!(shown("0.20", "0.05"), "0.20 ± 0.05");
    }

    #[test]
    fn what_stands_in_for_a_measurement_is_in_brackets() {
        assert_eq!(dressed("4.5 ± 0.5 mm", "assumed"), "(4.5 ± 0.5 mm)");
        assert_eq!(dressed("4.5 mm", "computed"), "= 4.5 mm");
        assert_eq!(dressed("4.5 mm", "caliper"), "4.5 mm");
    }
}
