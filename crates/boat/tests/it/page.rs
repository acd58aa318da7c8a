//! The page about the boat file holds the key reference that the table of keys makes.

use std::fs;
use std::path::{Path, PathBuf};

/// Between these two lines of the page stands what is made.
const BEGIN: &str = "<!-- Written from the table of keys by `cargo xtask generate`. -->\n";
const END: &str = "<!-- End of what is written. -->\n";

fn path() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/boat-file.md")
}

/// The page before the reference, the reference, and the page behind it.
fn parts(page: &str) -> (&str, &str, &str) {
    let (before, rest) = page.split_once(BEGIN).expect("the page has no first mark");
    let (reference, after) = rest.split_once(END).expect("the page has no second mark");
    (before, reference, after)
}

#[test]
fn the_committed_reference_is_the_one_of_the_keys() {
    let made = boat::key_reference();
    if std::env::var_os("HOSEWRIGHT_BLESS").is_some() {
        let page = fs::read_to_string(path()).unwrap();
        let (before, _, after) = parts(&page);
        fs::write(path(), format!("{before}{BEGIN}{made}{END}{after}")).unwrap();
    }
    let page = fs::read_to_string(path()).unwrap();
    assert!(
        parts(&page).1 == made,
        "run the tests with HOSEWRIGHT_BLESS=1 and look at the change"
    );
}

#[test]
fn every_row_of_the_reference_has_all_its_cells() {
    let made = boat::key_reference();
    for block in made.split("\n\n") {
        let rows: Vec<&str> = block.lines().filter(|line| line.starts_with('|')).collect();
        let cells = |row: &str| row.replace("\\|", "").matches('|').count();
        for row in &rows {
            assert_eq!(cells(row), cells(rows[0]), "{row}");
        }
    }
}

#[test]
fn every_grammar_of_the_reference_stands_on_the_page() {
    let page = fs::read_to_string(path()).unwrap();
    let written = parts(&page).0;
    for name in [
        "way",
        "chain",
        "bends",
        "path",
        "thread",
        "clip",
        "stock clip",
        "stock hose",
        "stock part",
        "taper",
        "aside",
        "along",
        "price",
        "curve",
        "end",
        "mark",
        "heading",
    ] {
        assert!(
            boat::key_reference().contains(&format!("*{name}*")),
            "no key has the grammar {name}"
        );
        let begins = |line: &str| {
            line.strip_prefix(name)
                .is_some_and(|rest| rest.trim_start().starts_with('='))
        };
        assert!(
            written.lines().any(begins),
            "no rule of the page makes a {name}"
        );
    }
}
