"""Coolant and sea water: glycol mixes by CoolProp, salinity and conductivity by gsw, mixing by linear algebra."""

import CoolProp
import gsw
import numpy
import scipy
from CoolProp.CoolProp import PropsSI
from scipy.optimize import brentq

from table import Table

MELINDER = f"CoolProp {CoolProp.__version__}, Melinder 2010, by mass"
ASHRAE = f"CoolProp {CoolProp.__version__}, polynomials fitted to the ASHRAE tables, by volume"
OTHER_WAY = f"CoolProp {CoolProp.__version__}, Melinder 2010, turned to volume at 20 °C"
TEOS = f"gsw {gsw.__version__}"
LINEAR = f"numpy {numpy.__version__}, linear equations"
ROOTS = f"scipy {scipy.__version__}, brentq"

BY_MASS = {"ethylene": "MEG", "propylene": "MPG"}
BY_VOLUME = {"ethylene": "AEG", "propylene": "APG"}
# Pure liquids at 20 °C, kg/m3: what a share by volume means.
PURE = {"ethylene": 1113.5, "propylene": 1036.1}
WATER = 998.2
ONE_BAR_OVER = 2e5


def of_mix(what: str, family: dict[str, str], glycol: str, share: float, celsius: float) -> float:
    fluid = f"INCOMP::{family[glycol]}[{share:.6f}]"
    return PropsSI(what, "T", celsius + 273.15, "P", ONE_BAR_OVER, fluid)


def mass_share(glycol: str, volume_share: float) -> float:
    heavy = volume_share * PURE[glycol]
    return heavy / (heavy + (1 - volume_share) * WATER)


def media() -> Table:
    table = Table(
        "crates/reference/validation/media_sibling.csv",
        "Glycol and water. share: of glycol, by volume in functions that say so, else by mass.\n"
        "Freezing points in °C, density kg/m3, heat J/(kg K), conductivity W/(m K), viscosity mPa s.\n"
        "Written by references/media.py; do not edit.",
        ["glycol", "share", "celsius"],
    )
    for glycol in ("ethylene", "propylene"):
        for share in (0.1, 0.2, 0.3, 0.4, 0.5):
            value = of_mix("T_freeze", BY_MASS, glycol, share, 20) - 273.15
            table.add("freezes_by_mass", f"{MELINDER}, {glycol}", value, 0.01, glycol=glycol, share=share)
        for share in (0.15, 0.25, 0.35, 0.45, 0.55):
            value = of_mix("T_freeze", BY_VOLUME, glycol, share, 20) - 273.15
            table.add("freezes_by_volume", f"{ASHRAE}, {glycol}", value, 0.35, glycol=glycol, share=share)
        for share in (0.2, 0.3, 0.4, 0.45, 0.5):
            # Two tables of different liquids: what the spread between sources is.
            value = of_mix("T_freeze", BY_MASS, glycol, mass_share(glycol, share), 20) - 273.15
            table.add("freezes_by_volume", f"{OTHER_WAY}, {glycol}", value, 3.0, glycol=glycol, share=share)
        points = [(0.1, 20), (0.25, 40), (0.4, 0), (0.5, 60), (0.55, 95)]
        properties = [
            ("density", "D", 1.0, 0.02, 0.6),
            ("heat", "C", 1.0, 0.5, 8.0),
            ("conductivity", "L", 1.0, 2e-5, 0.004),
            ("viscosity", "V", 1e3, 1e-3, 0.0),
        ]
        for name, letter, factor, by_mass, by_volume in properties:
            for share, celsius in points:
                value = factor * of_mix(letter, BY_MASS, glycol, share, celsius)
                tolerance = max(by_mass, 1e-4 * abs(value))
                table.add(f"{name}_by_mass", f"{MELINDER}, {glycol}", value, tolerance, glycol=glycol, share=share, celsius=celsius)
            for share, celsius in [(0.15, 20), (0.25, 40), (0.35, 0), (0.45, 60), (0.55, 95)]:
                value = factor * of_mix(letter, BY_VOLUME, glycol, share, celsius)
                tolerance = max(by_volume, 0.05 * value if name == "viscosity" else 0.0)
                table.add(f"{name}_by_volume", f"{ASHRAE}, {glycol}", value, tolerance, glycol=glycol, share=share, celsius=celsius)
    return table


def sea() -> Table:
    table = Table(
        "crates/reference/validation/salt_sibling.csv",
        "Sea water at the surface: conductivity mS/cm, temperature °C, chloride mg/kg and mg/L, density kg/m3.\n"
        "Written by references/media.py; do not edit.",
        ["salinity", "ms_per_cm", "celsius"],
    )
    for conductivity, celsius in [(42.9, 15), (30.0, 10), (53.0, 25), (12.5, 5), (8.0, 20)]:
        value = float(gsw.SP_from_C(conductivity, celsius, 0))
        table.add("salinity", f"{TEOS}, SP_from_C", value, 1e-3, ms_per_cm=conductivity, celsius=celsius)
    for conductivity, celsius in [(3.0, 20), (1.0, 15), (0.4, 10), (2.0, 5), (0.1, 25)]:
        # gsw ends with another constant than PSS-78 where the two meet, which shows as some thousandths.
        value = float(gsw.SP_from_C(conductivity, celsius, 0))
        table.add("salinity", f"{TEOS}, SP_from_C below 2", value, 5e-3, ms_per_cm=conductivity, celsius=celsius)
    for salinity, celsius in [(35, 15), (7, 5), (33, 12), (38, 25), (18, 20)]:
        value = float(gsw.C_from_SP(salinity, celsius, 0))
        table.add("conductivity", f"{TEOS}, C_from_SP", value, 2e-3, salinity=salinity, celsius=celsius)
    for salinity, celsius in [(35, 5), (7, 10), (20, 20), (38, 25), (0, 15)]:
        absolute = salinity * 35.16504 / 35
        value = float(gsw.rho_t_exact(absolute, celsius, 0))
        table.add("salt_density", f"{TEOS}, rho_t_exact", value, 0.05, salinity=salinity, celsius=celsius)
    for salinity, celsius in [(35, 20), (7, 20), (20, 5), (38, 25), (10, 10)]:
        absolute = salinity * 35.16504 / 35
        value = 550.34 * absolute * float(gsw.rho_t_exact(absolute, celsius, 0)) / 1000
        table.add("chloride", f"{TEOS}, rho_t_exact, and chloride 55.034 % of the salt", value, 1.5, salinity=salinity, celsius=celsius)
    return table


