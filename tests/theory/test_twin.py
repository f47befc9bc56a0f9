"""The compiled engine and its plain-Python twin (the same functions, not compiled) play the same bout, to the last bit.

The oracle is the Python language itself: NUMBA_DISABLE_JIT makes every compiled function an ordinary one.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
GAMES = ("tight-square", "two-squares", "home-grids", "break-away", "even-goals", "even-keep-ball")
MINUTES = 0.3

CODE = """
import sys
from tests.theory.test_twin import GAMES, digest
for name in GAMES:
    print(name, digest(name))
"""


def digest(name: str) -> str:
    """A digest of all events and paths of a short bout of a shipped game."""
    from sim.game.loader import load_game
    from sim.pitch.engine import play_bout
    from sim.players import draw_roster

    game = load_game(name, [f"bouts.minutes={MINUTES}"])
    log = play_bout(game, draw_roster(game, 5, 0), 5)
    plain = [tuple(field if isinstance(field, (str, int)) else float(field) for field in event) for event in log.events]
    return hashlib.sha256(repr(plain).encode() + log.segments.tobytes()).hexdigest()


@pytest.mark.theory
def test_the_compiled_engine_equals_plain_python():
    twin = subprocess.run(
        [sys.executable, "-c", CODE],
        cwd=ROOT,
        env=os.environ | {"NUMBA_DISABLE_JIT": "1", "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    assert twin.returncode == 0, twin.stderr
    assert dict(line.split() for line in twin.stdout.splitlines()) == {name: digest(name) for name in GAMES}
