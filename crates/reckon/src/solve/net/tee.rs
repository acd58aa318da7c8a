//! What a tee takes of the pressure, by how the flow is shared at it.

use num_dual::{Derivative, DualSVec64};
use quantity::Angle;
use reference::number::Number;
use reference::tee::{joining_branch, joining_run, parting_branch, parting_run};

/// Numbers with two derivatives: by the flow of the leg, and by that of the leg with the whole.
type Two = DualSVec64<2>;

/// Three branches that meet at a node: two legs of the run, then the branch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tee {
    /// The node.
    pub node: usize,
    /// The branches of the network: both legs of the run, then the branch.
    pub legs: [usize; 3],
    /// Bore of the run [m].
    pub bore: f64,
    /// Bore of the branch over that of the run, 0.1 to 1.
    pub narrow: f64,
}

/// Share of the flow under which joining and parting are led into one another, where they differ by a tenth
/// of a velocity head.
const BLEND: f64 = 0.01;

/// What one leg loses towards the node [Pa] and its derivatives by the flow of this leg and of the leg that
/// carries the whole; `None` for the leg that does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LegLoss {
    /// Drop of total pressure from the leg to the node [Pa]; below zero where the water leaves by it.
    pub drop: f64,
    /// The leg that carries the whole.
    pub whole: usize,
    /// By the flow of this leg into the node [Pa s/kg].
    pub by_own: f64,
    /// By the flow of the whole leg into the node [Pa s/kg].
    pub by_whole: f64,
}

impl Tee {
    /// The losses of the three legs, of flows into the node [kg/s] and a density [kg/m³]. The node has the
    /// total pressure of the leg that carries the whole.
    pub fn losses(&self, flows: [f64; 3], density: f64) -> [Option<LegLoss>; 3] {
        let size = flows.map(f64::abs);
        // Where two are equal but for rounding, as beside a dead leg, the run counts as the whole and its first
        // leg before its second, so that the choice does not flicker.
        let more = 1.0 + 1e-9;
        let whole = if size[2] > more * size[0] && size[2] > more * size[1] {
            2
        } else if size[1] > more * size[0] {
            1
        } else {
            0
        };
        let mut out = [None; 3];
        for (leg, out) in out.iter_mut().enumerate() {
            if leg != whole {
                *out = self.leg(leg, whole, flows, density);
            }
        }
        out
    }

    fn leg(&self, leg: usize, whole: usize, flows: [f64; 3], density: f64) -> Option<LegLoss> {
        let seed = |value: f64, at: usize| {
            let mut unit = nalgebra::SVector::<f64, 2>::zeros();
            unit[at] = 1.0;
            Two::new(value, Derivative::some(unit))
        };
        let (own, all) = (seed(flows[leg], 0), seed(flows[whole], 1));
        // Of a whole that comes, the other two take away; of one that goes, they bring.
        if flows[whole].abs() < 1e-12 {
            return None;
        }
        let parts = flows[whole] > 0.0;
        let share = -own / all;
        let k = self.coefficient(leg, whole, share, parts)?;
        let bore = if whole == 2 {
            self.bore * self.narrow
        } else {
            self.bore
        };
        let speed = all / (density * super::part::area(bore));
        // Joining takes from the leg to the node; parting, from the node to the leg.
        let drop = k * speed * speed * (density / 2.0);
        let d = drop
            .eps
            .unwrap_generic(nalgebra::Const::<2>, nalgebra::Const::<1>);
        Some(LegLoss {
            drop: drop.re,
            whole,
            by_own: d[0],
            by_whole: d[1],
        })
    }

    /// Drop from leg to node over the velocity head of the whole.
    fn coefficient<D: Number>(&self, leg: usize, whole: usize, share: D, parts: bool) -> Option<D> {
        let right = Angle::degrees(90.0);
        let s = share.re().clamp(-1.0, 1.0);
        let share = share + (s - share.re());
        // Where the branch carries the whole, each leg of the run turns by a right angle; nothing was
        // published of it but for a branch as wide as the run. Common practice, no source.
        let turns = leg == 2 || whole == 2;
        let narrow = if whole == 2 { 1.0 } else { self.narrow };
        let joining = |share: D| {
            if turns {
                joining_branch(share, narrow, right)
            } else {
                joining_run(-share + 1.0, narrow, right)
            }
        };
        let parting = |share: D| {
            if turns {
                parting_branch(share, narrow, right)
            } else {
                parting_run(-share + 1.0, narrow, right)
            }
        };
        // `share` is over zero where the leg does the opposite of the whole, as it does in every tee whose
        // balance is kept; on the way there it may not be.
        let of = |share: D| -> Option<D> {
            let same = if parts {
                -parting(share).ok()?
            } else {
                joining(share).ok()?
            };
            Some(same)
        };
        if s >= BLEND || !turns {
            return of(if s < 0.0 { D::from(0.0) } else { share });
        }
        // Near no flow in the branch the two laws are led into one another.
        let far = BLEND;
        let here = of(D::from(far))?;
        let there = if parts {
            joining(D::from(far)).ok()?
        } else {
            -parting(D::from(far)).ok()?
        };
        let towards = (share + far) / (2.0 * far);
        let towards = if towards.re() < 0.0 {
            D::from(0.0)
        } else {
            towards
        };
        Some(there + (here - there) * towards)
    }
}
