"""How a runner turns: from the velocity he has to the straight way to a point.  Closed forms, no clock, no random numbers.

He *cuts* (turns the velocity to the new direction, keeping ``v cos^2(th/2)`` of the speed, no harder than braking and total
acceleration allow), and *plants* (0.10-0.25 s of standing when the turn is sharper than a right angle and he was moving).
"""

from __future__ import annotations

import math
from typing import NamedTuple

from sim.compiled import njit, square

TOTAL_ACCELERATION = 8.0  # m/s2, judgement: no acceleration of any direction exceeds it
PLANT_LEAST_S, PLANT_MOST_S = 0.10, 0.25  # judgement: plant of a turn of 90 and of 180 degrees
PLANT_FULL_MPS = 3.0  # judgement: below this speed the plant shrinks in proportion
STILL_MPS = 1e-6  # below this a velocity (or a change of it) counts as none
NEAR_M = 1e-3  # a point this near is reached
ASTRAY_M = 0.05  # a cut that would end further off the line is not attempted: stop first
AIMINGS = 12  # how often the direction after a cut is corrected, at most


class State(NamedTuple):
    """Where a player is (m) and how he moves (m/s)."""

    x: float
    y: float
    vx: float
    vy: float


class Limits(NamedTuple):
    """What a player can do: top speed (m/s), rate at which he comes to it (1/s, effort / tau), braking (m/s2)."""

    vmax: float
    rate: float
    brake: float


class Approach(NamedTuple):
    """How a player turns towards a point.

    direct   False: the point lies inside the turning circle, so he must stop first
    dx, dy   the straight direction after the cut
    kept     speed after the cut (m/s)
    cut_s, plant_s   how long he cuts and then stands
    x, y     where the cut ends
    rest     metres left from there
    """

    direct: bool
    dx: float
    dy: float
    kept: float
    cut_s: float
    plant_s: float
    x: float
    y: float
    rest: float


@njit(cache=True)
def cut_time(v, c, cosine, change, limits):
    """Seconds a cut takes from speed v to speed c at an angle, `change` being the size of the difference of velocities: the
    least that keeps every limit (0 when nothing changes)."""
    if change < STILL_MPS:
        return 0.0
    t = change / TOTAL_ACCELERATION
    against = (v - c * cosine) / limits.brake
    if against > t:
        t = against
    onward = (c - v * cosine) / (limits.rate * (limits.vmax - c))
    if onward > t:
        t = onward
    return t


@njit(cache=True)
def cut(state, dx, dy, limits, cap):
    """(c, seconds, x1, y1, cosine) of the cut from a velocity, not 0, to the unit direction (dx, dy) at a speed c up to `cap`."""
    x, y, vx, vy = state
    v = math.sqrt(vx * vx + vy * vy)
    cosine = min(1.0, max(-1.0, (vx * dx + vy * dy) / v))
    c = min(v * 0.5 * (1.0 + cosine), cap)
    change = math.sqrt(square(c * dx - vx) + square(c * dy - vy))
    seconds = cut_time(v, c, cosine, change, limits)
    return c, seconds, x + 0.5 * (vx + c * dx) * seconds, y + 0.5 * (vy + c * dy) * seconds, cosine


@njit(cache=True)
def plant_time(v, cosine):
    """Seconds of standing that a turn sharper than a right angle costs at speed v."""
    if cosine >= 0.0:
        return 0.0
    angle = math.acos(max(-1.0, cosine))
    share = (angle - 0.5 * math.pi) / (0.5 * math.pi)
    return (PLANT_LEAST_S + (PLANT_MOST_S - PLANT_LEAST_S) * share) * min(1.0, v / PLANT_FULL_MPS)


@njit(cache=True)
def approach(state, px, py, limits, cap):
    """Turn towards a point, up to the speed `cap`."""
    x, y, vx, vy = state
    v = math.sqrt(vx * vx + vy * vy)
    gx, gy = px - x, py - y
    gap = math.sqrt(gx * gx + gy * gy)
    if v < STILL_MPS:
        if gap < NEAR_M:
            return Approach(True, 1.0, 0.0, 0.0, 0.0, 0.0, x, y, 0.0)
        return Approach(True, gx / gap, gy / gap, 0.0, 0.0, 0.0, x, y, gap)
    if gap < NEAR_M:
        return Approach(False, 1.0, 0.0, 0.0, 0.0, 0.0, x, y, 0.0)
    dx, dy = gx / gap, gy / gap
    for _ in range(AIMINGS):
        c, cut_s, x1, y1, cosine = cut(state, dx, dy, limits, cap)
        ex, ey = px - x1, py - y1
        rest = math.sqrt(ex * ex + ey * ey)
        if rest < NEAR_M:
            return Approach(False, dx, dy, c, cut_s, 0.0, x1, y1, 0.0)
        moved = abs(ex / rest - dx) + abs(ey / rest - dy)
        dx, dy = ex / rest, ey / rest
        if moved < 1e-9:
            break
    c, cut_s, x1, y1, cosine = cut(state, dx, dy, limits, cap)
    rest = (px - x1) * dx + (py - y1) * dy
    astray = abs((px - x1) * dy - (py - y1) * dx)
    if rest < NEAR_M or astray > ASTRAY_M:
        return Approach(False, dx, dy, c, cut_s, 0.0, x1, y1, 0.0)
    return Approach(True, dx, dy, c, cut_s, plant_time(v, cosine), x1, y1, rest)
