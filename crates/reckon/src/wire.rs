//! Connects the stages: survey → circuit → shape → flow → fit, air, access → order, drain, build,
//! fill, prove, home. This file is the drawn order; so far survey, circuit and fit stand.

use std::collections::BTreeMap;

use boat::{
    Arranged, Boat, Carries, ClipWord, Governs, JointNote, Key, Metal, Piece, PieceKind, Run,
    RunEnd, Size, Stuff, Thing, ThingKind, Told, joint_path, spigot_path,
};
use quantity::{Instruments, Length, Quantity};

use crate::draft::{edit, quoted};
use crate::facts::{build_beside, metal_of, salt, serves, size_beside, wanted};
use crate::say;
use crate::seed::hash_of;
use crate::stages::circuit::{self, Joint, Male, Misfit};
use crate::stages::fit::hoses::{self, End, StretchInput, StretchOutput};
use crate::stages::fit::{self, ChainInput, JointInput, JointOutput, Serves, ServiceInput};
use crate::stages::survey;
use crate::stages::types::{
    Below, ClipWanted, Count, HoseFacts, JointRow, Known, Missing, NoteFacts, PartKind, SaltFacts,
    ShelfHose, SpigotFacts, Subject, Terms, clip_kind,
};
use crate::verdict::{Basis, Grade, Settles, Stage, Stakes, Verdict, Words};

/// Which verdicts are wanted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Set {
    /// Those that follow an edit at once.
    Prompt,
    /// All, with sampled chances.
    #[default]
    All,
}

/// All that the answer depends on.
#[derive(Clone, Debug)]
pub struct Input<'a> {
    /// The boat as her file tells it.
    pub boat: &'a Boat,
    /// Which arrangement to judge; `None` for the one the job is about (`after` where there is one,
    /// else the file as it stands).
    pub arrangement: Option<&'a str>,
    /// Seed of all sampling.
    pub seed: u64,
    /// Which verdicts.
    pub set: Set,
}

/// What was reckoned before, kept by the caller; keyed by the hash of a stage's input.
#[derive(Clone, Debug, Default)]
pub struct Memo {
    joints: BTreeMap<u64, JointOutput>,
    stretches: BTreeMap<u64, StretchOutput>,
}

/// How many answers are kept: some hundreds of edits' worth.
const KEPT: usize = 4096;

impl Memo {
    fn joint(&mut self, input: &JointInput) -> JointOutput {
        remembered(&mut self.joints, input, fit::joint)
    }

    fn stretch(&mut self, input: &StretchInput) -> StretchOutput {
        remembered(&mut self.stretches, input, hoses::find)
    }
}

fn remembered<I: std::hash::Hash, O: Clone>(
    kept: &mut BTreeMap<u64, O>,
    input: &I,
    stage: impl Fn(&I) -> O,
) -> O {
    let key = hash_of(input);
    if let Some(output) = kept.get(&key) {
        return output.clone();
    }
    if kept.len() >= KEPT {
        kept.clear();
    }
    let output = stage(input);
    kept.insert(key, output.clone());
    output
}

/// Parts that the joints need, merged.
pub type Counts = Vec<Count>;

/// The whole answer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answer {
    /// The arrangement that was judged; `None` for the file as it stands.
    pub arrangement: Option<Key>,
    /// Every verdict, in the order of the job, then of the file.
    pub verdicts: Vec<Verdict>,
    /// One row a joint, in the order of the file and of flow.
    pub joints: Vec<JointRow>,
    /// Parts that the joints need.
    pub counts: Counts,
}

/// The mark of each run: those of the file as they stand, free letters for the rest.
pub fn marks(boat: &Boat) -> Vec<(Key, String)> {
    circuit::marks(boat)
}

