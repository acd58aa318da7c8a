//! What runs in a circuit, as tables by temperature that are made once.

use reference::number::Number;

/// A liquid's properties over a range of temperatures: cubic pieces over even steps, smooth in value and
/// slope. Outside the range each keeps the value of its end, so that a solver on its way does not stumble;
/// whether the answer lies inside is asked at its end.
#[derive(Clone, Debug, PartialEq)]
pub struct Medium {
    low: f64,
    high: f64,
    step: f64,
    /// Per step, the four polynomials: density, heat, conductivity, logarithm of viscosity.
    cells: Vec<[[f64; 4]; 4]>,
    /// Enthalpy at the beginning of each step [J/kg], from that of the first.
    heats: Vec<f64>,
}

/// A liquid at one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Props<D> {
    /// Density [kg/m³].
    pub density: D,
    /// Specific heat [J/(kg K)].
    pub heat: D,
    /// Conductivity [W/(m K)].
    pub conductivity: D,
    /// Dynamic viscosity [Pa s].
    pub viscosity: D,
}

fn cubic<D: Number>(c: &[f64; 4], x: D) -> D {
    ((x * c[3] + c[2]) * x + c[1]) * x + c[0]
}

impl Medium {
    /// Tabulates a liquid between two temperatures [°C] in so many steps; `None` where a property is not
    /// given somewhere. The four are density, specific heat, conductivity and viscosity in SI.
    pub fn tabulate(
        low: f64,
        high: f64,
        steps: usize,
        property: impl Fn(f64) -> Option<[f64; 4]>,
    ) -> Option<Self> {
        if steps < 2 || low >= high || low.is_nan() || high.is_nan() {
            return None;
        }
        let step = (high - low) / steps as f64;
        let mut rows: Vec<[f64; 4]> = Vec::with_capacity(steps + 1);
        for i in 0..=steps {
            // The last is the end itself, without rounding beyond it.
            let t = if i == steps {
                high
            } else {
                low + step * i as f64
            };
            let [density, heat, conductivity, viscosity] = property(t)?;
            rows.push([density, heat, conductivity, viscosity.ln()]);
        }
        let slope = |i: usize, p: usize| {
            let at = |i: usize| rows[i][p];
            match i {
                0 => (-3.0 * at(0) + 4.0 * at(1) - at(2)) / 2.0,
                _ if i == steps => (3.0 * at(i) - 4.0 * at(i - 1) + at(i - 2)) / 2.0,
                _ => (at(i + 1) - at(i - 1)) / 2.0,
            }
        };
        let mut cells = Vec::with_capacity(steps);
        let mut heats = vec![0.0];
        for i in 0..steps {
            let mut cell = [[0.0; 4]; 4];
            for (p, c) in cell.iter_mut().enumerate() {
                let (rise, begins, ends) =
                    (rows[i + 1][p] - rows[i][p], slope(i, p), slope(i + 1, p));
                *c = [
                    rows[i][p],
                    begins / step,
                    (3.0 * rise - 2.0 * begins - ends) / step.powi(2),
                    (begins + ends - 2.0 * rise) / step.powi(3),
                ];
            }
            heats.push(heats[i] + gained(&cell[1], step));
            cells.push(cell);
        }
        Some(Self {
            low,
            high,
            step,
            cells,
            heats,
        })
    }

    /// A liquid that is the same at every temperature.
    pub fn constant(density: f64, heat: f64, conductivity: f64, viscosity: f64) -> Option<Self> {
        let all = [density, heat, conductivity, viscosity];
        let sound = all.iter().all(|x| x.is_finite() && *x > 0.0);
        sound
            .then(|| Self::tabulate(-100.0, 400.0, 2, |_| Some(all)))
            .flatten()
    }

    /// From which temperature to which it is known [°C].
    pub fn range(&self) -> (f64, f64) {
        (self.low, self.high)
    }

