//! How far the hose is stretched over the spigot and over its bead, and how loose it may be.

use quantity::{Kind, Length, Quantity, Ratio};
use reference::hose::{HoseKind, StretchLimits, slack_limits, softening, stretch_limits};

use super::numbers::{Derived, Judged, Limit, Numbers};
use super::{Ctx, JointInput};
use crate::say;
use crate::verdict::{Grade, Margin, Stakes, Verdict, Words, grade};

/// The limits that hold at one joint, as shares of the bore.
struct Bounds {
    good: f64,
    warn: f64,
    refuse: f64,
    source: String,
}

impl Bounds {
    fn of(limits: &StretchLimits, tried: bool, allowance: bool) -> Self {
        let more = if allowance {
            limits.bead_allowance.to_f64()
        } else {
            0.0
        };
        let refuse = match limits.trial_fit_to {
            Some(tried_to) if tried => tried_to,
            _ => limits.refuse_over,
        };
        Self {
            good: limits.good_to.to_f64() + more,
            warn: limits.warning_to.to_f64() + more,
            refuse: refuse.to_f64() + more,
            source: limits.source.cite(),
        }
    }
}

/// What chance says of a stretch: whether it stays within what is refused, and within what is good.
struct Assessed {
    holds: Judged,
    good: Judged,
    grade: Grade,
}

fn assess(holds: Judged, good: Judged, stakes: Stakes) -> Assessed {
    let mut worst = grade(holds.chance.value(), stakes);
    if holds.chance.is_guesswork() {
        worst = Grade::Unmeasured;
    } else if worst == Grade::Sound && grade(good.chance.value(), stakes) != Grade::Sound {
        worst = Grade::Marginal;
    }
    Assessed {
        holds,
        good,
        grade: worst,
    }
}

/// Stretch over spigot and over bead from which a hose is refused.
pub(super) fn refused_over(kind: HoseKind, tried: bool) -> (f64, f64) {
    let limits = stretch_limits(kind);
    (
        Bounds::of(limits, tried, false).refuse,
        Bounds::of(limits, tried, true).refuse,
    )
}

/// In which draws the hose goes on and is held: neither refused over spigot or bead, nor too loose.
pub(super) fn goes_on_in(ctx: &Ctx, kind: HoseKind) -> Vec<bool> {
    let numbers = ctx.numbers;
    let (spigot, bead) = refused_over(kind, ctx.input.note.trial_fit);
    let (stretch, slack) = (numbers.stretch(), numbers.slack_left(allowed_slack));
    let over = numbers.knows_bead_stretch().then(|| numbers.bead_stretch());
    let mut limits = vec![Limit::AtMost(&stretch, spigot), Limit::AtLeast(&slack, 0.0)];
    if let Some(over) = &over {
        limits.push(Limit::AtMost(over, bead));
    }
    numbers.holds_in(&limits)
}

pub(super) fn allowed_slack(spigot: f64) -> f64 {
    Length::from_si(spigot).map_or(0.0, |spigot| slack_limits().at(spigot).si())
}

fn over_spigot(
    numbers: &Numbers,
    stretch: &Derived,
    slack: &Derived,
    bounds: &Bounds,
    stakes: Stakes,
) -> Assessed {
    let holds = numbers.judge(&[
        Limit::AtMost(stretch, bounds.refuse),
        Limit::AtLeast(slack, 0.0),
    ]);
    let good = numbers.judge(&[
        Limit::AtMost(stretch, bounds.good),
        Limit::AtLeast(stretch, 0.0),
    ]);
    assess(holds, good, stakes)
}

fn over_bead(numbers: &Numbers, stretch: &Derived, bounds: &Bounds, stakes: Stakes) -> Assessed {
    let holds = numbers.judge(&[Limit::AtMost(stretch, bounds.refuse)]);
    let good = numbers.judge(&[Limit::AtMost(stretch, bounds.good)]);
    assess(holds, good, stakes)
}

