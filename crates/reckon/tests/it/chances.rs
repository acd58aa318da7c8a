//! First order against draws: together where all is smooth, and apart at a step, where draws win.

use proptest::prelude::*;
use reckon::Verdict;
use reckon::solve::chance::{Chance, Linear, PARTED, Spread};
use reckon::solve::fitted::Fit;
use reckon::solve::sample::{DRAWS, Draws, deviation, share};

use crate::boats::{small, verdict, works_out};

/// A joint as one finds it: bore and stretch, wall, and how far off each reading may be [mm].
#[derive(Clone, Copy, Debug)]
struct Joint {
    bore: f64,
    stretch: f64,
    wall: f64,
    off: [f64; 3],
}

fn joints() -> impl Strategy<Value = Joint> {
    let off = || 0.1..0.4_f64;
    (
        8.0..80.0_f64,
        0.02..0.10_f64,
        0.08..0.25_f64,
        [off(), off(), off()],
    )
        .prop_map(|(bore, stretch, wall, off)| Joint {
            bore,
            stretch,
            wall: wall * bore + 1.5,
            off,
        })
}

impl Joint {
    /// Bore, outside, spigot, and where between the two models the truth lies.
    fn spreads(&self) -> [Spread; 4] {
        let about = |middle: f64, half: f64| Spread {
            low: middle - half,
            high: middle + half,
        };
        [
            about(self.bore, self.off[0]),
            about(self.bore + 2.0 * self.wall, self.off[1]),
            about(self.bore * (1.0 + self.stretch), self.off[2]),
            Spread {
                low: 0.0,
                high: 1.0,
            },
        ]
    }
}

fn fitted(x: &[f64]) -> f64 {
    Fit {
        bore: x[0],
        over: x[1],
        spigot: x[2],
    }
    .at(x[3])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn deviations_agree_where_all_is_smooth(joint in joints(), seed: u64) {
        let spreads = joint.spreads();
        let first = Linear::of(&spreads, fitted).deviation();
        let drawn = deviation(&Draws::of(&spreads, DRAWS, seed).map(fitted));
        prop_assert!((first / drawn - 1.0).abs() < 0.05, "{first} and {drawn}");
    }

    #[test]
    fn chances_agree_where_all_is_smooth(joint in joints(), at in -3.0..3.0_f64, seed: u64) {
        let spreads = joint.spreads();
        let linear = Linear::of(&spreads, fitted);
        // One reading that outweighs all others makes a spread that is even and not normal.
        let greatest = linear.parts.iter().fold(0.0, |most: f64, part| most.max(part.abs()));
        prop_assume!(greatest < 0.85 * linear.deviation());
        let limit = linear.mean + at * linear.deviation();
        let drawn = Draws::of(&spreads, DRAWS, seed).map(fitted);
        let sampled = share(DRAWS, |row| drawn[row] <= limit);
        let first_order = linear.at_most(limit);
        prop_assert!((first_order - sampled).abs() < PARTED, "{first_order} and {sampled}");
        let chance = Chance { first_order, sampled: Some(sampled), guessed: 0.0 };
        prop_assert!(!chance.parted());
    }

    #[test]
    fn a_larger_spigot_makes_a_larger_hose(joint in joints(), more in 0.01..2.0_f64) {
        let fit = |spigot| Fit { bore: joint.bore, over: joint.bore + 2.0 * joint.wall, spigot };
        let spigot = joint.bore * (1.0 + joint.stretch);
        for model in [Fit::no_slip, Fit::free, Fit::wall_kept] {
            prop_assert!(model(&fit(spigot + more)) > model(&fit(spigot)));
        }
    }

    #[test]
    fn the_three_models_keep_their_order(joint in joints()) {
        let fit = Fit {
            bore: joint.bore,
            over: joint.bore + 2.0 * joint.wall,
            spigot: joint.bore * (1.0 + joint.stretch),
        };
        prop_assert!(fit.no_slip() <= fit.free() && fit.free() <= fit.wall_kept());
    }

    #[test]
    fn being_less_sure_never_raises_a_good_chance(joint in joints(), more in 1.0..4.0_f64) {
        let limit = joint.bore * (1.0 + joint.stretch) + 2.0 * joint.wall + 0.3;
        let wider = Joint { off: joint.off.map(|off| off * more), ..joint };
        let of = |joint: &Joint| Linear::of(&joint.spreads(), fitted).at_most(limit);
        let (near, far) = (of(&joint), of(&wider));
        prop_assert!(near < 0.5 || far <= near + 1e-6, "{near} then {far}");
    }

    #[test]
    fn slopes_are_those_of_the_model(joint in joints()) {
        let middle = joint.spreads().map(|spread| spread.middle());
        let fit = |x: &[f64]| Fit { bore: x[0], over: x[1], spigot: x[2] };
        let slopes = fit(&middle).slopes_no_slip();
        for (i, slope) in slopes.into_iter().enumerate() {
            let moved = |by: f64| {
                let mut x = middle;
                x[i] += by;
                fit(&x).no_slip()
            };
            let step = 1e-4;
            let found = (moved(step) - moved(-step)) / (2.0 * step);
            prop_assert!((found - slope).abs() < 1e-6, "{i}: {found} and {slope}");
        }
    }

    #[test]
    fn the_same_seed_gives_the_same_draws(joint in joints(), seed: u64) {
        let spreads = joint.spreads();
        prop_assert_eq!(Draws::of(&spreads, 64, seed), Draws::of(&spreads, 64, seed));
    }
}

#[test]
fn at_a_step_first_order_is_wrong_and_draws_win() {
    // A loose hose stays as large as it is when free: below the bore a smaller spigot changes nothing.
    let bent = |x: &[f64]| {
        Fit {
            bore: 32.0,
            over: 42.0,
            spigot: x[0],
        }
        .to_pass(0.5)
    };
    let spigot = [Spread {
        low: 31.0,
        high: 33.0,
    }];
    let linear = Linear::of(&spigot, bent);
    let drawn = Draws::of(&spigot, DRAWS, 7).map(bent);
    let chance = Chance {
        first_order: linear.at_most(41.9),
        sampled: Some(share(DRAWS, |row| drawn[row] <= 41.9)),
        guessed: 0.0,
    };
    // No spigot lets it through, which first order can't see.
    assert_eq!(chance.sampled, Some(0.0));
    assert!(chance.first_order > 0.3, "{chance:?}");
    assert!(chance.parted());
    assert_eq!(chance.value(), 0.0);
}

#[track_caller]
fn says_that_draws_stand(verdict: &Verdict) {
    assert!(
        works_out(verdict, "the draws stand"),
        "{:#?}",
        verdict.working.steps
    );
    assert!(works_out(verdict, "first order"));
}

#[test]
fn the_working_says_that_draws_stand() {
    // Whether the slack keeps within half a millimetre is a matter of an even spread, not of a normal one.
    let answer = small(&[("engine.spigots.out.od", "\"37.5 ± 0.6\"")]);
    says_that_draws_stand(verdict(&answer, "fit.dry.from.stretch"));
    let calm = small(&[]);
    let stretch = verdict(&calm, "fit.dry.from.stretch");
    assert!(!works_out(stretch, "the draws stand"));
    assert!(works_out(stretch, "by draws and to first order"));
}
