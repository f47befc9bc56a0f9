"""Figures as people say them: two significant digits, whole metres, seconds to the nearest five."""

from __future__ import annotations

NOT_KNOWN = "not known"


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
    return f"{100 * value:.0f} %"


def ranged(mean: float | None, low: float | None, high: float | None, say=two) -> str:
    """``3.1 (2.4-3.9)``; without a range just the figure."""
    if mean is None:
        return NOT_KNOWN
    if low is None or high is None:
        return say(mean)
    unit = " %" if say is percent else ""
    return f"{say(mean).removesuffix(unit)} ({say(low).removesuffix(unit)}-{say(high).removesuffix(unit)}){unit}"
