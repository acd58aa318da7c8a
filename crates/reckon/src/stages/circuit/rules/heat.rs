//! Heat: the by-pass, every source of heat on the loop, calorifiers and heaters beside it, pumps that
//! stand it, and the glycol behind one skin.

use boat::{Carries, ThingKind, Told};
use quantity::{System, show};
use reference::media::Glycol;

use super::header::top_of_calorifier;
use super::{
    DRAWN, HOT, POISON, PRACTICE, best, height, missing, say_assumed, subject, verdict, waits,
};
use crate::draft::{edit, quoted};
use crate::say;
use crate::solve::graph::Sense;
use crate::stages::circuit::input::{Facts, GlycolFacts};
use crate::stages::circuit::inside::{self, Bypass};
use crate::stages::circuit::plan::{Plan, Site, is_small};
use crate::verdict::{Basis, Grade, Settles, Words};

/// Judges what needs a closed loop.
pub fn judge(plan: &Plan, out: &mut Vec<crate::verdict::Verdict>) {
    for thing in 0..plan.facts.things.len() {
        if plan.facts.things[thing].thing.engine.is_some() {
            bypass(plan, thing, out);
            super::small::hole(plan, thing, out);
        }
    }
    sources(plan, out);
    super::home::sink(plan, out);
    for (i, own) in plan.facts.things.iter().enumerate() {
        if own.kind().is_some_and(is_small) && plan.any(Site::Thing(i), &plan.on_loop) {
            beside(plan, i, out);
        }
    }
}

/// The way that the water takes while the thermostat is shut.
fn bypass(plan: &Plan, thing: usize, out: &mut Vec<crate::verdict::Verdict>) {
    let own = &plan.facts.things[thing];
    let Some(engine) = &own.thing.engine else {
        return;
    };
    let stations = plan.of_site(Site::Thing(thing));
    let hot = stations
        .iter()
        .any(|node| plan.is_station(*node, "stat") && plan.nodes[*node].name.ends_with(".hot"));
    // Paths without a hot side may be those of an engine without a thermostat, unless its by-pass is told.
    if !hot && engine.stat.bypass.is_left_out() {
        return;
    }
    let place = format!("{}.stat.bypass", own.place);
    let whole = subject(
        own.key(),
        format!("by-pass of {}", own.key()),
        place.clone(),
    );
    let how = "Find the by-pass of the thermostat, see what shuts it, and write how: “shut by the stat's own disc”, “always open, a 10 mm hole” or “capped”.";
    let told = match &engine.stat.bypass {
        Told::Given(text) => {
            inside::bypass(text).ok_or(format!("“{text}” does not say what shuts it"))
        }
        Told::Unknown => Err("marked “?” in the file".to_owned()),
        _ => Err("not told".to_owned()),
    };
    let opens = |system: System| {
        engine.stat.opens.given().map_or_else(
            || "the thermostat opens".to_owned(),
            |opens| format!("{} are reached", show(opens.value, None, system)),
        )
    };
    match told {
        Err(why) => {
            out.push(waits(
                &whole,
                "bypass",
                "The by-pass",
                &missing(&why, place, how),
            ));
        }
        Ok(Bypass::Blocked) => {
            let because = Words::of(|system| {
                format!(
                    "No by-pass is open: until {} at the thermostat no water passes it, and the block boils before the thermostat feels it.",
                    opens(system)
                )
            });
            let mut said = verdict(
                &whole,
                "bypass",
                Grade::Unsound,
                because,
                "Open the by-pass again, or fit the thermostat that was made for an engine without one.",
            );
            said.caution = Some(HOT.into());
            said.working.limit = "a way for the water while the thermostat is shut".into();
            said.source(PRACTICE);
            out.push(said);
        }
        Ok(known) => {
            let pumps: Vec<usize> = plan
                .pumps
                .iter()
                .copied()
                .filter(|pump| plan.nodes[*pump].site == Site::Thing(thing))
                .collect();
            let ways: Vec<Vec<bool>> = pumps
                .iter()
                .map(|pump| {
                    plan.graph.closed(*pump, |node| {
                        plan.passes(node) && !plan.nodes[node].name.ends_with(".hot")
                    })
                })
                .collect();
            let cold = ways.iter().any(|on| on.iter().any(|on| *on));
            // A way round by the heater is no by-pass: only the paths tell where the cold side leads.
            let drawn = ways
                .iter()
                .any(|on| (0..on.len()).any(|node| on[node] && plan.is_cold_way(node)));
            if cold && !drawn {
                let missing = missing(
                    "no path leads from the thermostat's cold side to the pump",
                    format!("{}.paths", own.place),
                    "Find where the by-pass leads and write it: `stat.cold > bypass > pump`.",
                );
                out.push(waits(&whole, "bypass", "The by-pass", &missing));
                return;
            }
            let (rule, grade, because, remedy) = if cold {
                let how = match known {
                    Bypass::AlwaysOpen => {
                        "it is always open, and part of the water skips the cooler"
                    }
                    _ => "the thermostat shuts it as it opens",
                };
                (
                    "bypass",
                    Grade::Sound,
                    Words::of(|system| {
                        format!(
                            "Until {} the water goes round by the by-pass; {how}.",
                            opens(system)
                        )
                    }),
                    "",
                )
            } else {
                (
                    "shut",
                    Grade::Unsound,
                    Words::of(|system| {
                        format!(
                            "No path of {} leads back to the pump until {}: the water stands still in the block.",
                            own.key(),
                            opens(system)
                        )
                    }),
                    "Find the by-pass and write its way: `stat.cold > bypass > pump`; where there is none, one must be made.",
                )
            };
            let mut said = verdict(&whole, rule, grade, because, remedy);
            said.working.limit = "a way for the water while the thermostat is shut".into();
            if !cold {
                said.basis = Basis::Physics;
                said.caution = Some(HOT.into());
                said.place = format!("{}.paths", own.place);
            }
            say_assumed(plan, &mut said);
            said.source(DRAWN);
            said.source(PRACTICE);
            out.push(said);
        }
    }
}

