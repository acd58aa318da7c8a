//! The raw-water side: pressures from the sea to the exhaust, by hand from the heights and what each part takes;
//! what breaks a siphon; and cabin heaters that are on.

use std::f64::consts::PI;

use reckon::stages::flow::{Came, Figures, FlowRow, ItemRow, RawRow};
use reckon::{Answer, Grade, Set, Verdict};

use crate::boats::{Change, answer, edited, read, verdict};

const WENNA: &str = include_str!("../../../../boats/wenna/boat.toml");

/// Sea water of 35 g/kg at 18 °C [kg/m³]. Source: TEOS-10 as in `crates/reference/validation`, to 0.1 %.
const SEA: f64 = 1025.5;
/// Source: standard gravity.
const G: f64 = 9.80665;

fn flow(changes: &[Change]) -> FlowRow {
    let boat = read(&edited(WENNA, changes));
    reckon::flow(&boat, Some("after"))
        .expect("it has the arrangement")
        .row
}

fn figures<'a>(row: &'a FlowRow, state: &str) -> &'a Figures {
    let own = row.states.iter().find(|own| own.key == state);
    match &own.expect("it has the state").came {
        Came::Steady(figures) => figures,
        other => panic!("{other:?}"),
    }
}

fn side(figures: &Figures) -> &RawRow {
    figures.raw.as_ref().expect("raw water runs")
}

fn pressure(raw: &RawRow, place: &str) -> f64 {
    let found = raw.places.iter().find(|own| own.name == place);
    found.expect("a joint").pressure.expect("a pressure")
}

fn drop_of(figures: &Figures, subject: &str) -> f64 {
    let is = |item: &&ItemRow| item.raw && item.subject == subject;
    let found = figures.items.iter().find(is);
    found
        .unwrap_or_else(|| panic!("{subject} takes nothing"))
        .drop
}

/// Pressure of a stream at rest against its wall: what height and speed leave of the head.
fn by_hand(head: f64, height: f64, flow: f64, bore: f64) -> f64 {
    let speed = flow / (PI / 4.0 * bore * bore);
    head - SEA * (G * height + 0.5 * speed * speed)
}

#[track_caller]
fn close(ours: f64, by_hand: f64) {
    assert!(
        (ours - by_hand).abs() < 30.0,
        "{ours} Pa, by hand {by_hand} Pa"
    );
}

#[test]
fn pressures_ahead_of_the_pump_fall_from_the_seas_and_behind_it_rise_from_the_jets() {
    let row = flow(&[]);
    let figures = figures(&row, "steaming");
    let raw = side(figures);
    // 52 L/min by the bucket, all of it in hoses of 25 mm.
    let q = 52e-3 / 60.0;
    assert!((raw.flow - q).abs() < 1e-9);
    let taken = |parts: &[&str]| -> f64 { parts.iter().map(|part| drop_of(figures, part)).sum() };
    let ahead = ["sea-in", "sea.hose", "strainer", "draw.hose"];
    close(
        pressure(raw, "sea.from"),
        by_hand(-taken(&ahead[..1]), -0.310, q, 0.025),
    );
    close(
        pressure(raw, "draw.to"),
        by_hand(-taken(&ahead), 0.130, q, 0.025),
    );
    assert_eq!(raw.inlet, Some(pressure(raw, "draw.to")));
    let last = pressure(raw, "spray.to");
    close(last, 0.0);
    let speed = q / (PI / 4.0 * 0.025_f64.powi(2));
    let jet = SEA * (G * 0.310 + 0.5 * speed * speed);
    let behind = [
        "push.hose",
        "push.joiner",
        "push.elbow",
        "gearbox",
        "oil-raw.hose",
        "exchanger",
        "spray.hose",
    ];
    close(
        pressure(raw, "push.from"),
        by_hand(jet + taken(&behind), 0.130, q, 0.025),
    );
    assert_eq!(raw.outlet, Some(pressure(raw, "push.from")));
    assert!(raw.missing.is_empty());
}

