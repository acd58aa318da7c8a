//! Coolers, heaters and calorifiers: how much heat each takes out of the water that runs through it.
//!
//! Two temperatures inside a cooler are not known beforehand: the mean of the coolant and, on its other side,
//! that of the surface towards the sea (or the mean of the raw water). They are found here by Newton's method;
//! the derivatives of the heat by flow and inlet follow from the implicit function.

use std::f64::consts::PI;

use num_dual::{Derivative, DualSVec64};
use reference::Unknown;
use reference::exchanger::{Arrangement, effectiveness};
use reference::film;
use reference::number::Number;

use super::GRAVITY;
use std::sync::Arc;

use super::medium::{Medium, Props};
use super::part::{Law, Rubs, Taken, area, by_square, rated_loss};

/// Numbers with four derivatives: by mean of the coolant, temperature on the other side, flow, inlet.
type Four = DualSVec64<4>;

/// How a channel's film is in laminar flow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Film {
    /// As in a round pipe.
    Round,
    /// As in a flat channel that gives heat on one of its wide walls.
    FlatOneWall,
}

/// How a surface lies in water at rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Geometry {
    /// A level pipe.
    Pipe,
    /// An upright plate.
    Upright,
    /// A flat bottom, warm side down.
    Under,
}

/// The water outside.
#[derive(Clone, Debug, PartialEq)]
pub struct Outside {
    /// What it is.
    pub medium: Arc<Medium>,
    /// Its temperature [°C].
    pub temperature: f64,
    /// How fast it runs along the surface [m/s].
    pub speed: f64,
    /// Length of the surface in the stream [m].
    pub length: f64,
    /// How far aft of the bow the surface begins [m].
    pub aft: f64,
    /// The length that counts for water at rest: height of a plate, outside diameter of a pipe [m].
    pub still: f64,
    /// How it lies.
    pub geometry: Geometry,
}

/// A cooler in the sea: channels with water inside and a surface outside.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// Area through which the water runs in one channel [m²].
    pub channel: f64,
    /// Hydraulic diameter of a channel [m].
    pub diameter: f64,
    /// So many channels side by side.
    pub count: f64,
    /// Length of the way through [m].
    pub length: f64,
    /// Height of the roughness inside over the hydraulic diameter.
    pub roughness: f64,
    /// Loss coefficient of its turns and ends.
    pub k: f64,
    /// The bore on whose velocity head, with the whole flow, that counts [m]; `None` for that of a channel.
    pub connection: Option<f64>,
    /// How its film is in laminar flow.
    pub film: Film,
    /// Surface inside [m²].
    pub inside: f64,
    /// Surface outside that the sea reaches [m²].
    pub outside: f64,
    /// What wall and paint resist [K/W].
    pub wall: f64,
    /// Fouling inside [m² K/W].
    pub dirt_in: f64,
    /// Fouling outside [m² K/W].
    pub dirt_out: f64,
    /// The water outside.
    pub sea: Outside,
}

/// Tubes of an exchanger: raw water inside, coolant round them.
#[derive(Clone, Debug, PartialEq)]
pub struct Tubes {
    /// How many.
    pub count: f64,
    /// How often the raw water goes through.
    pub passes: f64,
    /// Bore [m].
    pub bore: f64,
    /// Outside diameter [m].
    pub over: f64,
    /// Length of one [m].
    pub length: f64,
    /// Conductivity of the wall [W/(m K)].
    pub conductivity: f64,
    /// Film outside the tubes [W/(m² K)] ...
    pub shell: f64,
    /// ... at this flow of coolant [kg/s] ...
    pub shell_flow: f64,
    /// ... and by this power of it.
    pub shell_power: f64,
    /// Fouling inside [m² K/W].
    pub dirt_in: f64,
    /// Fouling outside [m² K/W].
    pub dirt_out: f64,
}

/// How well an exchanger passes heat.
#[derive(Clone, Debug, PartialEq)]
pub enum Ua {
    /// As told [W/K].
    Told(f64),
    /// By its tubes.
    Tubes(Tubes),
}

/// The raw water of an exchanger.
#[derive(Clone, Debug, PartialEq)]
pub struct Raw {
    /// What it is.
    pub medium: Arc<Medium>,
    /// Its flow [kg/s].
    pub flow: f64,
    /// Its temperature at the inlet [°C].
    pub temperature: f64,
}

/// A drop [Pa] at a flow [m³/s], by its square, of a liquid of 1000 kg/m³.
pub type Rated = Option<(f64, f64)>;

/// What takes the heat.
#[derive(Clone, Debug, PartialEq)]
pub enum Gives {
    /// The sea, through a surface.
    Sea(Surface),
    /// Raw water.
    Raw(Arrangement, Ua, Raw),
    /// Something of one temperature [°C] behind a UA [W/K].
    Sink {
        /// UA [W/K].
        ua: f64,
        /// Its temperature [°C].
        temperature: f64,
    },
}

