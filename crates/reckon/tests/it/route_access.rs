//! Whether tools reach clips: what was typed beside what stands there, the way in, the owner's tools, the order.

use reckon::{Answer, Grade, LayOrder, Set, Verdict};

use crate::boats::DUNLIN;
use crate::route::{route, verdict};

/// A post far off, so that there is something in the bay.
const POST: &str =
    "post = { cylinder = { from = [600, 600, -100], to = [600, 600, 100], across = 40 } }\n";
/// Walls about the engine's spigot that leave no room for a driver's hand at any hour.
const POCKET: &str = "left = { box = { from = [-200, 40, -200], to = [60, 80, 200] } }
right = { box = { from = [-200, -80, -200], to = [60, -40, 200] } }
top = { box = { from = [-200, -80, 40], to = [60, 80, 80] } }
foot = { box = { from = [-200, -80, -80], to = [60, 80, -40] } }
";

/// Two quarter turns a metre apart.
fn boat(joints: &str, bay: &str, things: &str) -> String {
    format!(
        r#"version = 1
lengths = "mm"
[engine]
moves = 5
spigots.out = {{ od = 38.1, bead = 40.7, behind_bead = 32, bead_width = 4, form = "beaded", h = 0 }}
spigots.in = {{ od = 38.1, bead = 40.7, behind_bead = 32, bead_width = 4, form = "beaded", h = 0 }}
[things.cooler]
kind = "oil cooler"
spigots.a = {{ od = 38.1, bead = 40.7, behind_bead = 32, bead_width = 4, form = "beaded", h = 0 }}
spigots.b = {{ od = 38.1, bead = 40.7, behind_bead = 32, bead_width = 4, form = "beaded", h = 0 }}
[runs]
hot = {{ from = "engine.out", to = "cooler.a", length = 392.7, way = "hose 38 epdm" }}
cold = {{ from = "cooler.b", to = "engine.in", length = 392.7, way = "hose 38 epdm" }}
[joints]
{joints}
[stock]
hose = ["2 m x 38 epdm, id 37.8 od 47.4"]
[bay]
x = "forward"
{bay}
[bay.hoses]
"38 epdm" = {{ stiffness = "5000 N m2", rmin = 140, rmin_to = "centre" }}
[bay.mouths]
"engine.out" = {{ at = [0, 0, 0], points = "forward" }}
"cooler.a" = {{ at = [250, 250, 0], points = "starboard" }}
"engine.in" = {{ at = [0, -1000, 0], points = "forward" }}
"cooler.b" = {{ at = [250, -750, 0], points = "starboard" }}
[bay.things]
{things}"#
    )
}

fn worm() -> String {
    ["hot.from", "hot.to", "cold.from", "cold.to"]
        .map(|joint| format!("\"{joint}\" = {{ clip = \"worm 40-60 316\" }}\n"))
        .concat()
}

fn judged(text: &str) -> Answer {
    crate::route::judged(text, Set::All)
}

/// A clip's verdict has the grade, says the words, and, where it is not sound, what to do.
#[track_caller]
fn check<'a>(answer: &'a Answer, id: &str, grade: Grade, says: &[&str]) -> &'a Verdict {
    let verdict = verdict(answer, id);
    let because = &verdict.because.metric;
    assert_eq!(verdict.grade, grade, "{because}");
    for says in says {
        assert!(because.contains(says), "“{says}” is not in: {because}");
    }
    assert!(grade == Grade::Sound || !verdict.remedy.metric.is_empty());
    assert!(
        grade != Grade::Unsound || verdict.caution.is_some(),
        "{because}"
    );
    verdict
}

/// A hatch of a metre over all of it.
const HATCH: &str = "hatch = { at = [100, -400, 500], size = [1000, 1000] }";

