//! Contact of the hose with what stands around it.

use super::Vec3;
use super::chain::{Chain, Sample};

/// One body near a point, or one face of a body that is not convex.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Touch {
    /// Which body: the same number at every point asked.
    pub body: usize,
    /// Distance of the point from the surface, negative inside [m].
    pub distance: f64,
    /// Unit vector from the surface to the point: the gradient of the distance.
    pub normal: Vec3,
}

/// Where a straight piece passes nearest to a body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Passing {
    /// Which body.
    pub body: usize,
    /// Share of the way along the piece, 0 to 1.
    pub share: f64,
    /// Distance of that place from the surface, negative inside [m].
    pub distance: f64,
    /// Unit vector from the surface to that place.
    pub normal: Vec3,
}

/// What stands around a hose. Each body answers for itself, so that a slot between two of them
/// pushes from both sides; one that is not convex, such as a scan or a bent pipe, may answer with
/// several faces, so that the hose rests in a corner of it.
pub trait Around {
    /// Puts a [`Touch`] into `out` for every body nearer to `at` than `within` [m], and for every face of one nearer than
    /// `press` [m]: of what is farther off the nearest face will do.
    fn touch(&self, at: Vec3, within: f64, press: f64, out: &mut Vec<Touch>);

    /// Puts a [`Passing`] into `out` for every body to which the piece comes nearer than `within`
    /// [m]: by points of it, if nothing better is known.
    fn pass(&self, from: Vec3, to: Vec3, within: f64, out: &mut Vec<Passing>) {
        const PARTS: usize = 8;
        let begun = out.len();
        let mut near = Vec::new();
        let reach = within + (to - from).length() / PARTS as f64;
        let mut ask = |share: f64, found: &mut dyn FnMut(Passing)| {
            near.clear();
            self.touch(from + (to - from) * share, reach, 0.0, &mut near);
            for touch in &near {
                found(Passing {
                    body: touch.body,
                    share,
                    distance: touch.distance,
                    normal: touch.normal,
                });
            }
        };
        let keep = |all: &mut Vec<Passing>, one: Passing| match all
            .iter_mut()
            .skip(begun)
            .find(|old| old.body == one.body)
        {
            Some(old) if old.distance <= one.distance => {}
            Some(old) => *old = one,
            None => all.push(one),
        };
        for i in 0..=PARTS {
            ask(i as f64 / PARTS as f64, &mut |one| keep(out, one));
        }
        // Between its neighbours the distance from a convex body has one least value.
        for number in begun..out.len() {
            let Some(first) = out.get(number).copied() else {
                continue;
            };
            let step = 1.0 / PARTS as f64;
            let (mut low, mut high) =
                ((first.share - step).max(0.0), (first.share + step).min(1.0));
            for _ in 0..40 {
                let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
                let mut far = [f64::INFINITY; 2];
                for (share, far) in [a, b].into_iter().zip(&mut far) {
                    ask(share, &mut |one| {
                        if one.body == first.body {
                            *far = far.min(one.distance);
                            keep(out, one);
                        }
                    });
                }
                let [left, right] = far;
                if left < right {
                    high = b;
                } else {
                    low = a;
                }
            }
        }
        let mut number = 0;
        out.retain(|one| {
            number += 1;
            number <= begun || one.distance < within
        });
    }

    /// Whether there is nothing at all, so that nobody need ask.
    fn is_empty(&self) -> bool {
        false
    }
}

/// Free air.
#[derive(Debug, Clone, Copy, Default)]
pub struct OpenAir;

impl Around for OpenAir {
    fn touch(&self, _at: Vec3, _within: f64, _press: f64, _out: &mut Vec<Touch>) {}

    fn is_empty(&self) -> bool {
        true
    }
}

/// All bodies at their surfaces: the clearances that they want are rules and press on nothing.
impl Around for crate::solid::Space {
    fn touch(&self, at: Vec3, within: f64, press: f64, out: &mut Vec<Touch>) {
        self.each_face(at, within, press, |body, near| {
            out.push(Touch {
                body,
                distance: near.distance,
                normal: near.normal,
            });
        });
    }