/// A part that takes heat out of the water by the water's temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct Cooler {
    /// What takes the heat.
    pub gives: Gives,
    /// Its drop, where that is no matter of its channels.
    pub rated: Rated,
}

/// What a cooler does in a state.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Report {
    /// Heat out of the water [W].
    pub heat: f64,
    /// Temperature of the water where it comes in and goes out [°C].
    pub temperatures: [f64; 2],
    /// UA [W/K].
    pub ua: f64,
    /// Film inside [W/(m² K)], where it was reckoned.
    pub film_in: Option<f64>,
    /// Film outside [W/(m² K)], where it was reckoned.
    pub film_out: Option<f64>,
    /// Reynolds number inside, where it was reckoned.
    pub reynolds: Option<f64>,
    /// Speed in its channels or tubes [m/s], where it was reckoned.
    pub speed: Option<f64>,
    /// Shares of the whole resistance: film inside, dirt inside, wall and paint, dirt outside, film outside.
    pub shares: Option<[f64; 5]>,
    /// Raw water where it goes out [°C].
    pub raw_out: Option<f64>,
}

/// What a cooler gives at two inner temperatures that were put in.
struct Trial<D> {
    heat: D,
    /// The other side's temperature that follows.
    other: D,
    report: Report,
}

/// Inside a pipe or channel.
fn inside<D: Number>(how: Film, re: D, pr: D, over_length: f64) -> Result<D, Unknown> {
    let over_length = over_length.min(1.0);
    match how {
        Film::Round => film::inside(re, pr, over_length),
        Film::FlatOneWall => film::inside_flat(re, pr, over_length),
    }
}

fn prandtl<D: Number>(props: &Props<D>) -> D {
    props.viscosity * props.heat / props.conductivity
}

impl Outside {
    /// The film [W/(m² K)] at a temperature of the surface.
    fn film<D: Number>(&self, surface: D) -> Result<D, Unknown> {
        let at = (surface + self.temperature) * 0.5;
        let props = self.medium.at(at);
        let pr = prandtl(&props);
        let mut forced = D::from(0.0);
        if self.speed > 0.0 {
            let per_metre = props.density * self.speed / props.viscosity;
            let fore = per_metre * self.aft;
            let aft = per_metre * (self.aft + self.length);
            forced = film::plate_between(fore, aft, pr)? * props.conductivity / self.length;
        }
        let warmer = surface - self.temperature;
        let stirs = self.medium.expansion(at) * warmer * GRAVITY * self.still.powi(3);
        let stirs = if stirs.re() < 0.0 { -stirs } else { stirs };
        let ra = stirs * props.density * props.density * props.heat
            / (props.viscosity * props.conductivity);
        let nusselt = match self.geometry {
            Geometry::Pipe => film::still_pipe(ra, pr)?,
            Geometry::Upright => film::still_upright(ra, pr)?,
            Geometry::Under => film::still_bottom(ra, pr)?,
        };
        let still = nusselt * props.conductivity / self.still;
        film::mixed(forced, still)
    }
}

impl Surface {
    /// Speed in a channel [m/s] and Reynolds number.
    fn inner<D: Number>(&self, flow: D, props: &Props<D>) -> (D, D) {
        let speed = flow / props.density / (self.channel * self.count);
        (
            speed,
            speed * props.density * self.diameter / props.viscosity,
        )
    }

    fn loss(&self, law: Law, flow: f64, props: &Props<f64>) -> Result<Taken, Unknown> {
        let whole = self.channel * self.count;
        let rubs = Rubs {
            diameter: self.diameter,
            area: whole,
            length: self.length,
            roughness: self.roughness,
        };
        let mut taken = rubs.loss(law, flow, props)?;
        let at = self.connection.map_or(whole, area);
        taken += by_square(self.k, at, flow, props.density);
        Ok(taken)
    }

    fn trial<D: Number>(
        &self,
        flow: D,
        t_in: D,
        props: &Props<D>,
        surface: D,
    ) -> Result<Trial<D>, Unknown> {
        let (speed, re) = self.inner(flow, props);
        let nusselt = inside(self.film, re, prandtl(props), self.diameter / self.length)?;
        let h_in = nusselt * props.conductivity / self.diameter;
        let h_out = self.sea.film(surface)?;
        let parts = [
            (h_in * self.inside).recip(),
            D::from(self.dirt_in / self.inside),
            D::from(self.wall),
            D::from(self.dirt_out / self.outside),
            (h_out * self.outside).recip(),
        ];
        let whole = parts.iter().fold(D::from(0.0), |sum, part| sum + *part);
        let stream = flow * props.heat;
        let share = -(-((whole * stream).recip())).exp_m1();
        let heat = stream * share * (t_in - self.sea.temperature);
        let report = Report {
            heat: heat.re(),
            ua: 1.0 / whole.re(),
            film_in: Some(h_in.re()),
            film_out: Some(h_out.re()),
            reynolds: Some(re.re()),
            speed: Some(speed.re()),
            shares: Some(parts.map(|part| part.re() / whole.re())),
            ..Report::default()
        };
        Ok(Trial {
            heat,
            other: heat * parts[4] + self.sea.temperature,
            report,
        })
    }
}

