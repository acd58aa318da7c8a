//! Flow: no steps where regimes meet, slopes that agree with differences, and nothing past the sources.

use quantity::{
    AbsolutePressure, Angle, Density, DynamicViscosity, Length, PressureDifference, Quantity,
    RotationalSpeed, VolumeFlow,
};
use reference::Unknown;
use reference::fitting::{self, Entrance, FittingKind};
use reference::friction::{self, Regime, Surface};
use reference::pump::{self, Monotone, Quadratic};
use reference::tee;

use crate::flow_rows::points;

const ROUGH: [f64; 5] = [0.0, 1e-4, 0.002, 0.01, 0.05];

#[track_caller]
fn near(a: f64, b: f64, share: f64) {
    let away = (a - b).abs();
    assert!(
        away <= share * a.abs().max(b.abs()),
        "{a} and {b} are {away} apart"
    );
}

#[track_caller]
fn unknown<T: std::fmt::Debug>(answer: Result<T, Unknown>) {
    let unknown = answer.expect_err("nothing was published there");
    assert!(!unknown.why.is_empty() && !unknown.settles.is_empty());
}

#[test]
fn friction_has_no_step_and_no_kink() {
    for rough in ROUGH {
        for edge in [friction::LAMINAR_UP_TO, friction::TURBULENT_FROM] {
            let at = |re| friction::factor(re, rough).expect("a factor");
            let (below, above) = (at(edge * (1.0 - 1e-9)), at(edge * (1.0 + 1e-9)));
            near(below.value, above.value, 1e-7);
            near(below.slope, above.slope, 1e-5);
        }
    }
}

#[test]
fn the_slope_of_friction_is_that_of_its_differences() {
    for rough in ROUGH {
        for re in [150.0, 1999.0, 2400.0, 3000.0, 3700.0, 4100.0, 3e4, 1e6, 9e7] {
            let at = |re| friction::factor(re, rough).expect("a factor");
            let step = re * 1e-5;
            let difference = (at(re + step).value - at(re - step).value) / (2.0 * step);
            let slope = at(re).slope;
            let scale = slope.abs().max(1e-4 * at(re).value / re);
            assert!(
                (slope - difference).abs() < 1e-3 * scale,
                "{rough} {re}: {slope} {difference}"
            );
        }
    }
}

#[test]
fn more_flow_always_loses_more_and_standing_water_is_regular() {
    for rough in ROUGH {
        let at = |re| friction::reduced_loss(re, rough).expect("a loss");
        assert_eq!((at(0.0).value, at(0.0).slope), (0.0, 64.0));
        let mut before = -1.0;
        for n in 0..4000 {
            let re = 10.0_f64.powf(f64::from(n) * 0.0018);
            let here = at(re);
            assert!(here.value > before && here.slope > 0.0, "{rough} {re}");
            assert_eq!(at(-re).value, -here.value);
            assert_eq!(at(-re).slope, here.slope);
            before = here.value;
        }
    }
}

#[test]
fn colebrook_solves_its_equation_and_the_others_lie_near() {
    for rough in ROUGH {
        for re in [4000.0, 1.3e4, 2e5, 1e8] {
            let f = friction::colebrook(re, rough).expect("a factor").value;
            let right = -2.0 * (rough / 3.7 + 2.51 / (re * f.sqrt())).log10();
            near(1.0 / f.sqrt(), right, 1e-12);
            let haaland = friction::haaland(re, rough).expect("a factor");
            near(f, haaland, 0.02);
            let churchill = friction::churchill(re, rough).expect("a factor");
            near(f, churchill, 0.05);
        }
    }
    near(
        friction::churchill(0.2, 0.0).expect("a factor"),
        320.0,
        1e-9,
    );
    near(
        friction::churchill(900.0, 0.01).expect("a factor"),
        64.0 / 900.0,
        1e-3,
    );
}

#[test]
fn friction_ends_where_its_sources_end() {
    for answer in [
        friction::laminar(0.0),
        friction::laminar(2301.0),
        friction::laminar(f64::NAN),
        friction::haaland(3999.0, 0.0),
        friction::haaland(1e9, 0.0),
        friction::haaland(1e5, 0.051),
        friction::churchill(-1.0, 0.0),
        friction::fully_rough(0.0),
    ] {
        unknown(answer);
    }
    unknown(friction::factor(1e5, -0.001));
    unknown(friction::reduced_loss(100.0, 0.06));
    unknown(friction::reduced_loss(f64::NAN, 0.0));
    unknown(friction::colebrook(2500.0, 0.0));
    let water = (Density::kg_per_m3(1000.0), DynamicViscosity::pa_s(1e-3));
    let flow = VolumeFlow::litres_per_minute(40.0);
    let (bore, none) = (Length::mm(32.0), Length::mm(0.0));
    unknown(friction::mean_speed(flow, none));
    unknown(friction::pipe_loss(
        water.0, water.1, flow, none, bore, none,
    ));
    assert_eq!(Regime::at(1900.0), Regime::Laminar);
    assert_eq!(Regime::at(3000.0), Regime::Transition);
    assert_eq!(Regime::at(4000.0), Regime::Turbulent);
}

