"""What the headline parameters mean in the engine: passing success as a bearing error, pressing speed as an effort.

`pass_success` is the share of unpressed 10 m ground passes of the usual pace, nobody else within 10 m, that a standing
receiver of the same abilities controls as they come to him.  The engine's own scene (tests play it ten thousand times) is
inverted here: how far off its bearing a pass may be before the receiver, who reacts, reads the line and runs across, can no
longer reach it; and how often he fails at full stretch.
"""

from __future__ import annotations

import math
from functools import lru_cache

from sim.ball import mean_pass_speed
from sim.compiled import njit, square
from sim.motion import time_for

SCENE_M = 10.0
FIRST_TOUCH_MOST = 0.4  # share of a player's failures in the scene that may be the first touch
ROOT_3 = 1.7320508075688772  # three-point Gauss-Hermite rule: nodes -sqrt(3), 0, sqrt(3) standard deviations
WEIGHTS = (1.0 / 6.0, 2.0 / 3.0, 1.0 / 6.0)
STEPS = 200
WIDEST_RAD = 0.6
FAR_M = 1e9


def first_touch_miss(pass_success: float, first_touch: float) -> float:
    """Chance of failing an easy first touch: the profile's, but never most of what the headline value allows."""
    return min(first_touch, FIRST_TOUCH_MOST * (1.0 - pass_success))


@njit(cache=True)
def controlled(angle, flight, vmax, tau, reaction, reach, stretch_miss, closeness):
    """Chance that a receiver who starts across after `reaction` controls a pass `angle` (rad) off its bearing."""
    best = -FAR_M
    for k in range(6):
        beyond = 0.4 * k  # he may meet it a little behind the point where it passes him closest
        t = max(0.0, flight * (1.0 + beyond / SCENE_M) - reaction)
        run = vmax * (t - tau * (1.0 - math.exp(-t / tau)))
        best = max(best, run + reach - math.sqrt(square(SCENE_M * math.sin(angle)) + beyond * beyond))
    if best < 0.0:
        return 0.0
    stretch = max(0.0, 1.0 - best / reach)
    return 1.0 - stretch_miss * max(0.0, stretch - 0.5) * 2.0 * closeness


@njit(cache=True)
def share_controlled(sigma, kept):
    """Share of passes with bearing error sigma (rad) that are controlled, `kept` being the chance by angle."""
    total, weight = 0.0, 0.0
    for k in range(STEPS):
        angle = (k + 0.5) * WIDEST_RAD / STEPS
        density = math.exp(-0.5 * square(angle / sigma))
        total += density * kept[k]
        weight += density
    inside = math.erf(WIDEST_RAD / (sigma * 1.4142135623730951))
    return inside * total / weight


@njit(cache=True)
def bearing_error(
    pass_success, miss, vmax, tau, reaction, reaction_sd, weight_error, reach, stretch_miss, closeness, kept
):
    """Standard deviation (rad) of a pass's bearing for which the scene gives `pass_success`.

    miss          share lost at an easy first touch
    reaction      mean time (s) until the receiver runs, reaction_sd its standard deviation
    weight_error  standard deviation of launch speed over the speed meant
    stretch_miss, closeness   added miss at full stretch, and the share of it that holds without pressure
    kept          work array of `STEPS`
    """
    flight = SCENE_M / mean_pass_speed(SCENE_M)
    for k in range(STEPS):
        angle = (k + 0.5) * WIDEST_RAD / STEPS
        kept[k] = 0.0
        for r in range(3):
            for w in range(3):
                late = reaction + ROOT_3 * (r - 1) * reaction_sd
                there = flight / (1.0 + ROOT_3 * (w - 1) * weight_error)
                kept[k] += (
                    WEIGHTS[r] * WEIGHTS[w] * controlled(angle, there, vmax, tau, late, reach, stretch_miss, closeness)
                )
        kept[k] *= 1.0 - miss
    low, high = 1e-3, 2.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        if share_controlled(middle, kept) > pass_success:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


@lru_cache(maxsize=4096)
def press_effort(pressing_speed_mps: float, vmax_mps: float, tau_s: float) -> float:
    """Share of the greatest push (0-1] with which 8 m from standing take 8 / pressing_speed seconds."""
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
