//! Air and drains: a bleed or a vent at each high spot, a drain at each low one.
//!
//! A spot is a run or a thing, or several side by side that are equally high. Its air gets away where a
//! neighbour that is joined to its top leads higher; else it is a high spot, and wants a bleed there or a
//! vent. Low spots are the same upside down. The height of a tee is not in the file; air is taken to get
//! past one.

use std::collections::BTreeSet;

use boat::{Carries, KeyPath, RunEnd, ThingKind};
use quantity::Length;

use super::header::cold_level;
use super::{HOT, PRACTICE, best, height, subject, verdict, waits};
use crate::say;
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::types::{Known, Missing, Value};
use crate::verdict::{Basis, Grade, Verdict, Words};

/// Heights closer than this are one [m]: less air than that is carried along. Common practice, no source.
const NEAR: f64 = 0.025;

/// Which way one looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Look {
    /// High spots, where air stays.
    Up,
    /// Low spots, where water stays.
    Down,
}

impl Look {
    /// A height, so that the farther one is the greater.
    fn of(self, metres: f64) -> f64 {
        match self {
            Self::Up => metres,
            Self::Down => -metres,
        }
    }
}

/// How far a run or thing reaches.
struct Spot<'a> {
    site: Site,
    top: &'a Value<Length>,
    /// Where that height stands in the file.
    place: KeyPath,
}

/// Two that are joined, and how high.
struct Join {
    a: Site,
    b: Site,
    /// [m]; `None` at a tee.
    at: Option<f64>,
}

/// Judges the family.
pub fn judge(plan: &Plan, out: &mut Vec<Verdict>) {
    heights(plan, out);
    looked(plan, Look::Up, out);
    looked(plan, Look::Down, out);
}

/// The runs and things of the loop.
fn sites(plan: &Plan) -> Vec<Site> {
    let mut sites: BTreeSet<Site> = BTreeSet::new();
    for (i, own) in plan.facts.runs.iter().enumerate() {
        if own.run.carries != Carries::Coolant {
            continue;
        }
        sites.insert(Site::Run(i));
        for end in [&own.run.from, &own.run.to] {
            if let Some((thing, _)) = plan.facts.end(end) {
                sites.insert(Site::Thing(thing));
            }
        }
    }
    for (i, own) in plan.facts.things.iter().enumerate() {
        let joined = own.thing.detail.between.iter().any(|key| {
            plan.facts
                .thing(key)
                .is_some_and(|fitting| sites.contains(&Site::Thing(fitting)))
        });
        if joined {
            sites.insert(Site::Thing(i));
        }
    }
    // A tank is where air goes and water comes from.
    sites
        .into_iter()
        .filter(|site| !matches!(site, Site::Thing(i) if plan.facts.things[*i].is(ThingKind::HeaderTank)))
        .collect()
}

/// All that is told of the heights of a run or thing, with its place.
fn told<'a>(plan: &'a Plan, site: Site) -> Vec<(KeyPath, &'a Known<Length>)> {
    let facts = plan.facts;
    match site {
        Site::Run(i) => {
            let own = &facts.runs[i];
            let base = boat::run_path(&own.run.key);
            let ends = [(&own.run.from, "from"), (&own.run.to, "to")];
            let mut all: Vec<(KeyPath, &Known<Length>)> = ends
                .into_iter()
                .filter_map(|(end, key)| Some((format!("{base}.{key}"), facts.end_height(end)?)))
                .collect();
            all.extend(
                own.high
                    .iter()
                    .map(|high| (format!("{base}.high_at"), high)),
            );
            all.extend(own.low.iter().map(|low| (format!("{base}.low_at"), low)));
            all
        }
        Site::Thing(i) => {
            let own = &facts.things[i];
            let raw = |name: &str| {
                facts.on(i).any(|(run, spigot, _)| {
                    spigot == name
                        && !matches!(
                            facts.runs[run].run.carries,
                            Carries::Coolant | Carries::Vent
                        )
                })
            };
            let used = |name: &str| {
                facts.on(i).any(|(_, spigot, _)| spigot == name) || own.thing.engine.is_some()
            };
            let mut all: Vec<(KeyPath, &Known<Length>)> = own
                .thing
                .spigots
                .iter()
                .zip(&own.spigots)
                .filter(|(spigot, _)| used(&spigot.name) && !raw(&spigot.name))
                .map(|(spigot, value)| {
                    let name = boat::key_text(&spigot.name);
                    (format!("{}.spigots.{name}.h", own.place), value)
                })
                .collect();
            if own.thing.engine.is_some() {
                let ports = own.thing.ports.iter().zip(&own.ports);
                all.extend(
                    ports
                        .filter(|(_, value)| value.is_ok())
                        .map(|(port, value)| {
                            let name = boat::key_text(&port.name);
                            (format!("{}.ports.{name}.h", own.place), value)
                        }),
                );
            }
            if own.coil_top.is_ok() {
                all.push((format!("{}.coil.top_h", own.place), &own.coil_top));
            }
            if all.is_empty() && own.height.is_ok() {
                all.push((format!("{}.h", own.place), &own.height));
            }
            for key in &own.thing.detail.between {
                if let Some(fitting) = facts.thing(key) {
                    let fitting = &facts.things[fitting];
                    if fitting.height.is_ok() {
                        all.push((format!("{}.h", fitting.place), &fitting.height));
                    }
                }
            }
            all
        }
    }
}

