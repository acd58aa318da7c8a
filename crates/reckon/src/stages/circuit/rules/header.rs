//! Header tank: where its foot joins, how high it stands, its caps, and the vents that lead to it.

use boat::{Carries, PieceKind, RunEnd, Size, ThingKind};
use quantity::{Length, Quantity, System, show};

use super::{
    DRAWN, HOT, PRACTICE, best, height, input, missing, node_name, say_assumed, size, subject,
    verdict, waits,
};
use crate::draft::edit;
use crate::say;
use crate::solve::graph::Sense;
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::types::{Known, Subject, Value};
use crate::verdict::{Basis, Grade, Verdict, Words};

/// Widest bore of a vent [m]: wider ones lead hot water round through the tank. Common practice, no source.
const WIDEST_VENT: f64 = 0.010;

/// Judges the family.
pub fn judge(plan: &Plan, out: &mut Vec<Verdict>) {
    let headers = plan.headers();
    if headers.is_empty() {
        let whole = subject("header", "header tank".into(), "things".into());
        let missing = missing(
            "none is written",
            "things".into(),
            "Find where the circuit is topped up and write it as a thing of kind “header tank”, with its foot and its vent as spigots.",
        );
        out.push(waits(&whole, "foot", "The header tank", &missing));
    }
    for header in &headers {
        out.extend(foot(plan, *header));
    }
    levels(plan, &headers, out);
    caps(plan, out);
    for run in 0..plan.facts.runs.len() {
        if plan.facts.runs[run].run.carries == Carries::Vent {
            vent(plan, run, out);
        }
    }
}

fn of_header(plan: &Plan, header: usize) -> Subject {
    let own = &plan.facts.things[header];
    let title = if own.thing.engine.is_some() {
        format!("header tank of {}", own.key())
    } else {
        own.key().to_owned()
    };
    subject(own.key(), title, own.place.clone())
}

/// Whether the make-up comes to the suction of the pump.
fn foot(plan: &Plan, header: usize) -> Option<Verdict> {
    let own = &plan.facts.things[header];
    let whole = of_header(plan, header);
    let mut said = if own.thing.engine.is_some() {
        inner_foot(plan, header, &whole)?
    } else {
        outer_foot(plan, header, &whole)
    };
    if said.grade != Grade::Unmeasured {
        said.basis = Basis::Practice;
        said.working.limit = "the foot joins where the water comes to the pump without passing a cooler, so that the pump draws from the tank".into();
        say_assumed(plan, &mut said);
        said.source(DRAWN);
        said.source(PRACTICE);
    }
    Some(said)
}

fn inner_foot(plan: &Plan, header: usize, whole: &Subject) -> Option<Verdict> {
    let own = &plan.facts.things[header];
    let stations: Vec<usize> = plan
        .of_site(Site::Thing(header))
        .into_iter()
        .filter(|node| plan.is_station(*node, "header"))
        .collect();
    if stations.is_empty() {
        // A cap alone on the engine, with a tank elsewhere, is no tank.
        let tank = own.thing.engine.as_ref().is_some_and(|engine| {
            !engine.extra.header_volume.is_left_out()
                || !engine.extra.header_cold_mark.is_left_out()
        });
        if !tank {
            return None;
        }
        let missing = missing(
            "stands in none of its paths",
            format!("{}.paths", own.place),
            "Find out where the tank's water goes inside the engine and add it: `header > pump`.",
        );
        return Some(waits(whole, "foot", "The header tank", &missing));
    }
    let passes = |node: usize| {
        !["block", "head", "stat"]
            .iter()
            .any(|name| plan.is_station(node, name))
    };
    let ahead = plan.graph.reach(&stations, Sense::Ahead, passes);
    let pump = plan.pumps.iter().any(|pump| ahead[*pump]);
    let (grade, because, remedy) = if pump {
        (
            Grade::Sound,
            format!(
                "Inside {} the header tank leads to the pump, before the block.",
                own.key()
            ),
            "",
        )
    } else {
        (
            Grade::Unsound,
            format!(
                "Inside {} the header tank leads to no pump: nothing fills up its suction.",
                own.key()
            ),
            "Lead the foot of the tank to the suction of the pump.",
        )
    };
    Some(verdict(
        whole,
        "foot",
        grade,
        because.as_str().into(),
        remedy,
    ))
}

