"""What to have in the bag, what to cut from what, and at what heat a mix boils.

Clips and joints are a matching: each need of a joint wants one part of the bag that holds it. Hose and
lengths are a packing. Boiling is the saturation line, asked the other way round. Each is put to a
solver of another library here; none of the methods of the crate is written out again.
"""

import math
import random

import numpy
import pint
import scipy
from scipy.integrate import quad
from scipy.optimize import Bounds, LinearConstraint, brentq, linear_sum_assignment, milp
from scipy.sparse import csr_array
from scipy.sparse.csgraph import maximum_bipartite_matching
from scipy.stats import uniform

from table import Table

MATCHING = f"scipy {scipy.__version__}, maximum_bipartite_matching"
ASSIGNMENT = f"scipy {scipy.__version__}, linear_sum_assignment"
PROGRAM = f"scipy {scipy.__version__}, milp"
ROOTS = f"scipy {scipy.__version__}, brentq"
EVEN = f"scipy {scipy.__version__}, uniform distribution"
ALONG = f"scipy {scipy.__version__}, quad along the centre line"
UNITS = f"pint {pint.__version__}"


class Bag:
    """Joints with their needs, a bag by kind, and for each draw which kind serves which joint."""

    def __init__(self, seed: int, joints: int, kinds: int, draws: int) -> None:
        dice = random.Random(seed)
        self.needs = [dice.choice([1, 1, 2]) for _ in range(joints)]
        self.bag = [dice.choice([0, 1, 2, 3]) for _ in range(kinds)]
        self.serves = [[[dice.random() < 0.62 for _ in range(draws)] for _ in range(kinds)] for _ in range(joints)]
        self.draws = draws

    def table(self, draw: int) -> numpy.ndarray:
        """A row for each need, a column for each part: whether it serves."""
        columns = [kind for kind, count in enumerate(self.bag) for _ in range(count)]
        rows = [joint for joint, need in enumerate(self.needs) for _ in range(need)]
        return numpy.array([[self.serves[joint][kind][draw] for kind in columns] for joint in rows], dtype=int)

    def share(self, served) -> float:
        """The share of draws in which every need is served."""
        wanted = sum(self.needs)
        return sum(served(self.table(draw)) == wanted for draw in range(self.draws)) / self.draws

    def inputs(self) -> dict:
        """As text: needs and bag by a gap; a word of 0 and 1 for each joint and kind, joint by joint."""
        words = ["".join("01"[holds] for holds in kind) for joint in self.serves for kind in joint]
        return {
            "needs": " ".join(map(str, self.needs)),
            "bag": " ".join(map(str, self.bag)),
            "serves": " ".join(words),
        }


def by_matching(table: numpy.ndarray) -> int:
    return int((maximum_bipartite_matching(csr_array(table), perm_type="column") >= 0).sum())


def by_assignment(table: numpy.ndarray) -> int:
    rows, columns = linear_sum_assignment(table, maximize=True)
    return int(table[rows, columns].sum())


def fewest(pieces: list[float], size: float) -> float:
    """The fewest lengths of one size that give all pieces: a whole-number program."""
    count = len(pieces)
    # x[i, j]: piece i from length j; y[j]: length j is bought.
    cost = numpy.r_[numpy.zeros(count * count), numpy.ones(count)]
    once = numpy.zeros((count, cost.size))
    room = numpy.zeros((count, cost.size))
    for i in range(count):
        once[i, i * count : (i + 1) * count] = 1
        for j in range(count):
            room[j, i * count + j] = pieces[i]
        room[i, count * count + i] = -size
    found = milp(
        cost,
        integrality=numpy.ones(cost.size),
        bounds=Bounds(0, 1),
        constraints=[LinearConstraint(once, 1, 1), LinearConstraint(room, -numpy.inf, 0)],
    )
    return round(found.fun)


