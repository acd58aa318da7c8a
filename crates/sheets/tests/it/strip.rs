//! The waterline strip of the demo boats: texts keep clear of each other, marks stand over their columns, heights are
//! to scale, and nothing that is not measured looks as if it were.

use std::sync::OnceLock;

use boat::Boat;
use quantity::System;
use reckon::{
    Flow, Grade, Input, Memo, PieceForm, Set, SignKind, Stage, Strip, StripAsk, TraceKind, flow,
    reckon,
};
use sheets::draw::strip::{Form, StripDrawing, StripForm, strip};
use sheets::draw::{Class, Face, Picture, Placed, Shape, Step, check};

const DEMO: [(&str, &str); 3] = [
    ("dunlin", include_str!("../../../../boats/dunlin/boat.toml")),
    (
        "tansley",
        include_str!("../../../../boats/tansley/boat.toml"),
    ),
    ("wenna", include_str!("../../../../boats/wenna/boat.toml")),
];
const UNITS: [System; 2] = [System::Metric, System::Imperial];
const WIDTHS: [f64; 3] = [1296.0, 732.0, 390.0];
const FORMS: [Form; 4] = [Form::Ribbon, Form::Half, Form::Tall, Form::Paper];
/// An edge may lie so far off its number [px].
const NEAR: f64 = 0.02;

fn made(boat: &Boat, arrangement: Option<&str>, flow: Option<&Flow>, ask: &StripAsk) -> Strip {
    let input = Input {
        boat,
        arrangement,
        seed: 1,
        set: Set::Prompt,
        flow: None,
        bay: None,
    };
    let answer = reckon(&input, &mut Memo::default());
    reckon::strip(boat, arrangement, ask, &answer, flow).expect("the arrangement")
}

fn boat(text: &str) -> Boat {
    boat::read(text).0
}

/// Every demo boat in each of her arrangements, reckoned once for all tests.
fn all() -> Vec<(String, Strip)> {
    static ALL: OnceLock<Vec<(String, Strip)>> = OnceLock::new();
    ALL.get_or_init(afresh).clone()
}

fn afresh() -> Vec<(String, Strip)> {
    let mut out = Vec::new();
    for (name, text) in DEMO {
        let boat = boat(text);
        for arrangement in ["before", "after", "fallback"] {
            let flow = flow(&boat, Some(arrangement));
            let ask = StripAsk {
                heel: vec![10.0, -10.0],
                trim: vec![2.0],
                ..StripAsk::default()
            };
            let strip = made(&boat, Some(arrangement), flow.as_ref(), &ask);
            out.push((format!("{name}, {arrangement}"), strip));
        }
    }
    out
}

fn forms() -> Vec<StripForm<'static>> {
    let mut out = Vec::new();
    for units in UNITS {
        for width in WIDTHS {
            for form in FORMS {
                out.push(StripForm::of(width, form, units));
            }
        }
        for chapter in [
            Stage::Survey,
            Stage::Fit,
            Stage::Fill,
            Stage::Prove,
            Stage::Home,
        ] {
            let paper = StripForm::paper(units);
            out.push(StripForm { chapter, ..paper });
        }
    }
    out
}

fn texts(picture: &Picture) -> Vec<(String, f64, f64)> {
    let text = |placed: &'_ Placed| match &placed.shape {
        Shape::Text { x, y, text, .. } => Some((text.clone(), *x, *y)),
        _ => None,
    };
    picture.placed.iter().filter_map(text).collect()
}

fn says(picture: &Picture, words: &str) -> bool {
    texts(picture)
        .iter()
        .any(|(text, _, _)| text.contains(words))
}

/// The first path of a class for a key.
fn path(picture: &Picture, class: Class, key: Option<&str>) -> Option<Vec<(f64, f64)>> {
    picture.placed.iter().find_map(|placed| {
        if placed.class != class || (key.is_some() && placed.key.as_deref() != key) {
            return None;
        }
        let Shape::Path(steps) = &placed.shape else {
            return None;
        };
        let points = steps.iter().filter_map(|step| match step {
            Step::To(x, y) | Step::Line(x, y) => Some((*x, *y)),
            _ => None,
        });
        Some(points.collect())
    })
}

