//! What decides a grade of a run: the engine's movement, sight of what is hot, what carries a mouth, supports, leads.

use std::sync::Arc;

use reckon::{Answer, BayAsk, Grade, Input, Memo, RawScan, Set, Verdict, reckon};

use crate::route::{boat, judged, route, verdict};

/// A post inside the quarter turn, so that `gap` [mm] lie between it and the hose: the arc has its middle at (0, 250)
/// and a radius of 250 mm, the hose an outside of 47.4 mm, the post 40 mm.
fn post(gap: f64, more: &str) -> String {
    let out = (250.0 - 20.0 - 23.7 - gap) / 2.0_f64.sqrt();
    let y = 250.0 - out;
    format!(
        "[bay.things]\npost = {{ cylinder = {{ from = [{out:.2}, {y:.2}, -100], to = [{out:.2}, {y:.2}, 100], across = 40 }}{more} }}\n"
    )
}

fn moving(text: &str, moves: &str) -> String {
    text.replace("moves = 5\n", moves)
}

fn about<'a>(answer: &'a Answer, body: &str) -> Option<&'a Verdict> {
    answer.verdicts.iter().find(|verdict| {
        verdict.id.starts_with("route.hot.") && verdict.id.ends_with(&format!("-{body}"))
    })
}

/// The gap at rest is 14 mm and 10 mm are wanted: it is how far the engine moves that decides.
#[test]
fn a_clearance_holds_over_the_engines_movement() {
    let text = boat("392.7", &post(14.0, ""));
    let still = judged(&moving(&text, "moves = 0.5\n"), Set::Prompt);
    let kept = verdict(&still, "route.hot.clearance");
    assert_eq!(kept.grade, Grade::Sound, "{}", kept.because.metric);
    assert!(
        kept.because.metric.contains("the one thing"),
        "{}",
        kept.because.metric
    );
    assert!(!kept.working.steps.is_empty() && !kept.working.limit.metric.is_empty());
    assert_eq!(kept.working.inputs.len(), 1, "the movement is an input");

    let shaken = judged(&moving(&text, "moves = 20\n"), Set::Prompt);
    let close = about(&shaken, "post").expect("the post is named");
    assert!(close.grade >= Grade::Marginal, "{}", close.because.metric);
    assert!(
        close.because.metric.contains("engine moves"),
        "{}",
        close.because.metric
    );

    let unknown = judged(&moving(&text, ""), Set::Prompt);
    let waits = about(&unknown, "post").expect("the post is named");
    assert_eq!(waits.grade, Grade::Unmeasured, "{}", waits.because.metric);
    let settles = waits.settles.as_ref().expect("a measurement settles it");
    assert!(settles.place.ends_with("moves"), "{}", settles.place);
    assert!(settles.how.starts_with("Clamp a rule") && waits.caution.is_some());
    // What is clearly beyond waits for nothing.
    let far = judged(&moving(&boat("392.7", &post(90.0, "")), ""), Set::Prompt);
    assert_eq!(verdict(&far, "route.hot.clearance").grade, Grade::Sound);
}

#[test]
fn a_great_clearance_is_looked_for_as_far_as_it_reaches() {
    // At 120 mm inside the arc 100 mm are left, and 250 mm are wanted.
    let answer = judged(&boat("392.7", &post(120.0, ", keep = 250")), Set::Prompt);
    let close = about(&answer, "post").expect("the post is named");
    assert_eq!(close.grade, Grade::Unsound, "{}", close.because.metric);
    let text = boat("392.7", &post(120.0, "")).replace("[bay.things]\n", "[bay.things]\nfar = { box = { from = [-100, 460, -400], to = [100, 480, 400] }, keep = 250 }\n");
    let answer = judged(&text, Set::Prompt);
    let far = about(&answer, "far").expect("what lies 180 mm off is seen");
    assert_eq!(far.grade, Grade::Marginal, "{}", far.because.metric);
}

