//! The loop drawing of every demo boat in every arrangement, at every width at which it is shown.

use boat::Boat;
use quantity::System;
use reckon::{Around, AroundSpot, AroundWay, Flow, Input, Memo, Set};
use sheets::draw::around::{AroundForm, around};
use sheets::draw::{Anchor, Class, Picture, Placed, Shape, Step, check, text};

const BOATS: [(&str, &str); 3] = [
    ("dunlin", include_str!("../../../../boats/dunlin/boat.toml")),
    (
        "tansley",
        include_str!("../../../../boats/tansley/boat.toml"),
    ),
    ("wenna", include_str!("../../../../boats/wenna/boat.toml")),
];

/// The field of the page, half of it, and the width between the edges of a sheet of paper.
const FORMS: [(f64, f64); 3] = [(896.0, 496.0), (448.0, 496.0), (680.0, 420.0)];

/// The loop of an arrangement, with the figures of another in brackets.
fn loop_of(boat: &Boat, name: &str, before: Option<&Flow>) -> (Around, Option<Flow>) {
    let flow = reckon::flow(boat, Some(name));
    let input = Input {
        boat,
        arrangement: Some(name),
        seed: 1,
        set: Set::All,
        flow: None,
        bay: None,
    };
    let answer = reckon::reckon(&input, &mut Memo::default());
    let drawn = reckon::around(boat, &answer, flow.as_ref(), before, None);
    (drawn.expect("an arrangement of the file"), flow)
}

/// Every arrangement of every demo boat.
fn loops() -> Vec<(String, Around)> {
    let mut all = Vec::new();
    for (key, file) in BOATS {
        let (boat, _, _) = boat::read(file);
        let mut before = None;
        for step in &boat.arrangements {
            let (around, flow) = loop_of(&boat, &step.key, before.as_ref());
            all.push((format!("{key} {}", step.key), around));
            before = flow;
        }
    }
    assert_eq!(all.len(), 9, "three boats in three arrangements");
    all
}

fn drawn(one: &Around, form: (f64, f64), units: System) -> Picture {
    around(
        one,
        &AroundForm {
            width: form.0,
            height: form.1,
            units,
        },
    )
}

/// Every picture, with its name.
fn pictures() -> Vec<(String, Around, Picture)> {
    let mut all = Vec::new();
    for (name, one) in loops() {
        for form in FORMS {
            for units in [System::Metric, System::Imperial] {
                let name = format!("{name}, {} wide, {units:?}", form.0);
                all.push((name, one.clone(), drawn(&one, form, units)));
            }
        }
    }
    all
}

