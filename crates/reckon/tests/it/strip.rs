//! The loop pulled straight: what it tells is what file and flow tell, and nothing else.

use boat::Boat;
use reckon::{
    Answer, Flow, Grade, Input, Memo, PieceForm, Set, SignKind, Stage, Strip, StripAsk, Trace,
    TraceKind, flow, reckon, strip, usual_heel,
};

const DUNLIN: &str = include_str!("../../../../boats/dunlin/boat.toml");
const TANSLEY: &str = include_str!("../../../../boats/tansley/boat.toml");
const WENNA: &str = include_str!("../../../../boats/wenna/boat.toml");

struct Told {
    answer: Answer,
    flow: Option<Flow>,
    strip: Strip,
}

fn told(text: &str, arrangement: Option<&str>, ask: &StripAsk) -> Told {
    let boat: Boat = boat::read(text).0;
    let input = Input {
        boat: &boat,
        arrangement,
        seed: 1,
        set: Set::Prompt,
        flow: None,
        bay: None,
    };
    let answer = reckon(&input, &mut Memo::default());
    let flow = flow(&boat, arrangement);
    let strip = strip(&boat, arrangement, ask, &answer, flow.as_ref()).expect("an arrangement");
    Told {
        answer,
        flow,
        strip,
    }
}

fn of(text: &str, arrangement: &str) -> Told {
    told(text, Some(arrangement), &StripAsk::default())
}

fn marks(strip: &Strip) -> Vec<&str> {
    strip
        .main
        .stations
        .iter()
        .map(|own| own.mark.as_str())
        .collect()
}

#[test]
fn the_way_begins_at_the_pump_and_comes_back_to_it() {
    let Told { strip, .. } = of(DUNLIN, "after");
    assert_eq!(
        marks(&strip),
        [
            "A1", "A2", "A3", "A4", "B1", "B2", "B3", "B4", "B5", "B6", "C1", "C2", "C3", "C4"
        ]
    );
    let keys: Vec<&str> = strip
        .main
        .pieces
        .iter()
        .map(|piece| piece.key.as_str())
        .collect();
    assert_eq!(
        keys,
        [
            "engine",
            "hot.hose",
            "hot.tee",
            "hot.hose2",
            "keel-fwd",
            "keel",
            "keel-aft",
            "cold.hose",
            "cold.tee",
            "cold.hose2",
            "cold.reducer",
            "cold.hose3",
            "gearbox",
            "suck.hose",
            "suck.tee",
            "suck.hose2",
            "engine"
        ]
    );
    assert!(strip.closed);
    let n = strip.main.pieces.len();
    assert_eq!(
        (strip.main.along.len(), strip.main.heights.len()),
        (n + 1, n + 1)
    );
}

#[test]
fn the_other_cooler_is_on_the_way_when_the_keel_is_shut_off() {
    let Told { strip, .. } = of(DUNLIN, "fallback");
    let runs: Vec<&str> = strip.main.runs.iter().map(|run| run.key.as_str()).collect();
    assert_eq!(runs, ["hot", "loop-out", "loop-back", "cold", "suck"]);
    assert!(
        strip
            .main
            .pieces
            .iter()
            .any(|piece| piece.key == "exchanger")
    );
    assert!(strip.main.pieces.iter().all(|piece| piece.key != "keel"));
    assert_eq!(strip.shut, ["keel-fwd.valve", "keel-aft.valve"]);
}

/// The distances are those of the flow, which counts no length for a reducer or a tail.
#[test]
fn distances_agree_with_the_flow() {
    for (text, arrangement) in [(DUNLIN, "before"), (TANSLEY, "before"), (WENNA, "before")] {
        let Told { strip, flow, .. } = of(text, arrangement);
        let flow = flow.expect("a flow");
        let figures = flow.row.states.iter().find_map(|state| state.came.steady());
        let places = &figures.expect("a steady state").places;
        let mut seen = 0;
        for own in &strip.main.stations {
            let along = places.iter().find(|place| place.name == own.key);
            if let Some(along) = along.and_then(|place| place.along) {
                seen += 1;
                assert!(
                    (own.s - along).abs() < 0.12,
                    "{}: {} for {along}",
                    own.key,
                    own.s
                );
            }
        }
        assert!(seen >= 4, "{arrangement}: {seen}");
    }
}

