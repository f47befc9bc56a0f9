"""Where everybody is at a moment of a bout, read off its log by the closed forms of `sim.trajectory`."""

from __future__ import annotations

import numpy as np

from sim.pitch.log import BoutLog
from sim.trajectory import state_after


def place_on(row: np.void, t: float) -> tuple[float, float]:
    """(x, y) in metres on a row, of a player or of the ball, at watch time `t` (s); at its nearer end where `t` lies outside."""
    x, y, _, _ = state_after(row, min(max(t, row["t0"]), row["t1"]) - row["t0"])
    return float(x), float(y)


def row_at(rows: np.ndarray, t: float) -> np.void:
    """The row in force at `t` (s); before the first and after the last row, that one."""
    return rows[max(0, int(np.searchsorted(rows["t0"], t, side="right")) - 1)]


def player_at(log: BoutLog, i: int, t: float) -> tuple[float, float]:
    """(x, y) in metres of player `i` (a place in `log.players`) at watch time `t` (s)."""
    rows = log.segments[log.segments["player"] == i]
    return place_on(row_at(rows[np.argsort(rows["t0"], kind="stable")], t), t)


def ball_at(log: BoutLog, t: float) -> tuple[float, float, int, bool]:
    """(x, y, holder, in play) of the ball at watch time `t` (s); holder is a place in `log.players`, -1 for nobody."""
    row = row_at(log.ball, t)
    holder = int(row["holder"])
    if holder >= 0:
        return *player_at(log, holder, t), holder, bool(row["in_play"])
    return *place_on(row, t), -1, bool(row["in_play"])