#[test]
fn what_was_typed_counts_beside_what_stands_there() {
    let room = |ahead: &str, across: &str| {
        let text = boat(&worm(), HATCH, POST);
        format!("{text}\n[bay.room]\n{ahead}\n[bay.room_across]\n{across}\n")
    };
    // The post alone leaves every position free; the tape says otherwise.
    let open = judged(&boat(&worm(), HATCH, POST));
    check(
        &open,
        "route.hot.from.access",
        Grade::Sound,
        &["any position of the clock"],
    );
    let tight = judged(&room("\"hot.from\" = 25", ""));
    let verdict = check(
        &tight,
        "route.hot.from.access",
        Grade::Unsound,
        &[
            "25 mm are free in front of it",
            "don't agree",
            "any position",
        ],
    );
    assert!(
        verdict
            .working
            .inputs
            .iter()
            .any(|input| input.symbol == "l")
    );
    let clips = &route(&tight).clips;
    let clip = clips.iter().find(|clip| clip.joint == "hot.from");
    let clip = clip.expect("swept");
    assert_eq!(clip.grade, Grade::Unsound);
    // No tool is named that the tape rules out.
    assert_eq!((&clip.tool, &clip.clock), (&None, &None));
    assert!(clip.free.is_empty() && clip.way.is_empty());
    // And of those that reach, one that the tape lets in.
    let mut named = 0;
    for free in [60, 90, 120, 150, 200] {
        let answer = judged(&room(&format!("\"hot.from\" = {free}"), ""));
        let clips = &route(&answer).clips;
        let clip = clips.iter().find(|clip| clip.joint == "hot.from");
        let clip = clip.expect("swept");
        let Some(tool) = &clip.tool else { continue };
        let told = &clip.text.metric;
        let tape = told.split_once("free in front of it").expect("the tape").1;
        let tool = tool.split(',').next().expect("a name");
        assert!(tape.contains(tool), "{free} mm: {tool} is not in: {told}");
        named += 1;
    }
    assert!(named >= 2, "{named}");
    // Long enough, and nobody said how wide.
    let long = judged(&room("\"hot.from\" = 300", ""));
    let verdict = check(
        &long,
        "route.hot.from.access",
        Grade::Marginal,
        &["nobody measured", "any position"],
    );
    let settles = verdict.settles.as_ref().expect("a width settles it");
    assert!(settles.place.contains("room_across"), "{}", settles.place);
    // Wide enough too.
    let wide = judged(&room("\"hot.from\" = 300", "\"hot.from\" = 160"));
    check(
        &wide,
        "route.hot.from.access",
        Grade::Sound,
        &["300 mm by 160 mm"],
    );
    let slit = judged(&room("\"hot.from\" = 300", "\"hot.from\" = 15"));
    check(&slit, "route.hot.from.access", Grade::Unsound, &["wants"]);
    // What the bodies shut stays shut, whatever was typed.
    let text = boat(&worm(), HATCH, POCKET);
    let text =
        format!("{text}\n[bay.room]\n\"hot.from\" = 300\n[bay.room_across]\n\"hot.from\" = 160\n");
    check(
        &judged(&text),
        "route.hot.from.access",
        Grade::Unsound,
        &[
            "No tool reaches",
            "By the tape it would be sound",
            "don't agree",
        ],
    );
}

#[test]
fn without_a_body_the_tape_judges_and_without_either_it_is_unmeasured() {
    let bare = boat(&worm(), "", "");
    let text = format!("{bare}\n[bay.room]\n\"hot.from\" = 120\n");
    let answer = judged(&text);
    check(
        &answer,
        "route.hot.from.access",
        Grade::Marginal,
        &["120 mm", "stubby driver"],
    );
    let other = check(
        &answer,
        "route.hot.to.access",
        Grade::Unmeasured,
        &["can't be told"],
    );
    let settles = other.settles.as_ref().expect("a tape settles it");
    assert!(settles.place.starts_with("bay.room."), "{}", settles.place);
    // A run that is not laid still has clips.
    let lost = boat(&worm(), HATCH, POST).replace(
        "\"cooler.b\" = { at = [250, -750, 0], points = \"starboard\" }",
        "",
    );
    check(
        &judged(&lost),
        "route.cold.to.access",
        Grade::Unmeasured,
        &["its run is not laid"],
    );
}

#[test]
fn the_hatch_is_judged_once_for_the_bay() {
    let none = judged(&boat(&worm(), "", POST));
    let way_in = check(&none, "route.bay.way-in", Grade::Unmeasured, &["no hatch"]);
    let settles = way_in.settles.as_ref().expect("a hatch settles it");
    assert_eq!(settles.place, "bay.hatch");
    // A clip that is free all round keeps its grade, and says on what.
    check(
        &none,
        "route.hot.from.access",
        Grade::Sound,
        &["once a hand is there"],
    );

    let open = judged(&boat(&worm(), HATCH, POST));
    assert!(
        open.verdicts
            .iter()
            .all(|verdict| verdict.id != "route.bay.way-in")
    );

    let plug =
        format!("{POST}plug = {{ box = {{ from = [-500, -1000, 400], to = [700, 200, 600] }} }}\n");
    let blocked = judged(&boat(&worm(), HATCH, &plug));
    let verdict = check(&blocked, "route.bay.way-in", Grade::Unsound, &["plug"]);
    assert!(!verdict.working.inputs.is_empty());
    check(
        &blocked,
        "route.hot.from.access",
        Grade::Unsound,
        &["No hand comes in"],
    );

    let slit = "hatch = { at = [100, -400, 500], size = [1000, 60] }";
    let narrow = judged(&boat(&worm(), slit, POST));
    check(&narrow, "route.bay.way-in", Grade::Marginal, &["90 mm"]);
    check(
        &narrow,
        "route.hot.from.access",
        Grade::Marginal,
        &["too narrow"],
    );
}

#[test]
fn a_whole_turn_names_no_side_and_each_moment_is_told() {
    let answer = judged(&boat(&worm(), HATCH, POST));
    let ear = verdict(&answer, "route.hot.from.access");
    let because = &ear.because.metric;
    assert!(
        because.contains("any position") && !because.contains(", from "),
        "{because}"
    );
    let formulas: Vec<&str> = ear
        .working
        .steps
        .iter()
        .map(|step| step.formula.as_str())
        .collect();
    for moment in [
        "when it is fitted",
        "when all is in",
        "to take this hose alone out",
    ] {
        assert!(
            formulas.iter().any(|formula| formula.starts_with(moment)),
            "{moment}: {formulas:?}"
        );
    }
    for tool in ["screwdriver", "stubby driver", "nut driver", "ratchet"] {
        assert!(
            formulas.iter().any(|formula| formula.contains(tool)),
            "{tool}: {formulas:?}"
        );
    }
    let clip = route(&answer).clips.first().expect("swept");
    assert_eq!(clip.moments.len(), 3);
    assert!(
        clip.moments
            .iter()
            .all(|moment| moment.grade == Grade::Sound && moment.tool.is_some())
    );
}

