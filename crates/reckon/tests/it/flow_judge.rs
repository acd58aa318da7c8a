//! The verdicts of flow and heat: a sound base of hand-made figures trips no rule, and each change trips one alone.

use quantity::{Measured, Origin, System, Temperature, TemperatureDifference};
use reckon::stages::flow::judge::{JudgeFacts, judge};
use reckon::stages::flow::row::{
    AreaRow, Came, CoolerRow, Dry, Duty, Figures, FlowRow, HullRow, ItemRow, Missing, MostRow,
    PlaceRow, RawPlace, RawRow, Span, StateRow, Stuff, Uncooled, VolumeRow,
};
use reckon::stages::types::{self, SaltFacts, Value};
use reckon::{Grade, Settles, Verdict};

fn span(low: f64, mid: f64, high: f64) -> Span {
    Span { low, mid, high }
}

fn settles() -> Settles {
    Settles {
        place: "engine.heat".into(),
        how: "Read it on the plate.".into(),
    }
}

fn missing() -> Missing {
    Missing {
        why: "the pump of the engine has no curve".into(),
        settles: settles(),
    }
}

fn item(run: &str, speed: f64) -> ItemRow {
    ItemRow {
        subject: format!("{run}.hose"),
        title: format!("hose 38 of {run}"),
        run: run.into(),
        place: format!("runs.{run}.way"),
        flow: 1.2e-3,
        drop: 800.0,
        temperatures: [82.0, 82.0],
        speed: Some(speed),
        bore: Some(0.038),
        reynolds: Some(60_000.0),
        ..ItemRow::default()
    }
}

fn place(name: &str, capped: f64, rated: f64) -> PlaceRow {
    PlaceRow {
        name: name.into(),
        title: name.into(),
        height: 0.1,
        open: capped - 50_000.0,
        capped: Some(capped),
        total: capped - 49_000.0,
        temperature: 82.0,
        boils: Some(106.0),
        rated: Some((rated, format!("the hose at {name}"))),
        ..PlaceRow::default()
    }
}

fn coolers() -> Vec<CoolerRow> {
    let keel = CoolerRow {
        subject: "keel".into(),
        title: "keel pipes".into(),
        heat: 36_000.0,
        temperatures: [82.0, 74.0],
        ua: 700.0,
        area: Some(1.9),
        speed: Some(1.1),
        reynolds: Some(9000.0),
        films: Some([3000.0, 1500.0]),
        shares: Some([0.2, 0.1, 0.4, 0.1, 0.2]),
        ..CoolerRow::default()
    };
    let exchanger = CoolerRow {
        subject: "exchanger".into(),
        title: "heat exchanger".into(),
        heat: 2000.0,
        temperatures: [82.0, 80.0],
        ua: 90.0,
        reynolds: Some(9000.0),
        raw_out: Some(45.0),
        ..CoolerRow::default()
    };
    vec![keel, exchanger]
}

fn figures(out: Span, back: Span, lift: f64) -> Figures {
    let suck = ItemRow {
        suction: true,
        ..item("suck", 1.2)
    };
    Figures {
        items: vec![item("hot", 1.8), suck],
        places: vec![
            place("hot.from", 62_000.0, 300_000.0),
            place("keel-fwd", 58_000.0, 200_000.0),
        ],
        coolers: coolers(),
        out,
        back,
        mixed: back,
        lift: Some(span(lift, lift, lift)),
        reserve: Some(1.5),
        flow: 1.2e-3,
        cooled: 0.8e-3,
        stolen: vec![("the by-pass".into(), 0.1)],
        pump: 30_000.0,
        suction: 3000.0,
        suction_over_boiling: 60_000.0,
        hottest: Some(("engine head".into(), 86.0, 106.0, Some(115.0))),
        standing: Vec::new(),
        raw: Some(RawRow {
            flow: 0.8e-3,
            pump: Some("rawpump".into()),
            inlet: Some(-6000.0),
            outlet: Some(12_000.0),
            places: vec![RawPlace {
                name: "draw.to".into(),
                title: "draw (G)".into(),
                height: Some(0.13),
                pressure: Some(-6000.0),
                temperature: 17.0,
                suction: true,
            }],
            ..RawRow::default()
        }),
        uncooled: None,
    }
}

