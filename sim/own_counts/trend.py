"""How a count has moved over three evenings of one game or more: a rate that rises or falls by the same share every day.

Given how many there are in all, each falls on an evening with a chance that goes by its minutes and that share (a Poisson
regression given its sum).  The interval holds every share whose score lies within its 95 %.  Counts vary by their index of
dispersion as the forecast has it, and by more where the evenings scatter more than that about the trend.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import exp, inf, log, sqrt

Z95 = 1.959964
"""Of a normal distribution, 95 % lie within so many standard deviations."""
STEEPEST = log(1e4)
"""The last rate is sought within so many times the first, as a logarithm."""
KNOWN = 4
"""What the forecast says of how much evenings differ weighs as much as so many evenings beyond the two that make a trend (house
default): three evenings alone say next to nothing of it."""
HALVINGS = 40


@dataclass(frozen=True)
class Counts:
    """A count of one evening: so many days after the first, so many in so many minutes."""

    days: float
    count: float
    minutes: float


@dataclass(frozen=True)
class Trend:
    """The rate a minute on the first day and the last by the run of all evenings; `low` to `high`: last over first, 95 %."""

    then: float
    now: float
    low: float
    high: float


def trend_of(counts: Sequence[Counts], dispersion: float) -> Trend:
    """The trend over these evenings, in order, the last on a later day than the first; `dispersion`: variance of a count over its
    mean, 1 or more."""
    total, whole = sum(one.count for one in counts), counts[-1].days - counts[0].days
    if total == 0:
        return Trend(0.0, 0.0, 0.0, inf)
    at = [(one.days - counts[0].days) / whole for one in counts]
    middle = sum(x * one.count for x, one in zip(at, counts, strict=True)) / total

    def chances(slope: float) -> list[float]:
        parts = [one.minutes * exp(slope * x) for x, one in zip(at, counts, strict=True)]
        return [part / sum(parts) for part in parts]

    def off(slope: float) -> float:
        """How far the counts lie towards the later evenings, beyond what this slope says."""
        return middle - sum(x * p for x, p in zip(at, chances(slope), strict=True))

    def score(slope: float) -> float:
        own = chances(slope)
        mean = sum(x * p for x, p in zip(at, own, strict=True))
        spread = sum((x - mean) ** 2 * p for x, p in zip(at, own, strict=True))
        return (middle - mean) / sqrt(wide * spread / total)

    fitted = [total * p for p in chances(_root(off))]
    scatter = sum((one.count - mean) ** 2 / mean for one, mean in zip(counts, fitted, strict=True))
    wide = max(dispersion, (KNOWN * dispersion + scatter) / (KNOWN + len(counts) - 2))
    ends = (_root(lambda slope: score(slope) - Z95), _root(lambda slope: score(slope) + Z95))
    low, high = (exp(end) if abs(end) < STEEPEST else (0.0 if end < 0 else inf) for end in ends)
    return Trend(fitted[0] / counts[0].minutes, fitted[-1] / counts[-1].minutes, low, high)


def _root(falling: Callable[[float], float]) -> float:
    """Where a falling function is nought, by halving; an end where it is not."""
    low, high = -STEEPEST, STEEPEST
    if falling(low) <= 0:
        return low
    if falling(high) >= 0:
        return high
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if falling(middle) > 0 else (low, middle)
    return (low + high) / 2
