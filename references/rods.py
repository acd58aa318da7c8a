"""Shapes of hoses: the rod's equations as a boundary value problem, and the elastica by elliptic integrals.

The rod: r' = t, t' = m x t / EI, m' = n x t, n' = w z, with twelve unknowns and no edges at all.
"""

import numpy
import scipy
from scipy.integrate import solve_bvp
from scipy.optimize import brentq
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


def guess(p0, t0, p1, t1, length, x):
    """A cubic between the ends whose length is about right, with directions; no forces."""
    def cubic(speed):
        h = [2 * x**3 - 3 * x**2 + 1, x**3 - 2 * x**2 + x, 3 * x**2 - 2 * x**3, x**3 - x**2]
        return (
            numpy.outer(p0, h[0]) + speed * numpy.outer(t0, h[1])
            + numpy.outer(p1, h[2]) + speed * numpy.outer(t1, h[3])
        )

    def measure(speed):
        return numpy.linalg.norm(numpy.diff(cubic(speed), axis=1), axis=0).sum()

    try:
        speed = brentq(lambda s: measure(s) - length, 0.2 * length, 9 * length)
        r = cubic(speed)
    except ValueError:
        # Facing ends: a bow hanging down.
        def bow(depth):
            r = cubic(length)
            r[2] -= depth * numpy.sin(numpy.pi * x) ** 2
            return r

        depth = brentq(
            lambda d: numpy.linalg.norm(numpy.diff(bow(d), axis=1), axis=0).sum() - length, 0, length
        )
        r = bow(depth)
    t = numpy.gradient(r, x, axis=1)
    t /= numpy.linalg.norm(t, axis=0)
    bend = numpy.gradient(t, x * length, axis=1)
    return r, t, numpy.cross(t, bend, axis=0)


def hose(p0, a0, p1, a1, length, stiffness, weight):
    """The lowest shape found, from the cubic: position, direction, moment, force along the hose."""
    p0, a0, p1, a1 = (numpy.array(v, dtype=float) for v in (p0, a0, p1, a1))
    end = -a1
    across = numpy.linalg.svd(end.reshape(1, 3))[2][1:]

    def slope(s, y):
        r, t, m, n = y[0:3], y[3:6], y[6:9], y[9:12]
        weigh = numpy.zeros_like(n)
        weigh[2] = weight
        return numpy.vstack(
            [t, numpy.cross(m, t, axis=0) / stiffness, numpy.cross(n, t, axis=0), weigh]
        )

    def ends(a, b):
        return numpy.hstack(
            [a[0:3] - p0, a[3:6] - a0, [a[6:9] @ a0], b[0:3] - p1, across @ b[3:6]]
        )

    x = numpy.linspace(0, 1, 201)
    r, t, m = guess(p0, a0, p1, end, length, x)
    y = numpy.vstack([r, t, stiffness * m, numpy.zeros((3, x.size))])
    y[11] = weight * length * (x - 0.5)
    solved = solve_bvp(slope, ends, x * length, y, tol=1e-8, max_nodes=200000)
    if not solved.success or numpy.dot(solved.y[3:6, -1], end) < 0.9:
        raise RuntimeError(f"no shape: {solved.message}")
    return solved


def droop(own, load):
    """Clamped level, own weight and tip load over stiffness: angle and its slope along the overhang."""
    def slope(s, y):
        return numpy.vstack([y[1], -(own * (1 - s) + load) * numpy.cos(y[0]), numpy.sin(y[0]), numpy.cos(y[0])])

    def ends(a, b):
        return numpy.array([a[0], b[1], a[2], a[3]])

    s = numpy.linspace(0, 1, 201)
    # From below: the angle downward is negative here.
    start = numpy.vstack([-1.2 * s, -1.2 + 0 * s, -0.4 * s, 0.8 * s])
    solved = solve_bvp(slope, ends, s, start, tol=1e-10, max_nodes=100000)
    if not solved.success:
        raise RuntimeError(solved.message)
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
