//! The strip's rows for filling and proving, its boil line, and the planes of the header when she heels.

use boat::Boat;
use reckon::{
    Answer, Band, Flow, Input, Memo, Set, Stage, Strip, StripAsk, Way, flow, reckon, strip,
};

const DUNLIN: &str = include_str!("../../../../boats/dunlin/boat.toml");
const WENNA: &str = include_str!("../../../../boats/wenna/boat.toml");

/// A boat file with some values set.
fn set(text: &str, sets: &[(&str, &str)]) -> String {
    let mut text = text.to_owned();
    for (place, value) in sets {
        text = boat::set_value(&text, place, value).expect("a place");
    }
    text
}

fn told(text: &str, arrangement: &str, ask: &StripAsk, with_flow: bool) -> (Strip, Option<Flow>) {
    let boat: Boat = boat::read(text).0;
    let input = Input {
        boat: &boat,
        arrangement: Some(arrangement),
        seed: 1,
        set: Set::Prompt,
        flow: None,
        bay: None,
    };
    let answer: Answer = reckon(&input, &mut Memo::default());
    let flow = with_flow.then(|| flow(&boat, Some(arrangement))).flatten();
    let strip = strip(&boat, Some(arrangement), ask, &answer, flow.as_ref());
    (strip.expect("an arrangement"), flow)
}

fn still(text: &str, arrangement: &str) -> Strip {
    told(text, arrangement, &StripAsk::default(), false).0
}

fn row<'w>(way: &'w Way, chapter: Stage, title: &str) -> &'w Band {
    let mut bands = way.bands.iter();
    let own = bands.find(|band| band.chapter == chapter && band.title.metric == title);
    own.unwrap_or_else(|| panic!("no row {title}"))
}

/// The cells of a row that say anything.
fn said(band: &Band) -> Vec<&str> {
    let cells = band.cells.iter().map(|cell| cell.metric.as_str());
    cells.filter(|cell| *cell != "–").collect()
}

fn branch<'s>(strip: &'s Strip, key: &str) -> &'s Way {
    let own = strip.branches.iter().find(|own| own.key == key);
    &own.unwrap_or_else(|| panic!("no branch {key}")).way
}

fn cell<'w>(way: &'w Way, band: &'w Band, joint: &str) -> &'w reckon::Words {
    let at = way.stations.iter().position(|own| own.key == joint);
    &band.cells[at.unwrap_or_else(|| panic!("no joint {joint}"))]
}

/// Another bleed beside that of the boat, at a height.
fn second_bleed(height: &str) -> String {
    let own = "add.bleed = {";
    let other =
        format!("add.other = {{ kind = \"bleed\", in = \"cal-back\", h = {height} }}\n{own}");
    assert_eq!(DUNLIN.matches(own).count(), 1);
    DUNLIN.replace(own, &other)
}

#[test]
fn bleeds_are_shut_from_the_lowest_up() {
    let order = |text: &str| {
        let strip = still(text, "after");
        let band = row(branch(&strip, "cal-out"), Stage::Fill, "bleed order").clone();
        assert!(band.from.metric.contains("Common practice, no source"));
        said(&band)
            .into_iter()
            .map(str::to_owned)
            .collect::<Vec<_>>()
    };
    assert_eq!(order(DUNLIN), ["1. bleed"]);
    // The first of them along the way stands at +545 mm.
    assert_eq!(order(&second_bleed("300")), ["2. bleed", "1. other"]);
    assert_eq!(order(&second_bleed("700")), ["1. bleed", "2. other"]);
    // Where nobody knows how high one sits, it has no number; the other keeps its own.
    assert_eq!(
        order(&second_bleed("\"?\"")),
        ["1. bleed", "other: unmeasured"]
    );
}

#[test]
fn what_stays_in_a_low_spot_is_at_most_what_stays_in_all() {
    let stays = |text: &str| {
        let strip = still(text, "after");
        let band = row(branch(&strip, "cal-out"), Stage::Fill, "stays").clone();
        (
            said(&band)
                .into_iter()
                .map(str::to_owned)
                .collect::<Vec<_>>(),
            band.from.metric,
        )
    };
    // Nobody metered her yet.
    let (cells, from) = stays(DUNLIN);
    assert_eq!(cells, ["unmeasured"]);
    assert!(from.contains("meter what runs out"), "{from}");
    // 21 L less 18 L.
    let metered = set(
        DUNLIN,
        &[
            ("coolant.volume", "\"21 L\""),
            ("coolant.drained", "\"18 L\""),
        ],
    );
    let (cells, _) = stays(&metered);
    let [cell] = cells.as_slice() else {
        panic!("{cells:?}");
    };
    assert!(
        cell.starts_with("at most 3") && cell.ends_with(" L"),
        "{cell}"
    );
}

