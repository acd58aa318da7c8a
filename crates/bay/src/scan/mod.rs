//! From the triangles of a scan to a mesh that answers distances: unit, place, specks, thinning,
//! and what remains to be known about it.

mod collapse;
mod lay;
mod off;
mod planes;
mod raw;
mod ready;
mod specks;
mod thin;

pub use lay::{Lay, NoLay, Scale, lay};
pub use raw::{NoUnit, Raw, Unit};
pub use ready::{NoScan, Ready, Wish, ready};
pub use specks::Specks;
pub use thin::Thinned;
