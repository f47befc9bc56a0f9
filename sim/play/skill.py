"""What the headline parameters mean in the engine: passing success as a bearing error, pressing speed as an effort.

`pass_success` is the share of unpressed 10 m ground passes, nobody else within 10 m, that a standing receiver controls.
The staged scene is the engine's own (tests play it ten thousand times); here its outcome is inverted: the receiver gets to
every ball whose bearing is off by less than some angle, and the first touch takes the rest.
"""

from __future__ import annotations

import math
from functools import lru_cache
from statistics import NormalDist

from sim.motion import time_for

REACHED_RAD = 0.1385  # bearing error at 10 m up to which a typical standing receiver still reaches the ball (measured)
FIRST_TOUCH_MOST = 0.4  # share of a player's failures in the staged scene that may be the first touch


def first_touch_miss(pass_success: float, first_touch: float) -> float:
    """Chance of failing an easy first touch: the profile's, but never most of what the headline value allows."""
    return min(first_touch, FIRST_TOUCH_MOST * (1.0 - pass_success))


@lru_cache(maxsize=4096)
def bearing_error(pass_success: float, miss: float) -> float:
    """Standard deviation (rad) of a pass's bearing that gives this share (0.50-0.995) when a share `miss` fails at the touch."""
    reached = pass_success / (1.0 - miss)
    return REACHED_RAD / NormalDist().inv_cdf(0.5 * (1.0 + reached))


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
