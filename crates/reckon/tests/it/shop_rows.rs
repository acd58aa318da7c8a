//! What the validation rows of the shop ask: bag, cuts, bores, even spreads.

use quantity::{Instrument, Length, Measured, Origin, Quantity};
use reckon::Stakes;
use reckon::solve::chance::Spread;
use reckon::solve::cover::{Place, share};
use reckon::solve::cut::{first_fit, purchase};
use reckon::stages::cut::{CutInput, CutPiece, Shape, cuts};
use reckon::stages::fit::hoses::End;
use reckon::stages::fit::need::bores_that_fit;
use reckon::stages::types::{Known, Missing, SpigotFacts, Value};
use reckon::verdict::Settles;
use reference::hose::HoseKind;

use crate::rows::{Answer, Row};

fn numbers(text: &str) -> Vec<f64> {
    let number = |word: &str| word.parse().expect("a number");
    text.split_whitespace().map(number).collect()
}

/// Share of the draws in which a bag serves every joint.
fn bag_share(row: &Row) -> f64 {
    let counts = |input| -> Vec<u32> {
        let number = |word: &str| word.parse().expect("a count");
        row.text(input).split_whitespace().map(number).collect()
    };
    let (needs, bag) = (counts("needs"), counts("bag"));
    let words: Vec<Vec<bool>> = row
        .text("serves")
        .split_whitespace()
        .map(|word| word.chars().map(|sign| sign == '1').collect())
        .collect();
    assert_eq!(words.len(), needs.len() * bag.len(), "{}", row.place);
    let places: Vec<Place> = needs
        .iter()
        .zip(words.chunks(bag.len()))
        .map(|(needs, serves)| Place {
            needs: *needs,
            serves: serves.iter().cloned().enumerate().collect(),
            usual: None,
        })
        .collect();
    share(&places, &bag, words[0].len())
}

/// How many lengths of one size the pieces are cut from.
fn lengths_of_one_size(row: &Row) -> f64 {
    let pieces = numbers(row.text("pieces"));
    let lengths = vec![row.number("sold"); pieces.len()];
    let plan = first_fit(&pieces, &lengths, 0.0);
    let used = (0..lengths.len()).filter(|&at| plan.from.contains(&Some(at)));
    used.count() as f64
}

fn nowhere() -> Settles {
    Settles {
        place: String::new(),
        how: String::new(),
    }
}

fn known(metres: f64) -> Value<Length> {
    Value {
        measured: Measured::exact(Length::m(metres), Origin::Read(Instrument::Tape)),
        from: "tape".into(),
        place: None,
        settles: nowhere(),
    }
}

fn unknown<T>() -> Result<T, Missing> {
    Err(Missing {
        why: "not asked".into(),
        settles: nowhere(),
    })
}

/// The cut length of a hose that shares its run with one other piece.
fn beside(row: &Row, other: Shape, long: Option<Length>) -> Option<f64> {
    let pushed = |input| Some(Ok(known(row.number(input))));
    let hose = CutPiece {
        key: "run.hose".into(),
        name: "hose".into(),
        shape: Shape::Hose {
            build: None,
            bore: None,
            over: None,
            least_radius: None,
        },
        long: None,
        decided: None,
        pushed: [pushed("pushed"), pushed("far_pushed")],
    };
    let other = CutPiece {
        key: "run.other".into(),
        name: "other".into(),
        shape: other,
        long,
        decided: None,
        pushed: [None, None],
    };
    let input = CutInput {
        run: "run".into(),
        mark: "A".into(),
        place: "runs.run.way".into(),
        length: Ok(known(row.number("along"))),
        turns: Vec::new(),
        offset: false,
        pieces: vec![hose, other],
    };
    let output = cuts(&input);
    let cut = output.hoses.first()?.cut.as_ref().ok()?;
    Some(cut.measured.value.si())
}

fn beside_elbow(row: &Row) -> Option<f64> {
    let length = |input| Length::m(row.number(input));
    let tenths: f64 = row.number::<f64>("angle") * 10.0;
    let elbow = Shape::Elbow {
        angle: tenths.round() as u32,
        legs: Some([length("leg"), length("other_leg")]),
        radius: Some(length("radius")),
    };
    beside(row, elbow, None)
}

/// Between what a bore must lie for a joint.
fn bores(row: &Row) -> Option<(f64, f64)> {
    let kind = match row.text("build") {
        "epdm" => HoseKind::FabricEpdm,
        "wired" => HoseKind::WireHelix,
        _ => return None,
    };
    let of = |input| -> Known<Length> { Ok(known(row.number(input))) };
    let spigot = SpigotFacts {
        name: "spigot".into(),
        place: String::new(),
        od: of("spigot"),
        bead: of("bead"),
        behind_bead: unknown(),
        bead_width: unknown(),
        form: None,
        metal: None,
        height: unknown(),
        inferred: None,
    };
    let end = End {
        joint: "run.from".into(),
        spigot,
        nominal: None,
        stakes: Stakes::Usual,
        tried: false,
    };
    bores_that_fit(&[end], kind)
}

fn spread(row: &Row) -> Spread {
    Spread {
        low: row.number("low"),
        high: row.number("high"),
    }
}

/// The answer to a row of the shop; nothing where it asks for no function of the shop.
pub(crate) fn answer(row: &Row) -> Option<Answer> {
    Some(Answer::Number(match row.function.as_str() {
        "bag_share" => bag_share(row),
        "lengths_of_one_size" => lengths_of_one_size(row),
        "hose_bought" => {
            let (pieces, sold) = (numbers(row.text("pieces")), numbers(row.text("sold")));
            let bought = purchase(&pieces, &sold, row.number("kerf"))?;
            bought.lengths.iter().sum()
        }
        "hose_beside_elbow" => beside_elbow(row)?,
        "hose_beside_fitting" => beside(row, Shape::Fitting, Some(Length::m(row.number("rest"))))?,
        "bore_least" => bores(row)?.0,
        "bore_most" => bores(row)?.1,
        "even_at_least" => spread(row).at_least(row.number("limit")),
        "even_deviation" => spread(row).standard_uncertainty(),
        _ => return None,
    }))
}
