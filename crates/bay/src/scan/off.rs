//! How far a scan lies at most from the surface that stands for it.
//!
//! The distance to one triangle is convex, so over a flat piece it is greatest at a corner. A piece
//! that lies over several triangles of the surface is cut along the edges of the one under its
//! middle, until each part has one triangle that is near enough to all of it.

use super::Raw;
use crate::Vec3;
use crate::solid::Mesh;

/// How far the bound may lie over a distance that there is, in m, and as a share of it.
const FINE: f64 = 1e-6;
const SHARE: f64 = 0.02;

/// What lies over a cut by less than this many m is not cut off, so that no slivers are looked at.
const SLIVER: f64 = 1e-9;

/// Most pieces that one triangle of the scan is cut into.
const PIECES: usize = 200;

/// The foot of a point: its distance and the number of the triangle that it is on.
fn foot(mesh: &Mesh, p: Vec3, hint: Option<u32>) -> Option<(f64, u32)> {
    // A neighbour's triangle bounds what is to be found.
    let within = hint.map_or(f64::INFINITY, |hint| mesh.gap_to(p, hint));
    mesh.foot(p, within * (1.0 + 1e-9) + 1e-12)
        .or_else(|| mesh.foot(p, f64::INFINITY))
}

fn middle_of(piece: &[Vec3]) -> Vec3 {
    piece.iter().copied().sum::<Vec3>() / piece.len().max(1) as f64
}

/// What of a convex piece lies on the one side of a plane, and what on the other, `out` ahead.
/// Either is empty where it is no more than a sliver.
fn cut(piece: &[Vec3], on: Vec3, out: Vec3) -> (Vec<Vec3>, Vec<Vec3>) {
    let out = out.normalize_or_zero();
    let high = |p: Vec3| (p - on).dot(out);
    let (low, top) = piece.iter().fold((0.0_f64, 0.0_f64), |(low, top), p| {
        (low.min(high(*p)), top.max(high(*p)))
    });
    if top <= SLIVER {
        return (piece.to_vec(), Vec::new());
    }
    if low >= -SLIVER {
        return (Vec::new(), piece.to_vec());
    }
    let (mut here, mut there) = (Vec::new(), Vec::new());
    let ahead = piece.iter().cycle().skip(1);
    for (p, q) in piece.iter().zip(ahead) {
        let (from, to) = (high(*p), high(*q));
        if from <= 0.0 {
            here.push(*p);
        }
        if from >= 0.0 {
            there.push(*p);
        }
        if from * to < 0.0 {
            let between = *p + (*q - *p) * (from / (from - to));
            here.push(between);
            there.push(between);
        }
    }
    (here, there)
}

/// A bound on the distance of a scan to a mesh, as it grows.
struct Bound<'a> {
    mesh: &'a Mesh,
    // A distance that there is.
    known: f64,
    most: f64,
}

