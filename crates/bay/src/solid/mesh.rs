//! A surface of triangles: distances to it, with the side that is solid.

use std::sync::Arc;

use super::Bounds;
use super::behind::Side;
use super::deepest::{self, Deepest};
use super::near::{ALIKE, Near, apart, square_to};
use super::parts::Parts;
use super::tree::{Hit, Tree};
use super::triangle::Triangle;
use crate::Vec3;

/// What lies behind an open surface, where nobody has looked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Behind {
    /// Taken for solid: a hole in the scan is no way through. Of a part that was seen from outside
    /// all that lies between its flat sides and sees more of its back than of its front; else what
    /// lies behind a film over the holes, which is drawn where the surface winds as much as it does
    /// on the mean. As far beyond the box about the surface as that is long, and no farther: there
    /// nothing is told. What reaches out of a hole and was not seen is free: it wants a body of its
    /// own.
    Solid,
    /// Taken for free: the surface is a sheet with two free sides.
    Free,
}

/// Why triangles make no mesh.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NoMesh {
    /// There is no triangle.
    #[error("there is no triangle")]
    Empty,
    /// A triangle names a corner that is not there.
    #[error("triangle {triangle} names a corner that is not there")]
    NoCorner {
        /// Its number, from zero.
        triangle: usize,
    },
    /// A corner is no finite number.
    #[error("corner {corner} is no finite number")]
    NotFinite {
        /// Its number, from zero.
        corner: usize,
    },
    /// More triangles than can be numbered.
    #[error("there are more triangles than can be numbered")]
    TooMany,
}

/// How the triangles of a surface hang together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seams {
    /// Edges that belong to one triangle only.
    pub open: usize,
    /// Edges of more triangles, of which not as many run one way as the other.
    pub odd: usize,
}

impl Seams {
    /// Whether every edge is met as often one way as the other, so that the surface has an inside.
    pub fn closed(&self) -> bool {
        self.open == 0 && self.odd == 0
    }

    /// Counts the edges of the triangles.
    pub fn of(triangles: &[[u32; 3]]) -> Self {
        let mut edges: Vec<(u32, u32, bool)> = triangles
            .iter()
            .flat_map(|[a, b, c]| [(*a, *b), (*b, *c), (*c, *a)])
            .filter(|(from, to)| from != to)
            .map(|(from, to)| (from.min(to), from.max(to), from < to))
            .collect();
        edges.sort_unstable();
        let mut seams = Self { open: 0, odd: 0 };
        for edge in edges.chunk_by(|x, y| (x.0, x.1) == (y.0, y.1)) {
            let along = edge.iter().filter(|edge| edge.2).count();
            if edge.len() == 1 {
                seams.open += 1;
            } else if 2 * along != edge.len() {
                seams.odd += 1;
            }
        }
        seams
    }
}

#[derive(Debug)]
struct Core {
    tree: Tree,
    // Which side is solid; none where neither is.
    side: Option<Side>,
    seams: Seams,
    behind: Behind,
    turned: bool,
}

impl Core {
    /// A box that holds the surface and all that is solid.
    fn extent(&self) -> Bounds {
        match &self.side {
            Some(side) => side.reach,
            None => self.tree.bounds(),
        }
    }
}

/// A surface of triangles with its tree of boxes. Copies share both.
#[derive(Debug, Clone)]
pub struct Mesh {
    core: Arc<Core>,
    at: Vec3,
    grown: f64,
}

/// Below this many m a distance is none.
const TOUCH: f64 = 1e-12;

/// How much farther off than the nearest face another may lie and still press on what touches that, in m.
const CORNER: f64 = 0.015;

/// Where a point is looked for along a segment past an open surface, in m.
const LOOK: f64 = 0.002;

