"""Which of several is it? Allocation and screening by published methods, on plain numbers.

*OCBA* (optimal computing budget allocation: Chen, Lin, Yucesan & Chick 2000) says how to share out a total of runs so that
the best is told from the rest: most to the best and to those close to it and noisy.  *KN* (Kim & Nelson 2001) drops
whatever is surely not the best, run by run, and keeps its promise with common random numbers too: the one that is
left is the best with the chance asked for, if it is better than the others by the indifference zone.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np


def ocba_shares(gaps: Sequence[float], spreads: Sequence[float], total: float) -> list[float]:
    """How many of `total` runs each should have.  `gaps`: how much worse than the best, 0 for the best itself.

    N_i / N_j = ((s_i / d_i) / (s_j / d_j))^2 and N_b = s_b sqrt(sum (N_i / s_i)^2).
    """
    best = int(np.argmin(gaps))
    rivals = [i for i in range(len(gaps)) if i != best]
    weights = {i: (spreads[i] / gaps[i]) ** 2 for i in rivals}
    own = spreads[best] * math.sqrt(sum((weights[i] / spreads[i]) ** 2 for i in rivals))
    scale = total / (own + sum(weights.values()))
    return [scale * (own if i == best else weights[i]) for i in range(len(gaps))]


def kn_constants(count: int, first: int, error: float) -> tuple[float, float]:
    """(eta, h squared) of KN for so many alternatives, `first` runs of each to begin with, and this chance of a mistake."""
    eta = 0.5 * ((2 * error / (count - 1)) ** (-2 / (first - 1)) - 1)
    return eta, 2 * eta * (first - 1)


def kn_width(runs: int, variance: float, zone: float, h_squared: float) -> float:
    """How much better a rival's mean must be, after so many runs of both, to drop one; `variance` is of the difference."""
    return max(0.0, zone / (2 * runs) * (h_squared * variance / zone**2 - runs))


@dataclass(frozen=True)
class KimNelson:
    """What KN is asked: `first` runs of each to begin with, at most `most`, and a look after every `step`.

    A difference below `zone` does not matter; `error` is the chance of a mistake.  Looking only after every `step` runs asks
    for a few more runs and keeps the promise.
    """

    first: int
    zone: float
    error: float
    most: int
    step: int = 1


def kn_select(
    observe: Callable[[Sequence[int], int], None], values: Callable[[int], np.ndarray], count: int, asked: KimNelson
) -> list[int]:
    """Those left of alternatives 0 ... count-1 when one is, or when each has the most runs: the largest mean wins.

    `observe(which, runs)` sees to it that these have so many runs; `values(i)` are those of one, in order of run number.
    """
    left = list(range(count))
    observe(left, asked.first)
    start = {i: values(i)[: asked.first].copy() for i in left}
    _, h_squared = kn_constants(count, asked.first, asked.error)
    runs = asked.first
    while True:
        means = {i: float(values(i)[:runs].mean()) for i in left}
        left = [
            i
            for i in left
            if all(
                means[i] >= means[j] - kn_width(runs, float((start[i] - start[j]).var(ddof=1)), asked.zone, h_squared)
                for j in left
                if j != i
            )
        ]
        if len(left) == 1 or runs >= asked.most:
            return left
        runs = min(runs + asked.step, asked.most)
        observe(left, runs)