#[test]
fn another_line_of_raw_water_is_not_taken_for_the_exchangers() {
    // A deck wash with an inlet of its own, written first of all runs and pumps.
    let wash = WENNA
        .replace(
            "[things.exchanger]",
            "[things.awash]\nkind = \"raw-water pump\"\ngives = \"20 L/min\"\nspigots.out = { od = 19.1, h = 200 }\n\n[things.tap]\nkind = \"strainer\"\nspigots.both = { od = 19.1, h = 900 }\n\n[things.exchanger]",
        )
        .replace(
            "hot = { from",
            "deck = { from = \"awash.out\", to = \"tap.a\", carries = \"raw water\", length = 900, way = \"hose 19 wired\" }\nhot = { from",
        );
    let row = reckon::flow(&read(&wash), Some("after"))
        .expect("the arrangement")
        .row;
    let (own, plain) = (figures(&row, "flat-out"), flow(&[]));
    let plain = figures(&plain, "flat-out");
    assert_eq!(side(own).pump.as_deref(), Some("rawpump"));
    // The letters of the marks have moved on, and with them the titles.
    let told = |figures: &Figures| -> Vec<(String, i64)> {
        let places = side(figures).places.iter();
        let whole = |p: f64| (p * 1000.0).round() as i64;
        places
            .map(|own| (own.name.clone(), whole(own.pressure.expect("a pressure"))))
            .collect()
    };
    assert_eq!(told(own), told(plain));
}

#[test]
fn a_narrow_jet_stands_against_the_pump() {
    let (wide, narrow) = (flow(&[]), flow(&[("engine.nozzle", "12")]));
    let outlet = |row| side(figures(row, "steaming")).outlet.expect("an outlet");
    let q = 52e-3 / 60.0;
    let head = |bore: f64| 0.5 * SEA * (q / (PI / 4.0 * bore * bore)).powi(2);
    close(outlet(&narrow) - outlet(&wide), head(0.012) - head(0.025));
}

#[test]
fn what_is_not_written_leaves_the_rest_of_the_way_without_a_pressure() {
    let row = flow(&[
        ("things.exchanger.tubes", "{}"),
        ("things.exchanger.ua", "\"900 W/K\""),
    ]);
    let raw = side(figures(&row, "steaming"));
    assert!(raw.inlet.is_some() && raw.outlet.is_none());
    assert_eq!(raw.missing.len(), 1);
    assert_eq!(raw.missing[0].settles.place, "things.exchanger.raw_drop");
    let told = flow(&[
        ("things.exchanger.tubes", "{}"),
        ("things.exchanger.ua", "\"900 W/K\""),
        ("things.exchanger.raw_drop", "\"10 kPa @ 52 L/min\""),
    ]);
    let figures = figures(&told, "steaming");
    // What is written is meant in her own raw water.
    close(drop_of(figures, "exchanger"), 10e3);
    assert!(side(figures).outlet.is_some());
}

#[test]
fn ribs_of_wire_take_twice_to_four_times_as_much() {
    let (smooth, ribbed) = (
        flow(&[]),
        flow(&[("runs.sea.way", "\"hose 25 wired ribbed\"")]),
    );
    let drop = |row| drop_of(figures(row, "steaming"), "sea.hose");
    let ratio = drop(&ribbed) / drop(&smooth);
    // Its bend takes no more than before.
    assert!((2.0..3.0).contains(&ratio), "{ratio}");
}

#[test]
fn a_by_pass_whose_bore_is_written_is_no_longer_assumed() {
    let assumed = |row: &FlowRow| {
        let mut all = row.assumed.iter();
        all.any(|own| own.place.ends_with("bypass_bore"))
    };
    let (guessed, told) = (flow(&[]), flow(&[("engine.stat.bypass_bore", "9")]));
    assert!(assumed(&guessed) && !assumed(&told));
    let past = |row| {
        let items = &figures(row, "steaming").items;
        let own = items.iter().find(|item| item.subject == "engine.bypass");
        own.expect("a by-pass").flow
    };
    assert!(past(&told) < past(&guessed));
}

fn judged(changes: &[Change]) -> Answer {
    answer(&read(&edited(WENNA, changes)), Set::Prompt)
}