/// Height of the still waterline in the picture.
fn still(picture: &Picture) -> f64 {
    path(picture, Class::Waterline, None).expect("the waterline")[0].1
}

/// Where the loop passes a joint.
fn tick_y(drawing: &StripDrawing, key: &str) -> f64 {
    let tick = path(&drawing.picture, Class::Middle, Some(key)).expect("the tick of the joint");
    0.5 * (tick[0].1 + tick[1].1)
}

#[test]
fn no_text_overlaps_another_or_is_cut_off() {
    for (name, made) in all() {
        for form in forms() {
            let mut asked = vec![form];
            for branch in &made.branches {
                asked.push(StripForm {
                    branch: Some(&branch.key),
                    ..form
                });
            }
            for form in asked {
                let picture = strip(&made, &form).picture;
                let mut faults = check::overlaps(&picture);
                faults.extend(check::cut_off(&picture));
                faults.extend(check::missing(&picture));
                assert_eq!(faults, Vec::<String>::new(), "{name}, {form:?}");
            }
        }
    }
}

#[test]
fn every_mark_stands_over_the_middle_of_its_column() {
    for (name, made) in all() {
        for form in forms() {
            let drawing = strip(&made, &form);
            assert_eq!(drawing.marks.len(), made.main.stations.len(), "{name}");
            assert_eq!(drawing.table.columns.len(), drawing.marks.len(), "{name}");
            for ((key, x), column) in drawing.marks.iter().zip(&drawing.table.columns) {
                assert_eq!((key, *x), (&column.key, column.x), "{name}");
                let shape = drawing.picture.placed.iter().find(|placed| {
                    let grade = matches!(
                        placed.class,
                        Class::Sound | Class::Marginal | Class::Unsound | Class::Unmeasured
                    );
                    grade && placed.key.as_ref() == Some(key)
                });
                let shape = shape.unwrap_or_else(|| panic!("{name}: no mark for {key}"));
                let here = check::extent(shape).expect("a shape with an extent");
                let middle = 0.5 * (here.left + here.right);
                assert!(
                    (middle - column.x).abs() <= 1.0,
                    "{name}: {key} at {middle}"
                );
                // The name for a reader of screens is that of the joint.
                let spoken = shape.spoken.as_deref().unwrap_or_default();
                assert!(spoken.starts_with(&column.mark), "{name}: {spoken}");
            }
            for row in &drawing.table.rows {
                assert_eq!(
                    row.cells.len(),
                    drawing.marks.len(),
                    "{name}: {}",
                    row.title
                );
                for (cell, column) in row.cells.iter().zip(&drawing.table.columns) {
                    let drawn = texts(&drawing.picture)
                        .iter()
                        .any(|(text, x, _)| *text == cell.text && (x - column.x).abs() < 1.0);
                    if cell.shown {
                        assert!(drawn, "{name}: {} of {}", cell.text, column.mark);
                    }
                }
            }
        }
    }
}

/// Which label stays where two would meet: the least number.
fn stays(grade: Option<Grade>) -> u8 {
    match grade {
        Some(Grade::Unsound) => 0,
        Some(Grade::Unmeasured) => 1,
        Some(Grade::Marginal) => 2,
        Some(Grade::Sound) | None => 3,
    }
}

#[test]
fn a_label_gives_way_only_to_one_that_matters_as_much() {
    let mut dropped = 0;
    for (name, made) in all() {
        for width in WIDTHS {
            let form = StripForm {
                least: 10.0,
                ..StripForm::of(width, Form::Half, System::Metric)
            };
            let drawing = strip(&made, &form);
            let labels = texts(&drawing.picture);
            let seen = |mark: &str| labels.iter().any(|(text, _, _)| text == mark);
            let wide = |mark: &str| sheets::draw::text::width(mark, Face::Bold, 12.0);
            let all: Vec<_> = made.main.stations.iter().zip(&drawing.marks).collect();
            for (own, (_, x)) in &all {
                if seen(&own.mark) {
                    continue;
                }
                dropped += 1;
                let meets = all.iter().any(|(other, (_, there))| {
                    let room = 0.5 * (wide(&own.mark) + wide(&other.mark)) + 3.0;
                    seen(&other.mark)
                        && (x - there).abs() < room
                        && stays(other.grade) <= stays(own.grade)
                });
                assert!(meets, "{name} at {width}: {} has room", own.mark);
            }
        }
    }
    assert!(dropped > 0, "no label ever had to give way");
}

