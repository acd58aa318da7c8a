//! The whole of `check`: from the text of the demo boat to the rendered answer, in both kinds of judging.

use std::ffi::OsString;
use std::path::Path;

use hosewright::text::Terminal;

fn main() {
    divan::main();
}

/// What `hosewright check` does with these words, short of printing.
fn check(flags: &[&str]) -> String {
    let boat = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../boats/dunlin");
    let mut words: Vec<OsString> = vec!["hosewright".into(), "check".into(), boat.into()];
    words.extend(flags.iter().map(OsString::from));
    let terminal = Terminal {
        width: 80,
        unicode: true,
        bold: false,
    };
    hosewright::run::outcome(&words, terminal).out
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn dunlin() -> String {
    check(&[])
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn dunlin_quick() -> String {
    check(&["--quick"])
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn dunlin_json() -> String {
    check(&["--json"])
}