fn outer_foot(plan: &Plan, header: usize, whole: &Subject) -> Verdict {
    let facts = plan.facts;
    let own = &facts.things[header];
    let feed = facts
        .on(header)
        .find(|(run, _, _)| facts.runs[*run].run.carries == Carries::Coolant);
    let Some((run, spigot, comes)) = feed else {
        let missing = missing(
            "no run of coolant is written from it",
            "runs".into(),
            "Trace the hose from its foot and write it as a run, down to where it joins.",
        );
        return waits(whole, "foot", "The foot of the header tank", &missing);
    };
    let feed = facts.runs[run].run;
    let end = if comes { &feed.from } else { &feed.to };
    let place = format!(
        "{}.{}",
        boat::run_path(&feed.key),
        if comes { "from" } else { "to" }
    );
    let joins = match end {
        RunEnd::Thing { .. } => facts
            .end(end)
            .and_then(|(thing, name)| plan.find(Site::Thing(thing), name)),
        RunEnd::Tee { run, piece } => facts
            .run(run)
            .and_then(|run| plan.find(Site::Run(run), piece)),
    };
    let where_to = joins.map_or_else(|| "nothing".to_owned(), |node| node_name(plan, node));
    let at = facts.end_height(if comes { &feed.to } else { &feed.from });
    let stands = |system: System| match at {
        Some(Ok(value)) => format!(" at {}", height(best(value), system)),
        _ => String::new(),
    };
    let suction = joins.is_some_and(|node| plan.suction[node]);
    let delivery = joins.is_some_and(|node| plan.delivery[node]);
    let reaches = joins.is_some_and(|node| {
        let ahead = plan
            .graph
            .reach(&[node], Sense::Ahead, |node| plan.passes(node));
        plan.pumps.iter().any(|pump| ahead[*pump])
    });
    let say = |text: &str| {
        Words::of(|system| {
            format!(
                "The {spigot}{} joins at {where_to}, {text}.",
                stands(system)
            )
        })
    };
    let (grade, because, remedy) = if suction {
        (
            Grade::Sound,
            say("on the suction side of the pump: no cooler lies between"),
            "",
        )
    } else if delivery {
        (
            Grade::Unsound,
            say(
                "on the delivery of the pump: it pumps up the tank instead of drawing from it, and starves",
            ),
            "Move the foot to a tee between the last cooler and the pump.",
        )
    } else if reaches {
        (
            Grade::Marginal,
            say(
                "upstream of a cooler or a heater: the pump draws through that before it draws from the tank",
            ),
            "Move the foot to a tee between the last cooler and the pump.",
        )
    } else {
        (
            Grade::Unsound,
            say("from where the water leads to no pump"),
            "Move the foot to a tee between the last cooler and the pump.",
        )
    };
    let mut said = verdict(whole, "foot", grade, because, remedy);
    said.place = place;
    if grade != Grade::Sound {
        said.caution = Some(HOT.into());
    }
    if let Some(at) = at {
        input(&mut said, "h", &format!("{spigot} of {}", own.key()), at);
    }
    said
}

/// A place of the circuit with its height.
struct Point {
    name: String,
    height: Value<Length>,
}

/// The level to which a circuit is filled cold: the cold mark of its highest tank, else the seat of its cap.
/// `within` are the nodes of the circuit: the tank of another one helps nothing.
pub(super) fn cold_level<'a>(
    plan: &'a Plan,
    within: &[bool],
) -> Option<(usize, &'a Value<Length>, bool)> {
    let of = |thing: &usize| {
        let own = &plan.facts.things[*thing];
        let mark = own.cold_mark.as_ref().ok().map(|value| (value, true));
        let level = mark.or_else(|| own.cap_h.as_ref().ok().map(|value| (value, false)));
        level.map(|(value, mark)| (*thing, value, mark))
    };
    plan.headers()
        .iter()
        .filter(|thing| plan.any(Site::Thing(**thing), within))
        .filter_map(of)
        .max_by(|a, b| best(a.1).total_cmp(&best(b.1)))
}

