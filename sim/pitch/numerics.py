"""Numbers of mathematics and of rounding that compiled functions share, and the distance of two points."""

from __future__ import annotations

import math

from sim.compiled import njit, square

FAR = 1e9  # more than any distance (m), time (s) or cost: for "nobody" and "never"
SMALL = 1e-9  # added to a length before it divides: a distance of nothing stays finite
ROUNDING_M = 1e-6  # a length below this has no direction
ROOT_2 = 1.4142135623730951
TURN = 6.283185307179586  # rad, once round


@njit(cache=True)
def distance(x, y, px, py):
    """Metres from (x, y) to (px, py)."""
    return math.sqrt(square(px - x) + square(py - y))
