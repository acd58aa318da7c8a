//! STL, binary or as text. It says nothing of units, and each face has points of its own, which
//! are made one where they are alike to the last bit.

use std::collections::HashMap;
use std::io::Cursor;

use super::{NOT_WHOLE, RawScan, Refused, number, refused, room};

/// Before the number of faces stand 80 bytes that say nothing certain.
const HEAD: usize = 80;

/// Bytes a face: twelve numbers of four bytes, and two bytes that say nothing certain.
const FACE: usize = 50;

pub(super) fn read(bytes: &[u8]) -> Result<RawScan, Refused> {
    let says = bytes
        .get(HEAD..HEAD + 4)
        .and_then(|four| four.try_into().ok())
        .map(|four| u32::from_le_bytes(four) as usize);
    let due = says.and_then(|faces| faces.checked_mul(FACE)?.checked_add(HEAD + 4));
    // Binary files may begin with the word too: the right length tells.
    let text = bytes.trim_ascii_start().starts_with(b"solid") && due != Some(bytes.len());
    if text {
        return faces(as_expected(bytes)?);
    }
    let (Some(says), Some(due)) = (says, due) else {
        return Err(refused(
            format!("it has {} bytes", bytes.len()),
            "STL is expected, which has more",
        ));
    };
    room(0, says)?;
    if bytes.len() < due {
        return Err(refused(
            format!(
                "it says that it has {says} faces, and has {}",
                bytes.len().saturating_sub(HEAD + 4) / FACE
            ),
            NOT_WHOLE,
        ));
    }
    let mut head = bytes.to_vec();
    // So that the word is not taken for that of a text.
    if let Some(first) = head.first_mut() {
        *first = b' ';
    }
    faces(head)
}

/// A text with one solid, a name after the word, and no directions of faces: several are made one,
/// and directions are not looked at, which some programs write as no numbers.
fn as_expected(bytes: &[u8]) -> Result<Vec<u8>, Refused> {
    let text = String::from_utf8_lossy(bytes);
    let mut out = String::from("solid one\n");
    let (mut begun, mut ended, mut begun_faces) = (0, 0, 0);
    for line in text.lines() {
        let line = line.trim();
        match line.split_whitespace().next() {
            Some("solid") => begun += 1,
            Some("endsolid") => ended += 1,
            Some("facet") => {
                begun_faces += 1;
                room(0, begun_faces)?;
                out.push_str("facet normal 0 0 0\n");
            }
            Some(_) => {
                out.push_str(line);
                out.push('\n');
            }
            None => {}
        }
    }
    if begun != ended {
        return Err(refused("it ends before the end of a solid", NOT_WHOLE));
    }
    out.push_str("endsolid one\n");
    Ok(out.into_bytes())
}

fn faces(bytes: Vec<u8>) -> Result<RawScan, Refused> {
    let broken = |error: std::io::Error| {
        if error.kind() == std::io::ErrorKind::UnexpectedEof {
            return refused("it ends in the middle", NOT_WHOLE);
        }
        refused(
            format!("a face of it can't be read ({error})"),
            "STL with three points a face is expected",
        )
    };
    let mut source = Cursor::new(bytes);
    let reader = stl_io::create_stl_reader(&mut source).map_err(broken)?;
    let mut scan = RawScan::default();
    let mut known: HashMap<[u32; 3], u32> = HashMap::new();
    for face in reader {
        let face = face.map_err(broken)?;
        room(0, scan.triangles.len() + 1)?;
        let mut corners = [0; 3];
        for (corner, point) in corners.iter_mut().zip(face.vertices) {
            // Adding 0 makes one of the two noughts, which are one place.
            let point = point.0.map(|part| part + 0.0);
            let next = number(scan.points.len())?;
            *corner = *known.entry(point.map(f32::to_bits)).or_insert(next);
            if *corner == next {
                scan.points.push(point.map(f64::from));
            }
        }
        scan.triangles.push(corners);
    }
    Ok(scan)
}
