//! The embedded type: every sign is there, and texts are as wide as the files say.
#![allow(clippy::disallowed_methods)] // The demo boats are read from their files.

use std::path::Path;

use sheets::draw::Face;
use sheets::draw::text::{self, Font};

const FACES: [Face; 3] = [Face::Plain, Face::Bold, Face::Italic];

#[test]
fn each_font_is_truetype_and_may_be_embedded() {
    let mut whole = 0;
    for font in Font::ALL {
        let bytes = font.bytes();
        whole += bytes.len();
        assert_eq!(&bytes[..4], &[0, 1, 0, 0], "{font:?}");
        // The rights stand in the table OS/2 at its byte 8: nought allows everything.
        let tables = usize::from(u16::from_be_bytes([bytes[4], bytes[5]]));
        let rights = (0..tables)
            .map(|n| &bytes[12 + 16 * n..28 + 16 * n])
            .find_map(|entry| {
                let at = u32::from_be_bytes([entry[8], entry[9], entry[10], entry[11]]) as usize;
                (&entry[..4] == b"OS/2").then(|| [bytes[at + 8], bytes[at + 9]])
            });
        assert_eq!(rights, Some([0, 0]), "{font:?}");
    }
    assert!(whole < 250_000, "{whole} bytes");
}

#[test]
fn digits_stand_in_columns_in_every_face() {
    for face in FACES {
        for digit in '0'..='9' {
            let wide = text::width(&digit.to_string(), face, 20.0);
            assert!((wide - 13.0).abs() < 1e-9, "{digit} in {face:?}: {wide}");
        }
    }
}

#[test]
fn a_text_is_split_between_b612_and_the_supplement() {
    let words = "Δ = 1⅝ in ≤ 42 °C";
    let runs = text::runs(words, Face::Bold);
    let fonts: Vec<Font> = runs.iter().map(|run| run.font).collect();
    assert_eq!(
        fonts,
        [
            Font::Signs,
            Font::Bold,
            Font::Signs,
            Font::Bold,
            Font::Signs,
            Font::Bold
        ]
    );
    let whole: f64 = runs.iter().map(|run| run.width(12.0)).sum();
    assert!((whole - text::width(words, Face::Bold, 12.0)).abs() < 1e-9);
    let parts: String = runs.iter().map(|run| &words[run.range.clone()]).collect();
    assert_eq!(parts, words);
}

#[test]
fn every_sign_that_is_printed_is_there() {
    let signs = "⅛⅜⅝⅞½¼¾⅓⅔⁄≤≥≈≠Δ√⌀→←ρλπ°±×÷−–·µ²³′″↑↓…“”‘’\
                 \u{202f}\u{2009}\u{a0}∂Σχηνσαβθ⁻⁵₀₁ˣ℃℉∞◆◖●▫○┃";
    assert_eq!(text::missing(signs), Vec::<char>::new());
}

#[test]
fn every_sign_of_the_demo_boats_is_there() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../boats");
    let mut boats = 0;
    for entry in std::fs::read_dir(root).expect("the folder of boats") {
        let file = entry.expect("an entry").path().join("boat.toml");
        if !file.exists() {
            continue;
        }
        boats += 1;
        let words = std::fs::read_to_string(&file).expect("a boat file");
        let lost = text::missing(&words.replace(['\n', '\t', '\r'], " "));
        assert_eq!(lost, Vec::<char>::new(), "{}", file.display());
    }
    assert!(boats >= 3, "{boats} boats");
}

#[test]
fn a_sign_that_no_font_holds_is_seen_and_named() {
    assert_eq!(text::missing("鴨 duck"), ['鴨']);
    assert!(text::width("鴨", Face::Plain, 10.0) > 5.0);
    // Names that owners give in other letters are held.
    assert_eq!(
        text::missing("Żuraw Øresund Άρτεμις Чайка Çağla"),
        Vec::<char>::new()
    );
}

#[test]
fn a_text_too_long_ends_with_dots_and_fits() {
    for face in FACES {
        let cut = text::fits("under the port step", face, 12.0, 60.0);
        assert!(cut.ends_with('…') && cut.starts_with("under"), "{cut}");
        assert!(text::width(&cut, face, 12.0) <= 60.0);
        assert_eq!(text::fits("step", face, 12.0, 600.0), "step");
        assert_eq!(text::fits("step", face, 12.0, 2.0), "");
    }
}

#[test]
fn wrapping_breaks_at_blanks_and_inside_a_word_only_where_it_must() {
    let lines = text::wrap("hose on the reducer", Face::Plain, 10.0, 50.0);
    assert_eq!(lines, ["hose on", "the", "reducer"]);
    let broken = text::wrap("a reducerreducer", Face::Plain, 10.0, 40.0);
    assert_eq!(broken.concat(), "areducerreducer");
    assert!(
        broken
            .iter()
            .all(|line| text::width(line, Face::Plain, 10.0) <= 40.0)
    );
    // A no-break blank holds.
    let held = text::wrap("bore 38\u{a0}mm", Face::Plain, 10.0, 50.0);
    assert_eq!(held, ["bore", "38\u{a0}mm"]);
}
