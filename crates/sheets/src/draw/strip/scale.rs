//! From distance and height to the picture.

use reckon::{At, Strip, StripState, Way};

/// Where the ends of pieces stand, from the left end of the panel.
pub(super) struct Along {
    ends: Vec<f64>,
    /// Picture to true length [px/m]; `None` where every piece has its least width.
    pub(super) factor: Option<f64>,
}

/// How much wider than its least a strip is drawn that has to be scrolled, so that long pieces still look long.
const SCROLLED: f64 = 1.4;
/// Of the width of a page of paper, how much may go into least widths.
const LEAST_ON_PAPER: f64 = 0.88;
/// Halvings of the interval of the factor: more than a float has digits.
const STEPS: u32 = 60;

impl Along {
    pub(super) fn of(way: &Way, width: f64, least: f64, paper: bool) -> Self {
        // OK because a way has few pieces.
        let n = way.pieces.len() as f64;
        let mut least = least.max(0.0);
        let mut width = width.max(40.0);
        if paper {
            least = least.min(LEAST_ON_PAPER * width / n);
        } else if n * least * 1.05 > width {
            width = n * least * SCROLLED;
        }
        let lengths: Vec<f64> = way.pieces.iter().map(|piece| piece.length).collect();
        let whole: f64 = lengths.iter().sum();
        let wide = |k: f64| -> f64 { lengths.iter().map(|long| (k * long).max(least)).sum() };
        let factor = (whole > 0.0).then(|| {
            let (mut low, mut high) = (0.0, width / whole);
            for _ in 0..STEPS {
                let middle = 0.5 * (low + high);
                if wide(middle) < width {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            0.5 * (low + high)
        });
        let mut ends = vec![0.0];
        let mut x = 0.0;
        for long in &lengths {
            x += factor.map_or(width / n, |k| (k * long).max(least));
            ends.push(x);
        }
        // The last digit of the halving is of no account; the panel ends where it was asked to.
        let stretch = if x > 0.0 { width / x } else { 1.0 };
        ends.iter_mut().for_each(|end| *end *= stretch);
        Self { ends, factor }
    }

    pub(super) fn width(&self) -> f64 {
        self.ends.last().copied().unwrap_or(0.0)
    }

    pub(super) fn x(&self, at: At) -> f64 {
        let last = self.ends.len().saturating_sub(2);
        // OK because a place is never under 0.
        let i = (at.floor().max(0.0) as usize).min(last);
        let next = self.ends.get(i + 1).copied().unwrap_or(self.ends[i]);
        self.ends[i] + (at - i as f64) * (next - self.ends[i])
    }

    /// Whether a piece is drawn longer than it is.
    pub(super) fn stretched(&self, piece: usize, length: f64) -> bool {
        let wide = self.ends[piece + 1] - self.ends[piece];
        self.factor.is_some_and(|k| wide > 1.02 * k * length + 0.5)
    }
}

/// Heights on the panel: a zone to scale, and over it one that is squeezed.
pub(super) struct Up {
    /// Upper and lower edge of the panel [px].
    pub(super) top: f64,
    pub(super) bottom: f64,
    low: f64,
    /// Where the zone to scale ends [m].
    pub(super) high: f64,
    /// Picture to true height [px/m].
    pub(super) scale: f64,
    /// By how much the zone over it is squeezed.
    pub(super) squeeze: Option<f64>,
}

/// Room of the break between the zones [px].
const BREAK: f64 = 10.0;
/// Of the panel, how much the squeezed zone may take.
const SQUEEZED: f64 = 0.22;
/// Squeezes, the smallest that fits; the rest is for pumps that no boat has.
const FACTORS: [f64; 8] = [2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 1000.0, 10000.0];
/// Room for signs under the lowest point [px].
const UNDER: f64 = 24.0;
/// Over the highest point [m].
const HEADROOM: f64 = 0.15;

impl Up {
    pub(super) fn of(
        strip: &Strip,
        way: &Way,
        states: &[StripState],
        main: bool,
        (top, bottom): (f64, f64),
    ) -> Self {
        let points = way
            .pieces
            .iter()
            .flat_map(|piece| &piece.poly)
            .map(|(_, z)| *z);
        let signs = way.signs.iter().filter_map(|sign| sign.z);
        let traces = strip.traces.iter().filter(|_| main);
        let traces = traces
            .flat_map(|trace| trace.lines.iter().flatten())
            .map(|(_, z)| *z);
        let planes = strip.traces.iter().filter(|_| main);
        let planes = planes
            .filter_map(|trace| trace.header.as_ref())
            .flat_map(|header| header.cap.iter().chain(&header.level).flatten())
            .map(|(_, z)| *z);
        let lines: Vec<f64> = states
            .iter()
            .flat_map(|state| &state.line)
            .filter_map(|z| *z)
            .collect();
        let header = strip.header.as_ref().filter(|_| main);
        let cap = header.and_then(|header| header.cap.or(header.level));
        let all: Vec<f64> = points
            .chain(signs)
            .chain(traces)
            .chain(planes)
            .chain([0.0])
            .collect();
        let least = all
            .iter()
            .chain(&lines)
            .copied()
            .fold(f64::INFINITY, f64::min);
        let most = all
            .iter()
            .copied()
            .chain(cap)
            .fold(f64::NEG_INFINITY, f64::max);
        // A way that lies along the waterline still wants a height to be drawn on.
        let (least, most) = if most - least < 0.1 {
            (least - 0.1, most + 0.1)
        } else {
            (least, most)
        };
        let high = most + HEADROOM;
        let tall = bottom - top;
        // Under the lowest point stand drops and drains, which are no heights.
        let share = (UNDER / tall).clamp(0.08, 0.3);
        let low = least - share / (1.0 - share) * (high - least);
        let above = lines.iter().copied().fold(f64::NEG_INFINITY, f64::max) - high;
        if above <= 0.0 {
            let scale = tall / (high - low);
            return Self {
                top,
                bottom,
                low,
                high,
                scale,
                squeeze: None,
            };
        }
        // A little room over the line itself.
        let above = 1.08 * above;
        let fit = |factor: f64| (tall - BREAK) / ((high - low) + above / factor);
        let squeeze = FACTORS
            .into_iter()
            .find(|factor| above * fit(*factor) / factor <= SQUEEZED * tall)
            .unwrap_or(FACTORS[FACTORS.len() - 1]);
        let scale = fit(squeeze);
        Self {
            top,
            bottom,
            low,
            high,
            scale,
            squeeze: Some(squeeze),
        }
    }

    /// Whether a way lies within the heights that are drawn to scale.
    pub(super) fn holds(&self, way: &Way) -> bool {
        let points = way.pieces.iter().flat_map(|piece| &piece.poly);
        let signs = way.signs.iter().filter_map(|sign| sign.z);
        points
            .map(|(_, z)| *z)
            .chain(signs)
            .all(|z| (self.low..=self.high).contains(&z))
    }

    /// Where a height stands [px].
    pub(super) fn y(&self, z: f64) -> f64 {
        match self.squeeze {
            Some(squeeze) if z > self.high => {
                self.y(self.high) - BREAK - (z - self.high) * self.scale / squeeze
            }
            _ => self.bottom - (z - self.low) * self.scale,
        }
    }

    /// The middle of the break.
    pub(super) fn break_at(&self) -> Option<f64> {
        self.squeeze.map(|_| self.y(self.high) - BREAK / 2.0)
    }

    /// The lowest and highest height on the panel [m].
    pub(super) fn reach(&self) -> (f64, f64) {
        let high = match self.squeeze {
            Some(squeeze) => {
                self.high + (self.y(self.high) - BREAK - self.top) * squeeze / self.scale
            }
            None => self.high,
        };
        (self.low, high)
    }
}
