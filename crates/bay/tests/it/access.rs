//! Where tools reach, against closed forms: walls, corridors, a tool that leans, swings or bends.

use std::f64::consts::{PI, TAU};

use bay::Vec3;
use bay::access::{
    Approach, Arc, Better, Clip, Fineness, Housing, How, InFront, Legs, Moment, Obstacle, Outcome,
    Part, Reach, Tool, Way, Which, Works, better, in_the_way, obstacles, reach, reaches,
    room_in_front, usual, widest,
};
use bay::clock::ClipFrame;
use bay::solid::{Body, Shape, Space};

use crate::kit::at;

pub(crate) const FINE: How = How {
    fineness: Fineness {
        step: 3.0 * PI / 180.0,
        least: 0.2 * PI / 180.0,
        ends: 0.001 * PI / 180.0,
    },
    which: Which::Every,
};

pub(crate) fn tool(works: Works, approach: Approach) -> Tool {
    Tool {
        name: "a tool".to_owned(),
        works,
        approach,
        rise: 0.006,
        source: "of the test".to_owned(),
    }
}

/// A straight driver: shaft to 132 mm, handle to 231 mm, centre lines.
pub(crate) fn straight() -> Tool {
    tool(
        Works::Screw,
        Approach::Screw {
            parts: vec![
                Part::on_line(0.012, 0.132, 0.004),
                Part::on_line(0.148, 0.231, 0.016),
            ],
            tilt: 0.0,
        },
    )
}

pub(crate) fn pincers() -> Tool {
    tool(
        Works::Ear,
        Approach::Radial {
            parts: vec![Part::on_line(0.020, 0.206, 0.014)],
            legs: None,
        },
    )
}

fn flexible() -> Tool {
    tool(
        Works::Screw,
        Approach::Bent {
            straight: Part::on_line(0.012, 0.042, 0.005),
            length: 0.180,
            radius: 0.005,
            least_bend: 0.060,
            handle: 0.083,
            handle_radius: 0.016,
        },
    )
}

/// A clip of 40 mm whose axis is upright: the angle counts from x towards y.
pub(crate) fn clip() -> Clip {
    Clip {
        frame: ClipFrame::new(Vec3::ZERO, Vec3::Z, Vec3::X).expect("a frame"),
        od: 0.040,
        housing: None,
        works: None,
    }
}

/// A wall whose face stands at `distance` along `normal`.
pub(crate) fn wall(normal: Vec3, distance: f64) -> Shape {
    let normal = normal.normalize();
    let other = if normal.z.abs() < 0.9 {
        Vec3::Z
    } else {
        Vec3::X
    };
    let side = normal.cross(other).normalize();
    Shape::Box {
        center: normal * (distance + 0.5),
        half: Vec3::new(0.5, 3.0, 3.0),
        axes: [normal, side, normal.cross(side)],
    }
}

pub(crate) fn named<'a>(shapes: &'a [Shape]) -> Vec<Obstacle<'a>> {
    const NAMES: [&str; 8] = ["a", "b", "c", "d", "e", "f", "g", "h"];
    shapes
        .iter()
        .zip(NAMES.iter().cycle())
        .map(|(shape, name)| Obstacle { name, shape })
        .collect()
}

pub(crate) fn one(clip: &Clip, tool: &Tool, shapes: &[Shape], how: How) -> Reach {
    reach(clip, std::slice::from_ref(tool), &named(shapes), how)
        .pop()
        .expect("one tool, one answer")
}

pub(crate) fn free(reach: &Reach, way: Way) -> Vec<Arc> {
    reach
        .ways
        .iter()
        .find(|found| found.way == way)
        .map(|found| found.free.clone())
        .expect("the tool comes that way")
}

/// The only arc, in degrees, or a failure.
#[track_caller]
fn only(arcs: &[Arc]) -> (f64, f64) {
    assert_eq!(arcs.len(), 1, "{arcs:?}");
    (arcs[0].from.to_degrees(), arcs[0].to.to_degrees())
}

#[track_caller]
fn close(found: f64, wanted: f64) {
    let off = (found - wanted).rem_euclid(360.0);
    assert!(off.min(360.0 - off) < 0.01, "{found} is not {wanted}");
}

