//! The parts of a circuit by themselves: that their slopes are those of their values, and that no regime ends
//! with a step that would stop a solver.

use quantity::{Length, VolumeFlow};
use reckon::solve::net::{
    Cooler, Curve, Film, Geometry, Gives, Law, Medium, Part, Props, Pump, Raw, Role, Stat, Tee,
    Tubes, Ua, liquids,
};
use reference::exchanger::{self, Arrangement, effectiveness};
use reference::film;
use reference::pump::{Monotone, Point};

use crate::net_kit::{close, half, heated, lift, loss, pipe, plain, pump, surface};

/// Flows that are asked about [kg/s]: both ways, from next to nothing to more than runs in any boat.
const FLOWS: [f64; 12] = [
    -3.1, -0.9, -0.11, -0.012, -1.3e-3, -1e-6, 1e-6, 1.3e-3, 0.012, 0.11, 0.9, 3.1,
];

fn props(medium: &Medium, t: f64) -> Props<f64> {
    medium.at(t)
}

fn points() -> Part {
    let rows: Vec<Point> = [(0.0, 9.0), (6e-4, 8.4), (1.3e-3, 6.0), (2e-3, 1.5)]
        .into_iter()
        .map(|(flow, head)| Point {
            flow: VolumeFlow::of_si(flow),
            head: Length::of_si(head),
        })
        .collect();
    Part::Pump(Pump {
        curve: Curve::Points {
            curve: Monotone::through(&rows).expect("rising flows"),
            ends: [0.0, 2e-3],
        },
        ratio: 0.8,
    })
}

fn kinds() -> Vec<(&'static str, Part)> {
    let kept = match pipe(0.03, 2.0) {
        Part::Pipe(mut pipe) => {
            pipe.factor = Some(0.03);
            pipe.k = 2.0;
            pipe.count = 2.0;
            Part::Pipe(pipe)
        }
        other => other,
    };
    let keel = surface(Geometry::Pipe, Film::Round, 15.0, 1.0);
    let cooler = |gives| {
        Part::Cooler(Box::new(Cooler {
            gives,
            rated: Some((6000.0, 1e-3)),
        }))
    };
    vec![
        ("pipe", pipe(0.03, 2.0)),
        ("pipe of a kept factor", kept),
        ("loss", loss(4.0, 0.03)),
        (
            "check valve",
            Part::Loss {
                ahead: 2.0,
                back: 5e4,
                bore: 0.03,
            },
        ),
        ("rated by the square", heated(0.0)),
        (
            "rated by another power",
            Part::Rated {
                drop: 8000.0,
                flow: 1e-3,
                power: 1.8,
                density: 1030.0,
                heat: 0.0,
            },
        ),
        ("pump", pump(8.0, 1e6, 0.7)),
        ("pump by points", points()),
        ("main way", lift(Role::Main, 0.01)),
        ("by-pass", lift(Role::Bypass, 0.0)),
        ("open by-pass", lift(Role::OpenBypass, 0.0)),
        ("keel cooler", cooler(Gives::Sea(keel))),
        (
            "sink",
            cooler(Gives::Sink {
                ua: 500.0,
                temperature: 20.0,
            }),
        ),
    ]
}

#[test]
fn losses_carry_the_slopes_of_their_values() {
    let medium = half();
    for (name, part) in kinds() {
        for law in [Law::Smooth, Law::Line] {
            for flow in FLOWS {
                for (t, x) in [(20.0, 0.3), (85.0, 0.7)] {
                    let own = props(&medium, t);
                    let with = |flow: f64, x: f64, props: &Props<f64>| {
                        part.loss(law, flow, props, x).expect("a loss")
                    };
                    let told = with(flow, x, &own);
                    let at = |flow: f64, x: f64| with(flow, x, &own).drop;
                    let d = 1e-5 * flow.abs();
                    let slope = (at(flow + d, x) - at(flow - d, x)) / (2.0 * d);
                    let size = slope.abs().max((told.drop / flow).abs());
                    assert!(
                        (told.by_flow - slope).abs() <= 1e-4 * size + 1e-6,
                        "{name} by flow at {flow} kg/s, {t} °C: {} for {slope}",
                        told.by_flow
                    );
                    let slope = (at(flow, x + 1e-6) - at(flow, x - 1e-6)) / 2e-6;
                    assert!(
                        (told.by_lift - slope).abs()
                            <= 1e-5 * slope.abs() + 1e-7 * told.drop.abs() + 1e-9,
                        "{name} by lift at {flow} kg/s: {} for {slope}",
                        told.by_lift
                    );
                    let changed = |share: f64, which: usize| {
                        let mut props = own;
                        let scale = 1.0 + share;
                        match which {
                            0 => props.density *= scale,
                            _ => props.viscosity *= scale,
                        }
                        with(flow, x, &props).drop
                    };
                    // By shares of density and of viscosity.
                    for (which, told_by) in [
                        (0, told.by_density * own.density),
                        (1, told.by_viscosity * own.viscosity),
                    ] {
                        let slope = (changed(1e-5, which) - changed(-1e-5, which)) / 2e-5;
                        assert!(
                            (told_by - slope).abs() <= 1e-4 * told.drop.abs() + 1e-6,
                            "{name} by property {which} at {flow} kg/s: {told_by} for {slope}"
                        );
                    }
                    let pumps = matches!(part, Part::Pump(_));
                    assert!(
                        pumps || told.drop * flow > 0.0,
                        "{name} helps at {flow} kg/s"
                    );
                    assert!(
                        told.by_flow > 0.0 || pumps,
                        "{name} takes less of more at {flow} kg/s"
                    );
                }
            }
        }
    }
}

