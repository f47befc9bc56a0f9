"""Rectangles on the ground along the axes: x to the east, y to the north, metres."""

from __future__ import annotations

Point = tuple[float, float]
Bounds = tuple[float, float, float, float]
"""A rectangle by its (west, south, east, north)."""

ROUNDING_M = 1e-6  # two lines nearer than this are one

INWARD: dict[str, Point] = {"west": (1.0, 0.0), "east": (-1.0, 0.0), "south": (0.0, 1.0), "north": (0.0, -1.0)}
"""From each end of the ground, which way its middle lies (unit vectors)."""


def rectangle(x: float, y: float, length: float, width: float) -> Bounds:
    """The rectangle with its middle in (x, y), `length` from west to east and `width` from south to north."""
    return x - length / 2, y - width / 2, x + length / 2, y + width / 2


def is_upright(end: str) -> bool:
    """Whether a line at this end of the ground ("west", "east", "south", "north") runs from south to north."""
    return end in ("west", "east")


def line_at(end: str, x: float, y: float, width: float) -> Bounds:
    """The line with its middle in (x, y), `width` long, that looks into play from this end of the ground: a goal's mouth."""
    return rectangle(x, y, 0.0, width) if is_upright(end) else rectangle(x, y, width, 0.0)


def covers(outer: Bounds, inner: Bounds) -> bool:
    """Whether a rectangle holds all of another; lines within `ROUNDING_M` of each other are one."""
    w, s, e, n = inner
    west, south, east, north = outer
    return west - ROUNDING_M <= w and south - ROUNDING_M <= s and e <= east + ROUNDING_M and n <= north + ROUNDING_M


def gaps(one: Bounds, other: Bounds) -> Point:
    """How far two rectangles lie apart from west to east and from south to north; below 0, how far they overlap."""
    w, s, e, n = one
    west, south, east, north = other
    return max(w - east, west - e), max(s - north, south - n)


def corners(bounds: Bounds) -> list[Point]:
    """South-west, south-east, north-east, north-west."""
    west, south, east, north = bounds
    return [(west, south), (east, south), (east, north), (west, north)]
