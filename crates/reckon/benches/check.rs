//! The whole answer for the demo boat: all of it, what follows an edit, and one edit with a memory.

use boat::{Boat, Told};
use quantity::{Length, Unit};
use reckon::{Answer, Input, Memo, Set, reckon};

fn main() {
    divan::main();
}

fn dunlin() -> Boat {
    boat::read(include_str!("../../../boats/dunlin/boat.toml")).0
}

fn input(boat: &Boat, set: Set) -> Input<'_> {
    Input {
        boat,
        arrangement: None,
        seed: 1,
        set,
        flow: None,
        bay: None,
    }
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn all(bencher: divan::Bencher) {
    let boat = dunlin();
    bencher.bench_local(|| -> Answer { reckon(&input(&boat, Set::All), &mut Memo::default()) });
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn prompt(bencher: divan::Bencher) {
    let boat = dunlin();
    bencher.bench_local(|| reckon(&input(&boat, Set::Prompt), &mut Memo::default()));
}

/// One spigot moves by a tenth of a millimetre; all other joints are remembered.
#[divan::bench(sample_count = 20, sample_size = 1)]
fn after_an_edit(bencher: divan::Bencher) {
    let boat = dunlin();
    let mut memo = Memo::default();
    reckon(&input(&boat, Set::All), &mut memo);
    let mut tenths = 0_u32;
    bencher.bench_local(|| {
        tenths += 1;
        let mut edited = boat.clone();
        let spigot = &mut edited.things[0].spigots[0];
        let moved = Length::mm(38.0 + 0.1 * f64::from(tenths));
        spigot.od = Told::Given(quantity::Reading::plain(moved, Unit::mm()));
        reckon(&input(&edited, Set::All), &mut memo)
    });
}
