//! Connects the stages: survey → circuit → shape → flow → fit, air, access → order, drain, build,
//! fill, prove, home. This file is the drawn order; so far survey, circuit, flow, fit and fill stand.

use std::collections::BTreeMap;
use std::sync::Arc;

use boat::{Arranged, Bay, BayLie, Boat, JointNote, Key, Survey, Told};
use quantity::Volume;

use crate::flow::{self, Flow};
use crate::job::{Job, Kept, as_found};
use crate::laid::{self, Desk, Droops, RawScan, ScanAsk};
use crate::loops;
use crate::memory::remembered;
use crate::pour;
use crate::screwed;
use crate::seed::hash_of;
use crate::spots;
use crate::stages::fill::{FillRow, Lows};
use crate::stages::fit::hoses::{self, StretchInput, StretchOutput};
use crate::stages::fit::{self, JointInput, JointOutput};
use crate::stages::route::{self, Route, RouteInput, ScanFact};
use crate::stages::survey::beside;
use crate::stages::survey::tape::{self, Surveyed, TapeInput, TapeOutput};
use crate::stages::types::{JointRow, Missing};
use crate::stages::{circuit, condition};
use crate::verdict::Verdict;

/// Which verdicts are wanted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Set {
    /// Those that follow an edit at once.
    Prompt,
    /// All, with sampled chances.
    #[default]
    All,
}

/// All that the answer depends on.
#[derive(Clone, Debug)]
pub struct Input<'a> {
    /// The boat as her file tells it.
    pub boat: &'a Boat,
    /// Which arrangement to judge; `None` for the one the job is about (`after` where there is one,
    /// else the file as it stands).
    pub arrangement: Option<&'a str>,
    /// Seed of all sampling.
    pub seed: u64,
    /// Which verdicts.
    pub set: Set,
    /// Flow and heat of this boat in this arrangement, where the caller has them from before; reckoned where not.
    pub flow: Option<Arc<Flow>>,
    /// Whether runs are laid in the bay too, and by which scan; `None` where nobody asks how they hang.
    pub bay: Option<BayAsk>,
}

/// What the bay is reckoned by, beside the file.
#[derive(Clone, Debug, Default)]
pub struct BayAsk {
    /// The scan that the file names, as it was read; `None` where none was.
    pub scan: Option<Arc<RawScan>>,
}

impl<'a> Input<'a> {
    /// All of the boat's verdicts in the arrangement that the job is about, but for the bay's.
    pub fn of(boat: &'a Boat) -> Self {
        Self {
            boat,
            arrangement: None,
            seed: 1,
            set: Set::All,
            flow: None,
            bay: None,
        }
    }
}

/// What was reckoned before, kept by the caller; keyed by the hash of a stage's input.
#[derive(Clone, Debug, Default)]
pub struct Memo {
    joints: BTreeMap<u64, JointOutput>,
    stretches: BTreeMap<u64, StretchOutput>,
    tapes: BTreeMap<u64, TapeOutput>,
    flows: Vec<RememberedFlow>,
    scans: BTreeMap<String, Result<ScanFact, Missing>>,
    routes: BTreeMap<u64, Arc<Route>>,
    hung: route::Known,
    droops: Droops,
}

/// Flow and heat of a boat as far as they read her, in one arrangement.
#[derive(Clone, Debug)]
struct RememberedFlow {
    boat: Boat,
    arrangement: Option<Key>,
    flow: Arc<Flow>,
}

/// Boats whose flow is kept: some arrangements, each before and after a change that is taken back.
const FLOWS: usize = 8;

/// How many answers are kept: some hundreds of edits' worth.
const KEPT: usize = 4096;
/// Scans that are kept.
const SCANS: usize = 2;
/// Bays that are kept: some arrangements, before and after a change.
const ROUTES: usize = 16;

