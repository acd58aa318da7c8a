//! The demo boats in their bays: every run hangs, and the faults that their stories have are found.

use reckon::{BayAsk, Grade, Input, Memo, Route, Verdict, reckon};

use crate::boats::DUNLIN;

const TANSLEY: &str = include_str!("../../../../boats/tansley/boat.toml");
const WENNA: &str = include_str!("../../../../boats/wenna/boat.toml");

fn route(text: &str) -> (Route, Vec<Verdict>) {
    let (boat, _, _) = boat::read(text);
    let input = Input {
        arrangement: Some("after"),
        bay: Some(BayAsk::default()),
        ..Input::of(&boat)
    };
    let answer = reckon(&input, &mut Memo::default());
    let route = answer.route.expect("she has a bay");
    let verdicts = answer.verdicts.into_iter();
    let own = verdicts.filter(|verdict| verdict.id.starts_with("route."));
    ((*route).clone(), own.collect())
}

#[test]
fn every_run_of_the_demo_boats_hangs() {
    for text in [DUNLIN, TANSLEY, WENNA] {
        let (route, verdicts) = route(text);
        let waits: Vec<_> = route
            .missing
            .iter()
            .map(|missing| (&missing.run, &missing.why))
            .collect();
        assert!(waits.is_empty(), "{waits:?}");
        for verdict in &verdicts {
            assert!(!verdict.because.metric.is_empty(), "{}", verdict.id);
            // What waits for a measurement was not worked out.
            let worked = verdict.grade != Grade::Unmeasured;
            assert!(
                !worked || !verdict.working.sources.is_empty(),
                "{}",
                verdict.id
            );
            let asks = verdict.grade == Grade::Unsound;
            assert!(!asks || !verdict.remedy.metric.is_empty(), "{}", verdict.id);
        }
        // What hangs stays between its mouths: no line leaves the bay.
        for part in route.runs.iter().flat_map(|run| &run.parts) {
            assert!(part.line.len() > 1, "{}", part.key);
            assert!(part.line.iter().flatten().all(|along| along.abs() < 20.0));
        }
    }
}

/// The four faults of her story: a hose too long by 60 mm that rubs, one that folds when hot, a clip that is reached at
/// one hour of the clock alone, and one that no tool reaches.
#[test]
fn dunlins_faults_are_found() {
    let (_, verdicts) = route(DUNLIN);
    let find = |id: &str| {
        let mut all = verdicts.iter();
        all.find(|verdict| verdict.id == id)
            .unwrap_or_else(|| panic!("{id}"))
    };
    let rubs = find("route.hot.chafe-starboard-bearer");
    assert_eq!(rubs.grade, Grade::Unsound, "{}", rubs.because.metric);
    let folds = find("route.cold.bend-hose3");
    assert_eq!(folds.grade, Grade::Unsound);
    assert!(folds.because.metric.contains("hot, it folds"));
    let narrow = find("route.cal-out.to.access");
    // At one hour alone, and with next to no slack there.
    assert_eq!(narrow.grade, Grade::Marginal, "{}", narrow.because.metric);
    assert!(
        narrow.because.metric.contains("the screw head at"),
        "{}",
        narrow.because.metric
    );
    let shut = find("route.cal-back.from.access");
    assert_eq!(shut.grade, Grade::Unsound);
    assert!(shut.because.metric.contains("No tool reaches"));

    // Air that stays in her upright is not excused by a higher place when she heels.
    let air = find("route.cal-back.air");
    assert_eq!(air.grade, Grade::Unsound, "{}", air.because.metric);
    assert!(air.because.metric.contains("leaves air there"));
    assert!(!air.because.metric.contains("heeled"));
    // Steeper than anybody tried, and slower than what was tried would take.
    let steep = find("route.cold.air");
    assert_eq!(steep.grade, Grade::Unsound, "{}", steep.because.metric);
    assert!(steep.because.metric.contains("at 30° already"));

    // With 60 mm less it no longer rubs.
    let cut = "511";
    assert_eq!(DUNLIN.matches(cut).count(), 1, "the length of the hose");
    let (_, shorter) = route(&DUNLIN.replace(cut, "451"));
    assert!(
        shorter
            .iter()
            .all(|verdict| !verdict.id.starts_with("route.hot.") || verdict.grade != Grade::Unsound)
    );
}
