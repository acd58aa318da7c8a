"""Threads by their readings: how far off, how densely, how likely.

A thread's diameter may lie anywhere between its limits with the same chance; a reading of it is
normal about it. The density of readings is the fold of the two, here by quadrature. The misfit is
the least squared distance to any diameter within the limits, here by a bounded search.
"""

import numpy
import scipy
import uncertainties
from scipy.integrate import quad
from scipy.optimize import minimize_scalar
from scipy.special import softmax
from scipy.stats import norm

from table import Table

FOLD = f"scipy {scipy.__version__}, quad"
SEARCH = f"scipy {scipy.__version__}, minimize_scalar"
SOFTMAX = f"scipy {scipy.__version__}, softmax"
NORMAL = f"scipy {scipy.__version__}, quad of the normal distribution"
FIRST_ORDER = f"uncertainties {uncertainties.__version__}"

# Reading, limits and standard uncertainty in mm: within, at the edge, outside, far narrower and far wider.
ZONES = [
    (20.8, 20.671, 20.955, 0.0577),
    (20.955, 20.671, 20.955, 0.0577),
    (21.1, 20.671, 20.955, 0.0577),
    (33.1, 31.9, 33.9, 0.2),
    (9.95, 9.794, 9.974, 0.3),
]
# As above with the pitch as read, that of the thread and its uncertainty. Only readings over the
# limits of a male: to the other side a worn crest has its say.
MISFITS = [
    (21.1, 20.671, 20.955, 0.0577, 1.81, 1.8143, 0.0115),
    (33.4, 32.889, 33.249, 0.0577, 2.31, 2.3091, 0.0058),
    (10.1, 9.794, 9.974, 0.1155, 0.99, 1.0, 0.0058),
    (26.8, 26.157, 26.441, 0.1155, 1.80, 1.8143, 0.0231),
    (13.2, 12.907, 13.157, 0.0289, 1.34, 1.3368, 0.0058),
]
# Change of diameter and the length over which it was read, mm, with their standard uncertainties.
SLOPES = [(0.5, 8, 0.0816, 0.0577), (0.4, 6, 0.0816, 0.0577), (0.0, 8, 0.0816, 0.29), (0.62, 10, 0.04, 0.5), (0.3, 5, 0.1, 0.2)]
DEVIATIONS = [2.0, 3.0, 4.0, 4.5, 6.0]
LIKELIHOODS = [(3.1, 3.5, 0.9, 0.8), (1.0, 1.0), (5.0, 0.01, 0.002), (2.2, 0.4, 0.4, 0.4, 0.1), (1e-9, 3e-9)]


def density(read: float, low: float, high: float, u: float) -> float:
    value, _ = quad(lambda d: norm.pdf(read, d, u), low, high, points=[min(max(read, low), high)], epsabs=1e-14, epsrel=1e-12)
    return value / (high - low)


def misfit(read, low, high, u, pitch, own_pitch, u_pitch) -> float:
    found = minimize_scalar(lambda d: ((read - d) / u) ** 2, bounds=(low, high), method="bounded", options={"xatol": 1e-12})
    return float(found.fun) + ((pitch - own_pitch) / u_pitch) ** 2


def told_apart(d: float) -> float:
    """Share of normal readings of one thread that leave one d deviations away over 6 behind."""

    def behind(z: float) -> float:
        return (d - z) ** 2 - z**2 - 6.0

    edge = scipy.optimize.brentq(behind, -100.0, 100.0, xtol=1e-14)
    value, _ = quad(norm.pdf, -numpy.inf, edge, epsabs=1e-13, epsrel=1e-12)
    return value


def slope(change, length, u_change, u_length) -> float:
    return (uncertainties.ufloat(change, u_change) / uncertainties.ufloat(length, u_length)).std_dev


def tables() -> list[Table]:
    """What the ranking of threads is made of."""
    table = Table(
        "crates/reckon/validation/thread_sibling.csv",
        "Threads by their readings: lengths in mm, chances as ratios. read within low and high, u its uncertainty;\n"
        "pitch as read, own_pitch of the thread, u_pitch; change over length with u_change and u_length.\n"
        "Written by references/threads.py; do not edit.",
        ["read", "low", "high", "u", "pitch", "own_pitch", "u_pitch", "change", "length", "u_change", "u_length", "deviations", "likelihoods"],
    )
    for read, low, high, u in ZONES:
        table.add("zone_density", FOLD, density(read, low, high, u), 1e-8, read=read, low=low, high=high, u=u)
    for case in MISFITS:
        names = ("read", "low", "high", "u", "pitch", "own_pitch", "u_pitch")
        table.add("thread_misfit", SEARCH, misfit(*case), 1e-4, **dict(zip(names, case)))
    for case in SLOPES:
        names = ("change", "length", "u_change", "u_length")
        table.add("slope_deviation", FIRST_ORDER, slope(*case), 1e-9, **dict(zip(names, case)))
    for deviations in DEVIATIONS:
        table.add("told_apart", NORMAL, told_apart(deviations), 1e-9, deviations=deviations)
    for likelihoods in LIKELIHOODS:
        share = float(softmax(numpy.log(likelihoods))[0])
        table.add("thread_share", SOFTMAX, share, 1e-9, likelihoods=" ".join(str(one) for one in likelihoods))
    return [table]
