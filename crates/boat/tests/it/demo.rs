//! The demo boats read clean.

use std::fs;
use std::path::Path;

/// The text of every demo boat, with its name.
pub(crate) fn boats() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../boats");
    let mut boats: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path().join("boat.toml"))
        .map(|path| {
            (
                path.display().to_string(),
                fs::read_to_string(&path).unwrap(),
            )
        })
        .collect();
    boats.sort();
    assert!(!boats.is_empty());
    boats
}

#[test]
fn the_demo_boats_have_no_faults() {
    for (name, text) in boats() {
        let (_, places, remarks) = boat::read(&text);
        let said: Vec<String> = remarks
            .iter()
            .map(|remark| {
                let at = places.position_of(remark.span.start);
                format!(
                    "{name}:{}:{} {} {}",
                    at.line, at.column, remark.code, remark.message
                )
            })
            .collect();
        assert_eq!(said, Vec::<String>::new());
    }
}

#[test]
fn the_whole_of_dunlin_is_read() {
    let (_, text) = boats()
        .into_iter()
        .find(|(name, _)| name.contains("dunlin"))
        .unwrap();
    let (boat, places, _) = boat::read(&text);
    assert_eq!(boat.things.len(), 7);
    assert_eq!(boat.runs.len(), 7);
    assert_eq!(boat.joints.len(), 20);
    assert_eq!(boat.arrangements.len(), 3);
    assert_eq!(boat.states.len(), 4);
    assert_eq!(boat.readings[0].temperatures.len(), 2);
    assert_eq!(boat.stock.hose.len(), 5);
    let engine = boat.thing("engine").unwrap();
    assert_eq!(engine.engine.as_ref().unwrap().paths.len(), 5);
    assert!(matches!(
        boat.thing("keel")
            .unwrap()
            .detail
            .pipes
            .as_ref()
            .unwrap()
            .length,
        boat::Told::Two(..)
    ));
    let hidden = engine.spigot("in").unwrap().hidden.as_ref().unwrap();
    assert_eq!(hidden.print_bore, Some(quantity::NominalSize::mm(38)));
    // The copy takes sizes and not heights; what was typed wins.
    let (fwd, aft) = (
        boat.thing("keel-fwd").unwrap(),
        boat.thing("keel-aft").unwrap(),
    );
    assert_eq!(aft.spigots[0].od, fwd.spigots[0].od);
    assert_ne!(aft.spigots[0].behind_bead, fwd.spigots[0].behind_bead);
    assert_eq!(aft.spigots[0].metal, boat::Told::Given(boat::Metal::Bronze));
    let feed = boat.run("feed").unwrap();
    assert_eq!(
        feed.to,
        boat::RunEnd::Tee {
            run: "suck".into(),
            piece: "tee".into()
        }
    );
    assert_eq!(
        &text[places.span("runs.cold.way[1]")],
        "reducer 38>32 bronze"
    );
    let fallback = boat.arranged(Some("fallback")).unwrap();
    assert!(fallback.boat.thing("keel").is_none());
    assert_eq!(fallback.boat.runs.len(), 10);
    assert_eq!(
        fallback.run_place("cold"),
        "arrangements.after.replace.cold"
    );
    assert_eq!(fallback.run_place("suck"), "runs.suck");
    assert_eq!(fallback.shut.len(), 2);
    assert_eq!(fallback.blanked, Vec::<String>::new());
    assert_eq!(boat.arranged(Some("after")).unwrap().blanked.len(), 2);
}

/// What the order reads of a boat: prices, pieces with their lengths, what else is renewed.
#[test]
fn each_demo_boat_says_what_its_order_needs() {
    let all = boats();
    assert_eq!(all.len(), 3, "{:?}", all.iter().map(|(name, _)| name));
    for (name, text) in all {
        let (boat, _, _) = boat::read(&text);
        let currencies: std::collections::BTreeSet<&str> = boat
            .prices
            .iter()
            .filter_map(|price| price.each.given())
            .map(|each| each.currency.as_str())
            .collect();
        assert!(boat.prices.len() >= 12, "{name}: {}", boat.prices.len());
        assert_eq!(currencies.len(), 1, "{name}: {currencies:?}");
        assert!(!boat.stock.parts.is_empty(), "{name}");
        assert!(boat.job.kerf.given().is_some(), "{name}");
        assert!(boat.job.misfit_risk.given().is_some(), "{name}");
        // What is renewed is asked for by what stands with the engine.
        let engine = boat.thing("engine").and_then(|thing| thing.engine.as_ref());
        let engine = engine.unwrap();
        for renewal in &boat.job.also {
            let told = match renewal {
                boat::Renewal::Belt => engine.belt.given().is_some(),
                boat::Renewal::Stat => engine.stat.gasket.given().is_some(),
                boat::Renewal::Cap => boat.things.iter().any(|thing| thing.cap.given().is_some()),
            };
            assert!(told, "{name}: {renewal:?}");
        }
        // Of the hoses that share a run at most one is without its length, else none of them can be cut.
        let after = boat.arranged(Some("after")).unwrap();
        for run in &after.boat.runs {
            let way = run.way.given().map_or(&[][..], Vec::as_slice);
            let unsaid = way
                .iter()
                .filter(|piece| matches!(piece.kind, boat::PieceKind::Hose { .. }))
                .filter(|piece| piece.long.is_none())
                .count();
            assert!(unsaid <= 1, "{name}: {}", run.key);
        }
    }
}