impl Mesh {
    /// A mesh of triangles over corners in m, each counter-clockwise seen from outside. A closed one
    /// is solid within, whichever way each of its parts is turned; a part that lies within another
    /// goes with that one and may be a cavity. What is behind an open one is told by `behind`.
    ///
    /// # Errors
    ///
    /// Where there is no triangle, or one has a corner that is not there or no finite number.
    pub fn new(corners: &[Vec3], triangles: &[[u32; 3]], behind: Behind) -> Result<Self, NoMesh> {
        if triangles.is_empty() {
            return Err(NoMesh::Empty);
        }
        if triangles.len() >= 1 << 30 {
            return Err(NoMesh::TooMany);
        }
        if let Some(corner) = corners.iter().position(|corner| !corner.is_finite()) {
            return Err(NoMesh::NotFinite { corner });
        }
        let bounds = Bounds::of(corners.iter().copied());
        let at = (bounds.low + bounds.high) * 0.5;
        let mut list = Vec::with_capacity(triangles.len());
        for (triangle, names) in triangles.iter().enumerate() {
            let [Some(a), Some(b), Some(c)] = names.map(|name| corners.get(name as usize)) else {
                return Err(NoMesh::NoCorner { triangle });
            };
            list.push(Triangle {
                a: *a - at,
                b: *b - at,
                c: *c - at,
            });
        }
        let seams = Seams::of(triangles);
        let closed = seams.closed();
        let parts = (closed || behind == Behind::Solid).then(|| Parts::of(triangles));
        let turned = match &parts {
            Some(parts) if closed => parts.turn(&mut list),
            _ => false,
        };
        let tree = Tree::new(&list);
        let side = parts.map(|parts| {
            if closed {
                Side::closed(&tree)
            } else {
                Side::open(&tree, &parts.split(&list))
            }
        });
        Ok(Self {
            core: Arc::new(Core {
                tree,
                side,
                seams,
                behind,
                turned,
            }),
            at,
            grown: 0.0,
        })
    }

    /// How many triangles it has.
    pub fn len(&self) -> usize {
        self.core.tree.triangles().len()
    }

    /// Never: a mesh has a triangle.
    pub fn is_empty(&self) -> bool {
        self.core.tree.triangles().is_empty()
    }

    /// How its triangles hang together.
    pub fn seams(&self) -> Seams {
        self.core.seams
    }

    /// What is taken to lie behind it where it is open.
    pub fn behind(&self) -> Behind {
        self.core.behind
    }

    /// Whether it was closed and it or a part of it inside out, so that triangles were turned.
    pub fn turned(&self) -> bool {
        self.core.turned
    }

    /// How far its surface was moved outwards, in m.
    pub fn grown_by(&self) -> f64 {
        self.grown
    }

    /// The same with its surface `by` m farther out, for the error of a scan: nothing is meshed
    /// anew, the distances are less by as much. A sheet with two free sides grows on both.
    #[must_use]
    pub fn grown(&self, by: f64) -> Self {
        Self {
            grown: self.grown + by,
            ..self.clone()
        }
    }

    /// The same moved by `by` m.
    #[must_use]
    pub fn moved(&self, by: Vec3) -> Self {
        Self {
            at: self.at + by,
            ..self.clone()
        }
    }

