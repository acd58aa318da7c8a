//! What the lines and signs of a strip on paper mean: only those that stand on it.

use reckon::{PieceForm, SignKind, Strip, TraceKind, Way};

use super::super::hatch::{self, Slope};
use super::super::shape::{Anchor, Class, Face, Shape, Step};
use super::signs::arrow;
use super::{Desk, StripForm};
use crate::draw::text;

/// A line or sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sample {
    /// A stroke of a class, as it lies on the panel.
    Stroke(Class),
    Wet,
    Joint,
    Open,
    Narrow,
    Shut,
    Hull,
    Bleed,
    Drain,
    High,
    Low,
    Reducer,
    Tee,
    Thermostat,
    Pump,
    Suction,
    Leak,
}

/// Width of a sample [px].
const SAMPLE: f64 = 24.0;
/// Room between a sample and its words [px].
const NEAR: f64 = 5.0;
/// Room between two entries [px].
const APART: f64 = 14.0;
/// Height of a row [px].
const ROW: f64 = 19.0;
/// Room over the rows [px].
const OVER: f64 = 8.0;

/// The entries, row by row.
pub(super) struct Legend {
    rows: Vec<Vec<(Sample, &'static str)>>,
}

impl Legend {
    pub(super) fn of(strip: &Strip, way: &Way, main: bool, form: &StripForm, size: f64) -> Self {
        let room = form.width - 8.0;
        let mut rows: Vec<Vec<(Sample, &'static str)>> = Vec::new();
        let mut used = f64::INFINITY;
        for (sample, words) in entries(strip, way, main) {
            let own = SAMPLE + NEAR + text::width(words, Face::Plain, size) + APART;
            if used + own - APART > room {
                rows.push(Vec::new());
                used = 0.0;
            }
            used += own;
            // OK because the first entry is always begun with a row.
            if let Some(row) = rows.last_mut() {
                row.push((sample, words));
            }
        }
        Self { rows }
    }

    /// What it adds to the picture [px].
    pub(super) fn height(&self) -> f64 {
        if self.rows.is_empty() {
            return 0.0;
        }
        // OK because there are few rows.
        OVER + ROW * self.rows.len() as f64
    }
}

/// All that stands on a strip, lines first.
fn entries(strip: &Strip, way: &Way, main: bool) -> Vec<(Sample, &'static str)> {
    let mut all: Vec<(Sample, &'static str)> = Vec::new();
    let mut add = |there: bool, sample: Sample, words: &'static str| {
        if there {
            all.push((sample, words));
        }
    };
    let stroke = Sample::Stroke;
    let dashed = way.pieces.iter().any(|piece| piece.assumed);
    add(dashed, stroke(Class::LoopAssumed), "height not measured");
    let wet = way.measured
        && way.pieces.iter().any(|piece| {
            piece.form != PieceForm::Outside && piece.poly.iter().any(|(_, z)| *z < 0.0)
        });
    add(wet, Sample::Wet, "in the sea");
    if main {
        let (first, rest) = match strip.states.as_slice() {
            [] => (None, false),
            [first, rest @ ..] => (Some(first), !rest.is_empty()),
        };
        add(
            first.is_some(),
            stroke(Class::GradeLine),
            "grade line: so high the coolant stands in a tube, cap off",
        );
        add(rest, stroke(Class::GradeOther), "the same in other states");
        let cap = strip
            .header
            .as_ref()
            .is_some_and(|header| header.cap.is_some());
        let tilted = strip.traces.iter().any(|trace| {
            let header = trace.header.as_ref();
            header.is_some_and(|header| !header.cap.is_empty() || !header.level.is_empty())
        });
        let header = if tilted {
            "header cap; header cap and level when she heels or trims"
        } else {
            "header cap"
        };
        add(cap || tilted, stroke(Class::Header), header);
        let heel = |kind: TraceKind| {
            let mut traces = strip.traces.iter();
            traces.any(|trace| trace.kind == kind && !trace.lines.is_empty())
        };
        for (kind, class, words) in [
            (
                TraceKind::Starboard,
                Class::HeelStarboard,
                "sea, heeled to starboard",
            ),
            (TraceKind::Port, Class::HeelPort, "sea, heeled to port"),
            (TraceKind::Trim, Class::Trim, "sea, trimmed"),
        ] {
            add(heel(kind), stroke(class), words);
        }
        add(!strip.vents.is_empty(), stroke(Class::Vent), "vent");
        add(first.is_some(), stroke(Class::Temperature), "coolant");
        let warm = first.is_some() && strip.alarm.is_some();
        add(warm, stroke(Class::Alarm), "alarm");
        let boils = first.is_some_and(|state| state.boils.iter().flatten().count() > 1);
        add(boils, stroke(Class::Boil), "boils, cap open");
        add(
            first.is_some(),
            stroke(Class::SeaTemperature),
            "temperature of the sea",
        );
        add(
            strip.suction_from.is_some(),
            Sample::Suction,
            "suction side",
        );
        add(
            !strip.leaks.is_empty(),
            Sample::Leak,
            "which way a leak there runs: down out, up in",
        );
        add(true, Sample::Pump, "pump");
    }
    add(!way.stations.is_empty(), Sample::Joint, "joint");
    let has = |kind: SignKind| way.signs.iter().any(|sign| sign.kind == kind);
    let valve = |shut: bool, narrow: bool| has(SignKind::Valve { shut, narrow });
    add(valve(false, false), Sample::Open, "valve, open");
    add(
        valve(false, true),
        Sample::Narrow,
        "valve, open, narrower than the hose",
    );
    add(
        valve(true, false) || valve(true, true),
        Sample::Shut,
        "valve, shut",
    );
    for (kind, sample, words) in [
        (SignKind::Hull, Sample::Hull, "through the hull"),
        (SignKind::Bleed, Sample::Bleed, "bleed"),
        (SignKind::Drain, Sample::Drain, "drain"),
        (SignKind::High, Sample::High, "high spot, where air gathers"),
        (
            SignKind::Low,
            Sample::Low,
            "low spot; “stays full”: nothing drains it",
        ),
        (SignKind::Reducer, Sample::Reducer, "change of bore"),
        (SignKind::Tee, Sample::Tee, "tee"),
        (SignKind::Thermostat, Sample::Thermostat, "thermostat"),
    ] {
        add(has(kind), sample, words);
    }
    all
}

impl Desk<'_> {
    /// The entries under the table.
    pub(super) fn legend(&mut self, legend: &Legend, top: f64) {
        let mut y = top + OVER + 0.5 * ROW;
        for row in &legend.rows {
            let mut x = 4.0;
            for (sample, words) in row {
                self.sample(*sample, x, y);
                x += SAMPLE + NEAR;
                let base = y + 0.36 * self.size;
                self.text(Class::Soft, x, base, Anchor::Start, Face::Plain, words);
                x += self.wide(words, Face::Plain) + APART;
            }
            y += ROW;
        }
    }

