//! What lies in a branch, and what each takes of the pressure.

use std::f64::consts::PI;

use quantity::{Quantity, VolumeFlow};
use reference::Unknown;
use reference::friction::{Slope, reduced_loss, reduced_loss_by_line};
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

/// What something takes of the total pressure [Pa], and how that goes with flow [kg/s], density, viscosity and
/// the lift of the thermostat.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Taken {
    /// Drop [Pa], with the sign of the flow.
    pub drop: f64,
    /// By the flow [Pa s/kg].
    pub by_flow: f64,
    /// By the density [Pa m³/kg].
    pub by_density: f64,
    /// By the dynamic viscosity [1/s].
    pub by_viscosity: f64,
    /// By the lift [Pa].
    pub by_lift: f64,
}

impl std::ops::AddAssign for Taken {
    fn add_assign(&mut self, more: Self) {
        self.drop += more.drop;
        self.by_flow += more.by_flow;
        self.by_density += more.by_density;
        self.by_viscosity += more.by_viscosity;
        self.by_lift += more.by_lift;
    }
}

/// A loss by the square of the flow, k times the velocity head in an area [m²]; regular at standstill.
pub(super) fn by_square(k: f64, area: f64, flow: f64, density: f64) -> Taken {
    let speed = flow / (density * area);
    let size = (speed * speed + CREEP * CREEP).sqrt();
    let (square, slope) = (speed * size, size + speed * speed / size);
    Taken {
        drop: 0.5 * k * density * square,
        by_flow: 0.5 * k * slope / area,
        by_density: 0.5 * k * (square - slope * speed),
        ..Taken::default()
    }
}

/// A way along which water rubs.
pub(super) struct Rubs {
    /// Its hydraulic diameter [m].
    pub(super) diameter: f64,
    /// Its area [m²].
    pub(super) area: f64,
    /// Its length [m].
    pub(super) length: f64,
    /// Height of its roughness over its diameter.
    pub(super) roughness: f64,
}

impl Rubs {
    /// Friction along it.
    pub(super) fn loss(&self, law: Law, flow: f64, props: &Props<f64>) -> Result<Taken, Unknown> {
        let (density, viscosity) = (props.density, props.viscosity);
        let by_flow = self.diameter / (self.area * viscosity);
        let re = flow * by_flow;
        let at = re.clamp(-1e8, 1e8);
        let Slope { value, slope } = match law {
            Law::Smooth => reduced_loss(at, self.roughness)?,
            Law::Line => reduced_loss_by_line(at, self.roughness)?,
        };
        let reduced = value + slope * (re - at);
        let scale = self.length / (2.0 * self.diameter.powi(3) * density);
        let drop = reduced * viscosity * viscosity * scale;
        Ok(Taken {
            drop,
            by_flow: slope * by_flow * viscosity * viscosity * scale,
            by_density: -drop / density,
            by_viscosity: (2.0 * reduced - slope * re) * viscosity * scale,
            by_lift: 0.0,
        })
    }
}

impl Pipe {
    /// What it takes of a flow [kg/s].
    fn loss(&self, law: Law, flow: f64, props: &Props<f64>) -> Result<Taken, Unknown> {
        let area = area(self.bore) * self.count;
        let mut k = self.k;
        let mut taken = Taken::default();
        if let Some(factor) = self.factor {
            k += factor * self.length / self.bore;
        } else if self.length > 0.0 {
            let rubs = Rubs {
                diameter: self.bore,
                area,
                length: self.length * self.times,
                roughness: self.roughness,
            };
            taken = rubs.loss(law, flow, props)?;
        }
        if k > 0.0 {
            taken += by_square(k, area, flow, props.density);
        }
        Ok(taken)
    }
}