/// One verdict waits for all the heights that are not known.
fn heights(plan: &Plan, out: &mut Vec<Verdict>) {
    let mut missing: Vec<&Missing> = Vec::new();
    for site in sites(plan) {
        for (_, value) in told(plan, site) {
            if let Err(own) = value
                && !missing
                    .iter()
                    .any(|known| known.settles.place == own.settles.place)
            {
                missing.push(own);
            }
        }
    }
    let Some(first) = missing.first() else {
        return;
    };
    let whole = subject(
        "air",
        "high and low spots".into(),
        first.settles.place.clone(),
    );
    let why = Missing {
        why: format!(
            "{} of them are not known, so that a high or a low spot may hide there",
            missing.len()
        )
        .as_str()
        .into(),
        settles: first.settles.clone(),
    };
    out.push(waits(&whole, "heights", "Height of an end", &why));
}

fn spots<'a>(plan: &'a Plan, look: Look) -> Vec<Spot<'a>> {
    sites(plan)
        .into_iter()
        .filter_map(|site| {
            let known = told(plan, site).into_iter();
            let known = known.filter_map(|(place, value)| Some((place, value.as_ref().ok()?)));
            let (place, top) =
                known.max_by(|a, b| look.of(best(a.1)).total_cmp(&look.of(best(b.1))))?;
            Some(Spot { site, top, place })
        })
        .collect()
}

fn joins(plan: &Plan) -> Vec<Join> {
    let facts = plan.facts;
    let mut joins = Vec::new();
    for (i, own) in facts.runs.iter().enumerate() {
        if !matches!(own.run.carries, Carries::Coolant) {
            continue;
        }
        for end in [&own.run.from, &own.run.to] {
            let (b, at) = match end {
                RunEnd::Thing { .. } => {
                    let Some((thing, _)) = facts.end(end) else {
                        continue;
                    };
                    let at = facts
                        .end_height(end)
                        .and_then(|at| at.as_ref().ok())
                        .map(best);
                    (Site::Thing(thing), at)
                }
                RunEnd::Tee { run, .. } => match facts.run(run) {
                    Some(run) => (Site::Run(run), None),
                    None => continue,
                },
            };
            joins.push(Join {
                a: Site::Run(i),
                b,
                at,
            });
        }
    }
    for (i, own) in facts.things.iter().enumerate() {
        for key in &own.thing.detail.between {
            if let Some(fitting) = facts.thing(key) {
                let at = facts.things[fitting].height.as_ref().ok().map(best);
                joins.push(Join {
                    a: Site::Thing(i),
                    b: Site::Thing(fitting),
                    at,
                });
            }
        }
    }
    joins
}