/// Whether each circuit lies below its own cold level.
fn levels(plan: &Plan, headers: &[usize], out: &mut Vec<Verdict>) {
    let mut seen = vec![false; plan.nodes.len()];
    for header in headers {
        let site = Site::Thing(*header);
        // One to which nothing leads has no circuit: its foot is spoken of.
        if plan.of_site(site).is_empty() || plan.any(site, &seen) {
            continue;
        }
        let within = plan.circuit_of(site);
        for (seen, on) in seen.iter_mut().zip(&within) {
            *seen |= *on;
        }
        level(plan, *header, &within, out);
    }
}

/// Whether a whole circuit lies below the cold level; `first` is the first of its tanks.
fn level(plan: &Plan, first: usize, within: &[bool], out: &mut Vec<Verdict>) {
    let facts = plan.facts;
    let Some((header, level, by_mark)) = cold_level(plan, within) else {
        let whole = of_header(plan, first);
        let own = &facts.things[first];
        if let Err(missing) = &own.cold_mark {
            out.push(waits(&whole, "height", "Height of the cold mark", missing));
        }
        return;
    };
    let whole = of_header(plan, header);
    // A calorifier of which its own rule speaks is left out here; then nothing is called sound either.
    let (locked, free): (Vec<usize>, Vec<usize>) = (0..facts.things.len())
        .filter(|thing| {
            facts.things[*thing].is(ThingKind::Calorifier)
                && plan.any(Site::Thing(*thing), &plan.on_loop)
                && plan.any(Site::Thing(*thing), within)
        })
        .partition(|thing| super::heat::stands_above(plan, *thing, within));
    let points = points(plan, &free, within);
    let Some(top) = points
        .iter()
        .max_by(|a, b| best(&a.height).total_cmp(&best(&b.height)))
    else {
        return;
    };
    let over = best(&top.height) - best(level);
    let line = if by_mark {
        "cold mark"
    } else {
        "seat of the cap"
    };
    let (surely_over, surely_under) = (
        top.height.measured.low > level.measured.high,
        top.height.measured.high <= level.measured.low,
    );
    let grade = match (surely_over, surely_under) {
        (true, _) => Grade::Unsound,
        (_, true) => Grade::Sound,
        _ => Grade::Marginal,
    };
    // The water stands somewhere below the cap: what is under its seat may still be over the water.
    if !by_mark && grade != Grade::Unsound {
        if let Err(missing) = &facts.things[header].cold_mark {
            out.push(waits(&whole, "height", "Height of the cold mark", missing));
        }
        return;
    }
    if grade == Grade::Sound && !locked.is_empty() {
        return;
    }
    let because = Words::of(|system| {
        let both = format!(
            "The highest point is {} at {}, the {line} of {} at {}",
            top.name,
            height(best(&top.height), system),
            facts.things[header].key(),
            height(best(level), system)
        );
        let by = say::whole_mm(over.abs(), system);
        match grade {
            Grade::Unsound => format!(
                "{both}: {by} too low, so that the top of the loop drains back to air at each stop."
            ),
            Grade::Marginal => format!("{both}: about level, nearer than they were measured."),
            _ => format!("{both}: {by} higher."),
        }
    });
    let remedy = if grade == Grade::Sound {
        ""
    } else {
        "Move the tank up, or the high point down, until the mark stands above all else, heeled as well."
    };
    let mut said = verdict(&whole, "height", grade, because, remedy);
    said.place = level.place.clone().unwrap_or_else(|| whole.place.clone());
    said.basis = Basis::Physics;
    said.input("h_t", line, level);
    said.input("h", &top.name.clone(), &top.height);
    said.step(
        "h − h_t",
        Words::of(|system| {
            format!(
                "{} − ({})",
                height(best(&top.height), system),
                height(best(level), system)
            )
        }),
        Words::of(|system| height(over, system)),
    );
    said.working.limit = "no point above the level to which the tank is filled cold".into();
    said.source("water finds its level");
    out.push(said);
}

