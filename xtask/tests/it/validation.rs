//! The page of validation rows, and the list of budgets.

use xtask::{bench, tree, validation};

#[test]
fn the_page_is_up_to_date_and_enough_rows_count() {
    validation::check(&tree::root()).unwrap();
}

#[test]
fn a_change_of_a_row_changes_the_page() {
    let folder = tempfile::tempdir().unwrap();
    let rows = folder.path().join("crates/a/validation");
    std::fs::create_dir_all(&rows).unwrap();
    let page = |expected: &str| {
        let text = format!(
            "function,kind,source,x_mm,expected,tolerance\nf,printed,a | page,1,{expected},0.1\n"
        );
        std::fs::write(rows.join("f.csv"), text).unwrap();
        validation::page(folder.path()).unwrap()
    };
    let first = page("2");
    assert!(first.contains("**1 rows, of which 1 count**"), "{first}");
    assert!(
        first.contains("| printed | a \\| page | x_mm 1 | 2 | 0.1 |"),
        "{first}"
    );
    assert_ne!(first, page("3"));
}

#[test]
fn the_budgets_can_be_read() {
    assert!(!bench::read(&tree::root()).unwrap().budget.is_empty());
}
