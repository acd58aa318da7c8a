//! Every public item says its unit, its range and its source.

use std::path::Path;

#[path = "../../../quantity/tests/it/doc_facts.rs"]
#[allow(unreachable_pub)] // The file is public to the crate that holds it.
mod doc_facts;

#[test]
fn every_public_item_says_its_unit_range_and_source() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let undocumented = doc_facts::undocumented(&src);
    assert!(undocumented.is_empty(), "{}", undocumented.join("\n"));
    assert!(doc_facts::looked_at(&src) > 200, "the walk saw too little");
}
