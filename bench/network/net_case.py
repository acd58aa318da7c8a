"""Reading a case of the format network/1 and saying where it is wrong."""

import json
import math


class Fault(Exception):
    """A field that is wrong, with its path."""


FITTINGS = {
    # Lengths in bores for f_T, Crane TP-410.
    "elbow90_std": 30.0,
    "elbow45_std": 16.0,
    "tee_run": 20.0,
    "tee_branch": 60.0,
    "return_bend": 50.0,
    "mitre90": 60.0,
    "ball_valve": 3.0,
    "gate_valve": 8.0,
    "globe_valve": 340.0,
    "angle_valve": 150.0,
    "swing_check": 100.0,
}
# Without f_T, Crane TP-410.
PLAIN = {"entrance_sharp": 0.5, "entrance_inward": 0.78, "exit": 1.0}
VALVES = ["ball_valve", "gate_valve", "globe_valve", "angle_valve", "swing_check"]
ARRANGEMENTS = ["counter", "parallel", "shell_1_2", "cross_unmixed", "cross_mixed_max", "cross_mixed_min"]

MISSING = object()


class At:
    """A JSON value with its path, and typed access to what lies in it."""

    def __init__(self, value, path: str) -> None:
        self.value, self.path = value, path

    def fault(self, said: str) -> Fault:
        return Fault(f"{self.path}: {said}")

    def has(self, key: str) -> bool:
        return isinstance(self.value, dict) and self.value.get(key) is not None

    def get(self, key: str) -> "At":
        if not isinstance(self.value, dict):
            raise self.fault("should be an object")
        if self.value.get(key) is None:
            raise Fault(f"{self.path}.{key}: is missing")
        return At(self.value[key], f"{self.path}.{key}")

    def only(self, *keys: str) -> None:
        """A misspelt key would be a field silently left out."""
        if not isinstance(self.value, dict):
            raise self.fault("should be an object")
        for key in self.value:
            if key not in keys:
                raise Fault(f"{self.path}.{key}: nothing is called so here")

    def number(self, key: str, default=MISSING, least=-math.inf, over=-math.inf) -> float:
        if default is not MISSING and not self.has(key):
            return default
        at = self.get(key)
        value = at.value
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
            raise at.fault("should be a number")
        if value < least or value <= over:
            raise at.fault(f"is {value}; it should be {f'over {over:g}' if value <= over else f'at least {least:g}'}")
        return float(value)

    def size(self, key: str, default=MISSING) -> float:
        return self.number(key, default, over=0.0)

    def word(self, key: str, among=None, default=MISSING) -> str:
        if default is not MISSING and not self.has(key):
            return default
        at = self.get(key)
        if not isinstance(at.value, str):
            raise at.fault("should be a text")
        if among is not None and at.value not in among:
            raise at.fault(f"is {at.value!r}; known are {', '.join(among)}")
        return at.value

    def yes(self, key: str, default: bool) -> bool:
        if not self.has(key):
            return default
        at = self.get(key)
        if not isinstance(at.value, bool):
            raise at.fault("should be true or false")
        return at.value

    def items(self, key: str):
        """The entries of a list or an object, each with its key or place."""
        at = self.get(key)
        if isinstance(at.value, dict):
            return [(name, At(value, f"{at.path}.{name}")) for name, value in at.value.items()]
        if isinstance(at.value, list):
            return [(i, At(value, f"{at.path}[{i}]")) for i, value in enumerate(at.value)]
        raise at.fault("should be a list or an object")


def read(path) -> At:
    """The whole case."""
    with open(path, encoding="utf-8") as file:
        try:
            value = json.load(file)
        except json.JSONDecodeError as fault:
            raise Fault(f"line {fault.lineno} column {fault.colno}: {fault.msg}") from fault
    return At(value, "case")
