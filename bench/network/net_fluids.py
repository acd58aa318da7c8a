"""Properties of the waters, as tables in temperature that are built once and then only looked up.

CoolProp gives the properties. Where its own range ends above (100 °C for glycol and water), the
published polynomials are carried on: a polynomial of the fifth degree through the library's values is
the polynomial that the library itself evaluates, so that this is no other formula.
"""

import math

import numpy
from CoolProp import CoolProp
from scipy.interpolate import CubicSpline

KELVIN = 273.15
ATMOSPHERE = 101325.0
# Glycol from volumes: densities at 20 °C of the two glycols and of water, kg/m³. From memory.
DENSITY_20 = {"MEG": 1113.5, "MPG": 1036.1, "water": 998.2}
# Molar masses in g/mol, from memory of the periodic table.
MOLAR = {"water": 18.015, "MEG": 62.07, "MPG": 76.09}

# The step of the tables is so small that a straight line between two entries errs by less than 1e-6.
STEP = 0.05


class Table:
    """Density, viscosity, specific heat, conductivity and enthalpy at one pressure.

    Outside `low` to `high` the four properties keep their last value and the enthalpy goes straight
    on; `sure` are the ends of what the library answers for.
    """

    def __init__(self, low, high, sure, rho, mu, cp, k) -> None:
        """The four are functions of an array of temperatures in °C."""
        count = round((high - low) / STEP) + 1
        t = low + STEP * numpy.arange(count)
        self.low, self.high, self.sure = low, low + STEP * (count - 1), sure
        self.columns = [numpy.asarray(column(t), dtype=float) for column in (rho, mu, cp, k)]
        specific = self.columns[2]
        enthalpy = numpy.concatenate([[0.0], numpy.cumsum((specific[1:] + specific[:-1]) / 2) * STEP])
        self.last = count - 2
        # Plain lists: one entry of a numpy array costs more than the whole interpolation.
        self.rho, self.mu, self.cp, self.k = (column.tolist() for column in self.columns)
        self.enthalpy = enthalpy.tolist()

    def at(self, celsius: float):
        """Density, viscosity, specific heat and conductivity."""
        place = (celsius - self.low) / STEP
        if place <= 0.0:
            return self.rho[0], self.mu[0], self.cp[0], self.k[0]
        i = int(place)
        if i > self.last:
            return self.rho[-1], self.mu[-1], self.cp[-1], self.k[-1]
        w = place - i
        v = 1.0 - w
        j = i + 1
        return (
            v * self.rho[i] + w * self.rho[j],
            v * self.mu[i] + w * self.mu[j],
            v * self.cp[i] + w * self.cp[j],
            v * self.k[i] + w * self.k[j],
        )

    def h(self, celsius: float) -> float:
        """Specific enthalpy over the lower end of the table."""
        place = (celsius - self.low) / STEP
        if place <= 0.0:
            return place * STEP * self.cp[0]
        i = int(place)
        if i > self.last:
            return self.enthalpy[-1] + (celsius - self.high) * self.cp[-1]
        # The specific heat runs straight between two entries, so the enthalpy is its exact integral.
        w = place - i
        return self.enthalpy[i] + w * STEP * (self.cp[i] + 0.5 * w * (self.cp[i + 1] - self.cp[i]))

    def t(self, enthalpy: float, near: float) -> float:
        """The temperature that has an enthalpy, sought from one that is near."""
        for _ in range(30):
            change = (enthalpy - self.h(near)) / self.at(near)[2]
            near += change
            # Newton doubles the right digits at each step: after this one 1e-12 and better is left.
            if abs(change) < 1e-6:
                break
        return near

    def is_sure(self, celsius: float) -> bool:
        return self.sure[0] - 1e-6 <= celsius <= self.sure[1] + 1e-6


def constant(rho: float, mu: float, cp: float, k: float) -> Table:
    """A liquid whose properties do not change."""

    def level(value):
        return lambda t: numpy.full_like(t, value)

    return Table(-50.0, 250.0, (-math.inf, math.inf), level(rho), level(mu), level(cp), level(k))


def asked(state, pressure: float, celsius: numpy.ndarray) -> numpy.ndarray:
    """The four properties from the library, one row each."""
    rows = []
    for t in celsius:
        state.update(CoolProp.PT_INPUTS, pressure, t + KELVIN)
        rows.append((state.rhomass(), state.viscosity(), state.cpmass(), state.conductivity()))
    return numpy.array(rows).T


def water(pressure: float) -> Table:
    """Liquid water: IAPWS-95, viscosity R12-08, conductivity R15-11."""
    boils = CoolProp.PropsSI("T", "P", pressure, "Q", 0, "Water") - KELVIN
    low, high = 0.01, min(boils - 0.05, 180.0)
    points = numpy.linspace(low, high, 241)
    state = CoolProp.AbstractState("HEOS", "Water")
    state.specify_phase(CoolProp.iphase_liquid)
    curves = [CubicSpline(points, values) for values in asked(state, pressure, points)]

    def carried(curve):
        # Hotter or colder liquid is never asked for in a solved case; it keeps an iteration going.
        return lambda t: curve(numpy.clip(t, low, high)) + curve(numpy.clip(t, low, high), 1) * (t - numpy.clip(t, low, high)) * 0.2

    return Table(-10.0, 160.0, (low, high), *(carried(curve) for curve in curves))


