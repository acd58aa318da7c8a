//! Texts of the bay: `forward 20 up`, `38 epdm`, the file of a scan.

use quantity::{Angle, Kind, NominalSize, Unit};

use crate::model::{Direction, Facing, Heading, HoseBuild, Tilt};
use crate::remark::{Code, Fault, Faulty};
use crate::scan::Scan;
use crate::words::Word;

/// The directions of a heading: all but `across`, which is two.
pub(crate) fn headings() -> impl Iterator<Item = (Direction, &'static str)> {
    let words = Direction::CHOICES.iter().zip(Direction::LIST.printed());
    words
        .map(|(direction, word)| (*direction, word))
        .filter(|(direction, _)| *direction != Direction::Across)
}

fn direction(scan: &mut Scan) -> Result<Direction, Fault> {
    let before = scan.clone();
    match scan.word::<Direction>() {
        Some(direction) if direction != Direction::Across => Ok(direction),
        _ => {
            *scan = before;
            Err(scan.no_word("direction", headings().map(|(_, word)| word)))
        }
    }
}

/// Reads a heading: `forward 20 up`.
pub(crate) fn heading(text: &str) -> Faulty<Heading> {
    read_heading(text).map_err(|fault| {
        vec![if fault.expected.is_none() {
            fault.expecting("forward 20 up")
        } else {
            fault
        }]
    })
}

fn read_heading(text: &str) -> Result<Heading, Fault> {
    let mut scan = Scan::new(text, 0..text.len());
    let first = direction(&mut scan)?;
    let mut tilts = Vec::new();
    while !scan.is_done() {
        let bit = scan.next_bit();
        let begin = bit.start;
        let read = scan.read(bit.clone());
        let by = quantity::parse::<Angle>(read, Unit::find(Kind::Angle, "°"))
            .map_err(|error| Fault::from(error).moved(begin))?;
        if !(by.to_degrees() > 0.0 && by.to_degrees() <= 90.0) {
            let message = format!("{read} is no angle of a tilt: one is over 0° and at most 90°");
            return Err(Fault::new(Code::BadQuantity, bit, message));
        }
        scan.eat(read);
        scan.eat_word(&["degrees", "deg"]);
        let towards = direction(&mut scan)?;
        tilts.push(Tilt { by, towards });
        let heading = Heading::Words {
            first,
            tilts: tilts.clone(),
        };
        // Whether it can be turned so does not depend on where x points.
        if heading.unit(Facing::Forward).is_none() {
            let message = format!(
                "“{}” lies on the line along which it points already; a tilt leads off it",
                &text[begin..scan.at()]
            );
            return Err(Fault::new(Code::BadForm, begin..scan.at(), message));
        }
    }
    Ok(Heading::Words { first, tilts })
}

/// Reads which hose a name speaks of: `38 epdm`, `1 1/4 in`.
pub(crate) fn hose_name(text: &str) -> Result<(NominalSize, Option<HoseBuild>), Fault> {
    let mut scan = Scan::new(text, 0..text.len());
    let read = |scan: &mut Scan| {
        let size = scan.size("a hose")?;
        let build = if scan.is_done() {
            None
        } else {
            Some(scan.due_word::<HoseBuild>()?)
        };
        if scan.is_done() {
            Ok((size, build))
        } else {
            Err(scan.left_over("the hose"))
        }
    };
    read(&mut scan).map_err(|mut fault| {
        fault.code = Code::BadName;
        if fault.expected.is_none() {
            fault.expecting("38 epdm")
        } else {
            fault
        }
    })
}

/// The endings of the files in which a scan may stand.
pub(crate) const SCAN_FILES: [&str; 5] = ["glb", "gltf", "obj", "ply", "stl"];

/// Reads the file of a scan, which lies in the boat's own folder or below.
pub(crate) fn scan_file(text: &str) -> Faulty<String> {
    let bad = |message: String| {
        Err(vec![
            Fault::new(Code::BadName, 0..text.len(), message).expecting("bay.glb"),
        ])
    };
    let named = |part: &str| {
        let plain = |c: char| !c.is_control() && !"\\:*?\"<>|".contains(c);
        !part.is_empty() && part.trim() == part && !part.starts_with('.') && part.chars().all(plain)
    };
    if !text.split('/').all(named) {
        return bad(format!(
            "“{text}” leads out of the boat's folder; a scan lies beside the boat file, or in a folder there"
        ));
    }
    let ending = text.rsplit_once('.').map(|(_, ending)| ending);
    let known = ending.is_some_and(|ending| {
        SCAN_FILES
            .iter()
            .any(|known| known.eq_ignore_ascii_case(ending))
    });
    if !known {
        return bad(format!(
            "“{text}” is no scan by its ending: glb, gltf, obj, ply and stl are read"
        ));
    }
    Ok(text.to_owned())
}

/// Whether the file of a scan may be called so.
pub fn is_scan_file(name: &str) -> bool {
    scan_file(name).is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_are_read() {
        let read = |text: &str| match heading(text).unwrap() {
            Heading::Words { first, tilts } => (first, tilts),
            Heading::Along(_) => unreachable!(),
        };
        assert_eq!(read("aft"), (Direction::Aft, vec![]));
        let tilt = |by: f64, towards| Tilt {
            by: Angle::degrees(by),
            towards,
        };
        assert_eq!(
            read("Forward 20 up"),
            (Direction::Forward, vec![tilt(20.0, Direction::Up)])
        );
        assert_eq!(
            read("port 12.5° down 90 deg aft"),
            (
                Direction::Port,
                vec![tilt(12.5, Direction::Down), tilt(90.0, Direction::Aft)]
            )
        );
    }

    #[test]
    fn what_is_no_heading_is_refused() {
        let said = |text: &str| heading(text).unwrap_err().remove(0).message;
        assert_eq!(
            said("forwrd 20 up"),
            "“forwrd” is no direction; did you mean forward?"
        );
        assert_eq!(said("across"), "“across” is no direction");
        assert_eq!(
            said("forward 20"),
            "a direction is due, but it ends after “forward 20”"
        );
        assert_eq!(
            said("forward 120 up"),
            "120 is no angle of a tilt: one is over 0° and at most 90°"
        );
        assert_eq!(
            said("forward 20 aft"),
            "“20 aft” lies on the line along which it points already; a tilt leads off it"
        );
        assert!(heading("forward 90 up 10 down").is_err());
        assert!(heading("").is_err());
    }

    #[test]
    fn hoses_and_files_have_names() {
        assert_eq!(
            hose_name("38 epdm").unwrap(),
            (NominalSize::mm(38), Some(HoseBuild::Epdm))
        );
        assert_eq!(hose_name("16").unwrap(), (NominalSize::mm(16), None));
        for fails in ["", "epdm", "38 epdn", "38 epdm x"] {
            assert!(hose_name(fails).is_err(), "{fails}");
        }
        for fits in ["bay.glb", "scans/Bay 2.PLY", "bay.v2.stl"] {
            assert!(scan_file(fits).is_ok(), "{fits}");
        }
        for fails in [
            "/etc/bay.glb",
            "../bay.glb",
            "a/../bay.glb",
            "a//bay.glb",
            "C:\\bay.glb",
            "a\\bay.glb",
            ".glb",
            "bay",
            "bay.txt",
            "",
            " bay.glb",
        ] {
            assert!(scan_file(fails).is_err(), "{fails}");
        }
    }
}