/// Reckons the whole answer.
pub fn reckon(input: &Input, memo: &mut Memo) -> Answer {
    let has = |name: &&str| {
        input
            .boat
            .arrangements
            .iter()
            .any(|step| step.key == **name)
    };
    let name = input.arrangement.or(Some("after")).filter(has);
    let Some(arranged) = input
        .boat
        .arranged(name)
        .or_else(|| input.boat.arranged(None))
    else {
        return Answer::default();
    };
    let mut job = Job::of(&arranged, input);
    let marks: BTreeMap<Key, String> = circuit::marks(&arranged.boat).into_iter().collect();
    for run in &arranged.boat.runs {
        job.run(run, marks.get(&run.key).map_or("", String::as_str), memo);
    }
    for thing in &arranged.boat.things {
        job.thing(thing);
    }
    Answer {
        arrangement: name.map(str::to_owned),
        verdicts: job.verdicts,
        joints: job.rows,
        counts: merged(job.counts),
    }
}

/// Adds up what is the same part.
fn merged(counts: Vec<Count>) -> Counts {
    let mut all: BTreeMap<(PartKind, String), Count> = BTreeMap::new();
    for count in counts {
        let slot = all
            .entry((count.kind, count.name.clone()))
            .or_insert_with(|| Count {
                count: 0,
                wanted_by: Vec::new(),
                ..count.clone()
            });
        slot.count += count.count;
        slot.wanted_by.extend(count.wanted_by);
    }
    all.into_values().collect()
}

/// One reckoning under way.
struct Job<'a> {
    arranged: &'a Arranged,
    boat: &'a Boat,
    input: &'a Input<'a>,
    shelf: Vec<ShelfHose>,
    shelf_clips: Vec<ClipWanted>,
    serves: Serves,
    laden: Known<Length>,
    salt: SaltFacts,
    aluminium: bool,
    verdicts: Vec<Verdict>,
    rows: Vec<JointRow>,
    counts: Vec<Count>,
}

impl<'a> Job<'a> {
    fn of(arranged: &'a Arranged, input: &'a Input<'a>) -> Self {
        let boat = &arranged.boat;
        Self {
            arranged,
            boat,
            input,
            shelf: survey::shelf(boat),
            shelf_clips: boat
                .stock
                .clips
                .iter()
                .map(|own| wanted(&own.clip))
                .collect(),
            serves: serves(arranged),
            laden: survey::known(
                &boat.about.waterline.laden,
                "boat.waterline.laden",
                "Mark the waterline when she is laden and measure it against today's.",
                &boat.instruments,
            ),
            salt: salt(boat),
            aluminium: circuit::has_aluminium(boat),
            verdicts: Vec::new(),
            rows: Vec::new(),
            counts: Vec::new(),
        }
    }

    fn instruments(&self) -> &Instruments {
        &self.boat.instruments
    }

    fn run(&mut self, run: &Run, mark: &str, memo: &mut Memo) {
        let (joints, misfits) = circuit::joints(run, mark);
        let pieces = run.way.given().map_or(&[][..], Vec::as_slice);
        let place = format!("{}.way", self.arranged.run_place(&run.key));
        for misfit in &misfits {
            let verdict = self.misfit(misfit, pieces, &place);
            self.verdicts.push(verdict);
        }
        // The whole run is one hose to be chosen where the file leaves the way to the tool.
        let left_to_tool = [Piece {
            name: "hose".into(),
            kind: PieceKind::Hose {
                size: Size::Choose,
                build: None,
            },
        }];
        let pieces = if run.way == Told::Choose {
            &left_to_tool[..]
        } else {
            pieces
        };
        let stretches: Vec<Option<(StretchInput, StretchOutput)>> = (0..pieces.len())
            .map(|i| {
                let input = self.stretch(run, &joints, pieces, i, &place)?;
                let output = memo.stretch(&input);
                Some((input, output))
            })
            .collect();
        for joint in &joints {
            let female = if run.way == Told::Choose {
                Some(0)
            } else {
                joint.female
            };
            let stretch = female
                .and_then(|i| stretches.get(i))
                .and_then(Option::as_ref);
            let input = self.joint(run, joint, pieces, female, stretch, &place);
            let output = memo.joint(&input);
            self.verdicts.extend(output.verdicts);
            self.counts.extend(output.counts);
            self.rows.push(output.row);
        }
        for (i, stretch) in stretches.iter().enumerate() {
            if let Some((_, StretchOutput { hose: Ok(hose), .. })) = stretch {
                self.service(run, &joints, pieces, i, hose);
                self.counts.push(Count {
                    kind: PartKind::Hose,
                    name: hose.name.clone(),
                    count: 1,
                    wanted_by: vec![format!("{}.{}", run.key, pieces[i].name)],
                });
            }
        }
        for piece in pieces.iter().filter(|piece| piece.kind.is_male()) {
            let kind = match piece.kind {
                PieceKind::Joiner { .. } => PartKind::Joiner,
                PieceKind::Reducer { .. } => PartKind::Reducer,
                _ => PartKind::Fitting,
            };
            self.counts.push(Count {
                kind,
                name: boat::piece_text(&piece.kind),
                count: 1,
                wanted_by: vec![format!("{}.{}", run.key, piece.name)],
            });
        }
    }

