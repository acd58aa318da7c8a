//! The waterline strip: the loop cut at its pump, pulled straight and laid over its band table.
//!
//! Along it, x is the coolant's way; up it, y is the height over the still waterline, to scale. Everything drawn comes
//! from [`reckon::Strip`]; here it is only given a place. A mark stands over the middle of its column of the table.

mod header;
mod heads;
mod labels;
mod lanes;
mod layers;
mod legend;
mod scale;
mod signs;
mod table;

use quantity::System;
use reckon::{At, Stage, Strip, StripState, Way};

use super::shape::{Anchor, Class, Face, Picture, Shape};

pub use self::table::{BandCell, BandRow, BandTable, Column};

use self::labels::{Labels, Place, Rect, Wanted};
use self::legend::Legend;
use self::scale::{Along, Up};

/// How tall the strip is, and what of it is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// 148 px: marks and panel alone.
    Ribbon,
    /// 284 px: with temperatures and one row of the table.
    Half,
    /// 640 px: with five rows.
    Tall,
    /// As a page of paper takes it: nothing scrolls, all rows of the chapter.
    Paper,
}

/// What is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StripForm<'a> {
    /// Width [px]. The picture is wider where pieces would become narrower than `least`, except on paper.
    pub width: f64,
    /// How tall, and what of it.
    pub form: Form,
    /// Least width of a piece [px]; 0 draws true lengths.
    pub least: f64,
    /// The units of all texts.
    pub units: System,
    /// Whose rows the band table has.
    pub chapter: Stage,
    /// Height [px], where it is not that of the form; on paper with what the signs mean under it.
    pub height: Option<f64>,
    /// A branch by its key, to be laid out in place of the main circuit.
    pub branch: Option<&'a str>,
    /// The strip of the arrangement before, drawn behind.
    pub before: Option<&'a Strip>,
    /// A branch is laid under the main circuit of the same form, and keeps its scale of heights.
    pub level: bool,
}

impl StripForm<'_> {
    /// A form of a width, for a mouse, with the rows of the flow.
    #[must_use]
    pub fn of(width: f64, form: Form, units: System) -> Self {
        Self {
            width,
            form,
            least: 40.0,
            units,
            chapter: Stage::Flow,
            height: None,
            branch: None,
            before: None,
            level: false,
        }
    }

    /// As wide as the frame of a page of paper.
    #[must_use]
    pub fn paper(units: System) -> Self {
        Self::of(680.0, Form::Paper, units)
    }
}

/// The strip with its places.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StripDrawing {
    /// What is seen.
    pub picture: Picture,
    /// Each joint by its key, with the x of its mark [px].
    pub marks: Vec<(String, f64)>,
    /// Where the way begins and where it ends [px].
    pub ends: (f64, f64),
    /// What branches off the main circuit, where that is drawn.
    pub tees: Vec<Tee>,
    /// The table under it, whole: the picture shows as many rows as the form has, and the cells that fit.
    pub table: BandTable,
}

/// Where a branch leaves the main circuit, and where it comes back.
#[derive(Clone, Debug, PartialEq)]
pub struct Tee {
    /// The branch's key.
    pub key: String,
    /// The letters of its runs, and the thing that it leads to.
    pub title: String,
    /// Where it leaves [px], where it does.
    pub from: Option<f64>,
    /// Where it comes back [px].
    pub to: Option<f64>,
}

/// Size of the least text on a screen [px].
const SCREEN: f64 = 12.0;
/// Size of the least text on paper, which is read nearer: 7.5 points [px].
const PRINT: f64 = 10.0;
/// Height of the lane of marks [px].
const MARKS: f64 = 32.0;
/// Height of the lane of the runs' names [px].
const RUNS: f64 = 18.0;
/// Height of a row of the table [px].
const ROW: f64 = 20.0;
/// Room at the left for axes and heads of rows, over the size of the type.
const LEFT: f64 = 92.0 / 12.0;
/// Room at the right for the pump's head, over the size of the type.
const RIGHT: f64 = 72.0 / 12.0;

/// All that is laid out together.
struct Desk<'a> {
    strip: &'a Strip,
    way: &'a Way,
    /// The main circuit is drawn, with all that belongs to it alone.
    main: bool,
    form: &'a StripForm<'a>,
    units: System,
    /// Size of the type [px].
    size: f64,
    /// Where the panel begins [px].
    left: f64,
    along: Along,
    up: Up,
    /// The chosen state, where the way is the main circuit.
    state: Option<&'a StripState>,
    picture: Picture,
    labels: Labels,
}

