"""Hose on its spigot: fitted diameter, its uncertainty, ear clips, chances.

Rubber keeps its volume. With bore d_i, outside diameter d_o, spigot d_s, fitted diameter D and
axial length ratio l on the spigot: (D^2 - d_s^2) l = d_o^2 - d_i^2. What l is depends on the hose;
m = (D + d_s)/(d_o + d_i) is the mean hoop stretch. No slip: l = 1. Free to shorten: l = m^-1/2.
Wall kept: l = 1/m.

Each is solved here from that one equation by a bracketing root search, never from a closed form.
"""

import itertools
import math

import numpy
import pint
import scipy
import uncertainties
from scipy.optimize import brentq
from scipy.stats import norm
from uncertainties import umath

from table import Table

ROOTS = f"scipy {scipy.__version__}, brentq"
NORMAL = f"scipy {scipy.__version__}, normal distribution"
FIRST_ORDER = f"uncertainties {uncertainties.__version__}"
QUADRATURE = f"numpy {numpy.__version__}, Gauss-Legendre"
CORNERS = f"scipy {scipy.__version__}, brentq at all corners"
UNITS = f"pint {pint.__version__}"

# Bore, outside diameter and spigot in mm: small and large, easy, tight and over-tight. Each spigot
# is larger than its bore at every corner of the limits below; a loose hose is not stretched at all.
HOSES = [(32, 42, 35), (38, 48, 40), (25.6, 34.1, 28), (19.2, 26.8, 19.6), (12.7, 19.7, 14.6)]
# Half-widths of the limits of the same, mm: caliper, maker's limits, tape, and one input alone.
HALF_WIDTHS = [(0.2, 0.3, 0.1), (0.8, 0.8, 0.1), (0.3, 0.5, 0.3), (0.3, 0.0, 0.0), (0.1, 0.4, 0.2)]


def no_slip(m: float) -> float:
    return 1.0


def free(m: float) -> float:
    return m**-0.5


def wall_kept(m: float) -> float:
    return 1.0 / m


def fitted(d_i: float, d_o: float, d_s: float, length_ratio) -> float:
    """Fitted outside diameter by root search: between the spigot and twice the free hose over it."""

    def residual(d: float) -> float:
        m = (d + d_s) / (d_o + d_i)
        return (d * d - d_s * d_s) * length_ratio(m) - (d_o * d_o - d_i * d_i)

    return brentq(residual, d_s, d_s + 2 * (d_o - d_i) + d_o, xtol=1e-13, rtol=1e-14)


def first_order(hose, half_widths) -> float:
    """Standard uncertainty of the no-slip diameter, each half-width a limit: a over root three."""
    exact_or_not = (uncertainties.ufloat(d, a / math.sqrt(3)) if a > 0 else d for d, a in zip(hose, half_widths))
    d_i, d_o, d_s = exact_or_not
    return umath.sqrt(d_s**2 + d_o**2 - d_i**2).std_dev


def spread(hose, half_widths) -> float:
    """Standard deviation of the no-slip diameter, its inputs spread evenly between their limits.

    By quadrature over the box of limits, so free of sampling noise.
    """
    points, weights = numpy.polynomial.legendre.leggauss(12)
    axes = [d + a * points for d, a in zip(hose, half_widths)]
    d_i, d_o, d_s = numpy.meshgrid(*axes, indexing="ij")
    w = numpy.einsum("i,j,k->ijk", weights, weights, weights) / 8.0
    d = numpy.sqrt(d_s**2 + d_o**2 - d_i**2)
    mean = float((w * d).sum())
    return math.sqrt(float((w * (d - mean) ** 2).sum()))


def corners(hose, half_widths) -> list[float]:
    """The fitted diameter at each corner of the box of limits, without slip and with the wall kept."""
    signs = itertools.product((-1, 1), repeat=3)
    boxes = [[d + s * a for d, a, s in zip(hose, half_widths, sign)] for sign in signs]
    return [fitted(*box, length_ratio) for box in boxes for length_ratio in (no_slip, wall_kept)]