def least(pieces: list[float], sold: list[float], kerf: float) -> float:
    """The least hose in all: each group of pieces takes a length that is sold, with a cut between two.

    A length that gives n pieces loses n - 1 cuts, so a piece and a length are each longer by one cut.
    """
    count, kinds = len(pieces), len(sold)
    groups = count
    # x[i, g]: piece i in group g; y[g, k]: group g is cut from a length of kind k.
    cost = numpy.r_[numpy.zeros(count * groups), numpy.tile(sold, groups)]
    once = numpy.zeros((count, cost.size))
    room = numpy.zeros((groups, cost.size))
    one = numpy.zeros((groups, cost.size))
    for i in range(count):
        once[i, i * groups : (i + 1) * groups] = 1
    for g in range(groups):
        for i in range(count):
            room[g, i * groups + g] = pieces[i] + kerf
        for k in range(kinds):
            room[g, count * groups + g * kinds + k] = -(sold[k] + kerf)
            one[g, count * groups + g * kinds + k] = 1
    found = milp(
        cost,
        integrality=numpy.ones(cost.size),
        bounds=Bounds(0, 1),
        constraints=[
            LinearConstraint(once, 1, 1),
            LinearConstraint(room, -numpy.inf, 0),
            LinearConstraint(one, 0, 1),
        ],
    )
    return float(found.fun)


def elbow(degrees: float, legs: tuple[float, float], radius: float) -> float:
    """Along an elbow's centre line, from end to end, by integration: leg, arc that touches both, leg.

    The first leg lies on the x axis and ends, with the crossing of the centre lines, at the origin. The
    arc's centre stands one radius above the axis; x, below zero, is found so that the second leg, which
    goes off at the angle, is as far from it.
    """
    turn = math.radians(degrees)
    x = brentq(lambda x: -x * math.sin(turn) + radius * math.cos(turn) - radius, -100 * radius, 0.0, xtol=1e-13)
    arc, _ = quad(lambda t: math.hypot(radius * math.cos(t), radius * math.sin(t)), 0.0, turn)
    return (legs[0] + x) + arc + (legs[1] + x)


def widest(spigot: float, slack: float, share: float) -> float:
    """The largest bore that a spigot still holds: slack at most an amount, or a share of the spigot."""
    return min(brentq(lambda bore: (bore - spigot) - most, spigot / 2, spigot * 2, xtol=1e-13) for most in (slack, share * spigot))


def tightest(metal: float, stretch: float) -> float:
    """The smallest bore that a metal stretches by no more than a share of itself."""
    return brentq(lambda bore: (metal - bore) / bore - stretch, metal / 2, metal * 2, xtol=1e-13)


# Coefficients of the saturation line. Source: IAPWS R7-97(2012), table 34.
N = [
    1167.0521452767,
    -724213.16703206,
    -17.073846940092,
    12020.82470247,
    -3232555.0322333,
    14.91510861353,
    -4823.2657361591,
    405113.40542057,
    -0.23855557567849,
    650.17534844798,
]


def saturation(kelvin: float) -> float:
    """Pressure of saturation, Pa. Source: IAPWS R7-97(2012), equation 30."""
    v = kelvin + N[8] / (kelvin - N[9])
    a = v * v + N[0] * v + N[1]
    b = N[2] * v * v + N[3] * v + N[4]
    c = N[5] * v * v + N[6] * v + N[7]
    return 1e6 * (2 * c / (-b + math.sqrt(b * b - 4 * a * c))) ** 4


def boils(pressure: float) -> float:
    return brentq(lambda kelvin: saturation(kelvin) - pressure, 273.15, 640.0, xtol=1e-11)


# Densities at 20 °C, kg/m3, and molar masses, g/mol. Source of the masses: IUPAC atomic weights.
LIQUIDS = {"water": (998.2, 18.015), "ethylene": (1113.5, 62.07), "propylene": (1036.1, 76.09)}


