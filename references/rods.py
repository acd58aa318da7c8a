"""Shapes of hoses: the rod's equations as a boundary value problem, and the elastica by elliptic integrals.

The rod: r' = t, t' = m x t / EI, m' = n x t, n' = w z, with twelve unknowns and no edges at all.
"""

import numpy
import scipy
from scipy.integrate import cumulative_simpson, solve_bvp
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq, minimize
from scipy.special import ellipe, ellipk

from table import Table

BVP = f"scipy {scipy.__version__}, solve_bvp"
ELLIPTIC = f"scipy {scipy.__version__}, ellipk and ellipe"

# How far sixty edges may be from no edges: the square of the edge, about a third of a percent.
COARSE = 4e-3

# First end and direction, far end and direction out of it, length, stiffness, weight.
HOSES = [
    ([0, 0, 0], [1, 0, 0], [0.4, 0.1, 0.15], [0, 0, 1], 0.75, 1.2, 17.0),
    ([0, 0, 0], [1, 0, 0], [0.5, 0.0, 0.0], [-1, 0, 0], 0.62, 0.8, 12.0),
    ([0, 0, 0], [0, 1, 0], [0.35, 0.3, -0.2], [0, 0, 1], 0.7, 2.0, 17.0),
    ([0, 0, 0], [1, 0, 0], [0.25, 0.25, 0.0], [0, -1, 0], 0.42, 1.0, 0.0),
    ([0, 0, 0], [0, 0, 1], [0.3, -0.2, 0.25], [0.6, 0, 0.8], 0.8, 3.0, 17.0),
]


def guess(p0, t0, p1, t1, length, stiffness, weight, x):
    """A coarse shape of least energy by another way: twenty links under a general minimiser."""
    links = 20
    span = length / links

    def ways(flat):
        d = flat.reshape(links, 3)
        return d / numpy.linalg.norm(d, axis=1)[:, None]

    def energy(flat):
        t = ways(flat)
        chain = numpy.vstack([t0, t, t1])
        turns = numpy.diff(chain, axis=0)
        # Half a link lies between the clamps and the outermost links' middles.
        weighed = numpy.full(links + 1, 1.0)
        weighed[0] = weighed[-1] = 2.0
        places = numpy.cumsum(t, axis=0) * span
        bending = stiffness / (2 * span) * (weighed * (turns**2).sum(axis=1)).sum()
        return bending + weight * span * (places[:, 2] - t[:, 2] * span / 2).sum()

    def closed(flat):
        return p0 + ways(flat).sum(axis=0) * span - p1

    def begin():
        s = numpy.linspace(0, 1, links)[:, None]
        bow = numpy.array([0.05, 0.03, -1.0]) * numpy.cos(numpy.pi * s) * (length / numpy.linalg.norm(p1 - p0) - 1)
        t = t0 * (1 - s) ** 2 + t1 * s**2 + 2 * s * (1 - s) * (p1 - p0) / numpy.linalg.norm(p1 - p0) + 2 * bow * (1 - s) * s
        return t.ravel()

    least = minimize(
        energy, begin(), constraints={"type": "eq", "fun": closed}, method="SLSQP",
        options={"maxiter": 300, "ftol": 1e-8},
    )
    if numpy.linalg.norm(closed(least.x)) > 1e-5:
        raise RuntimeError(f"no coarse shape: {least.message}")
    t = numpy.vstack([t0, ways(least.x), t1])
    at = numpy.hstack([0, (numpy.arange(links) + 0.5) / links, 1])
    t = CubicSpline(at, t)(x).T
    t /= numpy.linalg.norm(t, axis=0)
    r = p0[:, None] + numpy.vstack([cumulative_simpson(row, x=x * length, initial=0) for row in t])
    bend = numpy.gradient(t, x * length, axis=1)
    return r, t, stiffness * numpy.cross(t, bend, axis=0)


def hose(p0, a0, p1, a1, length, stiffness, weight):
    """The shape next to the coarse one: position, direction, moment, force along the hose."""
    p0, a0, p1, a1 = (numpy.array(v, dtype=float) for v in (p0, a0, p1, a1))
    end = -a1
    across = numpy.linalg.svd(end.reshape(1, 3))[2][1:]

    def slope(weight):
        def by(s, y):
            t, m, n = y[3:6], y[6:9], y[9:12]
            weigh = numpy.zeros_like(n)
            weigh[2] = weight
            return numpy.vstack(
                [t, numpy.cross(m, t, axis=0) / stiffness, numpy.cross(n, t, axis=0), weigh]
            )

        return by

    def ends(a, b):
        return numpy.hstack(
            [a[0:3] - p0, a[3:6] - a0, [a[6:9] @ a0], b[0:3] - p1, across @ b[3:6]]
        )

    x = numpy.linspace(0, 1, 201)
    r, t, m = guess(p0, a0, p1, end, length, stiffness, weight, x)
    # The force is what balances the moment across the hose; its part along it is found.
    force = numpy.cross(t, numpy.gradient(m, x * length, axis=1), axis=0)
    y = numpy.vstack([r, t, m, force])
    at = x * length
    for close in [1e-2, 1e-4, 1e-7]:
        solved = solve_bvp(slope(weight), ends, at, y, tol=close, max_nodes=100000)
        if not solved.success or numpy.dot(solved.y[3:6, -1], end) < 0.9:
            raise RuntimeError(f"no shape: {solved.message}")
        at, y = solved.x, solved.y
    return solved


