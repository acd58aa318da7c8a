//! Answers to the validation rows about flow and heat.

use quantity::{
    AbsolutePressure, Angle, Density, DynamicViscosity, Length, Quantity, Ratio, RotationalSpeed,
    Temperature, TemperatureDifference, VolumeFlow,
};
use reference::exchanger::{self, Arrangement, Units};
use reference::fitting::{self, Entrance, FittingKind};
use reference::friction::{self, Surface};
use reference::pump::{self, Monotone, Point, Quadratic};
use reference::{film, seawater, tee, water};
use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::{Error, StrDeserializer};

use crate::rows::{Answer, Row};

fn word<T: for<'a> Deserialize<'a>>(row: &Row, input: &str) -> T {
    let text: StrDeserializer<'_, Error> = row.text(input).into_deserializer();
    T::deserialize(text).unwrap_or_else(|error| panic!("{}: {error}", row.place))
}

/// A number, or the words of why there is none.
fn known(answer: Result<f64, reference::Unknown>) -> Answer {
    match answer {
        Ok(value) => Answer::Number(value),
        Err(_) => Answer::Text("none".into()),
    }
}

fn arrangement(row: &Row) -> Arrangement {
    match row.text("how") {
        "counter" => Arrangement::Counter,
        "parallel" => Arrangement::Parallel,
        "shell-1" => Arrangement::Shells(1),
        "shell-2" => Arrangement::Shells(2),
        "cross-unmixed" => Arrangement::CrossUnmixed,
        "cross-larger-mixed" => Arrangement::CrossLargerMixed,
        "cross-smaller-mixed" => Arrangement::CrossSmallerMixed,
        other => panic!("{}: arrangement `{other}`", row.place),
    }
}

/// The points of a pump's curve, `L/min:m` pairs.
pub(crate) fn points(text: &str) -> Vec<Point> {
    let pair = |pair: &str| {
        let (flow, head) = pair.split_once(':').expect("a pair");
        Point {
            flow: VolumeFlow::litres_per_minute(flow.parse().expect("a flow")),
            head: Length::m(head.parse().expect("a head")),
        }
    };
    text.split(';').map(pair).collect()
}

pub(crate) fn answer(row: &Row) -> Option<Answer> {
    flow(row).or_else(|| heat(row)).or_else(|| waters(row))
}

fn flow(row: &Row) -> Option<Answer> {
    let n = |input: &str| row.number::<f64>(input);
    let bore = || Length::mm(n("bore_mm"));
    let angle = || Angle::degrees(n("angle"));
    let lpm = || VolumeFlow::litres_per_minute(n("flow_lpm"));
    Some(known(match row.function.as_str() {
        "laminar" => friction::laminar(n("re")),
        "colebrook" => friction::colebrook(n("re"), n("rough")).map(|f| f.value),
        "friction_factor" => friction::factor(n("re"), n("rough")).map(|f| f.value),
        "haaland" => friction::haaland(n("re"), n("rough")),
        "churchill" => friction::churchill(n("re"), n("rough")),
        "fully_rough" => friction::fully_rough(n("rough")),
        "roughness_mm" => {
            let surface: Surface = word(row, "item");
            Ok(friction::roughness(surface).value.middle().to_mm())
        }
        "pipe_loss" => friction::pipe_loss(
            Density::kg_per_m3(n("density")),
            DynamicViscosity::pa_s(n("viscosity")),
            lpm(),
            bore(),
            Length::m(n("length_m")),
            Length::mm(n("rough")),
        )
        .map(|drop| drop.to_pa()),
        "turbulent_factor" => fitting::turbulent_factor(bore()),
        "fitting" => fitting::fitting(word::<FittingKind>(row, "item"), bore()),
        "bend" => fitting::bend(bore(), bore() * n("ratio"), angle()),
        "mitre" => fitting::mitre(bore(), angle()),
        "entrance" => fitting::entrance(match row.text("item") {
            "sharp" => Entrance::Sharp,
            "inward" => Entrance::Inward,
            _ => Entrance::Rounded(n("ratio")),
        }),
        "enlargement" => fitting::enlargement(n("beta"), angle()),
        "contraction" => fitting::contraction(n("beta"), angle()),
        "reduced_valve" => fitting::reduced_valve(n("k"), n("beta"), angle()),
        "on_bore" => fitting::on_bore(n("k"), bore(), Length::mm(n("other_mm"))),
        "by_kv" => fitting::by_kv(VolumeFlow::m3_per_s(n("kv_m3h") / 3600.0), bore()),
        "two_k" => {
            let named = row.text("item");
            let of = fitting::two_k_rows()
                .iter()
                .find(|of| of.fitting == named)?;
            fitting::two_k(of, n("re"), bore())
        }
        "joining_branch" => tee::joining_branch(n("share"), n("beta"), angle()),
        "joining_run" => tee::joining_run(n("share"), n("beta"), angle()),
        "parting_branch" => tee::parting_branch(n("share"), n("beta"), angle()),
        "parting_run" => tee::parting_run(n("share"), n("beta"), angle()),
        "pump_monotone" => Monotone::through(&points(row.text("points")))
            .and_then(|curve| curve.at(lpm()))
            .map(|at| at.head.to_m()),
        "pump_slope" => Monotone::through(&points(row.text("points")))
            .and_then(|curve| curve.at(lpm()))
            .map(|at| at.slope),
        "pump_quadratic" => {
            Quadratic::through(&points(row.text("points"))).map(|curve| curve.at(lpm()).head.to_m())
        }
        "pump_power_ratio" => {
            pump::power_ratio(RotationalSpeed::rpm(1.0), RotationalSpeed::rpm(n("ratio")))
        }
        "suction_head" => pump::suction_head(
            AbsolutePressure::bar(n("pressure_bar")),
            AbsolutePressure::bar(n("boils_bar")),
            Density::kg_per_m3(n("density")),
        )
        .map(|head| head.to_m()),
        _ => return None,
    }))
}