#[test]
fn losses_pass_standstill_and_the_ends_of_laminar_flow_without_a_step() {
    let medium = plain();
    // Re = ρ v d/µ = 4 m/(π d µ): the flows at 2000 and 4000 of a bore of 30 mm.
    let at_re = |re: f64| re * std::f64::consts::PI * 0.03 * 1e-3 / 4.0;
    for (name, part) in kinds() {
        for law in [Law::Smooth, Law::Line] {
            for flow in [
                0.0,
                at_re(2000.0),
                at_re(4000.0),
                -at_re(2000.0),
                -at_re(4000.0),
            ] {
                let at = |flow: f64| {
                    part.loss(law, flow, &props(&medium, 50.0), 0.5)
                        .expect("a loss")
                        .drop
                };
                let step = (at(flow + 1e-9) - at(flow - 1e-9)).abs();
                let size = 4e-9 * (at(flow) / flow.abs().max(1e-9)).abs();
                assert!(
                    step < 0.01 + size,
                    "{name} steps by {step} Pa at {flow} kg/s"
                );
            }
        }
    }
    // The pumps' curves go on beyond their ends.
    let Part::Pump(by_points) = points() else {
        unreachable!("it is a pump")
    };
    for end in [0.0, 2e-3 * 0.8 * 1000.0] {
        let at = |flow: f64| {
            Part::Pump(by_points.clone())
                .loss(Law::Smooth, flow, &props(&medium, 50.0), 0.0)
                .expect("a loss")
                .drop
        };
        assert!(
            (at(end + 1e-9) - at(end - 1e-9)).abs() < 0.01,
            "at {end} kg/s"
        );
    }
}

#[test]
fn a_way_of_the_thermostat_opens_without_a_step() {
    let stat = Stat {
        node: 0,
        opens: 74.0,
        full: 86.0,
    };
    for t in [74.0, 86.0] {
        close(stat.lift(t - 1e-9).0, stat.lift(t + 1e-9).0, 1e-9);
    }
    assert_eq!(stat.lift(20.0), (0.0, 0.0));
    assert_eq!(stat.lift(99.0), (1.0, 0.0));
    close(stat.lift(77.0).0, 0.25, 1e-15);
    close(stat.lift(77.0).1, 1.0 / 12.0, 1e-15);
    // A main way opens with the lift and a by-pass shuts: by the square of the area that is left.
    let medium = plain();
    let at = |role: Role, leak: f64, x: f64| {
        lift(role, leak)
            .loss(Law::Smooth, 1.0, &props(&medium, 50.0), x)
            .expect("a loss")
            .drop
    };
    close(
        at(Role::Main, 0.1, 0.0) / at(Role::Main, 0.1, 1.0),
        100.0,
        1e-9,
    );
    close(
        at(Role::Bypass, 0.1, 1.0) / at(Role::Bypass, 0.1, 0.0),
        100.0,
        1e-9,
    );
    close(
        at(Role::OpenBypass, 0.1, 1.0),
        at(Role::OpenBypass, 0.1, 0.0),
        0.0,
    );
    // A main way half open, with a tenth left when shut: 0.55 of the area.
    close(
        at(Role::Main, 0.1, 0.5) * 0.55 * 0.55,
        at(Role::Main, 0.1, 1.0),
        1e-6,
    );
    for edge in [1e-4, 1.0 - 1e-9] {
        let main = |x: f64| at(Role::Main, 0.0, x);
        let step = (main(edge * (1.0 + 1e-10)) - main(edge * (1.0 - 1e-10))).abs();
        assert!(step <= 1e-8 * main(edge), "{step} Pa at a lift of {edge}");
    }
}

