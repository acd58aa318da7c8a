//! What each stage reads of the boat: the joints of a run, their spigots, hoses, notes and terms.

mod condition;

use boat::{
    Arranged, Assume, Boat, Carries, ClipWord, Governs, HoseBuild, JointNote, Key, Metal, Piece,
    PieceKind, Run, RunEnd, Size, Stuff, Thing, ThingKind, Told, joint_path, spigot_path,
};
use quantity::{Instruments, Length, Measured, NominalSize, Origin, Quantity};
use reference::insertion::usual_bead_height;

use crate::draft::{edit, quoted};
use crate::facts::{build_beside, measured_end, salt, serves, size_beside, unspoken, wanted};
use crate::say;
use crate::stages::circuit::{self, Joint, Male, Misfit, metal_of};
use crate::stages::fit::hoses::{self, End, StretchInput, StretchOutput};
use crate::stages::fit::{self, ChainInput, JointInput, Serves, ServiceInput};
use crate::stages::survey;
use crate::stages::types::{
    Below, ClipWanted, HoseFacts, JointRow, Known, Missing, NoteFacts, SaltFacts, ShelfHose,
    SpigotFacts, Subject, Terms, Value, clip_kind,
};
use crate::verdict::{Basis, Grade, Settles, Stage, Stakes, Verdict, Words};
use crate::wire::{Input, Memo, Set};

pub(crate) use condition::as_found;

/// One reckoning under way.
pub(crate) struct Job<'a> {
    arranged: &'a Arranged,
    boat: &'a Boat,
    input: &'a Input<'a>,
    shelf: Vec<ShelfHose>,
    /// Clips of the shelf, and how many of each are not spoken for yet.
    shelf_clips: Vec<(ClipWanted, u32)>,
    serves: Serves,
    laden: Known<Length>,
    salt: SaltFacts,
    aluminium: bool,
    /// What each joint and hose was judged by, kept where the order asks for it.
    pub(crate) kept: Option<Kept>,
    pub(crate) verdicts: Vec<Verdict>,
    pub(crate) rows: Vec<JointRow>,
}

/// Inputs of joints and hoses with what came out.
#[derive(Default)]
pub(crate) struct Kept {
    pub(crate) joints: Vec<(JointInput, JointRow)>,
    pub(crate) hoses: Vec<KeptHose>,
}

/// One piece of a run that goes over spigots.
pub(crate) struct KeptHose {
    pub(crate) run: Key,
    pub(crate) piece: Piece,
    pub(crate) input: StretchInput,
    pub(crate) output: StretchOutput,
}

impl<'a> Job<'a> {
    pub(crate) fn of(arranged: &'a Arranged, input: &'a Input<'a>) -> Self {
        let boat = &arranged.boat;
        Self {
            arranged,
            boat,
            input,
            shelf: survey::shelf(boat),
            shelf_clips: unspoken(boat),
            serves: serves(arranged),
            laden: survey::known(
                &boat.about.waterline.laden,
                "boat.waterline.laden",
                "Mark the waterline when she is laden and measure it against today's.",
                &boat.instruments,
            ),
            salt: salt(boat),
            aluminium: circuit::has_aluminium(boat),
            kept: None,
            verdicts: Vec::new(),
            rows: Vec::new(),
        }
    }

    fn instruments(&self) -> &Instruments {
        &self.boat.instruments
    }