def droop(own, load):
    """Clamped level, own weight and tip load over stiffness: angle and its slope along the overhang."""
    def slope(s, y):
        return numpy.vstack([y[1], (own * (1 - s) + load) * numpy.cos(y[0]), numpy.sin(y[0]), numpy.cos(y[0])])

    def ends(a, b):
        return numpy.array([a[0], b[1], a[2], a[3]])

    s = numpy.linspace(0, 1, 201)
    y = numpy.zeros((4, s.size))
    y[3] = s
    whole = (own, load)
    # The load comes on by and by.
    for share in numpy.linspace(0.05, 1, 20):
        own, load = share * whole[0], share * whole[1]
        solved = solve_bvp(slope, ends, s, y, tol=1e-5 if share < 1 else 1e-10, max_nodes=100000)
        if not solved.success:
            raise RuntimeError(solved.message)
        s, y = solved.x, solved.y
    return -solved.y[2, -1], solved.y[3, -1], -solved.y[0, -1]


def told(values) -> str:
    return " ".join(f"{value:g}" for value in values)


def tables() -> list[Table]:
    table = Table(
        "crates/bay/validation/rod_sibling.csv",
        "Shapes of hoses: m, N m², N/m; ends as three numbers, a1 out of the far mouth. Droop over the overhang\n"
        "by w L³ / EI and P L² / EI.\n"
        "Written by references/rods.py; do not edit.",
        ["p0", "a0", "p1", "a1", "length", "stiffness", "weight", "own", "load", "drop"],
    )
    for p0, a0, p1, a1, length, stiffness, weight in HOSES:
        solved = hose(p0, a0, p1, a1, length, stiffness, weight)
        s = numpy.linspace(0, length, 4001)
        y = solved.sol(s)
        bend = numpy.linalg.norm(y[6:9], axis=0) / stiffness
        middle = solved.sol(length / 2)
        given = {
            "p0": told(p0), "a0": told(a0), "p1": told(p1), "a1": told(a1),
            "length": length, "stiffness": stiffness, "weight": weight,
        }
        radius = 1 / bend.max()
        energy = scipy.integrate.simpson(bend**2, x=s) * stiffness / 2
        force = numpy.linalg.norm(y[9:12, 0])
        moment = numpy.linalg.norm(y[6:9, 0])
        table.add("least_radius", BVP, radius, COARSE * radius, **given)
        table.add("bending_energy", BVP, energy, COARSE * energy, **given)
        table.add("middle_x", BVP, middle[0], 1e-3 * length, **given)
        table.add("middle_y", BVP, middle[1], 1e-3 * length, **given)
        table.add("middle_z", BVP, middle[2], 1e-3 * length, **given)
        table.add("force_x", BVP, y[9, 0], COARSE * force, **given)
        table.add("force_z", BVP, y[11, 0], COARSE * force, **given)
        table.add("moment", BVP, moment, COARSE * moment, **given)
    for chord in [0.99, 0.95, 0.9, 0.85, 0.8]:
        m = brentq(lambda m: 2 * ellipe(m) / ellipk(m) - 1 - chord, 1e-6, 0.8)
        k = ellipk(m)
        given = {
            "p0": "0 0 0", "a0": "1 0 0", "p1": told([chord, 0, 0]), "a1": "-1 0 0",
            "length": 1, "stiffness": 1, "weight": 0,
        }
        table.add("arch_offset", ELLIPTIC, numpy.sqrt(m) / k, COARSE * numpy.sqrt(m) / k, **given)
        table.add("arch_force", ELLIPTIC, 16 * k * k, COARSE * 16 * k * k, **given)
        radius = 1 / (8 * numpy.sqrt(m) * k)
        table.add("least_radius", ELLIPTIC, radius, COARSE * radius, **given)
    for own, load in [(1, 0), (5, 0), (12, 0), (0, 3), (4, 2)]:
        drop, reach, tip = droop(own, load)
        given = {"own": own, "load": load}
        table.add("droop", BVP, drop, 1e-6, **given)
        table.add("droop_reach", BVP, reach, 1e-6, **given)
        table.add("droop_tip", BVP, tip, 1e-6, **given)
        # An overhang of 0.4 m of a stiffness of 0.8 N m².
        given = {"length": 0.4, "drop": f"{0.4 * drop:.9f}", "weight": own * 0.8 / 0.4**3, "load": load * 0.8 / 0.4**2}
        table.add("stiffness_from_droop", BVP, 0.8, 1e-4, **given)
    return [table]