#[test]
fn heights_are_those_of_the_file_and_others_are_none() {
    let Told { strip, .. } = of(DUNLIN, "after");
    let z = |mark: &str| {
        let own = strip.main.stations.iter().find(|own| own.mark == mark);
        own.expect("a joint").z
    };
    let near = |mark: &str, wanted: f64| {
        let z = z(mark).expect("a height");
        assert!((z - wanted).abs() < 1e-9, "{mark}: {z}");
    };
    near("A1", 0.330);
    near("A4", -0.230);
    near("B1", -0.235);
    near("C4", 0.150);
    // Nobody measured how high the tees lie.
    for mark in ["A2", "A3", "B2", "B5", "C2"] {
        let own = strip
            .main
            .stations
            .iter()
            .find(|own| own.mark == mark)
            .expect("a joint");
        assert_eq!((own.z, own.wet, own.assumed), (None, None, true), "{mark}");
    }
    let wet: Vec<&str> = strip
        .main
        .stations
        .iter()
        .filter(|own| own.wet == Some(true))
        .map(|own| own.mark.as_str())
        .collect();
    assert_eq!(wet, ["A4", "B1"]);
    // A piece is dashed where one of its ends has no height, and only there.
    for (i, piece) in strip.main.pieces.iter().enumerate() {
        let ends = [strip.main.heights[i], strip.main.heights[i + 1]];
        assert_eq!(piece.assumed, ends.contains(&None), "{}", piece.key);
    }
}

#[test]
fn a_crest_without_a_place_is_assumed() {
    let Told { strip, .. } = of(DUNLIN, "after");
    let branch = strip
        .branches
        .iter()
        .find(|own| own.key == "cal-out")
        .expect("the branch");
    assert_eq!(branch.title, "F G calorifier");
    let high = branch
        .way
        .pieces
        .iter()
        .find(|piece| piece.poly.iter().any(|(_, z)| (z - 0.540).abs() < 1e-9))
        .expect("the crest");
    assert!(high.assumed);
    // The branch leaves the engine and comes back to it.
    assert!(branch.from.is_some() && branch.to.is_some());
}

#[test]
fn what_lies_outside_lies_at_its_depth() {
    let Told { strip, .. } = of(DUNLIN, "after");
    let keel = strip
        .main
        .pieces
        .iter()
        .find(|piece| piece.key == "keel")
        .expect("the keel");
    assert_eq!(keel.form, PieceForm::Outside);
    let depths: Vec<f64> = keel.poly.iter().map(|(_, z)| *z).collect();
    assert_eq!(depths, [-0.230, -0.480, -0.480, -0.235]);
    // Four pipes in series, of which two readings stand: the middle of them.
    assert!((keel.length - 4.0 * 2.3775).abs() < 1e-9, "{}", keel.length);
}

#[test]
fn the_suction_side_runs_from_the_last_cooler_to_the_pump() {
    let Told { strip, .. } = of(DUNLIN, "after");
    // OK because a place at the end of a piece is a whole number.
    let from = strip.suction_from.expect("a suction side") as usize;
    assert_eq!(strip.main.pieces[from].key, "keel-aft");
    assert!(strip.main.pieces[from..].iter().all(|piece| piece.suction));
    assert!(strip.main.pieces[..from].iter().all(|piece| !piece.suction));
}

