//! Random bays: pins on the bearers, mouths between them, tapes and heights with honest errors.

use reckon::solve::adjust::{Measure, Net, Place, Says, Side, What};

/// A small stream of numbers that is the same for ever (splitmix64, public domain, from memory).
pub(crate) struct Stream(pub(crate) u64);

impl Stream {
    pub(crate) fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Anywhere between, all alike.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

/// How far a tape and a water tube may be off [mm].
pub(crate) const TAPE: f64 = 3.0;
pub(crate) const TUBE: f64 = 4.0;

/// One bay with its true places.
pub(crate) struct Bay {
    pub(crate) net: Net,
    pub(crate) truth: Vec<Place>,
}

/// Whether pins and mouths have their heights.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Heights {
    Measured,
    None,
}

fn apart(a: Place, b: Place) -> f64 {
    ((a[0] - b[0]).powi(2) + (a[1] - b[1]).powi(2) + (a[2] - b[2]).powi(2)).sqrt()
}

/// Four pins near the corners of the bay, six mouths between them, every pin taped to every other
/// and to every mouth: thirty tapes.
pub(crate) fn bay(seed: u64, heights: Heights) -> Bay {
    let mut stream = Stream(seed.wrapping_mul(1_000_003).wrapping_add(17));
    let (long, wide) = (stream.between(900.0, 1800.0), stream.between(600.0, 1200.0));
    let corners = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
    let mut truth: Vec<Place> = corners
        .iter()
        .map(|[x, y]| {
            [
                x * long + stream.between(-120.0, 120.0),
                y * wide + stream.between(-120.0, 120.0),
                stream.between(0.0, 600.0),
            ]
        })
        .collect();
    for _ in 0..6 {
        truth.push([
            stream.between(0.1, 0.9) * long,
            stream.between(0.1, 0.9) * wide,
            stream.between(-200.0, 500.0),
        ]);
    }
    let sigma = |half: f64| half / 3.0_f64.sqrt();
    let mut measured = Vec::new();
    for from in 0..4 {
        for to in from + 1..truth.len() {
            measured.push(Measure {
                what: What::Distance { from, to },
                value: apart(truth[from], truth[to]) + stream.between(-TAPE, TAPE),
                sigma: sigma(TAPE),
            });
        }
    }
    if heights == Heights::Measured {
        for (at, place) in truth.iter().enumerate() {
            measured.push(Measure {
                what: What::Height { at },
                value: place[2] + stream.between(-TUBE, TUBE),
                sigma: sigma(TUBE),
            });
        }
    }
    let says = match heights {
        Heights::Measured => Says::Left([0, 1]),
        Heights::None => {
            let step = |i: usize| [0, 1, 2].map(|k| truth[i][k] - truth[0][k]);
            let (u, v, w) = (step(1), step(2), step(3));
            let triple = u[0] * (v[1] * w[2] - v[2] * w[1]) - u[1] * (v[0] * w[2] - v[2] * w[0])
                + u[2] * (v[0] * w[1] - v[1] * w[0]);
            if triple > 0.0 {
                Says::Anticlockwise([0, 1, 2])
            } else {
                Says::Clockwise([0, 1, 2])
            }
        }
    };
    Bay {
        net: Net {
            points: truth.len(),
            pins: 4,
            measured,
            sides: vec![Side { point: 3, says }],
        },
        truth,
    }
}

/// Puts one blunder of 30 to 300 mm, long or short, into one of the thirty tapes; says which.
pub(crate) fn blunder(bay: &mut Bay, seed: u64) -> (usize, f64) {
    let mut stream = Stream(seed ^ 0x5eed);
    let which = (stream.next() * 30.0) as usize;
    let long = if stream.next() < 0.5 { -1.0 } else { 1.0 };
    let off = long * stream.between(30.0, 300.0);
    bay.net.measured[which].value += off;
    (which, off)
}
