//! Threads: which one it is, what mates, what seals, how far it is screwed in, and the anode.

use quantity::{Length, Reading, Tolerance, Unit};
use reckon::{Answer, Further, Grade, Identified, QuickThread, quick_thread};
use reference::thread::ThreadSex;

use crate::boats::{Change, DUNLIN, answer, edited, read, small, verdict};

fn length(text: &str) -> Reading<Length> {
    quantity::parse_reading(text, Some(Unit::mm())).unwrap()
}

/// A male by its largest diameter and the length over some pitches.
fn male(diameter: &str, pitch: Option<(&str, f64)>, taper: Option<(&str, &str)>) -> Identified {
    quick_thread(&QuickThread {
        sex: ThreadSex::Male,
        diameter: length(diameter),
        pitch: pitch.map(|(over, count)| (length(over), count)),
        taper: taper.map(|(change, over)| (length(change), length(over))),
    })
}

fn names(identified: &Identified) -> Vec<&str> {
    let rows = identified.rows.iter();
    rows.map(|row| row.thread.as_str()).collect()
}

#[test]
fn what_can_t_be_told_apart_asks_for_two_diameters_8_mm_apart() {
    let found = male("20.8 ± 0.1 mm", Some(("25.4 ± 0.3 mm", 14.0)), None);
    for thread in ["G 1/2", "R 1/2", "1/2 NPT"] {
        assert!(names(&found).contains(&thread), "{:?}", names(&found));
    }
    assert_eq!(found.verdict.grade, Grade::Unmeasured);
    let settles = found.verdict.settles.as_ref().unwrap();
    assert!(
        settles.how.contains("two diameters 8 mm apart"),
        "{settles:?}"
    );
    assert!(settles.how.contains("55°"), "{settles:?}");
    // With the taper read the parallel ones fall away, and only the flanks are left to look at.
    let taper = Some(("0.5 mm", "8 mm"));
    let found = male("20.8 ± 0.1 mm", Some(("25.4 ± 0.3 mm", 14.0)), taper);
    let mut left = names(&found);
    left.sort_unstable();
    assert_eq!(left, ["1/2 NPT", "R 1/2"]);
    assert_eq!(found.tells.len(), 1);
    assert_eq!(found.tells[0].look, Further::Flanks);
}

#[test]
fn chances_are_shares_of_one_and_fall() {
    for (diameter, over) in [("20.8", "18.1"), ("33.1", "23.1"), ("13.2", "13.4")] {
        let found = male(diameter, Some((over, 10.0)), None);
        let sum: f64 = found.rows.iter().map(|row| row.chance).sum();
        assert!((sum + found.others - 1.0).abs() < 1e-9, "{diameter}");
        assert!(
            found
                .rows
                .windows(2)
                .all(|pair| pair[0].chance >= pair[1].chance)
        );
    }
}

#[test]
fn pitch_parts_what_diameter_can_t() {
    // 33.1 mm alone may be of five families; over ten turns 23.1, 22.1 and 20.0 mm part them.
    let alone = male("33.1", None, None);
    assert!(alone.rows.len() > 3);
    assert_eq!(
        alone.verdict.settles.as_ref().unwrap().place,
        "--ten-pitches"
    );
    for (over, family) in [("23.1", "G 1"), ("22.1", "NPT"), ("20.0", "M33x2")] {
        let found = male("33.1", Some((over, 10.0)), None);
        assert!(
            names(&found)[0].contains(family) || family == "NPT",
            "{over}"
        );
        for name in names(&found) {
            let same = name.ends_with(" 1") && family == "G 1"
                || name.starts_with("1 NP") && family == "NPT"
                || name == family;
            assert!(same, "{over}: {name}");
        }
    }
    let metric = male("32.9", Some(("20.0", 10.0)), None);
    assert_eq!(names(&metric), ["M33x2"]);
    assert_eq!(metric.verdict.grade, Grade::Sound);
}

#[test]
fn a_size_by_name_is_no_diameter() {
    for (typed, over) in [("1 1/4 in", Some(("23.1", 10.0))), ("1 1/4 in", None)] {
        let found = male(typed, over, None);
        let because = &found.verdict.because.metric;
        assert_eq!(found.verdict.grade, Grade::Unmeasured);
        assert!(
            because.contains("size by name") && because.contains("41.91 mm"),
            "{because}"
        );
        assert_eq!(found.verdict.settles.as_ref().unwrap().place, "--major");
    }
    // Read as a diameter, with its tolerance or with a pitch that bears it out, it is one.
    let unified = male("3/4 in", Some(("15.9", 10.0)), None);
    assert_eq!(names(&unified), ["3/4-16"]);
    assert_eq!(unified.verdict.grade, Grade::Sound);
    let read = male("31.75 ± 0.1 mm", Some(("23.1", 10.0)), None);
    assert!(!read.verdict.because.metric.contains("by name"));
}