#[test]
fn the_line_starts_with_the_pumps_head_over_where_it_ends() {
    for text in [DUNLIN, TANSLEY, WENNA] {
        let Told { strip, flow, .. } = of(text, "after");
        let flow = flow.expect("a flow");
        for state in &strip.states {
            let first = state.line.first().copied().flatten().expect("a line");
            let last = state.line.last().copied().flatten().expect("a line");
            assert!((first - last - state.pump).abs() < 1e-9);
            // Total head never rises on the way.
            for (i, pair) in state.total.windows(2).enumerate() {
                if let (Some(a), Some(b)) = (pair[0], pair[1]) {
                    assert!(b <= a + 2e-3, "{} rises at {i}: {a} to {b}", state.key);
                }
            }
            // In the hose the line is as high as the flow's pressure there.
            let row = flow.row.states.iter().find(|row| row.key == state.key);
            let figures = row.and_then(|row| row.came.steady()).expect("figures");
            for own in &strip.main.stations {
                let place = figures.places.iter().find(|place| place.name == own.key);
                if let Some(place) = place {
                    let line = state.line[own.at as usize].expect("a line at a joint");
                    let over = (line - place.height) * state.weight;
                    assert!((over - place.open).abs() < 1.0, "{}: {over}", own.key);
                }
            }
        }
    }
}

#[test]
fn without_a_flow_there_is_a_strip_and_no_line() {
    let boat: Boat = boat::read(DUNLIN).0;
    let input = Input {
        boat: &boat,
        arrangement: None,
        seed: 1,
        set: Set::Prompt,
        flow: None,
        bay: None,
    };
    let answer = reckon(&input, &mut Memo::default());
    let strip = strip(&boat, None, &StripAsk::default(), &answer, None).expect("the file");
    assert!(strip.states.is_empty() && strip.leaks.is_empty());
    assert!(!strip.main.stations.is_empty());
}

#[test]
fn an_unknown_arrangement_has_no_strip_and_an_unknown_state_no_line() {
    let boat: Boat = boat::read(DUNLIN).0;
    let answer = Answer::default();
    let ask = StripAsk::default();
    assert!(strip(&boat, Some("winter"), &ask, &answer, None).is_none());
    let ask = StripAsk {
        state: Some("warp".into()),
        ..StripAsk::default()
    };
    assert!(told(DUNLIN, Some("after"), &ask).strip.states.is_empty());
}

#[test]
fn grades_are_the_worst_that_is_said_of_a_joint() {
    let Told { strip, answer, .. } = of(DUNLIN, "after");
    for own in &strip.main.stations {
        let row = answer
            .joints
            .iter()
            .find(|row| row.joint == own.key)
            .expect("a row");
        let said = answer
            .verdicts
            .iter()
            .filter(|said| said.subject == own.key);
        let worst = said.map(|said| said.grade).chain([row.grade]).max();
        assert_eq!(own.grade, worst, "{}", own.key);
        assert!(
            own.spoken.metric.starts_with(&own.mark),
            "{}",
            own.spoken.metric
        );
        let word = own.grade.expect("a grade").word();
        assert!(own.spoken.metric.contains(word), "{}", own.spoken.metric);
    }
    assert!(
        strip
            .main
            .stations
            .iter()
            .any(|own| own.grade == Some(Grade::Unsound))
    );
}

