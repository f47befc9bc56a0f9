"""Where everybody is at a moment of a bout, read off its log by the closed forms of `sim.trajectory`."""

from __future__ import annotations

import numpy as np

from sim.pitch.log import BALL_FIELDS, SEGMENT_FIELDS, BoutLog
from sim.trajectory import LAW, state_after

PLAYER, T0, T1 = (SEGMENT_FIELDS.index(name) for name in ("player", "t0", "t1"))
HOLDER, IN_PLAY = BALL_FIELDS.index("holder"), BALL_FIELDS.index("in_play")


def place_on(row: np.ndarray, t: float) -> tuple[float, float]:
    """(x, y) in metres on a row, of a player or of the ball, at watch time `t` (s); at its nearer end where `t` lies outside."""
    x, y, _, _ = state_after(row[LAW].tolist(), min(max(t, row[T0]), row[T1]) - row[T0])
    return float(x), float(y)


def row_at(rows: np.ndarray, t: float) -> np.ndarray:
    """The row in force at `t` (s); before the first and after the last row, that one."""
    return rows[max(0, int(np.searchsorted(rows[:, T0], t, side="right")) - 1)]


def player_at(log: BoutLog, i: int, t: float) -> tuple[float, float]:
    """(x, y) in metres of player `i` (a place in `log.players`) at watch time `t` (s)."""
    rows = log.segments[log.segments[:, PLAYER] == i]
    return place_on(row_at(rows[np.argsort(rows[:, T0], kind="stable")], t), t)


def ball_at(log: BoutLog, t: float) -> tuple[float, float, int, bool]:
    """(x, y, holder, in play) of the ball at watch time `t` (s); holder is a place in `log.players`, -1 for nobody."""
    row = row_at(log.ball, t)
    holder = int(row[HOLDER])
    if holder >= 0:
        return *player_at(log, holder, t), holder, bool(row[IN_PLAY])
    return *place_on(row, t), -1, bool(row[IN_PLAY])
