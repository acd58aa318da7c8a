//! Text in; model, places and remarks out.

use toml::de::DeTable;

use crate::build;
use crate::check;
use crate::keys::ROOT;
use crate::model::Boat;
use crate::places::{Places, spigot_path};
use crate::remark::{Code, Remark};
use crate::walk::Walk;

/// Reads a boat file. There is always a boat, as much of her as can be read; what can't be read has
/// a remark. Remarks come in the order of the file.
pub fn read(text: &str) -> (Boat, Places, Vec<Remark>) {
    let (file, errors) = DeTable::parse_recoverable(text);
    let mut walk = Walk::new(text, file.get_ref());
    let broken = !errors.is_empty();
    let mut bad_lines = Vec::new();
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        let span = span.start.min(text.len())..span.end.min(text.len());
        let line = walk.places.position_of(span.start).line;
        bad_lines.push(line);
        // A second fault of the syntax on one line is an echo of the first.
        if bad_lines.iter().filter(|bad| **bad == line).count() == 1 {
            walk.remark(Code::Syntax, span, "", sentence(error.message()), None);
        }
    }
    let syntax = std::mem::take(&mut walk.remarks);
    let node = walk.table(&ROOT, file.get_ref(), "", 0..0);
    let mut boat = build::boat(&node);
    for thing in &boat.things {
        let both = spigot_path(&thing.key, "both");
        if walk.places.has(&both) {
            for name in ["a", "b"] {
                walk.places.alias(&both, &spigot_path(&thing.key, name));
            }
        }
    }
    check::check(&mut walk, &mut boat);
    let Walk {
        places,
        mut remarks,
        ..
    } = walk;
    if broken {
        // Behind a broken line much seems to be missing that stands there.
        let follows = |code| {
            matches!(
                code,
                Code::MissingKey
                    | Code::UnknownReference
                    | Code::UnknownJoint
                    | Code::NoSpigot
                    | Code::VersionMissing
            )
        };
        remarks.retain(|remark| {
            // What the parser made up to go on stands nowhere.
            !follows(remark.code)
                && !remark.span.is_empty()
                && !bad_lines.contains(&places.position_of(remark.span.start).line)
        });
    }
    remarks.extend(syntax);
    remarks.sort_by_key(|remark| (remark.span.start, remark.span.end, remark.code));
    remarks.dedup();
    (boat, places, remarks)
}

/// The first sentence of a message of the TOML library.
fn sentence(message: &str) -> String {
    let line = message.lines().next().unwrap_or_default().trim();
    if line.is_empty() {
        "this is no TOML".to_owned()
    } else {
        format!("this is no TOML: {line}")
    }
}
