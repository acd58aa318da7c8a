//! A picture as the page is sent it: placed primitives with classes and keys, never colours.

use reckon::Trace;
use schemars::JsonSchema;
use serde::Serialize;
use sheets::draw::strip::StripDrawing;
use sheets::draw::{Anchor, Face, Picture, Shape, Step, ink};
use ts_rs::TS;

/// A picture.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Drawing {
    /// The number of the file's change that it shows.
    pub number: u64,
    /// Width [px].
    pub width: f64,
    /// Height [px].
    pub height: f64,
    /// What it is, in one sentence, for a reader of screens.
    pub spoken: String,
    /// From the back to the front.
    pub placed: Vec<PagePlaced>,
    /// Each joint with the x of its mark [px].
    pub marks: Vec<DrawingMark>,
    /// The table under a strip.
    pub table: Option<DrawingTable>,
    /// Where the way of a strip begins and where it ends [px].
    pub ends: Option<[f64; 2]>,
    /// What branches off the main circuit, with the places where it leaves it and comes back.
    pub tees: Vec<DrawingTee>,
    /// What each asked heel and trim does.
    pub tilts: Vec<DrawingTilt>,
}

/// A branch of the main circuit.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct DrawingTee {
    /// Its key, by which it is asked for.
    pub key: String,
    /// The letters of its runs, and the thing that it leads to.
    pub title: String,
    /// Where it leaves [px].
    pub from: Option<f64>,
    /// Where it comes back [px].
    pub to: Option<f64>,
}

/// A heel or trim.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct DrawingTilt {
    /// Its name: `10° to port`.
    pub name: String,
    /// How many joints go under by it; empty where it can be told of none.
    pub says: String,
    /// What the file does not tell for it.
    pub missing: Option<String>,
    /// The joints that go under.
    pub under: Vec<String>,
}

/// One primitive.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct PagePlaced {
    /// What it is, which says how it is inked.
    pub class: String,
    /// What of the boat it stands for.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub key: Option<String>,
    /// For a reader of screens.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub spoken: Option<String>,
    /// The form itself.
    pub shape: PageShape,
}

/// A form.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
pub enum PageShape {
    /// Steps of a path, as SVG has them.
    Path(String),
    /// Centre and radius [px].
    Circle([f64; 3]),
    /// One line of text.
    Text(PageText),
}

/// One line of text.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct PageText {
    /// Where the anchor stands [px].
    pub x: f64,
    /// The base line [px].
    pub y: f64,
    /// Which end stands at `x`.
    pub anchor: PageAnchor,
    /// The cut of the type.
    pub face: PageFace,
    /// The size of the type [px].
    pub size: f64,
    /// The words.
    pub text: String,
}

/// Which end of a text stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum PageAnchor {
    Start,
    Middle,
    End,
}

/// The cut of the type.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum PageFace {
    Plain,
    Bold,
    Italic,
}

/// Where a mark stands.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct DrawingMark {
    pub key: String,
    pub mark: String,
    pub x: f64,
}

/// The table under a strip, for a reader of screens.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct DrawingTable {
    /// What each cell of a column tells, with its unit.
    pub heads: Vec<String>,
    /// One a joint.
    pub columns: Vec<DrawingColumn>,
    /// The same by rows.
    pub rows: Vec<DrawingRow>,
}

/// One column.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct DrawingColumn {
    pub key: Option<String>,
    pub x: f64,
    pub cells: Vec<String>,
}

/// One row.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct DrawingRow {
    pub title: String,
    pub cells: Vec<DrawingCell>,
}

/// One cell.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct DrawingCell {
    pub x: f64,
    pub text: String,
}

impl Drawing {
    /// A picture without marks or table.
    pub fn of(number: u64, picture: Picture) -> Self {
        let Picture {
            width,
            height,
            spoken,
            placed,
        } = picture;
        Self {
            number,
            width: rounded(width),
            height: rounded(height),
            spoken,
            placed: placed.into_iter().map(PagePlaced::of).collect(),
            marks: Vec::new(),
            table: None,
            ends: None,
            tees: Vec::new(),
            tilts: Vec::new(),
        }
    }

