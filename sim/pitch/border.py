"""The outer border of the ground in play (compiled, but for writing it down).

The ground is a rectangle (west, south, east, north of the state of play) or, where areas that touch do not make one, several: its
parts.  The rectangle then is only the box around them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sim.compiled import njit
from sim.geometry import ROUNDING_M
from sim.pitch.arrays import RECTANGLE

NEVER = 1e9
LEVEL = 1e-9  # a direction that leans less than this to one side never gets to the line there
PARALLEL = 1e-12  # and one that leans less than this does not move that way at all
# judgement: a ball kicked from this little outside may still come in; further out it is over the line at once
STRAY_M = 2.0

Rectangle = tuple[float, float, float, float]  # west, south, east, north


def _inside(one: Rectangle, other: Rectangle) -> bool:
    return other[0] <= one[0] and other[1] <= one[1] and one[2] <= other[2] and one[3] <= other[3]


def _overlap(one: Rectangle, other: Rectangle) -> bool:
    across, along = min(one[2], other[2]) - max(one[0], other[0]), min(one[3], other[3]) - max(one[1], other[1])
    return min(across, along) > ROUNDING_M


def _size(one: Rectangle) -> float:
    return (one[2] - one[0]) * (one[3] - one[1])


def mark_out(play: np.void, rectangles: Sequence[Rectangle], slack: float) -> None:
    """Write the ground made of these rectangles, `slack` metres wider all round, into the state of play."""
    kept: list[Rectangle] = []
    for one in sorted(set(rectangles), key=_size, reverse=True):
        if not any(_inside(one, other) for other in kept):
            kept.append(one)
    kept.sort()
    box = (min(r[0] for r in kept), min(r[1] for r in kept), max(r[2] for r in kept), max(r[3] for r in kept))
    clear = not any(_overlap(one, other) for k, one in enumerate(kept) for other in kept[:k])
    whole = len(kept) == 1 or (clear and math.isclose(sum(_size(one) for one in kept), _size(box), rel_tol=ROUNDING_M))
    for name, value in zip(RECTANGLE.names or (), wider(box, slack), strict=True):
        play[name] = value
    parts = () if whole else kept
    play["parts_in_play"] = len(parts)
    for k, one in enumerate(parts):
        play["parts"][k] = wider(one, slack)


def wider(one: Rectangle, slack: float) -> Rectangle:
    """A rectangle that reaches `slack` metres further on every side."""
    west, south, east, north = one
    return west - slack, south - slack, east + slack, north + slack


@njit(cache=True)
def on_ground(play, x, y, slack):
    """Whether (x, y) lies on the ground in play or at most `slack` metres beyond its line."""
    if not (play.west - slack <= x <= play.east + slack and play.south - slack <= y <= play.north + slack):
        return False
    parts = play.parts_in_play
    if parts == 0:
        return True
    for k in range(parts):
        part = play.parts[k]
        if part.west - slack <= x <= part.east + slack and part.south - slack <= y <= part.north + slack:
            return True
    return False


@njit(cache=True)
def within(x, u, low, high):
    """(first, last) distance along which a point that moves from x at rate u is between low and high."""
    if abs(u) < PARALLEL:
        return (-NEVER, NEVER) if low <= x <= high else (NEVER, -NEVER)
    first, last = (low - x) / u, (high - x) / u
    return (first, last) if first <= last else (last, first)


@njit(cache=True)
def to_the_line(play, x, y, ux, uy):
    """Metres from (x, y) along the unit vector (ux, uy) to where the outer border of a ground of several parts is crossed."""
    parts = play.parts_in_play
    far = NEVER  # how far it stays in play; at first, where it comes in
    for k in range(parts):
        part = play.parts[k]
        a, b = within(x, ux, part.west, part.east)
        c, d = within(y, uy, part.south, part.north)
        first, last = max(a, c, 0.0), min(b, d)
        if first <= last and first < far:
            far = first
    if far > STRAY_M:
        return 0.0
    for _ in range(parts):
        furthest = far
        for k in range(parts):
            part = play.parts[k]
            a, b = within(x, ux, part.west, part.east)
            c, d = within(y, uy, part.south, part.north)
            if max(a, c) <= far + ROUNDING_M:
                furthest = max(furthest, min(b, d))
        if furthest <= far:
            break
        far = furthest
    return far


@njit(cache=True)
def room_to_the_line(play, x, y, ux, uy):
    """Metres from (x, y) along a unit vector until a ball would be over the line of the ground in play (0 if it is)."""
    room = to_the_line(play, x, y, ux, uy) if play.parts_in_play > 0 and on_ground(play, x, y, 0.0) else NEVER
    if ux > LEVEL:
        room = min(room, (play.east - x) / ux)
    if ux < -LEVEL:
        room = min(room, (play.west - x) / ux)
    if uy > LEVEL:
        room = min(room, (play.north - y) / uy)
    if uy < -LEVEL:
        room = min(room, (play.south - y) / uy)
    return max(room, 0.0)


@njit(cache=True)
def leaving_distance(ball, play):
    """Metres the rolling ball has to go until it crosses the border of the ground in play (NEVER if it starts outside)."""
    if play.parts_in_play > 0:
        return to_the_line(play, ball.x, ball.y, ball.dx, ball.dy)
    best = NEVER
    if ball.dx > 0.0:
        best = min(best, (play.east - ball.x) / ball.dx)
    if ball.dx < 0.0:
        best = min(best, (play.west - ball.x) / ball.dx)
    if ball.dy > 0.0:
        best = min(best, (play.north - ball.y) / ball.dy)
    if ball.dy < 0.0:
        best = min(best, (play.south - ball.y) / ball.dy)
    return max(best, 0.0)
