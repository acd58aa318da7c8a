//! The arithmetic of thread forms: what follows from size, pitch and the standards' formulas.

use quantity::Length;

use crate::source::Limits;

/// Change of diameter along a taper pipe thread, per length.
pub(crate) const TAPER: f64 = 1.0 / 16.0;

/// Pitch from turns to the inch. Unit: m. Range: over 0 turns. Source: definition, 1 in = 25.4 mm.
pub fn pitch_of(per_inch: f64) -> Length {
    Length::inches(1.0 / per_inch)
}

/// Pitch diameter of a 55-degree thread.
/// Unit: m. Range: pitch under the diameter. Source: ISO 228-1, height 0.640327 of the pitch.
pub fn pitch_diameter_55(major: Length, pitch: Length) -> Length {
    major - pitch * 0.640_327
}

/// Minor diameter of a 55-degree thread.
/// Unit: m. Range: pitch under the diameter. Source: ISO 228-1, twice 0.640327 of the pitch.
pub fn minor_diameter_55(major: Length, pitch: Length) -> Length {
    major - pitch * 1.280_654
}

/// Pitch diameter of a parallel 60-degree thread.
/// Unit: m. Range: pitch under the diameter. Source: ISO 68-1, three quarters of the triangle's height.
pub fn pitch_diameter_60(major: Length, pitch: Length) -> Length {
    major - pitch * (0.75 * sharp_height_60())
}

/// Minor diameter of a parallel 60-degree thread.
/// Unit: m. Range: pitch under the diameter. Source: ISO 68-1, five quarters of the triangle's height.
pub fn minor_diameter_60(major: Length, pitch: Length) -> Length {
    major - pitch * (1.25 * sharp_height_60())
}

/// Height of the sharp 60-degree triangle over the pitch.
fn sharp_height_60() -> f64 {
    3.0_f64.sqrt() / 2.0
}

/// Pitch diameter of NPT at the small end, E0. The factor of the pitch goes with the pipe in inches.
/// Unit: m. Range: pipes of 1/8 to 2 in. Source: ASME B1.20.1, D − (0.05 D + 1.1) P.
pub fn npt_e0(pipe: Length, pitch: Length) -> Length {
    pipe - pitch * (0.05 * pipe.to_inches() + 1.1)
}

/// Pitch diameter of NPT at the end of the hand-tight length, E1.
/// Unit: m. Range: as its inputs. Source: ASME B1.20.1, E0 + L1/16.
pub fn npt_e1(e0: Length, hand_tight: Length) -> Length {
    e0 + hand_tight * TAPER
}

/// Useful length of a male NPT, L2. The factor of the pitch goes with the pipe in inches.
/// Unit: m. Range: pipes of 1/8 to 2 in. Source: ASME B1.20.1, (0.8 D + 6.8) P.
pub fn npt_l2(pipe: Length, pitch: Length) -> Length {
    pitch * (0.8 * pipe.to_inches() + 6.8)
}

/// Preferred numbers of the series R40 in one decade, rounded as ISO 3 has them.
const R40: [f64; 40] = [
    1.0, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 2.12, 2.24, 2.36, 2.5,
    2.65, 2.8, 3.0, 3.15, 3.35, 3.55, 3.75, 4.0, 4.25, 4.5, 4.75, 5.0, 5.3, 5.6, 6.0, 6.3, 6.7,
    7.1, 7.5, 8.0, 8.5, 9.0, 9.5,
];

/// The nearest preferred number, by ratio, of a value from 100 to just under 1000: tolerances of
/// metric threads are rounded so.
fn preferred(micrometres: f64) -> f64 {
    let away = |number: f64| (number * 100.0 / micrometres).ln().abs();
    let all = R40.into_iter().chain([10.0]);
    all.min_by(|a, b| away(*a).total_cmp(&away(*b)))
        .map_or(micrometres, |number| number * 100.0)
}

fn micrometres(value: f64) -> Length {
    Length::of_si(value * 1e-6)
}

/// Outside diameter of a male metric thread, class 6g.
/// Unit: m. Range: pitches of 0.75 to 3 mm. Source: ISO 965-1: deviation 15 + 11 P, tolerance
/// 180 P^(2/3) − 3.15 P^(−1/2) µm rounded to the series R40, P in mm.
pub fn metric_male_major(size: Length, pitch: Length) -> Limits<Length> {
    let p = pitch.to_mm();
    let high = size - micrometres(15.0 + 11.0 * p);
    let tolerance = preferred(180.0 * p.powf(2.0 / 3.0) - 3.15 / p.sqrt());
    Limits {
        low: high - micrometres(tolerance),
        high,
    }
}

/// Bore of a female metric thread, class 6H.
/// Unit: m. Range: pitches of 1 to 3 mm. Source: ISO 965-1: tolerance 230 P^0.7 µm rounded to the
/// series R40, P in mm.
pub fn metric_female_minor(size: Length, pitch: Length) -> Limits<Length> {
    let low = minor_diameter_60(size, pitch);
    let tolerance = preferred(230.0 * pitch.to_mm().powf(0.7));
    Limits {
        low,
        high: low + micrometres(tolerance),
    }
}

/// Outside diameter of a male unified thread, class 2A. The tolerance of the pitch diameter
/// belongs to an engagement of one diameter in the fine series, of nine pitches in the others.
/// Unit: m. Range: sizes of 1/4 to 2 in. Source: ASME B1.1, formulas of class 2A.
pub fn unified_male_major(size: Length, pitch: Length, fine: bool) -> Limits<Length> {
    let (d, p) = (size.to_inches(), pitch.to_inches());
    let engagement = if fine { d } else { 9.0 * p };
    let of_pitch = p.powf(2.0 / 3.0);
    let pitch_tolerance = 0.0015 * (d.cbrt() + engagement.sqrt()) + 0.015 * of_pitch;
    let high = d - 0.3 * pitch_tolerance;
    Limits {
        low: Length::inches(high - 0.06 * of_pitch),
        high: Length::inches(high),
    }
}

/// Bore of a female unified thread, class 2B.
/// Unit: m. Range: sizes of 1/4 in and over. Source: ASME B1.1, tolerance 0.25 P − 0.4 P², P in inches.
pub fn unified_female_minor(size: Length, pitch: Length) -> Limits<Length> {
    let p = pitch.to_inches();
    let low = minor_diameter_60(size, pitch);
    Limits {
        low,
        high: low + Length::inches(0.25 * p - 0.4 * p * p),
    }
}