/// The spots that nothing joined to them leads away from: which, and all that are one with it.
fn ends_of<'s>(plan: &Plan, spots: &'s [Spot<'s>], look: Look) -> Vec<(&'s Spot<'s>, Vec<Site>)> {
    let joins = joins(plan);
    let top = |site: Site| {
        spots
            .iter()
            .find(|spot| spot.site == site)
            .map(|spot| look.of(best(spot.top)))
    };
    // Joined to the top of a spot, or at a tee, of which the file tells no height.
    let joined_at = |join: &Join, level: f64| join.at.is_none_or(|at| look.of(at) >= level - NEAR);
    let mut seen: BTreeSet<Site> = BTreeSet::new();
    let mut ends = Vec::new();
    for spot in spots {
        if seen.contains(&spot.site) {
            continue;
        }
        let level = look.of(best(spot.top));
        let mut flat: Vec<Site> = vec![spot.site];
        let mut escapes = false;
        let mut i = 0;
        while i < flat.len() {
            let site = flat[i];
            i += 1;
            for join in joins.iter().filter(|join| join.a == site || join.b == site) {
                let next = if join.a == site { join.b } else { join.a };
                if flat.contains(&next) || !joined_at(join, level) {
                    continue;
                }
                match top(next) {
                    Some(next_level) if next_level > level + NEAR => escapes = true,
                    Some(next_level) if next_level >= level - NEAR => flat.push(next),
                    Some(_) => {}
                    // What leads into a tank, or is of unknown height, may take it away.
                    None => escapes = true,
                }
            }
        }
        if escapes {
            continue;
        }
        seen.extend(&flat);
        // What it is about is the farthest of those that are one.
        let farthest = spots
            .iter()
            .filter(|own| flat.contains(&own.site))
            .max_by(|a, b| look.of(best(a.top)).total_cmp(&look.of(best(b.top))));
        ends.push((farthest.unwrap_or(spot), flat));
    }
    ends
}

/// Whether air or water gets away into a tank at a run or thing.
fn at_tank(plan: &Plan, site: Site) -> bool {
    match site {
        Site::Thing(i) => plan.has_header(i),
        Site::Run(i) => {
            let run = plan.facts.runs[i].run;
            [&run.from, &run.to].into_iter().any(|end| {
                plan.facts
                    .end(end)
                    .is_some_and(|(thing, _)| plan.facts.things[thing].is(ThingKind::HeaderTank))
            })
        }
    }
}

/// A high or low spot for a drawing.
pub(crate) struct DrawnSpot {
    /// Where it is: the run or thing that leads.
    pub(crate) lead: String,
    /// All that are one with it, the one that is the farthest first.
    pub(crate) sites: Vec<Site>,
    /// How high [m].
    pub(crate) height: f64,
    /// The air goes into a tank, which is part of it.
    pub(crate) tank: bool,
}

/// Every high or low spot, as it is judged.
pub(crate) fn drawn(plan: &Plan, look: Look) -> Vec<DrawnSpot> {
    let spots = spots(plan, look);
    let ends = ends_of(plan, &spots, look);
    ends.into_iter()
        .map(|(spot, flat)| {
            let found = Found {
                spot,
                flat: &flat,
                level: look.of(best(spot.top)),
            };
            let (lead, _) = found.names(plan);
            let mut sites = vec![spot.site];
            sites.extend(flat.iter().copied().filter(|site| *site != spot.site));
            DrawnSpot {
                lead,
                height: best(spot.top),
                tank: flat.iter().any(|site| at_tank(plan, *site)),
                sites,
            }
        })
        .collect()
}

/// Finds every high or low spot and whether it is served.
fn looked(plan: &Plan, look: Look, out: &mut Vec<Verdict>) {
    let spots = spots(plan, look);
    let mut served: Vec<(String, &Value<Length>)> = Vec::new();
    let before = out.len();
    for (spot, flat) in ends_of(plan, &spots, look) {
        if look == Look::Up && flat.iter().any(|site| at_tank(plan, *site)) {
            continue;
        }
        let found = Found {
            spot,
            flat: &flat,
            level: look.of(best(spot.top)),
        };
        match look {
            Look::Up => up(plan, &found, &mut served, out),
            Look::Down => down(plan, &found, &mut served, out),
        }
    }
    if out.len() == before && !served.is_empty() {
        said_sound(look, &served, out);
    }
}

/// A high or low spot.
struct Found<'s, 'f> {
    spot: &'f Spot<'s>,
    flat: &'f [Site],
    level: f64,
}