/// The measured heights of the loop of one circuit, with the tops of some calorifiers.
fn points(plan: &Plan, calorifiers: &[usize], within: &[bool]) -> Vec<Point> {
    let facts = plan.facts;
    let mut points: Vec<Point> = Vec::new();
    for (i, own) in facts.runs.iter().enumerate() {
        let here = plan.any(Site::Run(i), &plan.on_loop) && plan.any(Site::Run(i), within);
        if own.run.carries != Carries::Coolant || !here {
            continue;
        }
        for end in [&own.run.from, &own.run.to] {
            let Some((thing, name)) = facts.end(end) else {
                continue;
            };
            let apart = &facts.things[thing];
            if apart.is(ThingKind::Calorifier) || apart.is(ThingKind::HeaderTank) {
                continue;
            }
            if let Some(Ok(value)) = facts.end_height(end) {
                points.push(Point {
                    name: format!("{} {name}", apart.key()).trim().to_owned(),
                    height: value.clone(),
                });
            }
        }
        if let Some(Ok(high)) = &own.high {
            points.push(Point {
                name: format!("the top of {}", own.run.key),
                height: high.clone(),
            });
        }
    }
    for thing in calorifiers {
        if let Some((_, top)) = top_of_calorifier(plan, *thing) {
            points.push(Point {
                name: format!("the top of {}", facts.things[*thing].key()),
                height: top.clone(),
            });
        }
    }
    points
}

/// The highest point of a calorifier's coil, with its place.
pub(super) fn top_of_calorifier<'a>(
    plan: &'a Plan,
    thing: usize,
) -> Option<(String, &'a Value<Length>)> {
    let own = &plan.facts.things[thing];
    let coil = own
        .coil_top
        .as_ref()
        .ok()
        .map(|top| (format!("{}.coil.top_h", own.place), top));
    let spigots = plan.facts.on(thing).filter_map(|(run, name, _)| {
        if plan.facts.runs[run].run.carries != Carries::Coolant {
            return None;
        }
        let i = own.thing.spigots.iter().position(|s| s.name == name)?;
        let value = own.spigots[i].as_ref().ok()?;
        Some((
            format!("{}.spigots.{}.h", own.place, boat::key_text(name)),
            value,
        ))
    });
    coil.into_iter()
        .chain(spigots)
        .max_by(|a, b| best(a.1).total_cmp(&best(b.1)))
}

/// Two caps in one circuit: the weaker governs, wherever it sits.
fn caps(plan: &Plan, out: &mut Vec<Verdict>) {
    let facts = plan.facts;
    let live: Vec<usize> = (0..facts.things.len())
        .filter(|thing| {
            let own = &facts.things[*thing];
            !own.thing.cap.is_left_out() && !facts.blanked.contains(&format!("{}.cap", own.key()))
        })
        .collect();
    for (i, second) in live.iter().enumerate() {
        let nodes = plan.of_site(Site::Thing(*second));
        let together = plan.graph.together(&nodes);
        let Some(first) = live[..i]
            .iter()
            .find(|first| plan.any(Site::Thing(**first), &together))
        else {
            continue;
        };
        // The one that sits lower is the one to blank: the other has the header's air under it.
        let seat = |thing: usize| facts.things[thing].cap_h.as_ref().ok().map(best);
        let (keep, goes) = match (seat(*first), seat(*second)) {
            (Some(a), Some(b)) if b > a => (*second, *first),
            (None, Some(_)) => (*second, *first),
            _ => (*first, *second),
        };
        let cap = |thing: usize, system: System| {
            let own = &facts.things[thing];
            let pressure = own.thing.cap.given().map_or_else(
                || "unknown pressure".to_owned(),
                |cap| show(cap.value, None, system),
            );
            format!("{pressure} on {}", own.key())
        };
        let own = &facts.things[goes];
        let whole = subject(
            own.key(),
            format!("cap of {}", own.key()),
            format!("{}.cap", own.place),
        );
        let because = Words::of(|system| {
            format!(
                "Two caps are live in one circuit, {} and {}: the weaker opens first, and coolant leaves where nobody looks.",
                cap(keep, system),
                cap(goes, system)
            )
        });
        let remedy = format!(
            "Blank the cap of {} with a plain one, and keep that of {}.",
            own.key(),
            facts.things[keep].key()
        );
        let mut said = verdict(&whole, "caps", Grade::Unsound, because, &remedy);
        said.caution = Some(HOT.into());
        said.working.limit = "one pressure cap in a circuit".into();
        said.source(PRACTICE);
        if let Some(name) = facts.name {
            let place = format!("arrangements.{}.blank", boat::key_text(name));
            let mut blanks = facts.blanks_here.clone();
            let from = if blanks.is_empty() {
                String::new()
            } else {
                boat::quoted_list(blanks.iter().map(String::as_str))
            };
            blanks.push(format!("{}.cap", own.key()));
            let to = boat::quoted_list(blanks.iter().map(String::as_str));
            said.edits.push(edit(
                place,
                from,
                to,
                format!("blank the cap of {}", own.key()),
            ));
        }
        out.push(said);
    }
}

