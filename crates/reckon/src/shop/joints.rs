//! Which joints can be made up with what is bought, and with which clips.

use std::collections::BTreeMap;

use boat::Key;

use super::missing::{missing, sentence, settles};
use super::stock::cuff_as_bought;
use super::{Blocked, Shop};
use crate::stages::fit::hoses::End;
use crate::stages::fit::need;
use crate::stages::order::{JointAsk, Waits};
use crate::stages::types::{HoseFacts, Missing};

impl Shop<'_> {
    /// The joints that can be made up, with their clips; the others wait.
    pub(super) fn joints(&mut self, bought: &BTreeMap<Key, HoseFacts>) -> Vec<JointAsk> {
        let mut joints = Vec::new();
        let mut waits = Vec::new();
        let mut also_blocked = Vec::new();
        for (input, row) in &self.kept.joints {
            let key = &input.subject.key;
            // The hose of a joint that can't be made up is not cut, so its other end waits too.
            let hose = self.kept.hoses.iter().find(|kept| kept.input.has(key));
            let ends = hose.map_or(&[][..], |kept| &kept.input.ends);
            let barred = |end: &&End| self.is_blocked(&end.joint);
            let run = key.split('.').next().unwrap_or_default();
            let stays = self.boat().run(run).is_some_and(|run| self.stays(run));
            if stays || self.is_blocked(key) {
                continue;
            }
            if let Some(other) = ends.iter().find(barred) {
                let why = format!(
                    "Its hose also goes on {}, which can't be made up.",
                    other.joint
                );
                let of_other = self.blocked.iter().find(|known| known.joint == other.joint);
                also_blocked.push(Blocked {
                    joint: key.clone(),
                    id: of_other.map_or_else(String::new, |known| known.id.clone()),
                    because: why.as_str().into(),
                });
                continue;
            }
            let wait = |name: &str, missing: &Missing| Waits {
                what: "clip".into(),
                wanted_by: vec![key.clone()],
                because: sentence(name, missing),
                settles: missing.settles.clone(),
                hidden: input.spigot.inferred.is_some(),
            };
            let piece = self
                .pieces
                .iter()
                .find(|wanted| {
                    wanted.kept.input.has(key)
                        || wanted.also.iter().any(|also| self.goes_on(also, key))
                })
                .map(|wanted| &wanted.key);
            let mut input = input.clone();
            if let Some(facts) = piece.and_then(|piece| bought.get(piece)) {
                input.hose = Ok(facts.clone());
            }
            // A cuff can be measured in the shop as a hose can, where nobody did so before.
            let cuff = self.kept.hoses.iter().find(|kept| kept.input.has(key));
            if input.note.hose_bore.is_none()
                && let Some((facts, _)) = cuff.and_then(cuff_as_bought)
            {
                input.hose = Ok(facts);
            }
            if piece.is_some_and(|piece| self.is_blocked(piece)) {
                continue;
            }
            let Some(count) = row.clips.or_else(|| input.spigot.od.is_err().then_some(1)) else {
                let unknown = missing(
                    "not known",
                    &input.note_place,
                    "Settle how many clips go on it.",
                );
                let why = match (&input.spigot.behind_bead, &input.hose) {
                    (_, Err(missing)) | (Err(missing), _) => missing.clone(),
                    _ => unknown,
                };
                waits.push(wait("Number of clips", &why));
                continue;
            };
            match (&input.spigot.od, &input.hose) {
                (Err(missing), _) => waits.push(wait("Spigot", missing)),
                (_, Err(missing)) => waits.push(wait("Hose", missing)),
                (Ok(_), Ok(hose)) => match need::clips(&input) {
                    Some(clips) => joints.push(JointAsk {
                        key: key.clone(),
                        mark: row.mark.clone(),
                        clips: count,
                        candidates: clips
                            .candidates
                            .into_iter()
                            .map(|candidate| (candidate.name, candidate.holds))
                            .collect(),
                        usual: clips.usual,
                    }),
                    None => {
                        let unknown = Missing {
                            why: "no clip that is sold holds it".into(),
                            settles: settles(
                                key,
                                "Take another hose, or write a clip of your own with its range.",
                            ),
                        };
                        let missing = hose
                            .bore
                            .as_ref()
                            .err()
                            .or(hose.outside.as_ref().err())
                            .or(input.spigot.bead.as_ref().err())
                            .unwrap_or(&unknown);
                        waits.push(wait("Hose", missing));
                    }
                },
            }
        }
        self.waits.extend(waits);
        self.blocked.extend(also_blocked);
        joints
    }
}
