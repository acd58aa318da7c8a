//! `fill` and `salt` run for real: what they print, and what they say of wrong input.

use crate::bench::run;

/// Checks that a run refuses with this sentence.
#[track_caller]
fn refuses(words: &[&str], says: &str) {
    let run = run(words);
    assert_eq!(run.exit, 2, "{words:?}: {}{}", run.out, run.err);
    assert!(run.out.is_empty(), "{}", run.out);
    // A long sentence is broken at 80 columns.
    let err = run.err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(err.contains(says), "{words:?}: {err}");
}

const TWENTY: [&str; 5] = ["fill", "--volume", "20 L", "--wanted", "50 %"];

fn twenty<'a>(more: &[&'a str]) -> Vec<&'a str> {
    TWENTY.iter().chain(more).copied().collect()
}

#[test]
fn seven_litres_of_water_inside() {
    let run = run(&twenty(&["--inside", "7 L"]));
    assert_eq!(run.exit, 0, "{}", run.err);
    insta::assert_snapshot!(run.out);
}

#[test]
fn eleven_litres_are_too_many() {
    let run = run(&twenty(&["--inside", "11 L", "--explain"]));
    assert_eq!(run.exit, 1, "{}", run.err);
    insta::assert_snapshot!(run.out);
}

#[test]
fn the_recipe_agrees_with_the_verdicts() {
    // Over 60 % it is for 60 %.
    let rich = run(&[
        "fill", "--volume", "20 L", "--wanted", "65 %", "--inside", "3 L",
    ]);
    assert_eq!(rich.exit, 1, "{}", rich.err);
    assert!(rich.out.contains("12 L concentrate"), "{}", rich.out);
    assert!(!rich.out.contains("13 L concentrate"), "{}", rich.out);
    assert!(rich.out.contains("freezes at"), "{}", rich.out);
    // A frost alone gets the share that stands it.
    let frost = run(&[
        "fill", "--volume", "20 L", "--frost", "-30 °C", "--inside", "3 L",
    ]);
    assert_eq!(frost.exit, 0, "{}", frost.err);
    assert!(frost.out.contains("recipe for"), "{}", frost.out);
    // Of coolant without water no mix is made.
    let dry = run(&[
        "fill",
        "--kind",
        "waterless",
        "--volume",
        "20 L",
        "--wanted",
        "50 %",
        "--inside",
        "0 L",
    ]);
    assert!(!dry.out.contains("ten litres of mix"), "{}", dry.out);
    // Order and filling say the same of the same boat: what the recipe takes, and how much at most.
    let order = run(&["order", "boats/wenna"]);
    let words = order.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("the recipe for 19 L takes 8.5 L"),
        "{}",
        order.out
    );
}

#[test]
fn a_boat_with_all_of_it() {
    let run = run(&["fill", "boats/wenna"]);
    insta::assert_snapshot!(run.out.lines().skip(1).collect::<Vec<_>>().join("\n"));
}

#[test]
fn all_flags_in_gallons() {
    let run = run(&[
        "fill",
        "--volume",
        "5 US gal",
        "--wanted",
        "45",
        "--kind",
        "propylene",
        "--inside",
        "0.5 US gal",
        "--inside-strength",
        "20 %",
        "--product-strength",
        "90 %",
        "--least-dose",
        "40 %",
        "--header",
        "2 US qt",
        "--frost",
        "0 °F",
        "--cap",
        "10 psi",
        "--units",
        "imperial",
    ]);
    assert!(run.exit < 2, "{}", run.err);
    insta::assert_snapshot!(run.out);
}

#[test]
fn wrong_input_is_told() {
    refuses(
        &twenty(&["--inside", "21 L"]),
        "more stays inside than the circuit holds",
    );
    refuses(&twenty(&["--inside", "7 kg"]), "kg is a mass");
    refuses(&["fill", "--volume", "0 L"], "a volume over 0 is due");
    refuses(
        &["fill", "--wanted", "120 %"],
        "a share from 0 to 100 % is due",
    );
    refuses(
        &["fill", "boats/wenna", "--volume", "20 L"],
        "don't go together",
    );
    refuses(&["salt"], "how salt the sea is");
    refuses(&["salt", "--conductivity", "42.9 mS/cm"], "--at is missing");
    refuses(
        &["salt", "--sea", "50"],
        "a practical salinity from 0 to 42 is due",
    );
    refuses(
        &[
            "salt",
            "--sea",
            "35",
            "--chloride",
            "100 mg/L",
            "--volume",
            "20 L",
        ],
        "--before is missing",
    );
    refuses(
        &["salt", "--chloride", "100 mg/L", "--volume", "20 L"],
        "--before, --sea or --conductivity are missing",
    );
    refuses(&["fill", "--wanted", "0.5"], "0.5 % or 50 %?");
    refuses(
        &["salt", "--conductivity", "42.9 mS/cm", "--at", "60 °C"],
        "holds from −2 to 35 °C",
    );
}

#[test]
fn sea_that_came_in_is_shown_or_not() {
    let salt = |now: &'static str| {
        run(&[
            "salt",
            "--chloride",
            now,
            "--before",
            "20 mg/L",
            "--volume",
            "20 L",
            "--sea",
            "35",
        ])
    };
    let shown = salt("150 mg/L");
    assert_eq!(shown.exit, 1, "{}", shown.err);
    insta::assert_snapshot!(shown.out);
    let hidden = salt("22 mg/L");
    assert_eq!(hidden.exit, 0, "{}", hidden.err);
    assert!(hidden.out.contains("not shown"), "{}", hidden.out);
}

#[test]
fn a_boat_without_coolant_is_asked_for_it() {
    let folder = tempfile::tempdir().unwrap();
    let boat = folder.path().join("boat.toml");
    std::fs::write(&boat, "version = 1\n").unwrap();
    let run = run(&["fill", boat.to_str().unwrap()]);
    assert_eq!(run.exit, 0, "{}", run.err);
    assert!(run.out.contains("says nothing of coolant"), "{}", run.out);
}