/// For a wall square to x at a distance, a point of the driver `t` along it on a radius `h` stands at
/// `h cos φ ∓ t sin φ`: the angle at which a ball there just touches, either side of the free arc (°).
fn wall_arc(distance: f64, h: f64, t: f64, radius: f64) -> Option<(f64, f64)> {
    let arm = h.hypot(t);
    let share = (distance - radius) / arm;
    if share >= 1.0 {
        return None;
    }
    let (half, lead) = (share.acos(), t.atan2(h));
    Some(((half - lead).to_degrees(), (TAU - half - lead).to_degrees()))
}

#[test]
fn a_wall_leaves_the_arc_of_the_closed_form() {
    for millimetres in [62.0, 80.0, 110.0, 150.0, 200.0, 240.0] {
        let distance = millimetres / 1000.0;
        let reach = one(&clip(), &straight(), &[wall(Vec3::X, distance)], FINE);
        let (from, to) = wall_arc(distance, 0.026, 0.231, 0.016).expect("it blocks");
        let plus = only(&free(&reach, Way::ScrewPlus));
        close(plus.0, from);
        close(plus.1, to);
        // The other way round is the mirror image.
        let minus = only(&free(&reach, Way::ScrewMinus));
        close(minus.0, -to);
        close(minus.1, -from);
        // The middle of the arc is where to put it.
        let best = reach.best().expect("it reaches");
        close(best.angle.to_degrees(), (from + to) / 2.0);
        close(best.slack().to_degrees(), (to - from) / 2.0);
    }
    // Past the reach of the handle's end nothing is blocked, short of it something is.
    let edge = 0.026_f64.hypot(0.231) + 0.016;
    let beyond = one(&clip(), &straight(), &[wall(Vec3::X, edge + 1e-4)], FINE);
    assert_eq!(free(&beyond, Way::ScrewPlus), [Arc::WHOLE]);
    let within = one(&clip(), &straight(), &[wall(Vec3::X, edge - 1e-4)], FINE);
    assert!(free(&within, Way::ScrewPlus)[0].width() < TAU);
}

#[test]
fn a_corridor_leaves_two_arcs_and_a_narrow_one_none() {
    let distance = 0.080;
    let both = [wall(Vec3::X, distance), wall(-Vec3::X, distance)];
    let reach = one(&clip(), &straight(), &both, FINE);
    let (from, to) = wall_arc(distance, 0.026, 0.231, 0.016).expect("it blocks");
    // The second wall is the first turned by half a turn.
    let arcs = free(&reach, Way::ScrewPlus);
    assert_eq!(arcs.len(), 2, "{arcs:?}");
    let mut wanted = [(from + 180.0, to), (from, to - 180.0)];
    wanted.sort_by(|a, b| a.0.rem_euclid(360.0).total_cmp(&b.0.rem_euclid(360.0)));
    for (arc, (from, to)) in arcs.iter().zip(wanted) {
        close(arc.from.to_degrees(), from);
        close(arc.to.to_degrees(), to);
    }
    // Walls all round, so near that no line between them is long enough.
    let box_in: Vec<Shape> = [Vec3::X, -Vec3::X, Vec3::Y, -Vec3::Y]
        .map(|normal| wall(normal, 0.150))
        .to_vec();
    let reach = one(&clip(), &straight(), &box_in, FINE);
    assert!(reach.free.is_empty());
    let names = reach.blocked_by(&named(&box_in));
    assert_eq!(names.len(), 4, "{names:?}");
}

#[test]
fn pincers_stand_off_a_wall_by_the_closed_form() {
    let (distance, radius, end) = (0.080, 0.014, 0.226);
    let reach = one(&clip(), &pincers(), &[wall(Vec3::X, distance)], FINE);
    let edge = ((distance - radius) / end).acos().to_degrees();
    let (from, to) = only(&reach.free);
    close(from, edge);
    close(to, 360.0 - edge);
    close(reach.best().expect("it reaches").angle.to_degrees(), 180.0);
}