#[test]
fn a_laminar_pipe_loses_what_poiseuille_says() {
    let (density, viscosity) = (Density::kg_per_m3(1050.0), DynamicViscosity::pa_s(0.004));
    let (bore, length) = (Length::mm(25.0), Length::m(3.0));
    let flow = VolumeFlow::litres_per_minute(5.0);
    let loss = friction::pipe_loss(density, viscosity, flow, bore, length, Length::mm(0.0015));
    let poiseuille = 128.0 * 0.004 * 3.0 * flow.si() / (std::f64::consts::PI * 0.025_f64.powi(4));
    near(loss.expect("a loss").to_pa(), poiseuille, 1e-12);
    let square = friction::hydraulic_diameter(bore * bore, bore * 4.0).expect("a diameter");
    near(square.si(), bore.si(), 1e-12);
    unknown(friction::hydraulic_diameter(bore * bore, Length::mm(0.0)));
}

#[test]
fn every_surface_and_fitting_has_its_row() {
    for surface in Surface::ALL {
        assert!(friction::roughness(surface).value.low.si() > 0.0);
    }
    for kind in FittingKind::ALL {
        assert!(fitting::times(kind).value >= 3.0);
    }
}

#[test]
fn a_bend_has_no_step_at_a_right_angle() {
    let bore = Length::mm(40.0);
    for ratio in [1.0, 1.7, 5.0, 20.0] {
        let at =
            |degrees| fitting::bend(bore, bore * ratio, Angle::degrees(degrees)).expect("a bend");
        near(at(90.0 - 1e-7), at(90.0 + 1e-7), 1e-8);
        near(at(70.0 - 1e-7), at(70.0 + 1e-7), 1e-7);
        assert_eq!(at(0.0), 0.0);
        let rising = (0..360).all(|degrees| at(f64::from(degrees)) < at(f64::from(degrees) + 1.0));
        assert!(rising, "{ratio}");
    }
    unknown(fitting::bend(bore, bore * 0.9, Angle::degrees(90.0)));
    unknown(fitting::bend(bore, bore * 21.0, Angle::degrees(90.0)));
    unknown(fitting::bend(bore, bore * 2.0, Angle::degrees(361.0)));
    unknown(fitting::mitre(bore, Angle::degrees(91.0)));
    unknown(fitting::entrance(Entrance::Rounded(-0.1)));
    unknown(fitting::turbulent_factor(Length::mm(2.0)));
}

#[test]
fn a_cone_steps_by_no_more_than_its_docs_say() {
    let at = |of: fn(f64, Angle) -> Result<f64, Unknown>, degrees| {
        of(0.6, Angle::degrees(degrees)).expect("a cone")
    };
    near(
        at(fitting::enlargement, 45.0),
        at(fitting::enlargement, 45.0001),
        0.0052,
    );
    near(
        at(fitting::contraction, 45.0),
        at(fitting::contraction, 45.0001),
        0.0103,
    );
    unknown(fitting::enlargement(1.1, Angle::degrees(30.0)));
    unknown(fitting::contraction(0.5, Angle::degrees(181.0)));
    unknown(fitting::reduced_valve(0.1, 0.05, Angle::degrees(30.0)));
}

#[test]
fn a_loss_moves_between_bores_and_flows() {
    let (small, large) = (Length::mm(25.0), Length::mm(50.0));
    near(
        fitting::on_bore(2.0, small, large).expect("a loss"),
        32.0,
        1e-12,
    );
    unknown(fitting::on_bore(2.0, Length::mm(0.0), large));
    unknown(fitting::by_kv(VolumeFlow::litres_per_minute(0.0), small));
    let rated = PressureDifference::bar(0.2);
    let at = VolumeFlow::litres_per_minute(60.0);
    let (water, mix) = (Density::kg_per_m3(1000.0), Density::kg_per_m3(1050.0));
    let back = fitting::rated_drop(rated, at, water, 2.0, -at * 0.5, mix).expect("a drop");
    near(back.to_bar(), -0.2 * 0.25 * 1.05, 1e-12);
    unknown(fitting::rated_drop(rated, at, water, 2.5, at, mix));
    unknown(fitting::rated_drop(rated, at * 0.0, water, 2.0, at, mix));
}

type Tee = fn(f64, f64, Angle) -> Result<f64, Unknown>;
const TEES: [Tee; 4] = [
    tee::joining_branch,
    tee::joining_run,
    tee::parting_branch,
    tee::parting_run,
];

#[test]
fn a_tee_has_no_step_in_the_share() {
    for of in TEES {
        for beta in [0.3, 0.55, 0.6, 0.7, 0.85, 0.95, 1.0] {
            for angle in [30.0, 45.0, 52.0, 60.0, 90.0] {
                let at = |n: u32| of(f64::from(n) / 1e5, beta, Angle::degrees(angle));
                let mut before = at(0).expect("a loss");
                // A slope of some 30 K a share is met where the branch is narrowest.
                let most = 5e-5 / beta.powi(4);
                for n in 1..=100_000 {
                    let here = at(n).expect("a loss");
                    assert!(
                        (here - before).abs() < most,
                        "{n} {beta} {angle}: {before} {here}"
                    );
                    before = here;
                }
            }
        }
    }
}