impl Tubes {
    /// UA [W/K] with raw water of these properties and flow [kg/s], and coolant of this flow [kg/s].
    fn ua<D: Number>(
        &self,
        coolant: D,
        raw: f64,
        props: &Props<D>,
    ) -> Result<(D, Report), Unknown> {
        let side = self.count / self.passes;
        let speed = props.density.recip() * raw / (side * area(self.bore));
        let re = speed * props.density * self.bore / props.viscosity;
        let nusselt = inside(Film::Round, re, prandtl(props), self.bore / self.length)?;
        let h_in = nusselt * props.conductivity / self.bore;
        let h_out = (coolant / self.shell_flow).powf(self.shell_power) * self.shell;
        let inner = self.count * PI * self.bore * self.length;
        let outer = self.count * PI * self.over * self.length;
        let wall = (self.over / self.bore).ln()
            / (2.0 * PI * self.conductivity * self.length * self.count);
        let parts = [
            (h_in * inner).recip(),
            D::from(self.dirt_in / inner),
            D::from(wall),
            D::from(self.dirt_out / outer),
            (h_out * outer).recip(),
        ];
        let whole = parts.iter().fold(D::from(0.0), |sum, part| sum + *part);
        let report = Report {
            film_in: Some(h_in.re()),
            film_out: Some(h_out.re()),
            reynolds: Some(re.re()),
            speed: Some(speed.re()),
            shares: Some(parts.map(|part| part.re() / whole.re())),
            ..Report::default()
        };
        Ok((whole.recip(), report))
    }
}

/// How far from the sink [K] a film's slope goes evenly enough for its last step to be trusted.
const AWAY: f64 = 0.05;
/// How small that step must be, over the temperature.
const NEARLY: f64 = 1e-7;

impl Cooler {
    /// What it takes of the pressure at a flow [kg/s].
    pub(super) fn loss(&self, law: Law, flow: f64, props: &Props<f64>) -> Result<Taken, Unknown> {
        let mut taken = match &self.gives {
            Gives::Sea(surface) => surface.loss(law, flow, props)?,
            Gives::Raw(..) | Gives::Sink { .. } => Taken::default(),
        };
        if let Some((drop, at)) = self.rated {
            taken += rated_loss(drop, at, 2.0, 1000.0, flow, props.density);
        }
        Ok(taken)
    }

    fn trial<D: Number>(
        &self,
        medium: &Medium,
        flow: D,
        t_in: D,
        mean: D,
        other: D,
    ) -> Result<Trial<D>, Unknown> {
        let props = medium.at(mean);
        match &self.gives {
            Gives::Sea(surface) => surface.trial(flow, t_in, &props, other),
            Gives::Raw(how, ua, raw) => {
                let water = raw.medium.at(other);
                let (ua, mut report) = match ua {
                    Ua::Told(ua) => (D::from(*ua), Report::default()),
                    Ua::Tubes(tubes) => tubes.ua(flow, raw.flow, &water)?,
                };
                let (hot, cold) = (flow * props.heat, water.heat * raw.flow);
                let (least, most) = if hot.re() < cold.re() {
                    (hot, cold)
                } else {
                    (cold, hot)
                };
                let share = effectiveness(*how, ua / least, least / most)?;
                let heat = least * share * (t_in - raw.temperature);
                report.ua = ua.re();
                report.heat = heat.re();
                report.raw_out = Some(raw.temperature + (heat / cold).re());
                Ok(Trial {
                    heat,
                    other: heat / cold * 0.5 + raw.temperature,
                    report,
                })
            }
            Gives::Sink { ua, temperature } => {
                let stream = flow * props.heat;
                let share = -(-(D::from(*ua) / stream)).exp_m1();
                let heat = stream * share * (t_in - *temperature);
                let report = Report {
                    heat: heat.re(),
                    ua: *ua,
                    ..Report::default()
                };
                Ok(Trial {
                    heat,
                    other: D::from(*temperature),
                    report,
                })
            }
        }
    }

