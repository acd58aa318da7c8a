//! glTF 2.0, as JSON with buffers beside it or as one binary file. Its unit is the metre.
//!
//! Source: glTF 2.0 specification (ISO/IEC 12113:2022), sections 3.4 (units), 3.5 (nodes), 3.6
//! (buffers, accessors), 3.7 (meshes) and 4 (binary form). Morphs, skins and cameras are no part of
//! a scan and are not looked at.

use gltf::json;
use json::accessor::{ComponentType, Type};
use json::mesh::{Mode, Primitive, Semantic};
use json::validation::Checked;

use super::place::Place;
use super::{
    Beside, MAX_BYTES, MAX_POINTS, NOT_WHOLE, RawScan, Refused, TOO_MANY, fan, fits, number,
    refused, room,
};

/// Which extensions a file may ask for that do not change where its points are.
const HARMLESS: [&str; 6] = [
    "KHR_materials_",
    "KHR_texture_",
    "KHR_lights_",
    "KHR_xmp",
    "EXT_texture_",
    "EXT_lights_",
];

/// Whole numbers as coordinates, which are read.
const QUANTISED: &str = "KHR_mesh_quantization";

/// Parts of the names of extensions that squeeze a mesh.
const SQUEEZES: [&str; 3] = ["draco", "meshopt", "compression"];

/// The most signs of its JSON that are no text in quotes: each part of a scene takes some, and is held in a hundred
/// times as many bytes.
const SIGNS: usize = 2_000_000;

/// The most parts of a scene that are looked at, each as often as it is shown.
const PARTS: usize = 200_000;

pub(super) fn read(bytes: &[u8], beside: Beside<'_>) -> Result<RawScan, Refused> {
    let (text, binary) = if bytes.starts_with(b"glTF") {
        chunks(bytes)?
    } else {
        (bytes, None)
    };
    simple(text)?;
    let root = json::Root::from_slice(text).map_err(|error| {
        refused(
            format!("its JSON can't be read ({error})"),
            "glTF 2.0 is expected",
        )
    })?;
    if !root.asset.version.starts_with("2.") {
        let found = format!("it is glTF of version {}", root.asset.version);
        return Err(refused(found, "glTF 2.0 is expected"));
    }
    for name in &root.extensions_required {
        let lower = name.to_ascii_lowercase();
        if SQUEEZES.iter().any(|part| lower.contains(part)) {
            return Err(refused(
                format!("its mesh is compressed ({name})"),
                "export it without compression",
            ));
        }
        let known = name == QUANTISED || HARMLESS.iter().any(|begin| name.starts_with(begin));
        if !known {
            return Err(refused(
                format!("it asks for {name}, which is not read"),
                "export it as plain glTF 2.0",
            ));
        }
    }
    let scene = Scene {
        buffers: buffers(&root, binary, beside)?,
        root: &root,
    };
    let mut scan = RawScan {
        unit: Some(1.0),
        ..RawScan::default()
    };
    let mut parts = 0;
    for (node, place) in scene.placed()? {
        if let Some(mesh) = node.mesh {
            let mesh = root
                .meshes
                .get(mesh.value())
                .ok_or_else(|| missing("mesh"))?;
            for primitive in &mesh.primitives {
                parts += 1;
                if parts > PARTS {
                    let found = format!("over {PARTS} parts are in it, the most that are read");
                    return Err(refused(found, TOO_MANY));
                }
                scene.primitive(primitive, &place, &mut scan)?;
            }
        }
    }
    Ok(scan)
}

/// Refuses a JSON of more parts than a scan has: it is read whole.
fn simple(text: &[u8]) -> Result<(), Refused> {
    let (mut signs, mut quoted, mut escaped) = (0_usize, false, false);
    for byte in text {
        match byte {
            _ if escaped => escaped = false,
            b'\\' if quoted => escaped = true,
            b'"' => {
                quoted = !quoted;
                signs += 1;
            }
            _ if quoted || byte.is_ascii_whitespace() => {}
            _ => signs += 1,
        }
    }
    if signs > SIGNS {
        return Err(refused(
            "its JSON tells of more parts than are read",
            "let the scanning program or a mesh program make one part of it",
        ));
    }
    Ok(())
}

