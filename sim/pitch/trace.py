"""The path of the ball: written down whenever somebody or something sets it going or stops it.

Marks are kept while a bout is played and made into records of `sim.trajectory.BALL_RUN` at its end.  A ball that slides, then
rolls and then lies still loses speed at a constant rate in each phase, so every phase is a record that obeys the law of the
players' paths with rate 0.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sim.compiled import njit, records
from sim.trajectory import BALL_RUN

NAN = math.nan
NOBODY = -1
MOST_RECORDS = 3  # of one mark: it slides, rolls, and lies

MARK = np.dtype(
    [
        ("t", "f8"),  # s, from when on
        ("holder", "i8"),  # with which player, or (-1)
        ("in_play", "?"),
        ("x", "f8"),  # m, from where
        ("y", "f8"),
        ("dx", "f8"),  # along which unit vector
        ("dy", "f8"),
        ("speed", "f8"),  # as launched (`sim.ball.Launch`)
        ("slide", "f8"),
        ("slides_for", "f8"),
        ("roll", "f8"),
    ]
)
"""Where the ball is from then on, or how it moves: marks are tuples in this order."""
LYING = (0.0,) * 6  # from `dx` on, where it does not move
NOT_ROLLING = (NAN, NAN, *LYING)  # from `x` on, at a player's feet


def rows_of(marks: Sequence[tuple], end: float) -> np.ndarray:
    """Records of `BALL_RUN`, without gaps from the first mark to `end` (s); a mark that lasts no time leaves none.

    A ball that is never brought in lies dead in the middle of the layout.
    """
    given = records(np.array(marks or [(0.0, NOBODY, False, 0.0, 0.0, *LYING)], MARK))
    rows = records(np.empty(MOST_RECORDS * len(given), BALL_RUN))
    return rows[: put_path(given, end, rows)].view(BALL_RUN, np.ndarray).copy()


@njit(cache=True)
def put_path(marks, end, rows):
    """Write all records of a path that ends at `end` (s); returns how many."""
    n = 0
    for k in range(len(marks)):
        t1 = min(marks[k + 1].t, end) if k + 1 < len(marks) else end
        if t1 > marks[k].t:
            n = put_held(marks[k], t1, rows, n) if marks[k].holder >= 0 else put_free(marks[k], t1, rows, n)
    return n


@njit(cache=True)
def put_held(mark, t1, rows, n):
    """At a player's feet until `t1` (s), behind the `n` records already there; returns the new count."""
    row = rows[n]
    row.holder, row.t0, row.t1, row.in_play = mark.holder, mark.t, t1, mark.in_play
    row.x, row.y, row.vx, row.vy, row.ax, row.ay, row.rate = NAN, NAN, NAN, NAN, NAN, NAN, NAN
    return n + 1


@njit(cache=True)
def put_free(mark, t1, rows, n):
    """Sliding, rolling, and then still, the same: one record for each that lasts."""
    t, x, y, speed = mark.t, mark.x, mark.y, mark.speed
    for slowing, lasts in ((mark.slide, mark.slides_for), (mark.roll, math.inf)):
        stops = speed / slowing if slowing != 0.0 else math.inf
        until = min(t1, t + min(lasts, stops))
        if speed > 0.0 and until > t:
            vx, vy, ax, ay = speed * mark.dx, speed * mark.dy, -slowing * mark.dx, -slowing * mark.dy
            row = rows[n]
            row.holder, row.t0, row.t1, row.in_play = NOBODY, t, until, mark.in_play
            row.x, row.y, row.vx, row.vy, row.ax, row.ay, row.rate = x, y, vx, vy, ax, ay, 0.0
            n += 1
            s = until - t
            x, y = x + vx * s + 0.5 * ax * s * s, y + vy * s + 0.5 * ay * s * s
            t, speed = until, speed - slowing * s
    if t1 > t:
        row = rows[n]
        row.holder, row.t0, row.t1, row.in_play = NOBODY, t, t1, mark.in_play
        row.x, row.y, row.vx, row.vy, row.ax, row.ay, row.rate = x, y, 0.0, 0.0, 0.0, 0.0, 0.0
        n += 1
    return n
