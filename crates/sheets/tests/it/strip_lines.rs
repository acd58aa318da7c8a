//! What the strip draws beside the loop itself: the header's planes when she heels, the boil line, notes under the
//! table; and the strips of what hangs on the loop.

use std::sync::LazyLock;

use boat::Boat;
use quantity::System;
use reckon::{HeaderTrace, Input, Memo, Set, Stage, Strip, StripAsk, flow, reckon};
use sheets::doc::{Block, Span};
use sheets::draw::strip::{Form, StripForm, strip};
use sheets::draw::{Class, Picture, Shape, Step, check};
use sheets::sheet::{self, Strips};

const DUNLIN: &str = include_str!("../../../../boats/dunlin/boat.toml");
const FORMS: [Form; 4] = [Form::Ribbon, Form::Half, Form::Tall, Form::Paper];
/// An edge may lie so far off its number [px].
const NEAR: f64 = 0.02;

fn boat(text: &str) -> Boat {
    boat::read(text).0
}

fn made(text: &str, with_flow: bool) -> Strip {
    let boat = boat(text);
    let input = Input {
        boat: &boat,
        arrangement: Some("after"),
        seed: 1,
        set: Set::Prompt,
        flow: None,
        bay: None,
    };
    let answer = reckon(&input, &mut Memo::default());
    let flow = with_flow.then(|| flow(&boat, Some("after"))).flatten();
    let ask = StripAsk {
        heel: vec![10.0],
        trim: vec![2.0],
        ..StripAsk::default()
    };
    let strip = reckon::strip(&boat, Some("after"), &ask, &answer, flow.as_ref());
    strip.expect("the arrangement")
}

fn dunlin() -> Strip {
    static MADE: LazyLock<Strip> = LazyLock::new(|| made(DUNLIN, true));
    MADE.clone()
}

fn form(form: Form) -> StripForm<'static> {
    StripForm::of(1296.0, form, System::Metric)
}

fn says(picture: &Picture, words: &str) -> bool {
    picture.placed.iter().any(|placed| match &placed.shape {
        Shape::Text { text, .. } => text.contains(words),
        _ => false,
    })
}

/// All lines of a class.
fn lines(picture: &Picture, class: Class) -> Vec<Vec<(f64, f64)>> {
    let all = picture.placed.iter().filter(|own| own.class == class);
    all.filter_map(|placed| match &placed.shape {
        Shape::Path(steps) => Some(steps),
        _ => None,
    })
    .map(|steps| {
        let points = steps.iter().filter_map(|step| match step {
            Step::To(x, y) | Step::Line(x, y) => Some((*x, *y)),
            _ => None,
        });
        points.collect()
    })
    .collect()
}

/// The still waterline and how many pixels a metre of height has, by the flat line of the header's cap.
fn scale(made: &Strip, picture: &Picture) -> (f64, f64) {
    let zero = lines(picture, Class::Waterline)[0][0].1;
    let cap = made.header.as_ref().and_then(|header| header.cap);
    let y = lines(picture, Class::Header)[0][0].1;
    (zero, (zero - y) / cap.expect("a cap"))
}

#[test]
fn a_header_without_a_place_is_level_with_the_word() {
    let made = dunlin();
    for form in [form(Form::Tall), StripForm::paper(System::Metric)] {
        let picture = strip(&made, &form).picture;
        let drawn = lines(&picture, Class::Header);
        // On paper the sample of the legend is one more.
        assert!(
            drawn
                .iter()
                .all(|line| (line[0].1 - line[1].1).abs() < 1e-9)
        );
        assert!(says(&picture, "header tilted unmeasured"));
    }
    let picture = strip(&made, &form(Form::Tall)).picture;
    assert!(says(
        &picture,
        "header tilted unmeasured: aside of header and along of header"
    ));
    // Upright nothing is said of it.
    let mut upright = made;
    upright.traces.clear();
    let picture = strip(&upright, &form(Form::Tall)).picture;
    assert!(!says(&picture, "unmeasured: aside"));
}

#[test]
fn the_planes_of_the_header_are_drawn_to_scale_with_their_names() {
    let mut made = dunlin();
    // OK because a way has few pieces.
    let end = made.main.pieces.len() as f64;
    made.traces.truncate(1);
    made.traces[0].header = Some(HeaderTrace {
        cap: vec![vec![(0.0, 0.70), (end, 0.95)]],
        level: vec![vec![(0.0, 0.60), (end, 0.85)]],
        missing: None,
    });
    let picture = strip(&made, &form(Form::Tall)).picture;
    let (zero, metre) = scale(&made, &picture);
    let drawn = lines(&picture, Class::Header);
    assert_eq!(drawn.len(), 3);
    for (line, heights) in drawn[1..].iter().zip([[0.70, 0.95], [0.60, 0.85]]) {
        for ((_, y), z) in line.iter().zip(heights) {
            assert!((zero - z * metre - y).abs() < NEAR, "{z} at {y}");
        }
    }
    assert!(says(&picture, "cap, 10° to starboard"));
    assert!(says(&picture, "level, 10° to starboard"));
    assert!(!says(&picture, "header heeled unmeasured"));
    for width in [1296.0, 732.0, 390.0] {
        for form in FORMS {
            let picture = strip(&made, &StripForm::of(width, form, System::Imperial)).picture;
            let mut faults = check::overlaps(&picture);
            faults.extend(check::cut_off(&picture));
            assert_eq!(faults, Vec::<String>::new(), "{form:?} at {width}");
        }
    }
}

