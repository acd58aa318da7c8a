//! The survey by tape, put into the model.

use super::sub;
use crate::grammar;
use crate::model::{Pin, SideNote, Slope, SpotLength, Survey, Tape};
use crate::value::Node;

/// `[survey]`. A name that can't be read was remarked on and is left out here.
pub(super) fn survey(node: &Node) -> Survey {
    let lengths = |key: &str| {
        sub(node, key)
            .entries()
            .iter()
            .filter_map(|(key, node)| {
                Some(SpotLength {
                    key: key.clone(),
                    spot: grammar::spot(key).ok()?,
                    length: node.as_told(),
                })
            })
            .collect()
    };
    Survey {
        pins: sub(node, "pins")
            .entries()
            .iter()
            .map(|(key, node)| Pin {
                name: key.clone(),
                height: node.told("h"),
                on: node.told("on"),
            })
            .collect(),
        tapes: sub(node, "tapes")
            .entries()
            .iter()
            .filter_map(|(key, node)| {
                let (from, to) = grammar::tape(key).ok()?;
                Some(Tape {
                    key: key.clone(),
                    from,
                    to,
                    length: node.as_told(),
                })
            })
            .collect(),
        dowels: lengths("dowels"),
        heights: lengths("heights"),
        slopes: sub(node, "slopes")
            .entries()
            .iter()
            .filter_map(|(key, node)| {
                let (from, to) = grammar::tape(key).ok()?;
                Some(Slope {
                    key: key.clone(),
                    from,
                    to,
                    rises: node.as_told(),
                })
            })
            .collect(),
        sides: sub(node, "side")
            .entries()
            .iter()
            .filter_map(|(key, node)| {
                Some(SideNote {
                    key: key.clone(),
                    spot: grammar::spot(key).ok()?,
                    says: node.as_told(),
                })
            })
            .collect(),
    }
}