/// Stations of an engine that make heat.
const HOT_STATIONS: [&str; 5] = ["block", "head", "manifold", "aftercooler", "turbo"];

/// Every source of heat has water through it.
fn sources(plan: &Plan, out: &mut Vec<crate::verdict::Verdict>) {
    // A pump whose suction is not drawn is taken to draw: what feeds it is asked for where it cools.
    let raw = plan.with_raw_water_at_best();
    let mut served: Vec<String> = Vec::new();
    for (i, own) in plan.facts.things.iter().enumerate() {
        let nodes = plan.of_site(Site::Thing(i));
        let wet = |node: &usize| plan.on_loop[*node] || raw[*node];
        let mut dry: Vec<(String, String, Option<String>)> = Vec::new();
        if own.is(ThingKind::OilCooler) {
            if nodes.iter().any(wet) {
                served.push(own.key().to_owned());
            } else {
                dry.push((own.key().to_owned(), own.key().to_owned(), None));
            }
        }
        if own.thing.engine.is_some() {
            for node in nodes {
                let name = &plan.nodes[node].name;
                if !HOT_STATIONS
                    .iter()
                    .any(|begin| plan.is_station(node, begin))
                {
                    continue;
                }
                if wet(&node) {
                    served.push(format!("{name} of {}", own.key()));
                } else {
                    dry.push((
                        format!("{}.{name}", own.key()),
                        format!("{name} of {}", own.key()),
                        Some(name.clone()),
                    ));
                }
            }
        }
        for (key, title, station) in dry {
            let whole = subject(&key, title, own.place.clone());
            let mut said = super::no_water(plan, i, station.as_deref(), &whole);
            said.basis = Basis::Physics;
            said.working.limit = "water through every source of heat".into();
            say_assumed(plan, &mut said);
            said.source(DRAWN);
            out.push(said);
        }
    }
    if !served.is_empty()
        && !out
            .iter()
            .any(|said| said.id.ends_with(".water") && said.grade == Grade::Unsound)
    {
        let place = super::engine_place(plan);
        let whole = subject("heat", "sources of heat".into(), place);
        let because = format!(
            "Water runs through all {} sources of heat: {}.",
            served.len(),
            say::list(&served, "and")
        );
        let mut said = verdict(&whole, "water", Grade::Sound, because.as_str().into(), "");
        said.basis = Basis::Physics;
        said.working.limit = "water through every source of heat".into();
        say_assumed(plan, &mut said);
        said.source(DRAWN);
        out.push(said);
    }
}

