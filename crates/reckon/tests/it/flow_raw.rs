//! The raw-water side: pressures from the sea to the exhaust, by hand from the heights and what each part takes;
//! what breaks a siphon; and cabin heaters that are on.

use std::f64::consts::PI;

use reckon::stages::flow::{Came, Figures, FlowRow, ItemRow, RawRow};
use reckon::{Answer, Grade, Set};

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
    // Sheets are for 1000 kg/m³.
    close(drop_of(figures, "exchanger"), 10e3 * SEA / 1000.0);
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