#[test]
fn which_way_it_leaks_is_said_where_the_sea_is() {
    let Told { strip, .. } = of(DUNLIN, "after");
    // The wet joints, the fittings and the cooler, in the order of the way.
    let keys: Vec<&str> = strip.leaks.iter().map(|leak| leak.key.as_str()).collect();
    assert_eq!(
        keys,
        ["hot.to", "keel-fwd", "keel", "keel-aft", "cold.from"]
    );
    let leak = |key: &str| strip.leaks.iter().find(|leak| leak.key == key).unwrap();
    // As deep as the keel pipes lie, so is it at the fittings; running, it lies between the two.
    assert_eq!(leak("keel").stopped, leak("keel-fwd").stopped);
    let running = |key: &str| leak(key).running.as_ref().unwrap().0;
    let (fwd, aft) = (running("keel-fwd"), running("keel-aft"));
    assert!((running("keel") - 0.5 * (fwd + aft)).abs() < 1e-6);
    // A joint leaks into the boat: filled to +660 mm, 890 mm of coolant stand over A4 at −230 mm, whatever the sea.
    let stands = leak("hot.to").stopped / strip.states[0].weight;
    assert!((stands - 0.890).abs() < 1e-9, "{stands}");
    for leak in &strip.leaks {
        assert_eq!(leak.stopped > 0.0, leak.stopped_text == "coolant out");
        let (over, words) = leak.running.as_ref().expect("a state");
        assert_eq!(*over > 0.0, words == "coolant out");
    }
    // Nothing of this circuit lies under water.
    assert!(of(WENNA, "after").strip.leaks.is_empty());
}

#[test]
fn the_header_is_on_its_make_up_line() {
    let Told { strip, .. } = of(DUNLIN, "after");
    let header = strip.header.expect("a header");
    // OK because a place is never under 0.
    let joins = header.joins.expect("a make-up line") as usize;
    assert_eq!(strip.main.pieces[joins].key, "suck.tee");
    assert_eq!(
        (header.foot, header.level, header.cap),
        (Some(0.6), Some(0.66), Some(0.76))
    );
    let header = of(WENNA, "after").strip.header.expect("a header");
    assert!(header.inside);
    assert_eq!(header.foot, None);
}

#[test]
fn spots_are_where_the_circuit_finds_them() {
    let Told { strip, answer, .. } = of(DUNLIN, "after");
    let way = &strip
        .branches
        .iter()
        .find(|own| own.key == "cal-out")
        .expect("a branch")
        .way;
    let low = way
        .signs
        .iter()
        .find(|sign| sign.kind == SignKind::Low)
        .expect("a low spot");
    assert_eq!(
        (low.key.as_str(), low.says.metric.as_str()),
        ("cal-back", "no drain")
    );
    let said = answer
        .verdicts
        .iter()
        .find(|said| said.id == "circuit.cal-back.drain");
    assert_eq!(low.grade, said.map(|said| said.grade));
    assert!(
        way.signs
            .iter()
            .any(|sign| sign.kind == SignKind::Bleed && sign.key == "bleed")
    );
    // The way goes by a shorter one than the run: its low end is not on it.
    let fallback = of(DUNLIN, "fallback").strip;
    let low = |sign: &&reckon::StripSign| sign.kind == SignKind::Low && sign.key == "hot";
    assert_eq!(fallback.main.signs.iter().find(low), None);
}

#[test]
fn every_row_has_a_cell_a_joint_in_both_systems() {
    for text in [DUNLIN, TANSLEY, WENNA] {
        let Told { strip, .. } = of(text, "after");
        let branches = strip.branches.iter().map(|branch| &branch.way);
        for way in [&strip.main].into_iter().chain(branches) {
            for band in &way.bands {
                assert_eq!(
                    band.cells.len(),
                    way.stations.len(),
                    "{}",
                    band.title.metric
                );
                for cell in &band.cells {
                    assert!(!cell.metric.is_empty() && !cell.imperial.is_empty());
                }
            }
        }
        for chapter in [
            Stage::Survey,
            Stage::Fit,
            Stage::Flow,
            Stage::Fill,
            Stage::Prove,
            Stage::Home,
        ] {
            assert!(
                strip.main.bands.iter().any(|band| band.chapter == chapter),
                "{chapter:?}"
            );
        }
    }
}

#[test]
fn each_joint_is_shut_by_the_valves_on_either_side_of_it() {
    let Told { strip, .. } = of(DUNLIN, "after");
    let row = strip
        .main
        .bands
        .iter()
        .find(|band| band.chapter == Stage::Home)
        .expect("a row");
    // All between the two fittings is shut off by them, inside the boat round the pump.
    assert!(row.cells.iter().all(|cell| {
        let words = cell.metric.as_str();
        words == "keel-fwd, keel-aft" || words == "keel-aft, keel-fwd"
    }));
}

