//! How wide a text is, measured with the very bytes that paper embeds.
//!
//! B612 holds the letters and most signs; what it lacks stands in a supplement, so that a text is
//! split sign by sign, here and in what draws it. Nothing is kerned: a text is as wide as the sum
//! of its signs.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::OnceLock;

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};

use super::shape::Face;

/// A file of type that is embedded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Font {
    /// B612, upright.
    Regular,
    /// B612, bold.
    Bold,
    /// B612, italic.
    Italic,
    /// The supplement: signs that B612 lacks.
    Signs,
}

impl Font {
    /// All of them.
    pub const ALL: [Font; 4] = [Font::Regular, Font::Bold, Font::Italic, Font::Signs];

    /// The cut of B612 for a face.
    #[must_use]
    pub fn of(face: Face) -> Font {
        match face {
            Face::Plain => Font::Regular,
            Face::Bold => Font::Bold,
            Face::Italic => Font::Italic,
        }
    }

    /// The file itself, TrueType.
    #[must_use]
    pub fn bytes(self) -> &'static [u8] {
        match self {
            Font::Regular => include_bytes!("../../fonts/B612-Regular.ttf"),
            Font::Bold => include_bytes!("../../fonts/B612-Bold.ttf"),
            Font::Italic => include_bytes!("../../fonts/B612-Italic.ttf"),
            Font::Signs => include_bytes!("../../fonts/HosewrightSigns.ttf"),
        }
    }

    fn signs(self) -> &'static Signs {
        static READ: [OnceLock<Signs>; 4] = [const { OnceLock::new() }; 4];
        let at = match self {
            Font::Regular => 0,
            Font::Bold => 1,
            Font::Italic => 2,
            Font::Signs => 3,
        };
        READ[at].get_or_init(|| Signs::read(self.bytes()))
    }
}

/// A sign as drawn: its number in the file and how far the pen goes on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glyph {
    /// Its number in the font's file.
    pub id: u32,
    /// How far the pen goes on, in sizes of the type.
    pub advance: f64,
}

/// What a file holds: the sign for each character.
struct Signs(BTreeMap<char, Glyph>);

impl Signs {
    fn read(bytes: &[u8]) -> Signs {
        // OK because the files are part of the program and a test reads each.
        let font = FontRef::new(bytes).expect("an embedded font that can be read");
        let metrics = font.glyph_metrics(Size::unscaled(), LocationRef::default());
        let em = f64::from(
            font.metrics(Size::unscaled(), LocationRef::default())
                .units_per_em,
        );
        let signs = font.charmap().mappings().filter_map(|(code, id)| {
            let advance = f64::from(metrics.advance_width(id)?) / em;
            Some((
                char::from_u32(code)?,
                Glyph {
                    id: id.to_u32(),
                    advance,
                },
            ))
        });
        Signs(signs.collect())
    }
}

/// The sign that stands for a character which neither file holds: a question in a box, so that
/// it is seen.
const STRANGER: char = '\u{fffd}';

/// A part of a text out of one file.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The file.
    pub font: Font,
    /// Which bytes of the text it is.
    pub range: Range<usize>,
    /// Each sign with the bytes it stands for.
    pub glyphs: Vec<(Range<usize>, Glyph)>,
}

impl Run {
    /// Its width at `size`, px.
    #[must_use]
    pub fn width(&self, size: f64) -> f64 {
        self.glyphs
            .iter()
            .map(|(_, glyph)| glyph.advance)
            .sum::<f64>()
            * size
    }
}

fn look(sign: char, face: Face) -> Option<(Font, Glyph)> {
    [Font::of(face), Font::Signs]
        .into_iter()
        .find_map(|font| font.signs().0.get(&sign).map(|glyph| (font, *glyph)))
}

/// The sign drawn for a character, and from which file.
fn drawn(sign: char, face: Face) -> (Font, Glyph) {
    look(sign, face)
        .or_else(|| look(STRANGER, face))
        // OK because the supplement is cut with that sign in it and a test looks for it.
        .expect("the sign of a stranger")
}

/// A text split into parts of one file each, in order.
#[must_use]
pub fn runs(text: &str, face: Face) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for (at, sign) in text.char_indices() {
        let (font, glyph) = drawn(sign, face);
        let range = at..at + sign.len_utf8();
        match runs.last_mut() {
            Some(run) if run.font == font => {
                run.range.end = range.end;
                run.glyphs.push((range, glyph));
            }
            _ => runs.push(Run {
                font,
                range: range.clone(),
                glyphs: vec![(range, glyph)],
            }),
        }
    }
    runs
}

/// The characters of a text that neither file holds.
#[must_use]
pub fn missing(text: &str) -> Vec<char> {
    text.chars()
        .filter(|&sign| look(sign, Face::Plain).is_none())
        .collect()
}

/// How wide a text is, px.
#[must_use]
pub fn width(text: &str, face: Face, size: f64) -> f64 {
    text.chars()
        .map(|sign| drawn(sign, face).1.advance)
        .sum::<f64>()
        * size
}

/// How far letters reach above the base line, px: capitals and what stands up. An accent on a
/// capital goes a little higher.
#[must_use]
pub fn ascent(size: f64) -> f64 {
    0.81 * size
}

/// How far letters hang below the base line, px.
#[must_use]
pub fn descent(size: f64) -> f64 {
    0.26 * size
}

/// The text, cut short with `…` where it is wider than `width`; empty where not even that fits.
#[must_use]
pub fn fits(text: &str, face: Face, size: f64, width: f64) -> String {
    if self::width(text, face, size) <= width {
        return text.to_owned();
    }
    let mut left = width - self::width("…", face, size);
    if left < 0.0 {
        return String::new();
    }
    let mut kept = String::new();
    for sign in text.chars() {
        left -= drawn(sign, face).1.advance * size;
        if left < 0.0 {
            break;
        }
        kept.push(sign);
    }
    format!("{}…", kept.trim_end())
}

/// The text as lines none of which is wider than `width`: broken at blanks, and inside a word
/// only where the word alone is wider.
#[must_use]
pub fn wrap(text: &str, face: Face, size: f64, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in words(text) {
        let longer = format!("{line}{word}");
        if self::width(longer.trim_end(), face, size) <= width {
            line = longer;
            continue;
        }
        if !line.trim().is_empty() {
            lines.push(line.trim_end().to_owned());
        }
        line = String::new();
        for sign in word.chars() {
            let longer = format!("{line}{sign}");
            if !line.is_empty() && self::width(longer.trim_end(), face, size) > width {
                lines.push(std::mem::take(&mut line));
            }
            line.push(sign);
        }
    }
    if !line.trim().is_empty() || lines.is_empty() {
        lines.push(line.trim_end().to_owned());
    }
    lines
}

/// The words, each with the blanks after it. A no-break blank is no blank.
fn words(text: &str) -> Vec<&str> {
    let mut words = Vec::new();
    let mut start = 0;
    let mut blank = false;
    for (at, sign) in text.char_indices() {
        let is_blank = matches!(sign, ' ' | '\n' | '\t');
        if blank && !is_blank {
            words.push(&text[start..at]);
            start = at;
        }
        blank = is_blank;
    }
    if start < text.len() {
        words.push(&text[start..]);
    }
    words
}
