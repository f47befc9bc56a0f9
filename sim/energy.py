"""What running costs, what is left in reserve, how the heart follows: closed forms without a clock and without chance.

Cost.  Speeding up on the flat is treated as running uphill: the *equivalent slope* is the acceleration along the way over g,
and the weight carried grows by ``EM = sqrt(1 + slope^2)`` (di Prampero et al. 2005, J Exp Biol 208:2809).  Three costs
in J per kg and metre, all above standing still:

running_cost        Minetti & Pavei 2018 (J Exp Biol 221:jeb182303): safe at any slope; what this program uses
walking_cost        table of di Prampero & Osgnach 2018 (Int J Sports Med 39:581-587), slopes -0.3 to 0.4
running_cost_2005   the fifth-degree polynomial (Minetti et al. 2002; Osgnach et al. 2010, Med Sci Sports Exerc 42:170);
                    for comparison only, it goes astray beyond slopes of about 0.5

Metabolic power is cost times speed.  It knows nothing of turning at a steady speed, of the ball, of duels: against measured
oxygen such figures are off by 6 to 52 %, mostly too low (reviewed with Stevens et al. 2015, Med Sci Sports Exerc 47:1219).
Air is left out (4 % at 4 m/s).

Reserve.  Three published balances of the hard-running reserve; they rest on different assumptions and must not be mixed.
Units go together: (W, J), (W/kg, J/kg) or (m/s, m).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sim.compiled import njit

GRAVITY = 9.81  # m/s2
FLAT_COST = 3.6  # J/kg/m, running on the flat (Minetti & Pavei 2018)
GRASS = 1.29  # KT, football grass over treadmill; goes with the 2005 polynomial only (Osgnach et al. 2010)
OXYGEN_J_PER_ML = 20.9  # energy of a millilitre of oxygen (from memory)

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
def running_cost_2005(slope: float) -> float:
    """J/kg/m of running by the polynomial of 2002/2005 with EM, without the factor for grass; slopes -0.45 to 0.45."""
    steep = ((155.4 * slope - 30.4) * slope - 43.3) * slope + 46.3
    return ((steep * slope + 19.5) * slope + FLAT_COST) * heavier(slope)


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


def oxygen(power_w_kg: float) -> float:
    """mL of oxygen per kg and minute that give this metabolic power (W/kg)."""
    return power_w_kg / OXYGEN_J_PER_ML * 60.0


def turn_cost(speed_kmh: float) -> float:
    """mL of oxygen per kg for one turn by 180 degrees at a running speed of 4 to 9 km/h (Hatamoto et al. 2014, PLoS ONE).

    The printed formula reads "2 0.012"; the 2 is a minus, as the authors' own measured value demands.
    """
    return -0.012 + 0.066 * speed_kmh + 0.008 * speed_kmh**2


def balance_after(balance: float, full: float, critical: float, load: float, seconds: float) -> float:
    """Reserve left after a constant load, differential form (Skiba et al. 2015, Med Sci Sports Exerc 47:2433).

    Above the critical load it falls in proportion; below, it comes back with the time constant full / (critical - load).  Not
    below nought.
    """
    if load > critical:
        return max(0.0, balance - (load - critical) * seconds)
    return full - (full - balance) * math.exp(-(critical - load) * seconds / full)


def time_constant_2012(below_w: float) -> float:
    """Seconds of the integral form (Skiba et al. 2012, Med Sci Sports Exerc 44:1526); cycling watts below critical only."""
    return 546.0 * math.exp(-0.01 * below_w) + 316.0


def integral_balance(full: float, critical: float, tau_s: float, bouts: Sequence[tuple[float, float]]) -> float:
    """Reserve left after bouts of (load, seconds), integral form: what was spent comes back with one time constant, always."""
    spent = 0.0
    for load, seconds in bouts:
        fade = math.exp(-seconds / tau_s)
        spent = spent * fade + max(load - critical, 0.0) * tau_s * (1.0 - fade)
    return full - spent


def recovered_share(seconds: float) -> float:
    """Share of an emptied reserve that is back (Chorley et al. 2022, Eur J Appl Physiol 122; cycling, first recovery)."""
    return 0.5067 * -math.expm1(-seconds / 21.5) + 0.4933 * -math.expm1(-seconds / 388.0)


def phosphate_share(seconds: float, half_s: float = 57.0) -> float:
    """Share of spent phosphocreatine that is back; half-time 57 s (Bogdanis et al. 1995, from memory)."""
    return 1.0 - 0.5 ** (seconds / half_s)


@njit(cache=True)
def follow(value: float, target: float, tau: float, seconds: float) -> float:
    """A first-order response after `seconds`: from value towards target with the time constant tau (s), as the heart rate does."""
    return target + (value - target) * math.exp(-seconds / tau)
