//! The licence check: the real list lets the real dependencies pass, and nothing else.

use xtask::licences::{Allowed, check, faults};
use xtask::{metadata, tree};

fn allowed() -> Allowed {
    toml::from_str(&tree::read(&tree::root(), "licences.toml").unwrap()).unwrap()
}

/// The faults where a named crate has another licence.
fn with(name: &str, licence: Option<&str>) -> Vec<String> {
    let mut metadata = metadata::read(&tree::root()).unwrap();
    let package = metadata
        .packages
        .iter_mut()
        .find(|package| package.name == name)
        .unwrap();
    package.license = licence.map(str::to_owned);
    faults(&allowed(), &metadata).unwrap()
}

#[test]
fn every_dependency_is_allowed() {
    check(&tree::root()).unwrap();
}

#[test]
fn a_licence_that_is_not_on_the_list_is_named_with_its_crate() {
    let faults = with("toml", Some("GPL-3.0-only"));
    assert_eq!(faults.len(), 1, "{faults:?}");
    assert!(faults[0].starts_with("toml ") && faults[0].contains("GPL-3.0-only"));
}

#[test]
fn one_of_two_licences_will_do_and_both_together_must() {
    assert!(with("toml", Some("GPL-3.0-only OR MIT")).is_empty());
    assert_eq!(with("toml", Some("GPL-3.0-only AND MIT")).len(), 1);
}

#[test]
fn a_crate_without_a_licence_or_with_an_unreadable_one_is_named() {
    assert_eq!(with("toml", None).len(), 1);
    assert_eq!(with("toml", Some("of my own making")).len(), 1);
}

#[test]
fn what_is_not_shipped_may_have_more() {
    assert!(with("spdx", Some("MPL-2.0")).is_empty());
    assert_eq!(with("toml", Some("MPL-2.0")).len(), 1);
}

#[test]
fn our_own_crates_have_our_own_licence() {
    assert_eq!(with("bay", Some("MIT")).len(), 1);
}
