"""Places from tapes: adjusted by another library's least squares, in the same frame.

A net is written as its measurements: `0-4:812.3` is the distance between points 0 and 4, `h4:310.2`
the height of point 4. The first four points are pins; point 0 is the origin, point 1 lies along x,
z is up, and point 3 lies to the left of the line from 0 to 1.
"""

import math

import numpy
import scipy
import uncertainties
from scipy.optimize import least_squares
from uncertainties import umath

from table import Table

SQUARES = f"scipy {scipy.__version__}, least_squares"
FIRST_ORDER = f"uncertainties {uncertainties.__version__}"

SIGMA_TAPE = 3 / math.sqrt(3)
SIGMA_TUBE = 4 / math.sqrt(3)


def net(seed: int, mouths: int):
    """True places of four pins and some mouths, the last being the end of a dowel in the one before."""
    random = numpy.random.default_rng(seed)
    long, wide = random.uniform(900, 1600), random.uniform(600, 1100)
    corners = [(0, 0), (1, 0), (1, 1), (0, 1)]
    places = [[x * long + random.uniform(-90, 90), y * wide + random.uniform(-90, 90), random.uniform(0, 500)] for x, y in corners]
    places += [[random.uniform(0.2, 0.8) * long, random.uniform(0.2, 0.8) * wide, random.uniform(-200, 400)] for _ in range(mouths)]
    mouth = places[-1]
    way = random.normal(size=3)
    way *= 380 / numpy.linalg.norm(way)
    places.append([m + w for m, w in zip(mouth, way)])
    places = numpy.array(places)
    measured = []
    for a in range(4):
        for b in range(a + 1, len(places)):
            far = numpy.linalg.norm(places[a] - places[b]) + random.uniform(-3, 3)
            measured.append(("d", a, b, round(float(far), 1)))
    end = len(places) - 1
    measured.append(("d", end - 1, end, round(float(numpy.linalg.norm(way)) + random.uniform(-2, 2), 1)))
    for a in range(len(places) - 1):
        measured.append(("h", a, a, round(float(places[a][2]) + random.uniform(-4, 4), 1)))
    return places, measured


def text(measured) -> str:
    return " ".join(f"{a}-{b}:{value}" if kind == "d" else f"h{a}:{value}" for kind, a, b, value in measured)


def framed(places):
    """The places turned about the upright so that point 0 is the origin and point 1 lies along x."""
    moved = places - numpy.array([places[0][0], places[0][1], 0.0])
    angle = math.atan2(moved[1][1], moved[1][0])
    c, s = math.cos(angle), math.sin(angle)
    return moved @ numpy.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])


def adjusted(places, measured):
    """Least squares by a library: places, covariance of the free coordinates, sum of squares."""
    start = framed(places)
    still = {(0, 0), (0, 1), (1, 1)}
    free = [(p, k) for p in range(len(start)) for k in range(3) if (p, k) not in still]

    def whole(x):
        at = numpy.zeros_like(start)
        for (p, k), value in zip(free, x):
            at[p][k] = value
        return at

    def residual(x):
        at = whole(x)
        return [
            (numpy.linalg.norm(at[a] - at[b]) - value) / SIGMA_TAPE if kind == "d" else (at[a][2] - value) / SIGMA_TUBE
            for kind, a, b, value in measured
        ]

    x0 = [start[p][k] for p, k in free]
    found = least_squares(residual, x0, method="lm", jac="3-point", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    covariance = numpy.linalg.inv(found.jac.T @ found.jac)
    return whole(found.x), free, covariance, 2 * found.cost


def tables() -> list[Table]:
    """Nets, angles and girths."""
    table = Table(
        "crates/reckon/validation/tape_sibling.csv",
        "Places from tapes: lengths in mm, angles in rad. net: see references/tape.py; points, point: how many, and which;\n"
        "measure: which measurement is left out; off, apart: of the two ends of an axis; girth, u: a girth and its deviation.\n"
        "Written by references/tape.py; do not edit.",
        ["net", "points", "point", "measure", "off", "apart", "girth", "u"],
    )
    for seed in range(1, 6):
        places, measured = net(seed, 2 + seed % 2)
        at, free, covariance, squares = adjusted(places, measured)
        point = 4 if seed % 2 else len(places) - 1
        named = {"net": text(measured), "points": len(places), "point": point}
        for axis, name in enumerate(["along", "left", "up"]):
            table.add(f"adjusted_{name}", SQUARES, float(at[point][axis]), 1e-3, **named)
            which = free.index((point, axis))
            sigma = math.sqrt(covariance[which][which])
            table.add(f"adjusted_sigma_{name}", SQUARES, sigma, 1e-4 * sigma, **named)
        table.add("adjusted_squares", SQUARES, squares, 1e-5, **named)
        # One measurement left out, and all solved again.
        measure = 4 * seed - 1
        rest = measured[:measure] + measured[measure + 1 :]
        table.add("left_out_squares", SQUARES, adjusted(places, rest)[3], 1e-5, **named, measure=measure)
        # The axis from the mouth to the dowel's end: its deviation across itself.
        mouth, end = len(places) - 2, len(places) - 1
        step = at[end] - at[mouth]
        jacobian = numpy.zeros((3, len(free)))
        for k in range(3):
            jacobian[k][free.index((end, k))] = 1
            jacobian[k][free.index((mouth, k))] = -1
        spread = jacobian @ covariance @ jacobian.T
        unit = step / numpy.linalg.norm(step)
        across = (numpy.eye(3) - numpy.outer(unit, unit)) @ spread @ (numpy.eye(3) - numpy.outer(unit, unit))
        sigma = math.sqrt(max(numpy.linalg.eigvalsh(across))) / float(numpy.linalg.norm(step))
        table.add("axis_sigma", SQUARES, sigma, 1e-4 * sigma, net=text(measured), points=len(places))
    for off, apart in [(3, 35), (3, 400), (1, 60), (2, 250), (4, 800)]:
        one, other = uncertainties.ufloat(0, off), uncertainties.ufloat(0, off)
        # First order against an arc tangent: they part with the cube of the angle.
        value = umath.atan((one - other) / apart).std_dev
        table.add("axis_width", FIRST_ORDER, value, 0.4 * value**3 + 1e-12, off=off, apart=apart)
    for girth, u in [(131.9, 0.6), (119.7, 1.0), (50.3, 0.3), (201.0, 1.5), (94.2, 0.9)]:
        diameter = uncertainties.ufloat(girth, u) / math.pi
        table.add("girth_diameter", FIRST_ORDER, diameter.nominal_value, 1e-8, girth=girth, u=u)
        table.add("girth_diameter_u", FIRST_ORDER, diameter.std_dev, 1e-9, girth=girth, u=u)
    return [table]
