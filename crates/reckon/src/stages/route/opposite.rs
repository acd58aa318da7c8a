//! Several clips on one hose end: each screw stands opposite the next, where tools let it.

use std::f64::consts::{PI, TAU};

use bay::access::{self, Arc, ByHand, Obstacle};
use bay::solid::Shape;
use reference::clip::clip_fact;

use super::access::{Found, Looked, Put, Sweep};
use super::clip_verdict::arcs;
use crate::say;
use crate::verdict::{Grade, Verdict};

/// Screws that miss standing opposite by no more than this count as opposite [rad]. Ours: an hour of the clock.
const NEARLY: f64 = PI / 6.0;
/// So far from the end of its free arc a screw is set at least, where there is so much [rad]. Ours: half an hour.
const INSIDE: f64 = PI / 12.0;

/// How a clip stands to the others of its end.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Stands {
    /// It is the only one, or not each of them is reached.
    Alone,
    /// Each stands opposite the next; the arcs in which this one may.
    Opposite(Vec<Arc>),
    /// They can't stand so: how far this one's screw is round the hose from the nearest beside it [rad].
    Aside(f64),
}

impl Stands {
    /// Follows the place of a clip.
    pub(super) fn words(&self) -> String {
        match self {
            Self::Alone => String::new(),
            Self::Opposite(_) => ", opposite that of the clip beside it".to_owned(),
            Self::Aside(apart) => format!(
                "; that of the clip beside it is {} round from it, as they can't both be reached when they stand opposite",
                say::degrees(apart.to_degrees().round())
            ),
        }
    }

    /// Lowers the grade of what can't stand as it should, and says how that was found.
    pub(super) fn judge(&self, verdict: &mut Verdict) {
        let where_opposite = match self {
            Self::Alone => return,
            Self::Opposite(shared) => arcs(shared),
            Self::Aside(_) => "nowhere".to_owned(),
        };
        verdict.step(
            "opposite = where this one is reached and, half a turn on, the one beside it",
            where_opposite.as_str().into(),
            match self {
                Self::Aside(apart) => format!("{} apart", say::degrees(apart.to_degrees().round()))
                    .as_str()
                    .into(),
                _ => "opposite".into(),
            },
        );
        if let Some(fact) = clip_fact("two-clips-turned") {
            verdict.source(fact.source.cite());
        }
        if matches!(self, Self::Aside(apart) if *apart < PI - NEARLY)
            && verdict.grade == Grade::Sound
        {
            verdict.grade = Grade::Marginal;
            verdict.remedy =
                "Mark both places on the hose with a felt pen, and tighten the two by turns."
                    .into();
        }
    }
}

/// The screw of another clip on the same end.
pub(super) fn obstacle(shape: &Shape) -> Obstacle<'_> {
    Obstacle {
        name: "the screw of the clip beside it",
        shape,
    }
}

/// The way from one clip of an end to the next: half a turn.
fn half_turns(nth: usize) -> f64 {
    if nth.is_multiple_of(2) { 0.0 } else { PI }
}

/// How far it is from one angle to another the shorter way round [rad].
fn round(from: f64, to: f64) -> f64 {
    let turn = (to - from).rem_euclid(TAU);
    turn.min(TAU - turn)
}

/// The place of some arcs that is nearest to an angle [rad], and not quite at the end of its arc.
fn nearest(arcs: &[Arc], to: f64) -> Option<f64> {
    let inside = arcs.iter().map(|arc| {
        let inset = INSIDE.min(arc.slack());
        let (from, wide) = (arc.from + inset, arc.width() - 2.0 * inset);
        // How far it is past the beginning; what is past the end too goes to the nearer one.
        let past = (to - from).rem_euclid(TAU);
        let ends = if past - wide < TAU - past { wide } else { 0.0 };
        from + if past <= wide { past } else { ends }
    });
    inside.min_by(|a, b| round(*a, to).total_cmp(&round(*b, to)))
}

