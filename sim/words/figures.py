"""Figures as people say them: two significant digits, whole metres, seconds to the nearest five."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TypeVar

NOT_KNOWN = "not known"
WHOLE_FROM = 2.5  # below it half a time more or less is a fifth or more of the count


T = TypeVar("T")


def present(value: T | None) -> T:
    """What is always there at this place, though its type allows that it is not; a ValueError, our own bug, where it is missing."""
    if value is None:
        raise ValueError("something is missing that is always known here")
    return value


def two(value: float) -> str:
    """Two significant digits: 3.14159 -> 3.1, 117.2 -> 120, 0.0432 -> 0.043."""
    if value == 0:
        return "0"
    rounded = float(f"{value:.1e}")
    size = len(str(int(abs(rounded))))
    if abs(rounded) >= 10:
        return f"{rounded:.0f}"
    if abs(rounded) >= 1:
        return f"{rounded:.{2 - size}f}"
    return f"{rounded:.4f}".rstrip("0") if abs(rounded) >= 0.001 else "under 0.001"


def metres(value: float) -> str:
    """Whole metres, two significant digits."""
    return f"{float(f'{value:.1e}'):.0f}" if abs(value) >= 10 else f"{value:.0f}"


def seconds(value: float) -> str:
    """To the nearest 5, to the nearest 1 below 10."""
    return f"{value:.0f}" if value < 9.5 else f"{5 * round(value / 5):.0f}"


def percent(value: float) -> str:
    """A share as whole per cent: ``87 %``."""
    return f"{100 * value:.0f} %"


def ranged(mean: float | None, low: float | None, high: float | None, say: Callable[[float], str] = two) -> str:
    """``3.1 (2.4-3.9)``; without a range just the figure."""
    if mean is None:
        return NOT_KNOWN
    if low is None or high is None:
        return say(mean)
    unit = " %" if say is percent else ""
    return f"{say(mean).removesuffix(unit)} ({say(low).removesuffix(unit)}-{say(high).removesuffix(unit)}){unit}"


def rounded(value: float) -> str:
    """Without decimals."""
    return f"{value:.0f}"


def whole(value: float) -> str:
    """Whole, half upwards; two significant digits from a hundred on."""
    nearest = math.floor(value + 0.5)
    return f"{nearest if nearest < 100 else float(f'{value:.1e}'):.0f}"


def count(value: float) -> str:
    """As people count: whole from two and a half on, 1.7 below."""
    return whole(value) if value >= WHOLE_FROM else two(value).removesuffix(".0")


def usual(low: float | None, high: float | None, say: Callable[[float], str] = two, mean: float | None = None) -> str:
    """`` (usually 3 to 5)``: where eight sessions in ten lie; nothing where that is not known, or said like the mean itself."""
    ends = span(low, high, say)
    alike = mean is not None and ends == say(mean).removesuffix(" %")
    return f" (usually {ends})" if ends and not alike else ""


def span(low: float | None, high: float | None, say: Callable[[float], str] = two) -> str:
    """``3 to 5``; once where both are said alike."""
    if low is None or high is None:
        return ""
    unit = " %" if say is percent else ""
    return " to ".join(dict.fromkeys(say(one).removesuffix(unit) for one in (low, high)))


def of_ten(share: float) -> str:
    """A share as people say it: ``about 7 times in 10``."""
    if share < 0.05:
        return "hardly ever"
    if share >= 0.95:
        return "nearly every time"
    return f"about {math.floor(10 * share + 0.5)} times in 10".replace("about 1 times", "about once")