/// How good a spigot and a hose are together, for a choice between hoses: grade, and the chance
/// that the hose goes on and holds over spigot and bead.
pub(super) fn suits(
    numbers: &Numbers,
    kind: HoseKind,
    tried: bool,
    stakes: Stakes,
) -> (Grade, f64, f64) {
    let limits = stretch_limits(kind);
    let stretch = numbers.stretch();
    let slack = numbers.slack_left(allowed_slack);
    let spigot = over_spigot(
        numbers,
        &stretch,
        &slack,
        &Bounds::of(limits, tried, false),
        stakes,
    );
    let (mut chance, mut good) = (spigot.holds.chance.value(), spigot.good.chance.value());
    // What guesses decide is not refused for high stakes: by the table's spread of bores no hose of a
    // list would be sure enough. The choice goes by the likelier one, and the verdict asks to measure.
    let one = |assessed: &Assessed| match assessed.grade {
        Grade::Unmeasured => grade(assessed.holds.chance.value(), Stakes::Usual),
        known => known,
    };
    let mut worst = one(&spigot);
    if numbers.knows_bead_stretch() {
        let bead = over_bead(
            numbers,
            &numbers.bead_stretch(),
            &Bounds::of(limits, tried, true),
            stakes,
        );
        chance = chance.min(bead.holds.chance.value());
        good = good.min(bead.good.chance.value());
        worst = worst.max(one(&bead));
    }
    (worst, chance, good)
}

/// The verdict on the stretch over the spigot, and on slack.
pub(super) fn stretch(ctx: &Ctx) -> Verdict {
    let (input, numbers) = (ctx.input, ctx.numbers);
    if let (false, Err(missing)) = (numbers.knows_stretch(), &ctx.hose.bore) {
        return input
            .subject
            .waits(ctx.stage(), "stretch", "Bore of the hose", missing);
    }
    let stretch = numbers.stretch();
    let slack = numbers.slack_left(allowed_slack);
    let assess_as = |kind: HoseKind| {
        let bounds = Bounds::of(stretch_limits(kind), input.note.trial_fit, false);
        let assessed = over_spigot(numbers, &stretch, &slack, &bounds, input.terms.stakes);
        (kind, bounds, assessed)
    };
    let (build, (kind, bounds, assessed)) = match &ctx.hose.build {
        Ok((kind, _)) => (Some(*kind), assess_as(*kind)),
        Err(missing) => {
            let mut all: Vec<_> = HoseKind::ALL.map(assess_as).into_iter().collect();
            let first = all[0].2.grade;
            if all.iter().any(|(_, _, assessed)| assessed.grade != first) {
                let mut verdict =
                    input
                        .subject
                        .waits(ctx.stage(), "stretch", "Build of the hose", missing);
                show_stretch(ctx, &mut verdict, &stretch);
                return verdict;
            }
            (None, all.swap_remove(0))
        }
    };
    let value = stretch.linear.mean;
    let half = stretch.linear.deviation() * 3.0_f64.sqrt();
    let stuff = build.map_or("any build of hose", HoseKind::name);
    let fit = numbers.middle();
    let because = if value < 0.0 && fit.bore - fit.spigot > 0.000_05 {
        let most = allowed_slack(fit.spigot);
        let loose = fit.bore - fit.spigot;
        Words::of(|system| {
            format!(
                "The hose is {} larger than its spigot; {} is the most that a clip can take up.",
                say::mm(loose, system),
                say::mm(most, system)
            )
        })
    } else {
        stretch_words("this spigot", value, half, &bounds, stuff)
    };
    let mut verdict = input
        .subject
        .verdict(ctx.stage(), "stretch", assessed.grade, because);
    show_stretch(ctx, &mut verdict, &stretch);
    verdict.by_chance(
        assessed.holds.chance,
        input.terms.stakes,
        assessed.holds.settles.as_ref(),
    );
    verdict.grade = assessed.grade;
    verdict.working.limit = limit_words(&bounds, input.note.trial_fit, Some(fit.spigot));
    verdict
        .source(&bounds.source)
        .source(slack_limits().source.cite());
    verdict.margin = Some(Margin {
        value,
        deviation: Some(half),
        low: Some(-allowed_slack(fit.spigot) / fit.bore),
        high: Some(bounds.refuse),
        kind: Kind::Ratio,
    });
    if assessed.grade != Grade::Sound {
        remedy(ctx, &mut verdict, value, kind, &bounds);
        if verdict.settles.is_none() && assessed.good.chance.is_guesswork() {
            verdict.settles = assessed.good.settles;
        }
    }
    verdict
}

