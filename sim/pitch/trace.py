"""The path of the ball: written down whenever somebody or something sets it going or stops it.

Marks are kept while a bout is played and made into records of `sim.trajectory.BALL_RUN` at its end.  A rolling ball loses speed
at a constant rate and then lies still, so its path obeys the law of the players' paths with rate 0.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from sim.trajectory import BALL_RUN, LAW

NAN = math.nan
NOBODY = -1


class Mark(NamedTuple):
    """From `t` (s) on: with player `holder`, or (-1) from (`x`, `y`) m with velocity (`vx`, `vy`) m/s, losing `slowing` m/s2."""

    t: float
    holder: int
    in_play: bool
    x: float = NAN
    y: float = NAN
    vx: float = 0.0
    vy: float = 0.0
    slowing: float = 0.0


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
    return [(mark.holder, mark.t, t1, *[NAN] * len(LAW), mark.in_play)]


def free(mark: Mark, t1: float) -> list[tuple[float, ...]]:
    """Rolling, and then still."""
    speed = math.hypot(mark.vx, mark.vy)
    rolls = 0.0 if speed == 0.0 else math.inf if mark.slowing == 0.0 else speed / mark.slowing
    still = min(t1, mark.t + rolls)
    ax, ay = (-mark.slowing * mark.vx / speed, -mark.slowing * mark.vy / speed) if speed else (0.0, 0.0)
    found: list[tuple[float, ...]] = []
    if still > mark.t:
        found.append((NOBODY, mark.t, still, mark.x, mark.y, mark.vx, mark.vy, ax, ay, 0.0, mark.in_play))
    if t1 > still:
        s = still - mark.t
        x, y = mark.x + mark.vx * s + 0.5 * ax * s * s, mark.y + mark.vy * s + 0.5 * ay * s * s
        found.append((NOBODY, still, t1, x, y, 0.0, 0.0, 0.0, 0.0, 0.0, mark.in_play))
    return found
