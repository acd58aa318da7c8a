//! Every public item says its unit, its range and its source.

use std::path::Path;

use crate::doc_facts::{looked_at, undocumented};

fn src() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/src"))
}

#[test]
fn public_items_say_unit_range_and_source() {
    let lacking = undocumented(src());
    assert!(
        lacking.is_empty(),
        "{} facts are missing:\n{}",
        lacking.len(),
        lacking.join("\n")
    );
}

#[test]
fn the_walk_finds_the_items() {
    // Far more than a few, or the test above would hold for want of items.
    assert!(
        looked_at(src()) > 90,
        "only {} items were looked at",
        looked_at(src())
    );
}