/// Lays the strip out.
#[must_use]
pub fn strip(strip: &Strip, ask: &StripForm) -> StripDrawing {
    let branch = ask
        .branch
        .and_then(|key| strip.branches.iter().find(|branch| branch.key == key));
    let way = branch.map_or(&strip.main, |branch| &branch.way);
    if way.pieces.is_empty() {
        return nothing(strip, ask);
    }
    let main = branch.is_none();
    let size = if ask.form == Form::Paper {
        PRINT
    } else {
        SCREEN
    };
    // A page of paper is asked nothing: what its signs mean stands under it.
    let legend = (ask.form == Form::Paper).then(|| Legend::of(strip, way, main, ask, size));
    let signs = legend.as_ref().map_or(0.0, Legend::height);
    let height = ask.height.unwrap_or(match ask.form {
        Form::Ribbon => 148.0,
        Form::Half => 284.0,
        Form::Tall => 640.0,
        Form::Paper => 480.0 + signs,
    });
    let (left, after) = (LEFT * size, RIGHT * size);
    let along = Along::of(
        way,
        ask.width - left - after,
        ask.least,
        ask.form == Form::Paper,
    );
    let rows = table::rows(way, ask, &along, left);
    let width = left + along.width() + after;
    let most = match ask.form {
        Form::Ribbon => 0,
        Form::Half => 1,
        Form::Tall => 5,
        Form::Paper => usize::MAX,
    };
    let seen = most.min(rows.rows.len());
    let state = if main { strip.states.first() } else { None };
    let warm = match ask.form {
        Form::Ribbon => 0.0,
        Form::Half => 52.0,
        Form::Tall => 88.0,
        // The lines lie near each other, and each wants room for its name.
        Form::Paper => 132.0,
    };
    let runs = if ask.form == Form::Ribbon { 0.0 } else { RUNS };
    let under = |main: bool| {
        let warm = if main && !strip.states.is_empty() {
            warm
        } else {
            0.0
        };
        let leaks = if main && ask.form != Form::Ribbon && !strip.leaks.is_empty() {
            lanes::LEAKS
        } else {
            0.0
        };
        (warm, leaks)
    };
    let (warm, leaks) = under(main);
    // Figures of the table say under it where they come from, where there is room.
    let noted = matches!(ask.form, Form::Tall | Form::Paper);
    let table_high = |rows: &BandTable| {
        let seen = most.min(rows.rows.len());
        let notes = if noted {
            rows.notes(seen, size, width).len()
        } else {
            0
        };
        // OK because a table has few rows and notes.
        let rows = seen as f64 * ROW + if seen > 0 { 4.0 } else { 0.0 };
        rows + notes as f64 * table::NOTE
    };
    let foot = table_high(&rows);
    let notes = if noted {
        rows.notes(seen, size, width)
    } else {
        Vec::new()
    };
    let top = MARKS + runs + 4.0;
    let level = ask.level && !main;
    // The panel is as tall as that of the main circuit, which has more under it.
    let spare = if level {
        let (warm, leaks) = under(true);
        let rows = table::rows(&strip.main, ask, &along, left);
        warm + leaks + table_high(&rows) - foot
    } else {
        0.0
    };
    let bottom = (height - foot - warm - leaks - spare - signs - 6.0).max(top + 60.0);
    let others = if main { strip.states.as_slice() } else { &[] };
    let whole = level
        .then(|| Up::of(strip, &strip.main, &strip.states, true, (top, bottom)))
        .filter(|whole| whole.holds(way));
    let up = whole.unwrap_or_else(|| Up::of(strip, way, others, main, (top, bottom)));
    let mut desk = Desk {
        strip,
        way,
        main,
        form: ask,
        units: ask.units,
        size,
        left,
        picture: Picture {
            width,
            height: bottom + leaks + warm + foot + signs + 6.0,
            spoken: spoken(strip, way, ask),
            placed: Vec::new(),
        },
        labels: Labels::within(
            Rect {
                left: left + 1.0,
                top,
                right: left + along.width() - 1.0,
                bottom,
            },
            size,
        ),
        along,
        up,
        state,
    };
    desk.panel();
    desk.mark_lane();
    if runs > 0.0 {
        desk.run_lane();
    }
    let mut y = bottom;
    if leaks > 0.0 {
        desk.leak_lane(y);
        y += leaks;
    }
    if warm > 0.0 {
        desk.temperatures(y, y + warm);
        y += warm;
    }
    let mut table = rows;
    desk.table(&mut table, seen, y + 4.0);
    // OK because a table has few rows.
    desk.notes(&notes, y + 4.0 + seen as f64 * ROW);
    if let Some(legend) = &legend {
        desk.legend(legend, y + foot);
    }
    let marks = way
        .stations
        .iter()
        .map(|station| (station.key.clone(), desk.x(station.at)))
        .collect();
    let tees = strip.branches.iter().filter(|_| main).map(|branch| Tee {
        key: branch.key.clone(),
        title: branch.title.clone(),
        from: branch.from.map(|at| desk.x(at)),
        to: branch.to.map(|at| desk.x(at)),
    });
    let tees = tees.collect();
    StripDrawing {
        ends: desk.ends(),
        tees,
        picture: desk.picture,
        marks,
        table,
    }
}

