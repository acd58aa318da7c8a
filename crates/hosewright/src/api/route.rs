//! The runs as they hang and the clips as tools reach them, as `route --json` sends them.

use schemars::JsonSchema;
use serde::Serialize;

use super::bay::P3;
use super::{About, Grade, Remark, Summary, Text, Verdict};

/// See [`super::CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[allow(missing_docs)]
pub enum RouteSchema {
    #[serde(rename = "hosewright.route/1")]
    V1,
}

/// What `route --json` prints. Places in metres: x and y as `axes` says, z up from today's waterline.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Route {
    /// Name and version of this document's form.
    pub schema: RouteSchema,
    /// What was laid.
    #[serde(flatten)]
    pub about: About,
    /// How many verdicts of each grade.
    pub summary: Summary,
    /// Faults of the file; none of them is a stop.
    pub remarks: Vec<Remark>,
    /// Where x and y point.
    pub axes: [String; 2],
    /// Runs that could be laid.
    pub runs: Vec<RouteRun>,
    /// Their clips.
    pub clips: Vec<RouteClip>,
    /// Runs that could not.
    pub missing: Vec<RouteMissing>,
    /// An order in which every clip is reached; null where none was reckoned or none exists.
    pub order: Option<Vec<String>>,
    /// Hoses that block one another; empty where an order exists.
    pub blocked: Vec<String>,
    /// The verdicts about routes.
    pub verdicts: Vec<Verdict>,
}

/// One run.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RouteRun {
    /// Its key.
    pub run: String,
    /// Its letter.
    pub mark: String,
    /// For people.
    pub title: String,
    /// The worst of its verdicts.
    pub grade: Grade,
    /// Its pieces in order of flow.
    pub parts: Vec<RoutePart>,
    /// Least radius of its bends, to the centre line [m].
    pub least_radius: Option<f64>,
    /// Where that is.
    pub least_at: Option<P3>,
    /// What it comes nearest to.
    pub gap: Option<RouteGap>,
    /// What else there is to tell.
    pub facts: Vec<RouteFact>,
}

/// One piece.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RoutePart {
    /// Its key.
    pub key: String,
    /// Whether it bends.
    pub bends: bool,
    /// Its centre line.
    pub line: Vec<P3>,
    /// Half its outside diameter [m].
    pub radius: f64,
    /// For people.
    pub title: String,
    /// How long a hose is cut [m].
    pub cut: Option<f64>,
    /// Least and greatest cut length at which every rule holds [m], where that was searched.
    pub window: Option<[f64; 2]>,
}

/// A gap.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RouteGap {
    /// Between the surfaces [m].
    pub gap: f64,
    /// To what.
    pub with: String,
    /// On the hose.
    pub from: P3,
    /// On the other.
    pub to: P3,
    /// For people.
    pub text: Text,
}

/// A name with words.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RouteFact {
    /// What it is.
    pub name: String,
    /// For people.
    pub text: Text,
}

/// One clip.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RouteClip {
    /// Its joint.
    pub joint: String,
    /// Which of the clips there, from the hose's end on: 1 is the first.
    pub nth: u32,
    /// How many clips there are.
    pub of: u32,
    /// Its mark.
    pub mark: String,
    /// For people.
    pub title: String,
    /// The worst of its verdicts.
    pub grade: Grade,
    /// The middle of its band.
    pub at: P3,
    /// The tool to take.
    pub tool: Option<String>,
    /// The clock position in words.
    pub clock: Option<String>,
    /// Free arcs of the clock, from noon clockwise as seen from the open end of the spigot [degrees].
    pub free: Vec<[f64; 2]>,
    /// In one sentence.
    pub text: Text,
}

/// A run that was not laid.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RouteMissing {
    /// Its key.
    pub run: String,
    /// Its letter.
    pub mark: String,
    /// Why.
    pub why: String,
    /// Which value of the file would settle it.
    pub place: String,
    /// What to measure.
    pub settles: String,
}

impl Route {
    /// As it is sent.
    pub fn of(
        route: reckon::Route,
        (about, summary, remarks): (About, Summary, Vec<Remark>),
        verdicts: Vec<Verdict>,
    ) -> Self {
        let (order, blocked) = match route.order {
            Some(reckon::LayOrder::Works(order)) => (Some(order), Vec::new()),
            Some(reckon::LayOrder::Blocked(blocked)) => (None, blocked),
            None => (None, Vec::new()),
        };
        Self {
            schema: RouteSchema::V1,
            about,
            summary,
            remarks,
            axes: route.axes,
            runs: route.runs.into_iter().map(RouteRun::of).collect(),
            clips: route.clips.into_iter().map(RouteClip::of).collect(),
            missing: route.missing.into_iter().map(RouteMissing::of).collect(),
            order,
            blocked,
            verdicts,
        }
    }
}

impl RouteRun {
    fn of(run: reckon::LaidRun) -> Self {
        let reckon::LaidRun {
            run,
            mark,
            title,
            grade,
            parts,
            up: _,
            down: _,
            bend,
            gap,
            highs: _,
            lows: _,
            facts,
        } = run;
        Self {
            run,
            mark,
            title,
            grade: grade.into(),
            parts: parts.into_iter().map(RoutePart::of).collect(),
            least_radius: bend.as_ref().map(|bend| bend.radius),
            least_at: bend.map(|bend| bend.at),
            gap: gap.map(|gap| {
                let reckon::LeastGap {
                    from,
                    to,
                    gap,
                    with,
                    text,
                } = gap;
                RouteGap {
                    gap,
                    with,
                    from,
                    to,
                    text: text.into(),
                }
            }),
            facts: facts
                .into_iter()
                .map(|(name, text)| RouteFact {
                    name,
                    text: text.into(),
                })
                .collect(),
        }
    }
}

impl RoutePart {
    fn of(part: reckon::LaidPart) -> Self {
        let reckon::LaidPart {
            key,
            bends,
            line,
            radius,
            title,
            cut,
            cut_text: _,
            window_text: _,
            window,
        } = part;
        Self {
            key,
            bends,
            line,
            radius,
            title,
            cut,
            window: window.map(|(low, high)| [low, high]),
        }
    }
}

impl RouteClip {
    fn of(clip: reckon::LaidClip) -> Self {
        let reckon::LaidClip {
            joint,
            nth,
            of,
            mark,
            title,
            grade,
            at,
            half: _,
            axis: _,
            noon: _,
            radius: _,
            screw: _,
            clock,
            tool,
            way: _,
            free,
            moments: _,
            text,
        } = clip;
        Self {
            joint,
            nth,
            of,
            mark,
            title,
            grade: grade.into(),
            at,
            tool,
            clock,
            free: free.into_iter().map(|(from, to)| [from, to]).collect(),
            text: text.into(),
        }
    }
}

impl RouteMissing {
    fn of(missing: reckon::NotLaid) -> Self {
        let reckon::NotLaid {
            run,
            mark,
            why,
            short: _,
            settles,
        } = missing;
        Self {
            run,
            mark,
            why,
            place: settles.place,
            settles: settles.how,
        }
    }
}