    /// Two open ends that meet, or two stubs.
    fn misfit(&mut self, misfit: &Misfit, pieces: &[Piece], place: &str) -> Verdict {
        let (one, other) = &misfit.names;
        let subject = Subject {
            key: format!("{}.{}", misfit.run, misfit.between),
            title: format!("{one} and {other} of {}", misfit.run),
            place: place.to_owned(),
        };
        let missing = if misfit.both_female {
            "a joiner"
        } else {
            "a hose"
        };
        let because = if misfit.both_female {
            format!(
                "{one} and {other} are both open ends: {missing} is missing between them, and it counts as a part with two joints."
            )
        } else {
            format!("{one} and {other} are both stubs: {missing} is missing between them.")
        };
        let mut verdict =
            subject.verdict(Stage::Fit, "ends", Grade::Unsound, because.as_str().into());
        verdict.basis = Basis::Physics;
        verdict.remedy = format!("Put {missing} between them.").as_str().into();
        verdict.working.limit = "a hose or cuff on each stub, a stub in each hose or cuff".into();
        let mut mended = pieces.to_vec();
        let size = size_beside(pieces, misfit.at);
        let kind = if misfit.both_female {
            PieceKind::Joiner {
                size,
                stuff: Stuff::Metal(Metal::Bronze),
            }
        } else {
            PieceKind::Hose {
                size: Size::Choose,
                build: build_beside(pieces, misfit.at),
            }
        };
        mended.insert(
            misfit.at.min(mended.len()),
            Piece {
                name: String::new(),
                kind,
            },
        );
        let (from, to) = (
            quoted(&boat::way_text(pieces)),
            quoted(&boat::way_text(&mended)),
        );
        verdict
            .edits
            .push(edit(place, from, to, format!("put {missing} in")));
        if misfit.both_female {
            self.counts.push(Count {
                kind: PartKind::Joiner,
                name: format!("joiner {}", boat::size_text(size)),
                count: 1,
                wanted_by: vec![subject.key.clone()],
            });
        }
        verdict.spoken()
    }

    /// A female piece with the male ends at its two sides.
    fn stretch(
        &self,
        run: &Run,
        joints: &[Joint],
        pieces: &[Piece],
        index: usize,
        place: &str,
    ) -> Option<StretchInput> {
        let piece = &pieces[index];
        if !circuit::is_hose(&piece.kind) {
            return None;
        }
        let choose = run.way == Told::Choose;
        let ends = joints
            .iter()
            .filter(|joint| choose || joint.female == Some(index))
            .map(|joint| {
                let note = self.note(&joint.key);
                End {
                    joint: joint.key.clone(),
                    spigot: self.male(run, joint, pieces),
                    stakes: self.stakes(run, joint).0,
                    tried: note.is_some_and(|note| note.trial_fit.given() == Some(&true)),
                }
            })
            .collect();
        let (size, build) = match &piece.kind {
            PieceKind::Hose { size, build } => (*size, *build),
            PieceKind::Elbow {
                size,
                stuff: Stuff::Moulded(build),
                ..
            } => (*size, Some(*build)),
            PieceKind::Reducer {
                from,
                stuff: Stuff::Moulded(build),
                ..
            } => (*from, Some(*build)),
            _ => return None,
        };
        Some(StretchInput {
            ends,
            size: Some(size),
            build,
            shelf: self.shelf.clone(),
            assume: self.boat.job.assume.clone(),
            place: place.to_owned(),
        })
    }

