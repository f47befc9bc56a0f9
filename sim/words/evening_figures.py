"""Figures of an evening as they are said."""

from __future__ import annotations

from sim.words.figures import two


def whole(value: float) -> str:
    """Whole below a hundred, to the nearest ten below a thousand, else to the nearest hundred; parts of one in two digits."""
    if 0 < value < 1:
        return two(value)
    step = 1 if value < 100 else 10 if value < 1000 else 100
    return f"{step * round(value / step):,}"