fn missing(what: &str) -> Refused {
    refused(
        format!("a {what} is named in it that is not there"),
        NOT_WHOLE,
    )
}

/// The JSON and the binary part of a binary file.
fn chunks(bytes: &[u8]) -> Result<(&[u8], Option<&[u8]>), Refused> {
    let word = |at: usize| {
        let four = bytes.get(at..at.checked_add(4)?)?;
        Some(u32::from_le_bytes(four.try_into().ok()?))
    };
    let cut = || refused("it ends in the middle", NOT_WHOLE);
    let version = word(4).ok_or_else(cut)?;
    if version != 2 {
        return Err(refused(
            format!("it is binary glTF of version {version}"),
            "glTF 2.0 is expected",
        ));
    }
    let long = word(8).ok_or_else(cut)? as usize;
    if long > bytes.len() {
        return Err(refused(
            format!("it says that it has {long} bytes, and has {}", bytes.len()),
            NOT_WHOLE,
        ));
    }
    let mut at = 12;
    let (mut text, mut binary) = (None, None);
    while at < long {
        let size = word(at).ok_or_else(cut)? as usize;
        let kind = word(at + 4).ok_or_else(cut)?;
        let begin = at + 8;
        let end = begin.checked_add(size).ok_or_else(cut)?;
        let chunk = bytes.get(begin..end).ok_or_else(cut)?;
        match kind {
            // “JSON” and “BIN”, as little-endian words; chunks of other kinds are to be passed over.
            0x4E4F_534A if text.is_none() => text = Some(chunk),
            0x004E_4942 if binary.is_none() => binary = Some(chunk),
            _ => {}
        }
        at = end.checked_next_multiple_of(4).ok_or_else(cut)?;
    }
    let text = text.ok_or_else(|| refused("it has no JSON part", "glTF 2.0 is expected"))?;
    Ok((text, binary))
}

/// The bytes of one buffer.
#[derive(Debug)]
enum Bytes<'a> {
    Here(&'a [u8]),
    Beside(Vec<u8>),
}

impl Bytes<'_> {
    fn all(&self) -> &[u8] {
        match self {
            Self::Here(bytes) => bytes,
            Self::Beside(bytes) => bytes,
        }
    }
}

fn buffers<'a>(
    root: &json::Root,
    binary: Option<&'a [u8]>,
    beside: Beside<'_>,
) -> Result<Vec<Bytes<'a>>, Refused> {
    let mut all = Vec::new();
    let mut total: u64 = 0;
    for (i, buffer) in root.buffers.iter().enumerate() {
        let bytes = match (&buffer.uri, binary) {
            (None, Some(binary)) if i == 0 => Bytes::Here(binary),
            (None, _) => return Err(refused("a buffer of it has no bytes", NOT_WHOLE)),
            (Some(uri), _) => match uri.strip_prefix("data:") {
                Some(data) => Bytes::Beside(of_data(data)?),
                None => {
                    let name = unescaped(uri);
                    let bytes = beside(&name).ok_or_else(|| {
                        refused(
                            format!("its points stand in {name}, which is not there"),
                            "put that file beside it, or export it as one .glb",
                        )
                    })?;
                    Bytes::Beside(bytes)
                }
            },
        };
        total = total.saturating_add(bytes.all().len() as u64);
        if total > MAX_BYTES {
            fits(total)?;
        }
        all.push(bytes);
    }
    Ok(all)
}

/// What a name in a URI says.
fn unescaped(uri: &str) -> String {
    let bytes = uri.as_bytes();
    let mut out = Vec::with_capacity(bytes.len());
    let mut at = 0;
    while let Some(byte) = bytes.get(at) {
        let escaped = (*byte == b'%')
            .then(|| uri.get(at + 1..at + 3))
            .flatten()
            .and_then(|hex| u8::from_str_radix(hex, 16).ok());
        out.push(escaped.unwrap_or(*byte));
        at += if escaped.is_some() { 3 } else { 1 };
    }
    String::from_utf8_lossy(&out).into_owned()
}