    /// The corners of its triangles, in m.
    pub fn triangles(&self) -> impl Iterator<Item = [Vec3; 3]> + '_ {
        let at = self.at;
        self.core
            .tree
            .triangles()
            .iter()
            .map(move |triangle| triangle.corners().map(|corner| corner + at))
    }

    /// A box that holds all points at no positive distance from it.
    pub fn bounds(&self) -> Bounds {
        self.core.extent().moved(self.at).grown(self.grown.max(0.0))
    }

    /// How often the surface winds about the point: one inside a closed surface, none outside, and
    /// between for an open one. The far parts count by a series, which may be off by three hundredths.
    pub fn winding(&self, p: Vec3) -> f64 {
        let core = &*self.core;
        match &core.side {
            Some(side) => side.winding(&core.tree, p - self.at),
            None => super::winding::Winding::new(&core.tree).at(&core.tree, p - self.at, None),
        }
    }

    /// The winding above which a point counts as behind the surface: one half for a closed one and
    /// for an open one seen from outside, minus one half for a room seen from within, near nothing
    /// for a wall. `None` where both sides are free. Between the flat sides about a part seen from
    /// outside less will do: see [`Behind::Solid`].
    pub fn level(&self) -> Option<f64> {
        self.core.side.as_ref().map(|side| side.level)
    }

    /// Whether the point lies in the solid, the moved surface left aside.
    pub fn holds(&self, p: Vec3) -> bool {
        let core = &*self.core;
        core.side
            .as_ref()
            .is_some_and(|side| side.behind(&core.tree, p - self.at))
    }

    /// Distance in m from the segment to the nearest triangle, whichever side it is on, if that is
    /// at most `within` m. Exact to rounding.
    pub fn gap(&self, a: Vec3, b: Vec3, within: f64) -> Option<f64> {
        let (a, b) = (a - self.at, b - self.at);
        Some(self.core.tree.nearest(a, b, within)?.distance)
    }

    /// The nearest triangle to a point, whichever side it is on: distance and number.
    pub(crate) fn foot(&self, p: Vec3, within: f64) -> Option<(f64, u32)> {
        let p = p - self.at;
        let hit = self.core.tree.nearest(p, p, within)?;
        Some((hit.distance, hit.triangle))
    }

    /// The corners of one triangle by its number, in m.
    pub(crate) fn triangle(&self, number: u32) -> Option<[Vec3; 3]> {
        let triangle = self.core.tree.triangles().get(number as usize)?;
        Some(triangle.corners().map(|corner| corner + self.at))
    }

    /// Distance of a point to one triangle by its number.
    pub(crate) fn gap_to(&self, p: Vec3, triangle: u32) -> f64 {
        let p = p - self.at;
        let triangle = self.core.tree.triangles().get(triangle as usize);
        triangle.map_or(f64::INFINITY, |of| of.nearest_to(p).distance(p))
    }

    /// Least signed distance of the segment to the surface: exact to rounding outside and for a
    /// point; how deep a longer one lies that dips into the solid to a tenth of a micrometre or a
    /// ten-thousandth of the depth. Where two thousand looks do not settle that, it is told as deep
    /// as it can be: then `on_axis` lies less deep than `distance` says. Where an open surface is
    /// solid behind, the side changes in its holes without a surface there: there the distance
    /// jumps, and a dip narrower than 2 mm may pass unseen.
    pub fn near(&self, a: Vec3, b: Vec3, within: f64) -> Option<Near> {
        let within = within + self.grown;
        let (a, b) = (a - self.at, b - self.at);
        let near = self.local(a, b, within)?;
        let grown = Near {
            distance: near.distance - self.grown,
            on_axis: near.on_axis + self.at,
            on_body: near.on_body + near.normal * self.grown + self.at,
            ..near
        };
        Some(grown)
    }

    /// Calls `found` for the nearest place of the surface to a point, no farther than `within` m, and in front of it, no
    /// farther than `press` m and as far as a hose in a corner presses on both, for the nearest of every face that is
    /// turned more than 30° off the nearer ones and is seen as far off them.
    pub(crate) fn each_face(&self, p: Vec3, within: f64, press: f64, found: &mut dyn FnMut(Near)) {
        const FACES: usize = 6;
        let Some(first) = self.near(p, p, within) else {
            return;
        };
        found(first);
        let clear = first.distance + self.grown;
        if clear <= TOUCH || first.distance > press {
            return;
        }
        let q = p - self.at;
        // Unit vectors out of the faces told, and toward the point.
        let mut kept = vec![first.normal];
        let mut near: Vec<(f64, Vec3, Vec3)> = Vec::new();
        let reach = within.min(press).min(first.distance + CORNER) + self.grown;
        // What faces the point as the first face does is passed over before anything of it is reckoned.
        let facing = |triangle: &Triangle| {
            let out = triangle.twice_area();
            out * out.dot(q - triangle.a).signum()
        };
        let other = |triangle: &Triangle| {
            let out = facing(triangle);
            let dot = first.normal.dot(out);
            dot < 0.0 || dot * dot < ALIKE * ALIKE * out.length_squared()
        };
        self.core
            .tree
            .each_within(q, reach, other, &mut |triangle, on, far| {
                let facing = facing(triangle).normalize_or_zero();
                let normal = (q - on) / far.max(TOUCH);
                if apart(first.normal, facing) && apart(first.normal, normal) {
                    near.push((far, facing, normal));
                }
            });
        near.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (far, facing, normal) in near {
            if kept
                .iter()
                .all(|kept| apart(*kept, facing) && apart(*kept, normal))
            {
                found(Near {
                    distance: far - self.grown,
                    on_axis: p,
                    on_body: p - normal * (far - self.grown),
                    normal,
                });
                kept.extend([facing, normal]);
                if kept.len() > 2 * FACES {
                    break;
                }
            }
        }
    }

    fn local(&self, a: Vec3, b: Vec3, within: f64) -> Option<Near> {
        let core = &*self.core;
        let reach = within.max(0.0);
        if !self.reaches(a, b, reach) {
            return None;
        }
        let hit = core.tree.nearest(a, b, reach);
        let dips = self.dips(a, b, hit, reach);
        if dips {
            let side = core.side.as_ref()?;
            if let Some(Deepest { hit: found, most }) = deepest::deepest(&core.tree, side, a, b) {
                let normal = (found.on_mesh - found.on_segment).try_normalize();
                return Near {
                    distance: -most,
                    on_axis: found.on_segment,
                    on_body: found.on_mesh,
                    normal: normal
                        .filter(|_| found.distance > TOUCH)
                        .unwrap_or_else(|| self.facing(found.triangle)),
                }
                .if_within(within);
            }
        }
        let hit = hit?;
        let way = hit.on_segment - hit.on_mesh;
        let normal = if hit.distance > TOUCH {
            way / hit.distance
        } else {
            self.facing(hit.triangle)
        };
        Near {
            distance: hit.distance,
            on_axis: hit.on_segment,
            on_body: hit.on_mesh,
            normal,
        }
        .if_within(within)
    }

    /// The unit vector out of a triangle.
    fn facing(&self, triangle: u32) -> Vec3 {
        let triangle = self.core.tree.triangles().get(triangle as usize);
        let area = triangle.map_or(Vec3::ZERO, Triangle::twice_area);
        area.try_normalize().unwrap_or_else(|| square_to(Vec3::Z))
    }

    /// Whether any point of a segment that is at least `gap` away from all triangles lies behind the
    /// surface.
    fn any_behind(&self, side: &Side, a: Vec3, b: Vec3, gap: f64) -> bool {
        let tree = &self.core.tree;
        if self.core.seams.closed() {
            // All of it is on one side: whichever of its points tells that at once will do.
            return [a, b, (a + b) * 0.5]
                .into_iter()
                .find_map(|p| side.quickly(tree, p))
                .unwrap_or_else(|| side.behind(tree, a));
        }
        side.any_behind(tree, a, b, gap.max(LOOK))
    }

    /// Whether a segment comes within reach of anything solid, as far as its box tells.
    fn reaches(&self, a: Vec3, b: Vec3, reach: f64) -> bool {
        self.core.extent().gap_squared(&Bounds::of([a, b])) <= reach * reach
    }

    /// Whether a segment meets the surface or goes behind it, given what of the surface is within
    /// reach.
    fn dips(&self, a: Vec3, b: Vec3, hit: Option<Hit>, reach: f64) -> bool {
        match &self.core.side {
            None => false,
            Some(_) if hit.is_some_and(|hit| hit.distance <= TOUCH) => true,
            Some(side) => self.any_behind(side, a, b, hit.map_or(reach, |hit| hit.distance)),
        }
    }

    /// Whether a round piece of `radius` about the segment meets the surface or dips into the solid:
    /// cheaper than [`Mesh::near`], which also tells how deep.
    pub fn meets_or_behind(&self, a: Vec3, b: Vec3, radius: f64) -> bool {
        let reach = radius + self.grown;
        if self.grown < 0.0 {
            return self
                .near(a, b, radius)
                .is_some_and(|near| near.distance < radius);
        }
        // A hair less: what only just touches does not meet.
        self.touched(a - self.at, b - self.at, reach * (1.0 - 1e-12))
    }

    fn touched(&self, a: Vec3, b: Vec3, reach: f64) -> bool {
        let core = &*self.core;
        if !self.reaches(a, b, reach) {
            return false;
        }
        if core.tree.any(a, b, reach) {
            return true;
        }
        core.side
            .as_ref()
            .is_some_and(|side| self.any_behind(side, a, b, reach))
    }

    /// As [`Mesh::near`]; of a segment that dips into the solid it tells a depth that it has, which
    /// need not be its greatest.
    pub fn at_most(&self, a: Vec3, b: Vec3, within: f64) -> Option<f64> {
        let within = within + self.grown;
        let (a, b) = (a - self.at, b - self.at);
        let core = &*self.core;
        let reach = within.max(0.0);
        if !self.reaches(a, b, reach) {
            return None;
        }
        let hit = core.tree.nearest(a, b, reach);
        let distance = match &core.side {
            Some(side) if self.dips(a, b, hit, reach) => {
                let looks = [a, (a + b) * 0.5, b];
                let behind = looks.into_iter().filter(|p| side.behind(&core.tree, *p));
                let depths =
                    behind.filter_map(|p| Some(core.tree.nearest(p, p, f64::INFINITY)?.distance));
                -depths.fold(0.0, f64::max)
            }
            _ => hit?.distance,
        };
        (distance <= within).then_some(distance - self.grown)
    }

    /// Whether the straight line meets the surface or begins behind it.
    pub fn blocks(&self, a: Vec3, b: Vec3) -> bool {
        if self.grown < 0.0 {
            return self.near(a, b, 0.0).is_some();
        }
        self.touched(a - self.at, b - self.at, self.grown)
    }
}
