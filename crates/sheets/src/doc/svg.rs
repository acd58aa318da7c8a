//! A picture or a page as SVG: one element a line, so that two can be compared.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use crate::draw::ink::{self, Cap, Fill, Tone};
use crate::draw::shape::{Anchor, Class, Face, Picture, Placed, Shape, Step};
use crate::draw::text::{self, Font};

/// The name that a style gives the supplement.
const SIGNS: &str = "Hosewright Signs";

/// A picture as SVG, which asks the reader's machine for its fonts by name.
#[must_use]
pub fn write(picture: &Picture) -> String {
    written(picture, "")
}

/// A picture as SVG that brings its fonts along, to be opened anywhere.
#[must_use]
pub fn alone(picture: &Picture) -> String {
    let mut used: BTreeSet<Font> = BTreeSet::new();
    for placed in &picture.placed {
        if let Shape::Text { text, face, .. } = &placed.shape {
            used.extend(text::runs(text, *face).iter().map(|run| run.font));
        }
    }
    let mut faces = String::new();
    for font in used {
        let (family, style, weight) = match font {
            Font::Regular => ("B612", "normal", 400),
            Font::Bold => ("B612", "normal", 700),
            Font::Italic => ("B612", "italic", 400),
            Font::Signs => (SIGNS, "normal", 400),
        };
        let data = base64(font.bytes());
        line(
            &mut faces,
            2,
            format_args!(
                "@font-face {{ font-family: \"{family}\"; font-style: {style}; \
                 font-weight: {weight}; \
                 src: url(data:font/ttf;base64,{data}) format(\"truetype\"); }}"
            ),
        );
    }
    written(picture, &faces)
}

/// Writes one line, set in by so many steps. Writing into a string can't fail.
fn line(to: &mut String, depth: usize, words: std::fmt::Arguments<'_>) {
    for _ in 0..depth {
        to.push_str("  ");
    }
    let _ = to.write_fmt(words);
    to.push('\n');
}

fn written(picture: &Picture, faces: &str) -> String {
    let (wide, high) = (Rounded(picture.width), Rounded(picture.height));
    let mut out = String::new();
    line(
        &mut out,
        0,
        format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}\" height=\"{high}\" \
             viewBox=\"0 0 {wide} {high}\" role=\"img\">"
        ),
    );
    line(
        &mut out,
        1,
        format_args!("<title>{}</title>", escaped(&picture.spoken)),
    );
    line(&mut out, 1, format_args!("<style>"));
    out.push_str(faces);
    style(picture, &mut out);
    line(&mut out, 1, format_args!("</style>"));
    for placed in &picture.placed {
        element(placed, &mut out);
    }
    out.push_str("</svg>\n");
    out
}

/// The ink of the classes that occur, and of texts.
fn style(picture: &Picture, out: &mut String) {
    line(
        out,
        2,
        format_args!(
            "text {{ font-family: B612, \"{SIGNS}\", \"DejaVu Sans\", sans-serif; \
             font-kerning: none; font-variant-ligatures: none; white-space: pre; }}"
        ),
    );
    line(out, 2, format_args!(".bold {{ font-weight: 700; }}"));
    line(out, 2, format_args!(".italic {{ font-style: italic; }}"));
    let classes: BTreeSet<Class> = picture.placed.iter().map(|placed| placed.class).collect();
    for class in classes {
        let ink = ink::of(class);
        let fill = match ink.fill {
            Fill::None => "none",
            Fill::Ink => "#000",
            Fill::Sheet => "#fff",
        };
        let mut words = format!("fill: {fill};");
        if ink.stroke_mm.is_some() {
            let tone = match ink.tone {
                Tone::Ink => "#000",
                Tone::Sheet => "#fff",
            };
            let _ = write!(
                words,
                " stroke: {tone}; stroke-width: {};",
                Rounded(ink.stroke())
            );
        }
        if !ink.dash.is_empty() {
            let dash: Vec<String> = ink.dash.iter().map(|&px| Rounded(px).to_string()).collect();
            let _ = write!(words, " stroke-dasharray: {};", dash.join(" "));
        }
        if ink.cap == Cap::Round {
            words.push_str(" stroke-linecap: round;");
        }
        line(out, 2, format_args!(".{} {{ {words} }}", ink::name(class)));
    }
}

fn element(placed: &Placed, out: &mut String) {
    let class = ink::name(placed.class);
    let mut more = String::new();
    if let Some(key) = &placed.key {
        let _ = write!(more, " data-key=\"{}\"", escaped(key));
    }
    if let Some(spoken) = &placed.spoken {
        let _ = write!(more, " aria-label=\"{}\"", escaped(spoken));
    }
    match &placed.shape {
        Shape::Path(steps) => {
            let d = steps
                .iter()
                .map(|step| written_step(*step))
                .collect::<Vec<_>>()
                .join(" ");
            line(
                out,
                1,
                format_args!("<path class=\"{class}\"{more} d=\"{d}\"/>"),
            );
        }
        Shape::Circle { x, y, r } => line(
            out,
            1,
            format_args!(
                "<circle class=\"{class}\"{more} cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
                Rounded(*x),
                Rounded(*y),
                Rounded(*r)
            ),
        ),
        Shape::Text {
            x,
            y,
            anchor,
            face,
            size,
            text,
        } => {
            let face = match face {
                Face::Plain => "",
                Face::Bold => " bold",
                Face::Italic => " italic",
            };
            let anchor = match anchor {
                Anchor::Start => "",
                Anchor::Middle => " text-anchor=\"middle\"",
                Anchor::End => " text-anchor=\"end\"",
            };
            line(
                out,
                1,
                format_args!(
                    "<text class=\"{class}{face}\"{more} x=\"{}\" y=\"{}\" \
                     font-size=\"{}\"{anchor}>{}</text>",
                    Rounded(*x),
                    Rounded(*y),
                    Rounded(*size),
                    escaped(text)
                ),
            );
        }
    }
}

fn written_step(step: Step) -> String {
    let r = Rounded;
    match step {
        Step::To(x, y) => format!("M{} {}", r(x), r(y)),
        Step::Line(x, y) => format!("L{} {}", r(x), r(y)),
        Step::Curve(a, b, c, d, x, y) => {
            format!("C{} {} {} {} {} {}", r(a), r(b), r(c), r(d), r(x), r(y))
        }
        Step::Close => "Z".to_owned(),
    }
}

/// A length to the hundredth of a px, without idle noughts.
#[derive(Clone, Copy)]
struct Rounded(f64);

impl std::fmt::Display for Rounded {
    fn fmt(&self, to: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let digits = format!("{:.2}", self.0);
        let digits = digits.trim_end_matches('0').trim_end_matches('.');
        to.write_str(if digits == "-0" { "0" } else { digits })
    }
}

/// A text as it may stand between tags and in quotes. What XML can't hold is left out.
fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for sign in words.chars() {
        match sign {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' | '\t' => out.push(' '),
            sign if sign.is_control() || matches!(sign, '\u{fffe}' | '\u{ffff}') => {}
            sign => out.push(sign),
        }
    }
    out
}

/// Bytes in the letters of a data address.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let at = |n: usize| u32::from(three.get(n).copied().unwrap_or(0));
        let packed = at(0) << 16 | at(1) << 8 | at(2);
        for n in 0..4 {
            if n > three.len() {
                out.push('=');
                continue;
            }
            let letter = packed >> (18 - 6 * n) & 63;
            // OK because six bits count to 63 at most.
            out.push(char::from(LETTERS[letter as usize]));
        }
    }
    out
}
