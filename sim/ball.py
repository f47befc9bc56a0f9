"""How the ball rolls: closed forms, no clock, no random numbers.

A ground pass loses speed at a constant rate that follows from the surface.  The football-turf ball-roll test (ball from
1 m height down a 45 degree ramp, roll distance 4-8 m top grade, 4-10 m otherwise) gives that rate for slow balls:
``a = g h / ((1 + k) D)`` with k = 2/3 for a hollow ball rolling without slip.  Struck passes lose more, because of
sliding and air drag, so the engine's rate is a parameter of its own.
"""

from __future__ import annotations

import math

from sim.compiled import njit

GRAVITY = 9.81
SHELL = 2.0 / 3.0  # moment of inertia of a hollow ball over m R^2
TURF_ROLL_M = (4.0, 10.0)  # FIFA Quality Programme for Football Turf, ball roll
NEVER = 1e9


def ramp_exit_speed(height_m: float) -> float:
    """m/s at the foot of a ramp of that height, rolling without slip."""
    return math.sqrt(2.0 * GRAVITY * height_m / (1.0 + SHELL))


def deceleration_of_turf(roll_m: float, height_m: float = 1.0) -> float:
    """m/s2 lost by a slow ball on a surface with that roll distance (m > 0)."""
    if not roll_m > 0.0:
        raise ValueError(f"roll_m must be greater than 0 (got {roll_m})")
    return ramp_exit_speed(height_m) ** 2 / (2.0 * roll_m)


def is_football_turf(roll_m: float) -> bool:
    """Whether the roll distance lies in the range of the football-turf standard."""
    return TURF_ROLL_M[0] <= roll_m <= TURF_ROLL_M[1]


@njit(cache=True)
def rolled(v0, a, s):
    """(metres, m/s) after s seconds from launch speed v0 at deceleration a; the ball stays where it stops."""
    if a > 0.0 and s * a >= v0:
        return 0.5 * v0 * v0 / a, 0.0
    return v0 * s - 0.5 * a * s * s, v0 - a * s


@njit(cache=True)
def roll_time(v0, a, distance):
    """Seconds to roll `distance` metres (NEVER if the ball stops short)."""
    if distance <= 0.0:
        return 0.0
    square = v0 * v0 - 2.0 * a * distance
    if square < 0.0 or v0 <= 0.0:
        return NEVER
    return 2.0 * distance / (v0 + math.sqrt(square))


@njit(cache=True)
def mean_pass_speed(distance):
    """m/s, the mean speed over the path that a passer aims at for a ground pass of that length.

    A parabola through medians of ground passes in open play (9.6, 11.5, 13.4, 14.9 m/s at 5-10, 10-15, 15-20, 20-30 m;
    computed from StatsBomb open data, three matches): an input of the model, not a prediction.  Level beyond 30 m.
    """
    d = min(distance, 30.0)
    return 6.5 + 0.45 * d - 0.0045 * d * d


@njit(cache=True)
def launch_speed(distance, a, pace):
    """m/s at the foot, so that the mean speed over `distance` is `pace` times `mean_pass_speed`."""
    mean = pace * mean_pass_speed(distance)
    return mean + 0.5 * a * distance / mean