/// The raw water of a state of the base.
fn raw(row: &mut FlowRow, at: usize) -> &mut RawRow {
    of(row, at).raw.as_mut().expect("the base has a raw side")
}

#[test]
fn a_raw_water_pump_that_sucks_hard_and_hose_that_it_sucks_flat() {
    let id = "flow.rawpump.raw-suction";
    passes(|row, _| raw(row, 0).inlet = Some(-14_900.0));
    trips(id, Grade::Marginal, |row, _| {
        raw(row, 0).inlet = Some(-15_100.0)
    });
    trips(id, Grade::Unsound, |row, _| {
        raw(row, 0).inlet = Some(-30_100.0)
    });
    let soft: Change = |row, _| {
        of(row, 0).items.push(ItemRow {
            raw: true,
            suction: true,
            soft: true,
            ..item("draw", 1.2)
        });
    };
    let said = trips(id, Grade::Unsound, soft);
    assert_eq!(said.place, "runs.draw.way");
    trips(id, Grade::Unmeasured, |row, _| {
        for at in [0, 1] {
            let raw = raw(row, at);
            raw.inlet = None;
            raw.missing = vec![missing()];
        }
    });
    // A pump with an inlet of its own has no suction side in the file.
    let without = changed(|row, _| {
        for at in [0, 1] {
            raw(row, at).places.clear();
        }
    });
    assert!(!without.iter().any(|verdict| verdict.id == id));
}

fn state(key: &str, duty: Duty, revs: f64, power: f64, figures: Figures) -> StateRow {
    StateRow {
        key: key.into(),
        duty,
        revs: revs / 60.0,
        speed: 3.0,
        sea: 17.0,
        power,
        heat: span(36_000.0, 38_000.0, 41_000.0),
        heat_from: "share of the power".into(),
        came: Came::Steady(Box::new(figures)),
        dry: None,
    }
}

/// Two states, all of it sound.
fn base() -> FlowRow {
    let cruise = figures(span(81.0, 82.0, 84.0), span(73.0, 74.0, 76.0), 0.6);
    let alongside = figures(span(79.0, 80.0, 81.0), span(76.0, 77.0, 78.0), 0.1);
    FlowRow {
        states: vec![
            state("cruise", Duty::Moving, 1900.0, 40_000.0, cruise),
            state("alongside", Duty::Tied, 800.0, 500.0, alongside),
        ],
        volume: Some(VolumeRow {
            parts: vec![("engine".into(), 0.012, "maker's sheet".into())],
            whole: Some(0.030),
            from: "as drained".into(),
            temperatures: [15.0, 90.0],
            growth: Some(0.0012),
            room: Some(0.004),
            header: Some(0.004),
            air: Some(30_000.0),
            cap: Some(50_000.0),
            overflow: Some(0.0),
            place: "things.header".into(),
            ..VolumeRow::default()
        }),
        hull: vec![HullRow {
            subject: "keel-fwd".into(),
            title: "hull fitting keel-fwd".into(),
            place: "things.keel-fwd".into(),
            depth: 0.45,
            sea: 4500.0,
            stopped: 8000.0,
            states: vec![
                ("cruise".into(), 1900.0 / 60.0, 3000.0),
                ("alongside".into(), 800.0 / 60.0, 7000.0),
            ],
            cap: Some(50_000.0),
            turns: None,
        }],
        most: vec![MostRow {
            key: "cruise".into(),
            limit: (90.0, "alarm less 5 K".into()),
            sea: Some(28.0),
            power: vec![(15.0, Some(50_000.0)), (22.0, Some(45_000.0))],
            smallest: Some(0.6),
        }],
        areas: vec![AreaRow {
            subject: "keel".into(),
            area: 1.9,
            rules: vec![
                ("by the canal rule".into(), 1.2, "from memory".into()),
                ("stationary".into(), 4.8, "a handbook's table".into()),
            ],
            reckoned: vec![
                ("cruise".into(), Duty::Moving, 1.3),
                ("alongside".into(), Duty::Tied, 1.5),
            ],
        }],
        ..FlowRow::default()
    }
}

