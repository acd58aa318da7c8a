//! The band table: a row a figure, a column a joint, each under its mark.

use quantity::System;
use reckon::{Band, Stage, Way};

use super::super::shape::{Anchor, Class, Face, Shape, Step};
use super::scale::Along;
use super::{Desk, ROW, StripForm};
use crate::draw::text;

/// The whole table, for the eye and for a reader of screens.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BandTable {
    /// In the order of the joints.
    pub columns: Vec<Column>,
    /// From the top.
    pub rows: Vec<BandRow>,
}

/// One joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its key: `hot.from`.
    pub key: String,
    /// What is written on it: `A1`.
    pub mark: String,
    /// The middle of the column [px].
    pub x: f64,
}

/// One row.
#[derive(Clone, Debug, PartialEq)]
pub struct BandRow {
    /// What it tells, with its unit.
    pub title: String,
    /// A cell a column.
    pub cells: Vec<BandCell>,
    /// Whence its figures come, where the title does not tell; empty for none.
    pub from: String,
    distance: bool,
}

/// One cell.
#[derive(Clone, Debug, PartialEq)]
pub struct BandCell {
    /// Its text.
    pub text: String,
    /// Whether the picture has room for it.
    pub shown: bool,
}

/// Height of a line of the notes [px].
pub(super) const NOTE: f64 = 14.0;

impl BandTable {
    /// Whence the figures of the rows come that are seen, in lines.
    pub(super) fn notes(&self, seen: usize, size: f64, width: f64) -> Vec<String> {
        let told = self.rows.iter().take(seen);
        told.filter(|row| !row.from.is_empty())
            .flat_map(|row| {
                let name = row.title.split(',').next().unwrap_or_default();
                let words = format!("{name}: {}", row.from);
                text::wrap(&words, Face::Plain, size, width - 8.0)
            })
            .collect()
    }
}

/// The rows of a chapter; those of the survey where it has none.
pub(super) fn bands(way: &Way, chapter: Stage) -> Vec<&Band> {
    let of = |chapter| -> Vec<&Band> {
        way.bands
            .iter()
            .filter(|band| band.chapter == chapter)
            .collect()
    };
    let own = of(chapter);
    if own.is_empty() {
        of(Stage::Survey)
    } else {
        own
    }
}

/// The table of a way, of which the form draws as much as it has room for.
pub(super) fn rows(way: &Way, ask: &StripForm, along: &Along, left: f64) -> BandTable {
    let mut bands = bands(way, ask.chapter);
    // With one row only the distance is the least of what one wants to read.
    if ask.form == super::Form::Half && bands.len() > 1 && bands[0].distance {
        bands.rotate_left(1);
    }
    let units: System = ask.units;
    BandTable {
        columns: way
            .stations
            .iter()
            .map(|station| Column {
                key: station.key.clone(),
                mark: station.mark.clone(),
                x: left + along.x(station.at),
            })
            .collect(),
        rows: bands
            .into_iter()
            .map(|band| BandRow {
                title: band.title.in_units(units).to_owned(),
                cells: band
                    .cells
                    .iter()
                    .map(|cell| BandCell {
                        text: cell.in_units(units).to_owned(),
                        shown: false,
                    })
                    .collect(),
                from: band.from.in_units(units).to_owned(),
                distance: band.distance,
            })
            .collect(),
    }
}

impl Desk<'_> {
    /// Draws the first rows of the table; a cell that would meet one before it is left out.
    pub(super) fn table(&mut self, table: &mut BandTable, seen: usize, top: f64) {
        let (_, right) = self.ends();
        for (i, row) in table.rows.iter_mut().enumerate().take(seen) {
            // OK because a table has few rows.
            let from = top + ROW * i as f64;
            let base = from + 14.0;
            self.picture
                .put(Class::Hair, Shape::line((4.0, from), (right + 4.0, from)));
            let title = text::fits(&row.title, Face::Plain, self.size, self.left - 12.0);
            self.text(Class::Soft, 4.0, base, Anchor::Start, Face::Plain, &title);
            let mut free = self.left - 6.0;
            let mut gaps: Vec<(f64, f64)> = Vec::new();
            for (column, cell) in table.columns.iter().zip(&mut row.cells) {
                let half = self.wide(&cell.text, Face::Plain) / 2.0;
                // Figures are as high as they are wide: a little air tells one from the next.
                cell.shown = column.x - half >= free + 0.4 * self.size
                    && column.x + half <= self.picture.width - 2.0;
                if cell.shown {
                    gaps.push((free, column.x - half));
                    free = column.x + half;
                    let words = cell.text.clone();
                    self.text(
                        Class::Text,
                        column.x,
                        base,
                        Anchor::Middle,
                        Face::Plain,
                        &words,
                    );
                }
            }
            gaps.push((free, right));
            if row.distance {
                self.wiggles(&gaps, base);
            }
        }
        if seen > 0 {
            // OK because a table has few rows.
            let y = top + ROW * seen as f64;
            self.picture
                .put(Class::Hair, Shape::line((4.0, y), (right + 4.0, y)));
        }
    }

    /// The notes under the table.
    pub(super) fn notes(&mut self, notes: &[String], top: f64) {
        for (i, note) in notes.iter().enumerate() {
            // OK because a table has few notes.
            let base = top + 11.0 + NOTE * i as f64;
            self.text(Class::Soft, 4.0, base, Anchor::Start, Face::Plain, note);
        }
    }

    /// A wiggle for each piece that is drawn longer than it is, where the row has room for it.
    fn wiggles(&mut self, gaps: &[(f64, f64)], base: f64) {
        for (i, piece) in self.way.pieces.iter().enumerate() {
            if !self.along.stretched(i, piece.length) {
                continue;
            }
            // OK because a way has few pieces.
            let x = self.x(i as f64 + 0.5);
            if gaps
                .iter()
                .any(|(from, to)| *from + 5.0 <= x && x <= *to - 5.0)
            {
                let y = base - 9.0;
                let steps = vec![
                    Step::To(x, y),
                    Step::Curve(x - 5.0, y + 3.5, x + 5.0, y + 5.5, x, y + 9.0),
                ];
                self.picture.put(Class::Fine, Shape::Path(steps));
            }
        }
    }
}
