//! The sheets as they are printed: each page of each demo boat as committed, the same bytes twice, nothing written
//! that is not ours.
//!
//! A page that changed is written beside the committed one as `*.new.svg`, and `compare.html` shows the two. With
//! `HOSEWRIGHT_BLESS=1` the committed pages are written anew.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use crate::bench::{Run, demo_copy, root, run, run_in};

/// With this variable set, the pages are written instead of compared.
const BLESS: &str = "HOSEWRIGHT_BLESS";
/// The day on all of them.
const DAY: &str = "2027-03-14";
/// A page that is larger than this [bytes] is no drawing that one can review.
const LARGEST: usize = 70_000;
const BOATS: [&str; 3] = ["dunlin", "tansley", "wenna"];

fn folder() -> PathBuf {
    root().join("crates/hosewright/tests/sheets")
}

/// Prints a boat into a folder.
fn print(boat: &Path, out: &Path, more: &[&str]) -> Run {
    let (boat, out) = (boat.to_string_lossy(), out.to_string_lossy());
    let mut words = vec!["sheets", &*boat, "--out", &*out, "--date", DAY];
    words.extend(more);
    run(&words)
}

/// The files of a folder by name.
fn files(folder: &Path, ending: &str) -> BTreeMap<String, Vec<u8>> {
    let Ok(folder) = std::fs::read_dir(folder) else {
        return BTreeMap::new();
    };
    folder
        .map(|file| file.unwrap().path())
        .filter_map(|path| {
            let name = path.file_name()?.to_string_lossy().into_owned();
            let fits = name.ends_with(ending) && !name.ends_with(".new.svg");
            fits.then(|| (name, std::fs::read(&path).unwrap()))
        })
        .collect()
}

#[test]
fn each_page_of_each_demo_boat_is_as_committed() {
    let bless = std::env::var_os(BLESS).is_some();
    let mut changed: Vec<String> = Vec::new();
    let mut large: Vec<String> = Vec::new();
    for boat in BOATS {
        let out = tempfile::tempdir().unwrap();
        let printed = print(&root().join("boats").join(boat), out.path(), &["--svg"]);
        assert_eq!(printed.exit, 0, "{boat}: {}", printed.err);
        let fresh: BTreeMap<String, Vec<u8>> = files(out.path(), ".svg")
            .into_iter()
            .map(|(name, page)| (name, without_type(&page)))
            .collect();
        assert!(fresh.len() >= 10, "{boat}: {} pages", fresh.len());
        let kept_in = folder().join(boat);
        std::fs::create_dir_all(&kept_in).unwrap();
        // What an earlier run left beside the committed pages is of no more use.
        for stale in std::fs::read_dir(&kept_in).unwrap() {
            let stale = stale.unwrap().path();
            if stale.to_string_lossy().ends_with(".new.svg") {
                std::fs::remove_file(stale).unwrap();
            }
        }
        let kept = files(&kept_in, ".svg");
        for name in fresh.keys().chain(kept.keys()).collect::<BTreeSet<_>>() {
            let (new, old) = (fresh.get(name), kept.get(name));
            if let Some(new) = new
                && new.len() > LARGEST
            {
                large.push(format!("{boat}/{name}: {} bytes", new.len()));
            }
            if new == old {
                continue;
            }
            let path = kept_in.join(name);
            match new {
                Some(new) if bless => std::fs::write(&path, new).unwrap(),
                None if bless => std::fs::remove_file(&path).unwrap(),
                Some(new) => {
                    let beside = name.replace(".svg", ".new.svg");
                    std::fs::write(kept_in.join(beside), new).unwrap();
                }
                None => {}
            }
            if !bless {
                changed.push(format!("{boat}/{name}"));
            }
        }
    }
    let page = folder().join("compare.html");
    if changed.is_empty() {
        // It is there only where an earlier run found a change.
        let _ = std::fs::remove_file(page);
    } else {
        std::fs::write(page, compare(&changed)).unwrap();
    }
    assert!(large.is_empty(), "over {LARGEST} bytes: {large:?}");
    assert!(
        changed.is_empty(),
        "{} pages changed: look at crates/hosewright/tests/sheets/compare.html, then run this test once with {BLESS}=1: {changed:?}",
        changed.len()
    );
}