#[test]
fn heights_are_to_scale() {
    for (name, made) in all() {
        for width in WIDTHS {
            for form in FORMS {
                let form = StripForm::of(width, form, System::Metric);
                let drawing = strip(&made, &form);
                let zero = still(&drawing.picture);
                let told = told(&made);
                let scale = scale(&drawing, &told);
                assert!(scale > 20.0, "{name}: {scale} px/m");
                for (key, z) in &told {
                    let y = tick_y(&drawing, key);
                    assert!((zero - z * scale - y).abs() < NEAR, "{name}: {key} at {y}");
                }
                // The cap of the header is on the same scale.
                if let Some(cap) = made.header.as_ref().and_then(|header| header.cap) {
                    let line = path(&drawing.picture, Class::Header, None).expect("the cap");
                    assert!(
                        (zero - cap * scale - line[0].1).abs() < NEAR,
                        "{name}: the cap"
                    );
                }
            }
        }
    }
}

/// Joints whose height is told, with it [m].
fn told(made: &Strip) -> Vec<(&str, f64)> {
    let all = made.main.stations.iter();
    all.filter_map(|own| Some((own.key.as_str(), own.z?)))
        .collect()
}

/// By the lowest and the highest joint [px/m].
fn scale(drawing: &StripDrawing, told: &[(&str, f64)]) -> f64 {
    let low = told.iter().min_by(|a, b| a.1.total_cmp(&b.1));
    let high = told.iter().max_by(|a, b| a.1.total_cmp(&b.1));
    let (low, high) = low.zip(high).expect("a joint");
    (tick_y(drawing, low.0) - tick_y(drawing, high.0)) / (high.1 - low.1)
}

#[test]
fn the_same_input_gives_the_same_drawing() {
    let (one, other) = (all(), afresh());
    for ((name, one), (_, other)) in one.iter().zip(&other) {
        assert_eq!(one, other, "{name}");
        for form in forms() {
            assert_eq!(strip(one, &form), strip(other, &form), "{name}");
        }
    }
}

#[test]
fn the_grade_line_is_in_the_true_zone_at_the_suction() {
    for (name, made) in all() {
        let Some(state) = made.states.first() else {
            panic!("{name}: no state has figures");
        };
        let end = state
            .line
            .last()
            .copied()
            .flatten()
            .expect("the pump's inlet");
        let cap = made
            .header
            .as_ref()
            .and_then(|header| header.cap)
            .expect("a cap");
        assert!(end < cap + 0.15, "{name}: {end} m");
        let form = StripForm::of(1296.0, Form::Tall, System::Metric);
        let drawing = strip(&made, &form);
        let zero = still(&drawing.picture);
        let wanted = zero - end * scale(&drawing, &told(&made));
        let lines = drawing
            .picture
            .placed
            .iter()
            .filter(|placed| placed.class == Class::GradeLine);
        let last = lines
            .filter_map(|placed| match &placed.shape {
                Shape::Path(steps) => match steps.last()? {
                    Step::To(x, y) | Step::Line(x, y) => Some((*x, *y)),
                    _ => None,
                },
                _ => None,
            })
            .max_by(|a, b| a.0.total_cmp(&b.0))
            .expect("a grade line");
        assert!(
            (last.1 - wanted).abs() < NEAR,
            "{name}: {} for {wanted}",
            last.1
        );
    }
}

