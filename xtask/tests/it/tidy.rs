//! Tidy: the project passes every rule, and every rule bites.

use std::collections::{BTreeMap, BTreeSet};

use xtask::tidy::words::Banned;
use xtask::tidy::{Project, RULES, documents, edges, reasons, shape, versions, words};
use xtask::tree;

fn project() -> Project {
    Project::read(&tree::root()).unwrap()
}

/// The project with one file put in its place, or added.
fn with(path: &str, text: &str) -> Project {
    let mut project = project();
    project.files.retain(|file| file.path != path);
    project.files.push(tree::File {
        path: path.to_owned(),
        bytes: text.as_bytes().to_vec(),
    });
    project
}

/// Only the faults that name `what`.
fn naming(faults: Vec<String>, what: &str) -> Vec<String> {
    faults.into_iter().filter(|f| f.contains(what)).collect()
}

#[test]
fn the_project_keeps_every_rule() {
    let project = project();
    let faults: Vec<String> = RULES
        .iter()
        .flat_map(|(name, rule)| {
            rule(&project)
                .into_iter()
                .map(move |f| format!("{name}: {f}"))
        })
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn a_banned_word_is_found_as_a_word_only() {
    let banned = Banned {
        words: vec!["later".into()],
        parts: vec!["/somewhere/".into()],
        skipped: Vec::new(),
    };
    let text = "All is well.\nDo it Later: it is lateral.\nRead /somewhere/else.\n";
    assert_eq!(
        words::found(&banned, "a.md", text),
        ["a.md:2: `Later`", "a.md:3: `/somewhere/`"]
    );
    assert_eq!(
        words::found(&banned, "later.md", ""),
        ["later.md:0: `later`"]
    );
}

fn edge_map(edges: &[(&str, &[&str])]) -> BTreeMap<String, BTreeSet<String>> {
    edges
        .iter()
        .map(|(name, to)| {
            (
                (*name).to_owned(),
                to.iter().map(|t| (*t).to_owned()).collect(),
            )
        })
        .collect()
}

#[test]
fn an_edge_that_is_not_drawn_is_found_and_one_that_is_only_drawn() {
    let drawn = edges::drawn("```edges\na:\nb: a\nc: a, b\n```\n").unwrap();
    assert_eq!(
        drawn,
        edge_map(&[("a", &[]), ("b", &["a"]), ("c", &["a", "b"])])
    );
    let real = edge_map(&[("a", &["b"]), ("b", &[]), ("d", &[])]);
    let faults = edges::differences(&drawn, &real);
    assert_eq!(faults.len(), 4, "{faults:?}");
    assert!(edges::drawn("no block").is_err());
}

#[test]
fn a_domain_crate_that_takes_up_json_is_found() {
    let mut project = project();
    let reckon = project
        .metadata
        .packages
        .iter_mut()
        .find(|package| package.name == "reckon")
        .unwrap();
    reckon.dependencies[0].name = "serde_json".to_owned();
    assert_eq!(
        naming(edges::domain_dependencies(&project), "serde_json"),
        ["reckon depends on serde_json"]
    );
}

#[test]
fn a_dependency_without_a_reason_is_found_and_a_reason_without_a_dependency() {
    let text = "## Why each dependency?\n\n| crate | why |\n| --- | --- |\n\
                | `one` | it counts |\n| `two` |  |\n| `gone` | it went |\n## Next\n| `late` | no |\n";
    let faults = reasons::differences(
        &reasons::given(text),
        &BTreeSet::from(["one", "two", "three"]),
    );
    assert_eq!(
        faults,
        [
            "DESIGN.md gives no reason for `three`",
            "DESIGN.md gives no reason for `two`",
            "DESIGN.md gives a reason for `gone`, which no crate uses",
        ]
    );
}

#[test]
fn a_long_file_and_one_without_docs_are_found() {
    let path = "crates/bay/src/long.rs";
    let project = with(path, &"fn f() {}\n".repeat(801));
    assert_eq!(naming(shape::length(&project), path).len(), 1);
    assert_eq!(naming(shape::module_docs(&project), path).len(), 1);
}

#[test]
fn a_domain_crate_that_reads_files_or_prints_is_found_but_its_tests_may() {
    let path = "crates/bay/src/read.rs";
    let text = "//! Reads.\nuse std::fs::read;\n// println! in words is none.\n\
                fn f() { println!(); }\n#[cfg(test)]\nmod tests { use std::fs; }\n";
    let faults = naming(shape::input_and_output(&with(path, text)), path);
    assert_eq!(faults.len(), 2, "{faults:?}");
}

#[test]
fn an_unexplained_unwrap_is_found() {
    let path = "crates/bay/src/risky.rs";
    let text = "//! Risky.\nfn f() { Some(1).unwrap(); }\n";
    assert_eq!(naming(shape::unwraps(&with(path, text)), path).len(), 1);
    let text = "//! Not so.\n// OK because it was put there.\nfn f() { Some(1).unwrap(); }\n";
    assert_eq!(naming(shape::unwraps(&with(path, text)), path).len(), 0);
}

#[test]
fn the_floors_of_reckon_are_kept_apart() {
    let count = |path: &str, text: &str| shape::floor_faults(path, text).len();
    let solve = "crates/reckon/src/solve/fitted.rs";
    assert_eq!(
        count(solve, "use boat::Boat;\nuse crate::stages::fit;\n"),
        2
    );
    assert_eq!(
        count(solve, "/// Knows no boat.\nuse quantity::Length;\n"),
        0
    );
    let fit = "crates/reckon/src/stages/fit/clip.rs";
    assert_eq!(count(fit, "use crate::stages::survey::Measured;\n"), 1);
    assert_eq!(
        count(fit, "use crate::stages::fit::size;\nuse super::build::f;\n"),
        0
    );
    let survey = "crates/reckon/src/stages/survey.rs";
    assert_eq!(
        count(survey, "use super::fit::clip;\nuse crate::wire::Memo;\n"),
        2
    );
}

#[test]
fn a_second_test_program_is_found() {
    let path = "crates/bay/tests/second.rs";
    assert_eq!(naming(shape::test_programs(&with(path, "")), path).len(), 1);
}

#[test]
fn a_link_that_leads_nowhere_is_found() {
    let path = "docs/odd.md";
    let text = "[a](../README.md) [b](gone.md#part) [c](https://example.org) [d](#here) [e](.)";
    let faults = naming(documents::links(&with(path, text)), path);
    assert_eq!(faults, ["docs/odd.md: `gone.md` leads nowhere"]);
}

#[test]
fn a_link_to_a_heading_that_is_not_there_is_found() {
    let path = "docs/odd.md";
    let text = "# One, and `two`!\n\n```sh\n# no heading\n```\n\n\
                [a](#one-and-two) [b](#no-heading) [c](../STYLE.md#voice) [d](../STYLE.md#vioce)";
    let faults = naming(documents::headings(&with(path, text)), path);
    assert_eq!(
        faults,
        [
            "docs/odd.md: `#no-heading` leads to no heading",
            "docs/odd.md: `../STYLE.md#vioce` leads to no heading",
        ]
    );
}

#[test]
fn a_page_that_the_manual_leaves_out_is_found() {
    let faults = naming(documents::pages(&with("docs/odd.md", "# Odd\n")), "odd.md");
    assert_eq!(faults, ["docs/SUMMARY.md: `odd.md` does not stand in it"]);
    let contents = "- [A](a.md)\n- [B](b.md#part)\n- [B](b.md)\n";
    assert_eq!(
        documents::astray(contents, &["a.md", "b.md"]),
        ["`b.md` stands in it 2 times"]
    );
}

#[test]
fn a_missing_document_and_a_release_without_numbers_are_found() {
    let project = with("STYLE.md", "# Style\n\n## Grades\n");
    assert_eq!(naming(documents::check(&project), "STYLE.md").len(), 1);
    let text = "# Changes\n\n## 2\n\n### New\n\n## 1\n\n### Numbers\n";
    assert_eq!(documents::releases_without_numbers(text).len(), 1);
}

#[test]
fn a_dependency_that_asks_for_a_newer_compiler_is_found() {
    let mut project = project();
    let package = project
        .metadata
        .packages
        .iter_mut()
        .find(|package| package.name == "csv")
        .unwrap();
    package.rust_version = Some("1.200.1".to_owned());
    assert_eq!(naming(versions::check(&project), "1.200.1").len(), 1);
}

#[test]
fn a_line_of_a_document_that_is_no_line_of_a_boat_is_found() {
    let document = "Text = 1\n```toml\na = 1\n…\n\nb = 2\n```\n```console\nc\n```\n";
    assert!(documents::lines_of_its_own(document, "a = 1\nb = 2\n").is_empty());
    assert_eq!(documents::lines_of_its_own(document, "a = 1\n"), ["b = 2"]);
    let project = with(
        "docs/odd.md",
        "```toml\nversion = 1\nnever_typed = 1\n```\n",
    );
    assert_eq!(
        naming(documents::snippets(&project), "odd.md"),
        ["docs/odd.md: `never_typed = 1` stands in no demo boat's file"]
    );
}