/// A page without the type that it brings along, which is the same on all.
fn without_type(page: &[u8]) -> Vec<u8> {
    let page = std::str::from_utf8(page).unwrap();
    let lines = page
        .split_inclusive('\n')
        .filter(|line| !line.trim_start().starts_with("@font-face"));
    lines.collect::<String>().into_bytes()
}

/// A page that shows each changed sheet beside the committed one.
fn compare(changed: &[String]) -> String {
    let mut page = String::from(
        "<!doctype html>\n<html lang=\"en-GB\">\n<meta charset=\"utf-8\">\n<title>Sheets that changed</title>\n<style>\n",
    );
    for (family, style, weight, file) in [
        ("B612", "normal", 400, "B612-Regular"),
        ("B612", "normal", 700, "B612-Bold"),
        ("B612", "italic", 400, "B612-Italic"),
        ("Hosewright Signs", "normal", 400, "HosewrightSigns"),
    ] {
        page.push_str(&format!(
            "@font-face{{font-family:\"{family}\";font-style:{style};font-weight:{weight};src:url(../../../sheets/fonts/{file}.ttf)}}\n"
        ));
    }
    page.push_str("body{font:16px B612,sans-serif}div{display:flex;gap:8px}svg,p.none{width:49%;height:auto;border:1px solid #999}\n</style>\n");
    for name in changed {
        let page_or = |name: &str, none: &str| {
            std::fs::read_to_string(folder().join(name))
                .unwrap_or_else(|_| format!("<p class=\"none\">{none}</p>"))
        };
        page.push_str(&format!(
            "<h2>{name}</h2>\n<p>Left as committed, right as printed now.</p>\n<div>\n{}{}</div>\n",
            page_or(name, "Not committed."),
            page_or(&name.replace(".svg", ".new.svg"), "No longer printed."),
        ));
    }
    page.push_str("</html>\n");
    page
}

#[test]
fn two_runs_print_the_same_bytes() {
    let (one, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let boat = root().join("boats/wenna");
    for out in [&one, &other] {
        assert_eq!(print(&boat, out.path(), &["--svg"]).exit, 0);
    }
    for ending in [".pdf", ".svg"] {
        let (one, other) = (files(one.path(), ending), files(other.path(), ending));
        assert!(one.len() > 5, "{ending}: {}", one.len());
        assert_eq!(
            one.keys().collect::<Vec<_>>(),
            other.keys().collect::<Vec<_>>()
        );
        for (name, bytes) in &one {
            assert!(other[name] == *bytes, "{name} differs");
        }
    }
}

#[test]
fn the_signs_of_an_answer_change_only_with_what_is_shown() {
    let hashes = |words: &[&str]| -> BTreeMap<String, String> {
        let run = run(words);
        let document: serde_json::Value = serde_json::from_str(&run.out)
            .unwrap_or_else(|error| panic!("{words:?}: {error}: {}", run.out));
        document["sheets"]
            .as_array()
            .unwrap()
            .iter()
            .map(|sheet| {
                let text = |key: &str| sheet[key].as_str().unwrap().to_owned();
                (text("name"), text("hash"))
            })
            .collect()
    };
    let boat = demo_copy();
    let folder = boat.path().to_string_lossy().into_owned();
    let usual = ["sheets", &folder, "--dry-run", "--json", "--date", DAY];
    let before = hashes(&usual);
    assert!(before.len() >= 10, "{before:?}");
    let with = |more: &[&str]| {
        let mut words = vec!["sheets", &*folder, "--dry-run", "--json"];
        words.extend(more);
        hashes(&words)
    };
    // Neither the day nor the paper is part of an answer; units are.
    assert_eq!(with(&["--date", "2028-01-01"]), before);
    assert_eq!(with(&["--date", DAY, "--paper", "letter"]), before);
    assert_ne!(with(&["--date", DAY, "--units", "imperial"]), before);
    // A remark moves nothing; a clip moves the joint list and leaves the gauge.
    let file = boat.path().join("boat.toml");
    let text = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, format!("{text}# a remark\n")).unwrap();
    assert_eq!(hashes(&usual), before);
    let edited = text.replacen(
        "\"hot.from\" = { clip = \"worm 40-60 316\", clips = 1 }",
        "\"hot.from\" = { clip = \"worm 32-50 316\", clips = 1 }",
        1,
    );
    assert_ne!(edited, text);
    std::fs::write(&file, edited).unwrap();
    let after = hashes(&usual);
    assert_ne!(after["joints"], before["joints"]);
    assert_eq!(after["gauge"], before["gauge"]);
}

