"""Sets the project's network solver beside the one on public libraries, over all cases in one run.

    python compare.py [--repeat N] [CASE.json …]

Both solve the same files on the same machine, one after the other, each timing N solves of its own
from its own cold start, reading excluded. Differences are the largest over a case: flows in percent of
the flow itself (of a hundredth of the case's greatest flow where it is less), pressures in percent of
the greatest pressure, temperatures in K. The exit status is 1 where statuses differ or a difference is
over the limits that the table's foot names, and where either program fails.
"""

import argparse
import json
import pathlib
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
EXAMPLE = ["cargo", "run", "--quiet", "--release", "-p", "reckon", "--example", "network_bench", "--"]
LIMITS = {"flow": 0.5, "pressure": 0.5, "kelvin": 0.3}


def run(command: list[str], case: pathlib.Path, repeat: int) -> tuple[dict | None, str]:
    """The result of one program, or what it said instead."""
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder) / "result.json"
        done = subprocess.run([*command, str(case), "-o", str(out), "--repeat", str(repeat)], cwd=ROOT, capture_output=True, text=True)
        if done.returncode != 0 or not out.exists():
            said = (done.stderr.strip() or done.stdout.strip() or "no result").splitlines()[-1]
            return None, f"exit status {done.returncode}: {said}"
        return json.loads(out.read_text(encoding="utf-8")), ""


def apart(one, other, scale: float, faults: list[str], what: str) -> float:
    """The difference over a scale; where only one has a value, that is a fault of its own."""
    if one is None and other is None:
        return 0.0
    if one is None or other is None:
        faults.append(f"{what}: {one} and {other}")
        return 0.0
    return abs(one - other) / scale


def compared(ours: dict, theirs: dict) -> tuple[dict, list[str]]:
    """Largest differences of two solved results."""
    faults: list[str] = []
    largest = {"flow": 0.0, "pressure": 0.0, "kelvin": 0.0, "lift": 0.0}
    for part in ("nodes", "branches"):
        if set(ours[part]) != set(theirs[part]):
            faults.append(f"the {part} are not the same")
            return largest, faults
    most = max((abs(branch["m_kg_s"]) for branch in theirs["branches"].values()), default=0.0)
    for name, branch in theirs["branches"].items():
        mine = ours["branches"][name]
        scale = max(abs(branch["m_kg_s"]), 0.01 * most, 1e-12)
        largest["flow"] = max(largest["flow"], 100.0 * apart(mine["m_kg_s"], branch["m_kg_s"], scale, faults, name))
        for key in ("T_in_C", "T_out_C"):
            # Still water has no temperature of its own; only where both tell one is it compared.
            if mine[key] is not None and branch[key] is not None:
                largest["kelvin"] = max(largest["kelvin"], abs(mine[key] - branch[key]))
    greatest = max((abs(node["p_gauge_Pa"]) for node in theirs["nodes"].values() if node["p_gauge_Pa"] is not None), default=1.0)
    for name, node in theirs["nodes"].items():
        mine = ours["nodes"][name]
        far = apart(mine["p_gauge_Pa"], node["p_gauge_Pa"], max(greatest, 1.0), faults, name)
        largest["pressure"] = max(largest["pressure"], 100.0 * far)
        if mine["T_C"] is not None and node["T_C"] is not None:
            largest["kelvin"] = max(largest["kelvin"], abs(mine["T_C"] - node["T_C"]))
    largest["lift"] = apart(ours["thermostat_lift"], theirs["thermostat_lift"], 1.0, faults, "lift")
    return largest, faults


def main() -> int:
    parser = argparse.ArgumentParser(description="Compares two solvers of network/1.")
    parser.add_argument("cases", nargs="*", type=pathlib.Path)
    parser.add_argument("--repeat", type=int, default=20)
    asked = parser.parse_args()
    cases = [case.resolve() for case in asked.cases] or sorted((HERE / "cases").glob("*.json"))
    reference = [sys.executable, str(HERE / "reference.py")]
    # Built before anything is timed, so that no compiler runs beside a solver.
    built = subprocess.run([*EXAMPLE[:1], "build", *EXAMPLE[2:-1]], cwd=ROOT)
    if built.returncode != 0:
        print("the example network_bench does not build", file=sys.stderr)
        return 1
    print(f"{'case':18} {'status here':>16} {'status outside':>16} {'flow %':>8} {'p %':>8} {'K':>8} {'lift':>8} {'here s':>10} {'outside s':>10} {'ratio':>7}")
    notes, failed = [], False
    for case in cases:
        ours, said = run(EXAMPLE, case, asked.repeat)
        theirs, outside_said = run(reference, case, asked.repeat)
        notes += [f"{case.stem}: here: {said}"] if said else []
        notes += [f"{case.stem}: outside: {outside_said}"] if outside_said else []
        if ours is None or theirs is None:
            failed = True
            print(f"{case.stem:18} {'failed' if ours is None else ours['status']:>16} {'failed' if theirs is None else theirs['status']:>16}")
            continue
        line = f"{case.stem:18} {ours['status']:>16} {theirs['status']:>16}"
        if ours["status"] != theirs["status"]:
            failed = True
            notes.append(f"{case.stem}: here: {ours.get('why')}; outside: {theirs.get('why')}")
        elif ours["status"] == "solved":
            largest, faults = compared(ours, theirs)
            notes += [f"{case.stem}: {fault}" for fault in faults]
            failed |= bool(faults) or any(largest[key] > limit for key, limit in LIMITS.items())
            line += "".join(f" {largest[key]:8.4f}" for key in ("flow", "pressure", "kelvin", "lift"))
            here, outside = ours.get("seconds_median"), theirs.get("seconds_median")
            if here and outside:
                line += f" {here:10.6f} {outside:10.6f} {outside / here:7.1f}"
        print(line)
    print(f"Limits: flow {LIMITS['flow']} %, pressure {LIMITS['pressure']} % of the greatest, temperature {LIMITS['kelvin']} K. Medians of {asked.repeat} solves.")
    for note in notes:
        print(note)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