/// The bytes of a data URI in base 64 (RFC 4648, section 4).
fn of_data(data: &str) -> Result<Vec<u8>, Refused> {
    let broken = || refused("a buffer in it is not written in base 64", NOT_WHOLE);
    let (kind, text) = data.split_once(',').ok_or_else(broken)?;
    if !kind.ends_with(";base64") {
        return Err(broken());
    }
    let mut out = Vec::with_capacity(text.len() / 4 * 3);
    let (mut held, mut bits) = (0_u32, 0);
    for byte in text.trim_end_matches('=').bytes() {
        let six = match byte {
            b'A'..=b'Z' => byte - b'A',
            b'a'..=b'z' => byte - b'a' + 26,
            b'0'..=b'9' => byte - b'0' + 52,
            b'+' => 62,
            b'/' => 63,
            _ => return Err(broken()),
        };
        held = (held << 6 | u32::from(six)) & 0xFFFF;
        bits += 6;
        if bits >= 8 {
            bits -= 8;
            out.push((held >> bits & 0xFF) as u8);
        }
    }
    Ok(out)
}

struct Scene<'a> {
    root: &'a json::Root,
    buffers: Vec<Bytes<'a>>,
}

impl<'a> Scene<'a> {
    /// Every node that is seen, with where it stands.
    fn placed(&self) -> Result<Vec<(&'a json::Node, Place)>, Refused> {
        let nodes = &self.root.nodes;
        let scene = match self.root.scene {
            Some(scene) => Some(
                self.root
                    .scenes
                    .get(scene.value())
                    .ok_or_else(|| missing("scene"))?,
            ),
            None => self.root.scenes.first(),
        };
        let mut stack: Vec<(usize, Place)> = match scene {
            Some(scene) => scene
                .nodes
                .iter()
                .map(|node| (node.value(), Place::SAME))
                .collect(),
            None => {
                let inner: Vec<usize> = nodes
                    .iter()
                    .flat_map(|node| node.children.iter().flatten())
                    .map(|node| node.value())
                    .collect();
                let inner: std::collections::BTreeSet<usize> = inner.into_iter().collect();
                (0..nodes.len())
                    .filter(|node| !inner.contains(node))
                    .map(|node| (node, Place::SAME))
                    .collect()
            }
        };
        stack.reverse();
        let mut seen = vec![false; nodes.len()];
        let mut placed = Vec::new();
        while let Some((at, outer)) = stack.pop() {
            let (Some(node), Some(seen)) = (nodes.get(at), seen.get_mut(at)) else {
                return Err(missing("node"));
            };
            // A node has one parent: one that comes again would go round for ever.
            if std::mem::replace(seen, true) {
                return Err(refused(
                    "a part of its scene stands in itself or in two others",
                    "export it again",
                ));
            }
            let place = outer.around(&of_node(node));
            let inner = node.children.iter().flatten().rev();
            stack.extend(inner.map(|child| (child.value(), place)));
            placed.push((node, place));
        }
        Ok(placed)
    }

