//! Things, tees and legs of an arrangement, with the worst of what is judged of each.

use boat::{Carries, PieceKind, RunEnd, ThingKind, ValveForm};

use super::{
    Around, AroundFitting, AroundJoin, AroundJoint, AroundLeg, AroundPiece, AroundSpot, AroundTee,
    AroundThing, AroundWay, Level,
};
use crate::stages::circuit::inside::Inside;
use crate::stages::circuit::listing::Listing;
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::circuit::rules::height;
use crate::verdict::{Grade, Words};
use crate::wire::Answer;
use quantity::Quantity;

/// Takes an arrangement apart.
pub(super) fn trace(plan: &Plan, answer: &Answer, listing: &Listing, out: &mut Around) {
    let tracer = Tracer { plan, answer };
    tracer.things(out);
    tracer.tees(out);
    for run in 0..plan.facts.runs.len() {
        tracer.run(run, listing, out);
    }
    tracer.joins(out);
    way_back(out);
}

struct Tracer<'a, 'b> {
    plan: &'b Plan<'a>,
    answer: &'b Answer,
}

/// The worse of two grades, where there is any.
fn worse(one: Option<Grade>, other: Option<Grade>) -> Option<Grade> {
    one.max(other)
}

impl Tracer<'_, '_> {
    /// The worst grade of the verdicts whose subject is one of these.
    fn worst(&self, is: impl Fn(&str) -> bool) -> Option<Grade> {
        let verdicts = self.answer.verdicts.iter();
        verdicts
            .filter(|verdict| is(&verdict.subject))
            .map(|verdict| verdict.grade)
            .max()
    }

    fn of_joint(&self, key: &str) -> Option<Grade> {
        let row = self.answer.joints.iter().find(|row| row.joint == key);
        worse(
            row.map(|row| row.grade),
            self.worst(|subject| subject == key),
        )
    }

    fn joint(&self, key: String) -> AroundJoint {
        let row = self.answer.joints.iter().find(|row| row.joint == key);
        AroundJoint {
            mark: row.map_or(String::new(), |row| row.mark.clone()),
            grade: self.of_joint(&key),
            key,
        }
    }

    fn things(&self, out: &mut Around) {
        let plan = self.plan;
        for (at, own) in plan.facts.things.iter().enumerate() {
            // A bleed or drain sits in a leg; its place in the list is kept all the same.
            let sits = |kind: &ThingKind| matches!(kind, ThingKind::Bleed | ThingKind::Drain);
            let kind = own.kind().filter(|kind| !sits(kind));
            let mut heights: Vec<f64> = own
                .spigots
                .iter()
                .chain([&own.height])
                .filter_map(|known| known.as_ref().ok())
                .map(|value| value.measured.value.si())
                .chain(own.outside())
                .collect();
            heights.sort_by(f64::total_cmp);
            let low = heights.first().copied();
            let high = heights.last().copied();
            let key = own.key().to_owned();
            let heights = Words::of(|system| match low.zip(high) {
                None => "–".to_owned(),
                Some((low, high)) if high - low < 5e-4 => height(low, system),
                Some((low, high)) => {
                    format!("{} to {}", height(low, system), height(high, system))
                }
            });
            let under = own.thing.detail.between.iter().any(|fitting| {
                let fitting = plan.facts.thing(fitting);
                fitting.is_some_and(|fitting| lowest(plan, fitting).is_some_and(|z| z < 0.0))
            });
            let level = match low {
                Some(low) if low < 0.0 => Level::Wet,
                Some(_) => Level::Dry,
                None if under || own.thing.detail.depth.given().is_some() => Level::Wet,
                None => Level::Unmeasured,
            };
            let stations = plan.insides[at].paths().iter().flatten();
            let has = |name: &str| {
                let mut stations = stations.clone();
                stations.any(|station| station.split('.').next() == Some(name))
            };
            let engine = own.thing.engine.is_some();
            let can_shut = own.thing.valve.is_some()
                || own.thing.chain.iter().any(|part| part.kind.is_valve());
            let inside = format!("{key}.");
            let run = |subject: &str| {
                let first = subject.split('.').next().unwrap_or_default();
                plan.facts.run(first).is_some()
            };
            let grade = self
                .worst(|subject| subject == key || (subject.starts_with(&inside) && !run(subject)));
            let what = own
                .kind()
                .map_or_else(|| "thing".to_owned(), |kind| kind.word().to_owned());
            let shut = plan.is_shut(&key);
            let spoken = Words::of(|system| {
                let mut text = format!("{key}, {what}");
                if heights.metric != "–" {
                    text += &format!(", {}", heights.in_units(system));
                }
                if level == Level::Wet {
                    text += ", under water";
                }
                if can_shut {
                    text += if shut { ", shut" } else { ", open" };
                }
                if let Some(grade) = grade {
                    text += &format!(", {}", grade.word());
                }
                text
            });
            out.things.push(AroundThing {
                blanked: plan.facts.blanked.contains(&key),
                header: plan.has_header(at) && engine,
                thermostat: engine && has("stat"),
                pump: engine && has("pump")
                    || own.is(ThingKind::CirculatingPump)
                    || plan
                        .pumps
                        .iter()
                        .any(|pump| plan.nodes[*pump].site == Site::Thing(at)),
                valve: can_shut.then_some(shut),
                kind: if engine {
                    Some(ThingKind::Engine)
                } else {
                    kind
                },
                what,
                level,
                heights,
                grade,
                spoken,
                key,
            });
            // An engine whose inside is not known has a pump all the same.
            if let (true, Some(Inside::Missing(_)), Some(last)) =
                (engine, plan.insides.get(at), out.things.last_mut())
            {
                last.pump = true;
            }
        }
    }

