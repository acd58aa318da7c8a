//! One joint from a few numbers, without a boat.

use boat::{Assume, Carries, ClipWord, HoseBuild, Told};
use quantity::{Instruments, Length, Reading};

use crate::stages::fit::{self, JointInput, JointOutput};
use crate::stages::survey;
use crate::stages::types::{
    Below, HoseFacts, JointRow, Known, Missing, NoteFacts, Outside, SpigotFacts, Subject, Terms,
    Value, clip_kind, hose_kind,
};
use crate::verdict::{Settles, Stakes, Verdict};
use crate::wire::Set;

/// One joint from a few numbers, without a boat.
#[derive(Clone, Debug)]
pub struct QuickInput {
    /// Bore of the hose.
    pub bore: Reading<Length>,
    /// Outside diameter of the free hose.
    pub over: Reading<Length>,
    /// Outside diameter of the spigot behind its bead.
    pub spigot: Reading<Length>,
    /// Outside diameter over the bead.
    pub bead: Option<Reading<Length>>,
    /// The spigot has no bead. Without this and without a diameter over the bead its form is not known.
    pub plain: bool,
    /// Straight length behind the bead.
    pub behind_bead: Option<Reading<Length>>,
    /// Kind of clip wanted.
    pub clip: Option<ClipWord>,
    /// Build of the hose.
    pub hose: HoseBuild,
    /// Seed of all sampling.
    pub seed: u64,
    /// Which verdicts.
    pub set: Set,
}

/// Judges one joint from a few numbers: stretch, fitted diameter, clip, torque.
pub fn quick(input: &QuickInput) -> (JointRow, Vec<Verdict>) {
    let instruments = Instruments::usual();
    let read = |reading: &Reading<Length>, flag: &str, how: &str| -> Known<Length> {
        // Every flag is read by caliper unless it says otherwise.
        let told = Told::Given(*reading);
        let known = survey::known(&told, "engine.spigots.out.od", how, &instruments);
        let renamed = |settles: &Settles| Settles {
            place: flag.to_owned(),
            how: settles.how.clone(),
        };
        known
            .map(|value| Value {
                place: None,
                settles: renamed(&value.settles),
                ..value
            })
            .map_err(|missing| Missing {
                settles: renamed(&missing.settles),
                ..missing
            })
    };
    let absent = |flag: &str, how: &str| -> Known<Length> {
        Err(Missing {
            why: "not given".into(),
            settles: Settles {
                place: flag.to_owned(),
                how: how.to_owned(),
            },
        })
    };
    let bead_how = "Measure over the bead with a caliper and give --bead.";
    let behind_how = "Measure the straight length behind the bead and give --behind-bead.";
    let bead = input.bead.as_ref().map_or_else(
        || absent("--bead", bead_how),
        |bead| read(bead, "--bead", bead_how),
    );
    let behind = input.behind_bead.as_ref();
    let kind = hose_kind(input.hose);
    let over = read(
        &input.over,
        "--over",
        "Measure the outside of the free hose once more.",
    );
    let joint = JointInput {
        subject: Subject {
            key: "joint".into(),
            title: "the joint".into(),
            place: String::new(),
        },
        mark: String::new(),
        run: String::new(),
        spigot: SpigotFacts {
            name: "spigot".into(),
            place: String::new(),
            od: read(
                &input.spigot,
                "--spigot",
                "Measure the spigot once more with a caliper.",
            ),
            form: match (input.bead.is_some(), input.plain) {
                (true, _) => Some(boat::SpigotForm::Beaded),
                (false, true) => Some(boat::SpigotForm::Plain),
                (false, false) => None,
            },
            bead,
            behind_bead: behind.map_or_else(
                || absent("--behind-bead", behind_how),
                |behind| read(behind, "--behind-bead", behind_how),
            ),
            bead_width: absent("--bead", bead_how),
            metal: None,
            height: absent("height", "Height is not asked for one joint."),
            inferred: None,
        },
        hose: over.map(|over| HoseFacts {
            name: format!("{} hose", input.hose.word()),
            size: None,
            place: String::new(),
            build: Ok((kind, false)),
            bore: read(
                &input.bore,
                "--bore",
                "Measure the bore once more with a caliper.",
            ),
            outside: Ok(Outside::Over(over)),
            own: false,
            works_at: None,
        }),
        other_hoses: Vec::new(),
        sleeve: None,
        note: NoteFacts {
            clip_kind: input.clip.map(clip_kind),
            ..NoteFacts::default()
        },
        note_place: String::new(),
        shelf: Vec::new(),
        terms: Terms {
            carries: Carries::Coolant,
            stakes: Stakes::High,
            below: Below::No,
            two_clips_rule: None,
            no_spring_rule: None,
            sea_reaches: None,
            aluminium_in_circuit: false,
            // Nothing of the file can stand for these two, and the working shows them as assumed.
            assume: vec![Assume::BandWidth, Assume::BeadWidth],
            seed: input.seed,
            sampled: input.set == Set::All,
        },
    };
    let JointOutput {
        row, mut verdicts, ..
    } = fit::joint(&joint);
    // There is no file that an edit could change.
    for verdict in &mut verdicts {
        verdict.edits.clear();
    }
    (row, verdicts)
}
