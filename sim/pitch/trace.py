"""The path of the ball: written down whenever somebody or something sets it going or stops it.

Marks are kept while a bout is played and made into rows of `sim.pitch.log.BALL_FIELDS` at its end.  A ball that slides, then
rolls and then lies still loses speed at a constant rate in each phase, so every phase is a row that obeys the law of the
players' rows with rate 0 (`sim.trajectory`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from sim.ball import Launch
from sim.pitch.log import BALL_FIELDS
from sim.trajectory import state_after

NAN = math.nan
NOBODY = -1.0


LYING = Launch(0.0, 0.0, 0.0, 0.0)


class Mark(NamedTuple):
    """From `t` (s) on: with player `holder`, or (-1) from (`x`, `y`) m along the unit vector (`dx`, `dy`) as launched."""

    t: float
    holder: float
    in_play: float
    x: float = NAN
    y: float = NAN
    dx: float = 0.0
    dy: float = 0.0
    launch: Launch = LYING


def rows_of(marks: Sequence[Mark], end: float) -> np.ndarray:
    """Rows in the order of `BALL_FIELDS`, without gaps from the first mark to `end` (s); a mark that lasts no time leaves none.

    A ball that is never brought in lies dead in the middle of the layout.
    """
    marks = marks or [Mark(0.0, NOBODY, 0.0, 0.0, 0.0)]
    found: list[tuple[float, ...]] = []
    ends = [min(mark.t, end) for mark in marks[1:]] + [end]
    for mark, t1 in zip(marks, ends, strict=True):
        if t1 > mark.t:
            found += held(mark, t1) if mark.holder >= 0 else free(mark, t1)
    return np.array(found).reshape(-1, len(BALL_FIELDS))


def held(mark: Mark, t1: float) -> list[tuple[float, ...]]:
    """At a player's feet."""
    return [(mark.holder, mark.t, t1, *[NAN] * 7, mark.in_play)]


def free(mark: Mark, t1: float) -> list[tuple[float, ...]]:
    """Sliding, rolling, and then still: one row for each that lasts."""
    found: list[tuple[float, ...]] = []
    t, x, y, speed = mark.t, mark.x, mark.y, mark.launch.speed
    for slowing, lasts in ((mark.launch.slide, mark.launch.slides_for), (mark.launch.roll, math.inf)):
        stops = speed / slowing if slowing else math.inf
        until = min(t1, t + min(lasts, stops))
        if speed > 0.0 and until > t:
            law = (x, y, speed * mark.dx, speed * mark.dy, -slowing * mark.dx, -slowing * mark.dy, 0.0)
            found.append((NOBODY, t, until, *law, mark.in_play))
            x, y, _, _ = state_after(law, until - t)
            t, speed = until, speed - slowing * (until - t)
    if t1 > t:
        found.append((NOBODY, t, t1, x, y, 0.0, 0.0, 0.0, 0.0, 0.0, mark.in_play))
    return found
