"""The hard-running reserve of a player: what a run takes out of it, what rest puts back, what a low one costs (compiled).

An energy balance, because in a tight square the cost lies in starting and stopping, not in speed.  The metabolic cost of a
stretch of running (Minetti & Pavei 2018, J Exp Biol 221:jeb182303; walking: di Prampero & Osgnach 2018, Int J Sports Med
39:581-587) is turned into the speed of steady running on the flat that costs the same.  The reserve falls by that
speed less critical speed when above it; below, it comes back by dD/dt = k (1 - D/D') (CS - v) (form of Skiba 2015, MSSE
47:2433), with k chosen so that standing `recovery` seconds brings half of it back.
"""

from __future__ import annotations

import math

from sim.compiled import njit
from sim.energy import equivalent_speed
from sim.pitch.assumptions import TIRED_ERROR, TIRED_REACTION, TIRED_SPEED_LEAST, TIRING_SCALE
from sim.pitch.columns import (
    CRITICAL,
    FRESH_REACT,
    FRESH_SIGMA,
    FRESH_VMAX,
    LOWEST,
    REACT,
    RECOVERY,
    RESERVE,
    RESERVE_FULL,
    SIGMA,
    VMAX,
)
from sim.players import Profile

GAUSS = 0.2113248654051871  # two-point Gauss rule on [0, 1]


@njit(cache=True)
def balance_after(balance, full, critical, recovery, speed, seconds):
    """Reserve (m) after `seconds` at a constant equivalent speed (m/s), from `balance` of `full`; not below 0."""
    if speed >= critical:
        return max(0.0, balance - (speed - critical) * seconds)
    k = math.log(2.0) * full / (critical * recovery)
    return full - (full - balance) * math.exp(-k * (critical - speed) * seconds / full)


@njit(cache=True)
def tire(P, C, i, vx, vy, ax, ay, rate, seconds):
    """Player i has run a segment (start velocity, start acceleration, rate, duration): settle his reserve and abilities."""
    speed = 0.0
    for q in range(2):
        s = seconds * (GAUSS if q == 0 else 1.0 - GAUSS)
        fade = math.exp(-rate * s)
        g1 = s if rate * s < 1e-9 else (1.0 - fade) / rate
        ux, uy = vx + ax * g1, vy + ay * g1
        v = math.sqrt(ux * ux + uy * uy)
        if v > 1e-6:
            speed += 0.5 * equivalent_speed(v, fade * (ux * ax + uy * ay) / v)
    full = P[i, RESERVE_FULL]
    left = balance_after(P[i, RESERVE], full, P[i, CRITICAL], P[i, RECOVERY], C[TIRING_SCALE] * speed, seconds)
    P[i, RESERVE] = left
    P[i, LOWEST] = min(P[i, LOWEST], left / full)
    share = left / full
    fresh = P[i, FRESH_VMAX]
    able = P[i, CRITICAL] + (fresh - P[i, CRITICAL]) * math.sqrt(share)
    P[i, VMAX] = max(able, C[TIRED_SPEED_LEAST] * fresh)
    P[i, SIGMA] = P[i, FRESH_SIGMA] * (1.0 + C[TIRED_ERROR] * (1.0 - share))
    P[i, REACT] = P[i, FRESH_REACT] * (1.0 + C[TIRED_REACTION] * (1.0 - share))


def rested(share: float, who: Profile, seconds: float) -> float:
    """Share of the reserve (0-1) after standing that many seconds, from `share` of it."""
    full = who.reserve_m
    return balance_after(share * full, full, who.critical_speed_mps, who.recovery_s, 0.0, seconds) / full
