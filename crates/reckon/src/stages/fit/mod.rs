//! Fit: will each hose close on its spigot, with which clip, pushed how far and how tight?

mod catalogue;
mod choice;
mod clip;
mod count;
pub mod hoses;
mod input;
mod metals;
pub mod need;
mod numbers;
mod serve;
mod stretch;
mod tighten;

pub use input::{JointInput, JointOutput, OtherHose};
pub use metals::{ChainInput, chain};
pub use serve::{Mix, Serves, ServiceInput, service};

use quantity::Quantity;

use self::numbers::{Broken, Numbers};
use crate::say;
use crate::stages::types::{
    ByHand, ClipWanted, HoseFacts, JointRow, JointSizes, Known, Outside, Shown, Value,
};
use crate::verdict::{Basis, Grade, Number, Stage, Verdict, Words};

/// What all rules of one joint read.
struct Ctx<'a> {
    input: &'a JointInput,
    hose: &'a HoseFacts,
    numbers: &'a Numbers,
}

impl Ctx<'_> {
    fn stage(&self) -> Stage {
        Stage::Fit
    }
}

/// Judges one joint.
pub fn joint(input: &JointInput) -> JointOutput {
    let mut row = blank_row(input);
    let mut verdicts = Vec::new();
    let mut takes = None;
    match (&input.hose, &input.spigot.od) {
        (_, Err(missing)) => {
            let mut verdict = input.subject.waits(Stage::Fit, "spigot", "Spigot", missing);
            if let Some(inferred) = &input.spigot.inferred {
                verdict.because = Words::of(|system| {
                    let (why, guess) = (missing.why.in_units(system), inferred.in_units(system));
                    format!("Spigot: {why}. {guess}")
                });
            }
            verdicts.push(verdict);
        }
        (Err(missing), Ok(_)) => {
            let mut verdict = input.subject.waits(Stage::Fit, "hose", "Hose", missing);
            let others = input.other_hoses.iter();
            verdict
                .edits
                .extend(others.filter_map(|other| other.edit.clone()).take(3));
            stretch::or_sleeve(input, &mut verdict);
            verdicts.push(verdict);
        }
        (Ok(hose), Ok(spigot)) => {
            takes = whole(input, hose, spigot, &mut row, &mut verdicts);
        }
    }
    verdicts.extend(metals::spigot(input));
    let verdicts: Vec<Verdict> = verdicts.into_iter().map(Verdict::spoken).collect();
    row.grade = verdicts
        .iter()
        .map(|verdict| verdict.grade)
        .max()
        .unwrap_or(Grade::Sound);
    JointOutput {
        row,
        verdicts,
        takes,
    }
}

/// A clip of the file as one writes it and asks for it in a shop; `None` where nothing tells its size.
pub fn clip_name(wanted: &ClipWanted) -> Option<String> {
    catalogue::look_up(wanted, true).ok().map(|clip| clip.name)
}

/// Every rule of a joint whose hose and spigot are known; returns what it takes from the shelf.
fn whole(
    input: &JointInput,
    hose: &HoseFacts,
    spigot: &Value<quantity::Length>,
    row: &mut JointRow,
    verdicts: &mut Vec<Verdict>,
) -> Option<(String, u32)> {
    let draw = input
        .terms
        .sampled
        .then_some((input.terms.seed, input.subject.key.as_str()));
    let trial = match &input.note.fitted_over {
        None => None,
        Some(Ok(trial)) => Some(trial),
        Some(Err(missing)) => {
            let name = "Outside of the hose as fitted for trial";
            verdicts.push(input.subject.waits(Stage::Fit, "sizes", name, missing));
            return None;
        }
    };
    let made = Numbers::new(
        spigot,
        &input.spigot.bead,
        hose.bore.as_ref().ok(),
        hose.outside.as_ref().ok(),
        trial,
        draw,
    );
    let numbers = match made {
        Ok(numbers) => numbers,
        Err(broken) => {
            verdicts.push(sizes(input, &broken, spigot));
            return None;
        }
    };
    let ctx = Ctx {
        input,
        hose,
        numbers: &numbers,
    };
    verdicts.push(stretch::stretch(&ctx));
    verdicts.extend(stretch::bead(&ctx));
    verdicts.extend(stretch::soften(&ctx));
    let (clip_verdict, chosen) = clip::clip(&ctx);
    verdicts.push(clip_verdict);
    let counted = count::clips(&ctx, chosen.clip.as_ref());
    // Where the metal is too short for the clips, that verdict says all about the length too.
    let room = counted.verdict.grade < Grade::Marginal || counted.verdict.basis != Basis::Physics;
    let clips_there = counted.clips.filter(|_| room);
    verdicts.push(counted.verdict);
    let pushed = tighten::insertion(&ctx, chosen.clip.as_ref(), clips_there);
    verdicts.extend(pushed.verdict);
    let torque = tighten::torque(&ctx, chosen.clip.as_ref());
    row.torque = torque.as_ref().and_then(|torque| torque.shown.clone());
    row.by_hand.torque_source = torque.as_ref().and_then(|torque| torque.source.clone());
    verdicts.extend(torque.map(|torque| torque.verdict));

    if numbers.knows_stretch() {
        row.stretch = say::share(numbers.stretch().linear.mean);
    }
    if numbers.knows_fitted() {
        let (low, high) = numbers.fitted();
        row.fitted_low = say::diameter(low);
        row.fitted_high = say::diameter(high);
    }
    row.clip = chosen.clip.as_ref().map(|clip| clip.name.clone());
    row.clip_chosen = chosen.by_tool;
    row.clips = counted.clips;
    row.chance = chosen.chance;
    row.neighbours = chosen.neighbours;
    row.push_on = pushed.mark;
    row.by_hand.push_on_assumes = pushed.assumes;
    row.by_hand.band = clip::band(&ctx, chosen.clip.as_ref()).map(|(band, _)| band);
    let kind = chosen.clip.as_ref().map(|clip| clip.kind);
    row.by_hand.clip_kind = kind.map(|kind| kind.name().to_owned());
    row.by_hand.close = kind.map(|kind| crate::craft::in_short(kind).to_owned());
    let own = chosen
        .clip
        .filter(|clip| chosen.by_tool && clip.own)
        .map(|clip| clip.name);
    own.or(chosen.offered_own)
        .map(|name| (name, row.clips.unwrap_or(1)))
}

