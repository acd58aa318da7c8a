//! Every validation row of the crate, asked of the function that it names.

use std::path::Path;

use crate::rows::{self, Answer};
use crate::{access_rows, body_rows, rod_rows};

#[test]
fn every_row_agrees() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("validation");
    let answer = |row: &rows::Row| {
        body_rows::answer(row)
            .or_else(|| rod_rows::answer(row))
            .or_else(|| access_rows::answer(row))
    };
    let count = rows::walk(&folder, answer).unwrap_or_else(|wrong| panic!("{wrong}"));
    assert!(count.counted >= 150, "too few rows count: {count:?}");
    assert!(5 * count.limits <= count.counted, "{count:?}");
}

#[test]
fn a_wrong_number_is_found() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("validation");
    let wrong =
        rows::walk(&folder, |_| Some(Answer::Number(1e6))).expect_err("no answer is a million");
    assert!(wrong.contains("box_gap gives 1000000") && wrong.contains("least_radius"));
}
