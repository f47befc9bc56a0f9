"""Play random games by command: ``python -m tests.fuzz --games 2000 --seed 1``.

Ends with 1 if anything was found; the smallest game that shows it is written to a file in --save, to be turned into a test.
"""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from tests.fuzz.run import search


def main() -> int:
    options = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    options.add_argument("--games", type=int, default=2000, help="how many")
    options.add_argument("--seed", type=int, default=1, help="same seed, same games")
    options.add_argument("--save", type=Path, help="a folder for the games that show something")
    chosen = options.parse_args()
    found, shown = search(chosen.games, chosen.seed, lambda line: sys.stderr.write(line + "\n"))
    for number, (problem, times) in enumerate(found.most_common()):
        sys.stdout.write(f"{times} x {problem}\n")
        if chosen.save is not None:
            short, seed = shown[problem]
            (chosen.save / f"{number}-seed-{seed}.json").write_text(json.dumps(short, indent=1), encoding="utf-8")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