#[test]
fn the_owners_pincers_stay_pincers() {
    let ear = "\"hot.from\" = { clip = \"single-ear 47.0\" }\n";
    let text = format!(
        "{}\n[bay.tools]\n\"Pincers, front jaw\" = {{ long = 190, round = 110 }}\n\"my stub\" = {{ long = 95, round = 90 }}\n",
        boat(ear, HATCH, POST)
    );
    let answer = judged(&text);
    let ear = verdict(&answer, "route.hot.from.access");
    let because = &ear.because.metric;
    assert_eq!(ear.grade, Grade::Sound, "{because}");
    assert!(
        because.contains("the pincers (front jaw)") && !because.contains("a pincers"),
        "{because}"
    );
    // What the owner has besides is a driver, and is tried before the one that bends.
    let screw = verdict(&answer, "route.hot.to.access");
    let tried: Vec<&str> = screw
        .working
        .steps
        .iter()
        .map(|step| step.formula.as_str())
        .filter(|formula| formula.contains("put to the clip"))
        .collect();
    assert!(
        tried.iter().any(|formula| formula.contains("my stub")),
        "{tried:?}"
    );
    assert!(
        tried.iter().all(|formula| !formula.contains("flexible")),
        "{tried:?}"
    );
}

#[test]
fn the_order_of_fitting_says_what_it_leaves_out() {
    let answer = judged(&boat(&worm(), HATCH, POST));
    assert_eq!(
        route(&answer).order,
        Some(LayOrder::Works(vec!["hot".into(), "cold".into()]))
    );
    let order = check(&answer, "route.bay.order", Grade::Sound, &["hot, cold"]);
    assert!(order.working.inputs.len() == 4 && !order.working.steps.is_empty());
    assert!(!order.working.limit.metric.is_empty() && !order.working.sources.is_empty());
    // What nothing reaches anyway says nothing of the order, and is named.
    let pocket = judged(&boat(&worm(), HATCH, POCKET));
    check(
        &pocket,
        "route.bay.order",
        Grade::Sound,
        &["Hot.from is left out of it"],
    );
    // In the demo boat too.
    let dunlin = judged(DUNLIN);
    assert!(matches!(route(&dunlin).order, Some(LayOrder::Works(_))));
    verdict(&dunlin, "route.bay.order");
}

/// The boat with two clips on the engine's outlet, and other things about her.
fn two_clips(things: &str) -> Answer {
    let joints = worm().replacen("316\" }", "316\", clips = 2 }", 1);
    let text = boat(&joints, HATCH, things).replacen("behind_bead = 32", "behind_bead = 44", 1);
    judged(&text)
}

/// The hours at which the screws of the engine's outlet stand, from noon clockwise [degrees], and how far apart the
/// bands are [m].
fn screws(answer: &Answer) -> (Vec<f64>, f64) {
    let route = answer.route.as_ref().expect("laid");
    let clips: Vec<_> = route
        .clips
        .iter()
        .filter(|clip| clip.joint == "hot.from")
        .collect();
    assert_eq!(
        clips
            .iter()
            .map(|clip| (clip.nth, clip.of))
            .collect::<Vec<_>>(),
        [(1, 2), (2, 2)]
    );
    let hours = clips.iter().map(|clip| {
        // The spigot points forward: who looks at its open end has starboard at the left hand, and y is port.
        let screw = clip.screw.expect("a screw");
        let (y, z) = (screw[1] - clip.at[1], screw[2] - clip.at[2]);
        y.atan2(z).to_degrees().rem_euclid(360.0)
    });
    (hours.collect(), clips[1].at[0] - clips[0].at[0])
}

#[test]
fn each_of_two_clips_has_its_own_hour_opposite_the_other() {
    let open = two_clips(POST);
    check(
        &open,
        "route.hot.from.access",
        Grade::Sound,
        &["° either way, opposite that of"],
    );
    check(
        &open,
        "route.hot.from.access-2",
        Grade::Sound,
        &["° either way, opposite that of"],
    );
    let (hours, apart) = screws(&open);
    assert!(
        ((hours[0] - hours[1]).abs() - 180.0).abs() < 1e-6,
        "{hours:?}"
    );
    // A band of 12 mm and 5 mm between two, of which the second lies towards the mouth.
    assert!((apart - 0.017).abs() < 1e-9, "{apart}");
    let second = verdict(&open, "route.hot.from.access-2");
    assert!(
        second.title.ends_with("clip 2 of 2 from the hose's end"),
        "{}",
        second.title
    );
    assert_eq!(second.subject, "hot.from");
}
