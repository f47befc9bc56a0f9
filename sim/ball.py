"""How the ball moves on the ground: closed forms, no clock, no random numbers.

A struck ball slides at first and then rolls, and loses speed at a constant rate in either phase.  A uniform sphere that is
set sliding without spin rolls when it has 5/7 of its launch speed (a hollow one: 3/5; any textbook of mechanics, from
memory), whatever the friction; backspin makes it less.  Tracked passes roll from a little over half of it.  A ball that is
deflected or runs loose only rolls.

The football-turf ball-roll test (ball from 1 m height down a 45 degree ramp, roll distance 4-8 m top grade, 4-10 m otherwise)
gives the rate of a rolling ball: ``a = g h / ((1 + k) D)`` with k = 2/3 for a hollow ball rolling without slip.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from sim.compiled import njit, square

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


class Surface(NamedTuple):
    """How the ground slows a struck ball.

    slide       m/s2 lost while it slides
    roll        m/s2 lost once it rolls (less than `slide`)
    changeover  speed at which it begins to roll, as a share of its launch speed (0-1)
    """

    slide: float
    roll: float
    changeover: float


class Launch(NamedTuple):
    """A ball as it was set going: how fast (m/s), and what it loses from then on.

    slide   m/s2 lost in the first `slides_for` seconds (0: it rolls from the start)
    roll    m/s2 lost after that, until it lies still
    """

    speed: float
    slide: float
    slides_for: float
    roll: float


@njit(cache=True)
def struck(speed, surface):
    """The launch of a ball that is kicked at that speed (m/s)."""
    return Launch(speed, surface.slide, (1.0 - surface.changeover) * speed / surface.slide, surface.roll)


@njit(cache=True)
def begins_to_roll(launch):
    """(metres, m/s) at which a launched ball begins to roll."""
    speed = launch.speed - launch.slide * launch.slides_for
    return 0.5 * (launch.speed + speed) * launch.slides_for, speed


@njit(cache=True)
def travelled(launch, s):
    """(metres, m/s) s seconds after the launch; the ball stays where it stops."""
    if s < launch.slides_for:
        return launch.speed * s - 0.5 * launch.slide * s * s, launch.speed - launch.slide * s
    far, speed = begins_to_roll(launch)
    rest = s - launch.slides_for
    if launch.roll > 0.0 and rest * launch.roll >= speed:
        return far + 0.5 * speed * speed / launch.roll, 0.0
    return far + speed * rest - 0.5 * launch.roll * rest * rest, speed - launch.roll * rest


@njit(cache=True)
def stops_after(launch):
    """Seconds after the launch at which the ball comes to rest (`roll` above 0)."""
    return launch.slides_for + begins_to_roll(launch)[1] / launch.roll


@njit(cache=True)
def time_at(speed, slowing, distance):
    """Seconds for `distance` metres at a speed that falls by `slowing` m/s2 (NEVER if it is gone before)."""
    left = speed * speed - 2.0 * slowing * distance
    if left < 0.0 or speed <= 0.0:
        return NEVER
    return 2.0 * distance / (speed + math.sqrt(left))


@njit(cache=True)
def time_to(launch, distance):
    """Seconds after the launch at which the ball is `distance` metres off (NEVER if it stops short)."""
    if distance <= 0.0:
        return 0.0
    far, speed = begins_to_roll(launch)
    if distance < far:
        return time_at(launch.speed, launch.slide, distance)
    return min(launch.slides_for + time_at(speed, launch.roll, distance - far), NEVER)


@njit(cache=True)
def mean_pass_speed(distance):
    """m/s, the mean speed over the path that a passer aims at for a ground pass of that length.

    A parabola through medians of ground passes in open play by length over the time between events (9.6, 11.5, 13.4, 14.9 m/s
    at 5-10, 10-15, 15-20, 20-30 m; computed from StatsBomb open data, three matches), level beyond 30 m, times 0.87: tracked
    passes are slower than these times say, and it is them that we follow.  By the law of this module and its usual constants a
    pass of 12.5 m is launched at 13.9 m/s and arrives at 7.0, one of 17.5 m at 16.1 and 8.0 (open optical tracking, computed by
    us: launch 13.4-13.8 and arrival 8.2 at 10-15 m, 15.8 and 7.8 at 15-20 m).  An input of the model, not a prediction.
    """
    d = min(distance, 30.0)
    return 0.87 * (6.5 + 0.45 * d - 0.0045 * d * d)


@njit(cache=True)
def launch_speed(distance, pace, surface):
    """m/s at the foot, so that the mean speed over `distance` is `pace` times `mean_pass_speed`.

    A pass that slides all the way has lost ``slide x time``; else the distance gone by then is a quadratic in the launch speed.
    """
    time = distance / (pace * mean_pass_speed(distance))
    slides, rolls = surface.slide, surface.roll
    lost = 1.0 - surface.changeover
    sliding = distance / time + 0.5 * slides * time
    if slides * time <= lost * sliding:
        return sliding
    a = 0.5 * square(lost) * (1.0 - rolls / slides) / slides
    b = time * (surface.changeover + lost * rolls / slides)
    c = distance + 0.5 * rolls * square(time)
    return 2.0 * c / (b + math.sqrt(b * b + 4.0 * a * c))