#[test]
fn a_window_narrower_than_the_step_is_found() {
    // Two walls leave pincers 2.8°: the first looks stand 5° apart and both see a hit.
    let normal = |degrees: f64| at(degrees.to_radians().cos(), degrees.to_radians().sin(), 0.0);
    let (radius, end, distance) = (0.014, 0.226, 0.080_f64);
    let edge = ((distance - radius) / end).acos().to_degrees();
    let aim = 47.3;
    let walls = [
        wall(normal(aim + 1.4 + edge), distance),
        wall(normal(aim - 1.4 - edge), distance),
        wall(normal(aim + 180.0), distance),
    ];
    let how = How {
        fineness: Fineness::default(),
        ..FINE
    };
    let reach = one(&clip(), &pincers(), &walls, how);
    let arcs = &reach.free;
    let seen = arcs.iter().any(|arc| arc.holds(aim.to_radians()));
    assert!(seen, "{arcs:?}");
    let found = widest(arcs).expect("an arc");
    assert!((found.width().to_degrees() - 2.8).abs() < 0.5, "{found:?}");
}

#[test]
fn a_thing_thinner_than_the_step_is_not_passed_over() {
    // A wire of 1 mm upright at the shaft's end, between two looks at 5°.
    let place = at(0.026, 0.130, 0.0);
    let turned = |degrees: f64| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        at(
            place.x * cos - place.y * sin,
            place.x * sin + place.y * cos,
            0.0,
        )
    };
    for degrees in [2.5, 46.0, 181.7] {
        let foot = turned(degrees);
        let wire = Shape::Capsule {
            a: foot - Vec3::Z,
            b: foot + Vec3::Z,
            radius: 0.0005,
        };
        let how = How {
            fineness: Fineness::default(),
            ..FINE
        };
        let reach = one(&clip(), &straight(), &[wire], how);
        let arcs = free(&reach, Way::ScrewPlus);
        assert!(
            !arcs.iter().any(|arc| arc.holds(degrees.to_radians())),
            "{degrees}: {arcs:?}"
        );
    }
}

#[test]
fn a_driver_that_may_lean_passes_where_an_upright_one_does_not() {
    // A shelf square to the hose's axis that comes up to 8 mm from the plane of the clip.
    let shelf = wall(-Vec3::Z, 0.008);
    let parts = vec![Part::on_line(0.030, 0.200, 0.010)];
    let leaning = |degrees: f64| {
        tool(
            Works::Screw,
            Approach::Screw {
                parts: parts.clone(),
                tilt: f64::to_radians(degrees),
            },
        )
    };
    // Leant away by τ its near end stands at 30 sin τ above the plane: it wants 10 − 8 mm there.
    let least = (0.002_f64 / 0.030).asin().to_degrees();
    let upright = one(&clip(), &leaning(0.0), std::slice::from_ref(&shelf), FINE);
    assert!(upright.free.is_empty());
    let short = one(
        &clip(),
        &leaning(least - 0.05),
        std::slice::from_ref(&shelf),
        FINE,
    );
    assert!(short.free.is_empty());
    let enough = one(&clip(), &leaning(least + 0.05), &[shelf], FINE);
    assert_eq!(enough.free, [Arc::WHOLE]);
}

#[test]
fn a_lever_wants_its_arc() {
    // A slot between two shelves at the height of the screw head: in it a lever of 138 mm and 12 mm
    // radius swings through 2 asin((w − 12)/138).
    let frame = ClipFrame::new(Vec3::ZERO, Vec3::X, Vec3::Y).expect("a frame");
    let clip = Clip {
        frame,
        od: 0.040,
        housing: None,
        works: None,
    };
    let (lever, radius, arc) = (0.138, 0.012, 30_f64.to_radians());
    let ratchet = tool(
        Works::Screw,
        Approach::Swing {
            parts: vec![Part::on_line(0.012, 0.048, 0.012)],
            at: 0.050,
            lever,
            radius,
            arc,
        },
    );
    let half = lever * (arc / 2.0).sin() + radius;
    for (width, wanted) in [(half + 1e-4, true), (half - 1e-4, false)] {
        // The slot's middle is at the screw head of the angle nought: 26 mm up.
        let slot = [wall(Vec3::Z, 0.026 + width), wall(-Vec3::Z, width - 0.026)];
        let reach = one(&clip, &ratchet, &slot, FINE);
        let holds = free(&reach, Way::ScrewPlus)
            .iter()
            .any(|arc| arc.holds(0.0));
        assert_eq!(holds, wanted, "{width}");
    }
}