    pub(crate) fn run(&mut self, run: &Run, mark: &str, memo: &mut Memo) {
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
            ..Piece::of(PieceKind::Hose {
                size: Size::Choose,
                build: None,
            })
        }];
        let pieces = if run.way == Told::Choose {
            &left_to_tool[..]
        } else {
            pieces
        };
        let stretches: Vec<Vec<(StretchInput, StretchOutput)>> = (0..pieces.len())
            .map(|i| {
                let inputs = self.stretches(run, &joints, pieces, i, &place);
                let with_output = |input: StretchInput| {
                    let output = memo.stretch(&input);
                    (input, output)
                };
                inputs.into_iter().map(with_output).collect()
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
                .and_then(|of_piece| of_piece.iter().find(|(input, _)| input.has(&joint.key)));
            let input = self.joint(run, joint, pieces, female, stretch, &place);
            let mut output = memo.joint(&input);
            let piece = female.and_then(|at| pieces.get(at));
            output.row.by_hand.piece = piece.map(|piece| format!("{}.{}", run.key, piece.name));
            if let Some((name, count)) = &output.takes {
                self.take(name, *count);
            }
            if let Some(kept) = &mut self.kept {
                kept.joints.push((input, output.row.clone()));
            }
            self.verdicts.extend(output.verdicts);
            self.rows.push(output.row);
        }
        if let Some(kept) = &mut self.kept {
            for (piece, of_piece) in pieces.iter().zip(&stretches) {
                for (input, output) in of_piece {
                    kept.hoses.push(KeptHose {
                        run: run.key.clone(),
                        piece: piece.clone(),
                        input: input.clone(),
                        output: output.clone(),
                    });
                }
            }
        }
        for (i, of_piece) in stretches.iter().enumerate() {
            if let Some((_, StretchOutput { hose: Ok(hose), .. })) = of_piece.first() {
                self.service(run, &joints, pieces, i, hose);
            }
        }
    }

    /// Two open ends that meet, or two stubs.
    fn misfit(&self, misfit: &Misfit, pieces: &[Piece], place: &str) -> Verdict {
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
            // Where there is aluminium, a copper alloy would be eaten by it.
            let metal = if self.aluminium {
                Metal::Aluminium
            } else {
                Metal::Bronze
            };
            PieceKind::Joiner {
                size,
                stuff: Stuff::Metal(metal),
                bore: None,
            }
        } else {
            PieceKind::Hose {
                size: Size::Choose,
                build: build_beside(pieces, misfit.at),
            }
        };
        mended.insert(misfit.at.min(mended.len()), Piece::of(kind));
        let (from, to) = (
            quoted(&boat::way_text(pieces)),
            quoted(&boat::way_text(&mended)),
        );
        // A joiner put in before one that is there would take its name, and what was measured of it.
        let renames = misfit.both_female
            && pieces[misfit.at.min(pieces.len())..]
                .iter()
                .any(|piece| matches!(piece.kind, PieceKind::Joiner { .. }));
        if !renames {
            verdict
                .edits
                .push(edit(place, from, to, format!("put {missing} in")));
        }
        verdict.spoken()
    }

    /// Takes clips from the shelf, so that one clip is not offered twice.
    fn take(&mut self, name: &str, count: u32) {
        let of_name =
            |(own, _): &&mut (ClipWanted, u32)| fit::clip_name(own).as_deref() == Some(name);
        if let Some((_, left)) = self.shelf_clips.iter_mut().find(of_name) {
            *left = left.saturating_sub(count);
        }
    }

    /// A female piece with the male ends at its two sides: as one hose, or where its two cuffs differ as
    /// one for each.
    fn stretches(
        &self,
        run: &Run,
        joints: &[Joint],
        pieces: &[Piece],
        index: usize,
        place: &str,
    ) -> Vec<StretchInput> {
        let piece = &pieces[index];
        let choose = run.way == Told::Choose;
        let on_it = joints
            .iter()
            .filter(|joint| choose || joint.female == Some(index));
        let ends: Vec<(&Joint, End)> = on_it
            .map(|joint| {
                let note = self.note(&joint.key);
                let end = End {
                    joint: joint.key.clone(),
                    spigot: self.male(run, joint, pieces),
                    nominal: self.nominal(joint, pieces),
                    stakes: self.stakes(run, joint).0,
                    tried: note.is_some_and(|note| note.trial_fit.given() == Some(&true)),
                };
                (joint, end)
            })
            .collect();
        let hoses = pieces.iter().filter(|piece| circuit::is_hose(&piece.kind));
        let only = hoses.count() == 1;
        let needs = piece.long.or_else(|| {
            run.length
                .given()
                .filter(|_| only)
                .map(|length| length.value)
        });
        let of =
            |ends: Vec<End>, size: Size, build: Option<HoseBuild>, moulded: bool| StretchInput {
                ends,
                size: Some(size),
                build,
                shelf: self.shelf.clone(),
                needs: needs.filter(|_| !moulded),
                moulded: moulded.then(|| boat::piece_text(&piece.kind)),
                assume: self.boat.job.assume.clone(),
                place: place.to_owned(),
            };
        let all = |ends: Vec<(&Joint, End)>| ends.into_iter().map(|(_, end)| end).collect();
        match &piece.kind {
            PieceKind::Hose { size, build } => vec![of(all(ends), *size, *build, false)],
            PieceKind::Elbow {
                size,
                stuff: Stuff::Moulded(build),
                ..
            } => vec![of(all(ends), *size, Some(*build), true)],
            PieceKind::Reducer {
                from,
                to,
                stuff: Stuff::Moulded(build),
            } => ends
                .into_iter()
                .map(|(joint, end)| {
                    let downstream = joint.key.ends_with(".to")
                        || matches!(joint.male, Male::Piece(other) if other > index);
                    let size = if downstream { *to } else { *from };
                    of(vec![end], size, Some(*build), true)
                })
                .collect(),
            _ => Vec::new(),
        }
    }

    /// The size by name of a male end that is bought.
    fn nominal(&self, joint: &Joint, pieces: &[Piece]) -> Option<NominalSize> {
        match &joint.male {
            Male::Piece(i) => circuit::end_size(&pieces.get(*i)?.kind, joint),
            Male::Branch { run, piece } => {
                let way = self.boat.run(run)?.way.given()?;
                let tee = way.iter().find(|known| known.name == *piece)?;
                circuit::end_size(&tee.kind, joint)
            }
            Male::Spigot(_) => None,
        }
    }

    fn note(&self, joint: &str) -> Option<&JointNote> {
        self.boat.joints.iter().find(|note| note.joint == joint)
    }

    /// The male end of a joint, with the usual bead where nobody measured it and it may be assumed.
    fn male(&self, run: &Run, joint: &Joint, pieces: &[Piece]) -> SpigotFacts {
        let mut facts = self.male_as_measured(run, joint, pieces);
        let plain = facts.form == Some(boat::SpigotForm::Plain);
        if let (Err(missing), Ok(od)) = (&facts.bead, &facts.od)
            && !plain
            && self.boat.job.assume.contains(&Assume::BeadHeight)
            && let Ok(height) = usual_bead_height(od.measured.value)
        {
            let (low, high) = (height.value.low, height.value.high);
            facts.bead = Ok(Value {
                measured: Measured {
                    value: od.measured.value + (low + high) / 2.0,
                    low: od.measured.low + low,
                    high: od.measured.high + high,
                    origin: Origin::Assumed,
                },
                from: "assumed".into(),
                place: None,
                settles: missing.settles.clone(),
            });
        }
        facts
    }

    fn male_as_measured(&self, run: &Run, joint: &Joint, pieces: &[Piece]) -> SpigotFacts {
        let piece_end = |name: String, metal: Option<Metal>| {
            let mut facts = survey::piece_end(
                self.note(&joint.key),
                &name,
                &joint_path(&joint.key),
                self.instruments(),
            );
            facts.metal = facts.metal.or(metal);
            // The end of a bought piece has no height of its own in the file; its run's lowest point has.
            if let Err(missing) = &mut facts.height {
                missing.settles = Settles {
                    place: format!("{}.low_at", boat::run_path(&run.key)),
                    how: "Measure the lowest point of its run with a water-filled tube.".into(),
                };
            }
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
        let height = self.male(run, joint, pieces).height;
        let below = match (&height, &self.laden) {
            (Err(missing), Ok(laden)) => self
                .below_by_run(run, laden.measured)
                .unwrap_or_else(|| Below::Unknown(missing.settles.clone())),
            (_, Err(missing)) => Below::Unknown(missing.settles.clone()),
            (Ok(height), Ok(laden)) if height.measured.low < laden.measured.high => {
                Below::Yes(Words::of(|system| {
                    let under = laden.measured.value - height.measured.value;
                    if under.si() <= 0.0 {
                        "at the laden waterline, as near as it was measured".to_owned()
                    } else {
                        format!(
                            "{} below the laden waterline",
                            say::whole_mm(under.si(), system)
                        )
                    }
                }))
            }
            _ => Below::No,
        };
        // Hot coolant under pressure scalds, a pump behind raw water floods her even from above the
        // waterline, and below it the sea needs no pump.
        let stakes = match run.carries {
            Carries::Coolant | Carries::RawWater => Stakes::High,
            _ if sea && below != Below::No => Stakes::High,
            _ => Stakes::Usual,
        };
        (stakes, below)
    }

    /// Where an end of a piece lies whose own height nobody measured, by the run's highest and lowest point.
    fn below_by_run(&self, run: &Run, laden: Measured<Length>) -> Option<Below> {
        let read = |told: &Told<quantity::Reading<Length>>, key: &str| {
            let place = format!("{}.{key}", boat::run_path(&run.key));
            survey::known(told, &place, "", self.instruments()).ok()
        };
        let high = read(&run.high_at, "high_at");
        let low = read(&run.low_at, "low_at");
        if low.is_some_and(|low| low.measured.low >= laden.high) {
            return Some(Below::No);
        }
        high.filter(|high| high.measured.high < laden.low)
            .map(|_| Below::Yes("with the whole run below the laden waterline".into()))
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
            Some((_, output)) => output.hose.clone().map(|hose| measured_end(hose, &note)),
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
        // A sleeve is worth its trouble only where no hose of the list fits both ends well.
        let fits = other_hoses.iter().any(|other| other.grade == Grade::Sound);
        let sleeve = stretch
            .filter(|_| !fits)
            .and_then(|(_, output)| output.sleeve.clone());
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
            sleeve,
            note,
            note_place,
            shelf: self
                .shelf_clips
                .iter()
                .filter(|(_, left)| *left > 0)
                .map(|(own, _)| own.clone())
                .collect(),
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
        let given = |told: &Told<quantity::Reading<Length>>, key: &str, how: &str| {
            let place = format!("{place}.{key}");
            (!told.is_left_out()).then(|| survey::known(told, &place, how, self.instruments()))
        };
        NoteFacts {
            clip: note.clip.given().map(wanted),
            clip_kind: note
                .clip_kind
                .given()
                .map(|word: &ClipWord| clip_kind(*word)),
            clips: note.clips.given().copied(),
            clip_unknown: note.clip == Told::Unknown,
            fitted_over: given(&note.fitted_od, "fitted_od", how),
            hose_bore: given(
                &note.hose_bore,
                "hose_bore",
                "Measure the bore of this hose end with a caliper.",
            ),
            hose_over: given(
                &note.hose_over,
                "hose_over",
                "Measure round this hose end with a tape.",
            ),
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
            mended.splice(index..=index, kinds.into_iter().map(Piece::of));
            quoted(&boat::way_text(&mended))
        };
        let resized = |size: Size| match &pieces[index].kind {
            PieceKind::Elbow {
                angle,
                stuff,
                legs,
                radius,
                bore,
                ..
            } => PieceKind::Elbow {
                angle: *angle,
                size,
                stuff: *stuff,
                legs: *legs,
                radius: *radius,
                bore: *bore,
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
        let hose = matches!(pieces[index].kind, PieceKind::Hose { .. });
        // A reducer put in before one that is there would take its name, and with it what was
        // measured of it.
        let renames = pieces[index..]
            .iter()
            .any(|piece| matches!(piece.kind, PieceKind::Reducer { .. }));
        if best.is_none_or(|best| best >= Grade::Marginal)
            && hose
            && !renames
            && let Some(reduced) = &output.reduced
            && best.is_none_or(|best| reduced.grade < best)
        {
            let (a, b) = reduced.sizes;
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
                grade: reduced.grade,
                thousandths: (reduced.chance * 1000.0).round() as u32,
                own: reduced.own,
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
        let low_at = survey::known(
            &run.low_at,
            &format!("{}.low_at", boat::run_path(&run.key)),
            "Measure its lowest point with a water-filled tube.",
            self.instruments(),
        );
        // Where its lowest point was measured that is enough; else both ends must be known, since the
        // one that is not may be the lower.
        let low_is_known = low_at.is_ok();
        let mut lowest: Option<Known<Length>> = low_is_known.then_some(low_at);
        for height in heights {
            lowest = Some(match (lowest, height) {
                (Some(Ok(one)), Ok(other)) => Ok(if other.measured.value < one.measured.value {
                    other
                } else {
                    one
                }),
                (Some(Ok(one)), Err(_)) if low_is_known => Ok(one),
                (Some(Err(missing)), _) => Err(missing),
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
    pub(crate) fn thing(&mut self, thing: &Thing) {
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
            raw_water_inside: self.boat.runs.iter().any(|run| {
                let ends = [&run.from, &run.to];
                run.carries == Carries::RawWater
                    && ends.into_iter().any(
                        |end| matches!(end, RunEnd::Thing { thing: key, .. } if *key == thing.key),
                    )
            }),
        };
        self.verdicts.extend(fit::chain(&input));
    }

    /// Where the stack of a thing was typed: with the thing, or with the one that it is like.
    fn chain_place(&self, thing: &Thing) -> String {
        self.arranged.thing_place(&thing.key)
    }
}
