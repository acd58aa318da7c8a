//! Whether and where about the hose each tool reaches a clip.

use std::cell::{Cell, RefCell};
use std::f64::consts::TAU;

use super::arc::{Arc, Fineness, Look, sweep, union, widest};
use super::bent::{Bender, Shaft};
use super::local::{Local, Met, Obstacle};
use super::pose::{Cap, Housing, Stand, Way, legs, poses, straight};
use super::tool::{Approach, Tool, Works};
use crate::Vec3;
use crate::clock::ClipFrame;

/// A clip on a hose.
#[derive(Clone, Debug, PartialEq)]
pub struct Clip {
    /// Its place, axis and nought.
    pub frame: ClipFrame,
    /// Outside diameter of the hose under it, m.
    pub od: f64,
    /// The housing of its screw, which must find room too; `None` where only the tool counts.
    pub housing: Option<Housing>,
    /// What closes it: no other tool counts where it is asked whether any of several reaches it. `None`
    /// where every tool put to it counts.
    pub works: Option<Works>,
}

impl Clip {
    /// Whether a tool closes it.
    pub fn takes(&self, tool: &Tool) -> bool {
        self.works.is_none_or(|works| works == tool.works)
    }
}

/// Which tools are swept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// Every one.
    Every,
    /// A flexible driver only where no other tool reaches that works the same clips.
    FlexibleLast,
}

/// How the sweep is made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct How {
    /// How finely.
    pub fineness: Fineness,
    /// Over which tools.
    pub which: Which,
}

impl Default for How {
    fn default() -> Self {
        Self {
            fineness: Fineness::default(),
            which: Which::FlexibleLast,
        }
    }
}

/// One way of a tool and the arcs in which it is free.
#[derive(Clone, Debug, PartialEq)]
pub struct WayFree {
    /// The way.
    pub way: Way,
    /// The free arcs.
    pub free: Vec<Arc>,
}

impl WayFree {
    /// How far one may be off an angle (rad) either way, rad: infinite where nothing is in the way all round; `None`
    /// where it is not free.
    pub fn slack_at(&self, angle: f64) -> Option<f64> {
        let slack = self.free.iter().filter_map(|arc| arc.within(angle));
        slack.reduce(f64::max)
    }
}

/// The place to choose for a screw or an ear.
#[derive(Clone, Debug, PartialEq)]
pub struct Best {
    /// In which way the tool comes.
    pub way: Way,
    /// The middle of the widest free arc, or where else it was set, rad.
    pub angle: f64,
    /// The free arc about it, as far to either side as to its nearer end.
    pub arc: Arc,
    /// The tool as it then lies, from the clip to the hand.
    pub caps: Vec<Cap>,
}

impl Best {
    /// How far one may be off either way, rad.
    pub fn slack(&self) -> f64 {
        self.arc.slack()
    }

    /// Where the hand is, m: the far end of the tool.
    pub fn hand(&self) -> Option<Vec3> {
        self.caps.last().map(|cap| cap.b)
    }

    /// From the clip to the hand: the side from which the tool comes.
    pub fn comes_from(&self) -> Option<Vec3> {
        let first = self.caps.first()?.a;
        Some(self.hand()? - first)
    }
}

/// What a tool finds.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// It reaches.
    Reached(Best),
    /// It reaches nowhere; the numbers of the obstacles it met, the most frequent first.
    Blocked {
        /// The numbers.
        by: Vec<usize>,
    },
    /// It was not tried, since an easier tool reaches.
    Spared,
}

/// One tool at one clip.
#[derive(Clone, Debug, PartialEq)]
pub struct Reach {
    /// The tool's name.
    pub tool: String,
    /// What it works.
    pub works: Works,
    /// Each way with its free arcs.
    pub ways: Vec<WayFree>,
    /// The arcs free in any way.
    pub free: Vec<Arc>,
    /// What came of it.
    pub outcome: Outcome,
}