#[test]
fn a_flexible_driver_bends_off_a_wall_by_the_closed_form() {
    let distance = 0.080;
    let reach = one(&clip(), &flexible(), &[wall(Vec3::X, distance)], FINE);
    // Bent away at once, the shaft comes nearest where it has turned along the wall:
    // 26 cos φ + 42 s + 60 (1 − |cos φ|) + 5 = 80, s = |sin φ|.
    let over = |degrees: f64| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        26.0 * cos + 42.0 * sin.abs() + 60.0 * (1.0 - cos.abs()) + 5.0 - 80.0
    };
    let root = |mut low: f64, mut high: f64| {
        for _ in 0..60 {
            let middle = (low + high) / 2.0;
            if (over(low) > 0.0) == (over(middle) > 0.0) {
                low = middle;
            } else {
                high = middle;
            }
        }
        low
    };
    let arcs = free(&reach, Way::ScrewPlus);
    let (from, to) = only(&arcs);
    let (first, last) = (root(271.0, 359.0), root(181.0, 269.0) + 360.0);
    // What is found is free, and within half a degree of all that is.
    assert!(from >= first - 0.01 && from < first + 0.5, "{from} {first}");
    assert!(to <= last + 0.01 && to > last - 0.5, "{to} {last}");
    // It finds more than a straight one.
    let rigid = one(&clip(), &straight(), &[wall(Vec3::X, distance)], FINE);
    assert!(free(&rigid, Way::ScrewPlus)[0].width() < arcs[0].width());
    // Its caps hang together from the screw to the hand.
    let best = reach.best().expect("it reaches");
    let joined = |pair: &[bay::access::Cap]| {
        let gap = (pair[1].a - pair[0].b).length();
        gap < 1e-9 || (gap - 0.016).abs() < 1e-9
    };
    assert!(best.caps.windows(2).all(joined));
    let length: f64 = best.caps.iter().map(|cap| (cap.b - cap.a).length()).sum();
    assert!((length - (0.030 + 0.180 + 0.083)).abs() < 1e-3, "{length}");
}

#[test]
fn a_flexible_driver_is_spared_where_a_straight_one_reaches() {
    let tools = [straight(), flexible()];
    let how = How {
        which: Which::FlexibleLast,
        ..How::default()
    };
    let walls = [wall(Vec3::X, 0.080)];
    let found = reach(&clip(), &tools, &named(&walls), how);
    assert_eq!(found[1].outcome, Outcome::Spared);
    assert!(found[0].best().is_some());
    // Walled in at 150 mm all round the straight one fails and the flexible one finds its way out above.
    let near: Vec<Shape> = [Vec3::X, -Vec3::X, Vec3::Y, -Vec3::Y]
        .map(|normal| wall(normal, 0.150))
        .to_vec();
    let found = reach(&clip(), &tools, &named(&near), how);
    assert!(found[0].best().is_none());
    assert!(found[1].best().is_some());
}

#[test]
fn the_housing_wants_room_too() {
    let mut with = clip();
    with.housing = Some(Housing::default());
    // A plate 12 mm off the hose: less than the housing's height.
    let plate = Shape::upright_box(at(0.034, 0.0, 0.0), at(0.002, 0.015, 0.050));
    let bare = one(&clip(), &pincers(), std::slice::from_ref(&plate), FINE);
    let short = tool(
        Works::Screw,
        Approach::Screw {
            parts: vec![Part::on_line(0.012, 0.040, 0.001)],
            tilt: 0.0,
        },
    );
    let free_of = |clip: &Clip| {
        let reach = one(clip, &short, std::slice::from_ref(&plate), FINE);
        free(&reach, Way::ScrewPlus)
            .iter()
            .any(|arc| arc.holds(0.0))
    };
    assert!(free_of(&clip()));
    assert!(!free_of(&with));
    // An ear has no housing.
    let eared = one(&with, &pincers(), std::slice::from_ref(&plate), FINE);
    assert_eq!(eared.free, bare.free);
}