impl Memo {
    pub(crate) fn joint(&mut self, input: &JointInput) -> JointOutput {
        remembered(&mut self.joints, KEPT, hash_of(input), || fit::joint(input))
    }

    pub(crate) fn stretch(&mut self, input: &StretchInput) -> StretchOutput {
        remembered(&mut self.stretches, KEPT, hash_of(input), || {
            hoses::find(input)
        })
    }

    pub(crate) fn tapes(&mut self, input: &TapeInput) -> TapeOutput {
        remembered(&mut self.tapes, KEPT, hash_of(input), || tape::judge(input))
    }

    /// The scan as laid in.
    fn scan(&mut self, ask: &ScanAsk) -> Result<ScanFact, Missing> {
        // A scan is large, and another place of a point lays it in anew.
        remembered(&mut self.scans, SCANS, ask.key(), || laid::lay(ask))
    }

    fn route(&mut self, key: u64, input: &RouteInput) -> Arc<Route> {
        let hung = &mut self.hung;
        remembered(&mut self.routes, ROUTES, key, || {
            Arc::new(route::lay(input, hung))
        })
    }

    /// Flow and heat; from before where nothing that they read has changed.
    fn flow(&mut self, boat: &Boat, arranged: &Arranged, name: Option<&str>) -> Arc<Flow> {
        let read = without_clips(boat);
        let known = self
            .flows
            .iter()
            .find(|known| known.arrangement.as_deref() == name && known.boat == read);
        if let Some(known) = known {
            return Arc::clone(&known.flow);
        }
        let flow = Arc::new(flow::of(boat, arranged, name));
        if self.flows.len() >= FLOWS {
            self.flows.remove(0);
        }
        self.flows.push(RememberedFlow {
            boat: read,
            arrangement: name.map(str::to_owned),
            flow: Arc::clone(&flow),
        });
        flow
    }
}

/// The boat without what neither a flow nor a temperature depends on: which clips she has, what was seen of her, what
/// things cost and where they were taped or lie. Most edits are about these.
fn without_clips(boat: &Boat) -> Boat {
    let mut read = boat.clone();
    read.seen.clear();
    read.prices.clear();
    read.survey = Survey::default();
    // Of the bay, only how long its hoses are cut.
    let lies = std::mem::take(&mut read.bay.lies);
    read.bay = Bay {
        lies: lies
            .into_iter()
            .map(|lie| BayLie {
                run: lie.run,
                cut: lie.cut,
                ..BayLie::default()
            })
            .collect(),
        ..Bay::default()
    };
    read.stock.clips.clear();
    read.stock.aboard.clear();
    for joint in &mut read.joints {
        joint.clip = Told::LeftOut;
        joint.clips = Told::LeftOut;
        joint.clip_kind = Told::LeftOut;
        joint.trial_fit = Told::LeftOut;
        joint.ring_on_first = Told::LeftOut;
    }
    read.joints.retain(|joint| {
        *joint
            != JointNote {
                joint: joint.joint.clone(),
                ..JointNote::default()
            }
    });
    read
}

/// The whole answer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answer {
    /// The arrangement that was judged; `None` for the file as it stands.
    pub arrangement: Option<Key>,
    /// Every verdict, in the order of the job, then of the file.
    pub verdicts: Vec<Verdict>,
    /// One row a joint, in the order of the file and of flow.
    pub joints: Vec<JointRow>,
    /// The figures of the filling; `None` where the file says nothing of coolant.
    pub fill: Option<FillRow>,
    /// Where the spigots are, where the file has a survey by tape.
    pub surveyed: Option<Surveyed>,
    /// Flow and heat; `None` of no boat at all.
    pub flow: Option<Arc<Flow>>,
    /// The bay; `None` where the file says nothing of it.
    pub route: Option<Arc<Route>>,
}

/// The mark of each run: those of the file as they stand, free letters for the rest.
pub fn marks(boat: &Boat) -> Vec<(Key, String)> {
    circuit::marks(boat)
}