fn facts() -> JudgeFacts {
    JudgeFacts {
        alarm: Ok(Value {
            measured: Measured::plus_minus(
                Temperature::celsius(95.0),
                TemperatureDifference::kelvin(2.0),
                Origin::Computed,
            ),
            from: "plate".into(),
            place: Some("engine.alarm.at".into()),
            settles: settles(),
        }),
        alarm_place: "engine.alarm.at".into(),
        cap: Some(50_000.0),
        cap_place: "things.header.cap".into(),
        opens: Some(79.0),
        stat_place: "engine.stat".into(),
        rating_place: "hoses".into(),
        summer: Some(22.0),
        summer_place: "sea.summer".into(),
        rated_power: Some(42_000.0),
        power_place: "engine.power".into(),
        salt: SaltFacts::Salt,
    }
}

type Change = fn(&mut FlowRow, &mut JudgeFacts);

fn changed(change: Change) -> Vec<Verdict> {
    let (mut row, mut facts) = (base(), facts());
    change(&mut row, &mut facts);
    judge(&row, &facts)
}

/// Ids and grades of all that is not sound.
fn tripped(verdicts: &[Verdict]) -> Vec<(&str, Grade)> {
    verdicts
        .iter()
        .filter(|verdict| verdict.grade != Grade::Sound)
        .map(|verdict| (verdict.id.as_str(), verdict.grade))
        .collect()
}

/// The change trips this rule and no other; gives its verdict back.
fn trips(id: &str, grade: Grade, change: Change) -> Verdict {
    let verdicts = changed(change);
    assert_eq!(tripped(&verdicts), [(id, grade)]);
    let found = verdicts.iter().find(|verdict| verdict.id == id);
    let found = found.expect("it was counted just now").clone();
    assert!(!found.remedy.metric.is_empty(), "{id} has no remedy");
    if grade == Grade::Unmeasured {
        assert!(found.settles.is_some(), "{id} names nothing to measure");
    }
    found
}

/// The change trips nothing.
fn passes(change: Change) {
    let verdicts = changed(change);
    let tripped = tripped(&verdicts);
    assert!(tripped.is_empty(), "{tripped:?}");
}

/// Figures of a state of the base.
fn of(row: &mut FlowRow, at: usize) -> &mut Figures {
    match &mut row.states[at].came {
        Came::Steady(figures) => figures,
        other => panic!("{other:?}"),
    }
}

fn volume(row: &mut FlowRow) -> &mut VolumeRow {
    row.volume.as_mut().expect("the base has one")
}

#[test]
fn a_sound_boat_trips_nothing_and_does_not_drown_the_page() {
    passes(|_, _| {});
    let verdicts = changed(|_, _| {});
    assert!((10..=20).contains(&verdicts.len()), "{}", verdicts.len());
    let mut ids: Vec<&str> = verdicts.iter().map(|verdict| verdict.id.as_str()).collect();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), verdicts.len(), "an id stands twice");
    for verdict in &verdicts {
        let id = &verdict.id;
        assert!(id.starts_with("flow."), "{id}");
        for system in [System::Metric, System::Imperial] {
            let because = verdict.because.in_units(system);
            assert!(because.contains(char::is_numeric), "{id}: {because}");
            assert!(because.ends_with('.'), "{id}: {because}");
            assert!(verdict.spoken.in_units(system).contains("sound"), "{id}");
        }
        let imperial = &verdict.because.imperial;
        for unit in ["°C", "kPa", "L/min", "m/s"] {
            assert!(!imperial.contains(unit), "{id}: {imperial}");
        }
        assert!(!verdict.working.limit.metric.is_empty(), "{id}");
        assert!(!verdict.working.sources.is_empty(), "{id}");
        assert!(verdict.caution.is_none(), "{id}: nothing is to be done");
    }
}

