//! One bad file for each code: the expected remark stands as a comment at the end of its line.

use std::fs;
use std::path::{Path, PathBuf};

use boat::Code;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/bad")
}

/// The remarks that a file expects, with their lines.
fn expected(text: &str) -> Vec<(usize, String)> {
    let mark = |line: &str| {
        line.split_once(" #! ")
            .map(|(_, remark)| remark.trim().to_owned())
    };
    text.lines()
        .enumerate()
        .filter_map(|(i, line)| Some((i + 1, mark(line)?)))
        .collect()
}

#[test]
fn every_code_has_a_file_that_raises_it_and_no_other() {
    let mut seen = Vec::new();
    for code in Code::ALL {
        let path = folder().join(format!("{}.toml", code.word()));
        let text =
            fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let (_, places, remarks) = boat::read(&text);
        let said: Vec<(usize, String)> = remarks
            .iter()
            .map(|remark| {
                let line = places.position_of(remark.span.start).line;
                (
                    line,
                    format!(
                        "{} {}: {}",
                        remark.severity.word(),
                        remark.code,
                        remark.message
                    ),
                )
            })
            .collect();
        assert_eq!(said, expected(&text), "{}", path.display());
        assert!(
            !remarks.is_empty() && remarks.iter().all(|remark| remark.code == *code),
            "{}",
            path.display()
        );
        seen.push(path);
    }
    let files = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"));
    for file in files {
        assert!(
            seen.contains(&file),
            "{} has the name of no code",
            file.display()
        );
    }
}