#[test]
fn the_room_to_boiling_is_a_figure_at_the_foot_of_the_suction_side() {
    let made = dunlin();
    let words = made.states[0].margin_text.metric.clone();
    assert!(
        words.contains(" m, ") && words.contains(" kPa, under the grade line"),
        "{words}"
    );
    for form in [form(Form::Tall), StripForm::paper(System::Metric)] {
        let drawing = strip(&made, &form);
        assert!(says(&drawing.picture, &words), "{form:?}");
        // Its line is metres under the panel: the lines of that class are those of temperature, under the panel.
        let sea = lines(&drawing.picture, Class::Waterline)[0][0].1;
        for line in lines(&drawing.picture, Class::Boil) {
            assert!(line.iter().all(|(_, y)| *y > sea));
        }
        assert!(drawing.picture.spoken.contains(&words));
    }
}

#[test]
fn a_boil_line_on_the_panel_is_drawn_to_scale_and_ends_at_the_foot() {
    let mut made = dunlin();
    // OK because a way has few pieces.
    let end = made.main.pieces.len() as f64;
    made.states[0].boil = vec![(end - 2.0, -40.0), (end - 1.0, 0.1), (end, 0.2)];
    let picture = strip(&made, &form(Form::Tall)).picture;
    let (zero, metre) = scale(&made, &picture);
    let drawn = lines(&picture, Class::Boil);
    let line = drawn
        .iter()
        .find(|line| line.last().is_some_and(|(_, y)| *y < zero))
        .expect("a boil line");
    let [foot, middle, last] = line.as_slice() else {
        panic!("{line:?}");
    };
    assert!((zero - 0.1 * metre - middle.1).abs() < NEAR);
    assert!((zero - 0.2 * metre - last.1).abs() < NEAR);
    // What lies under the panel is cut off there.
    let deep = zero + 40.0 * metre;
    assert!(foot.1 > zero && foot.1 < deep);
    let lowest = lines(&picture, Class::Suction)
        .into_iter()
        .flatten()
        .map(|(_, y)| y)
        .fold(0.0, f64::max);
    assert!((foot.1 - lowest).abs() < 1.0, "{} for {lowest}", foot.1);
    assert_eq!(check::overlaps(&picture), Vec::<String>::new());
}

#[test]
fn whence_the_figures_of_a_row_come_stands_under_the_table() {
    let made = dunlin();
    for (chapter, words) in [
        (Stage::Prove, "on test: what the cap holds, 69 kPa"),
        (Stage::Fill, "bleed order: the lowest bleed is shut first"),
        (Stage::Fill, "stays: "),
    ] {
        let form = StripForm {
            chapter,
            ..StripForm::paper(System::Metric)
        };
        let drawing = strip(&made, &form);
        assert!(says(&drawing.picture, words), "{words}");
        assert!(drawing.table.rows.iter().any(|row| !row.from.is_empty()));
        // A row of figures that explain themselves has no note.
        let flow = strip(&made, &StripForm::paper(System::Metric));
        assert!(!says(&flow.picture, words), "{words}");
    }
}

#[test]
fn what_hangs_on_the_loop_has_a_strip_of_its_own_or_a_line_that_says_why_not() {
    let made = dunlin();
    let form = StripForm {
        height: Some(300.0),
        ..StripForm::paper(System::Metric)
    };
    let sides = sheet::sides(&made, &form);
    let own = sides
        .iter()
        .find(|own| own.title.contains("calorifier"))
        .expect("the calorifier");
    assert_eq!(own.title, "F G calorifier, from engine to engine");
    let picture = own.drawn.as_ref().expect("a strip");
    assert!((picture.height - 300.0).abs() < 0.5);
    assert!(says(picture, "no drain"));
    // Without a height of it there is a line.
    let mut flat = made.clone();
    for branch in &mut flat.branches {
        branch.way.measured = false;
    }
    let side = sheet::sides(&flat, &form);
    assert_eq!(side.len(), sides.len());
    let circuit = reckon::circuit(&boat(DUNLIN), Some("after")).expect("a circuit");
    let sheet = sheet::circuit(
        &circuit,
        Strips {
            side,
            ..Strips::default()
        },
        None,
        System::Metric,
    );
    let mut heads = Vec::new();
    let mut whys = Vec::new();
    for block in &sheet.blocks {
        if let Block::Together(within) = block {
            for block in within {
                match block {
                    Block::Head(head) => heads.push(head.clone()),
                    Block::Text(spans) => whys.push(spans.clone()),
                    _ => panic!("a picture without heights"),
                }
            }
        }
    }
    assert!(heads.contains(
        &"Beside the loop, laid out straight: F G calorifier, from engine to engine".to_owned()
    ));
    assert_eq!(whys.len(), sides.len());
    assert!(whys.iter().all(|spans| {
        let word = spans.contains(&Span::Grade(reckon::Grade::Unmeasured));
        let told = format!("{spans:?}");
        word && told.contains("none of its heights is written")
            && told.contains("water-filled tube")
    }));
}
