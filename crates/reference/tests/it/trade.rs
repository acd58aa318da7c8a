//! The trade's figures for flow and heat, and engine oil: what validation rows ask, and that nothing is missing.

use quantity::{
    Density, Length, Power, PressureDifference, Quantity, Ratio, RotationalSpeed, Temperature,
    TemperatureDifference, VolumeFlow,
};
use reference::conduct::{self, Wall};
use reference::cooler_area::{self, CoolerMetal, Duty};
use reference::engine;
use reference::heat::{self, HeatOf, ShareOf};
use reference::pump::{self, Point, Quadratic};
use reference::speed_limits::{Service, speed_limit};
use reference::usual::{self, Drop, Measure, Part, Rise, Warmth};
use reference::{Limits, Status, oil};
use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::{Error, StrDeserializer};

use crate::rows::{Answer, Row};

fn word<T: for<'a> Deserialize<'a>>(row: &Row, input: &str) -> T {
    let text: StrDeserializer<'_, Error> = row.text(input).into_deserializer();
    T::deserialize(text).unwrap_or_else(|error| panic!("{}: {error}", row.place))
}

fn known(answer: Result<f64, reference::Unknown>) -> Answer {
    answer.map_or(Answer::Text("none".into()), Answer::Number)
}

fn end<Q: Quantity>(row: &Row, limits: Limits<Q>) -> Q {
    match row.text("end") {
        "low" => limits.low,
        "high" => limits.high,
        other => panic!("{}: end `{other}`", row.place),
    }
}

pub(crate) fn answer(row: &Row) -> Option<Answer> {
    let kw = || Power::kw(row.number("kw"));
    let kelvin = || Temperature::from_si(row.number("kelvin")).expect("a temperature");
    let ratio = || row.number::<f64>("ratio");
    // One litre a minute against one metre, turned at one turn a minute.
    let sped = || {
        let one = Point {
            flow: VolumeFlow::litres_per_minute(1.0),
            head: Length::m(1.0),
        };
        pump::at_speed(
            one,
            RotationalSpeed::rpm(1.0),
            RotationalSpeed::rpm(ratio()),
        )
    };
    Some(match row.function.as_str() {
        "oil_density" => known(oil::density(kelvin()).map(Quantity::si)),
        "oil_specific_heat" => known(oil::specific_heat(kelvin()).map(Quantity::si)),
        "oil_conductivity" => known(oil::conductivity(kelvin()).map(Quantity::si)),
        "oil_viscosity" => known(oil::viscosity(kelvin()).map(Quantity::si)),
        "pump_flow_ratio" => known(sped().map(|point| point.flow.to_litres_per_minute())),
        "pump_head_ratio" => known(sped().map(|point| point.head.to_m())),
        "cooler_area" => {
            let (metal, duty) = (word(row, "metal"), word(row, "item"));
            let area = cooler_area::area(metal, duty, kw());
            known(area.map(|area| area.value.to_m2()))
        }
        "speed_most" => {
            let limit = speed_limit(word(row, "item"));
            Answer::Number(end(row, limit.most).to_m_per_s())
        }
        "speed_least" => Answer::Number(speed_limit(word(row, "item")).least?.to_m_per_s()),
        "coolant_over_brake" => {
            let named = row.text("item");
            let balance = heat::balances().iter().find(|of| of.id == named)?;
            Answer::Number(end(row, balance.coolant_over_brake()).to_f64())
        }
        "engine_sheet_flow" => {
            let sheet = engine::engine_sheets().iter().find(|of| of.heat == kw())?;
            Answer::Number(sheet.flow.to_litres_per_minute())
        }
        "wall_conductivity" => {
            let wall: Wall = word(row, "item");
            Answer::Number(end(row, conduct::conductivity(wall).value).si())
        }
        "propeller_load" => {
            let speed = RotationalSpeed::rpm(row.number("item"));
            let load = heat::propeller_load(speed, RotationalSpeed::rpm(1.0));
            known(load.map(|load| load.value.to_f64()))
        }
        "part_load" => {
            let heat = heat::part_load(Ratio::of(row.number("item")));
            known(heat.map(|heat| end(row, heat.value).to_f64()))
        }
        "alternator_takes" => known(heat::alternator_takes(kw()).map(|taken| taken.value.to_kw())),
        _ => return None,
    })
}

#[test]
fn every_figure_of_the_trade_has_its_row() {
    for of in ShareOf::ALL {
        let share = heat::share(of).value;
        assert!(
            share.low.to_f64() > 0.0 && share.high.to_f64() <= 1.0,
            "{of:?}"
        );
    }
    for of in HeatOf::ALL {
        assert!(heat::heat(of).value.low.to_kw() >= 2.0);
    }
    for service in Service::ALL {
        let limit = speed_limit(service);
        assert!(
            limit.least.is_none_or(|least| least < limit.most.low),
            "{service:?}"
        );
    }
    for of in Rise::ALL {
        assert!(usual::rise(of).value.low > TemperatureDifference::kelvin(0.0));
    }
    for of in Warmth::ALL {
        assert!(usual::temperature(of).value.low >= Temperature::celsius(50.0));
    }
    for of in Drop::ALL {
        assert!(usual::pressure(of).value.low >= PressureDifference::pa(2000.0));
    }
    for of in Part::ALL {
        assert!(usual::part(of).value.low.to_f64() > 0.0);
    }
    for of in Measure::ALL {
        assert!(usual::measure(of).value.low > Length::m(0.0));
    }
    let caps: Vec<f64> = usual::cap_settings()
        .map(|cap| cap.value.to_bar())
        .collect();
    assert_eq!(caps.len(), 5);
    assert!(caps.is_sorted());
    for balance in heat::balances() {
        let all = |of: fn(&Limits<Ratio>) -> Ratio| {
            [
                balance.brake,
                balance.coolant,
                balance.exhaust,
                balance.rest,
            ]
            .iter()
            .map(|part| of(part).to_f64())
            .sum::<f64>()
        };
        let (least, most) = (all(|part| part.low), all(|part| part.high));
        assert!(least <= 1.0 + 1e-9 && most >= 1.0 - 1e-9, "{}", balance.id);
    }
}