#[test]
fn nothing_overlaps_and_nothing_is_cut_off() {
    let mut faults = Vec::new();
    for (name, _, picture) in pictures() {
        for fault in check::overlaps(&picture)
            .into_iter()
            .chain(check::cut_off(&picture))
        {
            faults.push(format!("{name}: {fault}"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn it_keeps_the_width_that_is_asked() {
    for (name, one) in loops() {
        for form in FORMS {
            let picture = drawn(&one, form, System::Metric);
            assert!(
                (picture.width - form.0).abs() < 0.01,
                "{name}: {}",
                picture.width
            );
            assert!(picture.height >= form.1, "{name}: {}", picture.height);
            assert!(
                picture.height < form.1 + 130.0,
                "{name}: {}",
                picture.height
            );
        }
    }
}

/// The box of a text, a pixel smaller all round.
fn text_box(placed: &Placed) -> Option<[f64; 4]> {
    let Shape::Text {
        x,
        y,
        anchor,
        face,
        size,
        text: words,
    } = &placed.shape
    else {
        return None;
    };
    let wide = text::width(words, *face, *size);
    let left = match anchor {
        Anchor::Start => *x,
        Anchor::Middle => x - wide / 2.0,
        Anchor::End => x - wide,
    };
    Some([left + 1.0, y - 0.6 * size, left + wide - 1.0, y - 1.0])
}

/// The straights of a path that is drawn as a line, and the box of one that is filled in the sheet's colour.
fn straights(placed: &Placed) -> Vec<[(f64, f64); 2]> {
    let Shape::Path(steps) = &placed.shape else {
        return Vec::new();
    };
    let mut at = (0.0, 0.0);
    let mut out = Vec::new();
    for step in steps {
        match *step {
            Step::To(x, y) => at = (x, y),
            Step::Line(x, y) => {
                out.push([at, (x, y)]);
                at = (x, y);
            }
            _ => {}
        }
    }
    out
}

fn crosses(line: [(f64, f64); 2], text: [f64; 4]) -> bool {
    (0..=200).any(|i| {
        let share = f64::from(i) / 200.0;
        let x = line[0].0 + (line[1].0 - line[0].0) * share;
        let y = line[0].1 + (line[1].1 - line[0].1) * share;
        x > text[0] && x < text[2] && y > text[1] && y < text[3]
    })
}

fn covers(placed: &Placed, text: [f64; 4]) -> bool {
    let points: Vec<(f64, f64)> = straights(placed).into_iter().flatten().collect();
    let fold = |pick: fn(&(f64, f64)) -> f64, by: fn(f64, f64) -> f64, from: f64| {
        points.iter().map(pick).fold(from, by)
    };
    placed.class == Class::Sheet
        && fold(|p| p.0, f64::min, f64::MAX) <= text[0]
        && fold(|p| p.1, f64::min, f64::MAX) <= text[1]
        && fold(|p| p.0, f64::max, f64::MIN) >= text[2]
        && fold(|p| p.1, f64::max, f64::MIN) >= text[3]
}

#[test]
fn no_text_stands_over_a_line_without_a_patch_under_it() {
    let mut faults = Vec::new();
    for (name, _, picture) in pictures() {
        for (at, placed) in picture.placed.iter().enumerate() {
            let Some(own) = text_box(placed) else {
                continue;
            };
            let patch = picture.placed[..at]
                .iter()
                .rposition(|below| covers(below, own));
            for (other, line) in picture.placed.iter().enumerate() {
                let ignored = matches!(line.class, Class::Sheet | Class::Sea);
                let hidden = patch.is_some_and(|patch| other < patch);
                if ignored || hidden {
                    continue;
                }
                if straights(line).into_iter().any(|line| crosses(line, own)) {
                    let Shape::Text { text, .. } = &placed.shape else {
                        continue;
                    };
                    faults.push(format!("{name}: {:?} runs through {text:?}", line.class));
                }
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn every_thing_mark_and_shut_valve_is_there() {
    for (name, one, picture) in pictures() {
        let text = |wanted: &str| {
            picture
                .placed
                .iter()
                .any(|placed| matches!(&placed.shape, Shape::Text { text, .. } if text == wanted))
        };
        for thing in &one.things {
            let drawn = picture
                .placed
                .iter()
                .any(|own| own.key.as_deref() == Some(&thing.key));
            assert!(drawn, "{name}: {} is not drawn", thing.key);
        }
        for leg in one
            .legs
            .iter()
            .filter(|leg| leg.first && !leg.mark.is_empty())
        {
            assert!(text(&leg.mark), "{name}: {} is not written", leg.mark);
        }
        for valve in &one.shut {
            let key = valve.split('.').next().expect("a part before the point");
            let filled = picture
                .placed
                .iter()
                .any(|own| own.class == Class::Solid && own.key.as_deref() == Some(key));
            assert!(filled, "{name}: the shut valve of {key} is not filled");
        }
        let dead = one.legs.iter().any(|leg| leg.way == AroundWay::Dead);
        let dashed = picture.placed.iter().any(|own| own.class == Class::DeadLeg);
        assert!(!dead || dashed, "{name}: no dead leg is dashed");
    }
}

#[test]
fn on_paper_a_shape_of_a_joint_stands_with_its_mark() {
    for (name, one) in loops() {
        let picture = drawn(&one, FORMS[2], System::Metric);
        let legs = one.legs.iter();
        let ends = legs.flat_map(|leg| leg.from_joint.iter().chain(&leg.to_joint));
        let ends = ends
            .filter(|joint| joint.grade.is_some())
            .map(|joint| joint.mark.clone());
        let tees = one.tees.iter().filter(|tee| tee.grade.is_some());
        let pieces = one.legs.iter().flat_map(|leg| &leg.pieces);
        let pieces = pieces.filter(|piece| piece.grade.is_some());
        let marks: Vec<String> = ends
            .chain(tees.map(|tee| tee.marks.join(" ")))
            .chain(pieces.map(|piece| piece.marks.join(" ")))
            .filter(|mark| !mark.is_empty())
            .collect();
        let written = |mark: &&String| {
            picture
                .placed
                .iter()
                .any(|placed| matches!(&placed.shape, Shape::Text { text, .. } if text == *mark))
        };
        let bare: Vec<&String> = marks.iter().filter(|mark| !written(mark)).collect();
        // A corner may be too crowded for one; it was more than half.
        assert!(
            bare.len() * 2 <= marks.len(),
            "{name}: {bare:?} of {} are not written",
            marks.len()
        );
    }
}

#[test]
fn everything_wet_stands_below_the_waterline_and_nothing_dry_does() {
    for (name, one, picture) in pictures() {
        let water = picture
            .placed
            .iter()
            .find(|placed| placed.class == Class::Waterline)
            .map(|placed| straights(placed)[0][0].1)
            .expect("a waterline");
        for (at, thing) in one.things.iter().enumerate() {
            // The engine reaches from its highest spigot to its lowest.
            if one.heart == Some(at) || thing.level == reckon::Level::Unmeasured {
                continue;
            }
            let own = picture.placed.iter().find(|placed| {
                placed.key.as_deref() == Some(&thing.key) && placed.spoken.is_some()
            });
            let Some(own) = own else { continue };
            let y: Vec<f64> = straights(own)
                .into_iter()
                .flatten()
                .map(|point| point.1)
                .collect();
            let wet = thing.level == reckon::Level::Wet;
            let right = if wet {
                y.iter().all(|y| *y > water)
            } else {
                y.iter().all(|y| *y < water)
            };
            assert!(
                right,
                "{name}: {} is on the wrong side of the waterline",
                thing.key
            );
        }
    }
}

#[test]
fn all_lines_of_the_loop_are_at_right_angles() {
    for (name, _, picture) in pictures() {
        for placed in &picture.placed {
            let loops = [
                Class::Loop,
                Class::LoopCold,
                Class::LoopCore,
                Class::DeadLeg,
                Class::Vent,
            ];
            if !loops.contains(&placed.class) {
                continue;
            }
            for [a, b] in straights(placed) {
                let right = (a.0 - b.0).abs() < 0.01 || (a.1 - b.1).abs() < 0.01;
                assert!(right, "{name}: {a:?} to {b:?}");
            }
        }
    }
}

#[test]
fn the_engine_is_left_and_what_the_water_turns_at_is_right() {
    for (name, one, picture) in pictures() {
        let middle = |key: &str| {
            let own = picture
                .placed
                .iter()
                .find(|placed| placed.key.as_deref() == Some(key) && placed.spoken.is_some())?;
            let x: Vec<f64> = straights(own)
                .into_iter()
                .flatten()
                .map(|point| point.0)
                .collect();
            Some(x.iter().sum::<f64>() / f64::from(u32::try_from(x.len()).ok()?))
        };
        let heart = &one.things[one.heart.expect("a pump")].key;
        let engine = middle(heart).expect("the engine");
        for thing in &one.turn {
            let turn = middle(&one.things[*thing].key).expect("what the water turns at");
            assert!(turn > engine + picture.width / 3.0, "{name}");
        }
        for spot in one.hot.iter().chain(&one.cold) {
            if let AroundSpot::Thing(thing) = spot {
                let x = middle(&one.things[*thing].key).expect("a thing of the loop");
                assert!(x > engine, "{name}");
            }
        }
    }
}

#[test]
fn the_same_input_gives_the_same_drawing() {
    for ((name, one), (_, other)) in loops().into_iter().zip(loops()) {
        for form in FORMS {
            let pair = [&one, &other].map(|one| drawn(one, form, System::Metric));
            assert!(pair[0] == pair[1], "{name}");
        }
    }
}

#[test]
fn a_small_change_of_the_file_moves_little() {
    let (_, file) = BOATS[0];
    let changed = file.replace("h = 330 }", "h = 325 }");
    assert_ne!(file, changed);
    let pair = [file, changed.as_str()].map(|file| {
        let (boat, _, _) = boat::read(file);
        let (one, _) = loop_of(&boat, "after", None);
        drawn(&one, FORMS[0], System::Metric)
    });
    let boxes = |picture: &Picture| -> Vec<(String, String)> {
        let own = picture
            .placed
            .iter()
            .filter(|placed| placed.spoken.is_some());
        own.map(|placed| {
            (
                placed.key.clone().unwrap_or_default(),
                format!("{:?}", placed.shape),
            )
        })
        .collect()
    };
    assert_eq!(boxes(&pair[0]), boxes(&pair[1]));
}

#[test]
fn figures_before_the_refit_say_so_in_brackets_and_dashes() {
    let (_, file) = BOATS[0];
    let (boat, _, _) = boat::read(file);
    let (_, after) = loop_of(&boat, "after", None);
    let (one, _) = loop_of(&boat, "fallback", after.as_ref());
    let leg = one
        .legs
        .iter()
        .find(|leg| leg.before.is_some())
        .expect("a pair of figures");
    let picture = drawn(&one, FORMS[0], System::Metric);
    let (now, then) = (
        leg.figures.as_ref().expect("figures"),
        leg.before.as_ref().expect("figures"),
    );
    let has = |words: String| {
        picture
            .placed
            .iter()
            .any(|placed| matches!(&placed.shape, Shape::Text { text, .. } if *text == words))
    };
    assert!(has(format!(
        "= {} · {}",
        now.flow.metric, now.temperature.metric
    )));
    assert!(has(format!(
        "before ({} · {})",
        then.flow.metric, then.temperature.metric
    )));
    assert!(
        picture
            .placed
            .iter()
            .any(|placed| placed.class == Class::Before)
    );
}

/// A boat whose file lacks one line: a run or a thing that nobody wrote, so that ends hang free.
#[test]
fn a_boat_with_any_line_missing_is_drawn_whole() {
    let mut faults = Vec::new();
    for (key, file) in BOATS {
        let lines: Vec<&str> = file.lines().collect();
        for (at, line) in lines.iter().enumerate() {
            let run = line.contains("from = \"") && line.contains("to = \"");
            let kind = line.starts_with("kind = ") || line.starts_with("spigots.");
            let path = line.trim_start().starts_with('"') && line.contains(" > ");
            if !(run || kind || path) {
                continue;
            }
            let mut less = lines.clone();
            less.remove(at);
            let (boat, _, _) = boat::read(&less.join("\n"));
            for step in &boat.arrangements {
                let answer = reckon::Answer {
                    arrangement: Some(step.key.clone()),
                    ..reckon::Answer::default()
                };
                let Some(one) = reckon::around(&boat, &answer, None, None, None) else {
                    continue;
                };
                let picture = drawn(&one, FORMS[1], System::Metric);
                for fault in check::overlaps(&picture)
                    .into_iter()
                    .chain(check::cut_off(&picture))
                {
                    faults.push(format!("{key} {} without {line:?}: {fault}", step.key));
                }
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// A name as long as a file allows is cut short: the drawing keeps its width, and its words stay on it.
#[test]
fn a_long_name_is_cut_short_and_moves_nothing_off_the_drawing() {
    let (_, mut one) = loops().swap_remove(0);
    for thing in &mut one.things {
        thing.key = format!("{}-{}", thing.key, "w".repeat(200));
        thing.what = "w".repeat(200);
    }
    for form in [(3200.0, 496.0), (680.0, 420.0)] {
        let picture = drawn(&one, form, System::Metric);
        assert!((picture.width - form.0).abs() < 0.01, "{}", picture.width);
        assert_eq!(check::cut_off(&picture), Vec::<String>::new());
        for placed in &picture.placed {
            if let Shape::Text {
                text: words,
                face,
                size,
                ..
            } = &placed.shape
                && words.contains("www")
            {
                let wide = text::width(words, *face, *size);
                assert!(wide <= 180.5 && words.ends_with('…'), "{wide}: {words}");
            }
        }
    }
}