    fn primitive(
        &self,
        primitive: &Primitive,
        place: &Place,
        scan: &mut RawScan,
    ) -> Result<(), Refused> {
        let mode = match primitive.mode {
            Checked::Valid(mode) => mode,
            Checked::Invalid => return Err(refused("a mesh in it is of no known kind", NOT_WHOLE)),
        };
        if !matches!(
            mode,
            Mode::Triangles | Mode::TriangleStrip | Mode::TriangleFan
        ) {
            // Points and lines of a scene are no surface.
            return Ok(());
        }
        let positions = primitive
            .attributes
            .iter()
            .find(|(name, _)| **name == Checked::Valid(Semantic::Positions))
            .map(|(_, accessor)| accessor.value())
            .ok_or_else(|| refused("a mesh in it has no points", NOT_WHOLE))?;
        let begin = number(scan.points.len())?;
        let count = self.count(positions)?;
        room(scan.points.len().saturating_add(count), 0)?;
        self.triples(positions, |point| scan.points.push(place.of(point)))?;
        let corners = match primitive.indices {
            Some(accessor) => self.numbers(accessor.value())?,
            None => (0..number(count)?).collect(),
        };
        if corners.iter().any(|corner| *corner as usize >= count) {
            return Err(refused(
                "a face in it names a point that is not there",
                NOT_WHOLE,
            ));
        }
        let mut faces: Vec<[u32; 3]> = Vec::new();
        match mode {
            Mode::TriangleStrip => {
                for (i, three) in corners.windows(3).enumerate() {
                    if let [a, b, c] = three {
                        faces.push(if i % 2 == 0 {
                            [*a, *b, *c]
                        } else {
                            [*b, *a, *c]
                        });
                    }
                }
            }
            Mode::TriangleFan => fan(&corners, &mut faces),
            _ if corners.len() % 3 != 0 => {
                let found = format!("{} corners of triangles are in a mesh", corners.len());
                return Err(refused(found, "three a triangle are expected"));
            }
            _ => faces.extend(corners.chunks_exact(3).filter_map(|three| match three {
                [a, b, c] => Some([*a, *b, *c]),
                _ => None,
            })),
        }
        room(0, scan.triangles.len().saturating_add(faces.len()))?;
        let mirrors = place.mirrors();
        // Every corner is below the number of points, which was held against the most that are read.
        scan.triangles.extend(faces.into_iter().map(|[a, b, c]| {
            let [a, b, c] = [a, b, c].map(|corner| corner.saturating_add(begin));
            if mirrors { [a, c, b] } else { [a, b, c] }
        }));
        Ok(())
    }

    fn accessor(&self, index: usize) -> Result<&'a json::Accessor, Refused> {
        let accessor = self.root.accessors.get(index);
        accessor.ok_or_else(|| missing("list of numbers"))
    }

    fn count(&self, accessor: usize) -> Result<usize, Refused> {
        let count = self.accessor(accessor)?.count.0;
        usize::try_from(count).map_err(|_| refused("a list in it is too long", NOT_WHOLE))
    }

    /// The bytes of an accessor from its first element on, its step and its kind of number.
    fn bytes(&self, index: usize, parts: usize) -> Result<Elements<'_>, Refused> {
        let accessor = self.accessor(index)?;
        if accessor.sparse.is_some() {
            return Err(refused(
                "a mesh in it is written as changes to another (sparse)",
                "export it as plain glTF 2.0",
            ));
        }
        let Checked::Valid(json::accessor::GenericComponentType(kind)) = accessor.component_type
        else {
            return Err(refused("numbers in it are of no known kind", NOT_WHOLE));
        };
        let view = accessor
            .buffer_view
            .ok_or_else(|| {
                refused(
                    "numbers of a mesh are left out of it, as they are of a compressed one",
                    "export it without compression",
                )
            })
            .and_then(|view| {
                let view = self.root.buffer_views.get(view.value());
                view.ok_or_else(|| missing("stretch of bytes"))
            })?;
        let buffer = self
            .buffers
            .get(view.buffer.value())
            .ok_or_else(|| missing("buffer"))?;
        let cut = || refused("it ends before the last number of a mesh", NOT_WHOLE);
        let whole = |number: u64| usize::try_from(number).map_err(|_| cut());
        let begin = whole(view.byte_offset.map_or(0, |offset| offset.0))?;
        let end = begin
            .checked_add(whole(view.byte_length.0)?)
            .ok_or_else(cut)?;
        let bytes = buffer.all().get(begin..end).ok_or_else(cut)?;
        let offset = whole(accessor.byte_offset.map_or(0, |offset| offset.0))?;
        let bytes = bytes.get(offset..).ok_or_else(cut)?;
        let size = parts * kind.size();
        let step = view.byte_stride.as_ref().map_or(size, |stride| stride.0);
        if step < size {
            return Err(refused("numbers in it overlap", NOT_WHOLE));
        }
        let count = self.count(index)?;
        if let Some(before) = count.checked_sub(1) {
            let needed = before
                .checked_mul(step)
                .and_then(|needed| needed.checked_add(size));
            if needed.is_none_or(|needed| needed > bytes.len()) {
                return Err(cut());
            }
        }
        Ok(Elements {
            bytes,
            step,
            size,
            count,
            kind,
            normalized: accessor.normalized,
        })
    }

    /// Three numbers an element, as they are meant.
    fn triples(&self, index: usize, mut each: impl FnMut([f64; 3])) -> Result<(), Refused> {
        if self.accessor(index)?.type_ != Checked::Valid(Type::Vec3) {
            return Err(refused(
                "points of a mesh are not three numbers each",
                "glTF 2.0 is expected",
            ));
        }
        let elements = self.bytes(index, 3)?;
        for element in elements.each() {
            let mut parts = element.chunks_exact(elements.kind.size());
            let mut next = || {
                parts
                    .next()
                    .and_then(|part| value(elements.kind, part, elements.normalized))
                    // OK because an element has three parts of its kind, and one that is no number is refused at the end.
                    .unwrap_or(f64::NAN)
            };
            each([next(), next(), next()]);
        }
        Ok(())
    }

    /// Whole numbers, one an element.
    fn numbers(&self, index: usize) -> Result<Vec<u32>, Refused> {
        // Before anything is made of them: each may take no more than a byte in the file.
        if self.count(index)? > MAX_POINTS {
            return room(0, usize::MAX).map(|()| Vec::new());
        }
        let elements = self.bytes(index, 1)?;
        if self.accessor(index)?.type_ != Checked::Valid(Type::Scalar) {
            return Err(refused("faces of a mesh are no plain numbers", NOT_WHOLE));
        }
        let odd = || {
            refused(
                "faces of a mesh are not counted in whole numbers",
                NOT_WHOLE,
            )
        };
        elements
            .each()
            .map(|element| match elements.kind {
                ComponentType::U8 => element.first().map(|byte| u32::from(*byte)),
                ComponentType::U16 => Some(u32::from(u16::from_le_bytes(element.try_into().ok()?))),
                ComponentType::U32 => Some(u32::from_le_bytes(element.try_into().ok()?)),
                _ => None,
            })
            .map(|number| number.ok_or_else(odd))
            .collect()
    }
}

