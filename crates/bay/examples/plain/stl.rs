//! Triangles out of an STL file, in binary or in text: the corners in threes, in the file's unit.

use bay::Vec3;

/// Length of what stands before the triangles of a binary file: 80 bytes and their count.
const HEAD: usize = 84;

/// Length of a triangle there: normal, three corners, two bytes more.
const TRIANGLE: usize = 50;

/// The corners in threes.
pub(crate) fn corners(bytes: &[u8]) -> Result<Vec<Vec3>, String> {
    let count = bytes
        .get(80..HEAD)
        .and_then(|four| four.try_into().ok())
        .map(|four| u32::from_le_bytes(four) as usize);
    // A binary file may begin with the word that begins a text; its length tells it.
    if let Some(count) = count
        && count
            .checked_mul(TRIANGLE)
            .and_then(|n| n.checked_add(HEAD))
            == Some(bytes.len())
    {
        return Ok(bytes[HEAD..]
            .chunks_exact(TRIANGLE)
            .flat_map(three)
            .collect());
    }
    let text = std::str::from_utf8(bytes).map_err(|_| "neither binary nor text STL")?;
    if !text.trim_start().starts_with("solid") {
        return Err("neither binary nor text STL".to_owned());
    }
    let mut found = Vec::new();
    let mut words = text.split_whitespace();
    while let Some(word) = words.next() {
        if word == "vertex" {
            let mut number = || -> Result<f64, String> {
                let word = words.next().ok_or("ends within a corner")?;
                word.parse().map_err(|_| format!("“{word}” is no number"))
            };
            found.push(Vec3::new(number()?, number()?, number()?));
        }
    }
    if found.is_empty() || found.len() % 3 != 0 {
        return Err(format!("{} corners make no triangles", found.len()));
    }
    Ok(found)
}

/// The corners of a binary triangle, after its normal.
fn three(triangle: &[u8]) -> [Vec3; 3] {
    let number = |at: usize| {
        let four = [0, 1, 2, 3].map(|k| triangle[at + k]);
        f64::from(f32::from_le_bytes(four))
    };
    [12, 24, 36].map(|at| Vec3::new(number(at), number(at + 4), number(at + 8)))
}