#[test]
fn a_state_that_is_asked_for_is_the_one_that_is_drawn() {
    let boat = boat(DEMO[0].1);
    let flow = flow(&boat, Some("after"));
    let ask = StripAsk {
        state: Some("alongside".into()),
        ..StripAsk::default()
    };
    let made = made(&boat, Some("after"), flow.as_ref(), &ask);
    assert_eq!(made.states[0].key, "alongside");
    let picture = strip(&made, &StripForm::of(1296.0, Form::Tall, System::Metric)).picture;
    assert!(says(&picture, "grade line, alongside"));
}

#[test]
fn what_has_no_height_is_dashed_and_says_so() {
    for (name, made) in all() {
        let drawing = strip(&made, &StripForm::of(1296.0, Form::Tall, System::Metric));
        for piece in &made.main.pieces {
            let class = if piece.assumed {
                Class::LoopAssumed
            } else {
                Class::Loop
            };
            let line = path(&drawing.picture, class, Some(&piece.key));
            assert!(line.is_some(), "{name}: {} is not {class:?}", piece.key);
        }
        let assumed = made.main.pieces.iter().any(|piece| piece.assumed);
        assert_eq!(
            says(&drawing.picture, "dashed: height not measured"),
            assumed,
            "{name}"
        );
    }
}

#[test]
fn without_any_height_the_whole_strip_is_dashed() {
    let heights = without_heights(DEMO[0].1);
    let boat = boat(&heights);
    let made = made(&boat, None, None, &StripAsk::default());
    assert!(!made.main.measured);
    for width in WIDTHS {
        for form in FORMS {
            let picture = strip(&made, &StripForm::of(width, form, System::Metric)).picture;
            assert!(says(&picture, "heights unmeasured"), "{form:?} at {width}");
            assert!(
                picture
                    .placed
                    .iter()
                    .all(|placed| placed.class != Class::Loop)
            );
            assert_eq!(check::overlaps(&picture), Vec::<String>::new());
        }
    }
}

/// The boat file without a single height.
fn without_heights(text: &str) -> String {
    let mut out = String::new();
    for line in text.lines() {
        let begins = |key: &str| line.starts_with(key);
        if begins("h = ") || begins("cap_h") || begins("cold_mark") || begins("depth") {
            continue;
        }
        let mut kept = line.to_owned();
        for key in [", h = ", ", high_at = ", ", low_at = ", ", top_h = "] {
            while let Some(at) = kept.find(key) {
                let rest = &kept[at + key.len()..];
                let wide = rest.find([',', ' ', '}']).unwrap_or(rest.len());
                kept.replace_range(at..at + key.len() + wide, "");
            }
        }
        out.push_str(&kept);
        out.push('\n');
    }
    out
}

/// The boat file without a single place across the boat.
fn without_asides(text: &str) -> String {
    let mut out = String::new();
    for line in text.lines().filter(|line| !line.starts_with("aside = ")) {
        let mut kept = line.to_owned();
        while let Some(at) = kept.find(", aside = \"") {
            let begins = at + ", aside = \"".len();
            let wide = kept[begins..].find('"').expect("the end of the text") + 1;
            kept.replace_range(at..begins + wide, "");
        }
        out.push_str(&kept);
        out.push('\n');
    }
    out
}

#[test]
fn a_heel_that_the_file_can_not_place_is_unmeasured_in_words() {
    let boat = boat(&without_asides(DEMO[0].1));
    let ask = StripAsk {
        heel: vec![10.0, -10.0],
        trim: vec![2.0],
        ..StripAsk::default()
    };
    let made = made(&boat, Some("after"), None, &ask);
    let kinds: Vec<TraceKind> = made.traces.iter().map(|trace| trace.kind).collect();
    assert_eq!(
        kinds,
        [TraceKind::Starboard, TraceKind::Port, TraceKind::Trim]
    );
    assert!(made.traces.iter().all(|trace| trace.lines.is_empty()));
    let picture = strip(&made, &StripForm::of(1296.0, Form::Tall, System::Metric)).picture;
    assert!(says(&picture, "10° to starboard unmeasured"));
    assert!(
        picture
            .placed
            .iter()
            .all(|placed| placed.class != Class::HeelStarboard)
    );
}