/// What lies outside stays full of what its sizes hold.
#[test]
fn keel_pipes_stay_full_of_what_they_hold() {
    let (strip, flow) = told(DUNLIN, "after", &StripAsk::default(), true);
    let flow = flow.expect("a flow");
    let parts = &flow.row.volume.as_ref().expect("volumes").parts;
    let (_, holds, _) = parts
        .iter()
        .find(|(name, _, _)| name == "keel")
        .expect("the keel");
    let cells = said(row(&strip.main, Stage::Fill, "stays"));
    let full = cells.iter().find_map(|cell| cell.strip_prefix("full, "));
    let litres = full.and_then(|full| full.strip_suffix(" L"));
    let litres: f64 = litres.expect("litres").parse().expect("a number");
    assert!((litres - 1e3 * holds).abs() < 0.1, "{litres} for {holds}");
    // Without the flow nobody reckoned what it holds.
    let strip = still(DUNLIN, "after");
    let cells = said(row(&strip.main, Stage::Fill, "stays"));
    assert!(cells.contains(&"full, unmeasured"), "{cells:?}");
}

/// A cap of 10 psi, 68.948 kPa, over coolant at +660 mm: 890 mm of coolant more at −230 mm.
#[test]
fn on_test_stands_the_cap_and_the_coolant_over_the_joint() {
    let (strip, _) = told(DUNLIN, "after", &StripAsk::default(), true);
    let band = row(&strip.main, Stage::Prove, "on test, kPa");
    let pascals = 68_947.6 + 0.890 * strip.states[0].weight;
    let own = cell(&strip.main, band, "hot.to");
    let kpa: f64 = own.metric.parse().expect("a number");
    let psi: f64 = own.imperial.parse().expect("a number");
    assert!((kpa - pascals / 1e3).abs() <= 0.5, "{kpa}");
    assert!((psi - pascals / 6894.757).abs() <= 0.1, "{psi}");
    assert!(band.from.metric.contains("nobody has put her on test"));
    // Nobody measured how high the tee lies.
    assert_eq!(cell(&strip.main, band, "hot.tee.a").metric, "unmeasured");
    // Raw water is under no cap.
    for own in strip
        .branches
        .iter()
        .filter(|own| own.carries == "raw water")
    {
        assert_eq!(said(row(&own.way, Stage::Prove, "on test, kPa")).len(), 0);
    }
}

#[test]
fn a_cap_that_nobody_read_leaves_the_test_unmeasured_and_says_so() {
    let strip = still(&set(DUNLIN, &[("things.header.cap", "\"?\"")]), "after");
    let band = row(&strip.main, Stage::Prove, "on test, kPa");
    assert!(band.cells.iter().all(|cell| cell.metric == "unmeasured"));
    let from = &band.from.metric;
    assert!(
        from.starts_with("unmeasured: the pressure of the cap"),
        "{from}"
    );
    assert!(from.contains("stamped on the pressure cap"), "{from}");
}

#[test]
fn each_joint_has_a_valve_on_each_side_open_or_shut() {
    let strip = still(DUNLIN, "after");
    let band = row(&strip.main, Stage::Prove, "valve each side");
    let own = |joint: &str| cell(&strip.main, band, joint).metric.as_str();
    assert_eq!(own("hot.from"), "keel-aft open, keel-fwd open");
    // With the keel shut off, its valves are no part of the loop.
    let strip = still(DUNLIN, "fallback");
    let band = row(&strip.main, Stage::Prove, "valve each side");
    let cells = band.cells.iter().map(|cell| cell.metric.as_str());
    assert!(cells.clone().all(|cell| !cell.contains("keel")));
}

