"""Two conditions over the same sessions: how large the difference is, how sure we are, and how long it takes to see it.

Session r of both conditions has the same drawn players and the same streams of chance, so what the conditions share falls out of
their difference.  Every measure is a ratio of sums over sessions; its error comes from the jackknife: leaving out one
session (in both conditions) at a time gives *pseudo-values*, whose differences, pair by pair, are treated as a paired
sample (Law, Simulation Modeling and Analysis, ch. 9 and 10).  Where all sums below the line are equal this is exactly
the paired t.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sim.measures.intervals import normal_quantile, ratio_error, t_quantile

LEVEL = 0.95
POWER = 0.8


@dataclass(frozen=True)
class Difference:
    """Second condition minus first.  `error` is the standard error with the pairing, `apart` that of two independent runs.

    `apart_half` is the half-width of the 95 % interval of independent runs (Welch).
    """

    first: float
    second: float
    difference: float
    error: float
    apart: float
    apart_half: float
    pairs: int

    def interval(self, level: float = LEVEL) -> tuple[float, float]:
        """(low, high) by Student's t over pairs."""
        half = t_quantile((1 + level) / 2, self.pairs - 1) * self.error
        return self.difference - half, self.difference + half

    @property
    def variance_ratio(self) -> float | None:
        """Variance of the difference of independent conditions / of paired conditions; None where nothing is left to divide by."""
        return (self.apart / self.error) ** 2 if self.error > 0 else None

    @property
    def p_value(self) -> float:
        """Two-sided, of no difference at all."""
        from scipy.special import stdtr

        if self.error == 0:
            return float(self.difference == 0)
        return 2 * float(stdtr(self.pairs - 1, -abs(self.difference) / self.error))


def pseudo_values(top: np.ndarray, bottom: np.ndarray) -> np.ndarray:
    """Jackknife pseudo-values of sum(top)/sum(bottom)."""
    n = len(top)
    return n * (top.sum() / bottom.sum()) - (n - 1) * ((top.sum() - top) / (bottom.sum() - bottom))


def paired_difference(first: tuple[np.ndarray, np.ndarray], second: tuple[np.ndarray, np.ndarray]) -> Difference | None:
    """Difference of two ratios, (top, bottom) per session each; None where a ratio does not exist, however taken."""
    n = len(first[0])
    if any(len(values) != n for values in (*first, *second)):
        raise ValueError("both conditions must have the same sessions")
    if n < 2 or any((bottom.sum() - bottom <= 0).any() for _, bottom in (first, second)):
        return None
    ours, theirs = pseudo_values(*first), pseudo_values(*second)
    means = [float(top.sum() / bottom.sum()) for top, bottom in (first, second)]

    def error(values: np.ndarray) -> float:
        return float(values.std(ddof=1)) / math.sqrt(n)

    return Difference(
        first=means[0],
        second=means[1],
        difference=means[1] - means[0],
        error=error(theirs - ours),
        apart=math.hypot(error(ours), error(theirs)),
        apart_half=half_of(welch_interval(theirs, ours)),
        pairs=n,
    )


def half_of(interval: tuple[float, ...]) -> float:
    """Half-width of (middle, low, high, ...)."""
    return (interval[2] - interval[1]) / 2


def welch_interval(
    first: Sequence[float] | np.ndarray, second: Sequence[float] | np.ndarray, level: float = LEVEL
) -> tuple[float, float, float, float]:
    """(difference of means first - second, low, high, degrees of freedom) of independent samples."""
    from scipy.special import stdtrit

    x, y = np.asarray(first, dtype=float), np.asarray(second, dtype=float)
    a, b = float(x.var(ddof=1)) / len(x), float(y.var(ddof=1)) / len(y)
    middle = float(x.mean() - y.mean())
    if a + b == 0:
        return middle, middle, middle, float(len(x) + len(y) - 2)
    freedom = (a + b) ** 2 / (a * a / (len(x) - 1) + b * b / (len(y) - 1))
    half = float(stdtrit(freedom, (1 + level) / 2)) * math.sqrt(a + b)
    return middle, middle - half, middle + half, freedom


def holm(p_values: Sequence[float]) -> list[float]:
    """Adjusted p-values in the same order: below a, the measure is clear with an error of a over all of them (Holm 1979)."""
    order = sorted(range(len(p_values)), key=lambda i: p_values[i])
    adjusted, so_far = [0.0] * len(p_values), 0.0
    for place, i in enumerate(order):
        so_far = max(so_far, min(1.0, (len(p_values) - place) * p_values[i]))
        adjusted[i] = so_far
    return adjusted


def dispersion(count: np.ndarray, exposure: np.ndarray) -> float:
    """Variance of a session's count around rate x exposure, over its mean; 1 for a Poisson count."""
    n = len(count)
    error = ratio_error(count, exposure) * float(exposure.mean())
    return error * error * n / float(count.mean())


def minutes_to_show(
    first: float, second: float, over: tuple[float, float] = (1.0, 1.0), level: float = LEVEL, power: float = POWER
) -> float | None:
    """Minutes to count of each condition until a two-sided test of two rates per minute has this power.

    `over` is the dispersion of the counts of each condition; 1 and 1: Poisson.  None without a difference.
    """
    if first == second:
        return None
    z = normal_quantile((1 + level) / 2) + normal_quantile(power)
    return z * z * (over[0] * first + over[1] * second) / (first - second) ** 2
