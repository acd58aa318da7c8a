//! At least one bad file for each code, `CODE.toml` or `CODE.WHAT.toml`: the expected remark
//! stands as a comment at the end of its line.

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

/// The bad files: the code that each is named for, its path and its text.
pub(crate) fn bad_files() -> Vec<(Code, PathBuf, String)> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .collect();
    paths.sort();
    let file = |path: PathBuf| {
        let name = path.file_name().unwrap().to_str().unwrap();
        let word = name.split('.').next().unwrap();
        let code = Code::ALL.iter().find(|code| code.word() == word);
        let code = *code.unwrap_or_else(|| panic!("{name} has the name of no code"));
        let text = fs::read_to_string(&path).unwrap();
        (code, path, text)
    };
    paths.into_iter().map(file).collect()
}

#[test]
fn every_code_has_a_file_that_raises_it_and_no_other() {
    let files = bad_files();
    for code in Code::ALL {
        assert!(
            files.iter().any(|(of, ..)| of == code),
            "{code} has no file"
        );
    }
    for (code, path, text) in files {
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
            !remarks.is_empty() && remarks.iter().all(|remark| remark.code == code),
            "{}",
            path.display()
        );
    }
}