    fn tees(&self, out: &mut Around) {
        let facts = self.plan.facts;
        for own in &facts.runs {
            for piece in own.run.way.given().map_or(&[][..], Vec::as_slice) {
                let key = format!("{}.{}", own.run.key, piece.name);
                let used = facts.runs.iter().any(|other| {
                    [&other.run.from, &other.run.to].into_iter().any(|end| {
                        matches!(end, RunEnd::Tee { run, piece: tee }
                            if *run == own.run.key && *tee == piece.name)
                    })
                });
                let blanked = facts.blanked.contains(&key);
                if !matches!(piece.kind, PieceKind::Tee { .. }) || !(used || blanked) {
                    continue;
                }
                let ends = [format!("{key}.a"), format!("{key}.b")];
                let mut grade = self.worst(|subject| subject == key);
                for end in &ends {
                    grade = worse(grade, self.of_joint(end));
                }
                let marks = ends.map(|end| self.joint(end).mark);
                let marks: Vec<String> = marks.into_iter().filter(|m| !m.is_empty()).collect();
                let mut spoken = format!("tee in {}", own.run.key);
                if blanked {
                    spoken += ", its branch blanked off";
                }
                if let Some(grade) = grade {
                    spoken += &format!(", {}", grade.word());
                }
                out.tees.push(AroundTee {
                    key,
                    run: own.run.key.clone(),
                    blanked,
                    marks,
                    grade,
                    spoken: spoken.as_str().into(),
                });
            }
        }
    }

    fn spot(&self, end: &RunEnd, out: &Around) -> AroundSpot {
        match end {
            RunEnd::Thing { thing, .. } => self
                .plan
                .facts
                .thing(thing)
                .map_or(AroundSpot::Open, AroundSpot::Thing),
            RunEnd::Tee { run, piece } => {
                let key = format!("{run}.{piece}");
                let at = out.tees.iter().position(|tee| tee.key == key);
                at.map_or(AroundSpot::Open, AroundSpot::Tee)
            }
        }
    }

