//! What stands over and under the drawing: which arrangement it is, what the lines mean, what it rests on.

use reckon::{Around, AroundFitting, AroundWay};

use super::place::Plan;
use super::{AroundForm, EDGE, LINE, SIZE};
use crate::draw::{Anchor, Class, Face, Picture, Shape, text};

/// A line or sign with its meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sample {
    Hot,
    Cold,
    Branch,
    Vent,
    Raw,
    Dead,
    Shut,
    Blank,
    Joint,
}

const SAMPLE: f64 = 28.0;
const ROW: f64 = 18.0;

/// The foot, with the room that it takes.
pub(super) struct Foot {
    pub(super) height: f64,
    pub(super) spoken: String,
    title: Vec<String>,
    rows: Vec<Vec<(Sample, &'static str)>>,
    notes: Vec<String>,
}

fn words(sample: Sample) -> &'static str {
    match sample {
        Sample::Hot => "hot way",
        Sample::Cold => "cold way back",
        Sample::Branch => "branch, make-up",
        Sample::Vent => "vent",
        Sample::Raw => "raw water",
        Sample::Dead => "nothing runs",
        Sample::Shut => "valve shut",
        Sample::Blank => "blanked off",
        Sample::Joint => "joint",
    }
}

impl Foot {
    pub(super) fn of(around: &Around, form: &AroundForm) -> Foot {
        let way = |way: AroundWay| around.legs.iter().any(|leg| leg.way == way);
        let shut = !around.shut.is_empty()
            || around
                .legs
                .iter()
                .flat_map(|leg| &leg.pieces)
                .any(|piece| matches!(piece.fitting, AroundFitting::Valve { shut: true, .. }));
        let there = [
            (Sample::Hot, way(AroundWay::Hot)),
            (Sample::Cold, way(AroundWay::Cold)),
            (
                Sample::Branch,
                way(AroundWay::Branch) || way(AroundWay::MakeUp),
            ),
            (Sample::Vent, way(AroundWay::Vent)),
            (Sample::Raw, way(AroundWay::Raw)),
            (Sample::Dead, way(AroundWay::Dead)),
            (Sample::Shut, shut),
            (Sample::Blank, !around.blanked.is_empty()),
            (Sample::Joint, !around.legs.is_empty()),
        ];
        let room = form.width - 2.0 * EDGE;
        let mut rows: Vec<Vec<(Sample, &'static str)>> = vec![Vec::new()];
        let mut used = 0.0;
        // A narrow drawing stands beside others that say what the lines mean.
        let wide = form.width >= super::WIDE;
        for (sample, _) in there.into_iter().filter(|(_, there)| *there && wide) {
            let own = SAMPLE + 5.0 + text::width(words(sample), Face::Plain, SIZE) + 14.0;
            if used + own - 14.0 > room && used > 0.0 {
                rows.push(Vec::new());
                used = 0.0;
            }
            used += own;
            if let Some(row) = rows.last_mut() {
                row.push((sample, words(sample)));
            }
        }
        let mut notes = vec!["Not to scale: heights in order only.".to_owned()];
        notes.extend(
            around
                .notes
                .iter()
                .map(|note| note.in_units(form.units).to_owned()),
        );
        if around.legs.iter().any(|leg| leg.before.is_some()) {
            let before = around.before.as_ref().map_or_else(
                || "the file as it stands".to_owned(),
                |name| format!("the arrangement {name}"),
            );
            notes.push(format!(
                "Figures with the word before are those of {before}."
            ));
        }
        if !wide {
            notes.push("Sound things bear no sign.".to_owned());
        }
        let rows = if wide { rows } else { Vec::new() };
        let notes = text::wrap(&notes.join(" "), Face::Plain, SIZE, room);
        let name = around.arrangement.as_ref().map_or_else(
            || "As the file stands".to_owned(),
            |name| format!("Arrangement {name}"),
        );
        let round = if around.closed {
            ""
        } else {
            ": the water does not come round"
        };
        let state = around
            .state
            .as_ref()
            .map_or(String::new(), |state| format!(" · {state}"));
        let title = format!("{name}{state}{round}");
        let count = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
        let things = around.things.len();
        Foot {
            height: count(rows.len()) * ROW + count(notes.len()) * LINE + EDGE + 4.0,
            spoken: format!("Loop, {title}, {things} things, not to scale"),
            title: text::wrap(&title, Face::Plain, SIZE, room)
                .into_iter()
                .take(1)
                .collect(),
            rows,
            notes,
        }
    }

    pub(super) fn put(&self, plan: &Plan, picture: &mut Picture) {
        let put = |picture: &mut Picture, class, face, x: f64, y: f64, text: &str| {
            picture.put(
                class,
                Shape::Text {
                    x,
                    y,
                    anchor: Anchor::Start,
                    face,
                    size: SIZE,
                    text: text.to_owned(),
                },
            );
        };
        for title in &self.title {
            put(
                picture,
                Class::Soft,
                Face::Plain,
                EDGE,
                EDGE + 0.81 * SIZE,
                title,
            );
        }
        let mut y = plan.height - self.height + EDGE;
        for row in &self.rows {
            let mut x = EDGE;
            for (sample, words) in row {
                draw(*sample, x, y + ROW / 2.0, picture);
                put(
                    picture,
                    Class::Soft,
                    Face::Plain,
                    x + SAMPLE + 5.0,
                    y + ROW / 2.0 + 4.2,
                    words,
                );
                x += SAMPLE + 5.0 + text::width(words, Face::Plain, SIZE) + 14.0;
            }
            y += ROW;
        }
        for note in &self.notes {
            put(
                picture,
                Class::Soft,
                Face::Plain,
                EDGE,
                y + 0.81 * SIZE + 1.0,
                note,
            );
            y += LINE;
        }
    }
}

fn draw(sample: Sample, x: f64, y: f64, picture: &mut Picture) {
    let line = || Shape::line((x, y), (x + SAMPLE, y));
    let middle = x + SAMPLE / 2.0;
    let mut put = |class: Class, shape: Shape| picture.put(class, shape);
    match sample {
        Sample::Hot => put(Class::Loop, line()),
        Sample::Cold => {
            put(Class::LoopCold, line());
            put(Class::LoopCore, line());
        }
        Sample::Branch => put(Class::Middle, line()),
        Sample::Vent => put(Class::Vent, line()),
        Sample::Raw => put(Class::Thin, line()),
        Sample::Dead => put(Class::DeadLeg, line()),
        Sample::Shut => put(Class::Solid, super::paint::tie(middle, y, false)),
        Sample::Blank => {
            put(Class::Loop, Shape::line((x + 6.0, y), (middle + 4.0, y)));
            put(
                Class::Middle,
                Shape::line((middle + 4.0, y - 6.0), (middle + 4.0, y + 6.0)),
            );
        }
        Sample::Joint => {
            put(Class::Loop, line());
            put(
                Class::Middle,
                Shape::line((middle, y - 7.0), (middle, y + 7.0)),
            );
        }
    }
}
