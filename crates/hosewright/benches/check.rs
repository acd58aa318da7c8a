//! The whole of `check` on the demo boat: from the text of her file to the page; and what the page waits for after an
//! edit, the verdicts that follow at once.
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

/// The demo boat with one of its texts changed, at the place where her file lies.
fn changed(from: &str, to: &str) -> Loaded {
    let held = demo();
    assert!(held.text.contains(from), "{from} is in the file");
    let text = held.text.replacen(from, to, 1);
    Loaded::from_held(Held {
        hash: files::Hash::of(text.as_bytes()),
        text,
        ..held
    })
}

/// Judges at once what follows of an edit, the boat before it being remembered.
fn edit(bencher: divan::Bencher, from: &str, to: impl Fn(usize) -> String) {
    let judge = |loaded: &Loaded, memo: &mut reckon::Memo| {
        let input = reckon::Input {
            boat: &loaded.boat,
            arrangement: Some("after"),
            seed: 1,
            set: reckon::Set::Prompt,
            flow: None,
            bay: Some(loaded.bay()),
        };
        reckon::reckon(&input, memo).verdicts.len()
    };
    let memo = std::cell::RefCell::new(reckon::Memo::default());
    judge(&Loaded::from_held(demo()), &mut memo.borrow_mut());
    // Another value each time, so that nothing of the answer is known from before.
    let count = std::cell::Cell::new(0);
    bencher
        .with_inputs(|| {
            count.set(count.get() + 1);
            changed(from, &to(count.get()))
        })
        .bench_local_refs(|loaded| judge(loaded, &mut memo.borrow_mut()));
}

/// Another clip: no hose hangs another way for it.
#[divan::bench]
fn edit_clip(bencher: divan::Bencher) {
    edit(bencher, "t-bolt 40-43", |i| {
        format!("worm {}-60 316", 20 + i % 20)
    });
}

/// Another cut: the hose hangs anew, and the flow goes its length.
#[divan::bench]
fn edit_cut(bencher: divan::Bencher) {
    edit(bencher, "hot = { cut = [374, 511]", |i| {
        format!("hot = {{ cut = [374, {}.{:03}]", 505 + i % 12, i % 1000)
    });
}
