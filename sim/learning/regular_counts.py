"""Counts that vary less than pure chance: after each event some time must pass until the next can come.

Whoever has just lost the ball cannot lose it again before it is back, so losses come more evenly than by chance.  The time from one
event to the next is gamma distributed, and the number of events in a stretch then has a *gamma count* distribution (Winkelmann
1995, J Bus Econ Stat 13:467; named from memory): with shape a and b = a x mean + (a - 1) / 2 the chance of n or fewer is the upper
incomplete gamma function Q(a (n + 1), b); its mean is `mean`, its variance near mean / a, and with a = 1 it is Poisson.
"""

from __future__ import annotations

import numpy as np
from scipy.special import gammainc, gammaincc

LEAST_CHANCE = 1e-300
"""Below it a chance is as good as none; its logarithm stays finite."""


def chance(count: float, mean: np.ndarray, variance: np.ndarray) -> np.ndarray:
    """Of exactly this count, element by element; `variance` at most `mean`.  From whichever tail is exact there."""
    shape, reach = law(mean, variance)
    if count == 0:
        return np.maximum(gammaincc(shape, reach), LEAST_CHANCE)
    before, after = shape * count, shape * (count + 1.0)
    low, high = gammaincc(after, reach) - gammaincc(before, reach), gammainc(before, reach) - gammainc(after, reach)
    return np.maximum(np.where(before > reach, high, low), LEAST_CHANCE)


def up_to(count: float, mean: np.ndarray, variance: np.ndarray) -> np.ndarray:
    """Chance of so many or fewer."""
    shape, reach = law(mean, variance)
    found: np.ndarray = gammaincc(shape * (count + 1.0), reach)
    return found


def law(mean: np.ndarray, variance: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(shape of the time between events, length of the stretch in its scale), for this mean and variance."""
    shape = mean / variance
    return shape, shape * mean + (shape - 1.0) / 2.0
