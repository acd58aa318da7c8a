//! The page's step: which Node will do.

use xtask::page::is_new_enough;

#[test]
fn node_is_taken_from_the_version_that_builds_the_page() {
    assert!(is_new_enough("v20.19.0\n"));
    assert!(is_new_enough("v22.1.0"));
    assert!(!is_new_enough("v20.18.3"));
    assert!(!is_new_enough("v18.20.4"));
    assert!(!is_new_enough("no version"));
}