/// At the pump the gap between grade line and boil line is what the flow reckons by itself: absolute pressure at the
/// inlet over that of the vapour.
#[test]
fn the_boil_line_lies_under_the_grade_line_by_what_is_left_at_the_inlet() {
    for text in [DUNLIN, WENNA] {
        let (strip, _) = told(text, "after", &StripAsk::default(), true);
        let from = strip.suction_from.expect("a suction side");
        for state in &strip.states {
            let (at, boils) = state.boil.last().expect("a boil line");
            // OK because a way has few pieces.
            assert_eq!(*at, strip.main.pieces.len() as f64);
            let line = state.line.last().copied().flatten().expect("a line");
            let over = state.over_boiling.expect("a margin");
            assert!(
                (line - boils - over).abs() < 0.05,
                "{}: {} for {over}",
                state.key,
                line - boils
            );
            assert!(state.boil.iter().all(|(at, _)| *at >= from));
            // The least gap is told, and it is no greater than that at the pump.
            let (_, gap) = state.margin.expect("a margin");
            assert!(gap <= line - boils + 1e-9, "{}: {gap}", state.key);
            let says = &state.margin_text;
            let metres = says.metric.strip_prefix("suction side boils ");
            let metres = metres.and_then(|rest| rest.split_once(" m, "));
            let metres: f64 = metres.expect("metres").0.parse().expect("a number");
            assert!((metres - gap.abs()).abs() <= 0.051, "{metres} for {gap}");
            let side = if gap < 0.0 { "over" } else { "under" };
            assert!(
                says.metric
                    .ends_with(&format!(" kPa, {side} the grade line"))
            );
            assert!(says.imperial.contains(" psi, "), "{}", says.imperial);
        }
    }
}

/// Heights of a line at a joint.
fn stands(strip: &Strip, lines: &[Vec<(f64, f64)>], joint: &str) -> f64 {
    let own = strip.main.stations.iter().find(|own| own.key == joint);
    let at = own.expect("a joint").at;
    let mut points = lines.iter().flatten();
    points.find(|(place, _)| *place == at).expect("a point").1
}

/// tan 10° = 0.17632698, from memory.
#[test]
fn the_planes_of_the_header_tilt_about_the_tank() {
    const TAN: f64 = 0.176_326_98;
    let ask = StripAsk {
        heel: vec![10.0, -10.0],
        ..StripAsk::default()
    };
    // Her header is part of the engine, whose place is its own.
    let sets = [
        ("engine.aside", "\"100 mm to port\""),
        ("things.exchanger.aside", "\"200 mm to starboard\""),
    ];
    let (strip, _) = told(&set(WENNA, &sets), "before", &ask, false);
    for (trace, sign) in strip.traces.iter().zip([1.0, -1.0]) {
        let header = trace.header.as_ref().expect("a header");
        assert_eq!(header.missing, None);
        for (lines, base) in [(&header.cap, 0.590), (&header.level, 0.540)] {
            for (joint, off) in [("hot.from", 0.0), ("hot.to", 0.3), ("cool.from", 0.3)] {
                let z = stands(&strip, lines, joint);
                let wanted = base + sign * off * TAN;
                assert!((z - wanted).abs() < 1e-6, "{joint}: {z} for {wanted}");
            }
        }
    }
}

#[test]
fn a_header_of_which_nobody_knows_how_far_aside_it_is_has_no_trace() {
    let ask = StripAsk {
        heel: vec![7.0],
        trim: vec![2.0],
        ..StripAsk::default()
    };
    let (strip, _) = told(DUNLIN, "after", &ask, false);
    let missing: Vec<Option<&str>> = strip
        .traces
        .iter()
        .map(|trace| trace.header.as_ref().and_then(|own| own.missing.as_deref()))
        .collect();
    assert_eq!(missing, [Some("aside of header"), Some("along of header")]);
    for trace in &strip.traces {
        let header = trace.header.as_ref().expect("a header");
        assert!(header.cap.is_empty() && header.level.is_empty());
    }
    // The sea itself is told in part.
    assert!(!strip.traces[0].lines.is_empty());
    let placed = set(DUNLIN, &[("things.header.aside", "\"400 mm to port\"")]);
    let (strip, _) = told(&placed, "after", &ask, false);
    let header = strip.traces[0].header.as_ref().expect("a header");
    assert_eq!(header.missing, None);
    // It stops where the trace of the sea does.
    let reach = |lines: &[Vec<(f64, f64)>]| -> Vec<(f64, f64)> {
        let ends = lines.iter().map(|line| (line[0].0, line[line.len() - 1].0));
        ends.collect()
    };
    assert_eq!(reach(&header.cap), reach(&strip.traces[0].lines));
    // 65 mm to port, so 335 mm to starboard of the tank.
    let z = stands(&strip, &header.cap, "hot.from");
    let wanted = 0.760 + 0.335 * 7_f64.to_radians().tan();
    assert!((z - wanted).abs() < 1e-9, "{z}");
}