#[test]
fn heat_counts_in_sight_and_not_behind_a_wall() {
    let hot = post(80.0, ", nature = \"hot\", keep = 50");
    let answer = judged(&boat("392.7", &hot), Set::Prompt);
    let sees = verdict(&answer, "route.hot.heat-post");
    assert_eq!(sees.grade, Grade::Marginal, "{}", sees.because.metric);
    assert!(sees.because.metric.contains("in sight of"));
    let shield = "shield = { box = { from = [75, 100, -200], to = [175, 200, 200], turned = \"0°\" }, keep = 0 }\n";
    // A plate across the diagonal between the post and the hose.
    let shield = shield
        .replace("[75, 100, -200]", "[30, 143, -200]")
        .replace("[175, 200, 200]", "[230, 145, 200]")
        .replace("\"0°\"", "\"45°\"");
    let answer = judged(&boat("392.7", &format!("{hot}{shield}")), Set::Prompt);
    assert!(about(&answer, "post").is_none(), "a plate stands between");
}

#[test]
fn what_carries_a_mouth_is_not_gone_into_and_its_heat_counts() {
    let block = |front: f64, more: &str| {
        boat(
            "392.7",
            &format!(
                "[bay.things]\nblock = {{ box = {{ from = [-300, -100, -100], to = [{front}, 100, 100] }}, of = \"engine\"{more} }}\n"
            ),
        )
    };
    let behind = judged(&block(-5.0, ""), Set::Prompt);
    assert_eq!(verdict(&behind, "route.hot.clearance").grade, Grade::Sound);
    let inside = judged(&block(50.0, ""), Set::Prompt);
    let inside = about(&inside, "block").expect("it leads through the block");
    assert_eq!(inside.grade, Grade::Unsound, "{}", inside.because.metric);
    let hot = judged(&block(-5.0, ", nature = \"hot\", keep = 30"), Set::Prompt);
    let hot = verdict(&hot, "route.hot.heat-block");
    assert!(hot.grade >= Grade::Marginal, "{}", hot.because.metric);
}

#[test]
fn a_body_without_a_shape_is_asked_for() {
    let text = boat("392.7", &post(100.0, "")).replace("across = 40", "across = \"?\"");
    let answer = judged(&text, Set::Prompt);
    let open = verdict(&answer, "route.thing-post.shape");
    assert_eq!(open.grade, Grade::Unmeasured);
    let settles = open.settles.as_ref().expect("a measurement settles it");
    assert_eq!(settles.place, "bay.things.post.cylinder.across");
}

#[test]
fn slack_waits_for_the_folding_radius_and_judges_the_pull() {
    let sound = judged(&moving(&boat("420", ""), "moves = 1\n"), Set::Prompt);
    let slack = verdict(&sound, "route.hot.slack");
    assert!(
        slack.because.metric.contains("it pulls with"),
        "{}",
        slack.because.metric
    );
    // So stiff a hose pulls with hundreds of newtons.
    assert_eq!(slack.grade, Grade::Unsound, "{}", slack.because.metric);
    let soft = boat("420", "").replace("5000 N m2", "1 N m2");
    let soft = judged(&moving(&soft, "moves = 1\n"), Set::Prompt);
    let slack = verdict(&soft, "route.hot.slack");
    assert_eq!(slack.grade, Grade::Sound, "{}", slack.because.metric);
    // An arc cut to its length reaches no farther: sideways counts too.
    let short = boat("365", "").replace("5000 N m2", "1 N m2");
    let short = judged(&moving(&short, "moves = 30\n"), Set::Prompt);
    let slack = verdict(&short, "route.hot.slack");
    assert_eq!(slack.grade, Grade::Unsound, "{}", slack.because.metric);
    // Nobody knows where a hose of unknown build folds.
    let nobody = boat("420", "")
        .replace("38 epdm", "38")
        .replace(", rmin = 140, rmin_to = \"centre\"", "");
    let nobody = judged(&nobody, Set::All);
    for rule in ["slack", "bend", "window", "tolerance"] {
        let waits = verdict(&nobody, &format!("route.hot.{rule}"));
        assert_eq!(
            waits.grade,
            Grade::Unmeasured,
            "{rule}: {}",
            waits.because.metric
        );
        assert!(waits.settles.is_some(), "{rule}");
    }
}

