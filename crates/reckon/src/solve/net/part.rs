//! What lies in a branch, and what each takes of the pressure.

use std::f64::consts::PI;

use quantity::{Quantity, VolumeFlow};
use reference::Unknown;
use reference::friction::{Slope, reduced_loss, reduced_loss_by_line};
use reference::number::Number;
use reference::pump::{Monotone, Quadratic};

use super::GRAVITY;
use super::cooler::Cooler;
use super::medium::Props;

/// Under this speed a loss by the square of the flow turns into one by the flow itself, so that its slope is
/// never nothing [m/s]. At 1 m/s it moves a loss by a share of 5e-9.
const CREEP: f64 = 1e-4;

/// What is left of a way that is quite shut: a pin's prick.
const LEAST_SHARE: f64 = 1e-4;

/// How friction goes from laminar to turbulent flow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Law {
    /// By a cubic that meets both in value and slope.
    Smooth,
    /// By a straight line in the Reynolds number.
    Line,
}

/// A straight pipe or hose, or several side by side, with the bends in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pipe {
    /// Bore [m].
    pub bore: f64,
    /// Length [m].
    pub length: f64,
    /// Height of its roughness over its bore.
    pub roughness: f64,
    /// Sum of the loss coefficients of what sits in it, on its own velocity head.
    pub k: f64,
    /// So many side by side.
    pub count: f64,
    /// A friction factor that is kept, whatever the Reynolds number.
    pub factor: Option<f64>,
    /// How much rougher than a smooth pipe: 1, or 2 to 4 where a wire helix shows inside.
    pub times: f64,
}

/// Head of a pump over its flow at the speed of the curve.
#[derive(Clone, Debug, PartialEq)]
pub enum Curve {
    /// a + b q + c q².
    Quadratic(Quadratic),
    /// Through every point; beyond the ends straight on.
    Points {
        /// The curve between its points.
        curve: Monotone,
        /// First and last flow [m³/s].
        ends: [f64; 2],
    },
}

/// A pump.
#[derive(Clone, Debug, PartialEq)]
pub struct Pump {
    /// Its curve.
    pub curve: Curve,
    /// Its speed over that of the curve; 0 stands.
    pub ratio: f64,
}

/// Which way of a thermostat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// To the cooler: opens with the lift.
    Main,
    /// By-pass that the thermostat's disc shuts as it lifts.
    Bypass,
    /// By-pass that is always open.
    OpenBypass,
}

/// One way of a thermostat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// Which.
    pub role: Role,
    /// Bore [m].
    pub bore: f64,
    /// Loss coefficient when open, on the velocity head in its bore.
    pub open: f64,
    /// What of its area is left when shut, 0 to 1.
    pub leak: f64,
}

/// The element of a thermostat: which node it feels, and when it opens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stat {
    /// The node whose water it feels.
    pub node: usize,
    /// Where it begins to open [°C].
    pub opens: f64,
    /// Where it is fully open [°C].
    pub full: f64,
}

impl Stat {
    /// Lift at a temperature, 0 to 1, and how it changes with it [1/K].
    pub fn lift(&self, t: f64) -> (f64, f64) {
        let x = (t - self.opens) / (self.full - self.opens);
        if x <= 0.0 {
            (0.0, 0.0)
        } else if x >= 1.0 {
            (1.0, 0.0)
        } else {
            (x, 1.0 / (self.full - self.opens))
        }
    }
}

/// What lies in a branch.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// A pipe, a hose.
    Pipe(Pipe),
    /// A loss by the square of the flow: fitting, valve, reducer, orifice, check valve.
    Loss {
        /// Coefficient in the order of flow, on the velocity head in `bore`.
        ahead: f64,
        /// Coefficient against it.
        back: f64,
        /// Bore [m].
        bore: f64,
    },
    /// A part with a drop that is rated at a flow, and heat that it gives the water.
    Rated {
        /// Drop [Pa].
        drop: f64,
        /// At this flow [m³/s].
        flow: f64,
        /// By this power of the flow.
        power: f64,
        /// Of a liquid of this density [kg/m³].
        density: f64,
        /// Heat to the water [W].
        heat: f64,
    },
    /// A pump.
    Pump(Pump),
    /// One way of the thermostat.
    Lift(Lift),
    /// A cooler, heater or calorifier: what takes heat by the temperature of the water.
    Cooler(Box<Cooler>),
}

/// Area of a round bore [m²].
pub(super) fn area(bore: f64) -> f64 {
    PI / 4.0 * bore * bore
}

/// A loss by the square of the flow [Pa], with its sign; regular at standstill.
pub(super) fn by_square<D: Number>(k: D, density: D, speed: D) -> D {
    let size = (speed * speed + CREEP * CREEP).sqrt();
    k * density * speed * size * 0.5
}

/// Friction along a way [Pa], with the sign of the flow; `re` on its hydraulic diameter.
pub(super) fn friction<D: Number>(
    law: Law,
    re: D,
    roughness: f64,
    props: &Props<D>,
    diameter: f64,
    length: f64,
) -> Result<D, Unknown> {
    let at = re.re().clamp(-1e8, 1e8);
    let Slope { value, slope } = match law {
        Law::Smooth => reduced_loss(at, roughness)?,
        Law::Line => reduced_loss_by_line(at, roughness)?,
    };
    let reduced = (re - re.re()) * slope + value;
    let scale = length / (2.0 * diameter.powi(3));
    Ok(reduced * props.viscosity * props.viscosity / props.density * scale)
}

