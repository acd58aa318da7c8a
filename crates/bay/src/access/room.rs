//! Without bodies or a scan: what a typed distance says of the tools, and which kind of clip can be worked.

use super::reach::{Outcome, Reach};
use super::tool::{Room, Tool, Works};

/// What the owner measured before the screw or over the ear: how far off the nearest thing is in the
/// tool's line, and how wide the room is across that line, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InFront {
    /// From the screw head, or from the hose's surface for a tool that comes from outside, m.
    pub length: f64,
    /// Across, m; `None` where nobody measured it: then only the length is judged.
    pub across: Option<f64>,
}

/// Whether a tool fits into the room that was typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Fits {
    /// The tool's name.
    pub tool: String,
    /// What it works.
    pub works: Works,
    /// The room that it wants.
    pub wants: Room,
    /// What is left of the length, m; negative where it lacks.
    pub left: f64,
    /// What is left across, m; `None` where that was not measured.
    pub left_across: Option<f64>,
}

impl Fits {
    /// Whether it fits as far as was measured.
    pub fn holds(&self) -> bool {
        self.left >= 0.0 && self.left_across.is_none_or(|left| left >= 0.0)
    }

    /// Whether both measures were there to judge by: else the width across settles it.
    pub fn is_settled(&self) -> bool {
        self.left < 0.0 || self.left_across.is_some()
    }
}

/// Which tools fit before the screw by length, and by width where it was measured. It says nothing of
/// other angles: a clip turned about the hose has another room before it.
pub fn room_in_front(room: InFront, tools: &[Tool]) -> Vec<Fits> {
    tools
        .iter()
        .map(|tool| {
            let wants = tool.room();
            Fits {
                tool: tool.name.clone(),
                works: tool.works,
                wants,
                left: room.length - wants.length,
                left_across: room.across.map(|across| across - wants.across),
            }
        })
        .collect()
}

/// Which of two kinds of clip can be worked in a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// Both.
    Both,
    /// Only the first.
    First,
    /// Only the second.
    Second,
    /// Neither.
    Neither,
    /// No tool for one of them was tried: nothing can be said.
    Untried(Works),
}

impl Better {
    /// A sentence for it, without the place.
    pub fn words(self, first: Works, second: Works) -> String {
        let (a, b) = (first.words(), second.words());
        match self {
            Self::Both => format!("a tool reaches {a} here, and one reaches {b}"),
            Self::First => format!("no tool reaches {b} here; take {a}, which can be worked"),
            Self::Second => format!("no tool reaches {a} here; take {b}, which can be worked"),
            Self::Neither => format!("no tool tried reaches {a} or {b} here"),
            Self::Untried(works) => format!("no tool for {} was tried here", works.words()),
        }
    }
}

/// Sets two kinds of clip beside each other by what the tools found: where ears can't be squeezed and a
/// screw can be turned, it says so.
pub fn better(reaches: &[Reach], first: Works, second: Works) -> Better {
    let state = |works: Works| {
        let mut tried = reaches
            .iter()
            .filter(|reach| reach.works == works && reach.outcome != Outcome::Spared)
            .peekable();
        tried.peek()?;
        Some(tried.any(|reach| reach.best().is_some()))
    };
    match (state(first), state(second)) {
        (None, _) => Better::Untried(first),
        (_, None) => Better::Untried(second),
        (Some(true), Some(true)) => Better::Both,
        (Some(true), Some(false)) => Better::First,
        (Some(false), Some(true)) => Better::Second,
        (Some(false), Some(false)) => Better::Neither,
    }
}
