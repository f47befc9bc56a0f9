"""Inside or outside: the one place where a number meets its threshold.  Pure, on plain numbers.

A measurement is assessed by its mean (its simulation error is meant to be under one per cent); a direction by its whole
99 % interval.  None means that there is no verdict.
"""

from __future__ import annotations

import math
from collections.abc import Sequence


def ends(size: str) -> tuple[float, float]:
    """Both ends of "LOW..HIGH"."""
    low, high = size.split("..")
    return float(low), float(high)


def within_size(rule: str, size: str, value: float, published: float) -> bool | None:
    """A measurement: is our value where the rule wants it?"""
    if rule in ("reported", "not played", "direction") or math.isnan(value):
        return None
    if rule == "percent":
        return abs(value / published - 1.0) * 100 <= float(size)
    if rule == "absolute":
        return abs(value - published) <= float(size)
    if rule == "band":
        low, high = ends(size)
        return low <= value <= high
    if rule == "below":
        return value < float(size)
    if rule == "above":
        return value >= float(size)
    raise ValueError(f"rule must be known (got {rule!r})")


def ascending(values: Sequence[float]) -> bool | None:
    """Whether each value is above the one before; None with one that is undefined."""
    if any(math.isnan(value) for value in values):
        return None
    return all(one < other for one, other in zip(values[:-1], values[1:], strict=True))


def range_over_mean(values: Sequence[float]) -> float:
    """Greatest less smallest, over the mean."""
    return (max(values) - min(values)) / (sum(values) / len(values))


def reproduced(sign: str, size: str, low: float, high: float) -> bool | None:
    """A direction: does the whole interval of the change lie beyond the size, or inside the band?"""
    if math.isnan(low) or math.isnan(high):
        return None
    if sign == "within":
        least, most = ends(size)
        return least <= low and high <= most
    limit = float(size)
    if sign in ("up", "up points"):
        return low > limit
    if sign == "down":
        return high < -limit
    if sign == "not down":
        return low > -limit
    if sign == "equal":
        return -limit < low and high < limit
    if sign == "below":
        return high < limit
    raise ValueError(f"sign must be known (got {sign!r})")


def together(verdicts: Sequence[bool | None]) -> bool | None:
    """A row of several parts: outside when one is, without a verdict when none has one."""
    known = [verdict for verdict in verdicts if verdict is not None]
    return all(known) if known else None
