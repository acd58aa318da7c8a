//! The hose sheet of an invented bay: all in its place on both papers, whichever way the file's x points.

use quantity::System;
use reckon::Grade;
use sheets::doc::{Head, Paper, Sheet, lay};
use sheets::draw::check::{self, Extent};
use sheets::draw::hose::{Bearings, HoseForm, View, clocks, free_words, lies, straight};
use sheets::draw::{Class, Picture, Placed, Shape, Step};
use sheets::sheet;

use super::invented::{Bay, FACINGS, bay, facing};

const MM: f64 = 96.0 / 25.4;
const UNITS: [System; 2] = [System::Metric, System::Imperial];
const PAPERS: [Paper; 2] = [Paper::A4, Paper::Letter];

fn form(bay: &Bay, run: usize, units: System) -> HoseForm<'_> {
    HoseForm {
        route: &bay.route,
        run: &bay.route.runs[run],
        joints: &bay.joints,
        ends: "engine.out → keel-fore.in",
        side: "delivery",
        units,
    }
}

fn head(paper: Paper) -> Head {
    Head {
        boat: "Invented".to_owned(),
        arrangement: "after".to_owned(),
        date: "2027-03-14".to_owned(),
        hash: "0123abcd".to_owned(),
        paper,
    }
}

fn faults(sheet: &Sheet, paper: Paper) -> Vec<String> {
    // 20 mm at the left for filing, 10 elsewhere; what Letter is wider is shared.
    let (wide, high) = match paper {
        Paper::A4 => (210.0, 297.0),
        Paper::Letter => (215.9, 279.4),
    };
    let left = 20.0 + (wide - 210.0) / 2.0;
    let frame = Extent {
        left: left * MM,
        top: 10.0 * MM,
        right: (left + 180.0) * MM,
        bottom: (high - 10.0) * MM,
    };
    lay(sheet, &head(paper))
        .iter()
        .flat_map(|page| {
            [
                check::overlaps(page),
                check::out_of(page, frame),
                check::missing(page),
            ]
            .concat()
        })
        .collect()
}

fn texts(picture: &Picture) -> Vec<&str> {
    let texts = picture.placed.iter();
    texts
        .filter_map(|placed| match &placed.shape {
            Shape::Text { text, .. } => Some(text.as_str()),
            _ => None,
        })
        .collect()
}

fn keyed<'a>(picture: &'a Picture, key: &'a str) -> impl Iterator<Item = &'a Placed> {
    let all = picture.placed.iter();
    all.filter(move |placed| placed.key.as_deref() == Some(key))
}

/// The corners of a path [mm].
fn corners(placed: &Placed) -> Vec<(f64, f64)> {
    match &placed.shape {
        Shape::Path(steps) => steps
            .iter()
            .filter_map(|step| match step {
                Step::To(x, y) | Step::Line(x, y) => Some((x / MM, y / MM)),
                _ => None,
            })
            .collect(),
        _ => Vec::new(),
    }
}

fn about(one: f64, other: f64) -> bool {
    (one - other).abs() < 0.02
}