#[test]
fn a_worn_crest_still_stands_and_says_so() {
    let worn = male(
        "32.75 ± 0.05",
        Some(("23.1", 10.0)),
        Some(("0 mm", "10 mm")),
    );
    assert_eq!(names(&worn)[0], "G 1");
    assert!(
        worn.verdict.because.metric.contains("worn"),
        "{:?}",
        worn.verdict.because
    );
    // To the other side nothing wears: a male over its limits is another thread.
    let over = male(
        "33.45 ± 0.05",
        Some(("23.1", 10.0)),
        Some(("0 mm", "10 mm")),
    );
    assert!(
        over.verdict.because.metric.contains("No thread"),
        "{:?}",
        over.verdict.because
    );
}

#[test]
fn silly_numbers_are_answered_too() {
    for (diameter, over, count) in [
        ("0.001", "0.001", 1.0),
        ("999", "999", 200.0),
        ("20.8 ± 0.0000001", "18.143 ± 0.0000001", 10.0),
        ("20 to 500 mm", "1 to 90 mm", 1.0),
        ("1e300 mm", "1e-300 mm", 10.0),
    ] {
        for sex in [ThreadSex::Male, ThreadSex::Female] {
            let found = quick_thread(&QuickThread {
                sex,
                diameter: length(diameter),
                pitch: Some((length(over), count)),
                taper: Some((length("0 mm"), length("1e-9 mm"))),
            });
            for row in &found.rows {
                assert!((0.0..=1.0).contains(&row.chance), "{diameter}: {row:?}");
            }
            for text in [
                &found.verdict.because.metric,
                &found.verdict.because.imperial,
            ] {
                assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
            }
        }
    }
    let exact = Reading {
        tolerance: Tolerance::PlusMinus(Length::mm(0.0)),
        ..Reading::plain(Length::mm(20.8), Unit::mm())
    };
    let found = quick_thread(&QuickThread {
        sex: ThreadSex::Male,
        diameter: exact,
        pitch: None,
        taper: None,
    });
    assert!(found.rows.iter().all(|row| row.chance.is_finite()));
}

/// The verdict on two parts that are screwed together, in the hull or in a tank.
#[track_caller]
fn mates(outer: &str, inner: &str, at_hull: bool, grade: Grade, says: &str) -> Answer {
    let chain = format!("\"{outer} + {inner}\"");
    let kind = if at_hull {
        "\"hull fitting\""
    } else {
        "\"header tank\""
    };
    let changes = [
        ("things.hull.chain", chain.as_str()),
        ("things.hull.kind", kind),
    ];
    let answer = small(&changes);
    let found = answer
        .verdicts
        .iter()
        .find(|verdict| verdict.subject.starts_with("hull.") && verdict.id.ends_with(".thread"))
        .unwrap_or_else(|| panic!("no verdict on {chain}"));
    assert_eq!(found.grade, grade, "{chain}: {:?}", found.because);
    assert!(found.because.metric.contains(says), "{:?}", found.because);
    if grade == Grade::Unsound {
        assert!(found.caution.is_some() && !found.remedy.metric.is_empty());
    }
    if grade == Grade::Unmeasured {
        assert!(found.settles.is_some());
    }
    answer
}

