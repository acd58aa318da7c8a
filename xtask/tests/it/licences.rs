//! The licence check: the real list lets the real dependencies pass, and nothing else.

use xtask::licences::{Allowed, Used, check, faults};
use xtask::{metadata, page, tree};

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

#[test]
fn type_may_be_under_its_own_licence_and_nothing_else_may() {
    let fault = |used| allowed().fault("a face", "OFL-1.1", used).unwrap();
    assert_eq!(fault(Used::Type), None);
    assert!(fault(Used::Shipped).unwrap().contains("OFL-1.1"));
    assert!(fault(Used::NotShipped).is_some());
}

#[test]
fn packages_of_the_page_are_allowed_and_looked_at_one_by_one() {
    let mut list = allowed();
    assert!(page::licences(&tree::root(), &list).unwrap().is_empty());
    list.not_shipped.clear();
    list.fonts.clear();
    let faults = page::licences(&tree::root(), &list).unwrap().join("\n");
    assert!(faults.contains("axe-core (not shipped)"), "{faults}");
    assert!(faults.contains("@fontsource/b612 (type)"), "{faults}");
    assert!(!faults.contains("react"), "{faults}");
}