/// A soft hose between two mouths that look up flops to one side or the other.
fn arch(more: &str) -> String {
    boat("1200", more)
        .replace("5000 N m2", "0.1 N m2")
        .replace("points = \"forward\"", "points = \"up\"")
        .replace(
            "at = [250, 250, 0], points = \"starboard\"",
            "at = [300, 0, 0], points = \"up\"",
        )
}

#[test]
fn what_may_hang_on_either_side_is_judged_on_both() {
    let answer = judged(&arch(""), Set::Prompt);
    let snap = verdict(&answer, "route.hot.snap");
    assert_eq!(snap.grade, Grade::Marginal);
    assert!(
        snap.because.metric.contains("on either side"),
        "{}",
        snap.because.metric
    );
    for side in [-1.0, 1.0] {
        let (from, to) = (60.0 * side, 500.0 * side);
        let wall = format!(
            "[bay.things]\nwall = {{ box = {{ from = [-100, {from}, -900], to = [400, {to}, 900] }} }}\n"
        );
        let answer = judged(&arch(&wall), Set::Prompt);
        let hit = about(&answer, "wall").expect("the wall is named");
        assert!(hit.grade >= Grade::Marginal, "{}", hit.because.metric);
    }
}

#[test]
fn the_points_that_it_is_led_by_choose_the_side() {
    for side in [-1.0, 1.0] {
        let lead = format!(
            "[bay.lies]\nhot = {{ corners = [[150, {}, 100]] }}\n",
            300.0 * side
        );
        let answer = judged(&arch(&lead), Set::Prompt);
        let part = &route(&answer).runs.first().expect("laid").parts[0];
        let middle = part.line[part.line.len() / 2];
        assert!(middle[1] * side > 0.02, "{middle:?}");
        assert!(
            answer
                .verdicts
                .iter()
                .any(|verdict| verdict.id == "route.hot.led")
        );
    }
    let far = "[bay.lies]\nhot = { corners = [[150, 300, 1500]] }\n";
    let answer = judged(&arch(far), Set::Prompt);
    let led = verdict(&answer, "route.hot.led");
    assert_eq!(led.grade, Grade::Marginal, "{}", led.because.metric);
}

#[test]
fn a_support_says_where_it_is_taken_to_hold_and_when_it_holds_nothing() {
    let with = |support: &str| {
        let lies = format!("[bay.lies]\nhot = {{ supports = [{support}] }}\n");
        judged(
            &boat("1400", &lies).replace("5000 N m2", "1 N m2"),
            Set::Prompt,
        )
    };
    let bare = judged(
        &boat("1400", "").replace("5000 N m2", "1 N m2"),
        Set::Prompt,
    );
    let spans = verdict(&bare, "route.hot.support");
    assert_eq!(spans.grade, Grade::Unsound, "{}", spans.because.metric);
    let guessed = with("{ at = [300, 0, -200] }");
    let held = verdict(&guessed, "route.hot.support");
    assert!(held.grade < Grade::Unsound, "{}", held.because.metric);
    let steps = &held.working.steps;
    assert!(
        steps
            .iter()
            .any(|step| step.filled.metric.contains("taken to hold"))
    );
    let beyond = with("{ at = [300, 0, -200], after = 9000 }");
    let dropped = verdict(&beyond, "route.hot.support-1");
    assert_eq!(dropped.grade, Grade::Unmeasured);
    assert!(dropped.because.metric.contains("beyond the end"));
    let settles = dropped.settles.as_ref().expect("a measurement settles it");
    assert!(
        settles.place.ends_with("supports[0].after"),
        "{}",
        settles.place
    );
    assert_eq!(verdict(&beyond, "route.hot.support").grade, Grade::Unsound);
}

