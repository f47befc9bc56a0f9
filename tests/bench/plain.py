"""Seconds that one bout of the loop in steps takes where nothing is compiled (run with NUMBA_DISABLE_JIT)."""

from __future__ import annotations

import ast
import sys
import time

from sim.game.loader import load_game
from tests.bench.ticking import stepped
from tests.bench.workload import SEED, TIGHT


def main() -> None:
    game = load_game(TIGHT, ast.literal_eval(sys.argv[1]))
    start = time.perf_counter()
    stepped(game, SEED, 0)
    sys.stdout.write(repr(time.perf_counter() - start))


if __name__ == "__main__":
    main()