impl Bound<'_> {
    /// Whether no point of the piece is so far from the triangle that the bound must be looked at
    /// more closely.
    fn will_do(&mut self, piece: &[Vec3], triangle: u32) -> bool {
        let limit = self.known * (1.0 + SHARE) + FINE;
        let mut most = self.most;
        for p in piece {
            let far = self.mesh.gap_to(*p, triangle);
            if far > limit {
                return false;
            }
            most = most.max(far);
        }
        self.most = most;
        true
    }

    /// Looks at one triangle of the scan, given the feet of its corners.
    fn look(&mut self, corners: [Vec3; 3], feet: [u32; 3]) {
        if feet.into_iter().any(|foot| self.will_do(&corners, foot)) {
            return;
        }
        let [mut hint, ..] = feet;
        let mut waiting = vec![corners.to_vec()];
        let mut pieces = 0;
        while let Some(piece) = waiting.pop() {
            if piece.len() < 3 {
                continue;
            }
            let middle = middle_of(&piece);
            let Some((far, under)) = foot(self.mesh, middle, Some(hint)) else {
                continue;
            };
            hint = under;
            self.known = self.known.max(far);
            if self.will_do(&piece, under) {
                continue;
            }
            pieces += 1;
            if pieces > PIECES {
                let radius = piece.iter().map(|p| p.distance(middle));
                let radius = radius.fold(0.0, f64::max);
                let to = piece.iter().map(|p| self.mesh.gap_to(*p, under));
                let to = to.fold(0.0, f64::max);
                self.most = self.most.max(to.min(far + radius));
                continue;
            }
            let inner = self.over(&piece, under, &mut waiting);
            if inner.len() < 3 {
                halve(&piece, middle, &mut waiting);
            } else if !self.will_do(&inner, under) {
                halve(&inner, middle_of(&inner), &mut waiting);
            }
        }
    }

    /// What of a piece lies over a triangle; the rest of it goes to those that wait.
    fn over(&self, piece: &[Vec3], under: u32, waiting: &mut Vec<Vec<Vec3>>) -> Vec<Vec3> {
        let Some([a, b, c]) = self.mesh.triangle(under) else {
            return Vec::new();
        };
        let up = (b - a).cross(c - a);
        let (mut inner, mut rest) = (piece.to_vec(), Vec::new());
        for (from, to) in [(a, b), (b, c), (c, a)] {
            let (here, there) = cut(&inner, from, (to - from).cross(up));
            inner = here;
            rest.push(there);
        }
        if inner.len() >= 3 {
            waiting.extend(rest.into_iter().filter(|piece| piece.len() >= 3));
        }
        inner
    }
}

/// Cuts a piece in two across its length.
fn halve(piece: &[Vec3], middle: Vec3, waiting: &mut Vec<Vec<Vec3>>) {
    let ways = piece.iter().map(|p| *p - middle);
    let longest = ways.max_by(|x, y| x.length_squared().total_cmp(&y.length_squared()));
    if let Some(way) = longest {
        let (here, there) = cut(piece, middle, way);
        waiting.extend([here, there]);
    }
}

/// No point of the scan's triangles is farther from the mesh, in m. It is at most a fiftieth more
/// than the distance of one that is there, unless a triangle of it would not do in many pieces.
pub(super) fn farthest(scan: &Raw, mesh: &Mesh) -> f64 {
    let mut hint = None;
    let mut known: f64 = 0.0;
    let feet: Vec<u32> = scan
        .corners
        .iter()
        .map(|corner| {
            let (far, under) = foot(mesh, *corner, hint).unwrap_or((0.0, 0));
            known = known.max(far);
            hint = Some(under);
            under
        })
        .collect();
    let mut bound = Bound {
        mesh,
        known,
        most: known,
    };
    for names in &scan.triangles {
        let corner = |name: u32| scan.corners.get(name as usize).copied();
        let foot = |name: u32| feet.get(name as usize).copied();
        if let ([Some(a), Some(b), Some(c)], [Some(x), Some(y), Some(z)]) =
            (names.map(corner), names.map(foot))
        {
            bound.look([a, b, c], [x, y, z]);
        }
    }
    bound.most.max(bound.known)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::Behind;

    #[test]
    fn the_farthest_point_need_be_no_corner_and_no_middle() {
        // A ridge, and the same four corners with the other diagonal: a saddle below it.
        let corners = vec![
            Vec3::new(-1.0, 0.0, 0.0),
            Vec3::new(0.0, -0.2, -0.2),
            Vec3::new(1.0, 0.0, 0.0),
            Vec3::new(0.0, 0.2, -0.2),
        ];
        let mesh = Mesh::new(&corners, &[[0, 1, 3], [1, 2, 3]], Behind::Free).expect("a mesh");
        let scan = Raw {
            corners,
            triangles: vec![[0, 1, 2], [0, 2, 3]],
        };
        // The middle of the ridge over the plane of a triangle, which falls by a fifth.
        let there_is = 0.2 / 1.04_f64.sqrt();
        let told = farthest(&scan, &mesh);
        assert!(
            told >= there_is && told <= 1.021 * there_is,
            "{told} for {there_is}"
        );
        // The corners of the scan lie on the surface, the middles of its triangles by a third nearer.
        let middle = Vec3::new(0.0, -0.2, -0.2) / 3.0;
        let few = mesh.gap(middle, middle, f64::INFINITY).expect("no bound");
        assert!(few < 0.7 * there_is, "{few}");
    }
}