/// One vent: to a tank, by itself, rising, and narrow.
fn vent(plan: &Plan, run: usize, out: &mut Vec<Verdict>) {
    let facts = plan.facts;
    let own = &facts.runs[run];
    let base = boat::run_path(&own.run.key);
    let whole = subject(&own.run.key, format!("vent {}", own.run.key), base.clone());
    let before = out.len();
    // A vent that meets another sends air round; one that comes from a tee has no spot of its own.
    let meets_vent = |end: &RunEnd| match end {
        RunEnd::Tee { run, .. } => facts
            .run(run)
            .filter(|other| facts.runs[*other].run.carries == Carries::Vent),
        RunEnd::Thing { .. } => None,
    };
    let teed = [(&own.run.from, "from"), (&own.run.to, "to")]
        .into_iter()
        .find_map(|(end, key)| Some((meets_vent(end)?, key)));
    if let Some((other, key)) = teed {
        let because = format!(
            "The vents {} and {} are joined by a tee, 2 into 1: air goes round between them instead of out.",
            own.run.key, facts.runs[other].run.key
        );
        let mut said = verdict(
            &whole,
            "teed",
            Grade::Marginal,
            because.as_str().into(),
            "Lead each vent to the air space of the tank by itself.",
        );
        said.place = format!("{base}.{key}");
        out.push(said);
    }
    let ends_in_tank = facts
        .end(&own.run.to)
        .is_some_and(|(thing, _)| plan.has_header(thing));
    if teed.is_none() && !ends_in_tank {
        let name = match &own.run.to {
            RunEnd::Thing { thing, spigot } => {
                format!("{thing} {}", spigot.as_deref().unwrap_or(""))
                    .trim()
                    .to_owned()
            }
            RunEnd::Tee { run, piece } => format!("{piece} in {run}"),
        };
        let because = format!(
            "{} ends at {name}, 1 end that is no header tank: the air has nowhere to go.",
            own.run.key
        );
        let mut said = verdict(
            &whole,
            "end",
            Grade::Unsound,
            because.as_str().into(),
            "Lead the vent to the air space of the header tank.",
        );
        said.place = format!("{base}.to");
        out.push(said);
    }
    slope(plan, run, &whole, out);
    bore(plan, run, &whole, out);
    for said in &mut out[before..] {
        said.working.limit =
            "each vent by itself to the air space of the tank, rising all the way, 6 to 10 mm wide"
                .into();
        said.source(PRACTICE);
        if said.grade != Grade::Unmeasured {
            said.caution = Some(HOT.into());
        }
    }
    if out.len() == before {
        let ends = (
            facts.end_height(&own.run.from),
            facts.end_height(&own.run.to),
        );
        let because = Words::of(|system| match ends {
            (Some(Ok(from)), Some(Ok(to))) => format!(
                "It rises from {} to {} by itself and ends in a header tank.",
                height(best(from), system),
                height(best(to), system)
            ),
            _ => "It leads by itself to 1 header tank.".to_owned(),
        });
        let mut said = verdict(&whole, "vent", Grade::Sound, because, "");
        said.working.limit =
            "each vent by itself to the air space of the tank, rising all the way, 6 to 10 mm wide"
                .into();
        said.source(PRACTICE);
        out.push(said);
    }
}