    fn sample(&mut self, sample: Sample, x: f64, y: f64) {
        let (end, middle) = (x + SAMPLE, x + 0.5 * SAMPLE);
        let mut put = |class: Class, shape: Shape| self.picture.put(class, shape);
        let across = |y: f64| Shape::line((x, y), (end, y));
        let down = |from: f64, to: f64| Shape::line((middle, from), (middle, to));
        let ring = |y: f64| Shape::Circle {
            x: middle,
            y,
            r: 4.0,
        };
        match sample {
            Sample::Stroke(class) => put(class, across(y)),
            Sample::Wet => {
                put(Class::LoopSecond, across(y + 3.0));
                put(Class::Loop, across(y - 2.0));
            }
            Sample::Joint => put(Class::Middle, down(y - 7.0, y + 7.0)),
            Sample::Open | Sample::Narrow | Sample::Shut => {
                let class = if sample == Sample::Shut {
                    Class::Solid
                } else {
                    Class::Thin
                };
                for side in [-7.0, 7.0] {
                    let half = [
                        (middle, y),
                        (middle + side, y - 5.0),
                        (middle + side, y + 5.0),
                    ];
                    put(class, Shape::figure(&half));
                }
                if sample == Sample::Narrow {
                    put(Class::Thin, down(y - 7.0, y + 7.0));
                }
            }
            Sample::Hull => put(
                Class::Solid,
                Shape::rectangle(middle - 2.5, y - 8.0, 5.0, 16.0),
            ),
            Sample::Bleed => {
                put(Class::Thin, down(y + 7.0, y + 1.0));
                put(Class::Thin, ring(y - 3.0));
            }
            Sample::Drain => {
                put(Class::Thin, down(y - 7.0, y - 1.0));
                put(Class::Thin, ring(y + 3.0));
            }
            Sample::High => {
                let hat = [
                    (middle - 7.0, y + 3.0),
                    (middle, y - 3.0),
                    (middle + 7.0, y + 3.0),
                ];
                put(Class::Middle, Shape::through(&hat));
            }
            Sample::Low => {
                let (top, r) = (y - 6.0, 4.0);
                let k = r * 0.5523;
                let steps = vec![
                    Step::To(middle, top),
                    Step::Curve(
                        middle + 1.0,
                        top + 4.0,
                        middle + r,
                        top + 5.0,
                        middle + r,
                        top + 8.0,
                    ),
                    Step::Curve(
                        middle + r,
                        top + 8.0 + k,
                        middle + k,
                        top + 12.0,
                        middle,
                        top + 12.0,
                    ),
                    Step::Curve(
                        middle - k,
                        top + 12.0,
                        middle - r,
                        top + 8.0 + k,
                        middle - r,
                        top + 8.0,
                    ),
                    Step::Curve(middle - r, top + 5.0, middle - 1.0, top + 4.0, middle, top),
                    Step::Close,
                ];
                put(Class::Solid, Shape::Path(steps));
            }
            Sample::Reducer => {
                let trapezium = [
                    (middle - 5.0, y - 6.0),
                    (middle + 5.0, y - 3.0),
                    (middle + 5.0, y + 3.0),
                    (middle - 5.0, y + 6.0),
                ];
                put(Class::Thin, Shape::figure(&trapezium));
            }
            Sample::Tee => put(
                Class::Thin,
                Shape::rectangle(middle - 4.0, y - 4.0, 8.0, 8.0),
            ),
            Sample::Thermostat => {
                let circle = Shape::Circle {
                    x: middle,
                    y,
                    r: 7.5,
                };
                put(Class::Thin, circle);
                let base = y + 4.3;
                self.text(Class::Text, middle, base, Anchor::Middle, Face::Plain, "T");
            }
            Sample::Pump => {
                put(
                    Class::Thin,
                    Shape::Circle {
                        x: middle,
                        y,
                        r: 8.0,
                    },
                );
                let head = [
                    (middle - 3.0, y - 4.0),
                    (middle + 4.0, y),
                    (middle - 3.0, y + 4.0),
                ];
                put(Class::Solid, Shape::figure(&head));
            }
            Sample::Suction => {
                let area = [(x, y - 7.0), (end, y - 7.0), (end, y + 7.0), (x, y + 7.0)];
                for line in hatch::lines(&area, Slope::Rising, 8.0) {
                    put(Class::Suction, line);
                }
            }
            Sample::Leak => {
                for (x, up) in [(middle - 5.0, false), (middle + 5.0, true)] {
                    for (i, shape) in arrow(x, y + 2.0, up).into_iter().enumerate() {
                        let class = if i == 0 { Class::Thin } else { Class::Solid };
                        put(class, shape);
                    }
                }
            }
        }
    }
}
