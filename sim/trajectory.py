"""How a player moves on one segment of his path: the law of motion, and what reads it.

s seconds after the start of a segment the acceleration is ``a exp(-k s)`` along a fixed vector (k = 0: constant).  With
``g1 = (1 - exp(-k s))/k`` and ``g2 = (s - g1)/k`` (limits s and s^2/2), velocity is ``v + a g1`` and place ``x + v s + a g2``.

Seen along its acceleration (`Course`), the velocity has a part across, which never changes, and a part along, which only grows.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from sim.compiled import njit

PLAYER, T0, T1, X, Y, VX, VY, AX, AY, RATE, ROLE = range(11)
"""Columns of a logged segment: player, from and to (s), place (m), velocity (m/s), acceleration (m/s2), rate k (1/s), role."""
LAW = slice(X, ROLE)
"""The columns of such a row that say how he moves: x, y, vx, vy, ax, ay, rate."""

STEADY_MPS2 = 1e-9  # an acceleration below this is a leftover of rounding


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
def course_of(row: np.ndarray) -> Course:
    """The course of a logged segment; one without acceleration is all along."""
    vx, vy, ax, ay = row[VX], row[VY], row[AX], row[AY]
    push = math.hypot(ax, ay)
    if push < STEADY_MPS2:
        return Course(0.0, math.hypot(vx, vy), 0.0, row[RATE])
    return Course(abs(vx * ay - vy * ax) / push, (vx * ax + vy * ay) / push, push, row[RATE])


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


def state_after(law: Sequence[float], s: float) -> tuple[float, float, float, float]:
    """(x, y, vx, vy) s seconds into a segment; `law` are its columns `LAW`.

    By the plain quotients: exact to 1e-12 m at the rates of players (0, or above 0.1/s), not for rates next to 0.
    """
    x, y, vx, vy, ax, ay, rate = law
    g1, g2 = s, s * s / 2.0
    if rate > 0.0:
        g1 = -math.expm1(-rate * s) / rate
        g2 = (s - g1) / rate
    return x + vx * s + ax * g2, y + vy * s + ay * g2, vx + ax * g1, vy + ay * g1


def states_after(laws: np.ndarray, s: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """As `state_after` for many at once: `laws` [..., 7] are columns `LAW`, `s` [...] seconds into each."""
    x, y, vx, vy, ax, ay, rate = np.moveaxis(laws, -1, 0)
    fading = np.where(rate > 0.0, rate, 1.0)
    g1 = np.where(rate > 0.0, -np.expm1(-fading * s) / fading, s)
    g2 = np.where(rate > 0.0, (s - g1) / fading, s * s / 2.0)
    return x + vx * s + ax * g2, y + vy * s + ay * g2, vx + ax * g1, vy + ay * g1
