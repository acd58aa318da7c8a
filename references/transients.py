"""A lumped mass of water: its heat balance as a differential equation, integrated step by step.

No closed form is used. The temperature is what the integrator gives at the end; the time to a
temperature is where the integrator sees its solution pass it; the time constant is where the
distance from the temperature at which it levels off has fallen to 1/e, which is a time to a
temperature of a body that cools to surroundings with no heat put in.
"""

import math

import scipy
from scipy.integrate import solve_ivp

from table import Table

RADAU = f"scipy {scipy.__version__}, solve_ivp, Radau"
TIGHT = dict(method="Radau", rtol=1e-11, atol=1e-11)
# With tolerances ten times coarser the ten written digits are the same; this is well above their last.
KELVIN = 1e-7
SHARE = 1e-8


def balance(capacity: float, heat: float, ua: float, around: float):
    """Rate of warming in K/s, of one temperature in °C."""
    return lambda _, at: [(heat - ua * (at[0] - around)) / capacity]


def after(capacity: float, heat: float, ua: float, around: float, start: float, time: float) -> float:
    done = solve_ivp(balance(capacity, heat, ua, around), (0.0, time), [start], **TIGHT)
    assert done.success
    return done.y[0][-1]


def passes(capacity: float, heat: float, ua: float, around: float, start: float, target: float, until: float) -> float:
    def there(_, at) -> float:
        return at[0] - target

    there.terminal = True
    done = solve_ivp(balance(capacity, heat, ua, around), (0.0, until), [start], events=there, dense_output=True, **TIGHT)
    assert done.success and len(done.t_events[0]) == 1
    # Between two steps the integrator reads a polynomial; what passes the target there is set
    # right by integrating once more to that time and going on by the slope.
    time = done.t_events[0][0]
    for _ in range(3):
        at = after(capacity, heat, ua, around, start, time)
        time += (target - at) / balance(capacity, heat, ua, around)(time, [at])[0]
    return time


def tables() -> list[Table]:
    """The one table."""
    table = Table(
        "crates/reference/validation/lumped_sibling.csv",
        "A lumped mass: heat capacity in J/K, heat in W, UA in W/K, temperatures in degrees C, times in s.\n"
        "Written by references/transients.py; do not edit.",
        ["capacity", "heat", "ua", "around", "start", "target", "time"],
    )
    # An engine that warms up, the same with coolers, one that cools, one in the frost, one held by a heater.
    for capacity, heat, ua, around, start, time in [
        (92e3, 18e3, 35.0, 18.0, 16.0, 240.0),
        (118e3, 26e3, 410.0, 12.0, 20.0, 900.0),
        (105e3, 0.0, 14.0, 21.0, 84.0, 7200.0),
        (64e3, -900.0, 6.5, -4.0, 8.0, 300.0),
        (140e3, 1500.0, 22.0, 3.0, 71.0, 5400.0),
    ]:
        value = after(capacity, heat, ua, around, start, time)
        table.add("temperature_after", RADAU, value, KELVIN, capacity=capacity, heat=heat, ua=ua, around=around, start=start, time=time)
    for capacity, heat, ua, around, start, target in [
        (92e3, 18e3, 35.0, 18.0, 16.0, 82.0),
        (118e3, 26e3, 410.0, 12.0, 20.0, 74.0),
        (105e3, 0.0, 14.0, 21.0, 84.0, 40.0),
        (64e3, -900.0, 6.5, -4.0, 8.0, 1.0),
        (140e3, 1500.0, 22.0, 3.0, 95.0, 72.0),
    ]:
        value = passes(capacity, heat, ua, around, start, target, 20 * capacity / ua)
        table.add("time_to", RADAU, value, SHARE * value, capacity=capacity, heat=heat, ua=ua, around=around, start=start, target=target)
    for capacity, ua in [(92e3, 35.0), (118e3, 410.0), (105e3, 14.0), (64e3, 6.5), (4186.0, 0.8)]:
        value = passes(capacity, 0.0, ua, 0.0, 100.0, 100.0 / math.e, 20 * capacity / ua)
        table.add("time_constant", RADAU, value, SHARE * value, capacity=capacity, ua=ua)
    return [table]