/// A calorifier or heater: beside the main loop, off its hot side, and a calorifier under the cap.
fn beside(plan: &Plan, thing: usize, out: &mut Vec<crate::verdict::Verdict>) {
    let facts = plan.facts;
    let own = &facts.things[thing];
    let whole = subject(own.key(), own.key().to_owned(), own.place.clone());
    let before = out.len();
    let site = Site::Thing(thing);
    // In series: no closed way to a cooler is left without it.
    let cooled = |without: Option<Site>| {
        plan.pumps.iter().any(|pump| {
            let on = plan.graph.closed(*pump, |node| {
                plan.passes(node)
                    && !plan.is_cold_way(node)
                    && Some(plan.nodes[node].site) != without
            });
            (0..on.len()).any(|node| on[node] && plan.sinks(node))
        })
    };
    if cooled(None) && !cooled(Some(site)) {
        let spigot = facts
            .on(thing)
            .find(|(run, _, comes)| *comes && facts.runs[*run].run.carries == Carries::Coolant)
            .and_then(|(_, name, _)| own.thing.spigot(name))
            .and_then(|spigot| spigot.od.given())
            .map(|od| od.value);
        let because = Words::of(|system| {
            let wide = spigot.map_or_else(String::new, |od| {
                format!(", by a spigot of {}", super::size(od, system))
            });
            format!(
                "The whole flow passes {}, 1 way in series{wide}: its coil throttles the engine.",
                own.key()
            )
        });
        let mut said = verdict(
            &whole,
            "series",
            Grade::Unsound,
            because,
            "Take it off the engine's heater connections, or by two tees beside the main loop.",
        );
        said.caution = Some(HOT.into());
        said.working.limit =
            "beside the main loop, so that the cooler is reached without it".into();
        out.push(said);
    }
    // From the hot side: back from it one comes to the inside of an engine before a cooler or a pump.
    let begin: Vec<usize> = plan
        .of_site(site)
        .into_iter()
        .filter(|node| plan.on_loop[*node])
        .collect();
    let back = plan.graph.reach(&begin, Sense::Back, |node| {
        plan.passes(node) && !plan.sinks(node) && !plan.pumps.contains(&node)
    });
    let hot = (0..back.len()).any(|node| {
        back[node]
            && HOT_STATIONS
                .iter()
                .chain(&["stat"])
                .any(|name| plan.is_station(node, name))
    });
    if !hot {
        let feed = facts
            .on(thing)
            .find(|(run, _, comes)| *comes && facts.runs[*run].run.carries == Carries::Coolant);
        let name = feed.map_or("its feed".to_owned(), |(run, _, _)| {
            facts.runs[run].run.key.clone()
        });
        let because = format!(
            "{} gets its water by {name} from the cold side, after 1 cooler and before the pump: it stays lukewarm.",
            say::capital(own.key())
        );
        let mut said = verdict(
            &whole,
            "cold-side",
            Grade::Marginal,
            because.as_str().into(),
            "Take its feed between the head and the cooler.",
        );
        if let Some((run, _, _)) = feed {
            said.place = format!("{}.from", boat::run_path(&facts.runs[run].run.key));
        }
        said.caution = Some(HOT.into());
        said.working.limit = "fed from between the engine's head and the cooler".into();
        out.push(said);
    }
    if own.is(ThingKind::Calorifier) {
        above(plan, thing, &whole, out);
        super::small::takes(plan, thing, &whole, out);
    }
    for said in &mut out[before..] {
        if said.grade != Grade::Unmeasured {
            // That water finds its level holds however it runs inside the engine.
            if said.basis != Basis::Physics {
                say_assumed(plan, said);
            }
            said.source(DRAWN);
            said.source(PRACTICE);
        }
    }
    if out.len() == before {
        let under = lowest_cap_over(plan, thing).zip(top_of_calorifier(plan, thing));
        let because = Words::of(|system| match &under {
            Some(((_, cap), (_, top))) if own.is(ThingKind::Calorifier) => format!(
                "It hangs beside the main loop, off the hot side, its top at {} under the cap at {}.",
                height(best(top), system),
                height(best(cap), system)
            ),
            _ => {
                "It hangs beside the main loop, off the hot side: 2 ways for the water.".to_owned()
            }
        });
        let mut said = verdict(&whole, "feed", Grade::Sound, because, "");
        said.working.limit = "beside the main loop, off the hot side, under the cap".into();
        say_assumed(plan, &mut said);
        said.source(DRAWN);
        said.source(PRACTICE);
        out.push(said);
    }
}