/// Reckons the whole answer.
pub fn reckon(input: &Input, memo: &mut Memo) -> Answer {
    let has = |name: &&str| {
        input
            .boat
            .arrangements
            .iter()
            .any(|step| step.key == **name)
    };
    let name = input.arrangement.or(Some("after")).filter(has);
    let Some(arranged) = input
        .boat
        .arranged(name)
        .or_else(|| input.boat.arranged(None))
    else {
        return Answer::default();
    };
    // Tapes were read of the boat as she lies, whichever arrangement is asked about.
    let taped = memo.tapes(&spots::of(input.boat));
    let mut verdicts = taped.verdicts;
    if let Some(found) = input.boat.arranged(None) {
        verdicts.extend(condition::judge(&as_found(&found.boat)));
    }
    verdicts.extend(beside::judge(&arranged));
    let mut job = Job::of(&arranged, input);
    let has_bay = input.bay.is_some() && laid::is_told(input.boat);
    if has_bay {
        job.kept = Some(Kept::default());
    }
    job.verdicts = loops::verdicts(input.boat, &arranged, name);
    let used = !arranged.boat.states.is_empty();
    let known = input.flow.clone();
    let flow = known.unwrap_or_else(|| memo.flow(input.boat, &arranged, name));
    if used {
        job.verdicts.extend(flow.verdicts.iter().cloned());
    }
    let marks = circuit::marks(input.boat);
    for run in &arranged.boat.runs {
        let mark = marks.iter().find(|(key, _)| *key == run.key);
        job.run(run, mark.map_or("", |(_, mark)| mark), memo);
    }
    for thing in &arranged.boat.things {
        job.thing(thing);
        job.verdicts.extend(screwed::thing(&arranged, thing));
    }
    let droops = std::mem::take(&mut memo.droops);
    let route = has_bay.then(|| {
        let desk = Desk {
            base: input.boat,
            arranged: &arranged,
            name,
            kept: job.kept.as_ref().unwrap_or(&NOTHING_KEPT),
            rows: &job.rows,
            marks: &marks,
            surveyed: taped.surveyed.as_ref(),
            states: &flow.row.states,
            scan: input.bay.as_ref().and_then(|bay| bay.scan.as_ref()),
            droops: &droops,
        };
        bay(&desk, input.set, memo)
    });
    memo.droops = droops;
    verdicts.extend(job.verdicts);
    if let Some(route) = &route {
        verdicts.extend(route.verdicts.iter().cloned());
    }
    let lows = route.as_deref().and_then(Route::lows);
    let lows = lows.map(|(volume, runs)| Lows {
        volume: Volume::of_si(volume),
        runs,
    });
    let fill = pour::of_boat(&arranged, lows);
    let fill = fill.map(|fill| {
        verdicts.extend(fill.verdicts);
        fill.row
    });
    Answer {
        arrangement: name.map(str::to_owned),
        verdicts,
        joints: job.rows,
        fill,
        surveyed: taped.surveyed,
        flow: Some(flow),
        route,
    }
}

/// What stands where nothing was kept of the joints.
static NOTHING_KEPT: Kept = Kept {
    joints: Vec::new(),
    hoses: Vec::new(),
};

/// The bay of one arrangement; its scan is laid in once for all of them.
fn bay(desk: &Desk, set: Set, memo: &mut Memo) -> Arc<Route> {
    let mut input = laid::of(desk, set == Set::All);
    let mut key = format!("{input:?}");
    if let Some(asked) = desk.scan(&input.mouths) {
        let laid = asked.and_then(|ask| {
            key.push_str(&ask.key());
            input.around_key ^= hash_of(&ask.key());
            memo.scan(&ask)
        });
        match laid {
            Ok(scan) => input.scan = Some(scan),
            Err(missing) => input.scan_missing = Some(missing),
        }
    }
    memo.route(hash_of(&key), &input)
}