def mix_boils(pressure: float, glycol: str, share: float) -> float:
    """Where the water of the mix presses as hard as the air: x p(T) = p (Raoult)."""
    moles = {"water": (1 - share) * 1000 / 18.015 * 0.9982, glycol: share * 1000 * LIQUIDS[glycol][0] / 1000 / LIQUIDS[glycol][1]}
    x = moles["water"] / sum(moles.values())
    return brentq(lambda kelvin: x * saturation(kelvin) - pressure, 273.15, 640.0, xtol=1e-11)


def tables() -> list[Table]:
    """Bag, cuts, boiling and even spreads."""
    table = Table(
        "crates/reckon/validation/order_sibling.csv",
        "What to have in the bag, what to cut from what, boiling, even spreads. Lengths in m.\n"
        "needs, bag, serves: of clips and joints; pieces, sold, kerf: of hose; p_pa, glycol, share: of a mix;\n"
        "along, rest, angle, leg, other_leg, radius, pushed, far_pushed: of a run; spigot, bead, build: of a joint;\n"
        "low, high, limit: of an even spread.\n"
        "Written by references/shop.py; do not edit.",
        ["needs", "bag", "serves", "pieces", "sold", "kerf", "p_pa", "glycol", "share", "along", "rest", "angle", "leg", "other_leg", "radius", "pushed", "far_pushed", "spigot", "bead", "build", "low", "high", "limit"],
    )
    for source, served, seeds in [(MATCHING, by_matching, SEEDS[:5]), (ASSIGNMENT, by_assignment, SEEDS[5:])]:
        for seed in seeds:
            case = Bag(seed, joints=4, kinds=5, draws=16)
            table.add("bag_share", source, case.share(served), 1e-9, **case.inputs())

    for pieces, size in PACKINGS:
        value = fewest(pieces, size)
        table.add("lengths_of_one_size", PROGRAM, value, 0, pieces=" ".join(map(str, pieces)), sold=size)
    for pieces, sold, kerf in PURCHASES:
        value = least(pieces, sold, kerf)
        inputs = {"pieces": " ".join(map(str, pieces)), "sold": " ".join(map(str, sold)), "kerf": kerf}
        table.add("hose_bought", PROGRAM, value, 1e-6, **inputs)

    for pressure in [60e3, 101325.0, 150e3, 201325.0, 300e3]:
        table.add("boils_at", ROOTS, boils(pressure), 1e-4, p_pa=pressure)
    for pressure, glycol, share in [
        (101325.0, "ethylene", 0.5),
        (170275.0, "ethylene", 0.33),
        (191325.0, "ethylene", 0.6),
        (149588.0, "propylene", 0.4),
        (170275.0, "propylene", 0.45),
    ]:
        value = mix_boils(pressure, glycol, share)
        table.add("mix_boils_at", ROOTS, value, 1e-3, p_pa=pressure, glycol=glycol, share=share)

    for along, degrees, legs, radius, pushed in ELBOWS:
        value = along - elbow(degrees, legs, radius)
        table.add("hose_beside_elbow", ALONG, value + sum(pushed), 1e-9, along=along, angle=degrees, leg=legs[0], other_leg=legs[1], radius=radius, pushed=pushed[0], far_pushed=pushed[1])

    units = pint.UnitRegistry()
    for along, rest, pushed, far_pushed in WRITTEN:
        metres = [units.Quantity(text).to("m").magnitude for text in (along, rest, pushed, far_pushed)]
        value = metres[0] - metres[1] + metres[2] + metres[3]
        names = ("along", "rest", "pushed", "far_pushed")
        table.add("hose_beside_fitting", UNITS, value, 1e-9, **{name: f"{metre:.10g}" for name, metre in zip(names, metres)})

    for spigot, bead, stretch, bead_stretch in BORES:
        value = max(tightest(spigot, stretch), tightest(bead, bead_stretch))
        table.add("bore_least", ROOTS, value, 1e-9, spigot=spigot, bead=bead, build="epdm" if stretch == 0.10 else "wired")
    for spigot, bead, stretch, _ in BORES:
        value = widest(spigot, 0.0005, 0.02)
        table.add("bore_most", ROOTS, value, 1e-9, spigot=spigot, bead=bead, build="epdm" if stretch == 0.10 else "wired")

    for low, high, limit in [(38.0, 38.2, 38.05), (-240.0, -232.0, -235.0), (43.0, 45.0, 45.5), (1.0, 4.0, 0.5), (0.0, 7.0, 6.3)]:
        value = float(uniform.sf(limit, low, high - low))
        table.add("even_at_least", EVEN, value, 1e-9, low=low, high=high, limit=limit)
    for low, high in [(38.0, 38.2), (-240.0, -232.0), (43.0, 45.0), (1.0, 4.0), (0.0, 7.0)]:
        value = float(uniform.std(low, high - low))
        table.add("even_deviation", EVEN, value, 1e-9, low=low, high=high)
    return [table]


