//! Which thread it may be: how far readings lie from a thread's limits, and how the chances share out.

use super::chance::normal_below;

/// Change of diameter along a taper pipe thread, per length. Source: ISO 7-1; ASME B1.20.1.
pub const TAPER: f64 = 1.0 / 16.0;

/// A worn crest reads off its limits by about this share of the pitch. Common practice, no source.
pub const WEAR: f64 = 0.05;

/// Candidates within this of the best by their squared misfit still stand: of true ones, the chance
/// of falling farther behind is that of a square of a normal number over 6, 1 in 70.
pub const STANDS_WITHIN: f64 = 6.0;

/// By a squared misfit over this a reading can't be of the thread: three deviations.
pub const FITS_WITHIN: f64 = 9.0;

/// Two forms are told apart where they lie so many deviations of the reading from each other: of
/// 100 readings [`told_apart`] then leaves the wrong one standing in some 6.
pub const APART: f64 = 4.5;

/// What a sound thread may show: limits of its diameter anywhere along it, pitch and taper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Form {
    /// Diameter, not below.
    pub low: f64,
    /// Diameter, not above.
    pub high: f64,
    /// Pitch.
    pub pitch: f64,
    /// Change of diameter over length.
    pub taper: f64,
}

/// A reading with its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// What was read.
    pub value: f64,
    /// Its standard uncertainty.
    pub deviation: f64,
}

/// Toward which side a worn crest reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wears {
    /// The crest of a male loses diameter.
    Small,
    /// The crest of a female gains diameter.
    Large,
}

/// What was read of one thread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Looks {
    /// Diameter over the crests.
    pub diameter: Look,
    /// Toward which side its wear would show.
    pub wears: Wears,
    /// Pitch, where it was measured.
    pub pitch: Option<Look>,
    /// Change of diameter over length, where it was measured.
    pub taper: Option<Look>,
}

/// How far readings lie from a form: squares of deviations.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Misfit {
    /// By the diameter, 0 within its limits.
    pub diameter: f64,
    /// By the pitch.
    pub pitch: f64,
    /// By the taper.
    pub taper: f64,
}

impl Misfit {
    /// All three.
    pub fn total(&self) -> f64 {
        self.diameter + self.pitch + self.taper
    }
}

/// Never nought, so that an exact reading divides nothing by nothing.
fn at_least(deviation: f64, scale: f64) -> f64 {
    deviation.abs().max(scale.abs() * 1e-9).max(1e-300)
}

/// Deviations to the small and the large side of a form's limits: to the side of wear they are wider.
fn sides(form: &Form, looks: &Looks) -> (f64, f64) {
    let own = at_least(looks.diameter.deviation, looks.diameter.value);
    let worn = own.hypot(WEAR * form.pitch);
    match looks.wears {
        Wears::Small => (worn, own),
        Wears::Large => (own, worn),
    }
}

fn square_of(look: Option<Look>, value: f64) -> f64 {
    look.map_or(0.0, |look| {
        let off = (look.value - value) / at_least(look.deviation, look.value);
        off * off
    })
}

/// How far the readings lie from a form.
pub fn misfit(form: &Form, looks: &Looks) -> Misfit {
    let read = looks.diameter.value;
    let (below, above) = sides(form, looks);
    let off = if read < form.low {
        (form.low - read) / below
    } else if read > form.high {
        (read - form.high) / above
    } else {
        0.0
    };
    Misfit {
        diameter: off * off,
        pitch: square_of(looks.pitch, form.pitch),
        taper: square_of(looks.taper, form.taper),
    }
}

/// How densely readings of a diameter lie at a value, for a thread that may be anywhere within its
/// limits with the same chance: the even spread smeared by the deviations of its two edges. With one
/// deviation at both edges this is the even spread folded with a normal one.
pub fn zone_density(read: f64, (low, below): (f64, f64), (high, above): (f64, f64)) -> f64 {
    let width = high - low;
    if width <= 1e-12 * high.abs() {
        let deviation = if read < low { below } else { above };
        let z = (read - low) / deviation;
        return (-z * z / 2.0).exp() / (deviation * (2.0 * std::f64::consts::PI).sqrt());
    }
    // From the nearer tail, so that small densities keep their digits.
    let inside = if read > low + width / 2.0 {
        normal_below((high - read) / above) - normal_below((low - read) / below)
    } else {
        normal_below((read - low) / below) - normal_below((read - high) / above)
    };
    inside.max(0.0) / width
}

/// The likelihood of the readings for a form, but for factors that all forms share.
pub fn likelihood(form: &Form, looks: &Looks) -> f64 {
    let (below, above) = sides(form, looks);
    let zone = zone_density(looks.diameter.value, (form.low, below), (form.high, above));
    let off = misfit(form, looks);
    zone * (-(off.pitch + off.taper) / 2.0).exp()
}

/// Chances from likelihoods, each held equally likely beforehand; all 0 where nothing is likely.
pub fn shares(likelihoods: &[f64]) -> Vec<f64> {
    let sum: f64 = likelihoods.iter().sum();
    let share = |one: &f64| if sum > 0.0 { one / sum } else { 0.0 };
    likelihoods.iter().map(share).collect()
}

/// The chance that a reading of one form leaves another behind by over [`STANDS_WITHIN`], where the
/// two lie so many deviations apart: with a normal reading z off its own, the other is farther off by
/// d² − 2 d z.
pub fn told_apart(deviations: f64) -> f64 {
    if deviations <= 0.0 {
        return 0.0;
    }
    normal_below((deviations * deviations - STANDS_WITHIN) / (2.0 * deviations))
}

/// How far apart two diameters must be read, each with this standard uncertainty, to tell a taper
/// thread from a parallel one.
pub fn taper_base(deviation: f64) -> f64 {
    APART * std::f64::consts::SQRT_2 * deviation / TAPER
}

/// Standard uncertainty of a change of diameter over a length.
pub fn slope_deviation(change: Look, length: Look) -> f64 {
    let slope = change.value / length.value;
    (change.deviation / length.value).hypot(slope * length.deviation / length.value)
}

/// Over how many pitches two threads are told apart, read with this standard uncertainty.
pub fn pitches_to_count(one: f64, other: f64, deviation: f64) -> f64 {
    (APART * deviation / at_least(one - other, one)).ceil()
}