/// The cap over a thing; the lowest one where the thing belongs to several circuits, by two coils for one.
fn lowest_cap_over<'a>(
    plan: &'a Plan,
    thing: usize,
) -> Option<(usize, &'a crate::stages::types::Value<quantity::Length>)> {
    plan.of_site(Site::Thing(thing))
        .into_iter()
        .filter(|node| plan.on_loop[*node])
        .filter_map(|node| cap_over(plan, &plan.graph.together(&[node])))
        .min_by(|a, b| best(a.1).total_cmp(&best(b.1)))
}

/// The seat of the highest live cap of a circuit, else its cold level.
fn cap_over<'a>(
    plan: &'a Plan,
    within: &[bool],
) -> Option<(usize, &'a crate::stages::types::Value<quantity::Length>)> {
    let facts = plan.facts;
    let live = (0..facts.things.len()).filter(|thing| {
        let own = &facts.things[*thing];
        plan.has_header(*thing)
            && plan.any(Site::Thing(*thing), within)
            && !facts.blanked.contains(&format!("{}.cap", own.key()))
    });
    live.filter_map(|thing| Some((thing, facts.things[thing].cap_h.as_ref().ok()?)))
        .max_by(|a, b| best(a.1).total_cmp(&best(b.1)))
        .or_else(|| super::header::cold_level(plan, within).map(|(thing, value, _)| (thing, value)))
}

/// Whether a calorifier reaches, or may reach, above the cap, so that its own rule speaks.
pub(super) fn stands_above(plan: &Plan, thing: usize, within: &[bool]) -> bool {
    top_of_calorifier(plan, thing)
        .zip(cap_over(plan, within))
        .is_some_and(|((_, top), (_, cap))| top.measured.high > cap.measured.low)
}

/// A calorifier whose coil stands above the cap holds air.
fn above(
    plan: &Plan,
    thing: usize,
    whole: &crate::stages::types::Subject,
    out: &mut Vec<crate::verdict::Verdict>,
) {
    let own = &plan.facts.things[thing];
    let Some((place, top)) = top_of_calorifier(plan, thing) else {
        if let Err(missing) = &own.coil_top {
            out.push(waits(whole, "above-cap", "Height of its coil", missing));
        }
        return;
    };
    let Some((cap_on, cap)) = lowest_cap_over(plan, thing) else {
        return;
    };
    let over = best(top) - best(cap);
    let (surely, surely_not) = (
        top.measured.low > cap.measured.high,
        top.measured.high <= cap.measured.low,
    );
    if surely_not {
        return;
    }
    let grade = if surely {
        Grade::Unsound
    } else {
        Grade::Marginal
    };
    let because = Words::of(|system| {
        format!(
            "Its top is at {}, the cap of {} at {}: {} too low for the water to stay up there, and air locks the coil.",
            height(best(top), system),
            plan.facts.things[cap_on].key(),
            height(best(cap), system),
            say::whole_mm(over.abs(), system)
        )
    });
    let mut said = verdict(
        whole,
        "above-cap",
        grade,
        because,
        "Set the calorifier lower, or the header tank higher, until the cap stands above the coil.",
    );
    said.place = place;
    said.basis = Basis::Physics;
    said.caution = Some(HOT.into());
    said.input("h", "top of the coil", top);
    said.input("h_c", "seat of the cap", cap);
    said.step(
        "h − h_c",
        Words::of(|system| {
            format!(
                "{} − ({})",
                height(best(top), system),
                height(best(cap), system)
            )
        }),
        Words::of(|system| height(over, system)),
    );
    said.working.limit = "no calorifier above the cap".into();
    out.push(said);
}