    fn note(&self, joint: &str) -> Option<&JointNote> {
        self.boat.joints.iter().find(|note| note.joint == joint)
    }

    /// The male end of a joint.
    fn male(&self, run: &Run, joint: &Joint, pieces: &[Piece]) -> SpigotFacts {
        let piece_end = |name: String, metal: Option<Metal>| {
            let mut facts = survey::piece_end(
                self.note(&joint.key),
                &name,
                &joint_path(&joint.key),
                self.instruments(),
            );
            facts.metal = facts.metal.or(metal);
            facts
        };
        match &joint.male {
            Male::Piece(i) => piece_end(
                circuit::piece_name(run, &pieces[*i]),
                metal_of(&pieces[*i].kind),
            ),
            Male::Branch { run, piece } => {
                let metal = self
                    .boat
                    .run(run)
                    .and_then(|run| run.way.given())
                    .and_then(|way| way.iter().find(|p| p.name == *piece));
                piece_end(
                    format!("{piece} in {run}"),
                    metal.and_then(|piece| metal_of(&piece.kind)),
                )
            }
            Male::Spigot(end) => match self.boat.spigot_at(end) {
                Some((thing, spigot)) => {
                    let base = self.arranged.thing_place(&thing.key);
                    let place = if base == thing.path() {
                        spigot_path(&thing.key, &spigot.name)
                    } else {
                        format!("{base}.spigots.{}", boat::key_text(&spigot.name))
                    };
                    let name = if thing.spigots.len() == 1 {
                        thing.key.clone()
                    } else {
                        format!("{} {}", thing.key, spigot.name)
                    };
                    survey::spigot(
                        spigot,
                        &name,
                        &place,
                        (&thing.height, &format!("{base}.h")),
                        self.instruments(),
                    )
                }
                None => {
                    // A threaded port, or an end that the file leaves unclear: nothing a hose goes over yet.
                    let (name, place) = match end {
                        RunEnd::Thing { thing, spigot } => (
                            format!("{thing} {}", spigot.as_deref().unwrap_or(""))
                                .trim()
                                .to_owned(),
                            spigot_path(thing, spigot.as_deref().unwrap_or("a")),
                        ),
                        RunEnd::Tee { run, piece } => {
                            (format!("{piece} in {run}"), joint_path(&joint.key))
                        }
                    };
                    survey::spigot(
                        &boat::Spigot::default(),
                        &name,
                        &place,
                        (&Told::LeftOut, ""),
                        self.instruments(),
                    )
                }
            },
        }
    }

    /// What hangs on a joint, and where it lies against the water.
    fn stakes(&self, run: &Run, joint: &Joint) -> (Stakes, Below) {
        let sea = circuit::at_the_sea(self.boat, run, joint);
        let pieces = run.way.given().map_or(&[][..], Vec::as_slice);
        let below = match (&self.male(run, joint, pieces).height, &self.laden) {
            (Err(missing), _) => Below::Unknown(missing.settles.clone()),
            (Ok(_), Err(missing)) => Below::Unknown(missing.settles.clone()),
            (Ok(height), Ok(laden)) if height.measured.low < laden.measured.high => {
                Below::Yes(Words::of(|system| {
                    let under = laden.measured.value - height.measured.value;
                    format!(
                        "{} below the laden waterline",
                        say::whole_mm(under.si().max(0.0), system)
                    )
                }))
            }
            _ => Below::No,
        };
        let stakes = if sea && below != Below::No {
            Stakes::High
        } else {
            Stakes::Usual
        };
        (stakes, below)
    }

