#!/usr/bin/env python3
"""Compares the figures of README.md, hardware-notes/figures.md and hardware-notes/power-budget.md with what the command beside each prints.

  tests/figures_hold.py                 the commands that take seconds, and that the first two say the same
  tests/figures_hold.py --long          all of them: some hours of one core
  tests/figures_hold.py --from FOLDER   the same against what the commands printed earlier, kept as FOLDER/NAME.txt
  tests/figures_hold.py --keep FOLDER   keeps what they print there

A figure holds if it is what is printed, rounded as it stands in the document; where a tolerance stands in `figures_check/tables.py`, by that part of it, too. What
depends on the machine has one: time. What is drawn from a seed has none: the same program prints the same. A row of a table that nothing
there speaks of is an error, so that no figure comes in without its command. Prints one line a figure that does not hold, and how many do.
"""

import sys

from figures_check.compare import compare
from figures_check.printed import Printed


def main():
    arguments = sys.argv[1:]
    option = lambda name: arguments[arguments.index(name) + 1] if name in arguments else None  # noqa: E731
    result = compare(Printed(option("--from"), "--long" in arguments, option("--keep")))
    for wrong in result.wrong:
        print(wrong)
    print(f"{result.held} figures hold, {len(result.wrong)} do not, {result.left} need a longer run")
    sys.exit(1 if result.wrong else 0)


if __name__ == "__main__":
    main()