#[test]
fn a_tee_knows_its_shapes_and_its_negative_losses() {
    let right = Angle::degrees(90.0);
    assert!(tee::joining_branch(0.1, 1.0, right).expect("a loss") < 0.0);
    assert!(tee::parting_run(0.3, 1.0, right).expect("a loss") < 0.0);
    for of in TEES {
        unknown(of(1.01, 1.0, right));
        unknown(of(f64::NAN, 1.0, right));
        unknown(of(0.5, 1.2, right));
        unknown(of(0.5, 0.8, Angle::degrees(75.0)));
        unknown(of(0.5, 0.8, Angle::degrees(20.0)));
    }
}

const CURVE: &str = "0:6.1;40:5.8;80:5.0;120:3.6;150:2.1";

#[test]
fn a_monotone_curve_meets_its_points_and_falls_between_them() {
    let given = points(CURVE);
    let shuffled: Vec<_> = given.iter().rev().copied().collect();
    let curve = Monotone::through(&shuffled).expect("a curve");
    for point in &given {
        near(
            curve.at(point.flow).expect("a head").head.to_m(),
            point.head.to_m(),
            1e-12,
        );
    }
    let at = |lpm: f64| {
        curve
            .at(VolumeFlow::litres_per_minute(lpm))
            .expect("a head")
    };
    for n in 1..1500 {
        let lpm = f64::from(n) / 10.0;
        assert!(at(lpm).head < at(lpm - 0.1).head, "{lpm}");
        let step = 1e-4;
        if lpm < 149.9 {
            let rise = at(lpm + step).head.si() - at(lpm - step).head.si();
            let slope = rise / VolumeFlow::litres_per_minute(2.0 * step).si();
            assert!((slope - at(lpm).slope).abs() < 0.05, "{lpm}: {slope}");
        }
    }
    unknown(curve.at(VolumeFlow::litres_per_minute(150.1)));
    unknown(curve.at(VolumeFlow::litres_per_minute(-0.1)));
    unknown(Monotone::through(&points("40:2.0")));
    unknown(Monotone::through(&points("40:2.0;40:1.0;60:0.5")));
    let straight = Monotone::through(&points("0:4;100:2")).expect("a curve");
    let middle = straight
        .at(VolumeFlow::litres_per_minute(25.0))
        .expect("a head");
    near(middle.head.to_m(), 3.5, 1e-12);
}

#[test]
fn a_quadratic_finds_the_parabola_that_it_was_given() {
    let parabola = |q: f64| 5.0 + 0.004 * q - 0.0003 * q * q;
    let text: Vec<String> = [0.0, 30.0, 55.0, 90.0, 120.0]
        .map(|q| format!("{q}:{}", parabola(q)))
        .to_vec();
    let curve = Quadratic::through(&points(&text.join(";"))).expect("a curve");
    near(curve.shut_off.to_m(), 5.0, 1e-10);
    let at = VolumeFlow::litres_per_minute(70.0);
    near(curve.at(at).head.to_m(), parabola(70.0), 1e-10);
    // It rises until 6.7 L/min: no one working point there.
    assert!(curve.rises_at(VolumeFlow::litres_per_minute(5.0)));
    assert!(!curve.rises_at(VolumeFlow::litres_per_minute(8.0)));
    let (from, to) = (RotationalSpeed::rpm(2400.0), RotationalSpeed::rpm(900.0));
    let slow = curve.at_speed(from, to).expect("a curve");
    let moved = pump::Point {
        flow: at,
        head: curve.at(at).head,
    };
    let moved = pump::at_speed(moved, from, to).expect("a point");
    near(slow.at(moved.flow).head.to_m(), moved.head.to_m(), 1e-12);
    near(
        pump::power_ratio(from, to).expect("a ratio"),
        0.375_f64.powi(3),
        1e-12,
    );
    unknown(pump::power_ratio(from, RotationalSpeed::rpm(0.0)));
    unknown(Quadratic::through(&points("0:5;50:4;50:4.1")));
}

#[test]
fn a_suction_at_the_boiling_pressure_has_nothing_left() {
    let density = Density::kg_per_m3(965.0);
    let boils = AbsolutePressure::bar(0.7);
    let left = pump::suction_head(boils, boils, density).expect("a head");
    assert_eq!(left.to_m(), 0.0);
    let left = pump::suction_head(AbsolutePressure::bar(0.6), boils, density).expect("a head");
    assert!(left.to_m() < 0.0);
    unknown(pump::suction_head(boils, boils, Density::kg_per_m3(0.0)));
    let back = pump::pressure(left, density);
    near(back.to_bar(), -0.1, 1e-12);
}