    fn joint(
        &self,
        run: &Run,
        joint: &Joint,
        pieces: &[Piece],
        female: Option<usize>,
        stretch: Option<&(StretchInput, StretchOutput)>,
        place: &str,
    ) -> JointInput {
        let spigot = self.male(run, joint, pieces);
        let (stakes, below) = self.stakes(run, joint);
        let note_place = joint_path(&joint.key);
        let note = self
            .note(&joint.key)
            .map_or_else(NoteFacts::default, |note| {
                self.note_facts(note, &note_place)
            });
        let title = format!("{} on {} ({})", run.key, spigot.name, joint.mark);
        let hose = match stretch {
            Some((_, output)) => output.hose.clone(),
            None => {
                let settles = Settles {
                    place: place.to_owned(),
                    how: "Write the way of the run: `way = \"hose 38 epdm\"`, or `\"choose\"`."
                        .into(),
                };
                Err(Missing {
                    why: "no hose is written for this end".into(),
                    settles,
                })
            }
        };
        let other_hoses = match (stretch, female) {
            (Some((input, output)), Some(i)) => self.others(run, pieces, i, input, output, place),
            _ => Vec::new(),
        };
        let rule = |governs: Governs| {
            self.boat
                .about
                .rules
                .iter()
                .find(|rule| rule.governs == Some(governs))
                .map(|rule| rule.text.clone())
        };
        let sea = circuit::at_the_sea(self.boat, run, joint);
        JointInput {
            subject: Subject {
                key: joint.key.clone(),
                title,
                place: self.subject_place(joint, &spigot, &note_place),
            },
            mark: joint.mark.clone(),
            run: run.key.clone(),
            spigot,
            hose,
            other_hoses,
            note,
            note_place,
            shelf: self.shelf_clips.clone(),
            terms: Terms {
                carries: run.carries,
                stakes,
                below,
                two_clips_rule: rule(Governs::TwoClips),
                no_spring_rule: rule(Governs::NoSpringClips),
                sea_reaches: (sea && run.carries != Carries::Vent).then(|| self.salt.clone()),
                aluminium_in_circuit: self.aluminium,
                assume: self.boat.job.assume.clone(),
                seed: self.input.seed,
                sampled: self.input.set == Set::All,
            },
        }
    }

    /// The value that one would look at first: the decision where there is one, else the spigot.
    fn subject_place(&self, joint: &Joint, spigot: &SpigotFacts, note_place: &str) -> String {
        if self.note(&joint.key).is_some() {
            note_place.to_owned()
        } else {
            spigot.place.clone()
        }
    }

    fn note_facts(&self, note: &JointNote, place: &str) -> NoteFacts {
        let how = "Measure round the hose with a tape where it sits on the spigot.";
        NoteFacts {
            clip: note.clip.given().map(wanted),
            clip_kind: note
                .clip_kind
                .given()
                .map(|word: &ClipWord| clip_kind(*word)),
            clips: note.clips.given().copied(),
            fitted_over: survey::known(
                &note.fitted_od,
                &format!("{place}.fitted_od"),
                how,
                self.instruments(),
            )
            .ok(),
            trial_fit: note.trial_fit.given() == Some(&true),
            reused_hose: note.reused_hose.given() == Some(&true),
            ring_on_first: note.ring_on_first.given() == Some(&true),
        }
    }

