//! The whole of `check` on the demo boat: from the text of her file to the page.
#![allow(clippy::disallowed_methods)]

use std::path::Path;

use hosewright::cli::{Judging, Showing, Units};
use hosewright::commands::check;
use hosewright::files::{self, Held};
use hosewright::load::Loaded;
use hosewright::text::Terminal;

fn main() {
    divan::main();
}

fn demo() -> Held {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../boats/dunlin/boat.toml");
    files::read(&file).expect("the demo boat is there")
}

fn page(held: Held, quick: bool, json: bool) -> String {
    let judging = Judging {
        arrangement: None,
        strict: false,
        quick,
        seed: 1,
        explain: None,
        all: true,
    };
    let showing = Showing {
        json,
        units: Units::Metric,
        verbose: false,
    };
    let loaded = Loaded::from_held(held);
    check::of(&loaded, &judging, showing, Terminal::default())
        .expect("the demo boat can be judged")
        .out
}

#[divan::bench]
fn text(bencher: divan::Bencher) {
    bencher
        .with_inputs(demo)
        .bench_values(|held| page(held, false, false));
}

#[divan::bench]
fn text_quick(bencher: divan::Bencher) {
    bencher
        .with_inputs(demo)
        .bench_values(|held| page(held, true, false));
}

#[divan::bench]
fn json(bencher: divan::Bencher) {
    bencher
        .with_inputs(demo)
        .bench_values(|held| page(held, false, true));
}
