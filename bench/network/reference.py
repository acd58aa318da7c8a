"""Solves a case of the format network/1 with public libraries: fluids, ht, CoolProp and scipy.

    python reference.py CASE.json [-o RESULT.json] [--repeat N]

With --repeat N the result has `seconds_median`: the median of N solves, each from the same cold start;
reading the case and building the tables of properties are not in it. A case that is wrong is told with
the path of the field, and the exit status is 2.
"""

import argparse
import json
import statistics
import sys
import time

sys.dont_write_bytecode = True

from net_case import Fault, read
from net_solve import Net


def main() -> int:
    parser = argparse.ArgumentParser(description="Solves a case of the format network/1.")
    parser.add_argument("case")
    parser.add_argument("-o", "--output", help="where the result goes; the screen without it")
    parser.add_argument("--repeat", type=int, default=0, help="so many solves are timed")
    asked = parser.parse_args()
    try:
        net = Net(read(asked.case))
    except Fault as fault:
        print(fault, file=sys.stderr)
        return 2
    except OSError as fault:
        print(f"{asked.case}: {fault.strerror}", file=sys.stderr)
        return 2
    result = net.solve()
    if asked.repeat > 0:
        seconds = []
        for _ in range(asked.repeat):
            begin = time.perf_counter()
            net.solve()
            seconds.append(time.perf_counter() - begin)
        result["seconds_median"] = statistics.median(seconds)
    text = json.dumps(result, indent=1, ensure_ascii=False)
    if asked.output is None:
        print(text)
    else:
        with open(asked.output, "w", encoding="utf-8") as file:
            file.write(text + "\n")
        if asked.repeat > 0:
            print(f"{result['status']}: median of {asked.repeat} solves {result['seconds_median']:.6f} s")
    return 0


if __name__ == "__main__":
    sys.exit(main())