#[test]
fn what_is_not_ours_is_left_alone_and_then_nothing_is_written() {
    let out = tempfile::tempdir().unwrap();
    let boat = root().join("boats/dunlin");
    std::fs::write(out.path().join("joints.pdf"), "mine").unwrap();
    let refused = print(&boat, out.path(), &[]);
    assert_eq!(refused.exit, 2, "{}", refused.out);
    assert!(refused.err.contains("joints.pdf"), "{}", refused.err);
    assert_eq!(std::fs::read_dir(out.path()).unwrap().count(), 1);
    // One's own is printed again.
    std::fs::remove_file(out.path().join("joints.pdf")).unwrap();
    for _ in 0..2 {
        let printed = print(&boat, out.path(), &["--only", "joints"]);
        assert_eq!(printed.exit, 0, "{}", printed.err);
    }
    let names: Vec<String> = files(out.path(), ".pdf").into_keys().collect();
    assert_eq!(names, ["joints.pdf"]);
}

/// A file is ours by its last line, not by a word somewhere in it.
#[test]
fn a_file_that_only_speaks_of_our_mark_is_not_ours() {
    let out = tempfile::tempdir().unwrap();
    let boat = root().join("boats/dunlin");
    let file = out.path().join("joints.pdf");
    for mine in [
        "my notes on hosewright-sheet thing",
        "% hosewright-sheet\nand more of mine\n",
        "% hosewright-sheet notes\n",
        "hosewright-sheet\n",
    ] {
        std::fs::write(&file, mine).unwrap();
        let refused = print(&boat, out.path(), &["--only", "joints"]);
        assert_eq!(refused.exit, 2, "{mine:?}: {}", refused.out);
        assert_eq!(std::fs::read_to_string(&file).unwrap(), mine);
    }
    // What was printed before the boat stood beside the mark is still ours.
    std::fs::write(&file, "%PDF\n% hosewright-sheet\n").unwrap();
    let printed = print(&boat, out.path(), &["--only", "joints"]);
    assert_eq!(printed.exit, 0, "{}", printed.err);
}

#[test]
fn no_page_of_an_earlier_or_another_boat_is_left_among_the_pages() {
    let out = tempfile::tempdir().unwrap();
    let boat = root().join("boats/dunlin");
    let joints = ["--svg", "--only", "joints"];
    assert_eq!(print(&boat, out.path(), &joints).exit, 0);
    let pages: Vec<String> = files(out.path(), ".svg").into_keys().collect();
    // A page of a longer list goes; what is not ours stays, and so does another sheet's.
    let page = std::fs::read(out.path().join("joints-1.svg")).unwrap();
    std::fs::write(out.path().join("joints-97.svg"), &page).unwrap();
    std::fs::write(out.path().join("gauge-97.svg"), &page).unwrap();
    std::fs::write(out.path().join("joints-98.svg"), "mine").unwrap();
    assert_eq!(print(&boat, out.path(), &joints).exit, 0);
    let mut left: Vec<String> = files(out.path(), ".svg").into_keys().collect();
    left.retain(|name| !pages.contains(name));
    assert_eq!(left, ["gauge-97.svg", "joints-98.svg"]);
    // Another boat finds no room beside them, whichever of her sheets is asked for.
    let before = files(out.path(), "");
    for only in ["joints", "card"] {
        let other = root().join("boats/tansley");
        let refused = print(&other, out.path(), &["--svg", "--only", only]);
        assert_eq!(refused.exit, 2, "{}", refused.out);
        assert!(refused.err.contains("another boat's"), "{}", refused.err);
        assert!(files(out.path(), "") == before, "something was written");
    }
}

#[test]
fn without_a_folder_they_lie_beside_the_boat_file() {
    let boat = demo_copy();
    let printed = run_in(
        boat.path(),
        "C.UTF-8",
        &["sheets", "--only", "card", "--date", DAY],
    );
    assert_eq!(printed.exit, 0, "{}", printed.err);
    assert!(boat.path().join("sheets/card.pdf").is_file());
    let dry = demo_copy();
    let told = run_in(dry.path(), "C.UTF-8", &["sheets", "--dry-run"]);
    assert_eq!(told.exit, 0, "{}", told.err);
    assert_eq!(std::fs::read_dir(dry.path()).unwrap().count(), 1);
}

