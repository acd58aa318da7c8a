//! Ways out where no one hose fits both ends: a reducer, a sleeve; and what they must not disturb.

use boat::PieceKind;
use reckon::{Answer, Grade, Verdict};

use crate::boats::{Change, SMALL, answer, edited, read, small, verdict};
use reckon::Set;

/// Sizes of the two spigots of the dry run; the bead is 1.4 mm larger.
fn ends(from: f64, to: f64) -> Vec<(String, String)> {
    [
        ("engine.spigots.out", from),
        ("things.cooler.spigots.a", to),
    ]
    .into_iter()
    .flat_map(|(place, od)| {
        [
            (format!("{place}.od"), format!("{od}")),
            (format!("{place}.bead"), format!("{:.1}", od + 1.4)),
        ]
    })
    .collect()
}

fn boat_with(changes: &[(String, String)], more: &[Change]) -> String {
    let borrowed: Vec<Change> = changes
        .iter()
        .map(|(place, value)| (place.as_str(), value.as_str()))
        .collect();
    edited(&edited(SMALL, &borrowed), more)
}

fn judged(text: &str) -> Answer {
    answer(&read(text), Set::All)
}

/// How the hose goes over the end of a joint: the worse of spigot and bead.
fn goes_on(answer: &Answer, joint: &str) -> Grade {
    let of = |rule: &str| {
        let id = format!("fit.{joint}.{rule}");
        answer
            .verdicts
            .iter()
            .find(|verdict| verdict.id == id)
            .map(|verdict| verdict.grade)
    };
    of("stretch")
        .max(of("bead"))
        .or(of("hose"))
        .expect("a grade")
}

fn reducers(text: &str) -> Vec<(f64, f64)> {
    let boat = read(text);
    let way = boat.run("dry").and_then(|run| run.way.given()).cloned();
    way.unwrap_or_default()
        .iter()
        .filter_map(|piece| match piece.kind {
            PieceKind::Reducer {
                from: boat::Size::Named(from),
                to: boat::Size::Named(to),
                ..
            } => Some((from.as_length().to_mm(), to.as_length().to_mm())),
            _ => None,
        })
        .collect()
}

#[test]
fn a_reducer_is_offered_only_where_both_ends_then_do_better() {
    let sizes = [30.0, 32.2, 35.3, 36.4, 37.0, 38.1, 38.6, 40.3, 42.0, 45.2];
    let shelves = [
        "[\"5 m x 38 epdm, id 37.8 od 47.4\"]",
        "[\"5 m x 38 epdm, id 37.8 od 47.4\", \"5 m x 1 1/2 in epdm, id 38.6 od 48.0\"]",
    ];
    let mut offered = 0;
    for (from, to, shelf) in sizes
        .into_iter()
        .flat_map(|from| sizes.map(|to| (from, to)))
        .flat_map(|(from, to)| shelves.map(|shelf| (from, to, shelf)))
    {
        let text = boat_with(&ends(from, to), &[("stock.hose", shelf)]);
        let before = judged(&text);
        let edits = before
            .verdicts
            .iter()
            .filter(|verdict| verdict.id.starts_with("fit.dry."))
            .flat_map(|verdict| verdict.edits.iter())
            .filter(|edit| edit.place == "runs.dry.way");
        for edit in edits {
            let text = edited(&text, &[(&edit.place, &edit.to)]);
            for (one, other) in reducers(&text) {
                offered += 1;
                assert!((one - other).abs() > 0.4, "{from} and {to}: {}", edit.to);
                let after = judged(&text);
                let worst =
                    |answer: &Answer| goes_on(answer, "dry.from").max(goes_on(answer, "dry.to"));
                assert!(
                    worst(&after) < worst(&before),
                    "{from} and {to}, {shelf}: {} makes {:?} of {:?}",
                    edit.to,
                    worst(&after),
                    worst(&before)
                );
            }
        }
    }
    assert!(offered >= 10, "{offered}");
}

/// The way after each edit that a verdict on the dry run offers.
fn ways(answer: &Answer) -> Vec<&str> {
    let edits = answer.verdicts.iter().flat_map(|verdict| &verdict.edits);
    edits
        .filter(|edit| edit.place == "runs.dry.way")
        .map(|edit| edit.to.as_str())
        .collect()
}

#[test]
fn a_reducer_that_is_there_keeps_its_name_and_its_notes() {
    let there = [
        (
            "runs.dry.way",
            "\"hose 38 epdm + reducer 38>32 bronze + hose 32 epdm\"",
        ),
        ("joints.\"dry.reducer.a\"", "{ od = 38.1, bead = 39.5 }"),
        ("joints.\"dry.reducer.b\"", "{ od = 32.1, bead = 33.5 }"),
    ];
    // The hose upstream is too tight at the engine, or the one downstream too loose at the cooler.
    for (from, to) in [(45.0, 32.1), (38.1, 25.4), (45.0, 25.4)] {
        let text = boat_with(&ends(from, to), &there);
        let before = judged(&text);
        for way in ways(&before) {
            let after = read(&edited(&text, &[("runs.dry.way", way)]));
            let run = after.run("dry").expect("the run");
            let pieces = run.way.given().expect("a way");
            let named = pieces.iter().find(|piece| piece.name == "reducer");
            let kind = named.map(|piece| boat::piece_text(&piece.kind));
            assert_eq!(kind.as_deref(), Some("reducer 38>32 bronze"), "{way}");
        }
        if from > 40.0 {
            let tight = verdict(&before, "fit.dry.from.stretch");
            assert_eq!(tight.grade, Grade::Unsound);
            let second = tight
                .edits
                .iter()
                .any(|edit| edit.to.matches("reducer").count() > 1);
            assert!(!second, "{:?}", tight.edits);
        }
    }
}

