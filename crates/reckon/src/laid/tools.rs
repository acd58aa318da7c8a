//! The tools at hand: those of the trade, with the owner's own measures where there are some.

use bay::access::{Approach, Part, Tool, Works};
use boat::BayTool;
use quantity::Quantity;

/// The usual tools with the owner's lengths in them, and the owner's others as drivers. What bends comes last.
pub(super) fn of(own: &[BayTool]) -> Vec<Tool> {
    let mut tools = bay::access::usual();
    for told in own {
        let (Some(long), Some(round)) = (told.long.given(), told.round.given()) else {
            continue;
        };
        let (long, round) = (long.value.si(), round.value.si());
        match tools.iter_mut().find(|tool| is_named(tool, &told.name)) {
            Some(tool) => *tool = tool.measuring(long, round),
            None => tools.push(driver(&told.name, long, round)),
        }
    }
    tools.sort_by_key(Tool::bends);
    tools
}

/// Whether a tool is called so; capitals don't count.
fn is_named(tool: &Tool, name: &str) -> bool {
    tool.name.eq_ignore_ascii_case(name.trim())
}

/// How long the hand about a driver's handle is [m]. Common practice, no source.
const HANDLE: f64 = 0.1;

/// A driver of the owner's: over all, with the hand, and the room round its handle [m].
fn driver(name: &str, long: f64, round: f64) -> Tool {
    let blade = (long - HANDLE).max(0.1 * long);
    Tool {
        name: name.to_owned(),
        works: Works::Screw,
        approach: Approach::Screw {
            parts: vec![
                Part::reaching(0.008, blade, 0.004),
                Part::reaching(blade, long, round / 2.0),
            ],
            tilt: 5.0_f64.to_radians(),
        },
        rise: bay::access::SCREW_RISE,
        source: "as written".into(),
    }
}