impl Found<'_, '_> {
    /// Its members by name, the one that the verdict is about first.
    fn names(&self, plan: &Plan) -> (String, String) {
        // A thing says more than the hoses on it; a crest or sag of a run says most.
        let lead = self
            .flat
            .iter()
            .find(|site| match site {
                Site::Run(i) => {
                    let own = &plan.facts.runs[*i];
                    let typed = |value: &Option<Known<Length>>| {
                        value
                            .as_ref()
                            .and_then(|value| value.as_ref().ok())
                            .map(best)
                    };
                    [typed(&own.high), typed(&own.low)]
                        .into_iter()
                        .flatten()
                        .any(|h| (h - best(self.spot.top)).abs() <= NEAR)
                }
                Site::Thing(i) => plan.facts.things[*i].is(ThingKind::SkinTank),
            })
            .or_else(|| self.flat.iter().find(|site| matches!(site, Site::Thing(_))))
            .unwrap_or(&self.spot.site);
        let name = |site: &Site| match site {
            Site::Run(i) => plan.facts.runs[*i].run.key.clone(),
            Site::Thing(i) => plan.facts.things[*i].key().to_owned(),
        };
        let mut all = vec![name(lead)];
        all.extend(
            self.flat
                .iter()
                .map(name)
                .filter(|other| *other != name(lead)),
        );
        (name(lead), say::list(&all, "and"))
    }

    fn place(&self, plan: &Plan, key: &str, lead: &str) -> KeyPath {
        if plan.facts.run(lead).is_some() {
            let typed = format!("{}.{key}", boat::run_path(lead));
            if self
                .flat
                .iter()
                .any(|site| matches!(site, Site::Run(i) if plan.facts.runs[*i].run.key == lead))
            {
                return typed;
            }
        }
        self.spot.place.clone()
    }
}

/// The first of some bleeds or drains of which the height is not known.
fn of_unknown_height<'k>(cocks: &[(&'k str, &'k Known<Length>)]) -> Option<(&'k str, &'k Missing)> {
    cocks
        .iter()
        .find_map(|(key, at)| Some((*key, at.as_ref().err()?)))
}

/// Bleeds or drains that sit in one of these runs, with their heights.
fn cocks<'a>(plan: &'a Plan, kind: ThingKind, flat: &[Site]) -> Vec<(&'a str, &'a Known<Length>)> {
    plan.facts
        .things
        .iter()
        .filter(|own| own.is(kind))
        .filter(|own| {
            own.thing.detail.on_run.as_ref().is_some_and(|run| {
                plan.facts
                    .run(run)
                    .is_some_and(|run| flat.contains(&Site::Run(run)))
            })
        })
        .map(|own| (own.key(), &own.height))
        .collect()
}

fn up<'s>(
    plan: &Plan,
    found: &Found<'s, '_>,
    served: &mut Vec<(String, &'s Value<Length>)>,
    out: &mut Vec<Verdict>,
) {
    let facts = plan.facts;
    let level = found.level;
    // What stands above the tank's level is judged there; no bleed helps it.
    let within = plan.circuit_of(found.spot.site);
    if cold_level(plan, &within).is_some_and(|(_, cold, _)| level > best(cold)) {
        return;
    }
    let (lead, all) = found.names(plan);
    let vent = facts.runs.iter().any(|own| {
        let there = |end: &RunEnd| {
            facts.end(end).is_some_and(|(thing, _)| found.flat.contains(&Site::Thing(thing)))
                || matches!(end, RunEnd::Tee { run, .. } if facts.run(run).is_some_and(|run| found.flat.contains(&Site::Run(run))))
        };
        own.run.carries == Carries::Vent
            && there(&own.run.from)
            && facts
                .end_height(&own.run.from)
                .is_none_or(|at| at.as_ref().is_ok_and(|at| best(at) >= level - NEAR))
    });
    let bleeds = cocks(plan, ThingKind::Bleed, found.flat);
    let near = bleeds
        .iter()
        .any(|(_, at)| at.as_ref().is_ok_and(|at| best(at) >= level - NEAR));
    if vent || near {
        served.push((all, found.spot.top));
        return;
    }
    let whole = subject(
        &lead,
        format!("high spot of {all}"),
        found.place(plan, "high_at", &lead),
    );
    // One of which nobody knows how high it sits may be at the top, or not.
    if let Some((key, missing)) = of_unknown_height(&bleeds) {
        let name = format!("Height of {key}, by which the air of {all} is let out");
        out.push(waits(&whole, "bleed", &name, missing));
        return;
    }
    let low = bleeds
        .iter()
        .find_map(|(key, at)| Some((*key, at.as_ref().ok()?)));
    let because = Words::of(|system| {
        let there = format!(
            "Air stays at the top of {all} at {}",
            height(best(found.spot.top), system)
        );
        match low {
            Some((key, at)) => format!(
                "{there}: {key} sits {} lower.",
                say::whole_mm(best(found.spot.top) - best(at), system)
            ),
            None => format!("{there}: no bleed and no vent is there."),
        }
    });
    let mut said = verdict(
        &whole,
        "bleed",
        Grade::Unsound,
        because,
        "Fit a bleed at the very top, or lead a vent from there to the tank, or lower it.",
    );
    said.caution = Some(HOT.into());
    finish(
        &mut said,
        found,
        "a bleed or a vent within 25 mm of each high spot",
    );
    out.push(said);
}