    /// The step in which a temperature lies, and the place in it; the nearest end outside.
    fn place<D: Number>(&self, t: D) -> (usize, D) {
        let at = t.re();
        if at <= self.low {
            return (0, D::from(0.0));
        }
        if at >= self.high {
            return (self.cells.len() - 1, D::from(self.step));
        }
        let i = (((at - self.low) / self.step) as usize).min(self.cells.len() - 1);
        (i, t - (self.low + self.step * i as f64))
    }

    /// All four properties at a temperature [°C].
    pub fn at<D: Number>(&self, t: D) -> Props<D> {
        let (i, x) = self.place(t);
        let cell = &self.cells[i];
        Props {
            density: cubic(&cell[0], x),
            heat: cubic(&cell[1], x),
            conductivity: cubic(&cell[2], x),
            viscosity: cubic(&cell[3], x).exp(),
        }
    }

    /// All four at a temperature [°C], with the slopes of density and viscosity by it.
    pub(super) fn with_slopes(&self, t: f64) -> (Props<f64>, [f64; 2]) {
        let (i, x) = self.place(t);
        let cell = &self.cells[i];
        // Outside the range each keeps the value of its end.
        let inside = f64::from(u8::from(t > self.low && t < self.high));
        let slope = |c: &[f64; 4]| inside * ((3.0 * c[3] * x + 2.0 * c[2]) * x + c[1]);
        let viscosity = cubic(&cell[3], x).exp();
        let props = Props {
            density: cubic(&cell[0], x),
            heat: cubic(&cell[1], x),
            conductivity: cubic(&cell[2], x),
            viscosity,
        };
        (props, [slope(&cell[0]), viscosity * slope(&cell[3])])
    }

    /// Density [kg/m³] at a temperature [°C].
    pub fn density<D: Number>(&self, t: D) -> D {
        let (i, x) = self.place(t);
        cubic(&self.cells[i][0], x)
    }

    /// Specific heat [J/(kg K)] at a temperature [°C].
    pub fn heat<D: Number>(&self, t: D) -> D {
        let (i, x) = self.place(t);
        cubic(&self.cells[i][1], x)
    }

    /// By what share it grows per kelvin.
    pub fn expansion<D: Number>(&self, t: D) -> D {
        let (i, x) = self.place(t);
        let c = &self.cells[i][0];
        let slope = (x * (3.0 * c[3]) + 2.0 * c[2]) * x + c[1];
        -slope / cubic(c, x)
    }

    /// Enthalpy [J/kg] over that at the low end of the range: the sum of the specific heat, exactly.
    pub fn enthalpy<D: Number>(&self, t: D) -> D {
        let (i, x) = self.place(t);
        let c = &self.cells[i][1];
        let inside = (((x * (c[3] / 4.0) + c[2] / 3.0) * x + c[1] / 2.0) * x + c[0]) * x;
        let within = inside + self.heats[i];
        if t.re() < self.low {
            return (t - self.low) * c[0] + within;
        }
        if t.re() > self.high {
            return (t - self.high) * cubic(c, x) + within;
        }
        within
    }

    /// The temperature [°C] of an enthalpy [J/kg]; the way back from [`Medium::enthalpy`]. `near` is where
    /// it is looked for first.
    pub fn temperature<D: Number>(&self, enthalpy: D, near: f64) -> D {
        let wanted = enthalpy.re();
        let mut t = near;
        for _ in 0..40 {
            let step = (self.enthalpy(t) - wanted) / self.heat(t);
            t -= step;
            if step.abs() <= 1e-13 * (1.0 + t.abs()) {
                break;
            }
        }
        (enthalpy - wanted) / self.heat(t) + t
    }
}

/// What a kilogram gains over a step of temperature.
fn gained(c: &[f64; 4], x: f64) -> f64 {
    (((c[3] / 4.0 * x + c[2] / 3.0) * x + c[1] / 2.0) * x + c[0]) * x
}
