//! The whole way of a scan: unit, welding, specks, thinning, mesh, offset.

use super::{NoUnit, Raw, Specks, Thinned, Unit, off, specks, thin};
use crate::solid::{Behind, Bounds, Mesh, NoMesh, Seams};

/// What is wanted of a scan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    /// How long a unit of the file is: the file does not tell.
    pub unit: Unit,
    /// Parts whose box has a smaller diagonal than this are taken out, in m.
    pub speck: f64,
    /// More triangles than this are thinned.
    pub most: usize,
    /// How far the scan may be off the things, in m: the surface is taken to lie so much farther out.
    pub error: f64,
    /// What is taken to lie behind it where nobody has looked.
    pub behind: Behind,
}

impl Wish {
    /// The usual: specks under 20 mm out, 50 000 triangles at most, no error of the scan.
    pub fn usual(unit: Unit, behind: Behind) -> Self {
        Self {
            unit,
            speck: 0.020,
            most: 50_000,
            error: 0.0,
            behind,
        }
    }
}

/// A scan that answers distances.
#[derive(Debug, Clone)]
pub struct Ready {
    /// The mesh in m, with its surface moved out by `offset`.
    pub mesh: Mesh,
    /// How many m a unit of the file is.
    pub metres: f64,
    /// The box about it in m, before the offset.
    pub bounds: Bounds,
    /// Triangles read.
    pub read: usize,
    /// Of these, left out because two of their corners lie at one place or are not there.
    pub empty: usize,
    /// What was too small.
    pub specks: Specks,
    /// How its triangles hung together before thinning; `Mesh::seams` tells how they do now.
    pub seams: Seams,
    /// How it was thinned, if it was.
    pub thinned: Option<Thinned>,
    /// How far out the surface was moved, in m: the error of the scan and that of the thinning, so
    /// that no gap is told greater than the scan as read has it.
    pub offset: f64,
}

/// Why a scan cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum NoScan {
    /// Its unit cannot be.
    #[error(transparent)]
    Unit(#[from] NoUnit),
    /// Its triangles make no mesh.
    #[error(transparent)]
    Mesh(#[from] NoMesh),
    /// All of it was specks.
    #[error("every part of the scan is smaller than {speck} m: is its unit right?")]
    AllSpecks {
        /// The size under which parts are taken out, in m.
        speck: f64,
    },
    /// Its error is no length.
    #[error("an error of the scan of {0} m is no length")]
    Error(f64),
}

/// Makes the mesh of a scan.
///
/// # Errors
///
/// Where the unit or the error is no length, the triangles make no mesh, or nothing but specks is
/// left.
pub fn ready(raw: &Raw, wish: &Wish) -> Result<Ready, NoScan> {
    let metres = wish.unit.metres()?;
    if !(wish.error.is_finite() && wish.error >= 0.0) {
        return Err(NoScan::Error(wish.error));
    }
    if let Some(corner) = raw.corners.iter().position(|corner| !corner.is_finite()) {
        return Err(NoMesh::NotFinite { corner }.into());
    }
    let read = raw.triangles.len();
    let welded = raw.scaled(metres).welded();
    if welded.triangles.is_empty() {
        return Err(NoMesh::Empty.into());
    }
    let empty = read - welded.triangles.len();
    let (clean, specks) = specks::remove(welded, wish.speck);
    if clean.triangles.is_empty() {
        return Err(NoScan::AllSpecks { speck: wish.speck });
    }
    let seams = Seams::of(&clean.triangles);
    let bounds = clean.bounds();
    let (mesh, thinned) = match thin::thin(&clean, wish.most) {
        None => (
            Mesh::new(&clean.corners, &clean.triangles, wish.behind)?,
            None,
        ),
        Some((fewer, cell)) => {
            let mesh = Mesh::new(&fewer.corners, &fewer.triangles, wish.behind)?;
            let thinned = Thinned {
                before: clean.triangles.len(),
                after: fewer.triangles.len(),
                cell,
                error: off::farthest(&clean, &mesh),
            };
            (mesh, Some(thinned))
        }
    };
    let offset = wish.error + thinned.map_or(0.0, |thinned| thinned.error);
    Ok(Ready {
        mesh: mesh.grown(offset),
        metres,
        bounds,
        read,
        empty,
        specks,
        seams,
        thinned,
        offset,
    })
}