impl Reach {
    /// The place to choose, if the tool reaches.
    pub fn best(&self) -> Option<&Best> {
        match &self.outcome {
            Outcome::Reached(best) => Some(best),
            _ => None,
        }
    }

    /// The names of what blocks where nothing is free.
    pub fn blocked_by<'a>(&self, obstacles: &[Obstacle<'a>]) -> Vec<&'a str> {
        match &self.outcome {
            Outcome::Blocked { by } => by
                .iter()
                .filter_map(|n| obstacles.get(*n))
                .map(|obstacle| obstacle.name)
                .collect(),
            _ => Vec::new(),
        }
    }
}

/// Sweeps each tool about the clip. The answers stand in the order of `tools`. A tool that bends is
/// searched among families of bends: see [`Approach::Bent`]; for it an arc narrower than the step may be
/// missed.
pub fn reach(clip: &Clip, tools: &[Tool], obstacles: &[Obstacle<'_>], how: How) -> Vec<Reach> {
    let local = local(clip, tools, obstacles);
    let count = obstacles.len();
    let mut found: Vec<Option<Reach>> = tools
        .iter()
        .map(|tool| {
            let later = how.which == Which::FlexibleLast && tool.bends();
            (!later).then(|| one(clip, tool, &local, count, how.fineness))
        })
        .collect();
    for (n, tool) in tools.iter().enumerate() {
        if found.get(n).is_some_and(Option::is_some) {
            continue;
        }
        let easier = found
            .iter()
            .flatten()
            .any(|reach| reach.works == tool.works && reach.best().is_some());
        let reach = if easier {
            Reach {
                tool: tool.name.clone(),
                works: tool.works,
                ways: Vec::new(),
                free: Vec::new(),
                outcome: Outcome::Spared,
            }
        } else {
            one(clip, tool, &local, count, how.fineness)
        };
        if let Some(slot) = found.get_mut(n) {
            *slot = Some(reach);
        }
    }
    found.into_iter().flatten().collect()
}

/// Whether any of the tools that close the clip reaches it, asked no further than the first free angle.
pub fn reaches(
    clip: &Clip,
    tools: &[Tool],
    obstacles: &[Obstacle<'_>],
    fineness: Fineness,
) -> bool {
    let local = local(clip, tools, obstacles);
    let count = (TAU / fineness.step.clamp(1e-3, 1.0)).ceil() as usize;
    let mut looks: Vec<(Probe<'_, '_>, Way)> = Vec::new();
    for tool in tools.iter().filter(|tool| clip.takes(tool)) {
        for way in Way::of(tool) {
            looks.push((Probe::new(clip, tool, &local, fineness), *way));
        }
    }
    let first = looks.iter_mut().any(|(probe, way)| {
        (0..count).any(|n| probe.look(*way, TAU * n as f64 / count as f64).0.is_free())
    });
    first
        || looks.iter_mut().any(|(probe, way)| {
            let free = Cell::new(false);
            sweep(fineness, |angle| {
                // Once one is found, everything else is left unasked.
                if free.get() {
                    return Look::Free { sure: TAU };
                }
                let look = probe.look(*way, angle).0;
                free.set(look.is_free());
                look
            });
            free.get()
        })
}

/// The obstacles numbered `fixed` and up that stand in the tools' way where nothing fixed does: those
/// whose going would open some angle. Looked at by the step; of a lever or a bent shaft only the part in
/// line with the screw is looked at.
pub fn in_the_way(
    clip: &Clip,
    tools: &[Tool],
    obstacles: &[Obstacle<'_>],
    fixed: usize,
    step: f64,
) -> Vec<usize> {
    let local = local(clip, tools, obstacles);
    let count = (TAU / step.clamp(1e-3, 1.0)).ceil() as usize;
    let mut found = std::collections::BTreeSet::new();
    for tool in tools.iter().filter(|tool| clip.takes(tool)) {
        for way in Way::of(tool) {
            for n in 0..count {
                let angle = TAU * n as f64 / count as f64;
                let stand = Stand::new(tool, &clip.frame, clip.od, *way, angle);
                let housing = housing(clip, tool, angle);
                for mut caps in all_poses(tool, &stand) {
                    caps.extend(&housing);
                    let met = local.all_met(&caps);
                    if met.iter().all(|number| *number >= fixed) {
                        found.extend(met);
                    }
                }
            }
        }
    }
    found.into_iter().collect()
}

/// The tool as it lies free at some angles: empty where it does not.
pub(super) fn lying(
    clip: &Clip,
    tool: &Tool,
    obstacles: &[Obstacle<'_>],
    fineness: Fineness,
) -> impl FnMut(Way, f64) -> Vec<Cap> {
    let local = local(clip, std::slice::from_ref(tool), obstacles);
    move |way, angle| Probe::new(clip, tool, &local, fineness).caps(way, angle)
}

/// The tool as it lies at an angle where it and the clip's housing are free; `None` where they are not.
pub(super) fn lying_free(
    clip: &Clip,
    tool: &Tool,
    obstacles: &[Obstacle<'_>],
    (way, angle): (Way, f64),
    fineness: Fineness,
) -> Option<Vec<Cap>> {
    let local = local(clip, std::slice::from_ref(tool), obstacles);
    let mut probe = Probe::new(clip, tool, &local, fineness);
    let free = probe.look(way, angle).0.is_free();
    free.then(|| probe.caps(way, angle))
        .filter(|caps| !caps.is_empty())
}

fn local<'o>(clip: &Clip, tools: &[Tool], obstacles: &[Obstacle<'o>]) -> Local<'o> {
    let reach = tools.iter().map(farthest).fold(0.0, f64::max);
    let housing = clip.housing.map_or(0.0, |h| h.height + h.length + h.width);
    Local::new(&clip.frame, obstacles, clip.od / 2.0 + reach.max(housing))
}

/// No part of a tool lies farther than this from the hose's surface beside the clip, m.
fn farthest(tool: &Tool) -> f64 {
    let room = tool.room();
    let more = match &tool.approach {
        Approach::Screw { parts, .. } => parts.iter().map(|part| part.aside).fold(0.0, f64::max),
        Approach::Bent {
            length,
            handle,
            handle_radius,
            ..
        } => length + handle + 2.0 * handle_radius,
        Approach::Beside { height, .. } => *height,
        _ => 0.0,
    };
    // A radian more than the farthest arm's half step is never asked about.
    1.1 * (tool.rise + room.length + room.across + more)
}

fn one(clip: &Clip, tool: &Tool, local: &Local<'_>, count: usize, fineness: Fineness) -> Reach {
    let met = RefCell::new(vec![0_u32; count]);
    let mut probe = Probe::new(clip, tool, local, fineness);
    let ways: Vec<WayFree> = Way::of(tool)
        .iter()
        .map(|way| WayFree {
            way: *way,
            free: sweep(fineness, |angle| {
                let (look, number) = probe.look(*way, angle);
                if let Some(number) = number
                    && let Some(slot) = met.borrow_mut().get_mut(number)
                {
                    *slot += 1;
                }
                look
            }),
        })
        .collect();
    let free = union(ways.iter().map(|way| way.free.as_slice()));
    let best = ways
        .iter()
        .filter_map(|way| Some((way.way, widest(&way.free)?)))
        .fold(None, |best: Option<(Way, Arc)>, next| match best {
            // What differs by no more than the ends' own error is equal: the first stands.
            Some(best) if best.1.width() + 4.0 * fineness.ends >= next.1.width() => Some(best),
            _ => Some(next),
        });
    let outcome = match best {
        Some((way, arc)) => {
            let angle = arc.middle();
            Outcome::Reached(Best {
                way,
                angle,
                arc,
                caps: probe.caps(way, angle),
            })
        }
        None => {
            let met = met.into_inner();
            let mut by: Vec<usize> = (0..count).filter(|n| met.get(*n) > Some(&0)).collect();
            by.sort_by_key(|n| std::cmp::Reverse(met.get(*n).copied()));
            Outcome::Blocked { by }
        }
    };
    Reach {
        tool: tool.name.clone(),
        works: tool.works,
        ways,
        free,
        outcome,
    }
}

/// How many directions of a lever are told apart: at 5° the tips of neighbours overlap.
const LEVERS: usize = 72;

/// What a look finds, with the number of an obstacle met.
type Found = Result<f64, Met>;

/// One tool being put to one clip.
struct Probe<'a, 'l> {
    clip: &'a Clip,
    tool: &'a Tool,
    local: &'l Local<'l>,
    bender: Option<Bender<'l, 'l>>,
    most: f64,
}

impl<'a, 'l> Probe<'a, 'l> {
    fn new(clip: &'a Clip, tool: &'a Tool, local: &'l Local<'l>, fineness: Fineness) -> Self {
        let bender = match &tool.approach {
            Approach::Bent {
                length,
                radius,
                least_bend,
                handle,
                handle_radius,
                ..
            } => Some(Bender::new(
                local,
                Shaft {
                    length: *length,
                    radius: *radius,
                    least_bend: *least_bend,
                    handle: *handle,
                    handle_radius: *handle_radius,
                },
            )),
            _ => None,
        };
        Self {
            clip,
            tool,
            local,
            bender,
            // Two neighbours a step apart then always meet half way.
            most: 0.51 * fineness.step,
        }
    }

    fn look(&mut self, way: Way, angle: f64) -> (Look, Option<usize>) {
        let found = self.found(way, angle);
        (found.into(), found.err().map(|met| met.number))
    }

    fn found(&mut self, way: Way, angle: f64) -> Found {
        let stand = Stand::new(self.tool, &self.clip.frame, self.clip.od, way, angle);
        let housing = housing(self.clip, self.tool, angle);
        let base = self.local.all_free(&housing, self.most)?;
        let free = match &self.tool.approach {
            Approach::Screw { parts, tilt } => self.leaning(&stand, parts, *tilt)?,
            Approach::Swing {
                parts,
                at,
                lever,
                radius,
                arc,
            } => {
                let inner: Vec<Cap> = parts.iter().map(|part| stand.part(part)).collect();
                let inner = self.local.all_free(&inner, self.most)?;
                let lever = |n: usize| lever_cap(&stand, *at, *lever, *radius, n);
                inner.min(self.swinging(lever, *arc)?)
            }
            Approach::Bent { straight, .. } => {
                let first = stand.part(straight);
                self.local.free(&first, self.most)?;
                let found = self
                    .bender
                    .as_mut()
                    .and_then(|bender| bender.find(&stand, straight.to));
                if found.is_none() {
                    return Err(Met {
                        number: self.local.last_met().unwrap_or(usize::MAX),
                        sure: self.most,
                    });
                }
                self.most
            }
            Approach::Radial { .. } | Approach::Beside { .. } => {
                self.local.all_free(&rigid(self.tool, &stand), self.most)?
            }
        };
        Ok(base.min(free))
    }

    /// A straight tool, leant if upright it is not free.
    fn leaning(&self, stand: &Stand, parts: &[super::tool::Part], tilt: f64) -> Found {
        let mut blocked: Option<Met> = None;
        for n in 0..poses(parts, tilt) {
            match self
                .local
                .all_free(&straight(stand, parts, tilt, n), self.most)
            {
                Ok(sure) => return Ok(sure),
                Err(met) => {
                    let sure = blocked.map_or(met.sure, |before| before.sure.min(met.sure));
                    blocked = Some(Met { sure, ..met });
                }
            }
        }
        blocked.map_or(Ok(self.most), Err)
    }

    /// A lever that must find an arc of neighbouring free directions.
    fn swinging(&self, lever: impl Fn(usize) -> Cap, arc: f64) -> Found {
        let run = ((arc / (TAU / LEVERS as f64) - 1e-9).ceil() as usize + 1).min(LEVERS);
        let mut blocked: Option<Met> = None;
        let mut begin = 0;
        'runs: while begin < LEVERS {
            let mut sure = self.most;
            for n in (begin..begin + run).rev() {
                match self.local.free(&lever(n % LEVERS), self.most) {
                    Ok(one) => sure = sure.min(one),
                    Err(met) => {
                        let least = blocked.map_or(met.sure, |before| before.sure.min(met.sure));
                        blocked = Some(Met { sure: least, ..met });
                        begin = n + 1;
                        continue 'runs;
                    }
                }
            }
            return Ok(sure);
        }
        blocked.map_or(Ok(self.most), Err)
    }

    /// The tool as it lies free at an angle; empty where it does not.
    fn caps(&mut self, way: Way, angle: f64) -> Vec<Cap> {
        let stand = Stand::new(self.tool, &self.clip.frame, self.clip.od, way, angle);
        match &self.tool.approach {
            Approach::Bent { straight, .. } => {
                let mut caps = vec![stand.part(straight)];
                if let Some(bender) = &mut self.bender {
                    caps.extend(bender.find(&stand, straight.to).into_iter().flatten());
                }
                caps
            }
            Approach::Swing {
                parts,
                at,
                lever,
                radius,
                ..
            } => {
                let mut caps: Vec<Cap> = parts.iter().map(|part| stand.part(part)).collect();
                caps.extend(
                    (0..LEVERS)
                        .map(|n| lever_cap(&stand, *at, *lever, *radius, n))
                        .find(|cap| self.local.free(cap, 0.0).is_ok()),
                );
                caps
            }
            _ => all_poses(self.tool, &stand)
                .into_iter()
                .find(|caps| self.local.all_free(caps, 0.0).is_ok())
                .unwrap_or_default(),
        }
    }
}

fn lever_cap(stand: &Stand, at: f64, lever: f64, radius: f64, n: usize) -> Cap {
    let root = stand.origin + stand.line * at;
    Cap {
        a: root,
        b: root + stand.across(n, LEVERS) * lever,
        radius,
    }
}

fn housing(clip: &Clip, tool: &Tool, angle: f64) -> Vec<Cap> {
    match (&clip.housing, tool.works) {
        (Some(housing), Works::Screw) => housing.caps(&clip.frame, clip.od, angle),
        _ => Vec::new(),
    }
}

/// A tool of one pose, radial or beside the hose.
fn rigid(tool: &Tool, stand: &Stand) -> Vec<Cap> {
    // Radial tools count from the hose's surface, where their stand begins.
    let (parts, pair, opens) = match &tool.approach {
        Approach::Radial { parts, legs } => (parts, legs.as_ref(), stand.out),
        Approach::Beside { parts, legs, .. } => (parts, Some(legs), stand.side),
        _ => return Vec::new(),
    };
    let mut caps: Vec<Cap> = parts.iter().map(|part| stand.part(part)).collect();
    caps.extend(pair.into_iter().flat_map(|pair| legs(stand, pair, opens)));
    caps
}

/// Every pose of the tool's rigid parts.
fn all_poses(tool: &Tool, stand: &Stand) -> Vec<Vec<Cap>> {
    match &tool.approach {
        Approach::Screw { parts, tilt } => (0..poses(parts, *tilt))
            .map(|n| straight(stand, parts, *tilt, n))
            .collect(),
        Approach::Swing { parts, .. } => vec![parts.iter().map(|part| stand.part(part)).collect()],
        Approach::Bent { straight, .. } => vec![vec![stand.part(straight)]],
        Approach::Radial { .. } | Approach::Beside { .. } => vec![rigid(tool, stand)],
    }
}
