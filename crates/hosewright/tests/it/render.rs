//! Verdicts made by hand, as text: the words of a page without a boat behind them.

use hosewright::files::{Hash, Held};
use hosewright::render::verdict::{Show, verdicts};
use hosewright::render::{FilePlaces, Manner};
use hosewright::text::{Page, Terminal, width};
use quantity::{Kind, System};
use reckon::{
    Basis, Edit, Grade, Number, Settles, Stage, Step, Verdict, Words, Working, WorkingInput,
};

/// Every value stands at line 41, column 9.
struct Line41;

impl hosewright::api::Where for Line41 {
    fn position(&self, _path: &str) -> (usize, usize) {
        (41, 9)
    }
}

fn both(metric: &str, imperial: &str) -> Words {
    Words {
        metric: metric.into(),
        imperial: imperial.into(),
    }
}

fn verdict(id: &str, title: &str, grade: Grade, because: Words) -> Verdict {
    Verdict {
        id: id.into(),
        stage: Stage::Fit,
        subject: "hot.from".into(),
        title: title.into(),
        grade,
        spoken: because.clone(),
        because,
        remedy: Words::default(),
        chance: None,
        basis: Basis::Practice,
        caution: None,
        place: "joints.\"hot.from\".clip".into(),
        margin: None,
        edits: Vec::new(),
        settles: None,
        working: Working::default(),
    }
}

fn five() -> Vec<Verdict> {
    let unsound = Verdict {
        remedy: both(
            "Take a worm clip that opens to 50 mm at least: 32-50 does.",
            "Take a worm clip that opens to 1.97 in at least: 32-50 does.",
        ),
        chance: Some(0.004),
        caution: Some(
            "The circuit is under pressure while it is hot: work on it cold, with the cap off."
                .into(),
        ),
        edits: vec![Edit {
            place: "joints.\"hot.from\".clip".into(),
            from: "\"worm 25-40\"".into(),
            to: "\"worm 32-50\"".into(),
            label: "take the worm clip 32-50".into(),
        }],
        working: Working {
            inputs: vec![
                WorkingInput {
                    symbol: "d_s".into(),
                    name: "spigot".into(),
                    value: Number {
                        kind: Kind::Length,
                        si: 0.035,
                        text: both("35.0 mm", "1.378 in"),
                    },
                    tolerance: Some(Number {
                        kind: Kind::Length,
                        si: 0.0001,
                        text: both("0.1 mm", "0.004 in"),
                    }),
                    from: "caliper".into(),
                    place: Some("engine.spigots.out.od".into()),
                },
                WorkingInput {
                    symbol: "t".into(),
                    name: "wall of the hose".into(),
                    value: Number {
                        kind: Kind::Length,
                        si: 0.005,
                        text: both("5.0 mm", "0.197 in"),
                    },
                    tolerance: Some(Number {
                        kind: Kind::Length,
                        si: 0.0005,
                        text: both("0.5 mm", "0.020 in"),
                    }),
                    from: "assumed".into(),
                    place: None,
                },
            ],
            steps: vec![Step {
                formula: "D = √(d_s² + d_o² − d_i²)".into(),
                filled: both(
                    "√(35.0² + 42.0² − 32.0²) mm",
                    "√(1.378² + 1.654² − 1.260²) in",
                ),
                result: both("44.3 mm", "1.745 in"),
            }],
            limit: both("the clip opens to 40 mm", "the clip opens to 1.57 in"),
            sources: vec!["clip maker's data sheet, worm drive, 11-12 mm band (printed)".into()],
        },
        ..verdict(
            "fit.hot.from.clip",
            "The clip of hose hot on the engine's outlet (A1) is too small to close round it",
            Grade::Unsound,
            both(
                "The hose is 44.3 to 45.0 mm over this spigot; the clip opens to 40 mm.",
                "The hose is 1.745 to 1.772 in over this spigot; the clip opens to 1.57 in.",
            ),
        )
    };
    let marginal = Verdict {
        chance: Some(0.83),
        ..verdict(
            "fit.hot.to.stretch",
            "Stretch of hose hot on the cooler (A2)",
            Grade::Marginal,
            "It is tight.".into(),
        )
    };
    let open = |id: &str, title: &str, how: &str| Verdict {
        settles: Some(Settles {
            place: "things.cooler.spigots.a.od".into(),
            how: how.into(),
        }),
        ..verdict(
            id,
            title,
            Grade::Unmeasured,
            "Its spigot isn't measured.".into(),
        )
    };
    let caliper = "Measure the spigot of the cooler behind its bead with a caliper.";
    vec![
        verdict(
            "fit.cold.to.clip",
            "Clip of hose cold (B2)",
            Grade::Sound,
            "It fits.".into(),
        ),
        marginal,
        open(
            "fit.cold.from.clip",
            "Clip of hose cold (B1)",
            "Read the pressure off the cap.",
        ),
        open("fit.suck.from.clip", "Clip of hose suck (C1)", caliper),
        open(
            "fit.suck.from.stretch",
            "Stretch of hose suck (C1)",
            caliper,
        ),
        unsound,
    ]
}

fn drawn(show: &Show, units: System, terminal: Terminal) -> String {
    let held = Held {
        path: "boats/x/boat.toml".into(),
        text: String::new(),
        hash: Hash::of(b""),
    };
    let manner = Manner {
        units,
        file: Some(FilePlaces {
            held: &held,
            places: &Line41,
        }),
    };
    let mut page = Page::new(terminal);
    verdicts(&mut page, &five(), show, &manner);
    page.finish()
}

#[test]
fn the_worst_comes_first_and_the_sound_are_counted() {
    insta::assert_snapshot!(drawn(&Show::default(), System::Metric, Terminal::default()));
}

#[test]
fn the_working_in_imperial_units_and_plain_letters() {
    let show = Show {
        all: false,
        explain: Some("fit.hot.from".into()),
    };
    insta::assert_snapshot!(drawn(
        &show,
        System::Imperial,
        Terminal {
            unicode: false,
            ..Terminal::default()
        }
    ));
}

#[test]
fn no_terminal_is_too_narrow() {
    for columns in 40..=100 {
        for unicode in [true, false] {
            let show = Show {
                all: true,
                explain: Some(String::new()),
            };
            let text = drawn(
                &show,
                System::Metric,
                Terminal {
                    width: columns,
                    unicode,
                    bold: false,
                },
            );
            assert!(
                text.lines().all(|line| width(line) <= columns),
                "{columns}:\n{text}"
            );
            assert!(unicode || text.is_ascii(), "{text}");
        }
    }
}