    /// The waterline strip, and what it tells of heel and trim.
    pub fn of_strip(number: u64, drawing: StripDrawing, traces: &[Trace]) -> Self {
        let StripDrawing {
            picture,
            marks,
            ends: (begins, stops),
            tees,
            table,
        } = drawing;
        let tees = tees.into_iter().map(|tee| DrawingTee {
            key: tee.key,
            title: tee.title,
            from: tee.from.map(rounded),
            to: tee.to.map(rounded),
        });
        let tilts = traces.iter().map(|trace| DrawingTilt {
            name: trace.name.clone(),
            says: trace.says.clone(),
            missing: trace.missing.clone(),
            under: trace.under.clone(),
        });
        let mark_of = |key: &str| {
            let column = table.columns.iter().find(|column| column.key == key);
            column.map_or_else(String::new, |column| column.mark.clone())
        };
        let marks = marks
            .into_iter()
            .map(|(key, x)| DrawingMark {
                mark: mark_of(&key),
                key,
                x: rounded(x),
            })
            .collect();
        let column = |(at, column): (usize, &sheets::draw::strip::Column)| DrawingColumn {
            key: Some(column.key.clone()),
            x: rounded(column.x),
            cells: table
                .rows
                .iter()
                .map(|row| {
                    row.cells
                        .get(at)
                        .map_or_else(String::new, |cell| cell.text.clone())
                })
                .collect(),
        };
        let row = |row: &sheets::draw::strip::BandRow| DrawingRow {
            title: row.title.clone(),
            cells: table
                .columns
                .iter()
                .zip(&row.cells)
                .map(|(column, cell)| DrawingCell {
                    x: rounded(column.x),
                    text: cell.text.clone(),
                })
                .collect(),
        };
        let sent = DrawingTable {
            heads: table.rows.iter().map(|row| row.title.clone()).collect(),
            columns: table.columns.iter().enumerate().map(column).collect(),
            rows: table.rows.iter().map(row).collect(),
        };
        let table = (!sent.columns.is_empty()).then_some(sent);
        Self {
            marks,
            table,
            ends: (stops > begins).then(|| [rounded(begins), rounded(stops)]),
            tees: tees.collect(),
            tilts: tilts.collect(),
            ..Self::of(number, picture)
        }
    }
}

impl PagePlaced {
    fn of(placed: sheets::draw::Placed) -> Self {
        let sheets::draw::Placed {
            class,
            key,
            spoken,
            shape,
        } = placed;
        let shape = match shape {
            Shape::Path(steps) => PageShape::Path(path(&steps)),
            Shape::Circle { x, y, r } => PageShape::Circle([rounded(x), rounded(y), rounded(r)]),
            Shape::Text {
                x,
                y,
                anchor,
                face,
                size,
                text,
            } => PageShape::Text(PageText {
                x: rounded(x),
                y: rounded(y),
                anchor: match anchor {
                    Anchor::Start => PageAnchor::Start,
                    Anchor::Middle => PageAnchor::Middle,
                    Anchor::End => PageAnchor::End,
                },
                face: match face {
                    Face::Plain => PageFace::Plain,
                    Face::Bold => PageFace::Bold,
                    Face::Italic => PageFace::Italic,
                },
                size,
                text,
            }),
        };
        Self {
            class: ink::name(class).to_owned(),
            key,
            spoken,
            shape,
        }
    }
}

/// To the hundredth of a px; adding nought makes no minus nought.
fn rounded(px: f64) -> f64 {
    (px * 100.0).round() / 100.0 + 0.0
}

fn path(steps: &[Step]) -> String {
    let step = |step: &Step| match *step {
        Step::To(x, y) => format!("M{} {}", rounded(x), rounded(y)),
        Step::Line(x, y) => format!("L{} {}", rounded(x), rounded(y)),
        Step::Curve(a, b, c, d, x, y) => {
            let [a, b, c, d, x, y] = [a, b, c, d, x, y].map(rounded);
            format!("C{a} {b} {c} {d} {x} {y}")
        }
        Step::Close => "Z".to_owned(),
    };
    steps.iter().map(step).collect()
}