#[test]
fn nothing_told_gives_nothing_but_what_is_missing() {
    let row = FlowRow {
        missing: vec![missing(), missing()],
        ..FlowRow::default()
    };
    let verdicts = judge(&row, &facts());
    assert_eq!(
        tripped(&verdicts),
        [
            ("flow.circuit.1", Grade::Unmeasured),
            ("flow.circuit.2", Grade::Unmeasured)
        ]
    );
    assert_eq!(verdicts.len(), 2);
    assert_eq!(
        verdicts[0].because.metric,
        "The pump of the engine has no curve."
    );
}

#[test]
fn states_that_do_not_come_to_rest() {
    let id = "flow.alongside.heat";
    let said = trips(id, Grade::Unsound, |row, _| {
        row.states[1].came = Came::NoSteadyState("every cooler is shut off".into());
    });
    assert!(
        said.because
            .metric
            .contains("38 kW and never comes to rest: every cooler is shut off."),
        "{}",
        said.because.metric
    );
    assert!(said.caution.is_some());
    trips(id, Grade::Unsound, |row, _| {
        row.states[1].came = Came::Unsolvable("the flow swings.".into());
    });
    trips(id, Grade::Unmeasured, |row, _| {
        row.states[1].came = Came::Unmeasured(missing());
    });
}

#[test]
fn the_outlet_against_the_alarm() {
    let id = "flow.cruise.heat";
    let near = trips(id, Grade::Marginal, |row, _| of(row, 0).out.high = 92.0);
    assert_eq!(near.chance, Some(1.0));
    let over = trips(id, Grade::Unsound, |row, _| {
        of(row, 0).out = span(94.0, 96.0, 99.0);
        of(row, 0).mixed = span(87.0, 88.0, 89.0);
    });
    // The alarm stands half way from low to middle: 1 of the 5 kW between the ends.
    let chance = over.chance.expect("a chance");
    assert!((chance - 0.2).abs() < 1e-9, "{chance}");
    assert!(
        over.because.metric.contains("at 96 °C"),
        "{}",
        over.because.metric
    );
    assert!(
        over.because.imperial.contains("°F"),
        "{}",
        over.because.imperial
    );
    assert!(
        over.working
            .inputs
            .iter()
            .any(|input| input.symbol == "Q" && input.from == "share of the power")
    );
    let unknown = trips("flow.engine.alarm", Grade::Unmeasured, |_, facts| {
        facts.alarm = Err(types::Missing {
            why: "not written".into(),
            settles: settles(),
        });
    });
    assert!(
        unknown
            .because
            .metric
            .contains("82 °C in cruise at 1900 rpm")
    );
}

#[test]
fn a_state_that_stands_twice_is_told_apart() {
    let verdicts = changed(|row, _| row.states[1].key = "cruise".into());
    for id in ["flow.cruise.moving.heat", "flow.cruise.tied.heat"] {
        assert!(verdicts.iter().any(|verdict| verdict.id == id), "{id}");
    }
}

#[test]
fn the_reserve_behind_the_thermostat() {
    let id = "flow.thermostat.reserve";
    let little = trips(id, Grade::Marginal, |row, _| {
        of(row, 0).reserve = Some(1.1);
    });
    assert!(
        little.because.metric.contains("10 % more"),
        "{}",
        little.because.metric
    );
    let short = trips(id, Grade::Unsound, |row, _| {
        of(row, 0).reserve = Some(0.9);
    });
    assert!(
        short.because.metric.contains("10 % short"),
        "{}",
        short.because.metric
    );
    trips(id, Grade::Unmeasured, |row, _| {
        of(row, 0).reserve = None;
        of(row, 1).reserve = None;
    });
}