fn shown(value: &Known<quantity::Length>) -> Option<Number> {
    value
        .as_ref()
        .ok()
        .and_then(|value| say::diameter(value.measured.value.si()))
}

fn blank_row(input: &JointInput) -> JointRow {
    let hose = input.hose.as_ref().ok();
    JointRow {
        joint: input.subject.key.clone(),
        mark: input.mark.clone(),
        run: input.run.clone(),
        spigot_name: input.spigot.name.clone(),
        spigot: shown(&input.spigot.od),
        bead: shown(&input.spigot.bead),
        hose: hose.map_or_else(|| "not decided".into(), |hose| hose.name.clone()),
        bore: hose.and_then(|hose| shown(&hose.bore)),
        over: hose.and_then(|hose| match &hose.outside {
            Ok(Outside::Over(over)) => say::diameter(over.measured.value.si()),
            _ => None,
        }),
        stretch: None,
        fitted_low: None,
        fitted_high: None,
        clip: None,
        clip_chosen: false,
        clips: None,
        chance: None,
        neighbours: Vec::new(),
        push_on: None,
        torque: None,
        grade: Grade::Sound,
        id_prefix: format!("fit.{}", input.subject.key),
        sizes: sizes_of(input),
        by_hand: ByHand {
            ring_on_first: input.note.ring_on_first,
            reused_hose: input.note.reused_hose,
            ..ByHand::default()
        },
    }
}

fn sizes_of(input: &JointInput) -> JointSizes {
    let hose = input.hose.as_ref().ok();
    let spigot = &input.spigot;
    let outside = hose.and_then(|hose| hose.outside.as_ref().ok());
    JointSizes {
        spigot: Shown::of(&spigot.od),
        bead: Shown::of(&spigot.bead),
        behind_bead: Shown::of(&spigot.behind_bead),
        bead_width: Shown::of(&spigot.bead_width),
        bore: hose.and_then(|hose| Shown::of(&hose.bore)),
        over: outside.and_then(|outside| match outside {
            Outside::Over(value) => Some(Shown::of_value(value)),
            Outside::Wall(_) => None,
        }),
        wall: outside.and_then(|outside| match outside {
            Outside::Wall(value) => Some(Shown::of_value(value)),
            Outside::Over(_) => None,
        }),
    }
}

/// Sizes from which nothing can be reckoned.
fn sizes(input: &JointInput, broken: &Broken, spigot: &Value<quantity::Length>) -> Verdict {
    let because = match broken {
        Broken::OutOfReach(name, metres) => Words::of(|system| {
            format!(
                "The {name} would be {}: no hose joint is that size.",
                say::mm(*metres, system)
            )
        }),
        Broken::TrialOff(metres) => Words::of(|system| {
            format!(
                "With the hose on for trial {} was read round it: this hose on this spigot can't be that.",
                say::mm(*metres, system)
            )
        }),
        Broken::InsideOut => "The hose would be no larger outside than its bore.".into(),
        Broken::BeadUnderSpigot => "The bead would be smaller than the spigot behind it.".into(),
    };
    let mut verdict = input
        .subject
        .verdict(Stage::Fit, "sizes", Grade::Unmeasured, because);
    let trial = input.note.fitted_over.as_ref();
    let settles = match (broken, trial) {
        (Broken::TrialOff(_), Some(Ok(trial))) => &trial.settles,
        _ => &spigot.settles,
    };
    verdict.settle_by(settles);
    verdict.remedy = "Measure again: one of these sizes can't be right.".into();
    verdict
}