/// What settles how many skins a coil has.
const SKINS: &str = "Find out by its maker or its plate whether the coil has one skin or two between coolant and drinking water.";

/// Ethylene glycol is poison, and one skin of a coil is all that keeps it from the tap.
pub fn glycol(plan: &Plan, out: &mut Vec<crate::verdict::Verdict>) {
    let facts = plan.facts;
    for (i, own) in facts.things.iter().enumerate() {
        let coolant = facts
            .on(i)
            .any(|(run, _, _)| facts.runs[run].run.carries == Carries::Coolant);
        if !own.is(ThingKind::Calorifier) || !coolant {
            continue;
        }
        let place = format!("{}.coil.skins", own.place);
        let whole = subject(own.key(), format!("coil of {}", own.key()), place.clone());
        let skins = own.thing.detail.coil.as_ref().map(|coil| &coil.skins);
        let skins = skins.and_then(|skins| skins.given()).copied();
        let kind = facts.coolant.kind.given().map(String::as_str);
        let ethylene = facts.wanted == GlycolFacts::Of(Glycol::Ethylene);
        let propylene = facts.wanted == GlycolFacts::Of(Glycol::Propylene);
        let two = skins.is_some_and(|skins| skins >= 2);
        let old = (!two).then(|| old_glycol(facts, &whole, skins)).flatten();
        let poisoned = old.is_some();
        out.extend(old);
        let mut said = if two || propylene {
            // With poison inside nothing is sound behind this coil, whatever is poured on it.
            if poisoned {
                continue;
            }
            let behind = match skins {
                Some(1) => "1 skin".to_owned(),
                Some(skins) => format!("{skins} skins"),
                None => "a coil of unknown skins".to_owned(),
            };
            let because = format!(
                "{} stands behind {behind} of the coil: {}.",
                say::capital(kind.unwrap_or("the coolant")),
                if two {
                    "a hole in one of the 2 shows before the water is fouled"
                } else {
                    "it is the glycol to have there, and not to drink either"
                }
            );
            verdict(&whole, "glycol", Grade::Sound, because.as_str().into(), "")
        } else if ethylene {
            let behind = match skins {
                Some(_) => "1 skin of the coil".to_owned(),
                None => "a coil of which nobody knows whether it has 1 skin or 2".to_owned(),
            };
            let because = format!(
                "Ethylene glycol, which is poison, would stand behind {behind}: a pinhole puts it into the drinking water."
            );
            let mut said = verdict(
                &whole,
                "glycol",
                Grade::Unsound,
                because.as_str().into(),
                "Take propylene glycol, or a calorifier with two skins; drink none of her hot water until then.",
            );
            if let Some((kind, to)) = kind.and_then(|kind| Some((kind, with_propylene(kind)?))) {
                said.edits.push(edit(
                    "coolant.wanted.kind",
                    quoted(kind),
                    quoted(&to),
                    "want propylene glycol".into(),
                ));
            }
            if skins.is_none() {
                said.settles = Some(Settles {
                    place,
                    how: SKINS.into(),
                });
            }
            said
        } else {
            let missing = missing(
                if kind.is_some() {
                    "its words do not tell which glycol it is"
                } else {
                    "not written"
                },
                "coolant.wanted.kind".into(),
                "Write which glycol is to be poured in: `kind = \"propylene, organic acid\"`.",
            );
            waits(&whole, "glycol", "The coolant", &missing)
        };
        said.caution = Some(POISON.into());
        said.working.limit = "propylene glycol behind one skin, or two skins".into();
        said.source(PRACTICE);
        out.push(said);
    }
}

