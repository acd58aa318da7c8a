"""Free arcs of tools about a clip, by another library's roots and least distances.

The clip stands at the origin of an upright hose; angles count from x towards y. A tool is a few
straight lines with a radius each; a body is a box or a round bar. The gap between a line and a body
is the least over the line, found by a bounded search, and the ends of the free arcs are the roots of
the gap over the angle.
"""

import math

import numpy
import scipy
from scipy.optimize import brentq, minimize_scalar

from table import Table

SOURCE = f"scipy {scipy.__version__}, brentq and minimize_scalar"


def lines(tool: str, od: float, angle: float):
    """Centre lines of a tool with their radii, mm."""
    out = numpy.array([math.cos(angle), math.sin(angle), 0.0])
    if tool == "pincers":
        return [(out * (od / 2 + 20), out * (od / 2 + 206), 14.0)]
    along = numpy.cross([0.0, 0.0, 1.0], out) * (1 if tool == "straight+" else -1)
    head = out * (od / 2 + 6)
    return [(head + along * 12, head + along * 132, 4.0), (head + along * 148, head + along * 231, 16.0)]


def to_box(center, size, turn, roll):
    """Distance of a point from a box turned about the upright and then about its own first edge."""
    t, r = math.radians(turn), math.radians(roll)
    about = numpy.array([[math.cos(t), -math.sin(t), 0], [math.sin(t), math.cos(t), 0], [0, 0, 1]])
    own = numpy.array([[1, 0, 0], [0, math.cos(r), -math.sin(r)], [0, math.sin(r), math.cos(r)]])
    axes = about @ own
    half = numpy.array(size) / 2

    def distance(point):
        local = axes.T @ (point - numpy.array(center))
        return float(numpy.linalg.norm(numpy.maximum(abs(local) - half, 0)))

    return distance


def to_pipe(a, b, radius):
    """Distance of a point from a bar with round ends."""
    a, b = numpy.array(a, float), numpy.array(b, float)

    def distance(point):
        share = numpy.clip((point - a) @ (b - a) / ((b - a) @ (b - a)), 0, 1)
        return float(numpy.linalg.norm(point - a - share * (b - a))) - radius

    return distance


def gap(distance, tool: str, od: float, degrees: float) -> float:
    """The least gap of a tool from a body at an angle, mm."""
    least = math.inf
    for a, b, radius in lines(tool, od, math.radians(degrees)):
        of = lambda t: distance(a + t * (b - a))
        found = minimize_scalar(of, bounds=(0, 1), method="bounded", options={"xatol": 1e-12})
        least = min(least, min(found.fun, of(0.0), of(1.0)) - radius)
    return least


def arcs(distance, tool: str, od: float):
    """The free arcs in degrees."""
    of = lambda degrees: gap(distance, tool, od, degrees)
    looks = [(float(n), of(float(n))) for n in range(361)]
    ends = []
    for (low, a), (high, b) in zip(looks, looks[1:]):
        if (a > 0) != (b > 0):
            ends.append((brentq(of, low, high, xtol=1e-11), b > 0))
    begins = [at for at, opens in ends if opens]
    closes = [at for at, opens in ends if not opens]
    found = []
    for begin in begins:
        found.append((begin, min(close if close > begin else close + 360 for close in closes)))
    return found


def words(numbers) -> str:
    return " ".join(f"{number:g}" for number in numbers)


BOXES = [
    ("straight+", 40, (120, 30, 10), (60, 180, 90), 20, 15),
    ("straight-", 40, (120, 30, 10), (60, 180, 90), 20, 15),
    ("straight+", 56, (-90, 110, -30), (80, 60, 50), 75, -40),
    ("pincers", 40, (120, 30, 10), (60, 180, 90), 20, 15),
    ("pincers", 32, (60, -140, 25), (150, 40, 30), 33, 50),
]

PIPES = [
    ("straight+", 40, (70, -200, 40), (110, 250, -60), 12),
    ("straight-", 40, (70, -200, 40), (110, 250, -60), 12),
    ("straight+", 28, (-150, -60, 0), (30, -160, 35), 25),
    ("pincers", 40, (70, -200, 40), (110, 250, -60), 12),
    ("pincers", 60, (150, 90, -120), (150, 100, 140), 30),
]


def tables() -> list[Table]:
    """Arcs left by boxes and by pipes."""
    table = Table(
        "crates/bay/validation/access_sibling.csv",
        "The widest arc in which a tool is free, in degrees from x towards y about an upright hose of diameter od.\n"
        "Lengths in mm. body: box (at its middle, size, turned about the upright, then rolled about its first edge)\n"
        "or pipe (at one end, to the other, radius; its ends are round).\n"
        "Written by references/access.py; do not edit.",
        ["tool", "od", "body", "at", "size", "turn", "roll", "to", "radius"],
    )

    def add(distance, body: str, tool: str, od: float, **inputs) -> None:
        source = f"{SOURCE}: {body}"
        widest = max(arcs(distance, tool, od), key=lambda arc: arc[1] - arc[0])
        named = {"tool": tool, "od": od, "body": body} | inputs
        table.add("access_free_from", source, widest[0], 0.003, **named)
        table.add("access_free_to", source, widest[1], 0.003, **named)

    for tool, od, at, size, turn, roll in BOXES:
        distance = to_box(at, size, turn, roll)
        add(distance, "box", tool, od, at=words(at), size=words(size), turn=turn, roll=roll)
    for tool, od, at, to, radius in PIPES:
        distance = to_pipe(at, to, radius)
        add(distance, "pipe", tool, od, at=words(at), to=words(to), radius=radius)
    return [table]