fn stretch_words(where_: &str, value: f64, half: f64, bounds: &Bounds, stuff: &str) -> Words {
    let much = say::percent_measured(value.max(0.0), half);
    let (good, refuse) = (
        say::short_percent(bounds.good),
        say::short_percent(bounds.refuse),
    );
    let text = if value <= bounds.good && value - half < 0.0 {
        format!("The hose is stretched {much} over {where_}, and it may be loose.")
    } else if value <= bounds.good && value + half > bounds.good {
        format!(
            "The hose is stretched {much} over {where_}; up to {good} is good for {stuff}, and it may be more."
        )
    } else if value <= bounds.good {
        format!("The hose is stretched {much} over {where_}; up to {good} is good for {stuff}.")
    } else if value <= bounds.refuse {
        format!(
            "The hose is stretched {much} over {where_}; over {good} is tight for {stuff}, over {refuse} too much."
        )
    } else {
        format!("The hose is stretched {much} over {where_}; {stuff} takes {refuse} at most.")
    };
    text.as_str().into()
}

fn limit_words(bounds: &Bounds, tried: bool, spigot: Option<f64>) -> Words {
    let warned = if tried { bounds.refuse } else { bounds.warn };
    let slack = |system| {
        spigot.map_or_else(String::new, |spigot| {
            format!("; slack up to {}", say::mm(allowed_slack(spigot), system))
        })
    };
    Words::of(|system| {
        format!(
            "good up to {}, with a warning up to {}, refused over {}{}",
            say::short_percent(bounds.good),
            say::short_percent(warned),
            say::short_percent(bounds.refuse),
            slack(system)
        )
    })
}

/// Puts inputs and the sum into a working.
fn show_stretch(ctx: &Ctx, verdict: &mut Verdict, stretch: &Derived) {
    let fit = ctx.numbers.middle();
    if let Ok(od) = &ctx.input.spigot.od {
        verdict.input("d_s", "spigot", od);
    }
    if let Ok(bore) = &ctx.hose.bore {
        verdict.input("d_i", "bore of the hose", bore);
    }
    let filled = Words::of(|system| {
        let (spigot, bore) = (
            say::bare_mm(fit.spigot, system),
            say::bare_mm(fit.bore, system),
        );
        format!("({spigot} − {bore}) / {bore}")
    });
    let result = say::percent_measured(
        stretch.linear.mean,
        stretch.linear.deviation() * 3.0_f64.sqrt(),
    );
    verdict.step("s = (d_s − d_i) / d_i", filled, result.as_str().into());
}