    /// Other hoses with the edits that would put them in; a reducer where no one hose does.
    fn others(
        &self,
        run: &Run,
        pieces: &[Piece],
        index: usize,
        input: &StretchInput,
        output: &StretchOutput,
        place: &str,
    ) -> Vec<fit::OtherHose> {
        let from = match &run.way {
            Told::Given(pieces) => quoted(&boat::way_text(pieces)),
            Told::Choose => quoted("choose"),
            _ => String::new(),
        };
        let put = |kinds: Vec<PieceKind>| {
            let mut mended = pieces.to_vec();
            mended.splice(
                index..=index,
                kinds.into_iter().map(|kind| Piece {
                    name: String::new(),
                    kind,
                }),
            );
            quoted(&boat::way_text(&mended))
        };
        let resized = |size: Size| match &pieces[index].kind {
            PieceKind::Elbow { angle, stuff, .. } => PieceKind::Elbow {
                angle: *angle,
                size,
                stuff: *stuff,
            },
            PieceKind::Reducer { to, stuff, .. } => PieceKind::Reducer {
                from: size,
                to: *to,
                stuff: *stuff,
            },
            _ => PieceKind::Hose {
                size,
                build: input.build,
            },
        };
        let mut others: Vec<fit::OtherHose> = output
            .others
            .iter()
            .map(|(other, size)| {
                let to = put(vec![resized(Size::Named(*size))]);
                hoses::with_edit(
                    other.clone(),
                    edit(place, from.clone(), to, format!("use {}", other.name)),
                )
            })
            .collect();
        let best = others.iter().map(|other| other.grade).min();
        if best.is_none_or(|best| best >= Grade::Marginal)
            && matches!(pieces[index].kind, PieceKind::Hose { .. })
            && let Some((a, b)) = hoses::reducer(input)
        {
            let (a, b) = (Size::Named(a), Size::Named(b));
            let kinds = vec![
                PieceKind::Hose {
                    size: a,
                    build: input.build,
                },
                PieceKind::Reducer {
                    from: a,
                    to: b,
                    stuff: Stuff::SomeMetal,
                },
                PieceKind::Hose {
                    size: b,
                    build: input.build,
                },
            ];
            let name = format!(
                "hose {}, a reducer and hose {}",
                boat::size_text(a),
                boat::size_text(b)
            );
            let edit = edit(place, from, put(kinds), format!("use {name}"));
            let other = fit::OtherHose {
                name,
                grade: Grade::Sound,
                thousandths: 0,
                own: false,
                edit: Some(edit),
            };
            others.insert(0, other);
        }
        others
    }

    /// What one stretch of hose has to stand.
    fn service(
        &mut self,
        run: &Run,
        joints: &[Joint],
        pieces: &[Piece],
        index: usize,
        hose: &HoseFacts,
    ) {
        if !matches!(run.carries, Carries::Coolant | Carries::Vent) {
            return;
        }
        let key = format!("{}.{}", run.key, pieces[index].name);
        let heights = joints
            .iter()
            .filter(|joint| matches!(joint.male, Male::Spigot(_)))
            .map(|joint| self.male(run, joint, pieces).height);
        let mut lowest: Option<Known<Length>> = None;
        let low_at = survey::known(
            &run.low_at,
            &format!("{}.low_at", boat::run_path(&run.key)),
            "Measure its lowest point with a water-filled tube.",
            self.instruments(),
        );
        for height in heights.chain(low_at.is_ok().then_some(low_at)) {
            lowest = Some(match (lowest, height) {
                (Some(Ok(one)), Ok(other)) => Ok(if other.measured.value < one.measured.value {
                    other
                } else {
                    one
                }),
                (Some(Ok(one)), Err(_)) => Ok(one),
                (_, height) => height,
            });
        }
        let Some(lowest) = lowest else { return };
        let input = ServiceInput {
            subject: Subject {
                key,
                title: format!("{} of {}", pieces[index].name, run.key),
                place: hose.place.clone(),
            },
            hose: hose.clone(),
            lowest,
            serves: self.serves.clone(),
        };
        self.verdicts.extend(fit::service(&input));
    }

    /// The metals of a screwed stack in the hull.
    fn thing(&mut self, thing: &Thing) {
        if thing.chain.is_empty() || thing.kind.given() != Some(&ThingKind::HullFitting) {
            return;
        }
        let input = ChainInput {
            thing: thing.key.clone(),
            place: format!("{}.chain", self.chain_place(thing)),
            parts: thing
                .chain
                .iter()
                .map(|part| (part.name.clone(), part.metal))
                .collect(),
            salt: self.salt.clone(),
        };
        self.verdicts.extend(fit::chain(&input));
    }

    /// Where the stack of a thing was typed: with the thing, or with the one that it is like.
    fn chain_place(&self, thing: &Thing) -> String {
        self.arranged.thing_place(&thing.key)
    }
}
