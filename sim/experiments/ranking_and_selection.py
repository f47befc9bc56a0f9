"""Which of several is it? Allocation, screening and root finding by published methods, on plain numbers.

*OCBA* (optimal computing budget allocation: Chen, Lin, Yucesan & Chick 2000) says how to share out a total of runs so that
the best is told from the rest: most to the best and to those close to it and noisy.  *KN* (Kim & Nelson 2001) drops
whatever is surely not the best, run by run, and keeps its promise with common random numbers too: the one that is
left is the best with the chance asked for, if it is better than the others by the indifference zone.  *Robbins and Monro*
(1951) walk to where a noisy curve crosses a target, with steps that shrink.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

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


def kn_most(variance: float, zone: float, h_squared: float) -> int:
    """The runs after which one of the two is gone for certain."""
    return math.floor(h_squared * variance / zone**2)


def kn_select(
    observe: Callable[[Sequence[int], int], None],
    values: Callable[[int], np.ndarray],
    count: int,
    first: int,
    zone: float,
    error: float,
    most: int,
    step: int = 1,
) -> list[int]:
    """Those left of alternatives 0 ... count-1 when one is, or when each has `most` runs: the largest mean wins.

    `observe(which, runs)` sees to it that these have so many runs; `values(i)` are those of one, in order of run number.
    Looking only after every `step` runs asks for a few more runs and keeps the promise.
    """
    left = list(range(count))
    observe(left, first)
    start = {i: values(i)[:first].copy() for i in left}
    _, h_squared = kn_constants(count, first, error)
    runs = first
    while True:
        means = {i: float(values(i)[:runs].mean()) for i in left}
        left = [
            i
            for i in left
            if all(
                means[i] >= means[j] - kn_width(runs, float((start[i] - start[j]).var(ddof=1)), zone, h_squared)
                for j in left
                if j != i
            )
        ]
        if len(left) == 1 or runs >= most:
            return left
        runs = min(runs + step, most)
        observe(left, runs)


def robbins_monro(
    observe: Callable[[float], float], start: float, target: float, gain: float, steps: int
) -> list[float]:
    """The walk x(n+1) = x(n) - gain / n (y(n) - target), beginning at `start`: the last is nearest the crossing.

    For a rising curve `gain` is positive; 1 / slope is best, and it must be above half of that.
    """
    walk = [start]
    for n in range(1, steps + 1):
        walk.append(walk[-1] - gain / n * (observe(walk[-1]) - target))
    return walk
