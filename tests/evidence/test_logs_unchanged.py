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
    "break-away": "98cd762da179f35d",
    "even-goals": "7732bb82f433ce8e",
    "even-keep-ball": "7076ce1220470b3e",
    "home-grids": "661a4b91e66e56ac",
    "tight-square": "65de3266c1a581ad",
    "two-squares": "f4e808108af7df1a",
    "evidence break-away": "6853ecc6feebbd55",
    "evidence goals-floaters": "8a2e2286d385b58a",
    "evidence goals": "4db63dd050b6da07",
    "evidence possession-floaters": "5539be2d67aac30f",
    "evidence possession": "04298a6c9aebac90",
    "evidence square-swap": "ab98d53af4ee7295",
    "evidence square": "13dda99a4aebce91",
    "evidence transfer": "1dce2434f6eaa16f",
}


def plain(rows: np.ndarray) -> bytes:
    """A table as bytes, whether its columns have names or numbers."""
    if rows.dtype.names:
        rows = np.column_stack([rows[name] for name in rows.dtype.names])
    return np.ascontiguousarray(rows, dtype=np.float64).tobytes()


def bytes_of(log: BoutLog) -> bytes:
    """Everything a log says, events and paths first."""
    more = (
        float(log.duration_s),
        log.players,
        log.roles,
        log.reserve_end,
        log.reserve_lowest,
        log.reserve_drawn,
        log.phase,
    )
    held = [(one.role, float(one.seconds)) for one in log.held]
    events = [[float(x) if isinstance(x, float) else x for x in event] for event in log.events]
    return repr(events).encode() + plain(log.segments) + plain(log.ball) + repr((more, held)).encode()


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