    /// The legs of a run: it is cut at each of its tees that something hangs on.
    fn run(&self, run: usize, listing: &Listing, out: &mut Around) {
        let plan = self.plan;
        let own = &plan.facts.runs[run];
        let pieces = own.run.way.given().map_or(&[][..], Vec::as_slice);
        let mut cuts: Vec<(usize, usize)> = Vec::new();
        for (at, piece) in pieces.iter().enumerate() {
            let key = format!("{}.{}", own.run.key, piece.name);
            if let Some(tee) = out.tees.iter().position(|tee| tee.key == key) {
                cuts.push((at, tee));
            }
        }
        let mut from = (self.spot(&own.run.from, out), 0);
        let ends: Vec<(AroundSpot, usize, usize)> = cuts
            .iter()
            .map(|(at, tee)| (AroundSpot::Tee(*tee), *at, at + 1))
            .chain([(self.spot(&own.run.to, out), pieces.len(), pieces.len())])
            .collect();
        let count = ends.len();
        let mut bleeds = self.bleeds(&own.run.key);
        for (part, (to, end, next)) in ends.into_iter().enumerate() {
            let (first, last) = (part == 0, part + 1 == count);
            let names: Vec<&str> = pieces[from.1..end]
                .iter()
                .map(|piece| piece.name.as_str())
                .collect();
            let way = self.way(run, &names, from.0, to, listing);
            let mut sits = self.sits(&own.run.key, &pieces[from.1..end]);
            if first {
                sits.append(&mut bleeds);
            }
            let key = own.run.key.clone();
            let spigot = |end: &RunEnd| {
                plan.facts
                    .end(end)
                    .map_or(String::new(), |(_, name)| name.to_owned())
            };
            let at = |end: &RunEnd| {
                let known = plan.facts.end_height(end)?;
                known.as_ref().ok().map(|value| value.measured.value.si())
            };
            let (begins, ends_on) = (&own.run.from, &own.run.to);
            let grade = self.worst(|subject| {
                subject == key
                    || subject.strip_prefix(key.as_str()).is_some_and(|rest| {
                        names.iter().any(|name| rest == format!(".{name}"))
                            && rest.starts_with(".hose")
                    })
            });
            let spoken = Words::of(|_| {
                let mut text = format!("hose {key}");
                if !own.mark.is_empty() {
                    text = format!("{}, {text}", own.mark);
                }
                text += match way {
                    AroundWay::Hot => ", hot way",
                    AroundWay::Cold => ", cold way",
                    AroundWay::Branch | AroundWay::BranchBack => ", branch",
                    AroundWay::MakeUp => ", make-up",
                    AroundWay::Vent => ", vent",
                    AroundWay::Raw => ", raw water",
                    AroundWay::Other => "",
                    AroundWay::Dead => ", nothing runs through it",
                };
                if let Some(grade) = grade {
                    text += &format!(", {}", grade.word());
                }
                text
            });
            out.legs.push(AroundLeg {
                mark: own.mark.clone(),
                first,
                from: from.0,
                to,
                from_spigot: if first { spigot(begins) } else { String::new() },
                to_spigot: if last { spigot(ends_on) } else { String::new() },
                from_height: if first { at(begins) } else { None },
                to_height: if last { at(ends_on) } else { None },
                way,
                pieces: sits,
                from_joint: first.then(|| self.joint(format!("{key}.from"))),
                to_joint: last.then(|| self.joint(format!("{key}.to"))),
                grade,
                figures: None,
                before: None,
                spoken,
                run: key,
            });
            from = (to, next);
        }
    }

    /// What sits in a leg and is worth a sign.
    fn sits(&self, run: &str, pieces: &[boat::Piece]) -> Vec<AroundPiece> {
        let shut = |key: &String| self.plan.facts.shut.contains(key);
        pieces
            .iter()
            .filter_map(|piece| {
                let key = format!("{run}.{}", piece.name);
                let (fitting, word) = match &piece.kind {
                    PieceKind::Valve {
                        form: ValveForm::Check,
                        ..
                    } => (AroundFitting::Check, "check valve"),
                    PieceKind::Valve { full_bore, .. } => {
                        let (shut, reduced) = (shut(&key), !full_bore);
                        let word = if shut { "valve, shut" } else { "valve, open" };
                        (AroundFitting::Valve { shut, reduced }, word)
                    }
                    PieceKind::Reducer { .. } => (AroundFitting::Reducer, "reducer"),
                    _ => return None,
                };
                let inside = format!("{key}.");
                let mut grade = self.worst(|own| own == key || own.starts_with(&inside));
                let mut marks = Vec::new();
                for end in ["a", "b"] {
                    let joint = self.joint(format!("{key}.{end}"));
                    grade = worse(grade, joint.grade);
                    if !joint.mark.is_empty() {
                        marks.push(joint.mark);
                    }
                }
                let mut spoken = format!("{key}, {word}");
                if let Some(grade) = grade {
                    spoken += &format!(", {}", grade.word());
                }
                Some(AroundPiece {
                    fitting,
                    key,
                    marks,
                    grade,
                    spoken: spoken.as_str().into(),
                })
            })
            .collect()
    }

    /// Bleeds and drains of a run.
    fn bleeds(&self, run: &str) -> Vec<AroundPiece> {
        let things = self.plan.facts.things.iter();
        things
            .filter(|own| own.thing.detail.on_run.as_deref() == Some(run))
            .filter_map(|own| {
                let (fitting, word) = match own.kind()? {
                    ThingKind::Bleed => (AroundFitting::Bleed, "bleed"),
                    ThingKind::Drain => (AroundFitting::Drain, "drain"),
                    _ => return None,
                };
                let key = own.key().to_owned();
                Some(AroundPiece {
                    fitting,
                    marks: Vec::new(),
                    grade: self.worst(|subject| subject == key),
                    spoken: format!("{key}, {word} in {run}").as_str().into(),
                    key,
                })
            })
            .collect()
    }