#[test]
fn every_mating_is_judged_by_its_law() {
    use Grade::{Marginal, Sound, Unmeasured, Unsound};
    let valve = |thread: &str| format!("ball valve {thread} F F bronze");
    for (male, female, hull, elsewhere, says) in [
        ("G1 M", "G1", Sound, Sound, "copper washer 33 x 39 x 2 mm"),
        ("R1 M", "Rp1", Sound, Sound, "3 to 5 turns of thin tape"),
        ("R1 M", "Rc1", Sound, Sound, "clockwise"),
        ("R1 M", "G1", Unsound, Marginal, "taper male in a parallel"),
        (
            "G1 M",
            "Rp1",
            Unsound,
            Unsound,
            "nothing seals on the thread",
        ),
        ("1 NPT M", "1 NPT", Sound, Sound, "It seals on the thread"),
        (
            "3/4 NPT M",
            "G3/4",
            Unsound,
            Unsound,
            "14 turns to the inch",
        ),
        (
            "G1/2 M",
            "1/2 NPT",
            Unsound,
            Unsound,
            "14 turns to the inch",
        ),
        ("1 NPT M", "1 NPSM", Unmeasured, Unmeasured, "seat of 30"),
        ("1 NPSM M", "1 NPT", Unsound, Unsound, "nothing seals"),
        ("M33x2 M", "M33x2", Sound, Sound, "no tape"),
        ("M33x2 M", "M33x1.5", Unsound, Unsound, "two pitches"),
        ("M33x2 M", "M33", Unmeasured, Unmeasured, "Pitch"),
        ("M33x2 M", "G1", Unsound, Unsound, "never mate"),
        ("G3/4 M", "G1", Unsound, Unsound, "26.4 mm"),
    ] {
        let outer = format!("stub {male} steel");
        mates(&outer, &valve(female), true, hull, says);
        mates(&outer, &valve(female), false, elsewhere, says);
    }
    let elbow = "elbow R1 M M steel";
    mates(elbow, "stub G1 M steel", true, Unsound, "both male");
    mates(
        "elbow G1 F F steel",
        &valve("G1"),
        true,
        Unsound,
        "both female",
    );
    // Away from the hull a casting still bursts.
    let cast = "elbow G1 F F aluminium";
    mates(
        "stub R1 M steel",
        cast,
        false,
        Unsound,
        "bursts the casting",
    );
}

#[test]
fn a_shortened_thread_is_measured() {
    let engaged = |female: &str, metal: &str, male: &str, length: &str| {
        let chain = format!(
            "\"stub {female} F {metal} + tail {male} M x 38 barbed bronze engaged {length}\""
        );
        let answer = small(&[("things.hull.chain", chain.as_str())]);
        let found = answer
            .verdicts
            .iter()
            .find(|verdict| verdict.id == "fit.hull.stub-tail.engaged");
        found.map(|verdict| verdict.grade)
    };
    // G 1 1/4 is 41.9 mm: 25.1 mm in steel, 41.9 in aluminium, and between the two for bronze.
    assert_eq!(
        engaged("G1-1/4", "steel", "G1-1/4", "26"),
        Some(Grade::Sound)
    );
    assert_eq!(
        engaged("G1-1/4", "steel", "G1-1/4", "24"),
        Some(Grade::Unsound)
    );
    assert_eq!(
        engaged("G1-1/4", "aluminium", "G1-1/4", "40"),
        Some(Grade::Unsound)
    );
    assert_eq!(
        engaged("G1-1/4", "bronze", "G1-1/4", "30"),
        Some(Grade::Unmeasured)
    );
    // R 1 1/4: hand-tight 12.7 mm and 2 turns of 2.31 mm are 17.3 mm.
    assert_eq!(
        engaged("Rp1-1/4", "bronze", "R1-1/4", "17.5"),
        Some(Grade::Sound)
    );
    assert_eq!(
        engaged("Rp1-1/4", "bronze", "R1-1/4", "17"),
        Some(Grade::Unsound)
    );
    // What does not mate is not measured either.
    assert_eq!(engaged("G1", "steel", "G1-1/4", "26"), None);
}

#[track_caller]
fn port(changes: &[Change], id: &str, grade: Option<Grade>, says: &str) {
    let answer = small(changes);
    let found = answer.verdicts.iter().find(|verdict| verdict.id == id);
    assert_eq!(
        found.map(|verdict| verdict.grade),
        grade,
        "{changes:?}: {found:?}"
    );
    if let Some(verdict) = found {
        assert!(
            verdict.because.metric.contains(says),
            "{:?}",
            verdict.because
        );
    }
}

const THREAD: &str = "fit.engine.drain.thread";

#[test]
fn a_port_is_named_by_its_measures() {
    let drain = |inside: &'static str| ("engine.ports.drain", inside);
    let open = "{ female_id = \"18.7 ± 0.1\", ten_pitches = \"18.1 ± 0.2\" }";
    port(&[drain(open)], THREAD, Some(Grade::Unmeasured), "G 1/2");
    let metric = "{ female_id = 12.5, ten_pitches = 15.0 }";
    port(&[drain(metric)], THREAD, Some(Grade::Sound), "M14x1.5");
    port(
        &[drain(metric)],
        "fit.engine.drain.seal",
        Some(Grade::Sound),
        "washer",
    );
    let bare = "{ metal = \"cast iron\" }";
    port(&[drain(bare)], THREAD, Some(Grade::Unmeasured), "neither");
    let named = "{ female_id = \"1/2 in\", ten_pitches = 18.1 }";
    port(
        &[drain(named)],
        THREAD,
        Some(Grade::Unmeasured),
        "size by name",
    );
    let both = "{ female_id = 12.5, male_od = 13.9, ten_pitches = 15.0 }";
    port(&[drain(both)], THREAD, Some(Grade::Unmeasured), "two sexes");
}

