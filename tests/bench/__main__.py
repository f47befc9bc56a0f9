"""How fast is it?  `python -m tests.bench` plays a fixed workload of shipped games and prints a table; `--mechanisms` prints what
each mechanism of play costs instead; `--readme` puts the table into the README.md of this folder as well.

Everything is a ratio of two things timed in turns in this one run, so that it can be held against another machine.  Medians
of repeats; compiled code is built before the clock starts, and start-up has rows of its own.
"""

from __future__ import annotations

import argparse
import os
import platform
import sys
from importlib.metadata import version
from pathlib import Path

from tests.bench import mechanisms
from tests.bench.rows import rows
from tests.bench.table import BENCH, MECHANISMS, Row, as_text, into
from tests.bench.workload import FULL, TINY, Size

PAGE = Path(__file__).with_name("README.md")


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__.split("\n\n")[0])
    parser.add_argument("--readme", action="store_true", help="put the table into tests/bench/README.md as well")
    parser.add_argument(
        "--tiny", action="store_true", help="almost nothing, to see that it runs: the figures mean nothing"
    )
    parser.add_argument("--mechanisms", action="store_true", help="what each mechanism of play costs")
    asked = parser.parse_args()
    before, size = load(), TINY if asked.tiny else FULL
    table = mechanisms.table(size) if asked.mechanisms else as_text(told(size))
    machine = (
        f"{os.cpu_count()} processors, Python {platform.python_version()}, numba {version('numba')}, SimPy {version('simpy')}; "
        f"other work on the machine: load {before} before, {load()} after.\n"
    )
    text = table + "\n" + machine
    sys.stdout.write(text)
    if asked.readme:
        into(PAGE, MECHANISMS if asked.mechanisms else BENCH, text)


def told(size: Size) -> list[Row]:
    """All rows, each said as it is known."""
    found = []
    for row in rows(size):
        found.append(row)
        sys.stderr.write(f"{row.what}: {row.ours}\n")
    return found


def load() -> str:
    """The load of the last minute, where the system tells."""
    return f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "unknown"


if __name__ == "__main__":
    main()