def closed_ear(open_diameter: float, ear: float, ear_left: float) -> float:
    """Inside diameter of an ear clip: the ring's girth loses what the ear closes."""

    def residual(d: float) -> float:
        return math.pi * open_diameter - math.pi * d - (ear - ear_left)

    return brentq(residual, 0.0, open_diameter, xtol=1e-13)


def tables() -> list[Table]:
    """Fitted diameters and what hangs on them."""
    table = Table(
        "crates/reckon/validation/fit_sibling.csv",
        "Hose on its spigot: lengths in mm, stretch and chance as ratios.\n"
        "d_i bore, d_o outside diameter, d_s spigot; a_i, a_o, a_s half-widths of their limits;\n"
        "open, ear, ear_left of an ear clip; mean, u, low, high of a normal chance.\n"
        "Written by references/fit.py; do not edit.",
        ["d_i", "d_o", "d_s", "a_i", "a_o", "a_s", "open", "ear", "ear_left", "mean", "u", "low", "high"],
    )

    def named(hose, half_widths=None) -> dict:
        inputs = dict(zip(("d_i", "d_o", "d_s"), hose))
        if half_widths is not None:
            inputs |= dict(zip(("a_i", "a_o", "a_s"), half_widths))
        return inputs

    for name, length_ratio in [
        ("fitted_diameter_no_slip", no_slip),
        ("fitted_diameter_free", free),
        ("fitted_diameter_wall_kept", wall_kept),
    ]:
        for hose in HOSES:
            table.add(name, ROOTS, fitted(*hose, length_ratio), 1e-6, **named(hose))

    for hose, half_widths in zip(HOSES, HALF_WIDTHS):
        table.add(
            "fitted_diameter_no_slip_u", FIRST_ORDER, first_order(hose, half_widths), 1e-6, **named(hose, half_widths)
        )
    for hose, half_widths in zip(HOSES, HALF_WIDTHS):
        # Five per cent: what first order and sampling may differ by.
        value = spread(hose, half_widths)
        table.add("fitted_diameter_no_slip_spread", QUADRATURE, value, 0.05 * value, **named(hose, half_widths))
    for hose, half_widths in zip(HOSES, HALF_WIDTHS):
        value = min(corners(hose, half_widths))
        table.add("fitted_diameter_least", CORNERS, value, 1e-6, **named(hose, half_widths))
    for hose, half_widths in zip(HOSES, HALF_WIDTHS):
        value = max(corners(hose, half_widths))
        table.add("fitted_diameter_most", CORNERS, value, 1e-6, **named(hose, half_widths))

    units = pint.UnitRegistry()
    for d_i, d_s in [("1.25 inch", "35 mm"), ("38 mm", "1.5 inch"), ("32 mm", "35 mm"), ("0.75 inch", "20 mm"), ("12.5 mm", "12.4 mm")]:
        bore, spigot = units.Quantity(d_i), units.Quantity(d_s)
        stretch = ((spigot - bore) / bore).to("dimensionless").magnitude
        millimetres = {"d_i": bore.to("mm").magnitude, "d_s": spigot.to("mm").magnitude}
        table.add("stretch", UNITS, stretch, 1e-9, **{k: f"{v:.10g}" for k, v in millimetres.items()})

    for open_diameter, ear, ear_left in [(21.0, 10, 0), (17.0, 8, 3.2), (11.3, 5.5, 2), (33.1, 10, 0.5), (45.5, 10, 6)]:
        value = closed_ear(open_diameter, ear, ear_left)
        table.add("ear_closed_diameter", ROOTS, value, 1e-6, open=open_diameter, ear=ear, ear_left=ear_left)

    for mean, u, low, high in [
        (44.6, 0.25, 44.0, 47.0),
        (44.6, 0.25, 44.6, 60.0),
        (28.7, 0.19, 28.3, 29.0),
        (20.2, 0.10, 20.3, 21.0),
        (50.0, 0.50, 40.0, 60.0),
    ]:
        value = float(norm.cdf(high, mean, u) - norm.cdf(low, mean, u))
        # Seven digits: a rational approximation of the error function gives no more.
        table.add("chance_within", NORMAL, value, 2e-7, mean=mean, u=u, low=low, high=high)
    return [table]
