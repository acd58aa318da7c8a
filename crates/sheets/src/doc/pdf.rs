//! Pages as a PDF: real text that can be searched, fonts embedded, the same bytes at each run.

use std::fmt;

use krilla::Data;
use krilla::color::luma;
use krilla::destination::XyzDestination;
use krilla::document::Document;
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};

use super::{Head, Sheet, lay};
use crate::draw::ink::{self, Cap, Fill, Tone};
use crate::draw::shape::{Anchor, Face, Picture, Placed, Shape, Step};
use crate::draw::text;

/// Points in a CSS px.
const POINT: f64 = 0.75;

/// Why no PDF could be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault(String);

impl fmt::Display for Fault {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "no PDF could be made: {}", self.0)
    }
}

impl std::error::Error for Fault {}

/// Sheets as one PDF. It holds no time of writing, so that the same sheets give the same bytes.
///
/// # Errors
///
/// Where the writer of the PDF refuses what it was given.
pub fn write(sheets: &[(&Sheet, &Head)]) -> Result<Vec<u8>, Fault> {
    let parts: Vec<Part> = sheets
        .iter()
        .map(|(sheet, head)| Part {
            title: sheet.title.clone(),
            pages: lay(sheet, head),
        })
        .collect();
    let boat = sheets.first().map_or("", |(_, head)| head.boat.as_str());
    of_pages(boat, &parts)
}

/// The pages of one sheet, as `lay` gives them.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// The title of the sheet.
    pub title: String,
    /// Its pages.
    pub pages: Vec<Picture>,
}

/// Pages that are laid already as one PDF.
///
/// # Errors
///
/// Where the writer of the PDF refuses what it was given.
pub fn of_pages(boat: &str, parts: &[Part]) -> Result<Vec<u8>, Fault> {
    let fonts = Fonts::read()?;
    let mut document = Document::new();
    let titles: Vec<&str> = parts.iter().map(|part| part.title.as_str()).collect();
    document.set_metadata(
        Metadata::new()
            .title(format!("{boat}: {}", titles.join(", ")))
            .description(format!("Sheets of the boat {boat}"))
            .creator("Hosewright".to_owned())
            .producer("Hosewright".to_owned())
            .language("en-GB".to_owned()),
    );
    let mut outline = Outline::new();
    let mut number = 0;
    for part in parts {
        let to = XyzDestination::new(number, Point::from_xy(0.0, 0.0));
        outline.push_child(OutlineNode::new(part.title.clone(), to));
        for picture in &part.pages {
            let (wide, high) = (near(picture.width * POINT), near(picture.height * POINT));
            let settings = PageSettings::from_wh(wide, high)
                .ok_or_else(|| Fault(format!("a page of {wide} by {high} points")))?;
            let mut page = document.start_page_with(settings);
            let mut surface = page.surface();
            surface.push_transform(&Transform::from_scale(near(POINT), near(POINT)));
            for placed in &picture.placed {
                draw(placed, &fonts, &mut surface);
            }
            surface.pop();
            surface.finish();
            page.finish();
            number += 1;
        }
    }
    document.set_outline(outline);
    document
        .finish()
        .map_err(|error| Fault(format!("{error:?}")))
}

/// A number as the PDF takes it: a px needs no more digits than these.
fn near(value: f64) -> f32 {
    value as f32
}

/// The embedded fonts, read once a document.
struct Fonts([Font; 4]);

impl Fonts {
    fn read() -> Result<Fonts, Fault> {
        let read = |font: text::Font| {
            Font::new(Data::from(font.bytes()), 0)
                .ok_or_else(|| Fault(format!("the font {font:?} can't be read")))
        };
        let [regular, bold, italic, signs] = text::Font::ALL;
        Ok(Fonts([
            read(regular)?,
            read(bold)?,
            read(italic)?,
            read(signs)?,
        ]))
    }

