//! Small sums of the survey: a girth to its diameter, an axis from two ends.

use std::f64::consts::PI;

/// The diameter of a round thing and its standard uncertainty, from girth and that of the girth.
pub fn diameter_of_girth(girth: f64, sigma: f64) -> (f64, f64) {
    (girth / PI, sigma / PI)
}

/// How far an axis may point wrong [rad], where each of its two ends may lie off by so much across
/// it and they are so far apart.
///
/// The two ends are measured apart, so that their widths add as squares do. Source: geometry.
pub fn axis_width(off: f64, apart: f64) -> f64 {
    (std::f64::consts::SQRT_2 * off).atan2(apart)
}
