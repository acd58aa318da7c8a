//! A bay that nobody built: one hose from an engine down and forward to a keel pipe, a second run of two hoses and
//! an elbow, and a third that could not be laid.

use reckon::{
    ByHand, Grade, JointRow, JointSizes, LaidBody, LaidClip, LaidPart, LaidRun, LaidSpot, LayOrder,
    LeastBend, LeastGap, NotLaid, Number, Place, Route, Settles, Shown, Words,
};

/// Which way x points, and so y, in the words of the answer.
pub(crate) const FACINGS: [[&str; 2]; 4] = [
    ["forward", "to port"],
    ["aft", "to starboard"],
    ["to port", "aft"],
    ["to starboard", "forward"],
];

/// A place or a way by bow, port and up, as it stands in the bay of one facing.
pub(crate) fn facing(axes: [&str; 2], [bow, port, up]: Place) -> Place {
    let along = |word: &str| match word {
        "forward" => bow,
        "aft" => -bow,
        "to port" => port,
        "to starboard" => -port,
        other => panic!("{other} is no way to point"),
    };
    [along(axes[0]), along(axes[1]), up]
}

pub(crate) struct Bay {
    pub route: Route,
    pub joints: Vec<JointRow>,
}

/// The whole bay, its x pointing that way.
pub(crate) fn bay(axes: [&str; 2]) -> Bay {
    let at = |place: Place| facing(axes, place);
    let line = |places: Vec<Place>| places.into_iter().map(at).collect::<Vec<_>>();
    let hot = line(curve(
        [
            [0.0, 0.10, 0.30],
            [0.0, 0.36, 0.30],
            [0.20, 0.38, 0.16],
            [0.52, 0.30, -0.02],
        ],
        [0.52, 0.30, -0.16],
    ));
    let low = *hot.last().unwrap();
    let bend = hot[9];
    let cold: Vec<Place> = curve(
        [
            [-0.10, -0.05, 0.12],
            [-0.10, 0.30, 0.12],
            [0.10, 0.45, 0.02],
            [0.30, 0.45, -0.02],
        ],
        [0.36, 0.45, -0.02],
    );
    let back = curve(
        [
            [0.42, 0.45, 0.04],
            [0.42, 0.45, 0.20],
            [0.55, 0.40, 0.25],
            [0.70, 0.30, 0.25],
        ],
        [0.78, 0.30, 0.25],
    );
    let runs = vec![
        LaidRun {
            run: "hot".into(),
            mark: "A".into(),
            title: "Hot coolant from the engine to the forward keel pipe".into(),
            grade: Grade::Marginal,
            parts: vec![LaidPart {
                key: "hot.hose".into(),
                bends: true,
                line: hot.clone(),
                radius: 0.0235,
                title: "hose 38 wired".into(),
                cut: Some(0.912),
                cut_text: Some(both("912 mm", "35.9 in")),
                window_text: Some(both("901 mm to 928 mm will do", "35.5 in to 36.5 in will do")),
                window: Some((0.901, 0.928)),
            }],
            up: hot.clone(),
            down: hot.clone(),
            bend: Some(LeastBend {
                at: bend,
                centre: at([0.16, 0.25, 0.20]),
                radius: 0.118,
                text: both("118 mm to the centre line, the hose bears 95 mm", "4.6 in to the centre line, the hose bears 3.7 in"),
            }),
            gap: Some(LeastGap {
                from: at([0.11, 0.316, 0.242]),
                to: at([0.11, 0.285, 0.252]),
                gap: 0.014,
                with: "exhaust manifold".into(),
                text: both("14 mm to exhaust manifold, which wants 50 mm", "0.55 in to exhaust manifold, which wants 2 in"),
            }),
            highs: vec![LaidSpot {
                at: at([0.0, 0.20, 0.30]),
                text: both("high spot: bleed at engine out", "high spot: bleed at engine out"),
            }],
            lows: vec![LaidSpot {
                at: low,
                text: "stays wet when the loop is drained".into(),
            }],
            facts: vec![
                ("pull on the spigots".into(), both("6 N and 4 N", "1.3 lbf and 0.9 lbf")),
                ("longest span".into(), both("870 mm", "34.3 in")),
            ],
        },
        LaidRun {
            run: "cold".into(),
            mark: "B".into(),
            title: "Cold return, by an elbow under the battery box, from the calorifier's lower coil to the pump".into(),
            grade: Grade::Sound,
            parts: vec![
                part("cold.hose", true, line(cold), Some(0.71), "hose 38 epdm"),
                part(
                    "cold.elbow",
                    false,
                    line(vec![[0.33, 0.45, -0.02], [0.40, 0.45, -0.015], [0.42, 0.45, 0.01], [0.42, 0.45, 0.07]]),
                    None,
                    "elbow 90 38 bronze",
                ),
                part("cold.hose2", true, line(back), Some(0.55), "hose 38 epdm"),
            ],
            up: Vec::new(),
            down: Vec::new(),
            bend: None,
            gap: None,
            highs: Vec::new(),
            lows: Vec::new(),
            facts: Vec::new(),
        },
    ];
    let clip = |joint: &str, mark: &str, seat: Place, axis: Place, noon: Place| LaidClip {
        joint: joint.into(),
        nth: 1,
        of: 1,
        mark: mark.into(),
        title: format!("clip at {mark}"),
        grade: Grade::Unmeasured,
        at: at(seat),
        half: 0.006,
        axis: at(axis),
        noon: at(noon),
        radius: 0.024,
        screw: None,
        clock: None,
        tool: None,
        way: Vec::new(),
        free: Vec::new(),
        moments: Vec::new(),
        text: "Not swept yet.".into(),
    };
    let up = [0.0, 0.0, 1.0];
    let port = [0.0, 1.0, 0.0];
    let bow = [1.0, 0.0, 0.0];
    // Half past four on a clip whose spigot points to port: the bow is at 9 o'clock for whoever looks to starboard.
    let first = clip("hot.from", "A1", [0.0, 0.12, 0.30], port, up);
    let (sin, cos) = 135.0_f64.to_radians().sin_cos();
    let screw = [-0.03 * sin, 0.12, 0.30 + 0.03 * cos];
    let handle = [screw[0] + 0.18 * cos, 0.12, screw[2] + 0.18 * sin];
    let first = LaidClip {
        grade: Grade::Marginal,
        screw: Some(at(screw)),
        clock: Some("half past 4".into()),
        tool: Some("nut driver 7 mm".into()),
        way: vec![(vec![at(screw), at(handle)], 0.006)],
        free: vec![(78.0, 157.0), (320.0, 335.0)],
        text: both(
            "When all is in, a nut driver reaches it with the screw head at half past 4, from aft, 22° either way.",
            "When all is in, a nut driver reaches it with the screw head at half past 4, from aft, 22° either way.",
        ),
        ..first
    };
    // A spigot that points straight up: 12 is the bow.
    let second = LaidClip {
        grade: Grade::Sound,
        screw: Some(at([0.55, 0.30, -0.14])),
        clock: Some("12".into()),
        tool: Some("ratchet with 8 mm socket".into()),
        way: vec![(vec![at([0.55, 0.30, -0.14]), at([0.55, 0.30, 0.06])], 0.01)],
        free: vec![(0.0, 360.0)],
        text: "When all is in, a ratchet reaches it at any position of the clock.".into(),
        ..clip("hot.to", "A2", [0.52, 0.30, -0.14], up, bow)
    };
    let clips = vec![
        first,
        second,
        clip("cold.from", "B1", [-0.10, -0.03, 0.12], port, up),
        LaidClip {
            grade: Grade::Unsound,
            text: "No tool reaches it at any position of the clock: the battery box is in the way."
                .into(),
            ..clip(
                "cold.elbow.a",
                "B2",
                [0.34, 0.45, -0.02],
                [-1.0, 0.0, 0.0],
                up,
            )
        },
        clip("cold.elbow.b", "B3", [0.42, 0.45, 0.06], up, bow),
        clip("cold.to", "B4", [0.76, 0.30, 0.25], [-1.0, 0.0, 0.0], up),
    ];
    let bodies = vec![
        solid(
            cuboid("engine", "solid", [-0.55, -0.25, -0.05], [0.10, 0.10, 0.42]),
            axes,
        ),
        solid(
            cylinder(
                "exhaust manifold",
                "hot",
                ([-0.45, 0.235, 0.25], [0.18, 0.235, 0.25]),
                0.05,
            ),
            axes,
        ),
        solid(
            cuboid(
                "battery box",
                "solid",
                [0.22, 0.42, 0.06],
                [0.50, 0.62, 0.30],
            ),
            axes,
        ),
        solid(
            cylinder(
                "belt pulley",
                "moving",
                ([0.12, -0.05, 0.15], [0.16, -0.05, 0.15]),
                0.09,
            ),
            axes,
        ),
        solid(
            cuboid(
                "floor frame",
                "hull",
                [-0.70, -0.60, -0.24],
                [1.00, 0.80, -0.20],
            ),
            axes,
        ),
        solid(
            cuboid("far tank", "solid", [2.5, -0.6, 0.0], [3.0, 0.6, 0.5]),
            axes,
        ),
    ];
    Bay {
        route: Route {
            axes: axes.map(str::to_owned),
            moves: 0.008,
            bodies,
            runs,
            clips,
            missing: vec![NotLaid {
                short: None,
                run: "vent".into(),
                mark: "C".into(),
                why: "the place of header.vent is not known".into(),
                settles: Settles {
                    place: "header.vent".into(),
                    how: "Measure three distances to header.vent.".into(),
                },
            }],
            order: Some(LayOrder::Works(vec!["cold".into(), "hot".into()])),
            ..Route::default()
        },
        joints: vec![
            joint(
                "hot.from",
                "A1",
                "hot",
                "engine out",
                Some("hot.hose"),
                Some(2),
            ),
            joint(
                "hot.to",
                "A2",
                "hot",
                "forward keel pipe in",
                Some("hot.hose"),
                Some(1),
            ),
            joint(
                "cold.from",
                "B1",
                "cold",
                "calorifier lower coil",
                Some("cold.hose"),
                Some(1),
            ),
            joint(
                "cold.elbow.a",
                "B2",
                "cold",
                "elbow in cold",
                Some("cold.hose"),
                Some(2),
            ),
            JointRow {
                push_on: None,
                clip: None,
                clips: None,
                ..joint(
                    "cold.elbow.b",
                    "B3",
                    "cold",
                    "elbow in cold",
                    Some("cold.hose2"),
                    None,
                )
            },
            joint(
                "cold.to",
                "B4",
                "cold",
                "pump in",
                Some("cold.hose2"),
                Some(1),
            ),
        ],
    }
}