#[test]
fn a_trace_that_is_told_is_drawn_to_scale_with_its_name() {
    let (_, mut made) = all().swap_remove(1);
    // OK because a way has few pieces.
    let end = made.main.pieces.len() as f64;
    made.traces.truncate(1);
    made.traces[0].missing = None;
    made.traces[0].lines = vec![vec![(0.0, 0.05), (2.0, -0.1), (end, 0.12)]];
    let drawing = strip(&made, &StripForm::of(1296.0, Form::Tall, System::Metric));
    let line = path(&drawing.picture, Class::HeelStarboard, None).expect("the trace");
    let zero = still(&drawing.picture);
    let scale = (zero - line[2].1) / 0.12;
    assert!((line[1].1 - zero - 0.1 * scale).abs() < NEAR);
    assert!(says(&drawing.picture, "10° to starboard"));
}

#[test]
fn a_heel_is_drawn_as_far_as_it_is_told_with_its_count_at_the_foot() {
    let all = all();
    for (made, stretches, words) in [
        (&all[1].1, 2, "No joint goes under at 10° to starboard"),
        (&all[4].1, 1, "1 joint goes under at 10° to starboard"),
    ] {
        let picture = strip(made, &StripForm::of(1296.0, Form::Tall, System::Metric)).picture;
        let lines = picture
            .placed
            .iter()
            .filter(|placed| placed.class == Class::HeelStarboard);
        assert_eq!(lines.count(), stretches);
        assert!(says(&picture, words), "{words}");
        assert!(says(&picture, "10° to port"));
    }
}

#[test]
fn what_is_under_less_than_the_air_is_hatched_and_named() {
    let (_, mut made) = all().swap_remove(1);
    let low = made
        .main
        .heights
        .iter()
        .filter_map(|z| *z)
        .fold(f64::INFINITY, f64::min);
    let n = made.main.pieces.len();
    // A line that dips under the hose on the suction side.
    for z in made.states[0].line.iter_mut().skip(n - 3) {
        *z = Some(low);
    }
    for piece in made.main.pieces.iter_mut().skip(n - 3) {
        piece.below_air = true;
    }
    let picture = strip(&made, &StripForm::of(1296.0, Form::Tall, System::Metric)).picture;
    assert!(
        picture
            .placed
            .iter()
            .any(|placed| placed.class == Class::BelowAir)
    );
    assert!(says(&picture, "below air pressure"));
    assert_eq!(check::overlaps(&picture), Vec::<String>::new());
}

#[test]
fn the_arrangement_before_is_drawn_behind() {
    let all = all();
    let (before, after) = (&all[0].1, &all[1].1);
    let plain = StripForm::of(1296.0, Form::Tall, System::Metric);
    let form = StripForm {
        before: Some(before),
        ..plain
    };
    let count = |form: &StripForm| {
        let picture = strip(after, form).picture;
        assert_eq!(check::overlaps(&picture), Vec::<String>::new());
        picture
            .placed
            .iter()
            .filter(|placed| placed.class == Class::Before)
            .count()
    };
    assert_eq!((count(&plain), count(&form)), (0, 2));
}

#[test]
fn true_lengths_give_every_metre_the_same_width() {
    let (_, made) = all().swap_remove(1);
    let form = StripForm {
        least: 0.0,
        ..StripForm::of(1296.0, Form::Tall, System::Metric)
    };
    let drawing = strip(&made, &form);
    let x = |key: &str| {
        drawing
            .marks
            .iter()
            .find(|(own, _)| own == key)
            .expect("a mark")
            .1
    };
    let at = |key: &str| {
        let own = made.main.stations.iter().find(|own| own.key == key);
        own.expect("a station").s
    };
    let long = (x("cold.from") - x("hot.from")) / (at("cold.from") - at("hot.from"));
    let short = (x("suck.to") - x("cold.from")) / (at("suck.to") - at("cold.from"));
    assert!(
        (long - short).abs() < 1e-6 * long,
        "{long} and {short} px/m"
    );
}

