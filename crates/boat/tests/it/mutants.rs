//! Mutated boat files: no panic; each reads clean or gets remarks whose places lie in the file.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

use crate::demo::boats;

/// Texts that are put in somewhere, each meant to upset some part of the reading.
const UPSETS: [&str; 24] = [
    "\"",
    "'",
    "\"\"\"",
    "=",
    "[",
    "]",
    "{",
    "}",
    ",",
    ".",
    "\\",
    "\n",
    "#",
    "°",
    "± ",
    "−",
    "1e999",
    "-0",
    "\"?\"",
    "\"choose\"",
    "316",
    "true",
    "\u{feff}",
    "hose choose + ",
];

/// One mutant: some bytes or words of the text taken out, doubled, swapped or upset.
fn mutant(text: &str, rng: &mut Pcg64) -> String {
    let mut text = text.to_owned();
    for _ in 0..rng.random_range(1..4) {
        let cut = |rng: &mut Pcg64, text: &str| {
            text.floor_char_boundary(rng.random_range(0..=text.len()))
        };
        let (mut from, mut to) = (cut(rng, &text), cut(rng, &text));
        if from > to {
            std::mem::swap(&mut from, &mut to);
        }
        to = text.floor_char_boundary(to.min(from + 12));
        let to = to.max(from);
        match rng.random_range(0..5) {
            0 => text.replace_range(from..to, ""),
            1 => {
                let bit = text[from..to].to_owned();
                text.insert_str(to, &bit);
            }
            2 => text.insert_str(from, UPSETS[rng.random_range(0..UPSETS.len())]),
            3 => text.replace_range(from..to, UPSETS[rng.random_range(0..UPSETS.len())]),
            _ => {
                // A word of the file in the place of another.
                let words: Vec<String> = text.split_whitespace().map(str::to_owned).collect();
                if words.len() > 1 {
                    let (one, other) = (
                        &words[rng.random_range(0..words.len())],
                        &words[rng.random_range(0..words.len())],
                    );
                    text = text.replacen(one.as_str(), other, 1);
                }
            }
        }
    }
    text
}

#[test]
fn five_hundred_mutants_are_read_or_remarked_on() {
    let long = std::env::var("HOSEWRIGHT_TEST_TIER").is_ok_and(|tier| tier == "long");
    let count = if long { 20_000 } else { 500 };
    let mut rng = Pcg64::seed_from_u64(0x0b0a7);
    let boats = boats();
    let mut clean = 0;
    for i in 0..count {
        let text = mutant(&boats[i % boats.len()].1, &mut rng);
        let (boat, places, remarks) = boat::read(&text);
        if let Err(error) = toml::from_str::<toml::Table>(&text) {
            let syntax = |remark: &boat::Remark| remark.code == boat::Code::Syntax;
            // A number that no float holds is written as TOML has it, and is remarked on as a value.
            let too_large = error.to_string().contains("overflowed");
            assert!(
                remarks.iter().any(syntax) || too_large && !remarks.is_empty(),
                "no remark on the syntax of\n{text}\n{error}"
            );
        }
        // A remark may stand on the empty line behind the last one.
        let lines = text.split('\n').count();
        for remark in &remarks {
            let at = places.position_of(remark.span.start);
            assert!(
                at.line >= 1 && at.line <= lines && at.column >= 1,
                "{remark:?} at {at:?} in\n{text}"
            );
            assert!(!remark.message.is_empty());
        }
        clean += usize::from(remarks.is_empty());
        // What else is done with a file that came from anywhere.
        for step in &boat.arrangements {
            let _ = boat.arranged(Some(&step.key));
        }
        let edited = boat::set_value(&text, "joints.\"hot.from\".clips", "2");
        if let Ok(edited) = edited {
            assert!(
                toml::from_str::<toml::Table>(&edited).is_ok(),
                "an edit broke\n{text}"
            );
        }
    }
    assert!(
        clean > 0 && clean < count,
        "{clean} of {count} mutants read clean: the mutations upset too little or too much"
    );
}
