//! A mass of water as one lump: what its validation rows ask, both ways agree, and no step where nothing is given up.

use quantity::{
    HeatCapacity, HeatPerKelvin, Mass, Power, Quantity, SpecificHeat, Temperature, Time,
};
use reference::Unknown;
use reference::lumped::{temperature_after, time_constant, time_to};

use crate::rows::{Answer, Row};

/// A time, `never`, or `none` where nothing can be said.
fn time(answer: Result<Option<Time>, Unknown>) -> Answer {
    match answer {
        Ok(Some(time)) => Answer::Number(time.to_s()),
        Ok(None) => Answer::Text("never".into()),
        Err(_) => Answer::Text("none".into()),
    }
}

pub(crate) fn answer(row: &Row) -> Option<Answer> {
    let n = |input: &str| row.number::<f64>(input);
    let capacity = || HeatCapacity::j_per_k(n("capacity"));
    let heat = || Power::w(n("heat"));
    let ua = || HeatPerKelvin::w_per_k(n("ua"));
    let at = |input: &str| Temperature::celsius(n(input));
    Some(match row.function.as_str() {
        "time_constant" => time(time_constant(capacity(), ua())),
        "temperature_after" => {
            let (around, start) = (at("around"), at("start"));
            let after = Time::s(n("time"));
            let answer = temperature_after(capacity(), heat(), ua(), around, start, after);
            answer.map_or(Answer::Text("none".into()), |at| {
                Answer::Number(at.to_celsius())
            })
        }
        "time_to" => {
            let (around, start) = (at("around"), at("start"));
            time(time_to(
                capacity(),
                heat(),
                ua(),
                around,
                start,
                at("target"),
            ))
        }
        _ => return None,
    })
}

#[track_caller]
fn unknown<T: std::fmt::Debug>(answer: Result<T, Unknown>) {
    let unknown = answer.expect_err("nothing can be said there");
    assert!(!unknown.why.is_empty() && !unknown.settles.is_empty());
}

/// A body for the walks below: heat put in and UA, with surroundings at 15 °C.
#[derive(Clone, Copy, Debug)]
struct Body {
    capacity: HeatCapacity,
    heat: Power,
    ua: HeatPerKelvin,
}

const AROUND: f64 = 15.0;

impl Body {
    fn of(capacity: f64, heat: f64, ua: f64) -> Self {
        Self {
            capacity: HeatCapacity::j_per_k(capacity),
            heat: Power::w(heat),
            ua: HeatPerKelvin::w_per_k(ua),
        }
    }

    fn after(self, start: f64, seconds: f64) -> f64 {
        let (around, start) = (Temperature::celsius(AROUND), Temperature::celsius(start));
        temperature_after(
            self.capacity,
            self.heat,
            self.ua,
            around,
            start,
            Time::s(seconds),
        )
        .expect("a temperature")
        .to_celsius()
    }

    fn until(self, start: f64, target: f64) -> Option<f64> {
        let at = Temperature::celsius;
        time_to(
            self.capacity,
            self.heat,
            self.ua,
            at(AROUND),
            at(start),
            at(target),
        )
        .expect("an answer")
        .map(Time::to_s)
    }
}

/// Bodies from a mug to a large engine, with and without heat, cooled, and with any UA down to none.
fn bodies() -> Vec<Body> {
    let mut bodies = Vec::new();
    for capacity in [1200.0, 40e3, 95e3, 2e6] {
        for heat in [-600.0, 0.0, 1500.0, 20e3] {
            for ua in [0.0, 1e-15, 1e-6, 0.4, 12.0, 300.0] {
                bodies.push(Body::of(capacity, heat, ua));
            }
        }
    }
    bodies
}

#[test]
fn the_time_to_a_temperature_leads_to_it() {
    let (mut reached, mut never) = (0, 0);
    for body in bodies() {
        for start in [-10.0, 15.0, 60.0, 90.0] {
            for target in [-5.0, 15.0, 40.0, 59.9, 82.0, 110.0] {
                let Some(time) = body.until(start, target) else {
                    never += 1;
                    continue;
                };
                let at = body.after(start, time);
                let case = format!("{body:?} {start} to {target} in {time} s: {at}");
                assert!(time >= 0.0 && (at - target).abs() < 1e-9, "{case}");
                reached += 1;
            }
        }
    }
    assert!(reached > 500 && never > 500, "{reached} {never}");
}

#[test]
fn what_is_never_reached_is_not_passed_either() {
    for body in bodies() {
        for start in [-10.0, 15.0, 60.0, 90.0] {
            for target in [-5.0, 15.0, 40.0, 59.9, 82.0, 110.0] {
                if body.until(start, target).is_some() {
                    continue;
                }
                let side = target - start;
                for seconds in [0.0, 1.0, 60.0, 3600.0, 1e5, 1e6] {
                    // A body that loses heat without end would pass the zero of the scale.
                    if body.heat < Power::w(0.0) && body.ua.si() < 1.0 && seconds > 60.0 {
                        continue;
                    }
                    let left = target - body.after(start, seconds);
                    assert!(
                        left * side > -1e-9,
                        "{body:?} {start} {target} {seconds}: {left}"
                    );
                }
            }
        }
    }
}