#[test]
fn low_in_the_exhaust_a_siphon_must_be_broken() {
    let id = "circuit.engine.spray.siphon";
    let low = ("engine.spigots.spray.h", "100");
    let high = |h: &'static str| {
        [
            low,
            ("runs.spray.to", "\"top.a\""),
            ("things.top", h),
            (
                "runs.down",
                "{ from = \"top.b\", to = \"engine.spray\", carries = \"raw water\", length = 700, way = \"hose 25 epdm\" }",
            ),
        ]
    };
    let grade = |changes: &[Change]| verdict(&judged(changes), id).grade;
    assert_eq!(grade(&[]), Grade::Sound);
    assert_eq!(grade(&[low]), Grade::Unsound);
    let break_at = "{ kind = \"siphon break\", spigots.both = { od = 25.4, h = 520 } }";
    assert_eq!(grade(&high(break_at)), Grade::Sound);
    let lower = "{ kind = \"siphon break\", spigots.both = { od = 25.4, h = 250 } }";
    assert_eq!(grade(&high(lower)), Grade::Marginal);
    let unknown = "{ kind = \"siphon break\", spigots.both = { od = 25.4 } }";
    assert_eq!(grade(&high(unknown)), Grade::Unmeasured);
}

#[test]
fn a_cabin_heater_that_is_on_takes_heat_and_one_that_is_off_takes_none() {
    let on = ("states.steaming.heaters", "true");
    let ua = ("things.heater.ua", "\"60 W/K\"");
    let heater = |row: &FlowRow| {
        let coolers = &figures(row, "steaming").coolers;
        coolers.iter().find(|own| own.subject == "heater").cloned()
    };
    assert!(heater(&flow(&[ua])).is_none());
    let row = flow(&[on, ua]);
    let own = heater(&row).expect("it takes heat");
    // UA between the water, cooled along the coil, and air of 15 °C: m c (1 − e^(−UA/mc)) (t − 15).
    let figures_on = figures(&row, "steaming");
    let item = figures_on
        .items
        .iter()
        .find(|item| item.subject == "heater");
    let stream = item.expect("a heater").flow * 1030.0 * 3600.0;
    let by_hand = stream * -(-60.0 / stream).exp_m1() * (own.temperatures[0] - 15.0);
    assert!(
        (own.heat / by_hand - 1.0).abs() < 0.02,
        "{} W, by hand {by_hand} W",
        own.heat
    );
    let shed: f64 = figures_on.coolers.iter().map(|own| own.heat).sum();
    let off = flow(&[ua]);
    let all: f64 = figures(&off, "steaming")
        .coolers
        .iter()
        .map(|own| own.heat)
        .sum();
    assert!(
        (shed / all - 1.0).abs() < 1e-3,
        "the heat is the engine's: {shed} and {all} W"
    );
    // Without its UA the state waits.
    let row = flow(&[on]);
    let state = row.states.iter().find(|own| own.key == "steaming");
    let Came::Unmeasured(missing) = &state.expect("the state").came else {
        panic!("what the heater takes is not written");
    };
    assert_eq!(missing.settles.place, "things.heater.ua");
}

#[test]
fn without_cooling_she_has_as_long_as_her_coolant_takes_to_warm() {
    let row = flow(&[]);
    let volume = row
        .volume
        .as_ref()
        .and_then(|volume| volume.whole)
        .expect("a volume");
    let state = row
        .states
        .iter()
        .find(|own| own.key == "steaming")
        .expect("the state");
    let own = figures(&row, "steaming");
    let alarm = own
        .uncooled
        .expect("a volume is told")
        .alarm
        .expect("an alarm");
    // m c ΔT = Q t, by hand: half glycol weighs some 1030 kg/m³ and holds some 3600 J/(kg K) hot.
    let by_hand = volume * 1030.0 * 3600.0 * (101.0 - own.out.high) / state.heat.high;
    assert!(
        (alarm / by_hand - 1.0).abs() < 0.05,
        "{alarm} s, by hand {by_hand} s"
    );
}

/// The verdicts about one state alone.
fn alone(changes: &[Change], state: &str) -> Vec<Verdict> {
    let boat = read(&edited(WENNA, changes));
    let mut flow = reckon::flow(&boat, Some("after")).expect("it has the arrangement");
    flow.narrow(&boat, |own| own.key == state);
    assert!(flow.row.states.iter().all(|own| own.key == state));
    flow.verdicts
}

fn of<'a>(verdicts: &'a [Verdict], id: &str) -> &'a Verdict {
    let found = verdicts.iter().find(|said| said.id == id);
    found.unwrap_or_else(|| panic!("no {id}"))
}