/// The strip of a file with some values set, without its flow.
fn with(text: &str, sets: &[(&str, &str)], ask: &StripAsk) -> Strip {
    let mut text = text.to_owned();
    for (place, value) in sets {
        text = boat::set_value(&text, place, value).expect("a place");
    }
    let (boat, _, remarks) = boat::read(&text);
    assert!(remarks.is_empty(), "{remarks:?}");
    let input = Input {
        boat: &boat,
        arrangement: Some("before"),
        seed: 1,
        set: Set::Prompt,
        flow: None,
        bay: None,
    };
    let answer = reckon(&input, &mut Memo::default());
    strip(&boat, Some("before"), ask, &answer, None).expect("an arrangement")
}

/// Heights of a trace at joints, by their keys.
fn sea_at(strip: &Strip, trace: &Trace, joint: &str) -> Option<f64> {
    let own = strip.main.stations.iter().find(|own| own.key == joint);
    let at = own.expect("a joint").at;
    let points = trace.lines.iter().flatten();
    points
        .copied()
        .find(|(place, _)| *place == at)
        .map(|(_, z)| z)
}

/// Heeled to starboard, the sea stands y·tan(heel) over the still waterline at y to starboard; tan 10° = 0.17632698,
/// from memory.
#[test]
fn the_sea_rises_on_the_side_to_which_she_heels() {
    const TAN: f64 = 0.176_326_98;
    let ask = StripAsk {
        heel: vec![10.0, -10.0],
        ..StripAsk::default()
    };
    for (aside, y) in [
        ("\"200 mm to starboard\"", 0.2),
        ("\"200 mm to port\"", -0.2),
        ("\"0\"", 0.0),
    ] {
        let sets = [
            ("engine.aside", "\"on the centre line\""),
            ("things.exchanger.aside", aside),
        ];
        let strip = with(WENNA, &sets, &ask);
        let [starboard, port] = strip.traces.as_slice() else {
            panic!("two were asked for");
        };
        assert_eq!(
            (starboard.kind, port.kind),
            (TraceKind::Starboard, TraceKind::Port)
        );
        for (trace, sign) in [(starboard, 1.0), (port, -1.0)] {
            for joint in ["hot.to", "cool.from"] {
                let z = sea_at(&strip, trace, joint).expect("a point");
                assert!((z - sign * y * TAN).abs() < 1e-6, "{aside}: {joint} at {z}");
            }
            for joint in ["hot.from", "cool.to"] {
                let z = sea_at(&strip, trace, joint).expect("a point");
                assert!(z.abs() < 1e-12, "{aside}: {joint} at {z}");
            }
            assert_eq!((trace.lines.len(), trace.missing.as_deref()), (1, None));
        }
        let own = strip.main.stations.iter().find(|own| own.key == "hot.to");
        assert_eq!(own.and_then(|own| own.y), Some(y));
    }
}

#[test]
fn joints_that_were_dry_and_are_not_are_counted() {
    let ask = StripAsk {
        heel: vec![10.0, -10.0],
        ..StripAsk::default()
    };
    // At 35 mm the sea stands over 30 mm and under 40 mm.
    let sets = |height: &'static str| {
        [
            ("engine.aside", "\"on the centre line\""),
            ("things.exchanger.aside", "\"200 mm to starboard\""),
            ("things.exchanger.spigots.both.h", height),
        ]
    };
    let strip = with(WENNA, &sets("30"), &ask);
    assert_eq!(strip.traces[0].under, ["hot.to", "cool.from"]);
    assert_eq!(strip.traces[1].under, Vec::<String>::new());
    let says = |i: usize| strip.traces[i].says.as_str();
    assert!(says(0).starts_with("2 joints go under at 10° to starboard"));
    assert!(says(1).starts_with("No joint goes under at 10° to port"));
    // Of the raw water's joints nobody wrote how far aside they lie.
    let untold = strip.traces[0].untold;
    assert!(untold > 0 && says(0).ends_with(&format!("; {untold} unmeasured.")));
    let strip = with(WENNA, &sets("40"), &ask);
    assert_eq!(strip.traces[0].under, Vec::<String>::new());
    // What is wet already does not go under.
    let strip = with(WENNA, &sets("-10"), &ask);
    assert_eq!(strip.traces[0].under, Vec::<String>::new());
}

