//! The counting rules themselves: a rule that never bites would let anything pass.

use std::collections::BTreeMap;

use crate::rows::{Answer, Count, Kind, Row, count};

fn row(function: &str, kind: Kind, source: &str, n: usize) -> Row {
    Row {
        place: format!("test:{n}"),
        function: function.into(),
        kind,
        source: source.into(),
        inputs: BTreeMap::from([("n".to_owned(), n.to_string())]),
        expected: "1.0".into(),
        tolerance: "0.1".into(),
    }
}

fn check(rows: &[(&str, Kind, &str)], expected: Count) {
    let rows: Vec<Row> = rows
        .iter()
        .enumerate()
        .map(|(n, (f, kind, s))| row(f, *kind, s, n))
        .collect();
    assert_eq!(count(&rows), expected);
}

#[test]
fn a_sixth_row_of_one_function_and_source_does_not_count() {
    let rows = [("f", Kind::Printed, "a"); 6];
    check(
        &rows,
        Count {
            all: 6,
            counted: 5,
            printed: 5,
            sibling: 0,
            limits: 0,
        },
    );
}

#[test]
fn another_source_counts_anew() {
    let mut rows = vec![("f", Kind::Printed, "a"); 6];
    rows.push(("f", Kind::Printed, "b"));
    rows.push(("g", Kind::Sibling, "a"));
    check(
        &rows,
        Count {
            all: 8,
            counted: 7,
            printed: 6,
            sibling: 1,
            limits: 0,
        },
    );
}

#[test]
fn recalled_and_own_rows_never_count() {
    let rows = [("f", Kind::Recalled, "a"), ("f", Kind::Ours, "b")];
    check(
        &rows,
        Count {
            all: 2,
            counted: 0,
            printed: 0,
            sibling: 0,
            limits: 0,
        },
    );
}

#[test]
fn limits_are_at_most_a_fifth() {
    let mut rows = vec![("f", Kind::Printed, "a"); 4];
    rows.extend([
        ("f", Kind::Limit, "a"),
        ("f", Kind::Limit, "b"),
        ("g", Kind::Limit, "a"),
    ]);
    check(
        &rows,
        Count {
            all: 7,
            counted: 5,
            printed: 4,
            sibling: 0,
            limits: 1,
        },
    );
}

#[test]
fn agreement_is_within_the_tolerance_and_no_nan_agrees() {
    let row = row("f", Kind::Printed, "a", 0);
    assert!(row.agrees(&Answer::Number(1.1)).is_ok());
    assert!(row.agrees(&Answer::Number(1.11)).is_err());
    assert!(row.agrees(&Answer::Number(f64::NAN)).is_err());
    assert!(row.agrees(&Answer::Text("1.0".into())).is_err());
}