fn down<'s>(
    plan: &Plan,
    found: &Found<'s, '_>,
    served: &mut Vec<(String, &'s Value<Length>)>,
    out: &mut Vec<Verdict>,
) {
    let facts = plan.facts;
    // Pipes outside drain nowhere while she floats; her valves hold what is in them.
    let outside = found
        .flat
        .iter()
        .any(|site| matches!(site, Site::Thing(i) if facts.things[*i].is(ThingKind::KeelPipes)));
    if outside {
        return;
    }
    let (lead, all) = found.names(plan);
    let mut drains = cocks(plan, ThingKind::Drain, found.flat);
    for site in found.flat {
        if let Site::Thing(i) = site {
            let own = &facts.things[*i];
            let ports = own.thing.ports.iter().zip(&own.ports);
            drains.extend(
                ports
                    .filter(|(port, _)| port.name.contains("drain"))
                    .map(|(_, at)| (own.key(), at)),
            );
        }
    }
    let lowest = -found.level;
    let near = drains
        .iter()
        .any(|(_, at)| at.as_ref().is_ok_and(|at| best(at) <= lowest + NEAR));
    if near {
        served.push((all, found.spot.top));
        return;
    }
    let whole = subject(
        &lead,
        format!("low spot of {all}"),
        found.place(plan, "low_at", &lead),
    );
    if let Some((_, missing)) = of_unknown_height(&drains) {
        let name = format!("Height of the drain of {all}");
        out.push(waits(&whole, "drain", &name, missing));
        return;
    }
    let high = drains.iter().find_map(|(_, at)| at.as_ref().ok());
    let because = Words::of(|system| {
        let there = format!(
            "Water stays in the low spot of {all} at {}",
            height(best(found.spot.top), system)
        );
        match high {
            Some(at) => format!(
                "{there}: the drain sits {} higher, and the rest leaves only by a hose pulled off.",
                say::whole_mm(best(at) - best(found.spot.top), system)
            ),
            None => format!("{there}: no drain is there, and it leaves only by a hose pulled off."),
        }
    });
    let mut said = verdict(
        &whole,
        "drain",
        Grade::Marginal,
        because,
        "Fit a drain at the lowest point, with room for a bucket under it.",
    );
    said.caution = Some("Coolant is poison: catch all of it, none into the bilge, and none where a child or an animal can get at it.".into());
    finish(&mut said, found, "a drain within 25 mm of each low spot");
    out.push(said);
}

fn finish(said: &mut Verdict, found: &Found, limit: &str) {
    said.basis = Basis::Practice;
    said.input("h", "the spot", found.spot.top);
    said.working.limit = limit.into();
    said.source(PRACTICE);
}

fn said_sound(look: Look, served: &[(String, &Value<Length>)], out: &mut Vec<Verdict>) {
    let (key, title, what, limit) = match look {
        Look::Up => (
            "bleeds",
            "high spots",
            "a bleed or a vent",
            "a bleed or a vent within 25 mm of each high spot",
        ),
        Look::Down => (
            "drains",
            "low spots",
            "a drain",
            "a drain within 25 mm of each low spot",
        ),
    };
    let whole = subject("air", title.into(), "runs".into());
    let because = Words::of(|system| {
        let all: Vec<String> = served
            .iter()
            .map(|(name, at)| format!("{name} at {}", height(best(at), system)))
            .collect();
        let each = if all.len() == 1 {
            "The one".to_owned()
        } else {
            format!("Each of the {}", all.len())
        };
        format!("{each} has {what}: {}.", all.join("; "))
    });
    let mut said = verdict(&whole, key, Grade::Sound, because, "");
    said.working.limit = limit.into();
    said.source("heights as measured; a run for which no highest or lowest point is typed is taken to lie between its ends");
    said.source(PRACTICE);
    out.push(said);
}
