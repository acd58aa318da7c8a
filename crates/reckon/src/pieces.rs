//! The pieces of a run as the knife and the bay need them: lengths, bores, what goes over the spigots.

use boat::{Arranged, Boat, Piece, PieceKind, Run, Size, Told, piece_text};
use quantity::{Length, Measured, Origin};

use crate::job::{Kept, KeptHose};
use crate::shop::{missing, outside, settles};
use crate::stages::circuit;
use crate::stages::cut::{CutInput, CutPiece, Shape};
use crate::stages::fit::hoses;
use crate::stages::survey;
use crate::stages::types::{Known, Missing, Value, hose_kind};

/// Whence the pieces are read.
pub(crate) struct Pieces<'a> {
    /// The boat in her arrangement.
    pub(crate) arranged: &'a Arranged,
    /// The boat as her file stands.
    pub(crate) base: &'a Boat,
    /// What her joints and hoses were judged by.
    pub(crate) kept: &'a Kept,
}

impl Kept {
    /// The hose of a piece.
    pub(crate) fn hose(&self, run: &str, piece: &str) -> Option<&KeptHose> {
        self.hoses
            .iter()
            .find(|kept| kept.run == run && kept.piece.name == piece)
    }
}

impl Pieces<'_> {
    fn boat(&self) -> &Boat {
        &self.arranged.boat
    }

    /// How far the end of a piece goes over its spigot.
    fn pushed(&self, joint: &str) -> Known<Length> {
        let (input, row) = self
            .kept
            .joints
            .iter()
            .find(|(input, _)| input.subject.key == joint)
            .ok_or_else(|| {
                let run = joint.split('.').next().unwrap_or(joint);
                missing(
                    "an open end of it goes on nothing",
                    &format!("{}.way", boat::run_path(run)),
                    "Put a joiner between open ends, and a hose between stubs.",
                )
            })?;
        match &row.push_on {
            Some(mark) => Ok(Value {
                measured: Measured::exact(Length::of_si(mark.si), Origin::Computed),
                from: "fit".into(),
                place: None,
                settles: settles(&boat::joint_path(joint), ""),
            }),
            None => {
                let spigot = &input.spigot;
                let lengths = [
                    &spigot.od,
                    &spigot.behind_bead,
                    &spigot.bead,
                    &spigot.bead_width,
                ];
                let missing = lengths.into_iter().find_map(|length| length.as_ref().err());
                Err(Missing {
                    why: "how far it goes over a spigot is not known".into(),
                    settles: missing.map_or_else(
                        || {
                            let how = "Settle what is unmeasured of this joint first.";
                            settles(&boat::joint_path(joint), how)
                        },
                        |missing| missing.settles.clone(),
                    ),
                })
            }
        }
    }

    /// The length of a run, read by tape wherever it was typed.
    fn length(&self, run: &Run) -> Known<Length> {
        let key = format!("{}.length", boat::run_path(&run.key));
        let how = "Lay a tape along the old hose, from the mouth of one spigot to the mouth of the other.";
        let known = survey::known(&run.length, &key, how, &self.boat().instruments);
        if self.base.run(&run.key).is_some() {
            return known;
        }
        // A run that an arrangement adds is typed there.
        let place = format!("{}.length", self.arranged.run_place(&run.key));
        match known {
            Ok(value) => Ok(Value {
                place: Some(place.clone()),
                settles: settles(&place, how),
                ..value
            }),
            Err(missing) => Err(Missing {
                settles: settles(&place, &missing.settles.how),
                ..missing
            }),
        }
    }

    fn cut_piece(&self, run: &Run, pieces: &[Piece], i: usize, piece: &Piece) -> CutPiece {
        let key = format!("{}.{}", run.key, piece.name);
        // The joints at its two sides: with the run's ends, or with its male neighbours.
        let before = match i.checked_sub(1).map(|before| &pieces[before]) {
            Some(before) => format!("{}.{}.b", run.key, before.name),
            None => format!("{}.from", run.key),
        };
        let after = match pieces.get(i + 1) {
            Some(after) => format!("{}.{}.a", run.key, after.name),
            None => format!("{}.to", run.key),
        };
        let female = circuit::is_hose(&piece.kind);
        let pushed = if female {
            [Some(self.pushed(&before)), Some(self.pushed(&after))]
        } else {
            [None, None]
        };
        let kept = self.kept.hose(&run.key, &piece.name);
        let facts = kept.and_then(|kept| kept.output.hose.as_ref().ok());
        let over = facts.and_then(outside);
        let shape = match &piece.kind {
            PieceKind::Hose { .. } => Shape::Hose {
                build: facts
                    .and_then(|facts| facts.build.as_ref().ok())
                    .map(|(kind, _)| *kind),
                bore: facts
                    .and_then(|facts| facts.bore.as_ref().ok())
                    .map(|bore| bore.measured.value),
                over,
                least_radius: facts
                    .filter(|facts| facts.own)
                    .and_then(|facts| facts.size)
                    .and_then(|size| {
                        let own = self.boat().stock.hose.iter();
                        let build = facts?.build.as_ref().ok().map(|(kind, _)| *kind);
                        own.filter(|own| hoses::is_same_size(own.size, size))
                            .filter(|own| own.build.map(hose_kind) == build)
                            .find_map(|own| own.least_radius)
                    }),
            },
            PieceKind::Elbow {
                angle,
                legs,
                radius,
                ..
            } if female => Shape::Elbow {
                angle: tenths(angle.to_degrees()),
                legs: *legs,
                radius: *radius,
            },
            _ => Shape::Fitting,
        };
        CutPiece {
            key,
            name: facts.map_or_else(|| piece_text(&piece.kind), |facts| facts.name.clone()),
            shape,
            long: piece.long,
            decided: self.arranged.cut(&run.key, pieces, i),
            pushed,
        }
    }

    /// The pieces of a run; `None` where its way is not told.
    pub(crate) fn of_run(&self, run: &Run, mark: &str) -> Option<CutInput> {
        let place = format!("{}.way", self.arranged.run_place(&run.key));
        let whole = [Piece {
            name: "hose".into(),
            ..Piece::of(PieceKind::Hose {
                size: Size::Choose,
                build: None,
            })
        }];
        let pieces = match &run.way {
            Told::Given(pieces) => pieces.as_slice(),
            Told::Choose => &whole[..],
            _ => return None,
        };
        let mut elbows = Vec::new();
        let cut_pieces: Vec<CutPiece> = pieces
            .iter()
            .enumerate()
            .map(|(i, piece)| {
                if let PieceKind::Elbow { angle, .. } = &piece.kind {
                    elbows.push(tenths(angle.to_degrees()));
                }
                self.cut_piece(run, pieces, i, piece)
            })
            .collect();
        let mut turns: Vec<u32> = run
            .bends
            .given()
            .map_or(&[][..], Vec::as_slice)
            .iter()
            .filter_map(|bend| match bend {
                boat::Bend::Turn { angle, .. } => Some(tenths(angle.to_degrees())),
                boat::Bend::Offset { .. } => None,
            })
            .collect();
        // Each elbow takes the bend that is nearest its own.
        for elbow in elbows {
            let nearest = (0..turns.len()).min_by_key(|&i| turns[i].abs_diff(elbow));
            if let Some(nearest) = nearest {
                turns[nearest] = turns[nearest].saturating_sub(elbow);
            }
        }
        turns.retain(|turn| *turn > 0);
        let is_offset = |bend: &boat::Bend| matches!(bend, boat::Bend::Offset { .. });
        let offset = run
            .bends
            .given()
            .is_some_and(|bends| bends.iter().any(is_offset));
        Some(CutInput {
            run: run.key.clone(),
            mark: mark.to_owned(),
            place,
            length: self.length(run),
            turns,
            offset,
            pieces: cut_pieces,
        })
    }
}

/// An angle [°] in tenths of a degree.
pub(crate) fn tenths(degrees: f64) -> u32 {
    (degrees * 10.0).round().clamp(0.0, 3600.0) as u32
}