/// Poison that stays inside, or may, behind a coil that has not surely two skins.
fn old_glycol(
    facts: &Facts,
    whole: &crate::stages::types::Subject,
    skins: Option<u32>,
) -> Option<crate::verdict::Verdict> {
    let known = match facts.inside {
        GlycolFacts::Of(Glycol::Ethylene) => true,
        GlycolFacts::Unsaid => false,
        GlycolFacts::NotWritten | GlycolFacts::Without | GlycolFacts::Of(Glycol::Propylene) => {
            return None;
        }
    };
    let behind = match skins {
        Some(_) => "1 skin of the coil",
        None => "a coil of which nobody knows whether it has 1 skin or 2",
    };
    let because = if known {
        format!(
            "The coolant that stays inside holds ethylene glycol, which is poison, behind {behind}: a pinhole puts it into the drinking water, whatever is poured on it."
        )
    } else {
        format!(
            "Of the coolant that stays inside nobody knows which glycol it holds, and it stands behind {behind}: if it is ethylene glycol, a pinhole puts poison into the drinking water."
        )
    };
    let mut said = verdict(
        whole,
        "old-glycol",
        Grade::Unsound,
        because.as_str().into(),
        "Flush the circuit with water until none of the old coolant is left, and write `inside = { kind = \"water\" }`; drink none of her hot water until then.",
    );
    said.place = "coolant.inside.kind".into();
    if known && skins.is_none() {
        said.settles = Some(Settles {
            place: whole.place.clone(),
            how: SKINS.into(),
        });
    }
    if !known {
        said.settles = Some(Settles {
            place: "coolant.inside.kind".into(),
            how: "Find out from the can or the last bill which glycol was poured in, and write it: `inside = { kind = \"propylene\" }`.".into(),
        });
    }
    said.caution = Some(POISON.into());
    said.working.limit = "no ethylene glycol behind one skin".into();
    said.source(PRACTICE);
    Some(said)
}

/// A text that names ethylene once, as a word, with propylene in its stead and all else as it was typed.
fn with_propylene(kind: &str) -> Option<String> {
    const OLD: &str = "ethylene";
    // Lower case of ASCII letters alone, so that places in both texts are the same.
    let low = kind.to_ascii_lowercase();
    let at = low.find(OLD)?;
    let (before, rest) = (&kind[..at], &kind[at..]);
    let after = &rest[OLD.len()..];
    let once = low.matches(OLD).count() == 1;
    let word =
        !before.ends_with(char::is_alphanumeric) && !after.starts_with(char::is_alphanumeric);
    let new = if rest.starts_with('E') {
        "Propylene"
    } else {
        "propylene"
    };
    (once && word).then(|| format!("{before}{new}{after}"))
}

