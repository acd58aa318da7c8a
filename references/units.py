"""Units by pint: what an owner types, and the same in SI.

pint takes its factors from the CODATA and NIST definitions, so a slip in our own table shows.
"""

import pint

from table import Table

UNITS = pint.UnitRegistry()
SOURCE = f"pint {pint.__version__}"

# (function, text as typed, value, unit by pint, SI unit by pint). At most five a function, chosen
# so that each unit an owner would type comes up, and none twice in the same way.
QUESTIONS = [
    ("parse_length", "41.8 mm", 41.8, "millimeter", "meter"),
    ("parse_length", "1 5/8 in", 1.625, "inch", "meter"),
    ("parse_length", "2.5 ft", 2.5, "foot", "meter"),
    ("parse_length", "61 cm", 61, "centimeter", "meter"),
    ("parse_length", "-0.35 m", -0.35, "meter", "meter"),
    ("parse_area", "0.6 m²", 0.6, "meter**2", "meter**2"),
    ("parse_area", "804 mm²", 804, "millimeter**2", "meter**2"),
    ("parse_volume", "17.2 L", 17.2, "liter", "meter**3"),
    ("parse_volume", "250 mL", 250, "milliliter", "meter**3"),
    ("parse_volume", "4.5 US gal", 4.5, "gallon", "meter**3"),
    ("parse_volume", "4.5 imp gal", 4.5, "imperial_gallon", "meter**3"),
    ("parse_volume", "820 cm³", 820, "centimeter**3", "meter**3"),
    ("parse_mass", "3.4 kg", 3.4, "kilogram", "kilogram"),
    ("parse_mass", "12 lb", 12, "pound", "kilogram"),
    ("parse_time", "40 min", 40, "minute", "second"),
    ("parse_time", "4120 h", 4120, "hour", "second"),
    ("parse_time", "3 d", 3, "day", "second"),
    ("parse_temperature", "82 °C", 82, "degC", "kelvin"),
    ("parse_temperature", "180 °F", 180, "degF", "kelvin"),
    ("parse_temperature", "-22 °C", -22, "degC", "kelvin"),
    ("parse_temperature", "355.15 K", 355.15, "kelvin", "kelvin"),
    ("parse_temperature_difference", "12 K", 12, "kelvin", "kelvin"),
    ("parse_temperature_difference", "18 °F", 18, "delta_degF", "kelvin"),
    ("parse_temperature_difference", "7 °C", 7, "delta_degC", "kelvin"),
    ("parse_gauge_pressure", "0.9 bar", 0.9, "bar", "pascal"),
    ("parse_gauge_pressure", "13 psi", 13, "psi", "pascal"),
    ("parse_gauge_pressure", "25 kPa", 25, "kilopascal", "pascal"),
    ("parse_gauge_pressure", "140 mbar", 140, "millibar", "pascal"),
    ("parse_power", "38 kW", 38, "kilowatt", "watt"),
    ("parse_power", "84 hp", 84, "horsepower", "watt"),
    ("parse_power", "84 PS", 84, "metric_horsepower", "watt"),
    ("parse_flow", "90 L/min", 90, "liter/minute", "meter**3/second"),
    ("parse_flow", "2000 US gal/h", 2000, "gallon/hour", "meter**3/second"),
    ("parse_flow", "24 US gal/min", 24, "gallon/minute", "meter**3/second"),
    ("parse_flow", "5.4 m³/h", 5.4, "meter**3/hour", "meter**3/second"),
    ("parse_flow", "20 imp gal/min", 20, "imperial_gallon/minute", "meter**3/second"),
    ("parse_rotation", "2600 rpm", 2600, "revolution/minute", "revolution/second"),
    ("parse_speed", "6.2 kn", 6.2, "knot", "meter/second"),
    ("parse_speed", "12 km/h", 12, "kilometer/hour", "meter/second"),
    ("parse_speed", "9 mph", 9, "mile/hour", "meter/second"),
    ("parse_torque", "4.5 N m", 4.5, "newton*meter", "newton*meter"),
    ("parse_torque", "40 lbf·in", 40, "pound_force*inch", "newton*meter"),
    ("parse_torque", "6 lbf·ft", 6, "pound_force*foot", "newton*meter"),
    ("parse_angle", "30 °", 30, "degree", "radian"),
    ("parse_ratio", "45 %", 45, "percent", "dimensionless"),
    ("parse_current", "90 A", 90, "ampere", "ampere"),
    ("parse_voltage", "14 V", 14, "volt", "volt"),
]


def tables() -> list[Table]:
    """What an owner types, read into SI."""
    table = Table(
        "crates/quantity/validation/units.csv",
        "What an owner types, and the same in the SI unit of its quantity.\n"
        "Written by references/units.py; do not edit.",
        ["text"],
    )
    for function, text, value, unit, si in QUESTIONS:
        expected = UNITS.Quantity(value, unit).to(si).magnitude
        table.add(function, SOURCE, expected, max(abs(expected) * 1e-9, 1e-15), text=text)
    return [table]