SEEDS = [3, 17, 25, 37, 44, 6, 16, 28, 51, 58]

# Pieces and the size of a length, m. What first fit gives is never under the fewest; here it is the fewest.
PACKINGS = [
    ([0.794, 1.238, 1.245, 0.805], 2.5),
    ([1.411, 1.212, 1.207, 1.412, 1.415], 3.0),
    ([0.44, 0.24, 0.24, 0.22, 0.21, 0.17, 0.08, 0.08, 0.06, 0.06], 0.6),
    ([0.617, 0.757, 0.437, 0.511, 0.974, 0.38], 2.0),
    ([2.5, 0.9, 3.1, 1.4, 1.5, 2.0, 1.9, 1.2, 0.3, 0.4, 3.9], 5.0),
]

# Pieces, lengths that are sold, and what a cut loses, m.
PURCHASES = [
    ([0.794, 0.805, 0.99], [1.0, 2.0, 4.0], 0.002),
    ([1.709], [1.0, 3.0], 0.002),
    ([3.469, 0.48], [1.0, 3.0, 5.0], 0.003),
    ([0.7, 0.7, 0.4, 0.3], [1.2, 2.5], 0.0),
    ([1.238, 1.245, 0.794, 0.805], [1.0, 2.0, 4.0], 0.002),
]

# A run, an elbow in it (degrees, legs, radius to the centre line), and how far the hose goes over at each end, m.
ELBOWS = [
    (0.64, 90.0, (0.18, 0.13), 0.057, (0.036, 0.030)),
    (0.56, 90.0, (0.15, 0.12), 0.04, (0.025, 0.025)),
    (0.9, 45.0, (0.1, 0.1), 0.06, (0.04, 0.034)),
    (1.15, 60.0, (0.2, 0.15), 0.12, (0.038, 0.038)),
    (0.48, 120.0, (0.16, 0.19), 0.05, (0.02, 0.022)),
]

# A run, a fitting in it, and how far the hose goes over at each end.
WRITTEN = [
    ("44 inch", "3.5 inch", "1.25 inch", "34 mm"),
    ("2.8 m", "70 mm", "26 mm", "1 inch"),
    ("9 foot", "56 mm", "24 mm", "38 mm"),
    ("540 mm", "100 mm", "34 mm", "32 mm"),
    ("7 foot", "68 mm", "0.75 inch", "22 mm"),
]

# Spigot and bead, m, and how far over them hose of a build may be stretched: fabric 10 and 15 %, wire 3 and
# 8 %. Common practice, no source.
BORES = [
    (0.0382, 0.0404, 0.10, 0.15),
    (0.0192, 0.0212, 0.10, 0.15),
    (0.0340, 0.0360, 0.10, 0.15),
    (0.0254, 0.0270, 0.03, 0.08),
    (0.0335, 0.0351, 0.03, 0.08),
]
