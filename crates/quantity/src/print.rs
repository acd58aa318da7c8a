//! Text out: the exact text of the file, and the rounded text that people read.

use crate::dimension::Quantity;
use crate::reading::{Measured, Reading};

/// In which units people want to read. Unit: none. Range: two. Source: this crate.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum System {
    #[default]
    Metric,
    Imperial,
}

/// The text for a file: exact, reads back to the same value.
/// Unit: as typed. Range: finite. Source: this crate.
pub fn file_text<Q: Quantity>(_reading: &Reading<Q>) -> String {
    unimplemented!()
}

/// A computed value for people, with the digits that `half_width` justifies (or a usual number of digits without).
/// Unit: of `system`. Range: finite. Source: JCGM 100:2008 (GUM), 7.2.6.
pub fn show<Q: Quantity>(_value: Q, _half_width: Option<Q::Difference>, _system: System) -> String {
    unimplemented!()
}

/// A measured value for people: `41.8 ± 0.2 mm`.
/// Unit: of `system`. Range: finite. Source: JCGM 100:2008 (GUM), 7.2.6.
pub fn show_measured<Q: Quantity>(_measured: &Measured<Q>, _system: System) -> String {
    unimplemented!()
}
