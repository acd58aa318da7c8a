//! One document tree for every sheet: blocks in, pages of placed primitives out, which PDF and
//! SVG then draw alike.

mod inline;
mod layout;
mod page;
pub mod pdf;
pub mod svg;

pub use layout::{lay, left_over};

/// What stands at the foot of every page.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// The boat's name.
    pub boat: String,
    /// The arrangement that is shown.
    pub arrangement: String,
    /// The day it was printed, as written.
    pub date: String,
    /// The first eight signs of the hash of the answer shown.
    pub hash: String,
    /// The paper.
    pub paper: Paper,
}

/// The paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 215.9 by 279.4 mm.
    Letter,
}

/// One sheet: what it is and what it holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// The name of its file without the ending, as `--only` takes it: `joints`.
    pub name: String,
    /// The title in the block at the foot: `Joint list`.
    pub title: String,
    /// What it holds, from the top.
    pub blocks: Vec<Block>,
}

/// One thing on a sheet.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A head of a part.
    Head(String),
    /// A paragraph.
    Text(Vec<Span>),
    /// A caution: the bar at its left, the word, the sentence. Never parted from the block after it.
    Caution(String),
    /// A table, whose head is said again on each page.
    Table(Table),
    /// A picture at its own size.
    Picture(crate::draw::Picture),
    /// Blocks that stay on one page.
    Together(Vec<Block>),
    /// A line to tick.
    Tick(Vec<Span>),
    /// A fresh page.
    NewPage,
    /// Room, mm.
    Gap(f64),
}

/// A table.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows, each with one cell a column. A cell is a list of lines.
    pub rows: Vec<Vec<Cell>>,
}

/// A column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// The words over it.
    pub head: String,
    /// Its share of the width.
    pub share: f64,
    /// Whether its texts stand at the right.
    pub right: bool,
}

/// A cell: lines of spans, which wrap.
pub type Cell = Vec<Vec<Span>>;

/// A piece of a line of text. Between two pieces stands a blank, unless one brings it along or
/// the second begins with a point, a comma or a closing bracket.
#[derive(Clone, Debug, PartialEq)]
pub enum Span {
    /// Upright.
    Plain(String),
    /// Bold.
    Bold(String),
    /// Second text.
    Soft(String),
    /// What nobody has measured: italic, in a dashed box, with its word. The text is the value and
    /// then *assumed* or *guessed*; where it brings no word, *assumed* is added.
    Assumed(String),
    /// A sign in a dashed box: `?` for what can't be known yet, `choose` for what waits for us.
    Unknown(String),
    /// The shape of a grade and its word.
    Grade(reckon::Grade),
    /// An empty box for a pencil, so many mm wide, and the unit after it.
    Empty(f64, String),
    /// A box to tick.
    Tick,
}
