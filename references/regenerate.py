"""Writes all sibling rows, or with --check compares them with what is committed."""

import argparse
import sys

# No cache folders beside the scripts.
sys.dont_write_bytecode = True

import bay
import fit
import hydraulics
import media
import network
import rods
import shop
import tape
import threads
import transients
import units


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true", help="compare only; exit 1 on a difference")
    check = parser.parse_args().check
    differences = []
    modules = [bay, units, fit, hydraulics, media, network, rods, shop, tape, threads, transients]
    for table in [table for module in modules for table in module.tables()]:
        if check:
            differences += table.differences()
        else:
            table.write()
        print(f"{table.path.name}: {len(table.rows)} rows {'compared' if check else 'written'}")
    for difference in differences:
        print(difference, file=sys.stderr)
    return 1 if differences else 0


if __name__ == "__main__":
    sys.exit(main())
