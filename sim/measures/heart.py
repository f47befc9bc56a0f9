"""Heart rate, as an estimate: how it follows the cost of what a player does.  Per cent of each player's own maximum.

What a steady effort asks for: ``at rest + slope x share``, the share being metabolic power (times what lies beyond running: ball,
turns, duels, ground) over the player's aerobic maximum; that maximum is the cost of running at critical speed divided by
a constant.  The heart rate follows with one time constant in play, because efforts come and go within seconds, and with
another in the rests.  All constants are rows of `sim.parameters`; none has been fitted to heart rates of games.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sim.compiled import njit
from sim.energy import FLAT_COST, follow
from sim.players import Profile

MOST_PCT = 100.0


@dataclass(frozen=True)
class Heart:
    """The constants of the estimate, see `sim.parameters`."""

    at_rest: float
    per_share: float
    beyond: float
    aerobic_share: float
    start: float
    tau_s: float
    tau_rest_s: float


def heart_of(values: Mapping[str, float]) -> Heart:
    """From the table of assumptions, by name."""
    return Heart(
        at_rest=values["heart_rate_at_rest_pct"],
        per_share=values["heart_rate_per_uptake_pct"],
        beyond=values["cost_beyond_running"],
        aerobic_share=values["critical_share_of_aerobic"],
        start=values["heart_rate_start_pct"],
        tau_s=values["heart_rate_time_s"],
        tau_rest_s=values["heart_rate_rest_time_s"],
    )


def per_watt(heart: Heart, profile: Profile) -> float:
    """Per cent of maximum heart rate for every W/kg of metabolic power."""
    most = FLAT_COST * profile.critical_speed_mps / heart.aerobic_share
    return heart.per_share * heart.beyond / most


def after_rest(heart: Heart, pct: np.ndarray, seconds: float) -> np.ndarray:
    """Heart rates (per cent) after standing that long."""
    return np.array([follow(value, heart.at_rest, heart.tau_rest_s, seconds) for value in pct])


@njit(cache=True)
def beat(
    rows: np.recarray,
    energies: np.ndarray,
    slopes: np.ndarray,
    at_rest: float,
    tau: float,
    pulse: np.ndarray,
    out: np.ndarray,
) -> None:
    """Let `pulse[player]` (per cent) follow the rows; add per cent x seconds to `out[player, role]`.

    Rows in order of player, then time.  `energies` are J/kg of the rows, `slopes[player]` per cent for every W/kg.
    """
    for i in range(rows.shape[0]):
        row = rows[i]
        d = row.t1 - row.t0
        if d <= 0.0:
            continue
        player, role = row.player, row.role
        target = at_rest + slopes[player] * energies[i] / d
        new = follow(pulse[player], target, tau, d)
        area = target * d + tau * (pulse[player] - new)
        out[player, role] += min(area, MOST_PCT * d)
        pulse[player] = min(new, MOST_PCT)