#[test]
fn a_state_alone_is_judged_with_its_suction_and_its_speeds() {
    let fast = alone(&[("states.steaming.raw", "\"200 L/min\"")], "steaming");
    let suction = of(&fast, "flow.rawpump.raw-suction");
    assert_eq!(suction.grade, Grade::Unsound);
    assert!(suction.because.metric.starts_with("In steaming"));
    // 200 L/min in 25 mm: 3.333e-3 over 4.909e-4 m².
    let speed = of(&fast, "flow.push.joiner.speed");
    assert_eq!(speed.grade, Grade::Unsound);
    assert!(
        speed.because.metric.contains("6.79 m/s"),
        "{}",
        speed.because.metric
    );
    // The worse state does not hide this one: flat-out is left out.
    let narrow = [
        ("runs.draw.way", "\"hose 19 wired\""),
        ("runs.draw.length", "\"5 m\""),
    ];
    let suction = alone(&narrow, "steaming");
    let suction = of(&suction, "flow.rawpump.raw-suction");
    assert_eq!(suction.grade, Grade::Unsound);
    assert!(suction.because.metric.starts_with("In steaming"));
    let sound = alone(&[], "steaming");
    assert_eq!(of(&sound, "flow.rawpump.raw-suction").grade, Grade::Sound);
    assert!(
        sound
            .iter()
            .all(|said| !said.because.metric.contains("flat-out"))
    );
}

#[test]
fn a_bucket_is_held_against_the_pump() {
    let id = "flow.rawpump.bucket";
    let plain = judged(&[]);
    assert!(plain.verdicts.iter().all(|said| said.id != id));
    let small = judged(&[("things.rawpump.gives", "\"40 L/min @ 2800 rpm\"")]);
    let said = verdict(&small, id);
    assert_eq!(said.grade, Grade::Marginal);
    // 40 × 2200 ÷ 2800 = 31.4 L/min; 52 is 65 % more.
    assert!(
        said.because.metric.contains("65 % more than it can"),
        "{}",
        said.because.metric
    );
}

#[test]
fn a_shut_sea_cock_is_named_with_the_time_that_is_left() {
    let shut = ("arrangements.after.shut", "[\"sea-in.valve\"]");
    let (open, row) = (flow(&[]), flow(&[shut]));
    let state = row.states.iter().find(|own| own.key == "steaming");
    let state = state.expect("it has the state");
    let Came::NoSteadyState(why) = &state.came else {
        panic!("nothing cools it");
    };
    assert!(
        why.starts_with("sea-in.valve is shut: no raw water"),
        "{why}"
    );
    let dry = state.dry.as_ref().expect("no raw water comes");
    assert_eq!(dry.shut, ["sea-in.valve"]);
    assert!(dry.exhaust);
    // It begins where she runs with the valve open, and has as long as she has then.
    let had = figures(&open, "steaming")
        .uncooled
        .expect("a volume is told");
    let has = dry.uncooled.expect("a volume is told");
    for (has, had) in [(has.alarm, had.alarm), (has.boils, had.boils)] {
        let (has, had) = (has.expect("a time"), had.expect("a time"));
        assert!((has - had).abs() < 0.05 * had, "{has} s and {had} s");
    }
    let judged = judged(&[shut]);
    let heat = verdict(&judged, "flow.steaming.heat");
    assert!(heat.because.metric.contains("Sea-in.valve is shut"));
    assert!(
        heat.caution
            .as_ref()
            .expect("a caution")
            .contains("exhaust")
    );
    let water = verdict(&judged, "circuit.gearbox.water");
    assert_eq!(
        water.because.metric,
        "Nothing runs through gearbox: sea-in.valve is shut."
    );
    assert!(water.remedy.metric.starts_with("Open sea-in.valve"));
    assert!(
        water
            .caution
            .as_ref()
            .expect("a caution")
            .contains("exhaust")
    );
    let sink = verdict(&judged, "circuit.after.sink");
    assert!(sink.because.metric.contains("while sea-in.valve is shut"));
    // Without a valve to blame it is the figure of the state.
    let row = flow(&[("states.steaming.raw", "\"0 L/min\"")]);
    let state = row.states.iter().find(|own| own.key == "steaming");
    let dry = state.and_then(|own| own.dry.as_ref()).expect("none runs");
    assert_eq!(
        (dry.place.as_str(), dry.shut.len()),
        ("states.steaming.raw", 0)
    );
    assert!(dry.uncooled.is_some());
    assert!(open.states.iter().all(|own| own.dry.is_none()));
}