impl Pump {
    /// Head [m] at a flow [m³/s], at its own speed, and its slope. Against the flow the head goes on rising, as
    /// it does before the shut-off point, so that a pump has one working point.
    fn head(&self, flow: f64) -> (f64, f64) {
        if self.ratio <= 0.0 {
            return (0.0, 0.0);
        }
        let q = flow / self.ratio;
        let (head, slope) = match &self.curve {
            Curve::Quadratic(curve) => (
                curve.shut_off.si() + q * (curve.linear + curve.square * q.abs()),
                curve.linear + 2.0 * curve.square * q.abs(),
            ),
            Curve::Points { curve, ends } => {
                let inside = q.clamp(ends[0], ends[1]);
                // OK because the flow lies between the ends of the curve, over which it is given.
                let at = VolumeFlow::from_si(inside).and_then(|q| curve.at(q).ok());
                at.map_or((0.0, 0.0), |at| {
                    (at.head.si() + (q - inside) * at.slope, at.slope)
                })
            }
        };
        (head * self.ratio * self.ratio, slope * self.ratio)
    }

    /// What it takes of a flow [kg/s]: below zero, for it gives.
    fn loss(&self, flow: f64, density: f64) -> Taken {
        let q = flow / density;
        let (head, slope) = self.head(q);
        Taken {
            drop: -head * density * GRAVITY,
            by_flow: -slope * GRAVITY,
            by_density: -(head - q * slope) * GRAVITY,
            ..Taken::default()
        }
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

    /// Share of its open area at a lift, and its slope. A way that is quite shut has no finite loss: what is
    /// left is a pin's prick.
    fn share(&self, lift: f64) -> (f64, f64) {
        let rest = 1.0 - self.leak;
        let (share, slope) = match self.role {
            Role::Main => (lift * rest + self.leak, rest),
            Role::Bypass => (1.0 - lift * rest, -rest),
            Role::OpenBypass => (1.0, 0.0),
        };
        if share < LEAST_SHARE {
            (LEAST_SHARE, 0.0)
        } else {
            (share, slope)
        }
    }

    /// What it takes of a flow [kg/s].
    fn loss(&self, flow: f64, density: f64, lift: f64) -> Taken {
        let (share, slope) = self.share(lift);
        let mut taken = by_square(self.open / (share * share), area(self.bore), flow, density);
        taken.by_lift = -2.0 * taken.drop * slope / share;
        taken
    }
}

impl Part {
    /// What it takes of the total pressure in the order of the branch, at a flow [kg/s] in that order, with the
    /// properties at its mean temperature and the lift of the thermostat.
    pub fn loss(
        &self,
        law: Law,
        flow: f64,
        props: &Props<f64>,
        lift: f64,
    ) -> Result<Taken, Unknown> {
        Ok(match self {
            Self::Pipe(pipe) => pipe.loss(law, flow, props)?,
            Self::Loss { ahead, back, bore } => {
                let k = if flow >= 0.0 { *ahead } else { *back };
                by_square(k, area(*bore), flow, props.density)
            }
            Self::Rated {
                drop,
                flow: rated,
                power,
                density,
                ..
            } => rated_loss(*drop, *rated, *power, *density, flow, props.density),
            Self::Pump(pump) => pump.loss(flow, props.density),
            Self::Lift(way) => way.loss(flow, props.density, lift),
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

/// A rated drop [Pa], of a liquid of a density [kg/m³], at another flow [kg/s] and density: by a power of it.
pub(super) fn rated_loss(
    drop: f64,
    rated: f64,
    power: f64,
    density: f64,
    flow: f64,
    now: f64,
) -> Taken {
    let q = flow / (now * rated);
    let floor = 1e-5;
    let size = (q * q + floor * floor).sqrt();
    let steep = if power == 2.0 {
        size
    } else {
        size.powf(power - 1.0)
    };
    let by_flow = q * steep;
    let slope = steep * (1.0 + (power - 1.0) * q * q / (size * size));
    let scale = drop / density;
    Taken {
        drop: by_flow * now * scale,
        by_flow: slope * scale / rated,
        by_density: (by_flow - slope * q) * scale,
        ..Taken::default()
    }
}
