//! A second look at a shape that shares nothing with the solver: by its points and by statics.

use bay::Vec3;
use bay::rod::{End, Far, Lay, Rod};

/// A mouth.
pub(crate) fn end(at: [f64; 3], along: [f64; 3]) -> End {
    End {
        at: Vec3::from_array(at),
        along: Vec3::from_array(along).normalize(),
    }
}

/// An arch between facing mouths on the x axis: length and stiffness one, no weight.
pub(crate) fn arch(chord: f64, edges: usize) -> Rod {
    let mut rod = Rod::between(
        end([0.0; 3], [1.0, 0.0, 0.0]),
        end([chord, 0.0, 0.0], [-1.0, 0.0, 0.0]),
        1.0,
        1.0,
        0.0,
    );
    rod.edges = edges;
    rod
}

pub(crate) fn near(value: f64, wanted: f64, tolerance: f64, what: &str) {
    assert!(
        (value - wanted).abs() <= tolerance,
        "{what}: {value}, not {wanted} within {tolerance}"
    );
}

/// Whether a value agrees to a share of what is wanted.
pub(crate) fn like(value: f64, wanted: f64, share: f64, what: &str) {
    near(value, wanted, share * wanted.abs(), what);
}

/// Curvature [1/m] of the circle through three points.
fn circle(a: Vec3, b: Vec3, c: Vec3) -> f64 {
    let area = (b - a).cross(c - a).length();
    2.0 * area / ((b - a).length() * (c - b).length() * (c - a).length())
}

/// Looks at a shape by its points: length, ends, energy, curvature, balance of the whole, and at
/// every joint the moment by statics against the stiffness times the curvature of the points.
/// `loose` is the share of the greatest moment by which the last may be off.
pub(crate) fn recheck(rod: &Rod, lay: &Lay, loose: f64) -> Result<(), String> {
    let x = &lay.points;
    let n = x.len();
    let span = rod.length / rod.edges as f64;
    let wrong = |what: String| -> Result<(), String> { Err(what) };
    // Length of every edge, and of the whole.
    for (i, pair) in x.windows(2).enumerate() {
        let wanted = if i == 0 || i + 2 == n {
            span / 2.0
        } else {
            span
        };
        if ((pair[1] - pair[0]).length() - wanted).abs() > 1e-9 * rod.length {
            return wrong(format!("edge {i} has {}", (pair[1] - pair[0]).length()));
        }
    }
    // Ends.
    if (x[0] - rod.a.at).length() > 1e-9 {
        return wrong("the first end is off".to_owned());
    }
    if ((x[1] - x[0]).normalize() - rod.a.along).length() > 1e-9 {
        return wrong("the first direction is off".to_owned());
    }
    if let Far::Clamped(b) = rod.b {
        if (x[n - 1] - b.at).length() > 1e-9 * rod.length {
            return wrong(format!(
                "the far end is off by {}",
                (x[n - 1] - b.at).length()
            ));
        }
        if ((x[n - 1] - x[n - 2]).normalize() + b.along).length() > 1e-9 {
            return wrong("the far direction is off".to_owned());
        }
    }
    // Energy.
    let mut bending = 0.0;
    let mut raised = 0.0;
    for i in 1..n - 1 {
        let (s, t) = ((x[i] - x[i - 1]).normalize(), (x[i + 1] - x[i]).normalize());
        let angle = s.cross(t).length().atan2(s.dot(t));
        bending += rod.stiffness * angle * angle / (2.0 * span);
    }
    for pair in x.windows(2) {
        let middle = (pair[0] + pair[1]) / 2.0;
        raised -= rod.weight * (pair[1] - pair[0]).length() * middle.dot(rod.down);
    }
    let scale = bending.abs() + raised.abs() + 1e-12;
    if (bending - lay.bending).abs() > 1e-7 * scale || (raised - lay.weight).abs() > 1e-7 * scale {
        return wrong(format!(
            "energies {} and {}, by the points {bending} and {raised}",
            lay.bending, lay.weight
        ));
    }
    // Balance of the whole: what holds the hose pushes back.
    let mut force = -lay.force_a - lay.force_b + rod.down * (rod.weight * rod.length);
    let mut moment = -lay.moment_a - lay.moment_b;
    if let Far::Free(load) = rod.b {
        force += load;
        moment += (x[n - 1] - x[0]).cross(load);
    }
    moment += (x[n - 1] - x[0]).cross(-lay.force_b);
    for pair in x.windows(2) {
        let middle = (pair[0] + pair[1]) / 2.0;
        let weight = rod.down * (rod.weight * (pair[1] - pair[0]).length());
        moment += (middle - x[0]).cross(weight);
    }
    for contact in &lay.contacts {
        force += contact.force;
        moment += (contact.at - x[0]).cross(contact.force);
    }
    for (support, on) in rod.supports.iter().zip(&lay.on_supports) {
        force -= *on;
        moment -= (support.at - x[0]).cross(*on);
    }
    let size = lay.force_a.length()
        + lay.force_b.length()
        + rod.weight * rod.length
        + rod.stiffness / (rod.length * rod.length);
    if force.length() > 1e-6 * size {
        return wrong(format!("forces leave {force} of {size}"));
    }
    if moment.length() > 1e-6 * size * rod.length {
        return wrong(format!("moments leave {moment} of {}", size * rod.length));
    }
    // Statics at every joint: the part before it is held by the first mouth and loaded.
    let most = lay.curvature.iter().fold(0.0_f64, |m, k| m.max(*k)) * rod.stiffness + 1e-9;
    for i in 1..n - 1 {
        let mut m = lay.moment_a + (x[i] - x[0]).cross(-lay.force_a);
        for pair in x.windows(2).take(i) {
            let middle = (pair[0] + pair[1]) / 2.0;
            let weight = rod.down * (rod.weight * (pair[1] - pair[0]).length());
            m -= (middle - x[i]).cross(weight);
        }
        for contact in &lay.contacts {
            if contact.arc < lay.arcs[i] {
                m -= (contact.at - x[i]).cross(contact.force);
            }
        }
        for (support, on) in rod.supports.iter().zip(&lay.on_supports) {
            if support.arc < lay.arcs[i] {
                m += (support.at - x[i]).cross(*on);
            }
        }
        m += (x[i] - x[0]).cross(Vec3::ZERO);
        let (s, t) = ((x[i] - x[i - 1]).normalize(), (x[i + 1] - x[i]).normalize());
        let axis = s.cross(t).normalize_or_zero();
        // Half edges at the ends make the circle through three points another one there.
        let bow = if i == 1 || i + 2 == n {
            2.0 * (s.cross(t).length() / (1.0 + s.dot(t))) / span
        } else {
            circle(x[i - 1], x[i], x[i + 1])
        };
        let off = (m - axis * (bow * rod.stiffness)).length();
        // A moment along the hose would be twist: there is none.
        if off > loose * most {
            return wrong(format!(
                "at joint {i} statics give {m}, the curve {}",
                axis * (bow * rod.stiffness)
            ));
        }
    }
    if lay.residual > 1e-6 * (most + size * rod.length) {
        return wrong(format!("an imbalance of {} is left", lay.residual));
    }
    Ok(())
}