#[test]
fn raw_water_that_stays_freezes() {
    let dip = boat(
        "760",
        "[bay.lies]\nhot = { supports = [{ at = [330, 60, -150], after = 380 }] }\n",
    )
    .replace("5000 N m2", "1 N m2")
    .replace("length = 760", "carries = \"raw water\", length = 760");
    let answer = judged(&dip, Set::Prompt);
    let drain = verdict(&answer, "route.hot.drain");
    assert_eq!(drain.grade, Grade::Marginal, "{}", drain.because.metric);
    assert!(drain.because.metric.contains("freezes"));
    assert!(
        answer
            .verdicts
            .iter()
            .all(|verdict| verdict.id != "route.hot.air")
    );
    assert!(route(&answer).coolant_stays() < 1e-9 && !route(&answer).stays.is_empty());
}

/// Windows and tolerances go by what clearance goes by.
#[test]
fn a_window_keeps_clearances_and_a_tolerance_says_when_they_die() {
    let text = boat("392.7", &post(11.0, "")).replace("moves = 5\n", "moves = 0.5\n");
    let answer = judged(&text, Set::All);
    assert_eq!(verdict(&answer, "route.hot.clearance").grade, Grade::Sound);
    let off = verdict(&answer, "route.hot.tolerance");
    assert_eq!(off.grade, Grade::Marginal, "{}", off.because.metric);
    assert!(
        off.because.metric.contains("least clearance is lost"),
        "{}",
        off.because.metric
    );
    let free = judged(&boat("392.7", &post(100.0, "")), Set::All);
    let span = |answer: &Answer| route(answer).runs[0].parts[0].window.expect("a window");
    let (tight, wide) = (span(&answer), span(&free));
    assert!(tight.0 > wide.0 + 1e-4, "{tight:?} {wide:?}");
    // Deep in a thing no length keeps every rule.
    let deep = judged(
        &boat(
            "392.7",
            "[bay.things]\nblock = { box = { from = [40, -200, -300], to = [500, 200, 300] } }\n",
        ),
        Set::All,
    );
    let window = verdict(&deep, "route.hot.window");
    assert_eq!(window.grade, Grade::Unsound, "{}", window.because.metric);
    assert!(route(&deep).runs[0].parts[0].window.is_none());
}

/// A hose cut to either end of its window keeps its clearance, as it swings at that length with the engine.
#[test]
fn a_window_holds_at_its_own_ends() {
    for (gap, moves) in [(14.0, "5"), (16.0, "8"), (11.0, "0.5")] {
        let at = |free: f64| {
            let text = boat(&format!("{:.2}", free * 1e3), &post(gap, ""));
            judged(
                &text.replace("moves = 5\n", &format!("moves = {moves}\n")),
                Set::All,
            )
        };
        let free = 392.7 / 1e3;
        let answer = at(free);
        let part = &route(&answer).runs[0].parts[0];
        let over = part.cut.expect("a cut") - free;
        let (low, high) = part.window.expect("a window");
        for cut in [low, high] {
            let there = at(cut - over);
            let mut near = there.verdicts.iter().filter(|verdict| {
                let rule = verdict.id.strip_prefix("route.hot.").unwrap_or_default();
                let gap = ["clearance", "chafe", "heat"];
                gap.iter().any(|gap| rule.starts_with(gap)) && verdict.grade != Grade::Sound
            });
            let broken = near.next().map(|verdict| &verdict.because.metric);
            assert_eq!(broken, None, "{gap} {moves}: {cut} of {low} to {high}");
        }
    }
}

/// What surely falls short of its far mouth is unsound; what may reach is not known.
#[test]
fn a_hose_that_does_not_reach_is_unsound() {
    // The mouths lie 353.6 mm apart, and a hose leaves each straight on.
    let short = judged(&boat("300", ""), Set::All);
    let laid = verdict(&short, "route.hot.laid");
    assert_eq!(laid.grade, Grade::Unsound, "{}", laid.because.metric);
    assert!(laid.because.metric.contains("does not reach"));
    assert!(
        laid.remedy.metric.contains("more than 55 mm longer"),
        "{} {}",
        laid.because.metric,
        laid.remedy.metric
    );
    let nearly = judged(&boat("\"353 ± 5 mm\"", ""), Set::All);
    let laid = verdict(&nearly, "route.hot.laid");
    assert_eq!(laid.grade, Grade::Unmeasured, "{}", laid.because.metric);
    assert!(laid.settles.is_some());
}

