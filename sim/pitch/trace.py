"""The path of the ball: written down whenever somebody or something sets it going or stops it.

Marks are kept while a bout is played and made into records of `sim.trajectory.BALL_RUN` at its end.  A ball that slides, then
rolls and then lies still loses speed at a constant rate in each phase, so every phase is a record that obeys the law of the
players' paths with rate 0.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from sim.ball import Launch
from sim.trajectory import BALL_RUN, LAW

NAN = math.nan
NO_LAW = (NAN,) * len(LAW)  # of a ball at somebody's feet
NOBODY = -1
LYING = Launch(0.0, 0.0, 0.0, 0.0)


class Mark(NamedTuple):
    """From `t` (s) on: with player `holder`, or (-1) from (`x`, `y`) m along the unit vector (`dx`, `dy`) as launched."""

    t: float
    holder: int
    in_play: bool
    x: float = NAN
    y: float = NAN
    dx: float = 0.0
    dy: float = 0.0
    launch: Launch = LYING


def rows_of(marks: Sequence[Mark], end: float) -> np.ndarray:
    """Records of `BALL_RUN`, without gaps from the first mark to `end` (s); a mark that lasts no time leaves none.

    A ball that is never brought in lies dead in the middle of the layout.
    """
    marks = marks or [Mark(0.0, NOBODY, False, 0.0, 0.0)]
    found: list[tuple[float, ...]] = []
    ends = [min(mark.t, end) for mark in marks[1:]] + [end]
    for mark, t1 in zip(marks, ends, strict=True):
        if t1 > mark.t:
            found += held(mark, t1) if mark.holder >= 0 else free(mark, t1)
    return np.array(found, BALL_RUN)


def held(mark: Mark, t1: float) -> list[tuple[float, ...]]:
    """At a player's feet."""
    return [(mark.holder, mark.t, t1, *NO_LAW, mark.in_play)]


def free(mark: Mark, t1: float) -> list[tuple[float, ...]]:
    """Sliding, rolling, and then still: one record for each that lasts."""
    found: list[tuple[float, ...]] = []
    t, x, y, speed = mark.t, mark.x, mark.y, mark.launch.speed
    for slowing, lasts in ((mark.launch.slide, mark.launch.slides_for), (mark.launch.roll, math.inf)):
        stops = speed / slowing if slowing else math.inf
        until = min(t1, t + min(lasts, stops))
        if speed > 0.0 and until > t:
            vx, vy, ax, ay = speed * mark.dx, speed * mark.dy, -slowing * mark.dx, -slowing * mark.dy
            found.append((NOBODY, t, until, x, y, vx, vy, ax, ay, 0.0, mark.in_play))
            s = until - t
            x, y = x + vx * s + 0.5 * ax * s * s, y + vy * s + 0.5 * ay * s * s
            t, speed = until, speed - slowing * s
    if t1 > t:
        found.append((NOBODY, t, t1, x, y, 0.0, 0.0, 0.0, 0.0, 0.0, mark.in_play))
    return found
