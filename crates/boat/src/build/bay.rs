//! The bay, put into the model.

use super::{name, sub};
use crate::grammar;
use crate::model::{
    Bay, BayDroop, BayHatch, BayHose, BayLie, BayMouth, BayRoom, BayScan, BayShape, BaySupport,
    BayThing, BayTool, ScanKnown, ScanPair, Told,
};
use crate::value::{Node, Take};

/// `[bay]`. A name that can't be read was remarked on and is left out here.
pub(super) fn bay(node: &Node) -> Bay {
    let entries = |key: &str| sub(node, key).entries().iter();
    Bay {
        x: node.word("x"),
        hatch: node.get("hatch").map(|node| BayHatch {
            at: node.told("at"),
            size: all(node, "size"),
        }),
        hoses: entries("hoses")
            .map(|(key, node)| hose(key, node))
            .collect(),
        mouths: entries("mouths")
            .filter_map(|(key, node)| {
                Some(BayMouth {
                    key: key.clone(),
                    spot: grammar::spot(key).ok()?,
                    at: node.told("at"),
                    points: node.told("points"),
                })
            })
            .collect(),
        things: entries("things")
            .map(|(key, node)| BayThing {
                key: key.clone(),
                shape: shape(node),
                nature: node.word("nature"),
                keep: node.told("keep"),
                on: node.word("on"),
                of: name(node, "of"),
            })
            .collect(),
        scan: node.get("scan").map(scan),
        lies: entries("lies").map(|(key, node)| lie(key, node)).collect(),
        room: rooms(node),
        tools: entries("tools")
            .map(|(key, node)| BayTool {
                name: key.clone(),
                long: node.told("long"),
                round: node.told("round"),
            })
            .collect(),
    }
}

/// Rooms in front of screws, with their widths where those are told.
fn rooms(node: &Node) -> Vec<BayRoom> {
    let (ahead, across) = (sub(node, "room"), sub(node, "room_across"));
    let wide = |joint: &str| {
        let mut own = across.entries().iter().filter(|(key, _)| key == joint);
        own.next().map_or(Told::LeftOut, |(_, node)| node.as_told())
    };
    let only = across.entries().iter().filter(|(joint, _)| {
        let mut ahead = ahead.entries().iter();
        !ahead.any(|(key, _)| key == joint)
    });
    ahead
        .entries()
        .iter()
        .map(|(joint, node)| (joint, node.as_told()))
        .chain(only.map(|(joint, _)| (joint, Told::LeftOut)))
        .map(|(joint, free)| BayRoom {
            joint: joint.clone(),
            free,
            across: wide(joint),
        })
        .collect()
}

/// Every item of a list with its place in it, also those that are not known: the third stays the third.
fn all<T: Take>(node: &Node, key: &str) -> Vec<Told<T>> {
    let items = node.get(key).map_or(&[][..], Node::items);
    items.iter().map(Node::as_told).collect()
}

fn hose(key: &str, node: &Node) -> BayHose {
    let (size, build) =
        grammar::hose_name(key).map_or((None, None), |(size, build)| (Some(size), build));
    BayHose {
        key: key.to_owned(),
        size,
        build,
        droop: node.get("droop").map(|node| BayDroop {
            overhang: node.told("overhang"),
            drop: node.told("drop"),
            sample: node.told("sample"),
            weighs: node.told("weighs"),
        }),
        stiffness: node.told("stiffness"),
        least_radius: node.told("rmin"),
        radius_to: node.word("rmin_to"),
    }
}

/// The first shape of a thing; that there are several has a remark.
fn shape(node: &Node) -> Option<BayShape> {
    if let Some(node) = node.get("box") {
        return Some(BayShape::Box {
            from: node.told("from"),
            to: node.told("to"),
            turned: node.told("turned"),
        });
    }
    if let Some(node) = node.get("cylinder") {
        return Some(BayShape::Cylinder {
            from: node.told("from"),
            to: node.told("to"),
            across: node.told("across"),
        });
    }
    if let Some(node) = node.get("pipe") {
        return Some(BayShape::Pipe {
            along: all(node, "along"),
            across: node.told("across"),
        });
    }
    node.get("hull").map(|_| BayShape::Hull(all(node, "hull")))
}

fn scan(node: &Node) -> BayScan {
    let pairs = node.get("points").map_or(&[][..], Node::items);
    BayScan {
        file: node.told("file"),
        unit: node.word("unit"),
        known: node.get("known").map(|node| ScanKnown {
            from: node.told("from"),
            to: node.told("to"),
            length: node.told("length"),
        }),
        error: node.told("error"),
        behind: node.word("behind"),
        points: pairs
            .iter()
            .map(|node| ScanPair {
                scan: node.told("scan"),
                is: node.told("is"),
            })
            .collect(),
    }
}

fn lie(run: &str, node: &Node) -> BayLie {
    let supports = node.get("supports").map_or(&[][..], Node::items);
    BayLie {
        run: run.to_owned(),
        cut: all(node, "cut"),
        roll: sub(node, "roll")
            .entries()
            .iter()
            .map(|(piece, node)| (piece.clone(), node.as_told()))
            .collect(),
        supports: supports
            .iter()
            .map(|node| BaySupport {
                at: node.told("at"),
                after: node.told("after"),
            })
            .collect(),
        corners: all(node, "corners"),
    }
}