#[test]
fn nothing_overlaps_and_nothing_lies_outside_the_frame() {
    for axes in FACINGS {
        let mut bay = bay(axes);
        for long in [false, true] {
            if long {
                bay.route.runs[0].title = bay.route.runs[1].title.repeat(2);
                bay.joints[0].spigot_name =
                    "the lower one of the two outlets at the aft end of the cylinder head".into();
            }
            for run in 0..2 {
                for units in UNITS {
                    for paper in PAPERS {
                        let sheet = sheet::hose(&form(&bay, run, units), paper);
                        let faults = faults(&sheet, paper);
                        assert!(
                            faults.is_empty(),
                            "{axes:?} {} {paper:?} {units:?}: {faults:#?}",
                            sheet.name
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn one_hose_stands_on_one_page_and_more_go_overleaf() {
    let bay = bay(FACINGS[0]);
    for paper in PAPERS {
        let one = sheet::hose(&form(&bay, 0, System::Metric), paper);
        assert_eq!(
            (one.name.as_str(), lay(&one, &head(paper)).len()),
            ("hose-A", 1),
            "{paper:?}"
        );
        let two = sheet::hose(&form(&bay, 1, System::Metric), paper);
        assert_eq!(two.name, "hose-B");
        let pages = lay(&two, &head(paper));
        assert_eq!(pages.len(), 2, "{paper:?}");
        let bars = pages
            .iter()
            .flat_map(texts)
            .filter(|text| *text == "Straight, as cut");
        assert_eq!(bars.count(), 2, "a bar for each hose, none for the elbow");
    }
}

#[test]
fn the_mark_is_14_mm_high() {
    let bay = bay(FACINGS[0]);
    let page = &lay(
        &sheet::hose(&form(&bay, 0, System::Metric), Paper::A4),
        &head(Paper::A4),
    )[0];
    let size = page.placed.iter().find_map(|placed| match &placed.shape {
        Shape::Text { text, size, .. } if text == "A" => Some(*size),
        _ => None,
    });
    // Capitals of B612 are 0.75 of its size, measured in the file.
    assert!(about(size.unwrap() / MM * 0.75, 14.0));
}

#[test]
fn the_bar_is_to_scale_and_its_rings_stand_at_the_push_on_length() {
    let bay = bay(FACINGS[0]);
    let form = form(&bay, 0, System::Metric);
    let drawn = straight(&form, &form.run.parts[0]).expect("a hose that is cut");
    let bar = keyed(&drawn, "hot.hose").find(|placed| placed.class == Class::Loop);
    let bar = corners(bar.expect("the bar"));
    // 912 mm go into 140 mm at 1:10.
    assert!(about(bar[1].0 - bar[0].0, 91.2), "{bar:?}");
    assert!(about(bar[2].1 - bar[1].1, 4.7), "{bar:?}");
    for (joint, from) in [("hot.from", bar[0].0), ("hot.to", bar[1].0)] {
        let ring = keyed(&drawn, joint).find(|placed| placed.class == Class::PushMark);
        let ring = corners(ring.expect("a ring"));
        assert!(about((ring[0].0 - from).abs(), 3.4), "{joint}: {ring:?}");
    }
    let all = texts(&drawn).join(" ");
    for words in [
        "cut 912 mm",
        "901 mm to 928 mm will do",
        "push on",
        "34 mm",
        "assumed",
    ] {
        assert!(all.contains(words), "{words} in {all}");
    }
    // Never "34 in" for millimetres.
    assert!(!all.contains("34 in"), "{all}");
}

#[test]
fn a_ring_that_nobody_knows_is_an_empty_box() {
    let bay = bay(FACINGS[0]);
    let form = form(&bay, 1, System::Metric);
    let drawn = straight(&form, &form.run.parts[2]).expect("a hose that is cut");
    assert!(
        drawn
            .placed
            .iter()
            .any(|placed| placed.class == Class::Unmeasured)
    );
    assert_eq!(
        drawn
            .placed
            .iter()
            .filter(|placed| placed.class == Class::PushMark)
            .count(),
        1
    );
    assert!(
        straight(&form, &form.run.parts[1]).is_none(),
        "an elbow is not cut"
    );
}

/// Where the middle of a clip's band stands in a view [mm].
fn band(picture: &Picture, key: &str, view: View) -> (f64, f64) {
    let frame = keyed(picture, view.key()).next().expect("a frame");
    let frame = check::extent(frame).unwrap();
    let inside = |placed: &&Placed| {
        matches!(placed.class, Class::Solid | Class::Middle)
            && check::extent(placed).is_some_and(|own| own.within(frame, 0.5))
    };
    let own = keyed(picture, key)
        .find(inside)
        .unwrap_or_else(|| panic!("{key} in {view:?}"));
    let own = check::extent(own).unwrap();
    (
        (own.left + own.right) / 2.0 / MM,
        (own.top + own.bottom) / 2.0 / MM,
    )
}

#[test]
fn the_views_follow_the_bow_whichever_way_x_points() {
    // A1 sits at the engine, A2 520 mm further to the bow, 180 mm more to port, 440 mm lower.
    for axes in FACINGS {
        let bay = bay(axes);
        let picture = lies(&form(&bay, 0, System::Metric), 110.0);
        let step = |view: View| {
            let (one, other) = (
                band(&picture, "hot.from", view),
                band(&picture, "hot.to", view),
            );
            (other.0 - one.0, other.1 - one.1)
        };
        let (above, side, aft) = (step(View::Above), step(View::Starboard), step(View::Aft));
        let mm = above.0 / 520.0;
        assert!(mm > 0.0, "{axes:?}: the bow is to the right");
        assert!(
            about(above.1, -180.0 * mm),
            "{axes:?}: port is up from above: {above:?}"
        );
        assert!(
            about(side.0, 520.0 * mm) && about(side.1, 440.0 * mm),
            "{axes:?}: {side:?}"
        );
        assert!(
            about(aft.0, -180.0 * mm) && about(aft.1, 440.0 * mm),
            "{axes:?}: port is left from aft: {aft:?}"
        );
    }
    assert!(Bearings::of(&["forward".to_owned(), "inland".to_owned()]).is_none());
}

#[test]
fn what_is_near_is_drawn_and_named_and_what_is_far_is_not() {
    let bay = bay(FACINGS[0]);
    let picture = lies(&form(&bay, 0, System::Metric), 110.0);
    for key in [
        "engine",
        "exhaust-manifold",
        "battery-box",
        "hot.gap",
        "hot.bend",
        "waterline",
    ] {
        assert!(keyed(&picture, key).next().is_some(), "{key}");
    }
    assert!(keyed(&picture, "far-tank").next().is_none());
    let all = texts(&picture).join(" ");
    assert!(all.contains("tightest gap: 14 mm"), "{all}");
    assert!(all.contains("tightest bend: 118 mm"), "{all}");
    // A keep-out is hatched, a solid is not.
    let hatched = |key: &str| keyed(&picture, key).any(|placed| placed.class == Class::Fine);
    assert!(hatched("exhaust-manifold") && !hatched("engine"));
}

#[test]
fn what_is_behind_is_left_out() {
    let mut bay = bay(FACINGS[0]);
    let length = |bay: &Bay| -> f64 {
        let picture = lies(&form(bay, 0, System::Metric), 110.0);
        let lines =
            keyed(&picture, "exhaust-manifold").filter(|placed| placed.class == Class::Thin);
        let lines = lines.filter_map(|placed| match &placed.shape {
            Shape::Path(steps) => Some(steps.clone()),
            _ => None,
        });
        let mut far = 0.0;
        let mut pen: (f64, f64) = (0.0, 0.0);
        for step in lines.flatten() {
            if let Step::To(x, y) | Step::Line(x, y) = step {
                if matches!(step, Step::Line(..)) {
                    far += f64::hypot(x - pen.0, y - pen.1);
                }
                pen = (x, y);
            }
        }
        far
    };
    let hidden = length(&bay);
    // Through the hull one looks; so an engine that were hull would hide nothing.
    for body in &mut bay.route.bodies {
        if body.name == "engine" {
            body.nature = "hull".into();
        }
    }
    assert!(length(&bay) > hidden * 1.05, "{} {hidden}", length(&bay));
}

/// From the middle of a face to the middle of a thing on it: the hour [degrees from noon clockwise].
fn hour(row: &Picture, joint: &str, thing: &str) -> f64 {
    let ring = keyed(row, joint).find_map(|placed| match placed.shape {
        Shape::Circle { x, y, .. } => Some((x, y)),
        _ => None,
    });
    let (x, y) = ring.expect("a face");
    let key = format!("{joint}.{thing}");
    let own = check::extent(keyed(row, &key).next().expect("a thing on the face")).unwrap();
    let (dx, dy) = (
        (own.left + own.right) / 2.0 - x,
        (own.top + own.bottom) / 2.0 - y,
    );
    dx.atan2(-dy).to_degrees().rem_euclid(360.0)
}

#[test]
fn the_screw_stands_at_its_hour_for_whoever_looks_from_the_hose() {
    for axes in FACINGS {
        let mut bay = bay(axes);
        // As built: half past 4.
        let row = &clocks(&form(&bay, 0, System::Metric))[0];
        assert!(
            (hour(row, "hot.from", "screw") - 135.0).abs() < 0.5,
            "{axes:?}"
        );
        // The spigot points to port, so one looks to starboard and has the bow at the left: 9 o'clock. That is 90°
        // about the outward axis, hour = 12 − 90/30.
        bay.route.clips[0].screw = Some(facing(axes, [0.03, 0.12, 0.30]));
        let row = &clocks(&form(&bay, 0, System::Metric))[0];
        assert!(
            (hour(row, "hot.from", "screw") - 270.0).abs() < 0.5,
            "{axes:?}"
        );
        let all = texts(row).join(" ");
        assert!(all.contains("You look to starboard; 12 is up."), "{all}");
        assert!(all.contains("You look down; 12 is the bow."), "{all}");
        assert!(
            all.contains("in a mirror the clock runs backwards."),
            "{all}"
        );
    }
}

#[test]
fn the_tool_comes_in_along_its_true_way() {
    let bay = bay(FACINGS[0]);
    let row = &clocks(&form(&bay, 0, System::Metric))[0];
    let tool = keyed(row, "hot.from.tool").next().expect("a tool");
    let way = corners(tool);
    let (dx, dy) = (way[0].0 - way[1].0, way[0].1 - way[1].1);
    // The handle lies 180 mm aft and up at 45°: to the right of whoever has the bow at the left, and up.
    assert!(dx > 0.0 && dy < 0.0, "{way:?}");
    assert!(about(dx.abs(), dy.abs()), "{way:?}");
}

#[test]
fn free_arcs_are_rounded_inward_to_half_hours() {
    assert_eq!(free_words(&[(78.0, 157.0)]).as_deref(), Some("3 to 5"));
    assert_eq!(free_words(&[(75.0, 150.0)]).as_deref(), Some("2½ to 5"));
    assert_eq!(free_words(&[(-40.0, 16.0)]).as_deref(), Some("11 to 12½"));
    assert_eq!(free_words(&[(0.0, 360.0)]).as_deref(), Some("all round"));
    assert_eq!(free_words(&[(320.0, 335.0)]).as_deref(), Some("11 only"));
    assert_eq!(
        free_words(&[(316.0, 328.0)]).as_deref(),
        Some("a little by 10½")
    );
    assert_eq!(free_words(&[]), None);
}

#[test]
fn every_clip_has_a_face_and_no_page_is_too_large_to_review() {
    let bay = bay(FACINGS[0]);
    for run in 0..2 {
        let form = form(&bay, run, System::Metric);
        let rows = clocks(&form);
        for clip in form.clips() {
            let faces = rows.iter().flat_map(|row| keyed(row, &clip.joint));
            let rings = faces.filter(|placed| placed.class == Class::Loop);
            assert_eq!(rings.count(), 1, "{}", clip.joint);
            let grade = rows
                .iter()
                .flat_map(texts)
                .any(|text| text == clip.grade.word());
            assert!(grade || clip.grade == Grade::Sound, "{}", clip.joint);
        }
        for page in lay(&sheet::hose(&form, Paper::A4), &head(Paper::A4)) {
            let bytes = sheets::doc::svg::write(&page).len();
            assert!(bytes <= 60_000, "{bytes} bytes");
        }
    }
}

#[test]
fn two_clips_of_one_end_stand_side_by_side_and_are_told_apart() {
    let mut bay = bay(FACINGS[0]);
    let at = bay
        .route
        .clips
        .iter()
        .position(|clip| clip.joint == "hot.to");
    let at = at.expect("a clip");
    bay.route.clips[at].of = 2;
    let mut second = bay.route.clips[at].clone();
    second.nth = 2;
    bay.route.clips.insert(at + 1, second);
    let form = form(&bay, 0, System::Metric);
    let rows = clocks(&form);
    let said: Vec<Vec<String>> = rows
        .iter()
        .map(|row| {
            let all = texts(row);
            let nth = all.into_iter().filter(|text| text.starts_with("clip "));
            nth.map(str::to_owned).collect()
        })
        .collect();
    let none: Vec<String> = Vec::new();
    let nth = |n: u32| format!("clip {n} of 2 from the hose’s end");
    assert_eq!(said, [none, vec![nth(1), nth(2)]]);
    // In the views one mark does for both bands.
    let views = lies(&form, 150.0);
    let marks = |picture: &Picture| {
        texts(picture)
            .into_iter()
            .filter(|text| *text == "A2")
            .count()
    };
    let before = self::bay(FACINGS[0]);
    let one = lies(&self::form(&before, 0, System::Metric), 150.0);
    assert_eq!(marks(&views), marks(&one));
    assert!(faults(&sheet::hose(&form, Paper::A4), Paper::A4).is_empty());
}

#[test]
fn clips_slide_onto_a_hose_whose_cut_is_not_known_too() {
    let mut bay = bay(FACINGS[0]);
    let part = &mut bay.route.runs[0].parts[0];
    (part.cut, part.cut_text, part.window_text) = (None, None, None);
    let form = form(&bay, 0, System::Metric);
    let pages = lay(&sheet::hose(&form, Paper::A4), &head(Paper::A4));
    let words: String = pages.iter().flat_map(texts).collect::<Vec<_>>().join(" ");
    for says in ["A1 two", "then", "not drawn as cut"] {
        assert!(words.contains(says), "{says}: {words}");
    }
}

#[test]
fn the_order_of_sliding_on_stands_in_words() {
    let bay = bay(FACINGS[0]);
    let pages = lay(
        &sheet::hose(&form(&bay, 0, System::Metric), Paper::A4),
        &head(Paper::A4),
    );
    let all = texts(&pages[0]).join(" ");
    let (one, other) = (all.find("A1 two worm 32-50"), all.find("A2 one worm 32-50"));
    assert!(one.is_some() && one < other, "{all}");
    assert!(all.contains("It goes in last, after B"), "{all}");
    for step in [
        "cut",
        "marks\u{a0}on",
        "clips\u{a0}on",
        "pushed\u{a0}to\u{a0}mark",
        "nipped\u{a0}again",
    ] {
        assert!(
            texts(&pages[0]).iter().any(|text| text.contains(step)),
            "{step}"
        );
    }
}
