"""Distances, depths and turns by a general-purpose collision library and others.

Lengths in m. A place is written `x y z`, a list of them with semicolons between. A turned box is
`center; half; turn`, the turn a rotation vector. A ring is `radius bar along around`: a torus of so
many cells about z, built alike in the test.
"""

import fcl
import numpy
import scipy
import trimesh
from scipy.optimize import linprog
from scipy.spatial import ConvexHull
from scipy.spatial.transform import Rotation

from importlib.metadata import version

from table import Table

FCL = f"python-fcl {version('python-fcl')}"
SCIPY = f"scipy {scipy.__version__}"
TRIMESH = f"trimesh {trimesh.__version__}"

# The library iterates to a millionth of its unit.
FINE = 5e-6


def text(*places) -> str:
    return "; ".join(" ".join(f"{value:.6g}" for value in place) for place in places)


def read(written: str) -> list[numpy.ndarray]:
    return [numpy.array([float(word) for word in place.split()]) for place in written.split(";")]


def along(a, b):
    """The turn and shift that bring z and the origin to the line from a to b and its middle."""
    way = (b - a) / numpy.linalg.norm(b - a)
    turn = Rotation.align_vectors([way], [[0.0, 0.0, 1.0]])[0]
    return fcl.Transform(turn.as_matrix(), (a + b) / 2)


def bar(kind, a, b, radius):
    return fcl.CollisionObject(kind(radius, float(numpy.linalg.norm(b - a))), along(a, b))


def gap(one, other) -> float:
    return fcl.distance(one, other, fcl.DistanceRequest(), fcl.DistanceResult())


def convex(points):
    hull = ConvexHull(points)
    names = {old: new for new, old in enumerate(hull.vertices)}
    faces = []
    for simplex, equation in zip(hull.simplices, hull.equations):
        p, q, r = (points[k] for k in simplex)
        order = simplex if numpy.dot(numpy.cross(q - p, r - p), equation[:3]) > 0 else simplex[::-1]
        faces += [3] + [names[k] for k in order]
    return fcl.CollisionObject(fcl.Convex(points[hull.vertices], len(hull.simplices), numpy.array(faces)))


def ring(radius, bar_radius, cells, around):
    phi, theta = (2 * numpy.pi * numpy.arange(n) / n for n in (cells, around))
    out = radius + bar_radius * numpy.cos(theta)
    corners = [[o * numpy.cos(p), o * numpy.sin(p), bar_radius * numpy.sin(t)] for p in phi for o, t in zip(out, theta)]
    faces = []
    for k in range(cells):
        for n in range(around):
            name = lambda k, n: (k % cells) * around + n % around
            a, b, c, d = name(k, n), name(k + 1, n), name(k, n + 1), name(k + 1, n + 1)
            faces += [[a, b, d], [a, d, c]]
    return numpy.array(corners), numpy.array(faces)


def mesh(corners, faces):
    model = fcl.BVHModel()
    model.beginModel(len(faces), len(corners))
    model.addSubModel(corners, faces)
    model.endModel()
    return fcl.CollisionObject(model, fcl.Transform())


def apart(random, body, radius):
    """A piece of hose that is clear of the body, as written and as an object."""
    while True:
        a = random.uniform(-0.7, 0.7, 3)
        b = a + random.uniform(-0.3, 0.3, 3)
        written = text(a, b)
        a, b = read(written)
        piece = bar(fcl.Capsule, a, b, radius)
        if min(gap(piece, one) for one in body) > 0.02:
            return written, piece


def depth(planes, a, b) -> float:
    """The least over a segment of the greatest of the planes, as a linear program: t and depth."""
    rise = planes[:, :3] @ (b - a)
    start = planes[:, :3] @ a + planes[:, 3]
    found = linprog([0, 1], A_ub=numpy.column_stack([rise, -numpy.ones(len(rise))]), b_ub=-start, bounds=[(0, 1), (None, None)], options={"dual_feasibility_tolerance": 1e-10, "primal_feasibility_tolerance": 1e-10})
    return float(found.x[1])


