//! The loop as one walks it: from the pump round to the pump, then what hangs on it.

use boat::{Carries, Key, PieceKind, RunEnd, Told};
use quantity::{Length, Quantity};

use super::plan::{Plan, Site};
use super::rules::height;
use crate::verdict::Words;

/// On which side of the pump something lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Side {
    Delivery,
    Suction,
    /// Beside the main loop, and what it carries is not raw water.
    Beside,
    Vent,
    RawWater,
    /// On no closed way: shut off, or not led anywhere.
    Off,
    /// A thing on the ring.
    Thing,
}

impl Side {
    /// The word for a reader.
    pub fn word(self) -> &'static str {
        match self {
            Self::Delivery => "delivery",
            Self::Suction => "suction",
            Self::Beside => "beside",
            Self::Vent => "vent",
            Self::RawWater => "raw water",
            Self::Off => "off",
            Self::Thing => "",
        }
    }
}

/// One line of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What is written on the run; empty for a thing.
    pub mark: String,
    /// The thing or the run.
    pub key: Key,
    /// Whether it is a run.
    pub is_run: bool,
    /// Kind of the thing, or the pieces of the run.
    pub what: String,
    /// Where a run begins and ends; empty for a thing.
    pub ends: String,
    /// Lowest and highest point that is told [m].
    pub reach: Option<(f64, f64)>,
    /// The same for people.
    pub heights: Words,
    /// On which side it lies.
    pub side: Side,
}

/// The list of one arrangement.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Listing {
    /// The arrangement; `None` for the file as it stands.
    pub arrangement: Option<Key>,
    /// Whether the water comes round to a pump.
    pub closed: bool,
    /// What gives the heat away.
    pub coolers: Vec<Key>,
    /// Layouts that stand in for the inside of an engine.
    pub assumed: Vec<String>,
    /// Round the main loop, from the pump's thing on.
    pub ring: Vec<Row>,
    /// All other runs, in the order of the file.
    pub beside: Vec<Row>,
    /// Valves that are shut.
    pub shut: Vec<Key>,
    /// What is blanked off.
    pub blanked: Vec<String>,
}

/// Lists an arrangement.
pub fn list(plan: &Plan) -> Listing {
    let facts = plan.facts;
    let ring = ring(plan);
    let on_ring = |run: usize| ring.iter().any(|passed| passed.site == Site::Run(run));
    let beside = (0..facts.runs.len())
        .filter(|run| !on_ring(*run))
        .map(|run| row(plan, Site::Run(run), &[]))
        .collect();
    Listing {
        arrangement: facts.name.map(str::to_owned),
        closed: plan.pumps.iter().any(|pump| plan.comes_round(*pump)),
        coolers: plan.sinks_on_loop(),
        assumed: plan
            .insides
            .iter()
            .enumerate()
            .filter_map(|(thing, inside)| match inside {
                super::inside::Inside::Assumed(layout, _) => Some(format!(
                    "{}: {}",
                    facts.things[thing].key(),
                    layout.words[0]
                )),
                _ => None,
            })
            .collect(),
        ring: ring
            .iter()
            .map(|passed| row(plan, passed.site, &passed.nodes))
            .collect(),
        beside,
        shut: facts.shut.to_vec(),
        blanked: facts.blanked.to_vec(),
    }
}

/// A thing or run on the way round, with those of its nodes that one passes.
pub(crate) struct Passed {
    pub(crate) site: Site,
    pub(crate) nodes: Vec<usize>,
}

/// What one passes on the way round: by a cooler where there is one.
fn ring(plan: &Plan) -> Vec<Passed> {
    let pumps = plan.pumps.iter();
    pumps.flat_map(|pump| round_from(plan, *pump)).collect()
}

/// The way round from one pump, which stands first and is not told again at the end.
pub(crate) fn round_from(plan: &Plan, pump: usize) -> Vec<Passed> {
    let mut sites: Vec<Passed> = Vec::new();
    let main = |node: usize| plan.mainly(node);
    let cooler = (0..plan.nodes.len()).find(|node| plan.on_main[*node] && plan.sinks(*node));
    let way = cooler
        .and_then(|cooler| {
            let mut there = plan.graph.path(pump, cooler, main)?;
            let back = plan.graph.path(cooler, pump, main)?;
            there.extend(back.into_iter().skip(1));
            Some(there)
        })
        .or_else(|| plan.graph.path(pump, pump, main))
        .or_else(|| plan.graph.path(pump, pump, |node| plan.passes(node)));
    for node in way.unwrap_or_default() {
        let site = plan.nodes[node].site;
        match sites.last_mut().filter(|passed| passed.site == site) {
            Some(passed) => passed.nodes.push(node),
            None => sites.push(Passed {
                site,
                nodes: vec![node],
            }),
        }
    }
    // The last is the first again.
    let site = |at: Option<&Passed>| at.map(|passed| passed.site);
    if sites.len() > 1 && site(sites.last()) == site(sites.first()) {
        sites.pop();
    }
    sites
}