/// What to do about a hose that is too tight or too loose: other hose first, then softening or a trial.
fn remedy(ctx: &Ctx, verdict: &mut Verdict, value: f64, kind: HoseKind, bounds: &Bounds) {
    let mut words = Vec::new();
    if verdict.grade == Grade::Unmeasured {
        // What to measure stands there already.
        words.push(verdict.remedy.metric.clone());
    }
    let before = verdict.grade;
    let better: Vec<_> = ctx
        .input
        .other_hoses
        .iter()
        .filter(|other| other.grade < before && before != Grade::Unmeasured)
        .collect();
    if let Some(best) = better.first() {
        let own = if best.own { ", which you have" } else { "" };
        words.push(format!("Use {}{own}.", best.name));
    }
    verdict
        .edits
        .extend(better.iter().filter_map(|other| other.edit.clone()).take(3));
    let trial_to = stretch_limits(kind).trial_fit_to.map(Ratio::to_f64);
    if value > bounds.good && value <= bounds.refuse && before == Grade::Marginal {
        words.push(soften_words());
    } else if let Some(to) = trial_to
        && value > bounds.refuse
        && value <= to
        && !ctx.input.note.trial_fit
    {
        let push = if words.is_empty() { "Push" } else { "Or push" };
        words.push(format!(
            "{push} it on for trial and write `trial_fit = true` if it went: up to {} is taken then.",
            say::short_percent(to)
        ));
    } else if value > bounds.refuse && better.is_empty() {
        words.push("Use a hose of larger bore.".into());
    } else if value < 0.0 && better.is_empty() && before > Grade::Unmeasured {
        words.push("Use a hose of smaller bore.".into());
    }
    verdict.remedy = words.join(" ").trim().into();
    if before == Grade::Unsound && value < 0.0 {
        or_sleeve(ctx.input, verdict);
    }
}

/// The sleeve as another way out, at the joint where the hose is loose.
pub(super) fn or_sleeve(input: &JointInput, verdict: &mut Verdict) {
    let Some(sleeve) = &input.sleeve else { return };
    if sleeve.joint != input.subject.key {
        return;
    }
    verdict.remedy = Words::of(|system| {
        let before = verdict.remedy.in_units(system);
        let gap = if before.is_empty() {
            "Have"
        } else {
            " Or have"
        };
        format!(
            "{before}{gap} a sleeve of {} soldered or brazed over it, {} outside with a wall of {} and a bead of its own: {} then fits both ends.",
            sleeve.metal,
            say::mm(sleeve.outside.si(), system),
            say::mm(sleeve.wall.si(), system),
            sleeve.hose,
        )
    });
    verdict.caution = Some(
        "A flame has no place in a bilge: the part comes off and a metal shop does it ashore."
            .into(),
    );
}

fn soften_words() -> String {
    "Soften the end in hot water before it is pushed on.".into()
}

/// The verdict on the stretch over the bead; none for a plain spigot.
pub(super) fn bead(ctx: &Ctx) -> Option<Verdict> {
    let (input, numbers) = (ctx.input, ctx.numbers);
    if input.spigot.form == Some(boat::SpigotForm::Plain) {
        return Some(plain(ctx));
    }
    if let Err(missing) = &input.spigot.bead {
        return Some(
            input
                .subject
                .waits(ctx.stage(), "bead", "Diameter over the bead", missing),
        );
    }
    // Without the bore the verdict on the stretch waits already.
    if !numbers.knows_bead_stretch() {
        return None;
    }
    let stretch = numbers.bead_stretch();
    let assess_as = |kind: HoseKind| {
        let bounds = Bounds::of(stretch_limits(kind), input.note.trial_fit, true);
        let assessed = over_bead(numbers, &stretch, &bounds, input.terms.stakes);
        (kind, bounds, assessed)
    };
    let (build, (kind, bounds, assessed)) = match &ctx.hose.build {
        Ok((kind, _)) => (Some(*kind), assess_as(*kind)),
        Err(_) => {
            let mut all: Vec<_> = HoseKind::ALL.map(assess_as).into_iter().collect();
            let first = all[0].2.grade;
            if all.iter().any(|(_, _, assessed)| assessed.grade != first) {
                // The verdict on the stretch asks for the build already.
                return None;
            }
            (None, all.swap_remove(0))
        }
    };
    let value = stretch.linear.mean;
    let half = stretch.linear.deviation() * 3.0_f64.sqrt();
    let stuff = build.map_or("any build of hose", HoseKind::name);
    let fit = numbers.middle();
    let because = stretch_words("the bead", value, half, &bounds, stuff);
    let mut verdict = input
        .subject
        .verdict(ctx.stage(), "bead", assessed.grade, because);
    if let Ok(bead) = &input.spigot.bead {
        verdict.input("d_b", "over the bead", bead);
    }
    if let Ok(bore) = &ctx.hose.bore {
        verdict.input("d_i", "bore of the hose", bore);
    }
    let over = numbers.bead();
    let filled = Words::of(|system| {
        let (bead, bore) = (say::bare_mm(over, system), say::bare_mm(fit.bore, system));
        format!("({bead} − {bore}) / {bore}")
    });
    verdict.step(
        "s_b = (d_b − d_i) / d_i",
        filled,
        say::percent_measured(value, half).as_str().into(),
    );
    verdict.by_chance(
        assessed.holds.chance,
        input.terms.stakes,
        assessed.holds.settles.as_ref(),
    );
    verdict.grade = assessed.grade;
    verdict.working.limit = limit_words(&bounds, input.note.trial_fit, None);
    verdict.source(&bounds.source);
    verdict.margin = Some(Margin {
        value,
        deviation: Some(half),
        low: None,
        high: Some(bounds.refuse),
        kind: Kind::Ratio,
    });
    if assessed.grade != Grade::Sound {
        remedy(ctx, &mut verdict, value, kind, &bounds);
    }
    Some(verdict)
}