    fn pass(&self, from: Vec3, to: Vec3, within: f64, out: &mut Vec<Passing>) {
        let long = (to - from).length();
        self.each_near(from, to, 0.0, within, |body, near| {
            out.push(Passing {
                body,
                share: if long > 0.0 {
                    ((near.on_axis - from).length() / long).min(1.0)
                } else {
                    0.0
                },
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
    /// Where on the sample's edge [m].
    pub(crate) along: f64,
    pub(crate) body: usize,
    /// Whether it lies between the sample and the next.
    inner: bool,
    /// Distance beyond what is needed [m].
    pub(crate) slack: f64,
    pub(crate) normal: Vec3,
    /// Force by the body on the hose [N].
    pub(crate) force: f64,
}

/// A touch at a sample, or on the stretch that follows it.
#[derive(Debug, Clone, Copy)]
struct Known {
    along: f64,
    inner: bool,
    touch: Touch,
}

#[derive(Debug, Clone, Default)]
struct Asked {
    at: Vec3,
    within: f64,
    known: Vec<Known>,
}

/// A multiplier [N].
#[derive(Debug, Clone, Copy)]
struct Given {
    sample: usize,
    body: usize,
    inner: bool,
    normal: Vec3,
    force: f64,
}

/// Cosine of the angle beyond which a face is another than the one that pressed before: 60°.
const SAME: f64 = 0.5;

/// All contacts of one chain: penalty with multipliers.
#[derive(Debug, Clone, Default)]
pub(crate) struct Contacts {
    asked: Vec<Asked>,
    given: Vec<Given>,
    /// Contacts at the place last looked at.
    pub(crate) live: Vec<Live>,
    /// Stiffness of the penalty [N/m].
    pub(crate) stiffness: f64,
    /// Whether contact counts at all.
    pub(crate) on: bool,
    touches: Vec<Touch>,
    passings: Vec<Passing>,
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

    /// Looks around with the hose at given places; gives the energy [J] of what presses. Once that is more than `most` it
    /// looks no further: what it gives then is more than `most` too, and not all that presses is live.
    pub(crate) fn look(
        &mut self,
        chain: &Chain,
        t: &[Vec3],
        x: &[Vec3],
        around: &dyn Around,
        most: f64,
    ) -> f64 {
        self.live.clear();
        if !self.on {
            return 0.0;
        }
        let mut energy = 0.0;
        let mut given = self.given.as_slice();
        for (index, (sample, asked)) in chain.samples.iter().zip(&mut self.asked).enumerate() {
            if energy > most {
                break;
            }
            // They stand in the order of the samples.
            let own = given
                .iter()
                .take_while(|given| given.sample == index)
                .count();
            let (mine, rest) = given.split_at(own);
            given = rest;
            let way = t[sample.edge];
            let at = x[sample.edge] + way * sample.along;
            let moved = if asked.within < 0.0 {
                f64::INFINITY
            } else {
                (at - asked.at).length()
            };
            let near = asked
                .known
                .iter()
                .fold(asked.within, |least, known| least.min(known.touch.distance));
            if moved > 0.0 && (own > 0 || near - moved - sample.long <= sample.need) {
                asked.at = at;
                asked.within = sample.need * 1.2 + 0.005 + 2.0 * sample.long;
                self.touches.clear();
                // Where nothing pressed before, only what the hose reaches into presses now.
                let press = if own > 0 { asked.within } else { sample.need };
                around.touch(at, asked.within, press, &mut self.touches);
                self.touches
                    .retain(|touch| !chain.spares(sample.bare, touch.body));
                asked.known.clear();
                asked.known.extend(self.touches.iter().map(|touch| Known {
                    along: sample.along,
                    inner: false,
                    touch: *touch,
                }));
                let may = |touch: &Touch| touch.distance - sample.long <= sample.need;
                if self.touches.iter().any(may) {
                    self.passings.clear();
                    let to = at + way * sample.long;
                    let within = passed(&self.touches).min(sample.need * 1.1);
                    around.pass(at, to, within, &mut self.passings);
                    between(
                        sample,
                        chain,
                        &self.touches,
                        &self.passings,
                        &mut asked.known,
                    );
                }
            } else if moved > 0.0 {
                continue;
            }
            for (number, known) in asked.known.iter().enumerate() {
                let touch = known.touch;
                let slack = touch.distance - sample.need;
                // Of several faces of a body each takes the multiplier of the one that it is.
                let pressed: f64 = mine
                    .iter()
                    .filter(|given| best(&asked.known, given) == Some(number))
                    .map(|given| given.force)
                    .sum();
                let force = (pressed - self.stiffness * slack).max(0.0);
                if force > 0.0 {
                    energy += force * force / (2.0 * self.stiffness);
                    self.live.push(Live {
                        sample: index,
                        along: known.along,
                        body: touch.body,
                        inner: known.inner,
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
            self.given.push(Given {
                sample: live.sample,
                body: live.body,
                inner: live.inner,
                normal: live.normal,
                force: live.force,
            });
        }
        off
    }
}

/// Adds the bodies to which the stretch after a sample comes nearest between its ends: what is
/// narrower than the samples stand apart.
fn between(
    sample: &Sample,
    chain: &Chain,
    touches: &[Touch],
    passings: &[Passing],
    known: &mut Vec<Known>,
) {
    for pass in passings {
        let inside = pass.share > 1e-3 && pass.share < 1.0 - 1e-3;
        if inside
            && pass.distance < nearest(touches, pass.body) - 1e-9
            && !chain.spares(sample.bare, pass.body)
        {
            known.push(Known {
                along: sample.along + sample.long * pass.share,
                inner: true,
                touch: Touch {
                    body: pass.body,
                    distance: pass.distance,
                    normal: pass.normal,
                },
            });
        }
    }
}

/// Distance of a body from the place at which it was touched [m].
fn nearest(touches: &[Touch], body: usize) -> f64 {
    let own = touches.iter().filter(|touch| touch.body == body);
    own.fold(f64::INFINITY, |least, touch| least.min(touch.distance))
}

/// Within what the stretch after a place is asked about [m]: of what it comes no nearer to than the place nothing is told.
fn passed(touches: &[Touch]) -> f64 {
    let each = touches.iter().map(|touch| nearest(touches, touch.body));
    each.fold(f64::NEG_INFINITY, f64::max)
}

/// Which of the touches known a multiplier belongs to.
fn best(known: &[Known], given: &Given) -> Option<usize> {
    known
        .iter()
        .enumerate()
        .filter(|(_, known)| known.touch.body == given.body && known.inner == given.inner)
        .map(|(number, known)| (number, known.touch.normal.dot(given.normal)))
        .filter(|(_, same)| *same > SAME)
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(number, _)| number)
}
