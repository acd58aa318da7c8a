//! OBJ: text, one line a point or a face. It says nothing of units.

use std::io::Cursor;

use super::{NOT_WHOLE, RawScan, Refused, number, refused, room};

/// How faces are to come: as triangles, each point as it stands.
const AS_TRIANGLES: tobj::LoadOptions = tobj::LoadOptions {
    single_index: false,
    triangulate: true,
    ignore_points: true,
    ignore_lines: true,
};

pub(super) fn read(bytes: &[u8]) -> Result<RawScan, Refused> {
    let (lines, points) = shape(bytes)?;
    let mut lines = Cursor::new(lines);
    let (models, _) = tobj::load_obj_buf(&mut lines, &AS_TRIANGLES, |_| {
        // Colours and pictures are no part of a scan.
        Err(tobj::LoadError::OpenFileFailed)
    })
    .map_err(|error| {
        refused(
            format!("a line of it can't be read ({error})"),
            "OBJ with points “v x y z” and faces “f a b c” is expected",
        )
    })?;
    let mut scan = RawScan::default();
    for model in models {
        let mesh = model.mesh;
        let begin = number(scan.points.len())?;
        room(
            scan.points.len() + mesh.positions.len() / 3,
            scan.triangles.len() + mesh.indices.len() / 3,
        )?;
        if mesh.indices.len() % 3 != 0 {
            return Err(refused(
                "a face in it has fewer than three corners",
                NOT_WHOLE,
            ));
        }
        scan.points.extend(
            mesh.positions
                .chunks_exact(3)
                .filter_map(|point| match point {
                    [x, y, z] => Some([*x, *y, *z].map(f64::from)),
                    _ => None,
                }),
        );
        scan.triangles
            .extend(mesh.indices.chunks_exact(3).filter_map(|face| match face {
                [a, b, c] => Some([*a, *b, *c].map(|corner| corner.saturating_add(begin))),
                _ => None,
            }));
    }
    if scan.points.is_empty() && points > 0 {
        // Points that no face joins don't come out of the reading.
        return Err(refused(
            "it has points and no face",
            "a mesh is expected: let the scanning program join the points to faces",
        ));
    }
    Ok(scan)
}

/// The lines of points and faces, and how many points there are. The reader holds all that it is given at once, so
/// that they are counted before it gets them; names, colours and pictures are no part of a scan, and names may be in an
/// old alphabet.
fn shape(bytes: &[u8]) -> Result<(Vec<u8>, usize), Refused> {
    let (mut points, mut triangles) = (0_usize, 0_usize);
    let mut lines = Vec::new();
    for line in bytes.split(|byte| *byte == b'\n') {
        let line = line.trim_ascii();
        match line {
            [b'v', b' ' | b'\t', ..] => points += 1,
            [b'f', b' ' | b'\t', ..] => {
                let words = line.split(u8::is_ascii_whitespace);
                // The first word is no corner, and a face of so many corners makes two triangles fewer.
                let corners = words.filter(|word| !word.is_empty()).count() - 1;
                triangles += corners.saturating_sub(2).max(1);
            }
            _ => continue,
        }
        room(points, triangles)?;
        lines.extend_from_slice(line);
        lines.push(b'\n');
    }
    Ok((lines, points))
}
