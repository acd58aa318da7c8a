//! Flow and heat of some states alone.

use boat::Boat;

use super::{Flow, judged, judged_states};
use crate::stages::flow::StateRow;
use crate::stages::flow::judge::judge;

impl Flow {
    /// Leaves those of its states that are kept, and judges them alone: what is wrong in one of them is told
    /// though another may be worse. The volume is that of the whole circuit, by its hottest state, and not
    /// judged here.
    pub fn narrow(&mut self, boat: &Boat, keep: impl Fn(&StateRow) -> bool) {
        let row = &mut self.row;
        row.states.retain(keep);
        let keys: Vec<String> = row.states.iter().map(|state| state.key.clone()).collect();
        row.most.retain(|most| keys.contains(&most.key));
        for hull in &mut row.hull {
            hull.states.retain(|(key, _, _)| keys.contains(key));
        }
        for area in &mut row.areas {
            area.reckoned.retain(|(key, _, _)| keys.contains(key));
        }
        let Some(arranged) = boat.arranged(row.arrangement.as_deref()) else {
            return;
        };
        let mut states = judged_states(row);
        states.volume = None;
        self.verdicts = judge(&states, &judged(&arranged));
    }
}
