//! PLY, as text or binary in either order of bytes. It says nothing of units.

use std::io::BufReader;

use ply_rs_bw::parser::{ParseError, Parser, Reader};
use ply_rs_bw::ply::{Property, PropertyAccess, PropertyAccessResult};

use super::{NOT_WHOLE, RawScan, Refused, fan, refused, room};

/// One element: a point or a face; what else it has is passed over.
#[derive(Debug)]
struct Element {
    at: [f64; 3],
    corners: Vec<u32>,
    /// A corner that no point can have: a negative one.
    odd: bool,
}

impl PropertyAccess for Element {
    fn new() -> Self {
        Self {
            at: [f64::NAN; 3],
            corners: Vec::new(),
            odd: false,
        }
    }

    fn set_property(&mut self, name: &str, property: Property) -> PropertyAccessResult {
        let [x, y, z] = &mut self.at;
        let part = match name {
            "x" => x,
            "y" => y,
            "z" => z,
            "vertex_indices" | "vertex_index" => {
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

pub(super) fn read(bytes: &[u8]) -> Result<RawScan, Refused> {
    let parser = Parser::<Element>::new();
    let mut reader = Reader::new(BufReader::new(bytes));
    let header = parser.read_header(&mut reader).map_err(broken)?;
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
            "tristrips" => strips = element.count > 0,
            _ => {}
        }
        let read = parser
            .read_payload_for_element(&mut reader, element, &header)
            .map_err(broken)?;
        match name.as_str() {
            "vertex" => scan.points = read.into_iter().map(|element| element.at).collect(),
            "face" => {
                for face in read {
                    if face.odd {
                        return Err(refused(
                            "a face in it names a point below 0",
                            "faces by the numbers of their points are expected",
                        ));
                    }
                    room(0, scan.triangles.len().saturating_add(face.corners.len()))?;
                    fan(&face.corners, &mut scan.triangles);
                }
            }
            _ => {}
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