    fn get(&self, font: text::Font) -> Font {
        let [regular, bold, italic, signs] = &self.0;
        match font {
            text::Font::Regular => regular,
            text::Font::Bold => bold,
            text::Font::Italic => italic,
            text::Font::Signs => signs,
        }
        .clone()
    }
}

fn tone(tone: Tone) -> luma::Color {
    match tone {
        Tone::Ink => luma::Color::black(),
        Tone::Sheet => luma::Color::white(),
    }
}

fn draw(placed: &Placed, fonts: &Fonts, surface: &mut Surface<'_>) {
    let ink = ink::of(placed.class);
    if !ink.shows() {
        return;
    }
    let fill = match ink.fill {
        Fill::None => None,
        Fill::Ink => Some(Tone::Ink),
        Fill::Sheet => Some(Tone::Sheet),
    };
    surface.set_fill(fill.map(|shade| krilla::paint::Fill {
        paint: tone(shade).into(),
        opacity: NormalizedF32::ONE,
        rule: FillRule::NonZero,
    }));
    surface.set_stroke(ink.stroke_mm.map(|_| Stroke {
        paint: tone(ink.tone).into(),
        width: near(ink.stroke()),
        miter_limit: 4.0,
        line_cap: match ink.cap {
            Cap::Butt => LineCap::Butt,
            Cap::Round => LineCap::Round,
        },
        line_join: LineJoin::Miter,
        opacity: NormalizedF32::ONE,
        dash: (!ink.dash.is_empty()).then(|| StrokeDash {
            array: ink.dash.iter().copied().map(near).collect(),
            offset: 0.0,
        }),
    }));
    match &placed.shape {
        Shape::Path(steps) => {
            if let Some(path) = path(steps) {
                surface.draw_path(&path);
            }
        }
        Shape::Circle { x, y, r } => {
            if let Some(path) = circle(*x, *y, *r) {
                surface.draw_path(&path);
            }
        }
        Shape::Text {
            x,
            y,
            anchor,
            face,
            size,
            text,
        } => {
            let wide = text::width(text, *face, *size);
            let x = match anchor {
                Anchor::Start => *x,
                Anchor::Middle => x - wide / 2.0,
                Anchor::End => x - wide,
            };
            words(text, *face, *size, (x, *y), fonts, surface);
        }
    }
}

/// A text, part for part out of the file that holds its signs.
fn words(
    words: &str,
    face: Face,
    size: f64,
    from: (f64, f64),
    fonts: &Fonts,
    surface: &mut Surface<'_>,
) {
    let (mut x, y) = from;
    for run in text::runs(words, face) {
        let glyphs: Vec<KrillaGlyph> = run
            .glyphs
            .iter()
            .map(|(range, glyph)| {
                let id = GlyphId::new(glyph.id);
                KrillaGlyph::new(id, near(glyph.advance), 0.0, 0.0, 0.0, range.clone(), None)
            })
            .collect();
        let start = Point::from_xy(near(x), near(y));
        surface.draw_glyphs(
            start,
            &glyphs,
            fonts.get(run.font),
            words,
            near(size),
            false,
        );
        x += run.width(size);
    }
}

fn path(steps: &[Step]) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for step in steps {
        match *step {
            Step::To(x, y) => builder.move_to(near(x), near(y)),
            Step::Line(x, y) => builder.line_to(near(x), near(y)),
            Step::Curve(a, b, c, d, x, y) => {
                builder.cubic_to(near(a), near(b), near(c), near(d), near(x), near(y));
            }
            Step::Close => builder.close(),
        }
    }
    builder.finish()
}

/// A circle of four curves.
fn circle(x: f64, y: f64, r: f64) -> Option<Path> {
    let k = r * 0.552_284_749_8;
    path(&[
        Step::To(x + r, y),
        Step::Curve(x + r, y + k, x + k, y + r, x, y + r),
        Step::Curve(x - k, y + r, x - r, y + k, x - r, y),
        Step::Curve(x - r, y - k, x - k, y - r, x, y - r),
        Step::Curve(x + k, y - r, x + r, y - k, x + r, y),
        Step::Close,
    ])
}