def parts(volume: float, inside: float, inside_share: float, wanted: float, product: float) -> numpy.ndarray:
    """Concentrate and water: the volume is full, and the glycol in it is what is wanted."""
    equations = numpy.array([[1.0, 1.0], [product, 0.0]])
    return numpy.linalg.solve(equations, [volume - inside, wanted * volume - inside_share * inside])


def mixing() -> Table:
    table = Table(
        "crates/reckon/validation/mix_sibling.csv",
        "Filling, swapping, flushing and sea water taken in. Volumes in litres, shares as ratios, chloride mg/L.\n"
        "Written by references/media.py; do not edit.",
        ["volume", "inside", "inside_share", "wanted", "product", "share_drained", "fresh", "before", "now", "sea"],
    )
    fills = [(20, 7, 0, 0.5, 1), (34, 2.5, 0.2, 0.45, 1), (19, 3, 0.3, 0.4, 0.95), (12, 0, 0, 0.33, 1), (28, 5, 0.6, 0.5, 0.9)]
    for volume, inside, inside_share, wanted, product in fills:
        given = dict(volume=volume, inside=inside, inside_share=inside_share, wanted=wanted, product=product)
        concentrate, water = parts(**given)
        table.add("concentrate", LINEAR, concentrate, 1e-7, **given)
        table.add("water", LINEAR, water, 1e-7, **given)
        # Swap: what is drained at the strength inside comes back as product.
        now = 0.5 * wanted
        value = brentq(lambda y: (now * (volume - y) + product * y) / volume - wanted, 0, volume, xtol=1e-13)
        table.add("swap", ROOTS, value, 1e-7, volume=volume, inside_share=now, wanted=wanted, product=product)
    for volume, inside, inside_share, wanted, product in [
        (20, 11, 0, 0.5, 1), (20, 15, 0.1, 0.5, 1), (34, 30, 0.2, 0.45, 1), (12, 10, 0, 0.33, 0.9), (28, 20, 0.1, 0.5, 0.95)
    ]:
        given = dict(volume=volume, inside=inside, inside_share=inside_share, wanted=wanted, product=product)
        # Drained on until all that then goes in is product.
        value = brentq(lambda y: parts(volume, inside - y, inside_share, wanted, product)[1], 0, inside, xtol=1e-13)
        table.add("drain_more", ROOTS, value, 1e-7, **given)
    for volume, inside, inside_share, product in [(20, 7, 0, 0.5), (34, 4, 0.2, 0.5), (19, 3, 0.3, 0.4), (12, 1, 0, 0.6), (28, 5, 0.6, 0.45)]:
        value = numpy.average([inside_share, product], weights=[inside, volume - inside])
        table.add("topped_up", f"numpy {numpy.__version__}, weighted mean", float(value), 1e-9, volume=volume, inside=inside, inside_share=inside_share, product=product)
    for drained, before, fresh, wanted in [(0.6, 1, 0, 0.02), (0.75, 1, 0, 0.05), (0.5, 0.45, 0, 0.01), (0.8, 300, 20, 40), (0.65, 1200, 15, 40)]:
        left, count = before, 0
        while left > wanted:
            left, count = left + drained * (fresh - left), count + 1
        table.add("flushes", f"drain and fill played through, {LINEAR}", count, 0, share_drained=drained, before=before, fresh=fresh, wanted=wanted)
        table.add("left_after_three", f"drain and fill played through, {LINEAR}", played(before, fresh, drained, 3), 1e-6, share_drained=drained, before=before, fresh=fresh)
    for volume, before, now, sea_chloride in [(20, 5, 150, 19832), (34, 20, 60, 3884), (19, 0, 1000, 19832), (12, 30, 45, 11206), (6, 0, 100, 19832)]:
        given = dict(volume=volume, before=before, now=now, sea=sea_chloride)
        # Each drop of sea pushes as much of the mix out: the rise integrated step by step.
        value = scipy.integrate.quad(lambda c: volume / (sea_chloride - c), before, now, epsabs=1e-14)[0]
        table.add("taken_in_overflowing", f"scipy {scipy.__version__}, quad", value, 1e-7, **given)
        value = brentq(lambda v: (volume * before + v * sea_chloride) / (volume + v) - now, 0, volume, xtol=1e-14)
        table.add("taken_in_kept", ROOTS, value, 1e-7, **given)
    return table


def played(before: float, fresh: float, drained: float, times: int) -> float:
    left = before
    for _ in range(times):
        left = (1 - drained) * left + drained * fresh
    return left


def tables() -> list[Table]:
    """Mixes, sea water and mixing."""
    return [media(), sea(), mixing()]