#[test]
fn with_less_and_less_given_up_the_curve_becomes_the_line() {
    for (capacity, heat, start) in [(95e3, 18e3, 15.0), (2e6, 1500.0, 60.0), (1200.0, 0.0, 90.0)] {
        let line = Body::of(capacity, heat, 0.0);
        assert_eq!(line.until(start, start), Some(0.0));
        for seconds in [0.5, 60.0, 600.0] {
            let straight = start + heat * seconds / capacity;
            assert!((line.after(start, seconds) - straight).abs() < 1e-9);
            for power in 0..300 {
                let ua = 10_f64.powi(-power);
                let at = Body::of(capacity, heat, ua).after(start, seconds);
                // The bend is at most the heat given up at the warmest over the heat capacity.
                let bend = ua * (straight - AROUND).max(start - AROUND) * seconds / capacity;
                assert!((at - straight).abs() <= bend + 1e-9, "{ua} {at} {straight}");
            }
            if heat > 0.0 {
                let (back, nearly) = (
                    line.until(start, straight).expect("a time"),
                    Body::of(capacity, heat, 1e-12)
                        .until(start, straight)
                        .expect("a time"),
                );
                assert!((back - seconds).abs() < 1e-9 * seconds.max(1.0));
                assert!((nearly - back).abs() < 1e-9 * seconds.max(1.0));
            }
        }
    }
}

#[test]
fn one_form_hands_over_to_the_other_without_a_step() {
    let body = Body::of(95e3, 18e3, 40.0);
    let constant = time_constant(body.capacity, body.ua).expect("a range");
    let constant = constant.expect("heat is given up").to_s();
    let (before, behind) = (
        body.after(16.0, constant * (1.0 - 1e-12)),
        body.after(16.0, constant * (1.0 + 1e-12)),
    );
    assert!(before < behind && behind - before < 1e-9);
}

#[test]
fn each_time_constant_takes_the_same_share() {
    let body = Body::of(95e3, 18e3, 40.0);
    let level = AROUND + 18e3 / 40.0;
    let constant = 95e3 / 40.0;
    let mut left = level - 16.0;
    for n in 1..8 {
        let now = level - body.after(16.0, f64::from(n) * constant);
        assert!(
            (now / left * 1.0_f64.exp() - 1.0).abs() < 1e-9,
            "{n}: {now}"
        );
        left = now;
    }
}

#[test]
fn a_body_comes_near_to_where_it_levels_off_and_is_never_there() {
    for (heat, ua) in [
        (3000.0, 50.0),
        (1000.0, 30.0),
        (0.0, 7.0),
        (-100.0, 6.0),
        (20e3, 300.0),
    ] {
        let body = Body::of(95e3, heat, ua);
        let level = AROUND + heat / ua;
        for start in [level - 12.0, level + 12.0] {
            assert_eq!(body.until(start, level), None, "{heat} {ua}");
            let way = (start - level).signum();
            assert_eq!(body.until(start, level - way), None);
            assert_eq!(body.until(start, start + way), None);
            let near = body.until(start, level + way * 1e-6).expect("a time");
            assert!((near / (95e3 / ua) - 12e6_f64.ln()).abs() < 1e-6, "{near}");
        }
        // Where it levels off it stays.
        assert!((body.after(level, 1e7) - level).abs() < 1e-9);
        assert_eq!(body.until(level, level), Some(0.0));
        assert_eq!(body.until(level, level + 1.0), None);
        assert_eq!(body.until(level, level - 1.0), None);
    }
}

#[test]
fn outside_its_range_nothing_is_said() {
    let (water, ua) = (HeatCapacity::j_per_k(8e4), HeatPerKelvin::w_per_k(20.0));
    let (heat, time) = (Power::kw(2.0), Time::s(60.0));
    let (cold, warm) = (Temperature::celsius(10.0), Temperature::celsius(60.0));
    let (none, less) = (HeatCapacity::j_per_k(0.0), HeatPerKelvin::w_per_k(-1.0));
    for (water, ua) in [(none, ua), (-water, ua), (water, less)] {
        unknown(time_constant(water, ua));
        unknown(temperature_after(water, heat, ua, cold, cold, time));
        unknown(time_to(water, heat, ua, cold, cold, warm));
    }
    unknown(temperature_after(water, heat, ua, cold, cold, -time));
    // Heat taken out of what gives up none leads below the zero of the scale.
    let (drawn, sealed) = (-heat, HeatPerKelvin::w_per_k(0.0));
    let long = Time::s(20_000.0);
    unknown(temperature_after(water, drawn, sealed, cold, cold, long));
    assert_eq!(time_constant(water, sealed), Ok(None));
    // Longer than a number holds.
    let least = HeatPerKelvin::w_per_k(1e-308);
    unknown(time_constant(water, least));
    unknown(time_to(water, Power::w(1e-308), sealed, cold, cold, warm));
}

#[test]
fn a_mass_of_water_has_its_heat_capacity() {
    let water = Mass::kg(18.0) * SpecificHeat::j_per_kg_k(4180.0);
    assert_eq!(water, HeatCapacity::j_per_k(75_240.0));
    let constant = time_constant(water, HeatPerKelvin::w_per_k(30.0)).expect("a range");
    assert_eq!(constant.map(Time::to_s), Some(2508.0));
}