impl Desk<'_> {
    /// Where a place of the way stands.
    fn x(&self, at: At) -> f64 {
        self.left + self.along.x(at)
    }

    /// Both ends of the panel.
    fn ends(&self) -> (f64, f64) {
        (self.left, self.left + self.along.width())
    }

    /// How wide a text is.
    fn wide(&self, words: &str, face: Face) -> f64 {
        super::text::width(words, face, self.size)
    }

    /// Asks for a place for a text on the panel.
    fn say(&mut self, rank: u8, class: Class, key: Option<&str>, text: &str, places: Vec<Place>) {
        self.labels.want(Wanted {
            rank,
            class,
            key: key.map(str::to_owned),
            text: text.to_owned(),
            shorter: None,
            grade: None,
            places,
            leads: Vec::new(),
        });
    }

    fn text(&mut self, class: Class, x: f64, y: f64, anchor: Anchor, face: Face, text: &str) {
        self.picture.put(
            class,
            Shape::Text {
                x,
                y,
                anchor,
                face,
                size: self.size,
                text: text.to_owned(),
            },
        );
    }
}

/// A strip of which nothing is known says why.
fn nothing(strip: &Strip, ask: &StripForm) -> StripDrawing {
    let why = strip
        .why
        .clone()
        .unwrap_or_else(|| "Nothing is written of this way.".to_owned());
    let mut picture = Picture {
        width: ask.width,
        height: 48.0,
        spoken: format!("Waterline strip. {why}"),
        placed: Vec::new(),
    };
    let lines = super::text::wrap(&why, Face::Plain, SCREEN, ask.width - 8.0);
    for (i, line) in lines.into_iter().enumerate() {
        let text = Shape::Text {
            x: 4.0,
            // OK because the words are few lines.
            y: 20.0 + 16.0 * i as f64,
            anchor: Anchor::Start,
            face: Face::Plain,
            size: SCREEN,
            text: line,
        };
        picture.put(Class::Soft, text);
        picture.height = picture.height.max(32.0 + 16.0 * i as f64);
    }
    StripDrawing {
        picture,
        ..StripDrawing::default()
    }
}

fn spoken(strip: &Strip, way: &Way, ask: &StripForm) -> String {
    let what = match ask.branch {
        Some(key) => format!("Waterline strip of the branch {key}"),
        None => "Waterline strip from the pump's delivery to its suction".to_owned(),
    };
    let arrangement = strip
        .arrangement
        .as_ref()
        .map_or_else(String::new, |name| format!(", arrangement {name}"));
    let state = strip
        .states
        .first()
        .filter(|_| ask.branch.is_none())
        .map_or_else(String::new, |state| {
            let room = state.margin_text.in_units(ask.units);
            let room = if room.is_empty() {
                String::new()
            } else {
                format!(", {room}")
            };
            format!(", {}{room}", state.key)
        });
    let heights = if way.measured {
        ""
    } else {
        ", heights unmeasured"
    };
    format!(
        "{what}{arrangement}{state}: {} joints{heights}.",
        way.stations.len()
    )
}