#[test]
fn what_goes_into_the_engine_and_what_it_rises_by() {
    trips("flow.engine.cold", Grade::Marginal, |row, _| {
        let figures = of(row, 1);
        figures.lift = Some(span(0.0, 0.0, 0.0));
        figures.out = span(69.0, 70.0, 71.0);
        figures.mixed = span(63.0, 64.0, 66.0);
    });
    trips("flow.engine.return", Grade::Marginal, |row, _| {
        of(row, 0).out = span(67.0, 68.0, 69.0);
        of(row, 0).mixed = span(58.0, 59.0, 60.0);
    });
    trips("flow.engine.rise", Grade::Marginal, |row, _| {
        of(row, 0).mixed.mid = 71.0;
    });
}

#[test]
fn boiling_with_the_cap_failed_and_holding() {
    fn hottest(row: &mut FlowRow, at: f64, capped: Option<f64>) {
        of(row, 0).hottest = Some(("engine head".into(), at, 106.0, capped));
    }
    let id = "flow.engine.boiling";
    let said = trips(id, Grade::Marginal, |row, _| {
        hottest(row, 97.0, Some(115.0))
    });
    assert!(said.caution.is_some());
    assert!(
        said.because.metric.contains("9.0 °C under boiling"),
        "{}",
        said.because.metric
    );
    trips(id, Grade::Unsound, |row, _| {
        hottest(row, 106.0, Some(115.0))
    });
    trips(id, Grade::Unmeasured, |row, _| hottest(row, 97.0, None));
    passes(|row, _| hottest(row, 96.0, None));
}

#[test]
fn the_suction_of_the_pump() {
    let id = "flow.pump.suction";
    trips(id, Grade::Marginal, |row, _| of(row, 0).suction = -500.0);
    let flat = trips(id, Grade::Unsound, |row, _| {
        of(row, 0).suction = -500.0;
        of(row, 0).items[1].soft = true;
    });
    assert_eq!(flat.place, "runs.suck.way");
    // A soft hose does no harm where nothing sucks at it, or on the other side of the pump.
    passes(|row, _| of(row, 0).items[1].soft = true);
    trips(id, Grade::Marginal, |row, _| {
        of(row, 0).suction = -500.0;
        of(row, 0).items[0].soft = true;
    });
    trips("flow.pump.boiling", Grade::Marginal, |row, _| {
        of(row, 0).suction_over_boiling = 7000.0;
    });
    trips("flow.pump.boiling", Grade::Unsound, |row, _| {
        of(row, 0).suction_over_boiling = 4000.0;
    });
    passes(|row, _| of(row, 1).suction_over_boiling = f64::NAN);
    trips("flow.pump.boiling", Grade::Unmeasured, |row, _| {
        for at in 0..2 {
            of(row, at).suction_over_boiling = f64::NAN;
        }
    });
}

#[test]
fn a_bucket_that_the_pump_can_not_have_filled() {
    let id = "flow.rawpump.bucket";
    // 48 L/min by the bucket.
    let told: fn(&mut FlowRow, f64) = |row, gives| {
        let raw = raw(row, 0);
        (raw.bucket, raw.gives) = (true, Some(gives * 1e-3 / 60.0));
    };
    passes(|row, _| raw(row, 0).gives = Some(0.5e-3));
    for agrees in [44.0, 48.0, 68.0] {
        let mut row = base();
        told(&mut row, agrees);
        assert!(tripped(&judge(&row, &facts())).is_empty(), "{agrees}");
    }
    // 48 over 40 is 1.20, 48 over 70 is 0.69.
    for (gives, words) in [(40.0, "20 % more than it can"), (70.0, "31 % less than it")] {
        let mut row = base();
        told(&mut row, gives);
        let verdicts = judge(&row, &facts());
        assert_eq!(tripped(&verdicts), [(id, Grade::Marginal)]);
        let said = verdicts.iter().find(|said| said.id == id);
        let said = said.expect("it tripped just now");
        assert!(
            said.because.metric.contains(words),
            "{}",
            said.because.metric
        );
        assert!(said.remedy.metric.starts_with("Measure again"));
        assert_eq!(said.place, "states.cruise.raw");
    }
}