/// A level plate as a scan, `gap` [mm] under the hose, whose outside is 47.4 mm; the scan may be off by 1 mm.
fn over_a_plate(gap: f64) -> Answer {
    let more = r#"[bay.scan]
file = "plate.stl"
unit = "m"
error = 1
behind = "free"
points = [
  { scan = [0, 0, 0], is = [0, 0, 0] },
  { scan = [0.25, 0.25, 0], is = [250, 250, 0] },
  { scan = [0.25, 0, 0], is = [250, 0, 0] },
]
"#;
    let text = moving(&boat("392.7", more), "moves = 0.5\n");
    let (boat, _, remarks) = boat::read(&text);
    assert!(
        remarks
            .iter()
            .all(|remark| remark.severity != boat::Severity::Stop),
        "{remarks:?}"
    );
    let side = 20_u32;
    let place = |n: u32| f64::from(n) * 0.04 - 0.3;
    let at = |i: u32, j: u32| i * (side + 1) + j;
    let cells = (0..side).flat_map(|i| (0..side).map(move |j| (i, j)));
    let scan = RawScan {
        id: "plate".into(),
        points: (0..=side)
            .flat_map(|i| (0..=side).map(move |j| (i, j)))
            .map(|(i, j)| [place(i), place(j), -(23.7 + gap) / 1e3])
            .collect(),
        triangles: cells
            .flat_map(|(i, j)| {
                [
                    [at(i, j), at(i + 1, j), at(i + 1, j + 1)],
                    [at(i, j), at(i + 1, j + 1), at(i, j + 1)],
                ]
            })
            .collect(),
        unit: None,
    };
    let input = Input {
        set: Set::Prompt,
        bay: Some(BayAsk {
            scan: Some(Arc::new(scan)),
        }),
        ..Input::of(&boat)
    };
    reckon(&input, &mut Memo::default())
}

/// A scan wants 10 mm as any solid thing does, beside what it may be off and how far the engine moves.
#[test]
fn a_scan_wants_the_clearance_of_a_solid_thing() {
    let wide = over_a_plate(14.0);
    let kept = verdict(&wide, "route.hot.clearance");
    assert_eq!(kept.grade, Grade::Sound, "{}", kept.because.metric);
    let narrow = over_a_plate(10.5);
    let near = about(&narrow, "scan").expect("the scan is told of");
    assert_eq!(near.grade, Grade::Marginal, "{}", near.because.metric);
}

/// What no hose of a run can mend is told once, of the run.
#[test]
fn a_run_that_no_length_mends_is_told_of_once() {
    let text = boat(
        "392.7",
        "[bay.things]\nblock = { box = { from = [40, -200, -300], to = [500, 200, 300] } }\n[bay.lies]\nhot = { cut = [240, 240] }\n[joints]\n\"hot.joiner.a\" = { od = 38.1, bead = 40.7, behind_bead = 32, bead_width = 4 }\n\"hot.joiner.b\" = { od = 38.1, bead = 40.7, behind_bead = 32, bead_width = 4 }\n",
    )
    .replace(
        "length = 392.7, way = \"hose 38 epdm\"",
        "way = \"hose 38 epdm + joiner 38 bronze 80 long + hose 38 epdm\"",
    );
    let deep = judged(&text, Set::All);
    let windows: Vec<&Verdict> = deep
        .verdicts
        .iter()
        .filter(|verdict| verdict.id.contains("window"))
        .collect();
    let [window] = windows.as_slice() else {
        panic!("{windows:?} {:?}", route(&deep).missing);
    };
    assert_eq!(window.grade, Grade::Unsound, "{}", window.because.metric);
    assert!(
        window.because.metric.contains("no one of its hoses"),
        "{}",
        window.because.metric
    );
}
