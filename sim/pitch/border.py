"""The outer border of the ground in play (compiled, but for writing it down).

The ground is a rectangle (west, south, east, north of the state of play) or, where areas that touch do not make one, several: its
parts.  The rectangle then is only the box around them.  Where players on the lines may play the ball beyond them, the run-off is
part of the ground, and `run_off` says how wide it is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from sim.compiled import njit
from sim.geometry import ROUNDING_M

NEVER = 1e9
LEVEL = 1e-9  # a direction that leans less than this to one side never gets to the line there
PARALLEL = 1e-12  # and one that leans less than this does not move that way at all
# judgement: a ball kicked from this little outside may still come in; further out it is over the line at once
STRAY_M = 2.0

Rectangle = tuple[float, float, float, float]  # west, south, east, north


class Part(NamedTuple):
    """A rectangle of the ground, and how far beyond its line the ball is in play (m)."""

    bounds: Rectangle
    run_off: float

    @property
    def in_play(self) -> Rectangle:
        """The rectangle with its run-off."""
        west, south, east, north = self.bounds
        return west - self.run_off, south - self.run_off, east + self.run_off, north + self.run_off


def _inside(one: Rectangle, other: Rectangle) -> bool:
    return other[0] <= one[0] and other[1] <= one[1] and one[2] <= other[2] and one[3] <= other[3]


def _overlap(one: Rectangle, other: Rectangle) -> bool:
    across, along = min(one[2], other[2]) - max(one[0], other[0]), min(one[3], other[3]) - max(one[1], other[1])
    return min(across, along) > ROUNDING_M


def _size(one: Rectangle) -> float:
    return (one[2] - one[0]) * (one[3] - one[1])


def _box(rectangles: Sequence[Rectangle]) -> Rectangle:
    wests, souths, easts, norths = zip(*rectangles, strict=True)
    return min(wests), min(souths), max(easts), max(norths)


def _make_a_rectangle(parts: Sequence[Part]) -> bool:
    bounds = [part.bounds for part in parts]
    clear = not any(_overlap(one, other) for k, one in enumerate(bounds) for other in bounds[:k])
    alike = len({part.run_off for part in parts}) == 1
    return alike and clear and math.isclose(sum(map(_size, bounds)), _size(_box(bounds)), rel_tol=ROUNDING_M)


class Outline(NamedTuple):
    """The ground in play as it is written down: the box round it with the least run-off, and its parts with theirs (none where it
    is one rectangle)."""

    box: tuple[float, ...]
    parts: tuple[tuple[float, ...], ...]


@lru_cache(maxsize=4096)
def outline(parts: tuple[Part, ...]) -> Outline:
    """That of the ground made of these parts."""
    kept: list[Part] = []
    for one in sorted(set(parts), key=lambda part: (_size(part.bounds), part.run_off), reverse=True):
        if not any(_inside(one.bounds, other.bounds) and _inside(one.in_play, other.in_play) for other in kept):
            kept.append(one)
    kept.sort()
    if _make_a_rectangle(kept):
        kept = [Part(_box([part.bounds for part in kept]), kept[0].run_off)]
    box = (*_box([part.in_play for part in kept]), min(part.run_off for part in kept))
    return Outline(box, tuple((*part.in_play, part.run_off) for part in kept) if len(kept) > 1 else ())


def mark_out(play: Any, parts: Sequence[Part]) -> None:
    """Write the ground made of these parts, with their run-offs, into the state of play."""
    (play.west, play.south, play.east, play.north, play.run_off), written = outline(tuple(parts))
    play.parts_in_play = len(written)
    for part, values in zip(play.parts, written, strict=False):
        part.west, part.south, part.east, part.north, part.run_off = values


@njit(cache=True)
def on_ground(play, x, y, slack):
    """Whether (x, y) lies on the ground in play, run-off included, or at most `slack` metres beyond it."""
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
def within_lines(play, x, y, slack):
    """Whether (x, y) lies within the lines of the ground in play or at most `slack` metres beyond them."""
    parts = play.parts_in_play
    if parts == 0:
        return on_ground(play, x, y, slack - play.run_off)
    for k in range(parts):
        part = play.parts[k]
        over = slack - part.run_off
        if part.west - over <= x <= part.east + over and part.south - over <= y <= part.north + over:
            return True
    return False


@njit(cache=True)
def leads_out(play, x, y, vx, vy, seconds):
    """Whether a man at (x, y) who moves so would be over the line of the ground in play within that time (0: it is not asked)."""
    return seconds > 0.0 and not within_lines(play, x + seconds * vx, y + seconds * vy, 0.0)


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
    """Metres from (x, y) along a unit vector until a ball would be off the ground in play (0 if it is)."""
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