#[test]
fn figures_that_belong_together_do() {
    // The header holds at least what the coolant grows and the reserve.
    let of = |part| usual::part(part).value;
    let least = of(Part::HeaderGrowth).low + of(Part::HeaderReserve).low;
    assert!(least <= of(Part::HeaderWhole).low);
    // Water comes back colder than the thermostat's stamp allows, and leaves below the alarm.
    let at = |warmth| usual::temperature(warmth).value;
    assert!(at(Warmth::ReturnLeast).low < at(Warmth::ReturnMost).low);
    assert!(at(Warmth::ThermostatOpens).high < at(Warmth::Alarm).low);
    // A modern engine gives less to its coolant than an old one may.
    let share = |of| heat::share(of).value;
    assert!(share(ShareOf::CoolantTurbo).high < share(ShareOf::CoolantOlder).high);
    // What the trade has no source for says so.
    assert_eq!(
        heat::share(ShareOf::Coolant).source.status,
        Status::Practice
    );
    assert_eq!(
        usual::measure(Measure::SuctionMargin).source.status,
        Status::Recalled
    );
}

#[test]
fn heat_falls_with_the_load_and_never_below_idling() {
    let mut before = 0.0;
    for percent in 0..=100 {
        let heat = heat::part_load(Ratio::percent(f64::from(percent)))
            .expect("a load")
            .value;
        assert!(heat.low <= heat.high && heat.low.to_f64() >= before);
        assert!(heat.low.to_f64() >= 0.1);
        before = heat.low.to_f64();
    }
    assert!(heat::part_load(Ratio::of(1.01)).is_err());
    assert!(heat::part_load(Ratio::of(-0.01)).is_err());
    let rpm = RotationalSpeed::rpm;
    assert!(heat::propeller_load(rpm(1000.0), rpm(0.0)).is_err());
    assert!(heat::propeller_load(rpm(-1.0), rpm(2000.0)).is_err());
    assert!(heat::alternator_takes(Power::kw(-1.0)).is_err());
}

#[test]
fn rules_of_area_lie_four_to_one_apart() {
    let installed = Power::kw(30.0);
    let steel = cooler_area::spread(CoolerMetal::Steel, installed).expect("a power");
    assert!((steel.high / steel.low - 4.0).abs() < 1e-9);
    let canal = cooler_area::area(CoolerMetal::Steel, Duty::Canal, installed).expect("a rule");
    assert_eq!(canal.value, steel.low);
    let aluminium = cooler_area::spread(CoolerMetal::Aluminium, installed).expect("a power");
    assert!(aluminium.high < steel.high);
    for none in [0.0, -5.0] {
        assert!(cooler_area::spread(CoolerMetal::Steel, Power::kw(none)).is_err());
        assert!(cooler_area::area(CoolerMetal::Steel, Duty::Slow, Power::kw(none)).is_err());
    }
}

#[test]
fn a_typical_engine_scales_with_its_power_and_pumps_less_against_more() {
    let engine = engine::typical(Power::kw(40.0)).expect("a power");
    assert_eq!(engine.source.status, Status::Practice);
    let lpm = engine.flow.low.to_litres_per_minute();
    assert!((lpm - 64.0).abs() < 1e-9);
    // Both engines of the sheet lie in what is taken as typical of about their heat in power.
    for sheet in engine::engine_sheets() {
        let typical = engine::typical(sheet.heat).expect("a power");
        assert!(typical.flow.contains(sheet.flow), "{sheet:?}");
    }
    let points = engine
        .pump(Density::kg_per_m3(1000.0))
        .expect("a density")
        .value;
    let curve = Quadratic::through(&points).expect("three flows");
    assert!(!curve.rises_at(VolumeFlow::litres_per_minute(40.0)));
    // 17.5 and 15 kPa are 3.31 m of water; a third more with no flow.
    assert!((points[2].head.to_m() - 3.314).abs() < 0.001);
    assert!((points[0].head / points[2].head - 1.35).abs() < 1e-9);
    assert!(engine.pump(Density::kg_per_m3(0.0)).is_err());
    assert!(engine::typical(Power::kw(0.0)).is_err());
}

#[test]
fn oil_thins_as_it_warms_and_ends_where_its_table_ends() {
    let at = |kelvin: f64| Temperature::from_si(kelvin).expect("a temperature");
    let mut before = f64::INFINITY;
    for kelvin in (273..=430).step_by(3) {
        let fluid = oil::fluid(at(f64::from(kelvin))).expect("in the table");
        assert!(fluid.viscosity.si() < before);
        before = fluid.viscosity.si();
        assert_eq!(Ok(fluid.density), oil::density(at(f64::from(kelvin))));
        assert_eq!(Ok(fluid.viscosity), oil::viscosity(at(f64::from(kelvin))));
    }
    for kelvin in [272.9, 430.1] {
        assert!(oil::fluid(at(kelvin)).is_err());
        assert!(oil::density(at(kelvin)).is_err());
    }
    // The table's own Prandtl number at 80 °C is about 490: 546 at 350 K, 395 at 360.
    let prandtl = oil::fluid(at(350.0)).expect("in the table").prandtl();
    assert!((prandtl / 546.0 - 1.0).abs() < 0.01, "{prandtl}");
    assert_eq!(oil::source().status, Status::Printed);
}