/// Pumps in the coolant that do not stand its heat, or that are put in backwards.
pub fn pumps(plan: &Plan, out: &mut Vec<crate::verdict::Verdict>) {
    let facts = plan.facts;
    for (i, own) in facts.things.iter().enumerate() {
        let raw = own.is(ThingKind::RawWaterPump);
        if !raw && !own.is(ThingKind::CirculatingPump) {
            continue;
        }
        let coolant: Vec<usize> = facts
            .on(i)
            .map(|(run, _, _)| run)
            .filter(|run| facts.runs[*run].run.carries == Carries::Coolant)
            .collect();
        let whole = subject(own.key(), own.key().to_owned(), own.place.clone());
        if let Some(run) = coolant.first() {
            let alarm = |system: System| {
                facts.alarm.as_ref().ok().map_or_else(
                    || "the heat of the engine".to_owned(),
                    |alarm| {
                        format!(
                            "the {} at which the alarm sounds",
                            show(alarm.measured.value, None, system)
                        )
                    },
                )
            };
            if raw {
                let because = Words::of(|system| {
                    format!(
                        "1 raw-water pump stands in the coolant, in {}: its rubber impeller fails before {}.",
                        facts.runs[*run].run.key,
                        alarm(system)
                    )
                });
                let mut said = verdict(
                    &whole,
                    "heat",
                    Grade::Unsound,
                    because,
                    "Take a circulating pump that stands the heat.",
                );
                said.place = format!("{}.kind", own.place);
                said.caution = Some(HOT.into());
                said.working.limit = "no flexible impeller in hot coolant".into();
                said.source(PRACTICE);
                out.push(said);
            } else {
                stands(plan, i, &whole, out);
            }
        }
        direction(plan, i, &whole, out);
    }
}

fn stands(
    plan: &Plan,
    thing: usize,
    whole: &crate::stages::types::Subject,
    out: &mut Vec<crate::verdict::Verdict>,
) {
    let own = &plan.facts.things[thing];
    let (stands, alarm) = match (&own.stands, &plan.facts.alarm) {
        (Err(missing), _) => {
            out.push(waits(whole, "heat", "The heat that it stands", missing));
            return;
        }
        (_, Err(missing)) => {
            out.push(waits(whole, "heat", "Where the alarm sounds", missing));
            return;
        }
        (Ok(stands), Ok(alarm)) => (stands, alarm),
    };
    let holds = stands.measured.low >= alarm.measured.high;
    let because = Words::of(|system| {
        format!(
            "It stands {}, and the alarm sounds at {}.",
            show(stands.measured.value, None, system),
            show(alarm.measured.value, None, system)
        )
    });
    let grade = if holds { Grade::Sound } else { Grade::Unsound };
    let remedy = if holds {
        ""
    } else {
        "Take a pump that stands more than the temperature at which the alarm sounds."
    };
    let mut said = verdict(whole, "heat", grade, because, remedy);
    said.place = format!("{}.stands", own.place);
    said.basis = Basis::Physics;
    said.input("t_p", "what the pump stands", stands);
    said.input("t_a", "alarm", alarm);
    if !holds {
        said.caution = Some(HOT.into());
    }
    said.working.limit = "a pump stands the temperature at which the alarm sounds".into();
    said.source("the maker's sheet of the pump, as the file tells it");
    out.push(said);
}

/// A pump whose own path runs against its hoses.
fn direction(
    plan: &Plan,
    thing: usize,
    whole: &crate::stages::types::Subject,
    out: &mut Vec<crate::verdict::Verdict>,
) {
    let own = &plan.facts.things[thing];
    let against = plan.facts.on(thing).find_map(|(run, name, comes)| {
        let wrong = own.thing.detail.paths.iter().any(|path| {
            let end = if comes {
                path.stations.last()
            } else {
                path.stations.first()
            };
            end.is_some_and(|end| end == name)
        });
        wrong.then_some((run, name, comes))
    });
    let Some((run, name, comes)) = against else {
        return;
    };
    let key = &plan.facts.runs[run].run.key;
    let way = if comes { "comes to" } else { "leaves" };
    let lets = if comes { "out" } else { "in" };
    let because = format!(
        "The water of {key} {way} it at {name}, where its 1 path lets the water {lets}: it pumps against the loop."
    );
    let mut said = verdict(
        whole,
        "direction",
        Grade::Unsound,
        because.as_str().into(),
        "Change its two hoses over, or turn the pump round.",
    );
    said.place = format!(
        "{}.{}",
        boat::run_path(key),
        if comes { "to" } else { "from" }
    );
    said.basis = Basis::Physics;
    said.working.limit = "a pump that delivers the way the loop runs".into();
    said.source(DRAWN);
    out.push(said);
}
