"""How a player moves on one segment of his path: the law of motion, and the form of what is logged.

s seconds after the start of a segment the acceleration is ``a exp(-k s)`` along a fixed vector (k = 0: constant).  With
``g1 = (1 - exp(-k s))/k`` and ``g2 = (s - g1)/k`` (limits s and s^2/2), velocity is ``v + a g1`` and place ``x + v s + a g2``.

Seen along its acceleration (`Course`), the velocity has a part across, which never changes, and a part along, which only grows.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from sim.compiled import njit

LAW = ("x", "y", "vx", "vy", "ax", "ay", "rate")
"""The fields that say how he moves: place (m), velocity (m/s), acceleration (m/s2) at the start, rate k (1/s)."""
SEGMENT = np.dtype([(name, "f8") for name in ("t0", "t1", *LAW)])
"""A segment: from and to on the watch (s), and its law."""
RUN = np.dtype([("player", "i8"), *((name, SEGMENT[name]) for name in SEGMENT.names or ()), ("role", "i8")])
"""A segment that somebody has run: the numbers of the player and of the role he had."""
BALL_RUN = np.dtype([("holder", "i8"), *((name, SEGMENT[name]) for name in SEGMENT.names or ()), ("in_play", "?")])
"""A segment of the ball's path: the number of the player who has it (-1: nobody), and whether it is in play."""

STEADY_MPS2 = 1e-9  # an acceleration below this is a leftover of rounding
GENTLE = 1e-5  # of rate x seconds: below, the first terms of the series
STEADY = 1e-9  # of rate x seconds: below, nothing has faded


class Course(NamedTuple):
    """A segment seen along its acceleration.

    across   speed across it (m/s, 0 or more)
    along    speed along it at the start (m/s, any sign)
    push     the acceleration at the start (m/s2, 0 or more)
    rate     at which it fades (1/s, 0 or more)
    """

    across: float
    along: float
    push: float
    rate: float


@njit(cache=True)
def faded(rate: float, s: float) -> float:
    """The share of the starting acceleration that is left after s seconds."""
    return math.exp(-rate * s)


@njit(cache=True)
def growth(rate: float, s: float) -> tuple[float, float]:
    """(g1, g2) in one, for places and velocities: within 1e-10 of their size."""
    z = rate * s
    if z < GENTLE:
        return s * (1.0 - 0.5 * z), 0.5 * s * s * (1.0 - z / 3.0)
    g1 = -math.expm1(-z) / rate
    return g1, (s - g1) / rate


@njit(cache=True)
def fade_and_gain(rate: float, s: float) -> tuple[float, float]:
    """(`faded`, g1) from one exponential: within 1e-6 of their size."""
    fade = faded(rate, s)
    return fade, s if rate * s < STEADY else (1.0 - fade) / rate


@njit(cache=True)
def sprint(gap: float, vmax: float, rate: float, s: float) -> tuple[float, float]:
    """(metres, m/s) after s seconds flat out from a speed `gap` below vmax: the law with the acceleration ``rate x gap``."""
    left = faded(rate, s)
    return vmax * s - gap * (1.0 - left) / rate, vmax - gap * left


@njit(cache=True)
def velocity_gain(rate: float, s: float) -> float:
    """g1: velocity gained in s seconds for every unit of starting acceleration (s)."""
    if rate == 0.0:
        return s
    return -math.expm1(-rate * s) / rate


@njit(cache=True)
def distance_gain(rate: float, s: float) -> float:
    """g2: metres gained in s seconds for every unit of starting acceleration (s^2)."""
    y = rate * s
    if y < 0.02:  # the series, where the difference would lose digits
        return s * s * (0.5 - y * (1 / 6 - y * (1 / 24 - y * (1 / 120 - y * (1 / 720 - y / 5040)))))
    return (s - velocity_gain(rate, s)) / rate


@njit(cache=True)
def course_of(row: np.record) -> Course:
    """The course of a segment; one without acceleration is all along."""
    vx, vy, ax, ay = row.vx, row.vy, row.ax, row.ay
    push = math.hypot(ax, ay)
    if push < STEADY_MPS2:
        return Course(0.0, math.hypot(vx, vy), 0.0, row.rate)
    return Course(abs(vx * ay - vy * ax) / push, (vx * ax + vy * ay) / push, push, row.rate)


@njit(cache=True)
def along_after(course: Course, s: float) -> float:
    """Speed along the acceleration (m/s) s seconds into a course."""
    return course.along + course.push * velocity_gain(course.rate, s)


@njit(cache=True)
def seconds_until(course: Course, along: float) -> float:
    """Seconds until the speed along the acceleration, which must not be 0, has grown to `along` m/s (inf: never)."""
    gained = (along - course.along) / course.push
    if course.rate == 0.0:
        return gained
    if course.rate * gained >= 1.0:
        return math.inf
    return -math.log1p(-course.rate * gained) / course.rate


def state_after(row: np.void, s: float) -> tuple[float, float, float, float]:
    """(x, y, vx, vy) s seconds into a segment, a record with the fields of `LAW`."""
    x, y, vx, vy, ax, ay, rate = (float(row[name]) for name in LAW)
    g1, g2 = growth(rate, s)
    return x + vx * s + ax * g2, y + vy * s + ay * g2, vx + ax * g1, vy + ay * g1


def states_after(rows: np.ndarray | np.void, s: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """As `state_after` for many at once: one record and many `s`, or a table of records and `s` seconds into each.

    By the plain quotients: exact to 1e-12 m at the rates of players (0, or above 0.1/s), not for rates next to 0.
    """
    x, y, vx, vy, ax, ay, rate = (rows[name] for name in LAW)
    fading = np.where(rate > 0.0, rate, 1.0)
    g1 = np.where(rate > 0.0, -np.expm1(-fading * s) / fading, s)
    g2 = np.where(rate > 0.0, (s - g1) / fading, s * s / 2.0)
    return x + vx * s + ax * g2, y + vy * s + ay * g2, vx + ax * g1, vy + ay * g1