def mass_fraction(glycol: str, volume: float) -> float:
    """From the volumes before mixing, at 20 °C."""
    heavy = volume * DENSITY_20[glycol]
    return heavy / (heavy + (1.0 - volume) * DENSITY_20["water"])


def glycol(name: str, fraction: float, pressure: float) -> Table:
    """Glycol and water after Melinder, by CoolProp's INCOMP."""
    state = CoolProp.AbstractState("INCOMP", name)
    state.set_mass_fractions([fraction])
    # Pure water and thin mixes freeze late; the library refuses what is colder than its freezing point.
    low = -60.0
    while low < 20.0:
        try:
            state.update(CoolProp.PT_INPUTS, pressure, low + KELVIN)
            break
        except ValueError:
            low += 0.5
    high = 99.99
    points = numpy.linspace(low, high, 60)
    rho, mu, cp, k = asked(state, pressure, points)
    fits = [numpy.polynomial.Polynomial.fit(points, values, 5) for values in (rho, numpy.log(mu), cp, k)]
    for fit, values in zip(fits, (rho, numpy.log(mu), cp, k)):
        worst = numpy.max(numpy.abs(fit(points) - values) / (1e-3 + numpy.abs(values)))
        if worst > 1e-4:
            raise ValueError(f"{name} {fraction}: the polynomial misses the library by {worst:.1e}")
    return Table(max(low, -45.0), 150.0, (low, 125.0), fits[0], lambda t: numpy.exp(fits[1](t)), fits[2], fits[3])


def sea_viscosity(t, salt: float):
    """Sharqawy, Lienhard & Zubair 2010, equations 22 and 23; coefficients from memory.

    CoolProp lays its own curve through this formula and misses it by up to 0.9 %; `sea` compares both.
    """
    fresh = 4.2844e-5 + 1.0 / (0.157 * (t + 64.993) ** 2 - 91.296)
    a = 1.541 + 1.998e-2 * t - 9.52e-5 * t**2
    b = 7.974 - 7.561e-2 * t + 4.724e-4 * t**2
    return fresh * (1.0 + a * salt + b * salt**2)


class Sea:
    """The water outside at 1 atm, with its expansion coefficient as well."""

    def __init__(self, salt: float) -> None:
        points = numpy.linspace(0.01, 99.9, 201)
        if salt > 0.0:
            state = CoolProp.AbstractState("INCOMP", "MITSW")
            state.set_mass_fractions([salt])
            rho, mu, cp, k = asked(state, ATMOSPHERE, points)
            own = sea_viscosity(points, salt)
            if numpy.max(numpy.abs(own / mu - 1.0)) > 0.015:
                raise ValueError(f"sea water {salt}: two viscosities differ by over 1.5 %")
            mu = own
        else:
            state = CoolProp.AbstractState("HEOS", "Water")
            state.specify_phase(CoolProp.iphase_liquid)
            rho, mu, cp, k = asked(state, ATMOSPHERE, points)
        curves = [CubicSpline(points, values) for values in (rho, mu, cp, k)]
        self.low, self.high = points[0] - 3.0, points[-1]

        def held(curve):
            # Sea water is liquid a little below 0 °C: there the curve is carried on by itself.
            return lambda t: curve(numpy.clip(t, self.low, self.high))

        self.table = Table(self.low, self.high, (-3.0, 99.9), *(held(curve) for curve in curves))
        self.density = curves[0]

    def expansion(self, celsius: float) -> float:
        t = min(max(celsius, self.low), self.high)
        return float(-self.density(t, 1) / self.density(t))


class Boiling:
    """Boiling temperature of a mix whose glycol does not boil off (Raoult)."""

    def __init__(self, name: str, fraction: float) -> None:
        water = (1.0 - fraction) / MOLAR["water"]
        share = 1.0 if name == "water" else water / (water + fraction / MOLAR[name])
        kelvin = numpy.linspace(273.17, 500.0, 300)
        pressures = CoolProp.PropsSI("P", "T", kelvin, "Q", 0, "Water")
        self.share, self.least, self.most = share, float(pressures[0]), float(pressures[-1])
        self.curve = CubicSpline(numpy.log(pressures), kelvin - KELVIN)

    def at(self, gauge: float):
        pressure = (gauge + ATMOSPHERE) / self.share
        if not self.least <= pressure <= self.most:
            return None
        return float(self.curve(math.log(pressure)))

    def all(self, gauges: list) -> list:
        """The same for a whole network at once; a None stays one."""
        if len(gauges) < 20:
            return [None if gauge is None else self.at(gauge) for gauge in gauges]
        pressures = (numpy.array([numpy.nan if gauge is None else gauge for gauge in gauges]) + ATMOSPHERE) / self.share
        inside = (pressures >= self.least) & (pressures <= self.most)
        boils = self.curve(numpy.log(numpy.where(inside, pressures, self.most))).tolist()
        return [t if known else None for t, known in zip(boils, inside.tolist())]