#[test]
fn a_boat_without_runs_says_why_there_is_no_strip() {
    let boat = boat("version = 1\n[boat]\nname = \"Bare\"\n");
    let made = made(&boat, None, None, &StripAsk::default());
    let drawing = strip(&made, &StripForm::of(390.0, Form::Half, System::Metric));
    assert!(says(&drawing.picture, "No runs yet"));
    assert!(drawing.marks.is_empty());
}

/// The first text of a picture that says this, as a box: left, top, right, foot.
fn box_of(picture: &Picture, words: &str, size: f64) -> Option<[f64; 4]> {
    let wide = sheets::draw::text::width(words, Face::Plain, size);
    let all = texts(picture);
    let (_, x, y) = all.iter().find(|(text, _, _)| text == words)?;
    Some([*x, y - 0.7 * size, x + wide, *y])
}

/// Whether a line passes a box that is so much larger all round.
fn passes(line: &[(f64, f64)], own: [f64; 4], by: f64) -> bool {
    line.windows(2).any(|pair| {
        (0..=400).any(|step| {
            let share = f64::from(step) / 400.0;
            let x = pair[0].0 + share * (pair[1].0 - pair[0].0);
            let y = pair[0].1 + share * (pair[1].1 - pair[0].1);
            x > own[0] - by && x < own[2] + by && y > own[1] - by && y < own[3] + by
        })
    })
}

#[test]
fn on_paper_no_name_breaks_the_line_of_another_temperature() {
    for (name, made) in all() {
        let picture = strip(&made, &StripForm::of(650.0, Form::Paper, System::Metric)).picture;
        let lines = [Class::Alarm, Class::Boil, Class::Temperature];
        let lines = lines.map(|class| (class, path(&picture, class, None)));
        for (words, own) in [
            (made.alarm_text.metric.as_str(), Class::Alarm),
            ("boils, cap open", Class::Boil),
        ] {
            let Some(here) = box_of(&picture, words, 10.0) else {
                continue;
            };
            for (class, line) in &lines {
                let Some(line) = line.as_ref().filter(|_| *class != own) else {
                    continue;
                };
                assert!(!passes(line, here, 0.0), "{name}: {words} on {class:?}");
            }
        }
    }
}

#[test]
fn on_paper_the_name_of_a_state_touches_its_line_or_leads_to_it() {
    let mut seen = 0;
    for (name, made) in all() {
        let picture = strip(&made, &StripForm::of(650.0, Form::Paper, System::Metric)).picture;
        for state in made.states.iter().skip(1) {
            let Some(here) = box_of(&picture, &state.key, 10.0) else {
                continue;
            };
            let touched = picture.placed.iter().any(|placed| {
                let class = matches!(
                    placed.class,
                    Class::Fine | Class::GradeOther | Class::GradeLine
                );
                let Shape::Path(steps) = &placed.shape else {
                    return false;
                };
                let points: Vec<(f64, f64)> = steps
                    .iter()
                    .filter_map(|step| match step {
                        Step::To(x, y) | Step::Line(x, y) => Some((*x, *y)),
                        _ => None,
                    })
                    .collect();
                class && passes(&points, here, 6.0)
            });
            assert!(touched, "{name}: {} stands by itself", state.key);
            seen += 1;
        }
    }
    assert!(seen > 0, "no other state is named");
}

#[test]
fn paper_says_what_its_signs_mean_and_only_those_that_are_there() {
    for (name, made) in all() {
        let form = StripForm::of(650.0, Form::Paper, System::Metric);
        let paper = strip(&made, &form).picture;
        for (kind, words) in [
            (SignKind::High, "high spot, where air gathers"),
            (SignKind::Low, "low spot; “stays full”: nothing drains it"),
            (SignKind::Hull, "through the hull"),
            (SignKind::Reducer, "change of bore"),
        ] {
            let there = made.main.signs.iter().any(|sign| sign.kind == kind);
            assert_eq!(says(&paper, words), there, "{name}: {words}");
        }
        assert_eq!(says(&paper, "suction side"), made.suction_from.is_some());
        // A height that is asked for holds the signs too.
        let asked = StripForm {
            height: Some(700.0),
            ..form
        };
        let high = strip(&made, &asked).picture.height;
        assert!((high - 700.0).abs() < 0.5, "{name}: {high}");
        // On a screen one asks.
        let screen = strip(&made, &StripForm::of(1296.0, Form::Tall, System::Metric)).picture;
        assert!(!says(&screen, "high spot, where air gathers"), "{name}");
    }
}