impl Sweep<'_> {
    /// Sets the clips of one end opposite each other where all are reached; where they can't stand so, each beside
    /// the screws of those before it.
    pub(super) fn oppose(&self, end: &mut [(Put<'_>, Looked)]) {
        let reached = end.iter().all(|(_, looked)| looked.all_in.best.is_some());
        if end.len() < 2 || !reached {
            return;
        }
        if let Some((shared, set)) = self.opposite(end) {
            for (nth, ((put, looked), by_hand)) in end.iter_mut().zip(set).enumerate() {
                if let Some(best) = &mut looked.all_in.best {
                    put.reset(best, by_hand);
                }
                let turned = shared.iter().map(|arc| arc.turned(half_turns(nth)));
                looked.stands = Stands::Opposite(turned.collect());
            }
            return;
        }
        self.apart(end);
        let angle = |(_, looked): &(Put<'_>, Looked)| {
            let best = looked.all_in.best.as_ref()?;
            Some(best.by_hand.best.angle)
        };
        let angles: Vec<Option<f64>> = end.iter().map(angle).collect();
        for (nth, (_, looked)) in end.iter_mut().enumerate() {
            let beside = [nth.checked_sub(1), Some(nth + 1)].into_iter().flatten();
            let beside = beside.filter_map(|other| *angles.get(other)?);
            let own = angles.get(nth).copied().flatten();
            let nearest = beside
                .filter_map(|other| Some(round(own?, other)))
                .reduce(f64::min);
            looked.stands = nearest.map_or(Stands::Alone, Stands::Aside);
        }
    }

    /// The arcs in which the first may stand so that each next is reached half a turn on, and each clip in the middle
    /// of the widest of them.
    fn opposite(&self, end: &[(Put<'_>, Looked)]) -> Option<(Vec<Arc>, Vec<ByHand>)> {
        let mut shared = vec![Arc::WHOLE];
        for (nth, (_, looked)) in end.iter().enumerate() {
            let free = &looked.all_in.best.as_ref()?.by_hand.free;
            let turned: Vec<Arc> = free
                .iter()
                .map(|arc| arc.turned(-half_turns(nth)))
                .collect();
            shared = access::common(&shared, &turned);
        }
        shared.sort_by(|a, b| b.width().total_cmp(&a.width()));
        let set = shared.iter().find_map(|arc| {
            let all = end.iter().enumerate();
            all.map(|(nth, (put, looked))| {
                let angle = arc.middle() + half_turns(nth);
                self.set(put, &looked.all_in, &looked.others, angle)
            })
            .collect::<Option<Vec<ByHand>>>()
        })?;
        Some((shared, set))
    }

    /// A clip that is reached, with its screw or ear at another angle [rad].
    fn set(&self, put: &Put<'_>, found: &Found, others: &[usize], angle: f64) -> Option<ByHand> {
        let best = found.best.as_ref()?;
        let tools = self.tools_for(put.fact);
        let tool = tools.iter().find(|tool| tool.name == best.tool)?;
        let mut reaches = found.reaches.iter();
        let reach = reaches.find(|reach| reach.tool == best.tool)?;
        let hand = self.hand(put.own, others);
        access::set_at(
            &put.clip,
            tool,
            &self.among(put, others),
            (reach, &best.by_hand),
            (&hand.flood, self.own_in(put, &hand)),
            angle.rem_euclid(TAU),
        )
    }

    /// Each clip beside the screws of those that are set before it: from the hose's end on, or where that leaves one
    /// out of reach the other way round.
    fn apart(&self, end: &mut [(Put<'_>, Looked)]) {
        let forward: Vec<usize> = (0..end.len()).collect();
        let backward: Vec<usize> = forward.iter().rev().copied().collect();
        let all = |found: &[(Found, Vec<Shape>)]| found.iter().all(|(one, _)| one.best.is_some());
        let mut found = self.in_turn(end, &forward);
        let mut turn = forward;
        if !all(&found) {
            let other = self.in_turn(end, &backward);
            if all(&other) {
                (found, turn) = (other, backward);
            }
        }
        for (nth, (found, beside)) in turn.into_iter().zip(found) {
            if let Some((put, looked)) = end.get_mut(nth) {
                looked.all_in = found;
                put.beside = beside;
            }
        }
    }

    /// What is found of the clips one after another, and the screws beside each.
    fn in_turn(&self, end: &[(Put<'_>, Looked)], turn: &[usize]) -> Vec<(Found, Vec<Shape>)> {
        let mut screws: Vec<Shape> = Vec::new();
        let mut before: Option<f64> = None;
        let mut all = Vec::with_capacity(turn.len());
        for (put, looked) in turn.iter().filter_map(|nth| end.get(*nth)) {
            let beside = Put {
                beside: screws.clone(),
                ..put.clone()
            };
            let mut found = self.found(&beside, &looked.others);
            let opposite = before.and_then(|before| {
                let angle = nearest(&found.best.as_ref()?.by_hand.free, before + PI)?;
                self.set(&beside, &found, &looked.others, angle)
            });
            if let (Some(best), Some(opposite)) = (&mut found.best, opposite) {
                beside.reset(best, opposite);
            }
            before = found.best.as_ref().map(|best| best.by_hand.best.angle);
            if let (Some(angle), Some(housing)) = (before, put.clip.housing) {
                screws.extend(housing.shapes(&put.clip.frame, put.clip.od, angle));
            }
            all.push((found, beside.beside));
        }
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_place_of_some_arcs_lies_inside_one() {
        let arc = |from: f64, to: f64| Arc {
            from: from.to_radians(),
            to: to.to_radians(),
        };
        let arcs = [arc(20.0, 80.0), arc(200.0, 210.0), arc(340.0, 375.0)];
        for (to, expected) in [
            (50.0, 50.0),
            (25.0, 35.0),
            (100.0, 65.0),
            (180.0, 205.0),
            (350.0, 355.0),
            (10.0, 360.0),
        ] {
            let found = nearest(&arcs, f64::to_radians(to)).expect("arcs");
            let off = round(found, f64::to_radians(expected));
            assert!(off < 1e-9, "{to}: {}", found.to_degrees());
        }
        assert_eq!(nearest(&[], 1.0), None);
        let whole = nearest(&[Arc::WHOLE], 1.0).expect("an arc");
        assert!((whole - 1.0).abs() < 1e-9);
    }
}