/// The line of a thing or run; of a run that is entered or left at a tee, only the part that is passed.
fn row(plan: &Plan, site: Site, passed: &[usize]) -> Row {
    let facts = plan.facts;
    let mut heights: Vec<f64> = Vec::new();
    let mut add = |value: &crate::stages::types::Known<Length>| {
        if let Ok(value) = value {
            heights.push(value.measured.value.si());
        }
    };
    let mut row = match site {
        Site::Thing(i) => {
            let own = &facts.things[i];
            own.spigots.iter().for_each(&mut add);
            if own.thing.spigots.is_empty() {
                add(&own.height);
            }
            heights.extend(own.outside());
            Row {
                mark: String::new(),
                key: own.key().to_owned(),
                is_run: false,
                what: own
                    .kind()
                    .map_or(String::new(), |kind| kind.word().to_owned()),
                ends: String::new(),
                reach: None,
                heights: Words::default(),
                side: Side::Thing,
            }
        }
        Site::Run(i) => {
            let own = &facts.runs[i];
            let tees = [passed.first(), passed.last()].map(|node| tee_at(plan, i, node));
            for (end, tee) in [&own.run.from, &own.run.to].into_iter().zip(tees) {
                if let (Some(value), None) = (facts.end_height(end), tee) {
                    add(value);
                }
            }
            own.high.iter().chain(&own.low).for_each(&mut add);
            let what = match &own.run.way {
                Told::Given(pieces) => {
                    let first = tees[0].unwrap_or(0);
                    let last = tees[1].unwrap_or(pieces.len().saturating_sub(1));
                    let names: Vec<String> = pieces
                        .iter()
                        .take(last + 1)
                        .skip(first)
                        .map(|piece| boat::piece_text(&piece.kind))
                        .collect();
                    names.join(" + ")
                }
                Told::Choose => "choose".to_owned(),
                _ => "–".to_owned(),
            };
            Row {
                mark: own.mark.clone(),
                key: own.run.key.clone(),
                is_run: true,
                what,
                ends: format!(
                    "{} → {}",
                    end_at(own.run, tees[0], &own.run.from),
                    end_at(own.run, tees[1], &own.run.to)
                ),
                reach: None,
                heights: Words::default(),
                side: side(plan, i),
            }
        }
    };
    let low = heights.iter().copied().reduce(f64::min);
    let high = heights.iter().copied().reduce(f64::max);
    row.reach = low.zip(high);
    row.heights = Words::of(|system| match row.reach {
        None => "–".to_owned(),
        Some((low, high)) if (high - low).abs() < 5e-4 => height(low, system),
        Some((low, high)) => format!("{} to {}", height(low, system), height(high, system)),
    });
    row
}

/// Which piece of a run a node is, where that is a tee between others: there the water comes in or leaves.
pub(crate) fn tee_at(plan: &Plan, run: usize, node: Option<&usize>) -> Option<usize> {
    let pieces = plan.facts.runs[run].run.way.given()?;
    let name = &plan.nodes[*node?].name;
    let at = pieces.iter().position(|piece| piece.name == *name)?;
    let inner = at > 0 && at + 1 < pieces.len();
    (inner && matches!(pieces[at].kind, PieceKind::Tee { .. })).then_some(at)
}

/// An end of a run, or the tee at which one leaves it sooner.
fn end_at(run: &boat::Run, tee: Option<usize>, whole: &RunEnd) -> String {
    let piece = tee.and_then(|at| run.way.given()?.get(at));
    piece.map_or_else(|| end(whole), |piece| format!("{}.{}", run.key, piece.name))
}

fn side(plan: &Plan, run: usize) -> Side {
    let site = Site::Run(run);
    let main = |set: &[bool]| {
        plan.nodes
            .iter()
            .enumerate()
            .any(|(node, own)| own.site == site && set[node] && plan.on_main[node])
    };
    match plan.facts.runs[run].run.carries {
        Carries::RawWater => Side::RawWater,
        Carries::Vent => Side::Vent,
        _ if main(&plan.suction) => Side::Suction,
        _ if main(&plan.delivery) => Side::Delivery,
        _ if plan.any(site, &plan.on_loop) || leads_in(plan, run) => Side::Beside,
        _ => Side::Off,
    }
}

/// Whether a run joins a header tank to the loop, which lies on no closed way.
fn leads_in(plan: &Plan, run: usize) -> bool {
    let own = plan.facts.runs[run].run;
    let on = |end: &RunEnd| match end {
        RunEnd::Tee { run, .. } => plan
            .facts
            .run(run)
            .is_some_and(|run| plan.any(Site::Run(run), &plan.on_loop)),
        RunEnd::Thing { .. } => plan
            .facts
            .end(end)
            .is_some_and(|(thing, _)| plan.any(Site::Thing(thing), &plan.on_loop)),
    };
    let tank = |end: &RunEnd| {
        plan.facts
            .end(end)
            .is_some_and(|(thing, _)| plan.has_header(thing))
    };
    (tank(&own.from) && on(&own.to)) || (tank(&own.to) && on(&own.from))
}

fn end(end: &RunEnd) -> String {
    match end {
        RunEnd::Thing {
            thing,
            spigot: Some(spigot),
        } => format!("{thing}.{spigot}"),
        RunEnd::Thing {
            thing,
            spigot: None,
        } => thing.clone(),
        RunEnd::Tee { run, piece } => format!("{run}.{piece}"),
    }
}
