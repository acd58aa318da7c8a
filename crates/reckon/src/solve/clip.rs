//! Which of several clips to take.

/// A clip as numbers: what it closes and opens to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// Smallest diameter.
    pub closed: f64,
    /// Largest diameter.
    pub open: f64,
}

impl Reach {
    /// Where in the range a diameter sits: 0 closed, 1 open.
    pub fn share(&self, diameter: f64) -> f64 {
        (diameter - self.closed) / (self.open - self.closed)
    }
}

/// The one that opens least among those that pass: its tail is shortest.
pub fn nearest_open(clips: &[(usize, Reach)]) -> Option<usize> {
    clips
        .iter()
        .min_by(|(_, a), (_, b)| a.open.total_cmp(&b.open))
        .map(|(i, _)| *i)
}

/// The one in whose range a diameter sits nearest the middle.
pub fn middle_of_range(clips: &[(usize, Reach)], diameter: f64) -> Option<usize> {
    let off = |reach: &Reach| (reach.share(diameter) - 0.5).abs();
    clips
        .iter()
        .min_by(|(_, a), (_, b)| off(a).total_cmp(&off(b)))
        .map(|(i, _)| *i)
}