#[test]
fn a_joiner_that_is_there_keeps_its_name_and_its_notes() {
    let before = small(&[(
        "runs.dry.way",
        "\"hose 38 epdm + hose 38 epdm + joiner 38 bronze + hose 38 epdm\"",
    )]);
    let ends = verdict(&before, "fit.dry.hose-hose2.ends");
    assert_eq!(ends.grade, Grade::Unsound);
    assert_eq!(ends.edits, []);
    assert!(ends.remedy.metric.contains("joiner"));
    // Put in behind one that is there, it takes another name.
    let behind = (
        "runs.dry.way",
        "\"hose 38 epdm + joiner 38 bronze + hose 38 epdm + hose 38 epdm\"",
    );
    let before = small(&[behind]);
    let ends = verdict(&before, "fit.dry.hose2-hose3.ends");
    let edit = ends.edits.first().expect("an edit");
    let after = small(&[behind, (&edit.place, &edit.to)]);
    let joints: Vec<&str> = after.joints.iter().map(|row| row.joint.as_str()).collect();
    assert!(joints.contains(&"dry.joiner.a") && joints.contains(&"dry.joiner2.b"));
}

/// The verdict on the stretch at the end of a thinner spigot of some metal.
fn at_thin(od: &str, metal: &str) -> (Verdict, Answer) {
    let od: f64 = od.parse().expect("a number");
    let metal = format!("\"{metal}\"");
    let text = boat_with(
        &ends(38.1, od),
        &[("things.cooler.spigots.a.metal", metal.as_str())],
    );
    let answer = judged(&text);
    (verdict(&answer, "fit.dry.to.stretch").clone(), answer)
}

fn offers_sleeve(verdict: &Verdict) -> bool {
    verdict.remedy.metric.contains("sleeve")
}

#[test]
fn a_sleeve_is_offered_at_the_loose_end_with_a_caution() {
    for metal in ["steel", "copper", "bronze", "brass", "cupro-nickel"] {
        let (loose, answer) = at_thin("34.5", metal);
        assert_eq!(loose.grade, Grade::Unsound);
        assert!(offers_sleeve(&loose), "{metal}: {}", loose.remedy.metric);
        // The hose of 37.8 mm stretched by half of 5 %, to half a millimetre: 38.5 mm, wall 2 mm.
        for said in ["38.5 mm outside", "wall of 2.0 mm", metal] {
            assert!(
                loose.remedy.metric.contains(said),
                "{}",
                loose.remedy.metric
            );
        }
        let caution = loose.caution.as_ref().expect("a caution");
        assert!(caution.contains("ashore"));
        let others = answer.verdicts.iter().filter(|other| other.id != loose.id);
        assert_eq!(others.filter(|other| offers_sleeve(other)).count(), 0);
    }
}

#[test]
fn no_sleeve_goes_on_what_takes_no_solder() {
    for metal in ["cast iron", "aluminium", "plastic", "titanium"] {
        let (loose, answer) = at_thin("34.5", metal);
        assert_eq!(loose.grade, Grade::Unsound);
        assert!(!answer.verdicts.iter().any(offers_sleeve), "{metal}");
    }
}

#[test]
fn a_sleeve_has_a_wall_of_one_to_four_millimetres() {
    for (od, offered) in [
        ("36.7", false),
        ("36.4", true),
        ("30.6", true),
        ("30.3", false),
    ] {
        let (loose, _) = at_thin(od, "steel");
        assert_eq!(loose.grade, Grade::Unsound, "{od}");
        assert_eq!(
            offers_sleeve(&loose),
            offered,
            "{od}: {}",
            loose.remedy.metric
        );
    }
}

#[test]
fn with_the_sleeve_on_the_hose_is_sound_there() {
    let (loose, _) = at_thin("34.5", "steel");
    let said = &loose.remedy.metric;
    let end = said.find(" mm outside").expect("its outside");
    let start = said[..end].rfind(' ').map_or(0, |at| at + 1);
    let outside: f64 = said[start..end].parse().expect("a number");
    assert!(said.contains("hose 38 epdm then fits both ends"), "{said}");
    let after = judged(&boat_with(&ends(38.1, outside), &[]));
    for joint in ["dry.from", "dry.to"] {
        assert_eq!(goes_on(&after, joint), Grade::Sound, "{joint}");
    }
}