#[test]
fn legs_of_pincers_open_round_the_hose() {
    // A plate beside the pincers, across the way in which they open, blocks; one across the hose does not.
    let spread = tool(
        Works::Ear,
        Approach::Radial {
            parts: vec![],
            legs: Some(Legs {
                from: 0.075,
                to: 0.188,
                spread: 0.096,
                radius: 0.012,
            }),
        },
    );
    let beside = Shape::upright_box(at(0.180, 0.050, 0.0), at(0.03, 0.005, 0.05));
    let above = Shape::upright_box(at(0.180, 0.0, 0.050), at(0.03, 0.05, 0.005));
    let holds = |shape: Shape| {
        let reach = one(&clip(), &spread, &[shape], FINE);
        reach.free.iter().any(|arc| arc.holds(0.0))
    };
    assert!(!holds(beside));
    assert!(holds(above));
}

#[test]
fn side_pincers_lie_along_the_hose() {
    let side = usual()
        .into_iter()
        .find(|tool| tool.name.contains("side"))
        .expect("it is one of the usual");
    // A floor just behind the clip blocks the way over the spigot and leaves the way along the hose.
    let reach = one(&clip(), &side, &[wall(-Vec3::Z, 0.060)], FINE);
    assert_eq!(free(&reach, Way::AlongHose), [Arc::WHOLE]);
    assert!(free(&reach, Way::OverSpigot).is_empty());
}

#[test]
fn a_clip_of_a_hose_does_not_mind_its_own_hose() {
    let space = Space::new(vec![Body::solid("hull", wall(Vec3::X, 0.080))]);
    let own = Shape::Tube {
        points: vec![at(0.0, 0.0, -0.3), at(0.0, 0.0, 0.3)],
        radius: 0.020,
    };
    let other = Shape::Tube {
        points: vec![at(-0.07, 0.0, -0.3), at(-0.07, 0.0, 0.3)],
        radius: 0.020,
    };
    let all = [("own", &own), ("other", &other)];
    let among = obstacles(&space, all, "own");
    let names: Vec<&str> = among.iter().map(|obstacle| obstacle.name).collect();
    assert_eq!(names, ["hull", "other"]);
    let tools = [pincers()];
    assert!(reaches(&clip(), &tools, &among, Fineness::default()));
    // The other hose stands in the way where the hull does not; the hull is fixed.
    let by = in_the_way(&clip(), &tools, &among, 1, 0.05);
    assert_eq!(by, [1]);
    // With its own hose among them nothing is free.
    let inside = obstacles(&space, all, "");
    let stub = [tool(
        Works::Screw,
        Approach::Screw {
            parts: vec![Part::on_line(0.0, 0.01, 0.007)],
            tilt: 0.0,
        },
    )];
    assert!(!reaches(&clip(), &stub, &inside, Fineness::default()));
    assert!(reaches(&clip(), &stub, &among, Fineness::default()));
}

#[test]
fn a_moment_says_which_hoses_are_in() {
    let order = [2, 0, 3, 1];
    assert_eq!(Moment::Fitting.others(3, &order), [2, 0]);
    assert_eq!(Moment::Fitting.others(7, &order), [] as [usize; 0]);
    assert_eq!(Moment::AllIn.others(3, &order), [2, 0, 1]);
    assert_eq!(Moment::OutAlone.others(2, &order), [0, 3, 1]);
}

#[test]
fn a_typed_distance_tells_which_tools_fit() {
    let tools = usual();
    let in_front = |length: f64, across: Option<f64>| -> Vec<String> {
        room_in_front(InFront { length, across }, &tools)
            .into_iter()
            .filter(|fits| fits.holds())
            .map(|fits| fits.tool)
            .collect()
    };
    let at_120 = in_front(0.120, None);
    assert!(!at_120.contains(&"screwdriver".to_owned()));
    assert!(at_120.contains(&"ratchet and socket".to_owned()));
    assert!(in_front(0.140, None).contains(&"stubby driver".to_owned()));
    assert!(in_front(0.300, None).contains(&"screwdriver".to_owned()));
    // Narrow across, the hand does not go in; where nobody measured, that is said.
    assert!(!in_front(0.300, Some(0.060)).contains(&"screwdriver".to_owned()));
    let fits = room_in_front(
        InFront {
            length: 0.300,
            across: None,
        },
        &tools,
    );
    assert!(fits.iter().all(|fits| !fits.is_settled() || !fits.holds()));
}

