//! Two floors: numbers below, stages above; and no stage leans on another.

use std::path::{Path, PathBuf};

/// All source files under a folder, with their text.
#[expect(clippy::disallowed_methods, reason = "this test reads the source")]
fn sources(folder: &Path) -> Vec<(PathBuf, String)> {
    let mut all = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            all.extend(sources(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            let text = std::fs::read_to_string(&path).unwrap();
            all.push((path, text));
        }
    }
    all
}

fn floor(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(name)
}

/// Lines of code that hold a text; comments may say what they like.
fn lines<'a>(text: &'a str, what: &'a str) -> impl Iterator<Item = &'a str> {
    text.lines()
        .map(|line| line.split("//").next().unwrap_or_default())
        .filter(move |line| line.contains(what))
}

#[test]
fn numbers_know_no_boat_no_verdict_and_no_stage() {
    let files = sources(&floor("solve"));
    assert!(files.len() >= 4);
    for (path, text) in files {
        for above in [
            "boat::",
            "crate::stages",
            "crate::verdict",
            "crate::wire",
            "crate::draft",
            "crate::say",
            "bay::",
        ] {
            let found: Vec<&str> = lines(&text, above).collect();
            assert!(found.is_empty(), "{}: {found:?}", path.display());
        }
    }
}

#[test]
fn no_stage_leans_on_another() {
    let stages = floor("stages");
    let names: Vec<String> = stages
        .read_dir()
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| path.file_stem().unwrap().to_string_lossy().into_owned())
        .filter(|name| name != "mod" && name != "types")
        .collect();
    assert!(names.len() >= 3, "{names:?}");
    for (path, text) in sources(&stages) {
        let inside = path.strip_prefix(&stages).unwrap();
        let own = inside
            .components()
            .next()
            .unwrap()
            .as_os_str()
            .to_string_lossy();
        let own = own.trim_end_matches(".rs");
        for other in names.iter().filter(|name| *name != own) {
            // `types` is shared and `mod` only lists, so neither may lean on any.
            for way in [
                format!("stages::{other}"),
                format!("super::super::{other}"),
                format!("super::{other}::"),
            ] {
                let found: Vec<&str> = lines(&text, &way).collect();
                assert!(found.is_empty(), "{}: {found:?}", path.display());
            }
        }
        let wired: Vec<&str> = lines(&text, "crate::wire").collect();
        assert!(wired.is_empty(), "{}: {wired:?}", path.display());
    }
}
