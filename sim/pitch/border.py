"""The outer border of the ground in play (compiled, but for writing it down).

The ground is a rectangle (columns PX0 to PY1 of B) or, where areas that touch do not make one, several: then PARTS of them stand
behind the other columns and the rectangle is only the box around them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from sim.compiled import njit
from sim.geometry import ROUNDING_M
from sim.pitch.columns import BALL_COLUMNS, PARTS, PX0, PX1, PY0, PY1

NEVER = 1e9
STRAY_M = (
    2.0  # judgement: a ball kicked from this little outside may still come in; further out it is over the line at once
)

Rectangle = tuple[float, float, float, float]  # west, south, east, north


def room_for_parts(areas: int) -> int:
    """Columns that as many areas, and the ground between two of them, can need."""
    return 4 * (areas + 1)


def _inside(one: Rectangle, other: Rectangle) -> bool:
    return other[0] <= one[0] and other[1] <= one[1] and one[2] <= other[2] and one[3] <= other[3]


def _overlap(one: Rectangle, other: Rectangle) -> bool:
    across, along = min(one[2], other[2]) - max(one[0], other[0]), min(one[3], other[3]) - max(one[1], other[1])
    return min(across, along) > ROUNDING_M


def _size(one: Rectangle) -> float:
    return (one[2] - one[0]) * (one[3] - one[1])


def mark_out(B, rectangles: Sequence[Rectangle], slack: float) -> None:
    """Write the ground made of these rectangles, `slack` metres wider all round, into B."""
    kept: list[Rectangle] = []
    for one in sorted(set(rectangles), key=_size, reverse=True):
        if not any(_inside(one, other) for other in kept):
            kept.append(one)
    kept.sort()
    box = (min(r[0] for r in kept), min(r[1] for r in kept), max(r[2] for r in kept), max(r[3] for r in kept))
    clear = not any(_overlap(one, other) for k, one in enumerate(kept) for other in kept[:k])
    whole = len(kept) == 1 or (clear and math.isclose(sum(_size(one) for one in kept), _size(box), rel_tol=ROUNDING_M))
    B[PX0], B[PY0], B[PX1], B[PY1] = box[0] - slack, box[1] - slack, box[2] + slack, box[3] + slack
    B[PARTS] = 0.0 if whole else len(kept)
    for k, (west, south, east, north) in enumerate(kept if not whole else ()):
        at = BALL_COLUMNS + 4 * k
        B[at : at + 4] = west - slack, south - slack, east + slack, north + slack


@njit(cache=True)
def on_ground(B, x, y, slack):
    """Whether (x, y) lies on the ground in play or at most `slack` metres beyond its line."""
    if not (B[PX0] - slack <= x <= B[PX1] + slack and B[PY0] - slack <= y <= B[PY1] + slack):
        return False
    parts = int(B[PARTS])
    if parts == 0:
        return True
    for k in range(parts):
        at = BALL_COLUMNS + 4 * k
        if B[at] - slack <= x <= B[at + 2] + slack and B[at + 1] - slack <= y <= B[at + 3] + slack:
            return True
    return False


@njit(cache=True)
def within(x, u, low, high):
    """(first, last) distance along which a point that moves from x at rate u is between low and high."""
    if abs(u) < 1e-12:
        return (-NEVER, NEVER) if low <= x <= high else (NEVER, -NEVER)
    first, last = (low - x) / u, (high - x) / u
    return (first, last) if first <= last else (last, first)


@njit(cache=True)
def to_the_line(B, x, y, ux, uy):
    """Metres from (x, y) along the unit vector (ux, uy) to where the outer border of a ground of several parts is crossed."""
    parts = int(B[PARTS])
    far = NEVER  # how far it stays in play; at first, where it comes in
    for k in range(parts):
        at = BALL_COLUMNS + 4 * k
        a, b = within(x, ux, B[at], B[at + 2])
        c, d = within(y, uy, B[at + 1], B[at + 3])
        first, last = max(a, c, 0.0), min(b, d)
        if first <= last and first < far:
            far = first
    if far > STRAY_M:
        return 0.0
    for _ in range(parts):
        furthest = far
        for k in range(parts):
            at = BALL_COLUMNS + 4 * k
            a, b = within(x, ux, B[at], B[at + 2])
            c, d = within(y, uy, B[at + 1], B[at + 3])
            if max(a, c) <= far + ROUNDING_M:
                furthest = max(furthest, min(b, d))
        if furthest <= far:
            break
        far = furthest
    return far