/// tan 2° = 0.03492077, from memory.
#[test]
fn by_the_head_the_sea_rises_ahead_of_amidships() {
    const TAN: f64 = 0.034_920_77;
    let ask = StripAsk {
        trim: vec![2.0, -2.0],
        ..StripAsk::default()
    };
    let sets = [
        ("engine.along", "\"0.4 m ahead of amidships\""),
        ("things.exchanger.along", "\"1.2 m abaft amidships\""),
    ];
    let strip = with(WENNA, &sets, &ask);
    let names: Vec<&str> = strip.traces.iter().map(|own| own.name.as_str()).collect();
    assert_eq!(names, ["2° by the head", "2° by the stern"]);
    for (trace, sign) in strip.traces.iter().zip([1.0, -1.0]) {
        for (joint, x) in [("hot.from", 0.4), ("hot.to", -1.2), ("cool.from", -1.2)] {
            let z = sea_at(&strip, trace, joint).expect("a point");
            assert!((z - sign * x * TAN).abs() < 1e-6, "{joint} at {z}");
        }
    }
}

#[test]
fn a_spigot_wins_over_its_thing_and_a_question_mark_is_no_place() {
    let ask = StripAsk {
        heel: vec![5.0],
        ..StripAsk::default()
    };
    let sets = |own: &'static str| {
        [
            ("engine.aside", "\"on the centre line\""),
            ("engine.spigots.out.aside", own),
            ("things.exchanger.aside", "\"0\""),
        ]
    };
    let y = |strip: &Strip, joint: &str| {
        let own = strip.main.stations.iter().find(|own| own.key == joint);
        own.expect("a joint").y
    };
    let strip = with(WENNA, &sets("\"90 to port\""), &ask);
    assert_eq!(
        (y(&strip, "hot.from"), y(&strip, "cool.to")),
        (Some(-0.09), Some(0.0))
    );
    let strip = with(WENNA, &sets("\"?\""), &ask);
    assert_eq!(
        (y(&strip, "hot.from"), y(&strip, "cool.to")),
        (None, Some(0.0))
    );
    assert_eq!(
        strip.traces[0].missing.as_deref(),
        Some("5° to starboard unmeasured in part: aside of A1.")
    );
}

#[test]
fn a_heel_that_is_not_told_everywhere_stops_and_says_where() {
    let ask = StripAsk {
        heel: vec![7.0, -7.5, 0.0],
        trim: vec![-2.0],
        ..StripAsk::default()
    };
    let Told { strip, .. } = told(DUNLIN, Some("after"), &ask);
    let names: Vec<&str> = strip
        .traces
        .iter()
        .map(|trace| trace.name.as_str())
        .collect();
    assert_eq!(
        names,
        ["7° to starboard", "7.5° to port", "2° by the stern"]
    );
    // Nobody taped the cooler on the gearbox; between it and its neighbours there is no line.
    let trace = &strip.traces[0];
    assert_eq!(
        trace.missing.as_deref(),
        Some("7° to starboard unmeasured in part: aside of B6 and C1.")
    );
    let reach = |stretch: &[(f64, f64)]| (stretch[0].0, stretch[stretch.len() - 1].0);
    let reaches: Vec<(f64, f64)> = trace.lines.iter().map(|line| reach(line)).collect();
    assert_eq!(reaches, [(0.0, 7.0), (16.0, 17.0)]);
    // A tee lies between the two ends of its run, by the distance along it: 420 of 1150 mm.
    let tee = strip.main.stations.iter().find(|own| own.mark == "A2");
    let y = tee.and_then(|own| own.y).expect("a place");
    assert!((y - (-0.065 + 0.375 * 420.0 / 1150.0)).abs() < 1e-9, "{y}");
    // Nothing is told along her.
    let trim = &strip.traces[2];
    assert!(trim.lines.is_empty() && trim.says.is_empty());
    let missing = trim.missing.as_deref().expect("what is missing");
    assert!(
        missing.starts_with("2° by the stern unmeasured: along of A1, A4 and"),
        "{missing}"
    );
}