    /// The temperature of what takes the heat [°C].
    pub fn sink(&self) -> f64 {
        match &self.gives {
            Gives::Sea(surface) => surface.sea.temperature,
            Gives::Raw(_, _, raw) => raw.temperature,
            Gives::Sink { temperature, .. } => *temperature,
        }
    }

    /// Whether it takes heat at all.
    pub fn takes(&self) -> bool {
        match &self.gives {
            Gives::Sea(_) => true,
            Gives::Raw(_, ua, raw) => raw.flow > 0.0 && *ua != Ua::Told(0.0),
            Gives::Sink { ua, .. } => *ua > 0.0,
        }
    }

    /// Heat out of the water [W], with its derivatives by flow and inlet, and what the cooler does. The flow
    /// is [kg/s] and counts as over zero; `near` holds the two inner temperatures of the last time, and is
    /// left at those of this one.
    pub fn heat(
        &self,
        medium: &Medium,
        flow: f64,
        t_in: f64,
        near: &mut Option<[f64; 2]>,
    ) -> Result<(f64, [f64; 2], Report), Unknown> {
        let sink = self.sink();
        let [mut mean, mut other] = near.unwrap_or([t_in, 0.5 * (t_in + sink)]);
        let (low, high) = (t_in.min(sink), t_in.max(sink));
        let seed = |value: f64, at: usize| {
            let mut unit = nalgebra::SVector::<f64, 4>::zeros();
            unit[at] = 1.0;
            Four::new(value, Derivative::some(unit))
        };
        let mut beyond = None;
        let mut before = f64::INFINITY;
        for _ in 0..80 {
            let (m, t) = (seed(flow, 2), seed(t_in, 3));
            let (a, b) = (seed(mean, 0), seed(other, 1));
            let trial = match self.trial(medium, m, t, a, b) {
                Ok(trial) => trial,
                // A first guess may ask a formula for more than its source gives; nearer to the sink it gives.
                Err(unknown) if (other - sink).abs() > 1e-3 => {
                    other = sink + 0.5 * (other - sink);
                    beyond = Some(unknown);
                    continue;
                }
                Err(unknown) => return Err(unknown),
            };
            let drop = trial.heat / (m * medium.heat(a));
            let one = a - t + drop * 0.5;
            let two = b - trial.other;
            let of = |x: Four| {
                let d = x
                    .eps
                    .unwrap_generic(nalgebra::Const::<4>, nalgebra::Const::<1>);
                [d[0], d[1], d[2], d[3]]
            };
            let (g, h, q) = (of(one), of(two), of(trial.heat));
            let det = g[0] * h[1] - g[1] * h[0];
            let move_mean = (one.re * h[1] - two.re * g[1]) / det;
            let move_other = (two.re * g[0] - one.re * h[0]) / det;
            // Near the sink the film's slope is beyond all bounds and the steps are small, far from the
            // answer: what is left must be small too.
            let small = 1e-10 * (1.0 + t_in.abs());
            let left = one.re.abs().max(two.re.abs());
            let most = move_mean.abs().max(move_other.abs());
            // Away from the sink a step of Newton's leaves the square of itself: after a small one nothing is
            // left to ask for, and the heat goes along the slopes.
            let away = (other - sink).abs() > AWAY && most.max(left) < NEARLY * (1.0 + t_in.abs());
            if away || (most < small && left < 10.0 * small) {
                // What the inner two do when flow or inlet move.
                let by = |k: usize| {
                    let da = -(g[k] * h[1] - h[k] * g[1]) / det;
                    let db = -(h[k] * g[0] - g[k] * h[0]) / det;
                    q[k] + q[0] * da + q[1] * db
                };
                let heat = trial.heat.re - q[0] * move_mean - q[1] * move_other;
                *near = Some([mean - move_mean, other - move_other]);
                let mut report = trial.report;
                report.heat = heat;
                report.temperatures = [t_in, t_in];
                return Ok((heat, [by(2), by(3)], report));
            }
            // Where a step of Newton's did little, near the sink or where two regimes meet, the temperatures
            // that the heat gives are taken as they are.
            let plain = left.is_nan() || left >= 0.5 * before;
            before = if plain { f64::INFINITY } else { left };
            let (move_mean, move_other) = if plain {
                (one.re, two.re)
            } else {
                (move_mean, move_other)
            };
            let next = |now: f64, by: f64| {
                let to = now - by;
                // Out of the room between inlet and sink one goes half way to its wall.
                if to < low {
                    0.5 * (now + low)
                } else if to > high {
                    0.5 * (now + high)
                } else {
                    to
                }
            };
            mean = next(mean, move_mean);
            other = next(other, move_other);
        }
        Err(beyond.unwrap_or_else(|| Unknown {
            why: "the temperatures inside a cooler did not settle".into(),
            settles: "the flow through it and its sizes".into(),
        }))
    }
}