#[test]
fn a_written_thread_is_held_against_its_measures() {
    let drain = |inside: &'static str| ("engine.ports.drain", inside);
    let alone = "{ thread = \"1/4 NPT F\" }";
    port(&[drain(alone)], THREAD, None, "");
    port(
        &[drain(alone)],
        "fit.engine.drain.seal",
        Some(Grade::Sound),
        "2 to 3 turns",
    );
    let right = "{ thread = \"1/2 NPT F\", female_id = 18.3, ten_pitches = 18.1 }";
    port(&[drain(right)], THREAD, Some(Grade::Sound), "bear it out");
    let wrong = "{ thread = \"1/2 NPT F\", female_id = 18.3, ten_pitches = 15.0 }";
    port(
        &[drain(wrong)],
        THREAD,
        Some(Grade::Unsound),
        "is written, but",
    );
    port(&[drain(wrong)], "fit.engine.drain.seal", None, "");
    let sex = "{ thread = \"1/2 NPT M\", female_id = 18.3, ten_pitches = 18.1 }";
    port(&[drain(sex)], THREAD, Some(Grade::Unmeasured), "two sexes");
    let unlisted = "{ thread = \"M18x2 F\" }";
    port(
        &[drain(unlisted)],
        THREAD,
        Some(Grade::Unmeasured),
        "tables don't have it",
    );
}

#[test]
fn an_anode_wants_its_thread_bare_and_half_of_it_left() {
    let id = "fit.cooler.plug.anode";
    let raw = ("runs.wet.carries", "\"raw water\"");
    let plug = |anode: &'static str| ("things.cooler.ports.plug", anode);
    for (anode, grade, says) in [
        (
            "{ thread = \"G3/8 F\", anode = { tape = false } }",
            Grade::Unmeasured,
            "50 %",
        ),
        (
            "{ thread = \"G3/8 F\", anode = { left = \"80 %\", seen = \"2026-03\" } }",
            Grade::Sound,
            "2026-03",
        ),
        (
            "{ thread = \"G3/8 F\", anode = { left = \"52 %\" } }",
            Grade::Marginal,
            "52 %",
        ),
        (
            "{ thread = \"G3/8 F\", anode = { left = \"2 %\" } }",
            Grade::Unsound,
            "2 %",
        ),
    ] {
        port(&[raw, plug(anode)], id, Some(grade), says);
        port(
            &[raw, plug(anode)],
            "fit.cooler.plug.seal",
            Some(Grade::Sound),
            "without tape",
        );
    }
    let taped = plug("{ thread = \"G3/8 F\", anode = { left = \"80 %\", tape = true } }");
    port(
        &[raw, taped],
        "fit.cooler.plug.anode-tape",
        Some(Grade::Marginal),
        "tape",
    );
    // No anode belongs where only coolant runs.
    port(&[taped], id, Some(Grade::Unsound), "only coolant");
    let in_block = (
        "engine.ports.drain",
        "{ thread = \"G3/8 F\", anode = { left = \"80 %\" } }",
    );
    port(
        &[raw, in_block],
        "fit.engine.drain.anode",
        Some(Grade::Unsound),
        "only coolant",
    );
}

#[test]
fn dunlin_s_drain_asks_for_its_taper() {
    let all = answer(&read(DUNLIN), reckon::Set::All);
    let found = verdict(&all, THREAD);
    assert_eq!(found.grade, Grade::Unmeasured);
    for name in ["G 1/2", "Rp 1/2", "1/2 NPT"] {
        assert!(found.because.metric.contains(name), "{:?}", found.because);
    }
    let how = &found.settles.as_ref().unwrap().how;
    assert!(how.contains("8 mm apart"), "{how}");
    let named = edited(DUNLIN, &[("engine.ports.drain.thread", "\"Rp1/2 F\"")]);
    let all = answer(&read(&named), reckon::Set::All);
    assert_eq!(verdict(&all, THREAD).grade, Grade::Sound);
    assert_eq!(
        verdict(&all, "fit.keel-fwd.stub-valve.thread").grade,
        Grade::Sound
    );
}