    fn way(
        &self,
        run: usize,
        names: &[&str],
        from: AroundSpot,
        to: AroundSpot,
        listing: &Listing,
    ) -> AroundWay {
        let plan = self.plan;
        let own = plan.facts.runs[run].run;
        match own.carries {
            Carries::Vent => return AroundWay::Vent,
            Carries::RawWater => return AroundWay::Raw,
            Carries::Oil | Carries::DomesticWater => return AroundWay::Other,
            Carries::Coolant => {}
        }
        let site = Site::Run(run);
        let names: Vec<&str> = if names.is_empty() && own.way.given().is_none() {
            vec!["way"]
        } else {
            names.to_vec()
        };
        let mut nodes: Vec<usize> = names
            .iter()
            .filter_map(|name| plan.find(site, name))
            .collect();
        if nodes.is_empty() {
            // A tee straight on a spot: what its ends do, it does.
            nodes = [from, to]
                .into_iter()
                .filter_map(|spot| match spot {
                    AroundSpot::Tee(_) => plan.nodes.iter().position(|node| node.site == site),
                    _ => None,
                })
                .collect();
        }
        let all = |set: &[bool]| !nodes.is_empty() && nodes.iter().all(|node| set[*node]);
        let shut = nodes.iter().any(|node| {
            plan.facts
                .shut
                .contains(&format!("{}.{}", own.key, plan.nodes[*node].name))
        });
        if all(&plan.on_loop) && !shut {
            let row = listing
                .ring
                .iter()
                .any(|row| row.is_run && row.key == own.key);
            return match () {
                () if all(&plan.on_main) && row && all(&plan.suction) => AroundWay::Cold,
                () if all(&plan.on_main) && row => AroundWay::Hot,
                () => AroundWay::Branch,
            };
        }
        let tank =
            |spot: AroundSpot| matches!(spot, AroundSpot::Thing(thing) if plan.has_header(thing));
        if (tank(from) || tank(to)) && !shut {
            return AroundWay::MakeUp;
        }
        AroundWay::Dead
    }

    /// Coolers that lie between two hull fittings. What comes by a hose leaves by the join, so that the
    /// fitting on which a hose ends is the first.
    fn joins(&self, out: &mut Around) {
        let plan = self.plan;
        for (at, own) in plan.facts.things.iter().enumerate() {
            let fittings: Vec<usize> = own
                .thing
                .detail
                .between
                .iter()
                .filter_map(|key| plan.facts.thing(key))
                .collect();
            let comes = |fitting: &usize| plan.facts.on(*fitting).any(|(_, _, comes)| comes);
            let mut order = fittings.clone();
            order.sort_by_key(|fitting| !comes(fitting));
            let flows = plan.any(Site::Thing(at), &plan.on_loop);
            for (i, fitting) in order.iter().enumerate() {
                let (from, to) = if i == 0 {
                    (*fitting, at)
                } else {
                    (at, *fitting)
                };
                out.joins.push(AroundJoin {
                    from,
                    to,
                    open: !plan.is_shut(plan.facts.things[*fitting].key()),
                    flows,
                });
            }
        }
    }
}

fn lowest(plan: &Plan, thing: usize) -> Option<f64> {
    let own = &plan.facts.things[thing];
    own.spigots
        .iter()
        .chain([&own.height])
        .filter_map(|known| known.as_ref().ok())
        .map(|value| value.measured.value.si())
        .min_by(f64::total_cmp)
}

/// Branches beyond a consumer lead back.
fn way_back(out: &mut Around) {
    let consumer = |spot: AroundSpot, things: &[AroundThing]| {
        matches!(spot, AroundSpot::Thing(thing)
            if matches!(things[thing].kind, Some(ThingKind::Calorifier) | Some(ThingKind::CabinHeater)
                | Some(ThingKind::OilCooler) | Some(ThingKind::Exchanger) | Some(ThingKind::KeelPipes) | Some(ThingKind::SkinTank)))
    };
    loop {
        let turned = (0..out.legs.len()).find(|leg| {
            let own = &out.legs[*leg];
            let after = |spot: AroundSpot| {
                matches!(spot, AroundSpot::Tee(_))
                    && out
                        .legs
                        .iter()
                        .any(|leg| leg.to == spot && leg.way == AroundWay::BranchBack)
            };
            own.way == AroundWay::Branch && (consumer(own.from, &out.things) || after(own.from))
        });
        let Some(leg) = turned else { return };
        out.legs[leg].way = AroundWay::BranchBack;
    }
}
