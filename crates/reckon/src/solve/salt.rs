//! Sea water taken into the coolant, by the rise of its chloride.
//!
//! Volumes in one unit, concentrations in another, throughout a call.

/// What became of the room that the sea water took.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kept {
    /// The header had room for it: nothing was lost.
    All,
    /// The circuit was full: as much coolant went out through the cap, well mixed.
    Overflowed,
}

/// A number with its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uncertain {
    /// The number.
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

/// A rise of chloride in a circuit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rise {
    /// What the circuit holds.
    pub volume: Uncertain,
    /// Chloride before.
    pub before: Uncertain,
    /// Chloride now.
    pub now: Uncertain,
    /// Chloride in the sea.
    pub sea: Uncertain,
}

/// Sea water taken in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TakenIn {
    /// How much.
    pub volume: f64,
    /// Its standard uncertainty, to first order.
    pub u: f64,
}

impl TakenIn {
    /// From and to: 95 in 100, twice the standard uncertainty either way.
    pub fn interval(&self) -> (f64, f64) {
        (self.volume - 2.0 * self.u, self.volume + 2.0 * self.u)
    }
    /// Whether the interval stays clear of nought: else the readings do not show that any sea came in.
    pub fn is_shown(&self) -> bool {
        self.interval().0 > 0.0
    }
}

impl Rise {
    /// Sea water taken in; `None` where the coolant is as salt as the sea, or the circuit holds nothing.
    pub fn taken_in(&self, kept: Kept) -> Option<TakenIn> {
        let Self {
            volume,
            before,
            now,
            sea,
        } = *self;
        let able = volume.value > 0.0 && now.value < sea.value && before.value < sea.value;
        if !able {
            return None;
        }
        let share = match kept {
            Kept::All => (now.value - before.value) / (sea.value - now.value),
            Kept::Overflowed => ((sea.value - before.value) / (sea.value - now.value)).ln(),
        };
        let taken = volume.value * share;
        // To first order the rise alone counts, over what the sea holds.
        let squared = (share * volume.u).powi(2)
            + (volume.value / sea.value).powi(2) * (now.u.powi(2) + before.u.powi(2))
            + (taken / sea.value * sea.u).powi(2);
        Some(TakenIn {
            volume: taken,
            u: squared.sqrt(),
        })
    }
}

/// Chloride after so much coolant was lost and so much other was topped up, well mixed.
pub fn topped_up(volume: f64, now: f64, lost: f64, topped: f64, in_topping: f64) -> Option<f64> {
    let able = volume > 0.0 && (0.0..=volume).contains(&lost) && topped >= 0.0;
    able.then(|| (now * (volume - lost) + in_topping * topped) / volume)
}