#[test]
fn an_inlet_over_the_water_draws_air() {
    let said = trips("flow.rawpump.raw-suction", Grade::Unsound, |row, _| {
        for at in [0, 1] {
            let raw = raw(row, at);
            raw.inlet = None;
            raw.over = Some(("sea-in".into(), 0.2, "things.sea-in.h".into()));
        }
    });
    let because = &said.because.metric;
    assert!(because.contains("200 mm over the waterline"), "{because}");
    assert_eq!(said.place, "things.sea-in.h");
}

#[test]
fn without_raw_water_the_valve_the_time_and_the_exhaust_are_told() {
    let said = trips("flow.alongside.heat", Grade::Unsound, |row, _| {
        let state = &mut row.states[1];
        state.came = Came::NoSteadyState("sea-in.valve is shut: and so on, it boils".into());
        state.dry = Some(Dry {
            why: "sea-in.valve is shut".into(),
            place: "arrangements.after.shut".into(),
            shut: vec!["sea-in.valve".into()],
            exhaust: true,
            begins: 88.0,
            boils: Some(112.0),
            uncooled: Some(Uncooled {
                alarm: Some(27.0),
                boils: Some(131.0),
            }),
        });
    });
    let because = &said.because.metric;
    for told in [
        "Sea-in.valve is shut",
        "20 s to the alarm",
        "2 min to boiling",
        "88 °C",
    ] {
        assert!(because.contains(told), "{told}: {because}");
    }
    let remedy = &said.remedy.metric;
    assert!(remedy.starts_with("Open sea-in.valve"), "{remedy}");
    assert!(said.caution.expect("a caution").contains("exhaust"));
    assert_eq!(said.place, "arrangements.after.shut");
}

#[test]
fn raw_water_that_runs_too_fast_lets_in_the_sea_when_its_hose_is_changed() {
    let caution = |raw: bool| {
        let mut row = base();
        let item = &mut of(&mut row, 0).items[0];
        (item.raw, item.speed) = (raw, Some(3.5));
        let verdicts = judge(&row, &facts());
        let said = verdicts
            .iter()
            .find(|said| said.id == "flow.hot.hose.speed");
        said.expect("it is too fast")
            .caution
            .clone()
            .expect("a caution")
    };
    assert!(caution(true).starts_with("Lets in the sea"));
    assert!(caution(false).starts_with("Hot and under pressure"));
}

