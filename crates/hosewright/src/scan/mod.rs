//! Scans of an engine bay: glTF, OBJ, PLY and STL files in, bare triangles out.
//!
//! Each format has its module. None of them panics, whatever the bytes: what can't be read is
//! refused with what was found and what was expected. Nothing is mended here; that is the work of
//! the crate for bodies.

mod glb;
mod obj;
mod place;
mod ply;
pub mod shelf;
mod stl;

use std::path::Path;

/// The largest file that is read [bytes]; a bay of two million faces fits in several times over.
pub const MAX_BYTES: u64 = 200_000_000;

/// The most faces that are read. A bay that is worth measuring in has a hundredth of that.
pub const MAX_TRIANGLES: usize = 2_000_000;

/// The most points that are read: three for each face.
pub const MAX_POINTS: usize = 3 * MAX_TRIANGLES;

/// Triangles as they stand in a file, in the file's own axes and numbers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RawScan {
    /// Points, finite, in the file's own unit.
    pub points: Vec<[f64; 3]>,
    /// Faces, each by the numbers of its three points, which all exist.
    pub triangles: Vec<[u32; 3]>,
    /// How many metres the file's own unit is [m]; `None` where the format says nothing of units,
    /// as OBJ, PLY and STL don't.
    pub unit: Option<f64>,
}

/// Why a file can't be read as a scan.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{file}: {found}; {expected}")]
pub struct ScanFault {
    /// The file, as it was named.
    pub file: String,
    /// What was found in it.
    pub found: String,
    /// What was expected, or what helps.
    pub expected: String,
}

/// A fault before the file's name is known to it.
#[derive(Debug)]
struct Refused {
    found: String,
    expected: String,
}

fn refused(found: impl Into<String>, expected: impl Into<String>) -> Refused {
    Refused {
        found: found.into(),
        expected: expected.into(),
    }
}

const NOT_WHOLE: &str = "a whole file is expected: copy or export it again";
const TOO_MANY: &str = "let the scanning program or a mesh program thin it out";

/// A file that another one names, by that name; `None` where there is none.
pub type Beside<'a> = &'a dyn Fn(&str) -> Option<Vec<u8>>;

/// Reads a scan from a file. Files that it names are looked for in its own folder and below.
///
/// # Errors
/// [`ScanFault`] where it is not there, larger than [`MAX_BYTES`], of another format or broken.
pub fn read_file(path: &Path) -> Result<RawScan, ScanFault> {
    let name = path.file_name().unwrap_or(path.as_os_str());
    let name = name.to_string_lossy();
    let bytes = file_bytes(path).map_err(|fault| fault.of(&name))?;
    let folder = path.parent().unwrap_or(Path::new(""));
    read_bytes(&name, &bytes, &|other| {
        inside(other)
            .then(|| file_bytes(&folder.join(other)).ok())
            .flatten()
    })
}

/// Whether a name stays in the folder in which it is looked for.
fn inside(name: &str) -> bool {
    name.split('/')
        .all(|part| !part.is_empty() && !part.starts_with('.') && !part.contains(['\\', ':', '\0']))
}

fn file_bytes(path: &Path) -> Result<Vec<u8>, Refused> {
    let io = |error: std::io::Error| {
        refused(
            format!("it can't be opened ({error})"),
            "a file of glTF, OBJ, PLY or STL is expected there",
        )
    };
    let about = std::fs::metadata(path).map_err(io)?;
    if !about.is_file() {
        return Err(refused("it is no file", "a file of a scan is expected"));
    }
    fits(about.len())?;
    std::fs::read(path).map_err(io)
}

/// What is said of a file that is larger than what is read.
pub fn too_large() -> String {
    format!(
        "It has over {} MB, the most that are read: {TOO_MANY}.",
        MAX_BYTES / 1_000_000
    )
}

fn fits(bytes: u64) -> Result<(), Refused> {
    if bytes <= MAX_BYTES {
        return Ok(());
    }
    let found = format!(
        "it has {} MB, and {} MB are read at most",
        bytes.div_ceil(1_000_000),
        MAX_BYTES / 1_000_000
    );
    Err(refused(found, TOO_MANY))
}

/// Reads a scan from bytes; the ending of the name says which format it has. `beside` gives the
/// files that a glTF file names.
///
/// # Errors
/// [`ScanFault`] where they are more than [`MAX_BYTES`], of another format or broken.
pub fn read_bytes(name: &str, bytes: &[u8], beside: Beside<'_>) -> Result<RawScan, ScanFault> {
    let read = || {
        fits(bytes.len() as u64)?;
        if bytes.is_empty() {
            return Err(refused("it is empty", NOT_WHOLE));
        }
        let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
        let scan = match ending.to_ascii_lowercase().as_str() {
            "glb" | "gltf" => glb::read(bytes, beside)?,
            "obj" => obj::read(bytes)?,
            "ply" => ply::read(bytes)?,
            "stl" => stl::read(bytes)?,
            _ => {
                return Err(refused(
                    "its ending is that of no scan",
                    "glb, gltf, obj, ply and stl are read",
                ));
            }
        };
        sound(scan)
    };
    read().map_err(|fault| fault.of(name))
}

impl Refused {
    fn of(self, file: &str) -> ScanFault {
        ScanFault {
            file: file.to_owned(),
            found: self.found,
            expected: self.expected,
        }
    }
}

/// Refuses what no later step can do anything with.
fn sound(scan: RawScan) -> Result<RawScan, Refused> {
    if scan.triangles.is_empty() {
        let found = match scan.points.len() {
            0 => "nothing to see is in it".to_owned(),
            points => format!("{points} points and no face are in it"),
        };
        return Err(refused(
            found,
            "a mesh is expected: let the scanning program join the points to faces",
        ));
    }
    room(scan.points.len(), scan.triangles.len())?;
    let odd = |point: &&[f64; 3]| !point.iter().all(|part| part.is_finite());
    let broken = scan.points.iter().filter(odd).count();
    if broken > 0 {
        return Err(refused(
            format!(
                "{broken} of {} points have a coordinate that is no number",
                scan.points.len()
            ),
            "three numbers a point are expected: export it again",
        ));
    }
    let past = |triangle: &&[u32; 3]| {
        triangle
            .iter()
            .any(|corner| *corner as usize >= scan.points.len())
    };
    let lost = scan.triangles.iter().filter(past).count();
    if lost > 0 {
        return Err(refused(
            format!(
                "{lost} of {} faces name a point that is not there",
                scan.triangles.len()
            ),
            NOT_WHOLE,
        ));
    }
    Ok(scan)
}

/// Refuses more points and faces than are read.
fn room(points: usize, triangles: usize) -> Result<(), Refused> {
    if triangles > MAX_TRIANGLES {
        let found = format!("over {MAX_TRIANGLES} faces are in it, the most that are read");
        return Err(refused(found, TOO_MANY));
    }
    if points > MAX_POINTS {
        let found = format!("over {MAX_POINTS} points are in it, the most that are read");
        return Err(refused(found, TOO_MANY));
    }
    Ok(())
}

/// A number that a reader counts points with.
fn number(index: usize) -> Result<u32, Refused> {
    u32::try_from(index).map_err(|_| refused("it counts too many points", TOO_MANY))
}

/// A face of any number of corners as triangles around its first corner.
fn fan(corners: &[u32], triangles: &mut Vec<[u32; 3]>) {
    let Some((first, rest)) = corners.split_first() else {
        return;
    };
    for pair in rest.windows(2) {
        if let [second, third] = pair {
            triangles.push([*first, *second, *third]);
        }
    }
}
