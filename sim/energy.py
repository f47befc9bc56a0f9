"""What running costs, and how the heart follows: closed forms without a clock and without chance.

Cost.  Speeding up on the flat is treated as running uphill: the *equivalent slope* is the acceleration along the way over g,
and the weight carried grows by ``EM = sqrt(1 + slope^2)`` (di Prampero et al. 2005, J Exp Biol 208:2809).  Two costs
in J per kg and metre, all above standing still:

running_cost   Minetti & Pavei 2018 (J Exp Biol 221:jeb182303): safe at any slope
walking_cost   table of di Prampero & Osgnach 2018 (Int J Sports Med 39:581-587), slopes -0.3 to 0.4

Metabolic power is cost times speed.  It knows nothing of turning at a steady speed, of the ball, of duels: against measured
oxygen such figures are off by 6 to 52 %, mostly too low (reviewed with Stevens et al. 2015, Med Sci Sports Exerc 47:1219).
Air is left out (4 % at 4 m/s).
"""

from __future__ import annotations

import math

import numpy as np

from sim.compiled import njit

GRAVITY = 9.81  # m/s2
FLAT_COST = 3.6  # J/kg/m, running on the flat (Minetti & Pavei 2018)

WALK_FIRST, WALK_LAST = -0.3, 0.4  # slopes of the walking table
RUN_ABOVE_MPS = 2.5  # nobody walks faster, whatever the slope
WALKING = np.array(
    [  # v^4, v^3, v^2, v, 1 for slopes -0.3, -0.2 ... 0.4 (di Prampero & Osgnach 2018)
        [0.28, -1.66, 3.81, -3.96, 4.01],
        [0.03, -0.15, 0.98, -2.25, 3.14],
        [0.69, -3.21, 5.94, -5.07, 2.79],
        [1.25, -6.57, 13.14, -11.15, 5.35],
        [0.68, -4.17, 10.17, -10.31, 8.66],
        [3.80, -14.91, 22.94, -14.53, 11.24],
        [44.95, -122.88, 126.94, -57.46, 21.39],
        [94.62, -213.94, 184.43, -68.49, 25.04],
    ]
)
DISCOUNT_PER_MPS, DISCOUNT_UNTIL_MPS, DISCOUNT_PER_SLOPE = 1.3, 2.2, 2.0  # of `equivalent_speed`, see there


@njit(cache=True)
def heavier(slope: float) -> float:
    """EM: how much more weight than standing is carried at this equivalent slope (1 on the flat)."""
    return math.sqrt(1.0 + slope * slope)


@njit(cache=True)
def running_cost(slope: float) -> float:
    """J/kg/m of running at this equivalent slope, any slope (Minetti & Pavei 2018, with EM)."""
    if slope >= 0.0:
        return (39.5 * slope + FLAT_COST * math.exp(-4.0 * slope)) * heavier(slope)
    return (-8.34 * slope + FLAT_COST * math.exp(13.0 * slope)) * heavier(slope)


@njit(cache=True)
def walking_cost(slope: float, v: float) -> float:
    """J/kg/m of walking at v m/s (0 to about 2.5), slopes -0.3 to 0.4: the table, linear between its slopes."""
    place = min(max((slope - WALK_FIRST) * 10.0, 0.0), 7.0)
    low = min(int(place), 6)
    part = place - low
    cost = 0.0
    for row in range(2):
        c = WALKING[low + row]
        weight = part if row == 1 else 1.0 - part
        cost += weight * ((((c[0] * v + c[1]) * v + c[2]) * v + c[3]) * v + c[4])
    return cost * heavier(slope)


@njit(cache=True)
def switch_speed(slope: float) -> float:
    """m/s at which walking turns into running at this slope (di Prampero & Osgnach 2018), slopes -0.3 to 0.4."""
    a = (-107.05 * slope + 113.13) * slope - 1.13
    return ((a * slope - 15.84) * slope - 1.70) * slope + 2.27


@njit(cache=True)
def walks(v: float, along: float) -> bool:
    """Whether someone at v m/s with the acceleration `along` his way walks; beyond the slopes of the table all is running."""
    slope = along / GRAVITY
    if slope < WALK_FIRST or slope > WALK_LAST or v > RUN_ABOVE_MPS:
        return False
    return v < switch_speed(slope)


@njit(cache=True)
def power_walking(v: float, along: float) -> float:
    """W/kg of walking at v m/s with the acceleration `along` (m/s2)."""
    return v * walking_cost(along / GRAVITY, v)


@njit(cache=True)
def power_running(v: float, along: float) -> float:
    """W/kg of running at v m/s with the acceleration `along` (m/s2)."""
    return v * running_cost(along / GRAVITY)


@njit(cache=True)
def metabolic_power(v: float, along: float) -> float:
    """W/kg, above standing still, of moving at v m/s (0 or more) with the acceleration `along` (m/s2, any sign) along the way."""
    if walks(v, along):
        return power_walking(v, along)
    return power_running(v, along)


@njit(cache=True)
def equivalent_speed(v: float, along: float) -> float:
    """m/s of steady running on the flat that costs as much as speed v (m/s) with acceleration `along` (m/s2).

    A cheap and continuous stand-in for ``metabolic_power / FLAT_COST``: running as published, and in place of the
    walking table a discount of ``1.3 v (2.2 - v)`` J/kg/m, which is 0.3 or less from the table on the flat above 0.2 m/s, ends
    sooner when speeding up and fades as exp(13 slope) when slowing down (our fit to the table).
    """
    slope = along / GRAVITY
    below = DISCOUNT_UNTIL_MPS - v
    if slope >= 0.0:
        cost = 39.5 * slope + FLAT_COST * math.exp(-4.0 * slope)
        below -= DISCOUNT_PER_SLOPE * slope
        fade = 1.0
    else:
        fade = math.exp(13.0 * slope)
        cost = -8.34 * slope + FLAT_COST * fade
    if below > 0.0:
        cost -= DISCOUNT_PER_MPS * v * below * fade
    return v * cost * math.sqrt(1.0 + slope * slope) / FLAT_COST


@njit(cache=True)
def follow(value: float, target: float, tau: float, seconds: float) -> float:
    """A first-order response after `seconds`: from value towards target with the time constant tau (s), as the heart rate does."""
    return target + (value - target) * math.exp(-seconds / tau)