/// The elements of one accessor.
struct Elements<'a> {
    bytes: &'a [u8],
    step: usize,
    size: usize,
    count: usize,
    kind: ComponentType,
    normalized: bool,
}

impl<'a> Elements<'a> {
    fn each(&self) -> impl Iterator<Item = &'a [u8]> + use<'a> {
        let (bytes, step, size) = (self.bytes, self.step, self.size);
        // No product overflows, as that of the last element was made before.
        (0..self.count).filter_map(move |i| bytes.get(i * step..i * step + size))
    }
}

/// One number of a point. Whole numbers are themselves, or shares of the largest one where the file
/// says so (specification, section 3.6.2.2).
fn value(kind: ComponentType, bytes: &[u8], normalized: bool) -> Option<f64> {
    let (value, most) = match kind {
        ComponentType::F32 => return Some(f64::from(f32::from_le_bytes(bytes.try_into().ok()?))),
        ComponentType::I8 => (f64::from(i8::from_le_bytes(bytes.try_into().ok()?)), 127.0),
        ComponentType::U8 => (f64::from(u8::from_le_bytes(bytes.try_into().ok()?)), 255.0),
        ComponentType::I16 => (
            f64::from(i16::from_le_bytes(bytes.try_into().ok()?)),
            32_767.0,
        ),
        ComponentType::U16 => (
            f64::from(u16::from_le_bytes(bytes.try_into().ok()?)),
            65_535.0,
        ),
        ComponentType::U32 => return None,
    };
    Some(if normalized {
        (value / most).max(-1.0)
    } else {
        value
    })
}

fn of_node(node: &json::Node) -> Place {
    match node.matrix {
        Some(matrix) => Place::of_matrix(matrix),
        None => Place::of_parts(
            node.translation.unwrap_or([0.0; 3]),
            node.rotation
                .map_or([0.0, 0.0, 0.0, 1.0], |turned| turned.0),
            node.scale.unwrap_or([1.0; 3]),
        ),
    }
}