fn slope(plan: &Plan, run: usize, whole: &Subject, out: &mut Vec<Verdict>) {
    let facts = plan.facts;
    let own = &facts.runs[run];
    let base = boat::run_path(&own.run.key);
    let (from, to) = (
        facts.end_height(&own.run.from),
        facts.end_height(&own.run.to),
    );
    let known = |end: Option<&Known<Length>>| match end {
        Some(Ok(value)) => Ok(Some(value.clone())),
        Some(Err(missing)) => Err(missing.clone()),
        None => Ok(None),
    };
    let (from, to) = match (known(from), known(to)) {
        (Ok(from), Ok(to)) => (from, to),
        (Err(missing), _) | (_, Err(missing)) => {
            out.push(waits(whole, "slope", "Height of its end", &missing));
            return;
        }
    };
    let low = own.low.as_ref().and_then(|low| low.as_ref().ok());
    let high = own.high.as_ref().and_then(|high| high.as_ref().ok());
    let falls = |a: &Value<Length>, b: &Value<Length>| a.measured.low > b.measured.high;
    let wrong = [
        (
            from.as_ref(),
            to.as_ref(),
            "its lower end",
            "its upper end",
            "to",
        ),
        (
            from.as_ref(),
            low,
            "its lower end",
            "its lowest point",
            "low_at",
        ),
        (
            high,
            to.as_ref(),
            "its highest point",
            "its upper end",
            "high_at",
        ),
    ]
    .into_iter()
    .find_map(|(a, b, a_name, b_name, key)| {
        let (a, b) = (a?, b?);
        falls(a, b).then_some((a, b, a_name, b_name, key))
    });
    let Some((a, b, a_name, b_name, key)) = wrong else {
        level_vent(whole, &base, from.as_ref().zip(to.as_ref()), out);
        return;
    };
    let fall = best(a) - best(b);
    let because = Words::of(|system| {
        format!(
            "It falls by {} from {a_name} at {} to {b_name} at {}: water stands there and air does not pass.",
            say::whole_mm(fall, system),
            height(best(a), system),
            height(best(b), system)
        )
    });
    let mut said = verdict(
        whole,
        "slope",
        Grade::Unsound,
        because,
        "Lead the vent so that it rises all the way to the tank.",
    );
    said.basis = Basis::Physics;
    said.place = format!("{base}.{key}");
    said.input("h_1", a_name, a);
    said.input("h_2", b_name, b);
    out.push(said);
}

/// A vent of which nobody can tell whether it rises: its ends are nearer to one another than they were
/// measured.
fn level_vent(
    whole: &Subject,
    base: &str,
    ends: Option<(&Value<Length>, &Value<Length>)>,
    out: &mut Vec<Verdict>,
) {
    let Some((from, to)) = ends.filter(|(from, to)| to.measured.low <= from.measured.high) else {
        return;
    };
    let rise = best(to) - best(from);
    let way = if rise < 0.0 { "lower" } else { "higher" };
    let because = Words::of(|system| {
        format!(
            "It leads from {} to {}, {} {way}: nearer than they were measured, so that it may not rise.",
            height(best(from), system),
            height(best(to), system),
            say::whole_mm(rise.abs(), system)
        )
    });
    let mut said = verdict(
        whole,
        "slope",
        Grade::Marginal,
        because,
        "Lead the vent so that it surely rises all the way to the tank.",
    );
    said.basis = Basis::Physics;
    said.place = format!("{base}.to");
    said.input("h_1", "its lower end", from);
    said.input("h_2", "its upper end", to);
    out.push(said);
}

fn bore(plan: &Plan, run: usize, whole: &Subject, out: &mut Vec<Verdict>) {
    let own = &plan.facts.runs[run];
    let pieces = own.run.way.given().map_or(&[][..], Vec::as_slice);
    let bores: Vec<Length> = pieces
        .iter()
        .filter_map(|piece| match piece.kind {
            PieceKind::Hose {
                size: Size::Named(size),
                ..
            } => Some(size.as_length()),
            _ => None,
        })
        .collect();
    let Some(narrowest) = bores.iter().min().copied() else {
        return;
    };
    if narrowest.si() <= WIDEST_VENT + 1e-9 {
        return;
    }
    let because = Words::of(|system| {
        format!(
            "Its bore is {}; a vent over {} leads hot water past the cooler through the tank.",
            size(narrowest, system),
            size(Length::mm(WIDEST_VENT * 1000.0), system)
        )
    });
    let mut said = verdict(
        whole,
        "bore",
        Grade::Marginal,
        because,
        "Take a vent of 6 to 10 mm, or put a restrictor into this one.",
    );
    said.place = format!("{}.way", own.place);
    out.push(said);
}