#[test]
fn speeds_by_stuff_and_service() {
    let id = "flow.hot.hose.speed";
    trips(id, Grade::Marginal, |row, _| {
        of(row, 0).items[0].speed = Some(2.7)
    });
    trips(id, Grade::Unsound, |row, _| {
        of(row, 0).items[0].speed = Some(-3.1)
    });
    trips(id, Grade::Marginal, |row, _| {
        of(row, 1).items[0].stuff = Stuff::Copper
    });
    passes(|row, _| {
        let item = &mut of(row, 0).items[0];
        (item.stuff, item.temperatures, item.speed) = (Stuff::Copper, [59.0, 58.0], Some(1.4));
    });
    trips("flow.suck.hose.speed", Grade::Marginal, |row, _| {
        of(row, 0).items[1].speed = Some(1.7);
    });
    let raw = |stuff: Stuff, speed: f64| {
        let mut row = base();
        let item = &mut of(&mut row, 0).items[0];
        (item.raw, item.stuff, item.speed) = (true, stuff, Some(speed));
        judge(&row, &facts())
            .iter()
            .find(|verdict| verdict.id == id)
            .map(|verdict| verdict.grade)
    };
    assert_eq!(raw(Stuff::Copper, 0.7), Some(Grade::Marginal));
    assert_eq!(raw(Stuff::Copper, 1.0), Some(Grade::Unsound));
    assert_eq!(raw(Stuff::Brass, 1.5), Some(Grade::Marginal));
    assert_eq!(raw(Stuff::Brass, 1.9), Some(Grade::Unsound));
    // Which bronze it is nobody tells: what brass does not stand some of them do.
    assert_eq!(raw(Stuff::Bronze, 2.55), Some(Grade::Marginal));
    assert_eq!(raw(Stuff::Bronze, 2.75), Some(Grade::Unsound));
    assert_eq!(raw(Stuff::AluminiumBronze, 2.55), None);
    assert_eq!(raw(Stuff::CuproNickel, 2.9), None);
    assert_eq!(raw(Stuff::CuproNickel, 3.7), Some(Grade::Unsound));
    // Two parts of one run are one verdict, about the worse of them.
    let both = trips(id, Grade::Marginal, |row, _| {
        let mut pipe = item("hot", 2.6);
        pipe.subject = "hot.pipe".into();
        of(row, 0).items.push(pipe);
        of(row, 0).items[0].speed = Some(2.8);
    });
    assert!(
        both.because.metric.contains("1 more part of hot"),
        "{}",
        both.because.metric
    );
    for slow_or_fast in [0.5, 2.5] {
        let mut row = base();
        for at in 0..2 {
            of(&mut row, at).coolers[0].speed = Some(slow_or_fast);
        }
        let verdicts = judge(&row, &facts());
        assert_eq!(tripped(&verdicts), [("flow.keel.speed", Grade::Marginal)]);
    }
    // Slow in one state alone is what a thermostat does.
    passes(|row, _| of(row, 1).coolers[0].speed = Some(0.1));
}

#[test]
fn coolers_and_what_they_do() {
    trips("flow.keel.laminar", Grade::Marginal, |row, _| {
        of(row, 0).lift = Some(span(0.9, 0.95, 0.98));
        of(row, 0).coolers[0].reynolds = Some(2000.0);
    });
    let between = trips("flow.keel.laminar", Grade::Marginal, |row, _| {
        of(row, 0).lift = None;
        of(row, 0).coolers[0].reynolds = Some(3000.0);
    });
    assert!(
        between.because.metric.contains("3000, between"),
        "{}",
        between.because.metric
    );
    passes(|row, _| of(row, 1).coolers[0].reynolds = Some(500.0));
    trips("flow.exchanger.raw-out", Grade::Marginal, |row, _| {
        of(row, 0).coolers[1].raw_out = Some(53.0);
    });
    trips("flow.exchanger.raw-out", Grade::Unsound, |row, _| {
        of(row, 0).coolers[1].raw_out = Some(56.0);
    });
    passes(|row, facts| {
        of(row, 0).coolers[1].raw_out = Some(56.0);
        facts.salt = SaltFacts::Fresh;
    });
    trips("flow.keel.area", Grade::Marginal, |row, _| {
        row.areas[0].reckoned[1].2 = 2.1;
    });
    // A rule of thumb alone grades nothing.
    passes(|row, _| row.areas[0].rules[1].1 = 9.0);
    let verdicts = changed(|_, _| {});
    let shares = verdicts
        .iter()
        .find(|verdict| verdict.id == "flow.keel.resistance")
        .expect("it is said of every cooler with shares");
    assert!(
        shares
            .because
            .metric
            .starts_with("Paint and wall hold 40 % of the whole resistance"),
        "{}",
        shares.because.metric
    );
}

