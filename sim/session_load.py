"""What a session weighs, from effort or heart rate, and how weeks add up: the published sums and nothing more.

They describe what was done.  None of them says anything about injuries: the ratio of recent to usual load, in
particular, is a rescaling of recent load without a prediction of its own (Impellizzeri et al. 2020, Sports Med), and is
not offered.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass

ZONES = 5  # of maximum heart rate: 50-60, 60-70, 70-80, 80-90, 90-100 %


def effort_load(effort: float, minutes: float) -> float:
    """Load of a session (units of its own): perceived effort on the scale 0 to 10 times minutes (Foster 1998, MSSE 30:1164)."""
    return effort * minutes


def banister(minutes: float, heart_rate: float, at_rest: float, most: float, woman: bool = False) -> float:
    """Load from the mean heart rate (beats a minute) by Banister's impulse; the women's factor 0.86 is from memory."""
    share = (heart_rate - at_rest) / (most - at_rest)
    factor, growth = (0.86, 1.67) if woman else (0.64, 1.92)
    return minutes * share * factor * math.exp(growth * share)


def edwards(minutes: Sequence[float]) -> float:
    """Load from the minutes in the five heart-rate zones, weighted 1 to 5 (Edwards; the weights are unvalidated)."""
    if len(minutes) != ZONES:
        raise ValueError(f"minutes must be given for {ZONES} zones (got {len(minutes)})")
    return sum(weight * part for weight, part in enumerate(minutes, 1))


@dataclass(frozen=True)
class Week:
    """Loads of the days of a week summed up.  `monotony` and `strain` are None where all days are equal."""

    load: float
    mean: float
    sd: float
    monotony: float | None
    strain: float | None


def week_of(days: Sequence[float]) -> Week:
    """Sum, mean, spread, monotony (mean / SD) and strain (sum x monotony) of daily loads, rest days as 0 (Foster 1998).

    The SD is that of a sample (n - 1): the source does not say which.
    """
    load, mean, sd = math.fsum(days), statistics.fmean(days), statistics.stdev(days)
    even = max(days) == min(days)
    monotony = None if even else mean / sd
    return Week(load, mean, sd, monotony, None if monotony is None else load * monotony)


def decay_of(days: float) -> float:
    """Weight of the newest day in an average that fades over so many days: 2 / (days + 1) (Williams et al. 2017, BJSM 51:209)."""
    return 2.0 / (days + 1.0)


def fading_mean(loads: Sequence[float], days: float, start: float) -> float:
    """Exponentially weighted mean of daily loads after the last of them, from `start` before the first."""
    weight, mean = decay_of(days), start
    for load in loads:
        mean = load * weight + (1.0 - weight) * mean
    return mean
