"""The hard-running reserve of a player: what a run takes out of it, what rest puts back, what a low one costs (compiled).

An energy balance, because in a tight square the cost lies in starting and stopping, not in speed.  The metabolic cost of a
stretch of running (Minetti & Pavei 2018, J Exp Biol 221:jeb182303; walking: di Prampero & Osgnach 2018, Int J Sports Med
39:581-587) is turned into the speed of steady running on the flat that costs the same.  The reserve falls by that
speed less critical speed when above it; below, it comes back by dD/dt = k (1 - D/D') (CS - v) (form of Skiba 2015, MSSE
47:2433), with k chosen so that standing `recovery` seconds brings half of it back: of a player who has not yet drawn on it.
The more he has drawn since the session began, the slower it comes back (constant `recovery_slows`).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

from sim.compiled import njit
from sim.energy import equivalent_speed
from sim.pitch.assumptions import constant
from sim.pitch.log import BoutLog
from sim.players import Profile
from sim.trajectory import fade_and_gain

STANDING = 1e-6  # m/s: slower than this is no running
GAUSS = 0.2113248654051871  # two-point Gauss rule on [0, 1]


@njit(cache=True)
def balance_after(balance, full, critical, recovery, speed, seconds):
    """Reserve (m) after `seconds` at a constant equivalent speed (m/s), from `balance` of `full`; not below 0."""
    if speed >= critical:
        return max(0.0, balance - (speed - critical) * seconds)
    k = math.log(2.0) * full / (critical * recovery)
    return full - (full - balance) * math.exp(-k * (critical - speed) * seconds / full)


@njit(cache=True)
def slowed(recovery, drawn, slows, most):
    """Seconds of standing that bring half of the reserve back after it has been drawn `drawn` times over in this session: longer
    by a share `slows` for each time, and by `most` at most."""
    return recovery * (1.0 + min(slows * drawn, most))


@njit(cache=True)
def tire(pitch, i, run):
    """Player i has made a run (a record of `sim.trajectory.RUN`): settle his reserve and abilities."""
    seconds, rate = run.t1 - run.t0, run.rate
    vx, vy, ax, ay = run.vx, run.vy, run.ax, run.ay
    players, constants = pitch.players, pitch.constants
    speed = 0.0
    for q in range(2):
        s = seconds * (GAUSS if q == 0 else 1.0 - GAUSS)
        fade, g1 = fade_and_gain(rate, s)
        ux, uy = vx + ax * g1, vy + ay * g1
        v = math.sqrt(ux * ux + uy * uy)
        if v > STANDING:
            speed += 0.5 * equivalent_speed(v, fade * (ux * ax + uy * ay) / v)
    full = players[i].reserve_full
    recovery = slowed(players[i].recovery_time, players[i].drawn, constants.recovery_slows, constants.recovery_slowest)
    left = balance_after(
        players[i].reserve, full, players[i].critical_speed, recovery, constants.tiring_scale * speed, seconds
    )
    players[i].drawn += max(0.0, players[i].reserve - left) / full
    players[i].reserve = left
    players[i].lowest_share = min(players[i].lowest_share, left / full)
    share = left / full
    fresh = players[i].fresh_top_speed
    able = players[i].critical_speed + (fresh - players[i].critical_speed) * math.sqrt(share)
    players[i].top_speed = max(able, constants.tired_speed_least * fresh)
    players[i].bearing_error = players[i].fresh_bearing_error * (1.0 + constants.tired_error * (1.0 - share))
    players[i].reaction = players[i].fresh_reaction * (1.0 + constants.tired_reaction * (1.0 - share))


class FatigueState(NamedTuple):
    """What a player brings to a bout: the share of his reserve that is left (0-1), and how many times over he has drawn it since
    the session began (from 0)."""

    left: float = 1.0
    drawn: float = 0.0


def rested(
    fatigue: FatigueState, who: Profile, seconds: float, replaced: Mapping[str, float] | None = None
) -> FatigueState:
    """After standing that many seconds; `replaced`: engine constants that are not the usual ones, by name."""
    slows, most = constant("recovery_slows", replaced), constant("recovery_slowest", replaced)
    full, recovery = who.reserve_m, slowed(who.recovery_s, fatigue.drawn, slows, most)
    return FatigueState(
        balance_after(fatigue.left * full, full, who.critical_speed_mps, recovery, 0.0, seconds) / full, fatigue.drawn
    )


def after_rest(
    log: BoutLog, roster: Mapping[str, Profile], seconds: float, replaced: Mapping[str, float] | None = None
) -> dict[str, FatigueState]:
    """What every player brings to the next bout, by id."""
    ended = zip(log.players, log.reserve_end, log.reserve_drawn, strict=True)
    return {
        player: rested(FatigueState(left, drawn), roster[player], seconds, replaced) for player, left, drawn in ended
    }
