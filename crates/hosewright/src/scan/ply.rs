//! PLY, as text or binary in either order of bytes. It says nothing of units.

use std::io::BufReader;

use ply_rs_bw::parser::{ParseError, Parser, Reader};
use ply_rs_bw::ply::{Encoding, Property, PropertyAccess, PropertyAccessResult};

use super::{MAX_POINTS, NOT_WHOLE, RawScan, Refused, TOO_MANY, fan, refused, room};

/// One element: a point or a face; what else it has is passed over.
#[derive(Debug)]
struct Element {
    at: [f64; 3],
    corners: Vec<u32>,
    /// A corner that no point can have: a negative one.
    odd: bool,
    /// More corners than points are read.
    large: bool,
}

/// The longest head, and the longest line of a text [bytes].
const LONGEST: usize = 1_000_000;

/// Elements that are held at once.
const PORTION: usize = 4096;

/// How many numbers are in a list.
fn listed(property: &Property) -> usize {
    match property {
        Property::ListChar(list) => list.len(),
        Property::ListUChar(list) => list.len(),
        Property::ListShort(list) => list.len(),
        Property::ListUShort(list) => list.len(),
        Property::ListInt(list) => list.len(),
        Property::ListUInt(list) => list.len(),
        Property::ListFloat(list) => list.len(),
        Property::ListDouble(list) => list.len(),
        _ => 0,
    }
}

impl PropertyAccess for Element {
    fn new() -> Self {
        Self {
            at: [f64::NAN; 3],
            corners: Vec::new(),
            odd: false,
            large: false,
        }
    }

    fn set_property(&mut self, name: &str, property: Property) -> PropertyAccessResult {
        let [x, y, z] = &mut self.at;
        let part = match name {
            "x" => x,
            "y" => y,
            "z" => z,
            "vertex_indices" | "vertex_index" => {
                if listed(&property) > MAX_POINTS {
                    self.large = true;
                    return PropertyAccessResult::Set;
                }
                match property.to_u32_list() {
                    Some(corners) => self.corners = corners,
                    None => self.odd = true,
                }
                return PropertyAccessResult::Set;
            }
            _ => return PropertyAccessResult::Ignored,
        };
        match property {
            Property::Char(value) => *part = f64::from(value),
            Property::UChar(value) => *part = f64::from(value),
            Property::Short(value) => *part = f64::from(value),
            Property::UShort(value) => *part = f64::from(value),
            Property::Int(value) => *part = f64::from(value),
            Property::UInt(value) => *part = f64::from(value),
            Property::Float(value) => *part = f64::from(value),
            Property::Double(value) => *part = value,
            _ => return PropertyAccessResult::UnsupportedType,
        }
        PropertyAccessResult::Set
    }
}

fn broken(error: ParseError) -> Refused {
    let kind = error.kind();
    if kind == std::io::ErrorKind::UnexpectedEof {
        return refused("it ends in the middle", NOT_WHOLE);
    }
    let at = match error.line() {
        Some(line) => format!("line {line} of it can't be read"),
        None => "it can't be read".to_owned(),
    };
    refused(at, "PLY 1.0 with points and faces is expected")
}

/// Refuses a head and lines of a text that are longer than any: the reader holds each of them whole.
fn short(bytes: &[u8]) -> Result<(), Refused> {
    let head = bytes.get(..LONGEST).unwrap_or(bytes);
    let ends = |part: &[u8]| part.windows(END.len()).any(|word| word == END);
    if head.len() < bytes.len() && !ends(head) {
        return Err(refused(
            "its head does not end",
            "PLY 1.0 with points and faces is expected",
        ));
    }
    Ok(())
}

/// The last word of a head.
const END: &[u8] = b"end_header";

pub(super) fn read(bytes: &[u8]) -> Result<RawScan, Refused> {
    short(bytes)?;
    let parser = Parser::<Element>::new();
    let mut reader = Reader::new(BufReader::new(bytes));
    let header = parser.read_header(&mut reader).map_err(broken)?;
    let mut lines = bytes.split(|byte| *byte == b'\n');
    if header.encoding == Encoding::Ascii && lines.any(|line| line.len() > LONGEST) {
        return Err(refused(
            format!("a line of it has over {LONGEST} letters"),
            "a line a point or a face is expected",
        ));
    }
    let mut scan = RawScan::default();
    let mut strips = false;
    for (name, element) in &header.elements {
        if element.properties.is_empty() {
            return Err(refused(
                format!("its {name} have nothing to say"),
                "PLY 1.0 with points and faces is expected",
            ));
        }
        // Each takes a byte at least, so that a wrong count is found before anything is made of it.
        if element.count > bytes.len() {
            return Err(refused(
                format!("it says that it has {} of {name}", element.count),
                NOT_WHOLE,
            ));
        }
        match name.as_str() {
            "vertex" => {
                room(element.count, 0)?;
                let all = ["x", "y", "z"]
                    .iter()
                    .all(|part| element.properties.contains_key(*part));
                if !all {
                    return Err(refused(
                        "its points have no x, y and z",
                        "PLY 1.0 with points and faces is expected",
                    ));
                }
            }
            "face" => room(0, element.count)?,
            _ if element.count > MAX_POINTS => {
                return Err(refused(
                    format!(
                        "it says that it has {} of {name}, more than are read of anything",
                        element.count
                    ),
                    TOO_MANY,
                ));
            }
            "tristrips" => strips = element.count > 0,
            _ => {}
        }
        let mut left = element.count;
        while left > 0 {
            let mut portion = element.clone();
            portion.count = left.min(PORTION);
            left -= portion.count;
            let read = parser
                .read_payload_for_element(&mut reader, &portion, &header)
                .map_err(broken)?;
            match name.as_str() {
                "vertex" => scan.points.extend(read.iter().map(|element| element.at)),
                "face" => faces(&read, &mut scan.triangles)?,
                _ => {}
            }
        }
    }
    if strips && scan.triangles.is_empty() {
        return Err(refused(
            "its triangles stand in strips",
            "export it with faces, one by one",
        ));
    }
    Ok(scan)
}

fn faces(read: &[Element], triangles: &mut Vec<[u32; 3]>) -> Result<(), Refused> {
    for face in read {
        if face.odd {
            return Err(refused(
                "a face in it names a point below 0",
                "faces by the numbers of their points are expected",
            ));
        }
        if face.large {
            return room(0, usize::MAX);
        }
        room(0, triangles.len().saturating_add(face.corners.len()))?;
        fan(&face.corners, triangles);
    }
    Ok(())
}