fn heat(row: &Row) -> Option<Answer> {
    let n = |input: &str| row.number::<f64>(input);
    let kelvin = |input: &str| TemperatureDifference::kelvin(n(input));
    if row.function.starts_with("effectiveness_") {
        let (units, ratio) = (n("units"), n("ratio"));
        return Some(known(exchanger::effectiveness(
            arrangement(row),
            units,
            ratio,
        )));
    }
    if row.function.starts_with("units_") {
        let needed = exchanger::units(arrangement(row), n("effectiveness"), n("ratio"));
        return Some(match needed {
            Ok(Units::Needed(units)) => Answer::Number(units),
            Ok(Units::NotReachable { .. }) => Answer::Text("not reachable".into()),
            Err(_) => Answer::Text("none".into()),
        });
    }
    Some(known(match row.function.as_str() {
        "gnielinski" => film::gnielinski(n("re"), n("pr")),
        "inside" => film::inside(n("re"), n("pr"), n("short")),
        "hausen" => film::hausen(n("re"), n("pr"), n("short")),
        "dittus_boelter_cooled" => film::dittus_boelter_cooled(n("re"), n("pr")),
        "entrance_factor" => film::entrance_factor(n("short")),
        "wall_factor" => film::wall_factor(n("pr"), n("pr_wall")),
        "channel_nusselt" => film::channel(n("aspect")).map(|channel| channel.nusselt),
        "channel_friction" => film::channel(n("aspect")).map(|channel| channel.friction_re),
        "channel_one_wall" => Ok(film::channel_one_wall()),
        "plate_local" => film::plate_local(n("re"), n("pr")),
        "plate_between" => film::plate_between(n("fore"), n("aft"), n("pr")),
        "plate_smooth" => film::plate_smooth(n("re"), n("pr")),
        "still_upright" => film::still_upright(n("ra"), n("pr")),
        "still_pipe" => film::still_pipe(n("ra"), n("pr")),
        "still_under" => film::still_under(n("ra"), n("pr")),
        "still_under_older" => film::still_under_older(n("ra")),
        "mixed" => film::mixed(n("forced"), n("still")),
        "most" => exchanger::most(arrangement(row), n("ratio")),
        "mean_difference" => exchanger::mean_difference(kelvin("one_k"), kelvin("other_k"))
            .map(TemperatureDifference::to_kelvin),
        _ => return None,
    }))
}

fn waters(row: &Row) -> Option<Answer> {
    let at = || Temperature::celsius(row.number("celsius"));
    let salt = || Ratio::of(row.number("salt"));
    Some(known(match row.function.as_str() {
        "water_density" => water::density(at()).map(Quantity::si),
        "water_specific_heat" => water::specific_heat(at()).map(Quantity::si),
        "water_conductivity" => water::conductivity(at()).map(Quantity::si),
        "water_viscosity" => water::viscosity(at()).map(Quantity::si),
        "water_expansion" => water::expansion(at()).map(Quantity::si),
        "boiling_pressure" => water::boiling_pressure(at()).map(Quantity::si),
        "boiling_temperature" => {
            water::boiling_temperature(AbsolutePressure::bar(row.number("bar")))
                .map(Temperature::to_celsius)
        }
        "sea_density" => seawater::density(at(), salt()).map(Quantity::si),
        "sea_specific_heat" => seawater::specific_heat(at(), salt()).map(Quantity::si),
        "sea_conductivity" => seawater::conductivity(at(), salt()).map(Quantity::si),
        "sea_viscosity" => seawater::viscosity(at(), salt()).map(Quantity::si),
        "sea_expansion" => seawater::expansion(at(), salt()).map(Quantity::si),
        _ => return None,
    }))
}
