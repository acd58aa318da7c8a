"""A cooling circuit as a network: flows, pressures, temperatures and the thermostat's lift.

The cases are those of the bench, `bench/network/cases/`, and the solver is the one that stands there
beside them: written on fluids, ht, CoolProp and scipy, with no code of the crates in it. Of each case
that has a solution up to five branches and five nodes are rows.
"""

import pathlib
import sys

import CoolProp
import fluids
import ht
import scipy

from table import ROOT, Table

BENCH = ROOT / "bench" / "network"
sys.path.append(str(BENCH))

from net_case import read  # noqa: E402
from net_solve import Net  # noqa: E402

LIBRARIES = f"fluids {fluids.__version__}, ht {ht.__version__}, CoolProp {CoolProp.__version__}, scipy {scipy.__version__}"
# So many rows count of one function and source.
MOST = 5


def spread(names: list) -> list:
    """Up to five of a list, from its beginning to its end."""
    if len(names) <= MOST:
        return names
    return [names[round(i * (len(names) - 1) / (MOST - 1))] for i in range(MOST)]


def rows(table: Table, path: pathlib.Path) -> None:
    """The rows of one case; none where there is no state to tell of."""
    case = path.stem
    source = f"{LIBRARIES}: case {case}"
    result = Net(read(path)).solve()
    if result["status"] != "solved":
        return
    flows = {name: branch["m_kg_s"] for name, branch in result["branches"].items() if branch["m_kg_s"] != 0.0}
    most = max(map(abs, flows.values()))
    # What hardly flows is asked of no one: its share of a tolerance would be nothing.
    told = [name for name, flow in flows.items() if abs(flow) > 0.01 * most]
    for name in spread(told):
        table.add("network_flow", source, flows[name], 0.005 * abs(flows[name]), case=case, what=name)
    pressures = {name: node["p_gauge_Pa"] for name, node in result["nodes"].items() if node["p_gauge_Pa"] is not None}
    greatest = max(map(abs, pressures.values()))
    fixed = read(path).value.get("fixed", {})
    for name in spread([name for name in pressures if name not in fixed]):
        table.add("network_pressure", source, pressures[name], 0.005 * greatest, case=case, what=name)
    if "isothermal_C" in read(path).value:
        return
    warm = {name: node["T_C"] for name, node in result["nodes"].items() if node["T_C"] is not None}
    for name in spread(list(warm)):
        table.add("network_temperature", source, warm[name], 0.3, case=case, what=name)
    if result["thermostat_lift"] is not None:
        # As far as 0.3 K moves it.
        thermostat = read(path).value["thermostat"]
        tolerance = 0.3 / (thermostat["T_full_C"] - thermostat["T_open_C"])
        table.add("network_lift", source, result["thermostat_lift"], tolerance, case=case, what=thermostat["sense_node"])


def tables() -> list[Table]:
    """The one table."""
    table = Table(
        "crates/reckon/validation/network_sibling.csv",
        "Circuits as networks: flow in kg/s along the branch as written, total gauge pressure in Pa,\n"
        "temperature in degrees C, lift 0 to 1. case is a file of bench/network/cases; what is a branch of\n"
        "it for a flow and a node for the rest. Written by references/network.py; do not edit.",
        ["case", "what"],
    )
    for path in sorted((BENCH / "cases").glob("*.json")):
        rows(table, path)
    return [table]