#[test]
fn the_heel_to_reckon_with_is_that_of_hull_and_rig() {
    let heel = |text: &str| usual_heel(&boat::read(text).0, Some("after"));
    assert_eq!(heel(DUNLIN), [7.0, -7.0]);
    let sail = DUNLIN.replace("\"motor, one hull\"", "\"sail, one hull\"");
    assert_eq!(heel(&sail), [30.0, -30.0]);
    let cat = DUNLIN.replace("\"motor, one hull\"", "\"sail, two hulls\"");
    assert_eq!(heel(&cat), [7.0, -7.0]);
    // Where nothing lies anywhere across her, none is asked for.
    assert_eq!(heel(WENNA), Vec::<f64>::new());
    let unsaid = DUNLIN.replace("kind = \"motor, one hull\"\n", "");
    assert_eq!(heel(&unsaid), Vec::<f64>::new());
}

/// Behind a cooler whose way is not told all lies farther than what is told.
#[test]
fn a_distance_over_what_is_not_told_is_none_or_the_least() {
    let Told { strip, .. } = of(WENNA, "before");
    let band = strip.main.bands.iter().find(|band| band.distance);
    let cells = &band.expect("the distances").cells;
    let said = |key: &str| {
        let at = strip.main.stations.iter().position(|own| own.key == key);
        let at = at.unwrap_or_else(|| panic!("no {key}"));
        (cells[at].metric.as_str(), cells[at].imperial.as_str())
    };
    assert_eq!(said("hot.from").0, "0.00");
    // 640 mm; 640 / 304.8 = 2.10 ft.
    assert_eq!(said("hot.to"), ("0.64", "2.10"));
    assert_eq!(said("cool.from"), ("over 0.64", "over 2.10"));
}

/// The hottest state of this boat passes alarm and boiling: a line alone does not say so.
#[test]
fn a_state_over_the_alarm_says_so_in_words() {
    let ask = StripAsk {
        state: Some("flat-out".into()),
        ..StripAsk::default()
    };
    let mut seen = 0;
    for (text, ask) in [
        (WENNA, &ask),
        (WENNA, &StripAsk::default()),
        (DUNLIN, &StripAsk::default()),
    ] {
        let Told { strip, .. } = told(text, Some("before"), ask);
        for state in &strip.states {
            let warm = state.temperature.iter().flatten();
            let over = strip
                .alarm
                .is_some_and(|alarm| warm.clone().any(|t| *t > alarm));
            let boils = state
                .temperature
                .iter()
                .zip(&state.boils)
                .any(|(t, boils)| t.zip(*boils).is_some_and(|(t, boils)| t > boils));
            let says = &state.too_hot.metric;
            assert_eq!(
                says.contains("over the alarm"),
                over,
                "{}: {says}",
                state.key
            );
            assert_eq!(
                says.contains("boils with the cap open"),
                boils,
                "{}: {says}",
                state.key
            );
            assert!(
                says.is_empty() || says.starts_with(&state.warm[1].metric),
                "{says}"
            );
            seen += usize::from(over && boils);
        }
    }
    assert!(seen > 0, "no state is too hot");
}
