//! The types that the page is written against are made from ours, and are as committed.

use std::collections::BTreeMap;
use std::path::Path;

use hosewright::{api, serve};
use ts_rs::{Config, ExportError, TS};

use crate::bench::root;

/// With this variable set, the files are written instead of compared.
const BLESS: &str = "HOSEWRIGHT_BLESS";

/// Everything that the page is sent and all that it asks with, with what they are made of.
fn make(folder: &Path) -> Result<(), ExportError> {
    let config = Config::new().with_out_dir(folder).with_large_int("number");
    macro_rules! each {
        ($from:ident: $($name:ident),+ $(,)?) => { $(<$from::$name as TS>::export_all(&config)?;)+ };
    }
    each!(
        api: Page,
        Drawing,
        ReadingAnswer,
        ValueAnswer,
        Trial,
        SurveyPage,
        Outcomes,
        Boats,
        Share,
        News,
        Wrong,
        Card,
        Flow,
        Order,
        Fill,
        Bay,
        Measured,
        MeasureAsk,
        ScanLook,
        LayAsk,
        ScanLaid,
        ScanRay,
        ScanPoint,
    );
    each!(
        serve: EditsAsk,
        StepAsk,
        ReadingAsk,
        TrialAsk,
        KeepAsk,
        EntriesAsk,
        SettleAsk,
        BeginAsk,
        StripQuery,
        LoopQuery,
    );
    Ok(())
}

fn files(folder: &Path) -> BTreeMap<String, String> {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return BTreeMap::new();
    };
    entries
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "ts"))
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, std::fs::read_to_string(&path).unwrap())
        })
        .collect()
}

#[test]
fn the_types_of_the_page_are_as_committed() {
    let kept = root().join("web/src/types");
    let fresh = tempfile::tempdir().unwrap();
    make(fresh.path()).unwrap();
    let made = files(fresh.path());
    assert!(made.contains_key("Page.ts") && made.contains_key("Verdict.ts"));
    for (name, text) in &made {
        assert!(!text.contains("bigint"), "{name}: JSON has no such numbers");
    }
    if std::env::var_os(BLESS).is_some() {
        std::fs::create_dir_all(&kept).unwrap();
        for name in files(&kept).keys() {
            std::fs::remove_file(kept.join(name)).unwrap();
        }
        for (name, text) in &made {
            std::fs::write(kept.join(name), text).unwrap();
        }
    }
    let committed = files(&kept);
    let names = |files: &BTreeMap<String, String>| files.keys().cloned().collect::<Vec<_>>();
    assert_eq!(
        names(&committed),
        names(&made),
        "run this test once with {BLESS}=1"
    );
    for (name, text) in &made {
        assert!(
            committed[name] == *text,
            "web/src/types/{name} is out of date: run this test once with {BLESS}=1"
        );
    }
}