fn coolers() -> Vec<Cooler> {
    let sea = || liquids::sea(0.035).expect("sea water is published");
    let raw = |flow: f64| Raw {
        medium: sea().into(),
        flow,
        temperature: 14.0,
    };
    let tubes = Tubes {
        count: 50.0,
        passes: 2.0,
        bore: 0.007,
        over: 0.0085,
        length: 0.5,
        conductivity: 45.0,
        shell: 2500.0,
        shell_flow: 1.0,
        shell_power: 0.55,
        dirt_in: 8e-5,
        dirt_out: 4e-5,
    };
    let mut gives = vec![Gives::Sink {
        ua: 700.0,
        temperature: 20.0,
    }];
    for how in Arrangement::SAMPLES {
        gives.push(Gives::Raw(how, Ua::Told(1500.0), raw(0.6)));
        gives.push(Gives::Raw(how, Ua::Tubes(tubes.clone()), raw(0.6)));
    }
    for geometry in [Geometry::Pipe, Geometry::Upright, Geometry::Under] {
        for film in [Film::Round, Film::FlatOneWall] {
            for speed in [0.0, 0.2, 3.0] {
                gives.push(Gives::Sea(surface(geometry, film, 15.0, speed)));
            }
        }
    }
    gives
        .into_iter()
        .map(|gives| Cooler { gives, rated: None })
        .collect()
}

#[test]
fn heat_of_coolers_carries_the_slopes_of_its_values() {
    let medium = half();
    for cooler in coolers() {
        for flow in [2e-5, 3e-3, 0.08, 0.31, 0.87, 2.3] {
            for t in [22.0, 61.0, 88.0] {
                let at = |flow: f64, t: f64| {
                    let told = cooler.heat(&medium, flow, t, &mut None);
                    told.unwrap_or_else(|why| panic!("{cooler:?} at {flow} kg/s, {t} °C: {why:?}"))
                };
                let (heat, by, report) = at(flow, t);
                assert!(
                    heat > 0.0 && heat <= flow * 4200.0 * (t - 14.0) * 1.001,
                    "{heat} W"
                );
                close(report.heat, heat, 1e-12 * heat);
                for (k, d) in [(0, 1e-4 * flow), (1, 1e-3)] {
                    let (dm, dt) = if k == 0 { (d, 0.0) } else { (0.0, d) };
                    let more = at(flow + dm, t + dt).0 - heat;
                    let less = heat - at(flow - dm, t - dt).0;
                    let slope = (more + less) / (2.0 * d);
                    // Where a regime ends between both, either side's slope may be told.
                    let apart = (more - less).abs() / d;
                    let size = if k == 0 {
                        heat / flow
                    } else {
                        heat / (t - 14.0)
                    };
                    assert!(
                        (by[k] - slope).abs() <= 2e-4 * size + apart,
                        "{:?} at {flow} kg/s and {t} °C, by {k}: {} for {slope}",
                        cooler.gives,
                        by[k]
                    );
                }
            }
        }
    }
}

#[test]
fn a_cooler_that_began_elsewhere_gives_the_same_heat() {
    let medium = half();
    for cooler in coolers() {
        let cold = cooler
            .heat(&medium, 0.5, 80.0, &mut None)
            .expect("it settles")
            .0;
        for near in [[80.0, 15.0], [20.0, 79.0], [300.0, -40.0]] {
            let warm = cooler
                .heat(&medium, 0.5, 80.0, &mut Some(near))
                .expect("it settles")
                .0;
            close(warm, cold, 1e-7 * cold);
        }
    }
}

#[test]
fn films_meet_where_their_regimes_meet() {
    for pr in [4.0, 12.0, 90.0] {
        for over_length in [0.0, 0.005, 0.05] {
            for re in [2300.0, 4000.0] {
                let apart = |f: &dyn Fn(f64) -> f64| {
                    (f(re * (1.0 + 1e-9)) / f(re * (1.0 - 1e-9)) - 1.0).abs()
                };
                assert!(apart(&|re| film::inside(re, pr, over_length).expect("a film")) < 1e-7);
                assert!(
                    apart(&|re| film::inside_flat(re, pr, over_length).expect("a film")) < 1e-7
                );
            }
        }
        let bottom = |ra: f64| film::still_bottom(ra, pr).expect("a film");
        close(bottom(1e4 * (1.0 - 1e-9)), bottom(1e4 * (1.0 + 1e-9)), 1e-7);
        close(bottom(0.0), bottom(9e3), 0.0);
    }
}

#[test]
fn effectiveness_meets_the_formula_for_equal_streams() {
    for how in Arrangement::SAMPLES {
        for units in [0.1, 1.0, 5.0] {
            let at = |ratio: f64| effectiveness(how, units, ratio).expect("a ratio");
            close(at(1.0 - 1e-7), at(1.0), 1e-6);
            close(at(1.0 - 0.5e-9), at(1.0 - 2e-9), 1e-6);
            close(at(0.5e-9), at(2e-9), 1e-8);
        }
        // However many units, there is a number, and it is what the arrangement comes near to.
        for ratio in [0.0, 0.3, 1.0] {
            let most = exchanger::most(how, ratio).expect("a ratio");
            let far = effectiveness(how, 1e7, ratio).expect("a ratio");
            close(far, most, 1e-4);
        }
    }
}