#[test]
fn lengths_of_the_usual_tools_are_those_of_the_trade() {
    // Room along the tool in mm: common practice, no source.
    let trade = [
        ("screwdriver", 250.0, 110.0),
        ("stubby driver", 110.0, 110.0),
        ("nut driver", 230.0, 110.0),
        ("ratchet and socket", 60.0, 150.0),
        ("pincers, front jaw", 200.0, 120.0),
        ("pincers, side jaw", 200.0, 120.0),
        ("spring-band pliers", 200.0, 100.0),
    ];
    let tools = usual();
    for (name, length, across) in trade {
        let tool = tools.iter().find(|tool| tool.name == name).expect(name);
        let room = tool.room();
        assert!(
            (room.length * 1000.0 - length).abs() < 2.5,
            "{name}: {room:?}"
        );
        assert!(
            (room.across * 1000.0 - across).abs() < 2.5,
            "{name}: {room:?}"
        );
    }
    assert!(tools.iter().all(|tool| tool.source == bay::access::SOURCE));
}

#[test]
fn ears_and_screws_are_set_beside_each_other() {
    let tools = [straight(), pincers()];
    let found = reach(&clip(), &tools, &[], FINE);
    assert_eq!(better(&found, Works::Screw, Works::Ear), Better::Both);
    // Walled in at 120 mm neither a driver of 247 mm nor pincers of 240 mm find room.
    let shut = [Vec3::X, -Vec3::X, Vec3::Y, -Vec3::Y].map(|normal| wall(normal, 0.120));
    let found = reach(&clip(), &tools, &named(&shut), FINE);
    assert_eq!(better(&found, Works::Screw, Works::Ear), Better::Neither);
    let found = reach(&clip(), &tools[..1], &named(&shut), FINE);
    assert_eq!(
        better(&found, Works::Screw, Works::Ear),
        Better::Untried(Works::Ear)
    );
    // Short tools for the screw alone.
    let stub = tool(
        Works::Screw,
        Approach::Screw {
            parts: vec![Part::on_line(0.012, 0.050, 0.004)],
            tilt: 0.0,
        },
    );
    let found = reach(&clip(), &[stub, pincers()], &named(&shut), FINE);
    let judged = better(&found, Works::Screw, Works::Ear);
    assert_eq!(judged, Better::First);
    let words = judged.words(Works::Screw, Works::Ear);
    assert!(
        words.starts_with("no tool reaches an ear clip here; take a worm-drive clip"),
        "{words}"
    );
}

#[test]
fn the_owners_measures_change_a_tools_lengths_alone() {
    for tool in usual() {
        let room = tool.room();
        let (long, round) = match tool.approach {
            // Of these the room is not what one measures of the tool: a quarter turn, and half a swing.
            Approach::Bent { .. } => (0.405, room.across),
            Approach::Swing { .. } => (room.length, 2.0 * room.across),
            _ => (room.length, room.across),
        };
        // Its own measures change nothing.
        let same = tool.measuring(long, round).room();
        assert!(
            (same.length - room.length).abs() < 2e-3,
            "{} {same:?} {room:?}",
            tool.name
        );
        assert!(
            (same.across - room.across).abs() < 2e-3,
            "{} {same:?} {room:?}",
            tool.name
        );
        let other = tool.measuring(1.2 * long, 0.9 * round);
        assert_eq!(other.works, tool.works);
        assert_eq!(
            std::mem::discriminant(&other.approach),
            std::mem::discriminant(&tool.approach)
        );
        assert_eq!(other.source, "as written");
        if let (Approach::Screw { tilt, .. }, Approach::Screw { tilt: before, .. }) =
            (&other.approach, &tool.approach)
        {
            assert_eq!(tilt, before);
            assert!((other.room().length - 1.2 * long).abs() < 1e-9);
            assert!((other.room().across - 0.9 * round).abs() < 1e-9);
        }
    }
}
