"""What the headline parameters mean in the engine: passing success as a bearing error, pressing speed as an effort.

`pass_success` is what a coach can test with two cones: the share of unpressed ground passes that go through a gate 1.5 m wide,
10 m off.
"""

from __future__ import annotations

import math
from functools import lru_cache

from scipy.special import ndtri

from sim.compiled import njit
from sim.motion import time_for

GATE_M = 1.5  # how wide the gate is
GATE_AWAY_M = 10.0  # and how far off


@lru_cache(maxsize=4096)
def bearing_error(pass_success: float) -> float:
    """Standard deviation (rad) of the bearing of an unpressed pass of whom `pass_success` (0-1) of all passes go through the gate.

    The bearing is normal, so the share that passes within half the gate is 2 Phi(half its angle over the deviation) - 1.
    """
    return math.atan2(0.5 * GATE_M, GATE_AWAY_M) / float(ndtri(0.5 * (1.0 + pass_success)))


@lru_cache(maxsize=4096)
def press_effort(pressing_speed_mps: float, vmax_mps: float, tau_s: float) -> float:
    """Share of the greatest push (0-1] with which 8 m from standing take 8 / pressing_speed seconds."""
    effort: float = effort_for(pressing_speed_mps, vmax_mps, tau_s)
    return effort


@njit(cache=True)
def effort_for(pressing_speed_mps, vmax_mps, tau_s):
    """That share, sought by halves (compiled)."""
    target = 8.0 / pressing_speed_mps
    low, high = 0.01, 1.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        if time_for(8.0, 0.0, vmax_mps, middle / tau_s) > target:
            low = middle
        else:
            high = middle
    return high


def odds(chance: float) -> float:
    """Logit."""
    return math.log(chance / (1.0 - chance))