fn tee(narrow: f64) -> Tee {
    Tee {
        node: 0,
        legs: [0, 1, 2],
        bore: 0.032,
        narrow,
    }
}

/// What the legs stand over one another [Pa]: the total pressure of each over that of the first.
fn over_first(flows: [f64; 3], narrow: f64) -> [f64; 3] {
    let drops = tee(narrow)
        .losses(flows, 1000.0)
        .map(|loss| loss.map_or(0.0, |loss| loss.drop));
    drops.map(|drop| drop - drops[0])
}

#[test]
fn losses_of_tees_carry_the_slopes_of_their_values() {
    let shares = [0.02, 0.1, 0.35, 0.45, 0.7, 0.95];
    for narrow in [0.5, 0.62, 0.8, 1.0] {
        for share in shares {
            for size in [1.0, -1.0] {
                for [x, y, z] in [
                    [1.0, share - 1.0, -share],
                    [1.0 - share, -1.0, share],
                    [1.0 - share, share, -1.0],
                ] {
                    let flows = [size * x, size * y, size * z];
                    let own = tee(narrow);
                    for (leg, loss) in own.losses(flows, 1000.0).into_iter().enumerate() {
                        let Some(loss) = loss else { continue };
                        let with = |k: usize, d: f64| {
                            let mut moved = flows;
                            moved[k] += d;
                            let there = own.losses(moved, 1000.0)[leg];
                            there.expect("the same leg carries the whole").drop
                        };
                        for (k, told) in [(leg, loss.by_own), (loss.whole, loss.by_whole)] {
                            let slope = (with(k, 1e-6) - with(k, -1e-6)) / 2e-6;
                            let head =
                                500.0 * (1.0 / (1000.0 * 8.04e-4_f64 * narrow * narrow)).powi(2);
                            assert!(
                                (told - slope).abs() <= 1e-5 * (slope.abs() + head),
                                "leg {leg} of {flows:?}, {narrow}: {told} for {slope}"
                            );
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn losses_of_tees_make_no_step_where_a_law_ends() {
    for narrow in [0.4, 0.591, 0.592, 0.7, 0.9, 1.0] {
        for share in [0.01, 0.4, 0.5] {
            for sign in [1.0, -1.0] {
                let at =
                    |share: f64| over_first([sign, sign * (share - 1.0), -sign * share], narrow);
                let (less, more) = (at(share - 1e-9), at(share + 1e-9));
                for (one, other) in less.into_iter().zip(more) {
                    close(one, other, 0.05);
                }
            }
        }
        // As the branch stops and turns, both ways of the run.
        for sign in [1.0, -1.0] {
            let at = |share: f64| over_first([sign, sign * (share - 1.0), -sign * share], narrow);
            for (one, other) in at(-1e-9).into_iter().zip(at(1e-9)) {
                close(one, other, 0.05);
            }
        }
    }
}

#[test]
fn the_enthalpy_is_the_sum_of_the_specific_heat() {
    for medium in [
        half(),
        plain(),
        liquids::fresh().expect("water is published"),
    ] {
        let (low, high) = medium.range();
        let width = high - low;
        for i in -3..=103 {
            let t = low + width * (f64::from(i) + 0.37) / 100.0;
            let slope = (medium.enthalpy(t + 1e-3) - medium.enthalpy(t - 1e-3)) / 2e-3;
            close(slope, medium.heat(t), 1e-5 * slope);
            for near in [t, low, 0.5 * (low + high), high] {
                close(medium.temperature(medium.enthalpy(t), near), t, 1e-9);
            }
        }
    }
}

#[test]
fn a_table_keeps_to_its_liquid() {
    let square = |t: f64| Some([1000.0 - t, 4000.0 + 2.0 * t, 0.5, (-0.02 * t).exp()]);
    let medium = Medium::tabulate(0.0, 100.0, 20, square).expect("all are given");
    let at = medium.at(33.3);
    close(at.density, 966.7, 1e-9);
    close(at.heat, 4066.6, 1e-9);
    close(at.viscosity, (-0.666_f64).exp(), 1e-12);
    close(medium.expansion(33.3), 1.0 / 966.7, 1e-12);
    close(medium.enthalpy(50.0), 4000.0 * 50.0 + 2500.0, 1e-6);
    assert!(Medium::tabulate(0.0, 100.0, 20, |t| (t < 90.0).then_some([1.0; 4])).is_none());
    assert!(Medium::tabulate(100.0, 0.0, 20, square).is_none());
    assert!(Medium::constant(1000.0, 0.0, 0.5, 1e-3).is_none());
}