fn both(metric: &str, imperial: &str) -> Words {
    Words {
        metric: metric.into(),
        imperial: imperial.into(),
    }
}

fn part(key: &str, bends: bool, line: Vec<Place>, cut: Option<f64>, title: &str) -> LaidPart {
    LaidPart {
        key: key.into(),
        bends,
        line,
        radius: 0.0235,
        title: title.into(),
        cut,
        cut_text: None,
        window_text: None,
        window: None,
    }
}

fn joint(
    key: &str,
    mark: &str,
    run: &str,
    spigot: &str,
    piece: Option<&str>,
    clips: Option<u32>,
) -> JointRow {
    let push = 0.034;
    JointRow {
        joint: key.into(),
        mark: mark.into(),
        run: run.into(),
        spigot_name: spigot.into(),
        spigot: None,
        bead: None,
        hose: "hose 38 wired".into(),
        bore: None,
        over: None,
        stretch: None,
        fitted_low: None,
        fitted_high: None,
        clip: Some("worm 32-50".into()),
        clip_chosen: true,
        clips,
        chance: None,
        neighbours: Vec::new(),
        push_on: Some(Number {
            kind: quantity::Kind::Length,
            si: push,
            text: both("34 mm", "1.34 in"),
        }),
        torque: None,
        grade: Grade::Sound,
        id_prefix: format!("fit.{key}"),
        sizes: JointSizes {
            bore: Some(Shown {
                text: both("38.1 ± 0.2 mm", "1.500 ± 0.008 in"),
                from: "caliper".into(),
                guessed: false,
            }),
            over: Some(Shown {
                text: both("(47 ± 1 mm) assumed", "(1.85 ± 0.04 in) assumed"),
                from: "assumed".into(),
                guessed: true,
            }),
            ..JointSizes::default()
        },
        by_hand: ByHand {
            piece: piece.map(str::to_owned),
            close: Some("tighten".into()),
            push_on_assumes: match mark {
                "A2" => vec!["width of the bead".into()],
                _ => Vec::new(),
            },
            ..ByHand::default()
        },
    }
}

