//! Contact of the hose with what stands around it.

use super::Vec3;
use super::chain::Chain;

/// One body near a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Touch {
    /// Which body: the same number for the same convex body at every point asked.
    pub body: usize,
    /// Distance of the point from the body's surface, negative inside [m].
    pub distance: f64,
    /// Unit vector from the body to the point: the gradient of the distance.
    pub normal: Vec3,
}

/// What stands around a hose. Each convex body answers for itself, so that a slot between two of
/// them pushes from both sides.
pub trait Around {
    /// Puts a [`Touch`] into `out` for every body nearer to `at` than `within` [m].
    fn touch(&self, at: Vec3, within: f64, out: &mut Vec<Touch>);

    /// Whether there is nothing at all, so that nobody need ask.
    fn is_empty(&self) -> bool {
        false
    }
}

/// Free air.
#[derive(Debug, Clone, Copy, Default)]
pub struct OpenAir;

impl Around for OpenAir {
    fn touch(&self, _at: Vec3, _within: f64, _out: &mut Vec<Touch>) {}

    fn is_empty(&self) -> bool {
        true
    }
}

/// All bodies at their surfaces: the clearances that they want are rules and press on nothing.
impl Around for crate::solid::Space {
    fn touch(&self, at: Vec3, within: f64, out: &mut Vec<Touch>) {
        self.each_near(at, at, 0.0, within, |body, near| {
            out.push(Touch {
                body,
                distance: near.distance,
                normal: near.normal,
            });
        });
    }

    fn is_empty(&self) -> bool {
        self.bodies().is_empty()
    }
}

/// A contact that presses, or may press.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Live {
    pub(crate) sample: usize,
    pub(crate) body: usize,
    /// Distance beyond what is needed [m].
    pub(crate) slack: f64,
    pub(crate) normal: Vec3,
    /// Force by the body on the hose [N].
    pub(crate) force: f64,
}

#[derive(Debug, Clone, Default)]
struct Asked {
    at: Vec3,
    within: f64,
    known: Vec<Touch>,
}

/// All contacts of one chain: penalty with multipliers.
#[derive(Debug, Clone, Default)]
pub(crate) struct Contacts {
    asked: Vec<Asked>,
    /// Multipliers by sample and body [N].
    given: Vec<(usize, usize, f64)>,
    /// Contacts at the place last looked at.
    pub(crate) live: Vec<Live>,
    /// Stiffness of the penalty [N/m].
    pub(crate) stiffness: f64,
    /// Whether contact counts at all.
    pub(crate) on: bool,
}

impl Contacts {
    /// Begins anew for a chain.
    pub(crate) fn reset(&mut self, chain: &Chain, stiffness: f64, on: bool) {
        self.asked.resize_with(chain.samples.len(), Asked::default);
        for asked in &mut self.asked {
            asked.within = -1.0;
        }
        self.given.clear();
        self.live.clear();
        self.stiffness = stiffness;
        self.on = on;
    }

    /// Looks around with the hose at given places; gives the energy [J] of what presses.
    pub(crate) fn look(
        &mut self,
        chain: &Chain,
        t: &[Vec3],
        x: &[Vec3],
        around: &dyn Around,
    ) -> f64 {
        self.live.clear();
        if !self.on {
            return 0.0;
        }
        let mut energy = 0.0;
        for (index, (sample, asked)) in chain.samples.iter().zip(&mut self.asked).enumerate() {
            let at = x[sample.edge] + t[sample.edge] * sample.along;
            let moved = if asked.within < 0.0 {
                f64::INFINITY
            } else {
                (at - asked.at).length()
            };
            let near = asked
                .known
                .iter()
                .fold(asked.within, |least, touch| least.min(touch.distance));
            let held = self.given.iter().any(|given| given.0 == index);
            if moved > 0.0 && (held || near - moved <= sample.need) {
                asked.at = at;
                asked.within = sample.need * 1.5 + 0.02;
                asked.known.clear();
                around.touch(at, asked.within, &mut asked.known);
            } else if moved > 0.0 {
                continue;
            }
            for touch in &asked.known {
                let slack = touch.distance - sample.need;
                let given = self
                    .given
                    .iter()
                    .find(|given| given.0 == index && given.1 == touch.body)
                    .map_or(0.0, |given| given.2);
                let force = (given - self.stiffness * slack).max(0.0);
                if force > 0.0 {
                    energy += force * force / (2.0 * self.stiffness);
                    self.live.push(Live {
                        sample: index,
                        body: touch.body,
                        slack,
                        normal: touch.normal,
                        force,
                    });
                }
            }
        }
        energy
    }

    /// Takes the forces of now as multipliers; gives the greatest distance by which a contact
    /// stands off its surface [m].
    pub(crate) fn settle(&mut self) -> f64 {
        let mut off = 0.0_f64;
        self.given.clear();
        for live in &self.live {
            off = off.max(live.slack.abs());
            self.given.push((live.sample, live.body, live.force));
        }
        off
    }
}