#[test]
fn every_thing_on_the_way_has_its_block() {
    for (name, made) in all() {
        let picture = strip(&made, &StripForm::of(1296.0, Form::Tall, System::Metric)).picture;
        for piece in &made.main.pieces {
            if piece.form == PieceForm::Within {
                let block = path(&picture, Class::Hair, Some(&piece.key));
                assert!(block.is_some(), "{name}: {}", piece.key);
            }
        }
    }
}

/// The bracket of the cap: the open rectangle that stands at the axis.
fn bracket(picture: &Picture) -> Option<[(f64, f64); 4]> {
    picture.placed.iter().find_map(|placed| {
        let Shape::Path(steps) = &placed.shape else {
            return None;
        };
        let points: Vec<(f64, f64)> = steps
            .iter()
            .filter_map(|step| match step {
                Step::To(x, y) | Step::Line(x, y) => Some((*x, *y)),
                _ => None,
            })
            .collect();
        let own: [(f64, f64); 4] = points.try_into().ok()?;
        let [a, b, c, d] = own;
        let form = placed.class == Class::Thin && placed.key.is_none();
        let upright = (a.0 - d.0).abs() < NEAR && (b.0 - c.0).abs() < NEAR;
        (form && upright && (a.0 - b.0 - 5.0).abs() < NEAR && (a.1 - b.1).abs() < NEAR)
            .then_some(own)
    })
}

#[test]
fn the_bracket_of_the_cap_is_as_high_as_the_cap_adds_or_is_not_there() {
    let (_, mut made) = all().swap_remove(1);
    made.states.truncate(1);
    let form = StripForm::of(1296.0, Form::Tall, System::Metric);
    let state = &mut made.states[0];
    state.line.iter_mut().for_each(|z| *z = Some(0.2));
    for cap in [0.1, 0.3] {
        made.states[0].cap = Some(cap);
        let drawing = strip(&made, &form);
        let [high, _, _, low] = bracket(&drawing.picture).expect("a bracket");
        let scale = scale(&drawing, &told(&made));
        let zero = still(&drawing.picture);
        assert!(
            (low.1 - (zero - 0.2 * scale)).abs() < NEAR,
            "{cap}: {low:?}"
        );
        assert!(
            (low.1 - high.1 - cap * scale).abs() < NEAR,
            "{cap}: {high:?}"
        );
    }
    // Far above the panel there is none.
    made.states[0].cap = Some(9.0);
    let drawing = strip(&made, &form);
    assert_eq!(bracket(&drawing.picture), None);
}

#[test]
fn a_height_beyond_all_measure_ends_and_has_few_steps() {
    let (_, mut made) = all().swap_remove(1);
    for units in UNITS {
        for high in [1e3, 1e9, 1e15] {
            if let Some((_, z)) = made.main.pieces[1].poly.last_mut() {
                *z = high;
            }
            let drawing = strip(&made, &StripForm::of(1296.0, Form::Tall, units));
            let fine = drawing.picture.placed.iter();
            let fine = fine.filter(|placed| placed.class == Class::Fine).count();
            assert!(fine < 200, "{high}: {fine}");
        }
    }
}

#[test]
fn a_state_that_is_too_hot_says_so_on_the_panel() {
    let (_, mut made) = all().swap_remove(1);
    let says_it = |made: &Strip, form: Form| {
        let picture = strip(made, &StripForm::of(732.0, form, System::Metric)).picture;
        assert_eq!(check::overlaps(&picture), Vec::<String>::new());
        says(&picture, "over the alarm; boils with the cap open")
    };
    made.states[0].too_hot = "".into();
    assert!(!says_it(&made, Form::Paper));
    made.states[0].too_hot = "121 °C: over the alarm; boils with the cap open".into();
    for form in [Form::Tall, Form::Paper] {
        assert!(says_it(&made, form), "{form:?}");
    }
}