#[test]
fn which_way_it_leaks() {
    let id = "flow.keel-fwd.leak";
    let turns = trips(id, Grade::Marginal, |row, _| {
        row.hull[0].states[0].2 = -14_000.0;
        row.hull[0].turns = Some(1470.0 / 60.0);
    });
    assert_eq!(
        turns.because.metric,
        "Stopped, the coolant 450 mm down stands 8.0 kPa over the sea, and a hole there lets coolant out; in cruise at 1900 rpm it is 14 kPa under, and the sea comes in; it turns near 1470 rpm."
    );
    assert!(turns.caution.is_some());
    trips(id, Grade::Marginal, |row, _| row.hull[0].stopped = -100.0);
    trips(id, Grade::Unmeasured, |row, _| {
        row.hull[0].stopped = f64::NAN
    });
    passes(|row, _| {
        row.hull[0].depth = -0.2;
        row.hull[0].stopped = -100.0;
    });
}

#[test]
fn flow_that_is_taken_and_water_that_stands() {
    trips("flow.circuit.stolen", Grade::Marginal, |row, _| {
        of(row, 0).lift = Some(span(1.0, 1.0, 1.0));
        of(row, 0).stolen = vec![("the calorifier".into(), 0.25)];
    });
    // While the thermostat is not open the by-pass is meant to run.
    passes(|row, _| of(row, 0).stolen = vec![("the by-pass".into(), 0.6)]);
    trips("flow.circuit.standing", Grade::Marginal, |row, _| {
        for at in 0..2 {
            of(row, at).standing = vec!["the old loop".into()];
        }
    });
    passes(|row, _| of(row, 1).standing = vec!["the heater".into()]);
}

#[test]
fn pressure_against_what_the_parts_stand() {
    let id = "flow.hot.from.pressure";
    trips(id, Grade::Marginal, |row, _| {
        of(row, 1).places[0].capped = Some(250_000.0);
    });
    trips(id, Grade::Unsound, |row, _| {
        of(row, 1).places[0].capped = Some(310_000.0);
    });
    trips("flow.circuit.pressure", Grade::Unmeasured, |row, _| {
        for at in 0..2 {
            for place in &mut of(row, at).places {
                place.capped = None;
            }
        }
    });
}

#[test]
fn the_header_tank() {
    let id = "flow.header.room";
    trips(id, Grade::Marginal, |row, _| volume(row).room = Some(0.002));
    let over = trips(id, Grade::Unsound, |row, _| volume(row).room = Some(0.001));
    assert!(
        over.because.metric.contains("0.2 L runs out"),
        "{}",
        over.because.metric
    );
    trips("flow.header.size", Grade::Marginal, |row, _| {
        volume(row).header = Some(0.003);
    });
    let air = trips("flow.header.air", Grade::Marginal, |row, _| {
        volume(row).air = Some(60_000.0);
        volume(row).overflow = Some(0.0005);
    });
    assert!(
        air.because.metric.contains("0.5 L of coolant"),
        "{}",
        air.because.metric
    );
}

#[test]
fn the_most_that_the_coolers_bear() {
    let id = "flow.circuit.sea";
    trips(id, Grade::Marginal, |row, _| row.most[0].sea = Some(24.0));
    trips(id, Grade::Unsound, |row, _| row.most[0].sea = Some(20.0));
    trips(id, Grade::Unsound, |row, _| row.most[0].sea = None);
    trips(id, Grade::Unmeasured, |_, facts| facts.summer = None);
    let id = "flow.circuit.power";
    trips(id, Grade::Marginal, |row, _| {
        row.most[0].power[1].1 = Some(35_000.0)
    });
    trips(id, Grade::Marginal, |row, _| row.most[0].power[1].1 = None);
    trips(id, Grade::Unmeasured, |_, facts| facts.rated_power = None);
    // In winter's water she may; what counts is the summer.
    passes(|row, _| row.most[0].power[0].1 = Some(1000.0));
    let id = "flow.circuit.surface";
    trips(id, Grade::Marginal, |row, _| {
        row.most[0].smallest = Some(0.9)
    });
    trips(id, Grade::Unsound, |row, _| row.most[0].smallest = None);
}
