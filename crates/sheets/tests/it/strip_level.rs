//! A branch that is laid under the main circuit: each height stands where it stands there.

use boat::Boat;
use quantity::System;
use reckon::{Input, Memo, Set, Strip, StripAsk, flow, reckon};
use sheets::draw::strip::{Form, StripForm, strip};
use sheets::draw::{Class, Picture, Shape, Step, check};

const DEMO: [&str; 3] = [
    include_str!("../../../../boats/dunlin/boat.toml"),
    include_str!("../../../../boats/tansley/boat.toml"),
    include_str!("../../../../boats/wenna/boat.toml"),
];

fn made(boat: &Boat) -> Strip {
    let arrangement = Some("after");
    let input = Input {
        boat,
        arrangement,
        seed: 1,
        set: Set::Prompt,
        flow: None,
        bay: None,
    };
    let answer = reckon(&input, &mut Memo::default());
    let flow = flow(boat, arrangement);
    let ask = StripAsk::default();
    reckon::strip(boat, arrangement, &ask, &answer, flow.as_ref()).expect("the arrangement")
}

/// Distance of the still waterline from the upper edge [px].
fn still(picture: &Picture) -> f64 {
    let line = picture.placed.iter().find_map(|placed| {
        let Shape::Path(steps) = &placed.shape else {
            return None;
        };
        match steps.first() {
            Some(Step::To(_, y)) if placed.class == Class::Waterline => Some(*y),
            _ => None,
        }
    });
    line.expect("the waterline")
}

#[test]
fn a_branch_keeps_the_heights_of_the_main_circuit() {
    let mut level = 0;
    for text in DEMO {
        let boat = boat::read(text).0;
        let made = made(&boat);
        for form in [Form::Half, Form::Tall] {
            let plain = StripForm::of(1296.0, form, System::Metric);
            let main = strip(&made, &plain);
            let keys: Vec<&str> = main.tees.iter().map(|tee| tee.key.as_str()).collect();
            let all: Vec<&str> = made.branches.iter().map(|own| own.key.as_str()).collect();
            assert_eq!(keys, all);
            for (tee, branch) in main.tees.iter().zip(&made.branches) {
                for place in [tee.from, tee.to].into_iter().flatten() {
                    assert!(main.ends.0 <= place && place <= main.ends.1);
                }
                assert_eq!(tee.from.is_some(), branch.from.is_some());
                let under = StripForm {
                    branch: Some(&branch.key),
                    level: true,
                    ..plain
                };
                let laid = strip(&made, &under);
                assert_eq!(check::overlaps(&laid.picture), Vec::<String>::new());
                assert!(laid.picture.height <= main.picture.height);
                if branch.way.measured && tee.from.is_some() {
                    let off = still(&laid.picture) - still(&main.picture);
                    assert!(off.abs() < 0.02, "{}: {off} px off", branch.key);
                    level += 1;
                }
            }
        }
    }
    assert!(level > 0, "no branch was compared");
}