#[test]
fn a_name_or_a_day_that_is_none_is_refused_with_what_would_do() {
    let refused = run(&["sheets", "boats/dunlin", "--only", "joint", "--dry-run"]);
    assert_eq!(refused.exit, 2);
    let told = refused.err.replace("\n  ", " ");
    assert!(told.contains("did you mean joints"), "{told}");
    assert!(told.contains("card"), "{told}");
    let refused = run(&["sheets", "boats/dunlin", "--only", "", "--dry-run"]);
    assert_eq!(refused.exit, 2);
    let told = refused.err.replace("\n  ", " ");
    assert!(told.contains("--only '': it names no sheet"), "{told}");
    assert!(told.contains("survey-filled"), "{told}");
    let refused = run(&["sheets", "boats/dunlin", "--date", "14.3.2027", "--dry-run"]);
    assert_eq!(refused.exit, 2);
    assert!(refused.err.contains("2027-03-14"), "{}", refused.err);
}

#[test]
fn a_file_where_the_folder_is_to_be_is_named_as_what_it_is() {
    let out = tempfile::tempdir().unwrap();
    let file = out.path().join("notes");
    std::fs::write(&file, "mine").unwrap();
    for folder in [file.clone(), file.join("sheets")] {
        let refused = print(&root().join("boats/dunlin"), &folder, &["--only", "tape"]);
        assert_eq!(refused.exit, 2, "{}", refused.out);
        let told = refused.err.replace("\n  ", " ");
        assert!(told.contains("is a file"), "{told}");
        assert!(told.contains("go into a folder"), "{told}");
    }
    assert_eq!(std::fs::read_to_string(file).unwrap(), "mine");
}

/// The words of all pages of a sheet, in the order in which they are drawn.
fn words(boat: &str, sheet: &str) -> String {
    let out = tempfile::tempdir().unwrap();
    let printed = print(
        &root().join("boats").join(boat),
        out.path(),
        &["--svg", "--only", sheet],
    );
    assert_eq!(printed.exit, 0, "{}", printed.err);
    let mut words = String::new();
    for (_, page) in files(out.path(), ".svg") {
        let page = String::from_utf8(page).unwrap();
        for piece in page.split("<text").skip(1) {
            let text = piece.split_once('>').map_or("", |(_, text)| text);
            words.push_str(text.split("</text").next().unwrap_or_default());
            words.push(' ');
        }
    }
    words
}

#[test]
fn every_card_has_this_boats_valves_and_its_own_first_line() {
    let dunlin = words("dunlin", "card");
    for part in [
        "keel-fwd",
        "under sole board 4",
        "keel-aft",
        "Do not open the cap",
    ] {
        assert!(dunlin.contains(part), "{part}: {dunlin}");
    }
    assert!(!dunlin.to_lowercase().contains("exhaust"), "{dunlin}");
    let tansley = words("tansley", "card");
    assert!(tansley.contains("behind the coal box"), "{tansley}");
    assert!(!tansley.to_lowercase().contains("exhaust"), "{tansley}");
    let wenna = words("wenna", "card");
    assert!(wenna.contains("No water at the exhaust"), "{wenna}");
    assert!(wenna.contains("under the pot table"), "{wenna}");
}

#[test]
fn every_page_carries_boat_day_signs_and_its_number() {
    let out = tempfile::tempdir().unwrap();
    let printed = print(
        &root().join("boats/dunlin"),
        out.path(),
        &["--svg", "--json"],
    );
    let document: serde_json::Value = serde_json::from_str(&printed.out).unwrap();
    for sheet in document["sheets"].as_array().unwrap() {
        let hash = &sheet["hash"].as_str().unwrap()[..8];
        let pages = sheet["svg"].as_array().unwrap();
        assert_eq!(pages.len() as u64, sheet["pages"].as_u64().unwrap());
        for (at, path) in pages.iter().enumerate() {
            let page = std::fs::read_to_string(path.as_str().unwrap()).unwrap();
            let number = format!("{} of {}", at + 1, pages.len());
            for wanted in ["Dunlin", DAY, hash, &number] {
                assert!(page.contains(wanted), "{path}: {wanted}");
            }
        }
    }
}
