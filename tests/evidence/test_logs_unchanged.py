"""While the engine room is rebuilt nothing that is played may change: logs of all shipped and evidence games, to the last bit.

The hashes are those of version 0.3.0.  `python -m tests.evidence.test_logs_unchanged` prints them anew.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

import numpy as np
import pytest

from sim.evidence.tables import folder
from sim.game.loader import load_game
from sim.game.shipped import shipped_games
from sim.measures.session_counts import counts_of_bout
from sim.pitch.engine import play_bout
from sim.pitch.log import BoutLog
from sim.players import draw_roster

SEEDS = (1, 2)
GAMES = {name: Path(path) for name, path in shipped_games().items()}
GAMES |= {f"evidence {path.stem}": path for path in sorted((folder() / "games").glob("*.toml"))}
HASHES = {
    "break-away": "15fa5623ec6e09f2",
    "even-goals": "578f713b0ea36ccf",
    "even-keep-ball": "11f9a0d8b5a3034c",
    "home-grids": "bea80dd0a4a68ce8",
    "tight-square": "a8ce5dda7483fd17",
    "two-squares": "25adbe19218b7bb5",
    "evidence break-away": "567b3b0140d20e90",
    "evidence goals-floaters": "248bd7843bae65dc",
    "evidence goals": "f5ad30d02a860694",
    "evidence possession-floaters": "f6e85550050b8ed5",
    "evidence possession": "bb28a367838ee228",
    "evidence square-swap": "859e020fe01a2b5e",
    "evidence square": "a9d6be082422f003",
    "evidence transfer": "8bbd7dfc80be2b2a",
}


def plain(rows: np.ndarray) -> bytes:
    """A table as bytes, whether its columns have names or numbers."""
    if rows.dtype.names:
        rows = np.column_stack([rows[name] for name in rows.dtype.names])
    return np.ascontiguousarray(rows, dtype=np.float64).tobytes()


def bytes_of(log: BoutLog) -> bytes:
    """Everything a log says, events and paths first."""
    more = (log.duration_s, log.players, log.roles, log.reserve_end, log.reserve_lowest, log.reserve_drawn, log.phase)
    held = [(one.role, one.seconds) for one in log.held]
    return repr(log.events).encode() + plain(log.segments) + plain(log.ball) + repr((more, held)).encode()


def hash_of(path: Path) -> str:
    """Of a bout by each of two seeds and what is counted of them."""
    game, total = load_game(str(path)), hashlib.sha256()
    for seed in SEEDS:
        log = play_bout(game, draw_roster(game, seed, 0), seed)
        counts = counts_of_bout(game, log)
        total.update(bytes_of(log) + counts.cells.tobytes() + counts.persons.tobytes())
        total.update(repr(sorted(counts.totals.items(), key=str)).encode())
    return total.hexdigest()[:16]


@pytest.mark.parametrize("name", list(GAMES))
def test_the_log_is_the_same(name):
    assert hash_of(GAMES[name]) == HASHES[name]


if __name__ == "__main__":
    for one, at in GAMES.items():
        print(f'    "{one}": "{hash_of(at)}",')  # noqa: T201 - run by hand
