"""Writes cases/grid.json: a looped grid of 500 branches, the same at every run.

    python make_grid.py

Sixteen rows by sixteen columns of nodes, joined along and across, and twenty slanting branches; bores,
lengths and draw-offs come from a plain congruential generator that stands here, so that no library's
random numbers enter.
"""

import json
import pathlib

ROWS = COLUMNS = 16
SLANTING = 20


class Draws:
    """x -> (1103515245 x + 12345) mod 2^31."""

    def __init__(self, seed: int) -> None:
        self.x = seed

    def one_of(self, choices):
        self.x = (1103515245 * self.x + 12345) % 2**31
        return choices[(self.x >> 12) % len(choices)]


def grid() -> dict:
    draws = Draws(5)
    nodes = {f"n{r:02}{c:02}": {"z_m": draws.one_of([0.0, 0.2, 0.4, 0.6])} for r in range(ROWS) for c in range(COLUMNS)}
    pairs = [(r, c, r, c + 1) for r in range(ROWS) for c in range(COLUMNS - 1)]
    pairs += [(r, c, r + 1, c) for r in range(ROWS - 1) for c in range(COLUMNS)]
    pairs += [(i % (ROWS - 1), (7 * i) % (COLUMNS - 1), i % (ROWS - 1) + 1, (7 * i) % (COLUMNS - 1) + 1) for i in range(SLANTING)]
    branches = []
    for number, (r, c, s, d) in enumerate(pairs):
        one, other = f"n{r:02}{c:02}", f"n{s:02}{d:02}"
        bore = draws.one_of([0.02, 0.025, 0.032, 0.04, 0.05])
        pipe = {"type": "pipe", "D_m": bore, "L_m": draws.one_of([1.0, 1.5, 2.0, 3.0, 4.5]), "eps_m": draws.one_of([1.5e-6, 4.6e-5])}
        elements = [pipe]
        if number % 5 == 0:
            pipe["fittings"] = {"elbow90_std": draws.one_of([1, 2, 3])}
        if number % 7 == 0:
            elements.append({"type": "valve", "kind": draws.one_of(["ball_valve", "gate_valve"]), "D_m": bore})
        if number % 61 == 30:
            elements.append({"type": "pump", "curve": {"a_m": 2.5, "b": 0.0, "c": -2.0e5}, "speed_rpm": 1000, "ref_speed_rpm": 1000})
        if draws.one_of([0, 1]):
            one, other = other, one
        branches.append({"id": f"b{number:03}", "from": one, "to": other, "elements": elements})
    inflow = {name: draws.one_of([-2e-5, -5e-5, -1e-4]) for i, name in enumerate(nodes) if i % 3 == 1}
    return {
        "name": "grid",
        "coolant": {"type": "MEG", "volume_fraction": 0.5},
        "isothermal_C": 60.0,
        "nodes": nodes,
        "fixed": {"n0000": {"p_gauge_Pa": 90000.0}, "n1515": {"p_gauge_Pa": 60000.0}},
        "inflow_m3_s": inflow,
        "branches": branches,
    }


def text(case: dict) -> str:
    """One line for each node's or branch's own entry, so that a change shows as one line."""
    lines = []
    for key, value in case.items():
        if key == "nodes":
            inside = ",\n".join(f"  {json.dumps(name)}: {json.dumps(entry)}" for name, entry in value.items())
            lines.append(f' "{key}": {{\n{inside}\n }}')
        elif key == "branches":
            inside = ",\n".join("  " + json.dumps(entry) for entry in value)
            lines.append(f' "{key}": [\n{inside}\n ]')
        else:
            lines.append(f' "{key}": {json.dumps(value)}')
    return "{\n" + ",\n".join(lines) + "\n}\n"


if __name__ == "__main__":
    case = grid()
    path = pathlib.Path(__file__).resolve().parent / "cases" / "grid.json"
    path.write_text(text(case), encoding="utf-8")
    print(f"{path.name}: {len(case['branches'])} branches, {len(case['nodes'])} nodes")
