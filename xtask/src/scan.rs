//! Makes the scan of the demo boat's engine bay, `boats/dunlin/bay.glb`: the surfaces that somebody
//! with a scanning telephone would see from the hatch, to fit her survey by tape.
//!
//! Its axes are those of her survey: pin P1 is above nought, x points to P2, y to port, z up from the
//! waterline. Only sums, products, quotients and roots are used, which come out alike on every
//! machine, so that the file can be held against what is made.

mod bay;
mod mesh;

use std::fs;

use crate::{Fault, tree};

/// Where it is kept, from the root of the project.
pub const FILE: &str = "boats/dunlin/bay.glb";

/// Writes the scan.
pub fn write() -> Result<(), Fault> {
    let path = tree::root().join(FILE);
    let scan = bay::dunlin();
    let bytes = mesh::glb(&scan)?;
    fs::write(&path, &bytes).map_err(|e| format!("{}: {e}", path.display()))?;
    println!(
        "{FILE}: {} triangles, {} points, {} bytes",
        scan.triangles.len(),
        scan.points.len(),
        bytes.len()
    );
    Ok(())
}

/// The scan as it is made: its bytes.
pub fn made() -> Result<Vec<u8>, Fault> {
    mesh::glb(&bay::dunlin())
}
