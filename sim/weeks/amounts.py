"""What an evening, a match or a week amounts to for one player: minutes, metres, fast metres, accelerations.

An `Amounts` holds a figure for every measure of `MEASURES`; a measure that is not known is left out, never nought.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal, get_args

Measure = Literal["minutes", "metres", "fast_metres", "accelerations"]
MEASURES: tuple[Measure, ...] = get_args(Measure)
"""Minutes on the pitch, rests and explanations included; metres; metres of fast runs (from where on a run is fast is a matter of
who plays); how often they speed up or slow down hard."""
LOADS: tuple[Measure, ...] = MEASURES[1:]
"""What is said as a share of a full match."""
Amounts = Mapping[Measure, float]
FULL_MATCH_MIN = 90.0


def added(parts: Iterable[Amounts]) -> dict[Measure, float]:
    """The sum, of the measures that any of them has; nought minutes where there are no parts."""
    found: dict[Measure, float] = {}
    for part in parts:
        for measure, value in part.items():
            found[measure] = found.get(measure, 0.0) + value
    return found


def times(amounts: Amounts, factor: float) -> dict[Measure, float]:
    """Everything so many times."""
    return {measure: factor * value for measure, value in amounts.items()}