/// A spigot without a bead: nothing but the clip keeps the hose from creeping off.
fn plain(ctx: &Ctx) -> Verdict {
    let input = ctx.input;
    let because = "The spigot has no bead: only the grip of the clip keeps the hose on it.";
    let mut verdict = input
        .subject
        .verdict(ctx.stage(), "bead", Grade::Marginal, because.into());
    verdict.remedy =
        "Have a bead rolled on it, or take two clips where its length allows and look at the mark on the hose each season."
            .into();
    verdict.working.limit = "a bead or barb behind which the clip sits".into();
    // A rule for others' boats that tells ends with a bead from ends without.
    if let Some(rule) = reference::rule::clip_rule("us-supply") {
        verdict.source(rule.source.cite());
    }
    verdict
}

/// How to soften the end, where the hose is tight but not refused.
pub(super) fn soften(ctx: &Ctx) -> Option<Verdict> {
    let (input, numbers) = (ctx.input, ctx.numbers);
    let Ok((kind, _)) = &ctx.hose.build else {
        return None;
    };
    if !numbers.knows_stretch() {
        return None;
    }
    let limits = stretch_limits(*kind);
    let over_spigot = numbers.stretch().linear.mean;
    let over_bead = if numbers.knows_bead_stretch() {
        numbers.bead_stretch().linear.mean
    } else {
        over_spigot
    };
    let good = limits.good_to.to_f64();
    let tight = over_spigot > good || over_bead > good + limits.bead_allowance.to_f64();
    let refused = over_spigot > limits.trial_fit_to.unwrap_or(limits.refuse_over).to_f64();
    if !tight || refused {
        return None;
    }
    let softening = softening();
    let (most, where_) = if over_spigot > good {
        (over_spigot, "the spigot")
    } else {
        (over_bead, "the bead")
    };
    let because = Words::of(|_| {
        format!(
            "The hose is stretched {} over {where_}: cold, it goes on hard.",
            say::percent(most)
        )
    });
    let mut verdict = input
        .subject
        .verdict(ctx.stage(), "soften", Grade::Sound, because);
    let lubricants = say::list(&softening.lubricants, "or");
    let never = say::list(&softening.never, "or");
    verdict.remedy = Words::of(|system| {
        let water = quantity::show_range(softening.water.low, softening.water.high, system);
        let time = quantity::show_range(softening.time.low, softening.time.high, system);
        format!(
            "Hold the end in water of {water} for {time}; let it slide with {lubricants}, never with {never}."
        )
    });
    verdict.caution =
        Some("Water as hot as this scalds: hold the hose with tongs and dry gloves.".into());
    verdict.working.limit = Words::of(|_| {
        format!(
            "softened from {} over the spigot or {} over the bead",
            say::short_percent(good),
            say::short_percent(good + limits.bead_allowance.to_f64())
        )
    });
    verdict
        .source(softening.source.cite())
        .source(softening.never_source.cite());
    Some(verdict)
}