def tables() -> list[Table]:
    """Gaps, depths, sight and laying in."""
    table = Table(
        "crates/bay/validation/bay_sibling.csv",
        "Gaps and depths of round pieces beside bodies, and scans laid in by points. Lengths in m.\n"
        "piece: the two ends of its middle line; radius: its own; body and size: see references/bay.py;\n"
        "pairs: the points in the scan, then as many in the boat.\n"
        "Written by references/bay.py; do not edit.",
        ["piece", "radius", "body", "size", "pairs", "point"],
    )
    random = numpy.random.default_rng(40)
    radius = 0.024
    for _ in range(5):
        body = text(random.uniform(-0.2, 0.2, 3), random.uniform(0.05, 0.3, 3), random.uniform(-2, 2, 3))
        center, half, turn = read(body)
        there = fcl.CollisionObject(fcl.Box(*(2 * half)), fcl.Transform(Rotation.from_rotvec(turn).as_matrix(), center))
        piece, thing = apart(random, [there], radius)
        table.add("box_gap", FCL, gap(thing, there), FINE, piece=piece, radius=radius, body=body)
        # In the box: the planes of its faces.
        out = numpy.vstack([sign * Rotation.from_rotvec(turn).as_matrix().T for sign in (1, -1)])
        planes = numpy.column_stack([out, -(out @ center) - numpy.concatenate([half, half])])
        inner = text(center + random.uniform(-0.04, 0.04, 3), center + random.uniform(-0.6, 0.6, 3))
        table.add("box_depth", f"{SCIPY}, linprog", depth(planes, *read(inner)), 1e-9, piece=inner, radius=0, body=body)
    for name, kind in [("cylinder_gap", fcl.Cylinder), ("capsule_gap", fcl.Capsule)]:
        for _ in range(5):
            body = text(random.uniform(-0.3, 0.3, 3), random.uniform(-0.3, 0.3, 3))
            size = round(random.uniform(0.03, 0.25), 4)
            there = bar(kind, *read(body), size)
            piece, thing = apart(random, [there], radius)
            table.add(name, FCL, gap(thing, there), FINE, piece=piece, radius=radius, body=body, size=size)
    for _ in range(5):
        body = text(*(random.uniform(-0.3, 0.3, 3) for _ in range(4)))
        size = 0.03
        points = read(body)
        there = [bar(fcl.Capsule, a, b, size) for a, b in zip(points, points[1:])]
        piece, thing = apart(random, there, radius)
        table.add("tube_gap", FCL, min(gap(thing, one) for one in there), FINE, piece=piece, radius=radius, body=body, size=size)
    for _ in range(5):
        body = text(*(random.uniform(-0.35, 0.35, 3) for _ in range(9)))
        points = numpy.array(read(body))
        there = convex(points)
        piece, thing = apart(random, [there], radius)
        table.add("hull_gap", FCL, gap(thing, there), FINE, piece=piece, radius=radius, body=body)
        middle = points.mean(axis=0)
        inner = text(middle, middle + random.uniform(-0.5, 0.5, 3))
        table.add("hull_depth", f"{SCIPY}, linprog", depth(ConvexHull(points).equations, *read(inner)), 1e-9, piece=inner, radius=0, body=body)
    # A box that swings from where it is to two other places sweeps the hull of all its corners.
    for _ in range(5):
        body = text(random.uniform(-0.2, 0.2, 3), random.uniform(0.05, 0.15, 3), random.uniform(-2, 2, 3))
        places = text([0, 0, 0], random.uniform(-0.2, 0.2, 3), random.uniform(-0.2, 0.2, 3))
        center, half, turn = read(body)
        signs = numpy.array([[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)])
        corners = center + Rotation.from_rotvec(turn).apply(signs * half)
        there = convex(numpy.vstack([corners + place for place in read(places)]))
        piece, thing = apart(random, [there], radius)
        table.add("swept_gap", FCL, gap(thing, there), FINE, piece=piece, radius=radius, body=body, size=places)
    for cells, around in [(12, 6), (20, 9), (31, 14), (40, 16), (60, 21)]:
        size = f"{random.uniform(0.2, 0.35):.4g} {random.uniform(0.05, 0.12):.4g} {cells} {around}"
        bends, thick = (float(word) for word in size.split()[:2])
        corners, faces = ring(bends, thick, cells, around)
        there = mesh(corners, faces)
        piece, thing = apart(random, [there], radius)
        table.add("mesh_gap", FCL, gap(thing, there), FINE, piece=piece, radius=radius, size=size)
        # Points in the bar: how deep, by the library of meshes.
        angle = random.uniform(0, 6)
        inner = bends + random.uniform(-0.5, 0.5) * thick
        point = text([inner * numpy.cos(angle), inner * numpy.sin(angle), random.uniform(-0.5, 0.5) * thick])
        whole = trimesh.Trimesh(corners, faces, process=False)
        deep = -trimesh.proximity.signed_distance(whole, read(point))[0]
        table.add("mesh_depth", TRIMESH, deep, 1e-9, size=size, point=point)
        # Whether the straight line past the ring meets it.
        a = random.uniform(-0.45, 0.45, 3)
        line = text(a, random.uniform(-0.45, 0.45, 3))
        a, b = read(line)
        meets = whole.ray.intersects_location([a], [b - a], multiple_hits=True)[0]
        blocked = any(0 <= numpy.dot(hit - a, b - a) <= numpy.dot(b - a, b - a) for hit in meets)
        table.add("mesh_blocks", TRIMESH, float(blocked), 0.0, piece=line, size=size)
    for count in [3, 4, 5, 6, 8]:
        scan = [random.uniform(-0.8, 0.8, 3) for _ in range(count)]
        turn = Rotation.from_rotvec(random.uniform(-2.5, 2.5, 3))
        shift = random.uniform(-1, 1, 3)
        boat = [turn.apply(place) * 1.01 + shift + random.uniform(-0.005, 0.005, 3) for place in scan]
        pairs = text(*scan, *boat)
        both = numpy.array(read(pairs))
        scan, boat = both[:count], both[count:]
        point = text(random.uniform(-1, 1, 3))
        found, _ = Rotation.align_vectors(boat - boat.mean(axis=0), scan - scan.mean(axis=0))
        place = lambda p: found.apply(p - scan.mean(axis=0)) + boat.mean(axis=0)
        off = numpy.linalg.norm(place(scan) - boat, axis=1)
        aligned = f"{SCIPY}, Rotation.align_vectors"
        table.add("lay_rms", aligned, float(numpy.sqrt((off**2).mean())), 1e-9, pairs=pairs)
        table.add("lay_worst", aligned, float(off.max()), 1e-9, pairs=pairs)
        for axis, name in enumerate(["x", "y", "z"]):
            table.add(f"laid_{name}", aligned, float(place(read(point)[0])[axis]), 1e-9, pairs=pairs, point=point)
        moved, _, cost = trimesh.registration.procrustes(scan, boat, reflection=False, translation=True, scale=True)
        table.add("lay_scale", f"{TRIMESH}, procrustes", float(numpy.linalg.det(moved[:3, :3])) ** (1 / 3), 2e-4, pairs=pairs)
    return [table]


if __name__ == "__main__":
    for made in tables():
        made.write()