#[test]
fn a_bronze_joiner_is_no_brass_and_its_caution_is_that_of_the_sea() {
    let judged = judged(&[]);
    let said = verdict(&judged, "flow.push.joiner.speed");
    assert_eq!(said.grade, Grade::Marginal);
    assert!(said.because.metric.contains("bronze, its grade not told"));
    assert!(said.caution.as_ref().expect("a caution").contains("sea"));
    let brass = judged_with_brass();
    assert_eq!(
        verdict(&brass, "flow.push.joiner.speed").grade,
        Grade::Unsound
    );
}

fn judged_with_brass() -> Answer {
    let brass = WENNA.replace("joiner 25 bronze 80 long", "joiner 25 brass 80 long");
    assert_ne!(brass, WENNA);
    answer(&read(&brass), Set::Prompt)
}

#[test]
fn a_typical_loss_goes_by_the_bore_and_not_by_the_plate_of_the_pump() {
    let halved = [("things.rawpump.gives", "\"37.5 L/min @ 2800 rpm\"")];
    let (plain, half) = (flow(&[]), flow(&halved));
    for (part, typical) in [("strainer", 1e3), ("gearbox", 4e3)] {
        // 2.5 m/s in 25 mm are 73.6 L/min; by the square of the flow, at 52 L/min.
        let by_hand = typical * (52.0_f64 / 73.63).powi(2);
        for row in [&plain, &half] {
            close(drop_of(figures(row, "steaming"), part), by_hand);
        }
    }
}

#[test]
fn a_loss_that_is_written_comes_back_as_it_is_written() {
    let row = flow(&[("things.strainer.drop", "\"8 kPa @ 52 L/min\"")]);
    close(drop_of(figures(&row, "steaming"), "strainer"), 8e3);
}

#[test]
fn a_siphon_break_lets_air_in_and_the_pump_lifts_the_water_to_it() {
    let row = flow(&[
        ("engine.spigots.spray.h", "-50"),
        ("runs.spray.to", "\"top.a\""),
        (
            "things.top",
            "{ kind = \"siphon break\", spigots.both = { od = 25.4, h = 600 } }",
        ),
        (
            "runs.down",
            "{ from = \"top.b\", to = \"engine.spray\", carries = \"raw water\", length = 700, way = \"hose 25 epdm\" }",
        ),
    ]);
    let own = figures(&row, "steaming");
    let raw = side(own);
    let q = 52e-3 / 60.0;
    close(pressure(raw, "down.from"), 0.0);
    close(pressure(raw, "spray.to"), drop_of(own, "top"));
    assert!(
        raw.places
            .iter()
            .filter(|at| !at.suction)
            .all(|at| at.pressure >= Some(0.0))
    );
    // The water has to come up to the break, whatever falls behind it.
    let speed = q / (PI / 4.0 * 0.025_f64.powi(2));
    let top = SEA * (G * 0.600 + 0.5 * speed * speed);
    let parts = [
        "push.hose",
        "push.joiner",
        "push.elbow",
        "gearbox",
        "oil-raw.hose",
        "exchanger",
        "spray.hose",
        "top",
    ];
    let taken: f64 = parts.iter().map(|part| drop_of(own, part)).sum();
    close(
        pressure(raw, "push.from"),
        by_hand(top + taken, 0.130, q, 0.025),
    );
    assert_eq!(raw.outlet, Some(pressure(raw, "push.from")));
    let said = row
        .notes
        .iter()
        .filter(|note| note.metric.contains("siphon break top lets air in"));
    assert_eq!(said.count(), 1);
}

#[test]
fn an_inlet_over_the_waterline_is_told_by_circuit_and_flow() {
    let high = [("things.sea-in.h", "200")];
    let row = flow(&high);
    let raw = side(figures(&row, "steaming"));
    assert!(raw.inlet.is_none() && raw.outlet.is_some());
    assert!(
        raw.places
            .iter()
            .filter(|at| at.suction)
            .all(|at| at.pressure.is_none())
    );
    let judged = judged(&high);
    for id in ["flow.rawpump.raw-suction", "circuit.sea-in.inlet"] {
        let said = verdict(&judged, id);
        assert_eq!(said.grade, Grade::Unsound, "{id}");
        assert!(
            said.because.metric.contains("200 mm over the waterline"),
            "{id}"
        );
    }
    let low = self::judged(&[]);
    assert!(
        low.verdicts
            .iter()
            .all(|said| said.id != "circuit.sea-in.inlet")
    );
}