impl Pipe {
    /// What it takes [Pa] of a flow [kg/s].
    fn loss<D: Number>(&self, law: Law, flow: D, props: &Props<D>) -> Result<D, Unknown> {
        let speed = flow / props.density / (area(self.bore) * self.count);
        let mut k = D::from(self.k);
        let mut loss = D::from(0.0);
        if let Some(factor) = self.factor {
            k += factor * self.length / self.bore;
        } else if self.length > 0.0 {
            let re = speed * props.density * self.bore / props.viscosity;
            loss = friction(law, re, self.roughness, props, self.bore, self.length)? * self.times;
        }
        if k.re() > 0.0 {
            loss += by_square(k, props.density, speed);
        }
        Ok(loss)
    }
}

impl Pump {
    /// Head [m] at a flow [m³/s], at its own speed. Against the flow the head goes on rising, as it does
    /// before the shut-off point, so that a pump has one working point.
    fn head<D: Number>(&self, flow: D) -> D {
        if self.ratio <= 0.0 {
            return D::from(0.0);
        }
        let q = flow / self.ratio;
        let head = match &self.curve {
            Curve::Quadratic(curve) => {
                let size = if q.re() < 0.0 { -q } else { q };
                q * size * curve.square + q * curve.linear + curve.shut_off.si()
            }
            Curve::Points { curve, ends } => {
                let inside = q.re().clamp(ends[0], ends[1]);
                // OK because the flow lies between the ends of the curve, over which it is given.
                let at = VolumeFlow::from_si(inside).and_then(|q| curve.at(q).ok());
                at.map_or(D::from(0.0), |at| (q - inside) * at.slope + at.head.si())
            }
        };
        head * (self.ratio * self.ratio)
    }

    /// What it gives [Pa] at a flow [kg/s].
    pub(super) fn gain<D: Number>(&self, flow: D, density: D) -> D {
        self.head(flow / density) * density * GRAVITY
    }
}

impl Lift {
    /// The same way held as it is with the thermostat wide open, whatever the lift.
    pub fn wide(self) -> Self {
        match self.role {
            Role::Main => Self { leak: 1.0, ..self },
            Role::Bypass => Self {
                role: Role::OpenBypass,
                open: self.open / self.leak.max(LEAST_SHARE).powi(2),
                ..self
            },
            Role::OpenBypass => self,
        }
    }

    /// Share of its open area at a lift.
    pub(super) fn share<D: Number>(&self, lift: D) -> D {
        let rest = 1.0 - self.leak;
        match self.role {
            Role::Main => lift * rest + self.leak,
            Role::Bypass => -lift * rest + 1.0,
            Role::OpenBypass => D::from(1.0),
        }
    }
}

impl Part {
    /// What it takes of the total pressure [Pa] in the order of the branch, at a flow [kg/s] in that order,
    /// with the properties at its mean temperature and the lift of the thermostat.
    pub fn loss<D: Number>(
        &self,
        law: Law,
        flow: D,
        props: &Props<D>,
        lift: D,
    ) -> Result<D, Unknown> {
        Ok(match self {
            Self::Pipe(pipe) => pipe.loss(law, flow, props)?,
            Self::Loss { ahead, back, bore } => {
                let k = if flow.re() >= 0.0 { *ahead } else { *back };
                let speed = flow / props.density / area(*bore);
                by_square(D::from(k), props.density, speed)
            }
            Self::Rated {
                drop,
                flow: rated,
                power,
                density,
                ..
            } => rated_loss(*drop, *rated, *power, *density, flow, props),
            Self::Pump(pump) => -pump.gain(flow, props.density),
            Self::Lift(way) => {
                let share = way.share(lift);
                // A way that is quite shut has no finite loss: what is left is a pin's prick.
                let share = if share.re() < LEAST_SHARE {
                    D::from(LEAST_SHARE)
                } else {
                    share
                };
                let k = D::from(way.open) / (share * share);
                let speed = flow / props.density / area(way.bore);
                by_square(k, props.density, speed)
            }
            Self::Cooler(cooler) => cooler.loss(law, flow, props)?,
        })
    }

    /// Heat that it gives the water whatever its temperature [W].
    pub(super) fn heat(&self) -> f64 {
        match self {
            Self::Rated { heat, .. } => *heat,
            _ => 0.0,
        }
    }
}

/// A rated drop at another flow: by a power of it, and by the density.
pub(super) fn rated_loss<D: Number>(
    drop: f64,
    rated: f64,
    power: f64,
    density: f64,
    flow: D,
    props: &Props<D>,
) -> D {
    let q = flow / props.density / rated;
    let floor = 1e-5;
    let size = (q * q + floor * floor).sqrt();
    let by_flow = if power == 2.0 {
        q * size
    } else {
        q * size.powf(power - 1.0)
    };
    by_flow * props.density * (drop / density)
}