/// A curve of one cubic piece, then straight to an end.
fn curve([a, b, c, d]: [Place; 4], end: Place) -> Vec<Place> {
    let mut line: Vec<Place> = (0..=24)
        .map(|n| {
            let t = f64::from(n) / 24.0;
            let u = 1.0 - t;
            [0, 1, 2].map(|i| {
                u * u * u * a[i]
                    + 3.0 * u * u * t * b[i]
                    + 3.0 * u * t * t * c[i]
                    + t * t * t * d[i]
            })
        })
        .collect();
    line.push(end);
    line
}

fn solid(mut body: LaidBody, axes: [&str; 2]) -> LaidBody {
    for point in &mut body.points {
        *point = facing(axes, *point);
    }
    body
}

fn cuboid(title: &str, nature: &str, low: Place, high: Place) -> LaidBody {
    let points = (0..8)
        .map(|n| [0, 1, 2].map(|i| if n >> i & 1 == 0 { low[i] } else { high[i] }))
        .collect();
    let quads = [
        [0, 2, 3, 1],
        [4, 5, 7, 6],
        [0, 1, 5, 4],
        [2, 6, 7, 3],
        [0, 4, 6, 2],
        [1, 3, 7, 5],
    ];
    LaidBody {
        name: title.replace(' ', "-"),
        title: title.into(),
        nature: nature.into(),
        frame: "hull".into(),
        keep: 0.02,
        points,
        triangles: quads
            .iter()
            .flat_map(|[a, b, c, d]| [[*a, *b, *c], [*a, *c, *d]])
            .collect(),
        edges: (0..8_u32)
            .flat_map(|n| [1, 2, 4].map(|bit| (n, n | bit)))
            .filter(|(a, b)| a != b)
            .map(|(a, b)| [a, b])
            .collect(),
    }
}

/// A round bar along the ship.
fn cylinder(title: &str, nature: &str, (from, to): (Place, Place), r: f64) -> LaidBody {
    let round = 24_u32;
    let ring = |end: Place| {
        (0..round).map(move |n| {
            let (sin, cos) = (f64::from(n) / f64::from(round) * std::f64::consts::TAU).sin_cos();
            [end[0], end[1] + r * cos, end[2] + r * sin]
        })
    };
    let mut points: Vec<Place> = ring(from).chain(ring(to)).collect();
    points.extend([from, to]);
    let mut triangles = Vec::new();
    let mut edges = Vec::new();
    for n in 0..round {
        let m = (n + 1) % round;
        triangles.extend([
            [n, m, round + m],
            [n, round + m, round + n],
            [2 * round, m, n],
            [2 * round + 1, round + n, round + m],
        ]);
        edges.extend([[n, m], [round + n, round + m]]);
    }
    LaidBody {
        name: title.replace(' ', "-"),
        title: title.into(),
        nature: nature.into(),
        frame: "engine".into(),
        keep: 0.05,
        points,
        triangles,
        edges,
    }
}
