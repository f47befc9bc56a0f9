"""What cannot well be: rows that are kept with a flag, and columns whose unit must be another one.

The limits are house defaults, wide enough that a player who has really done it is not doubted.
"""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from sim.own_counts.delivered import Delivered

FASTEST_KMH = 38.0
"""No footballer's top speed has been measured above it (from memory)."""
MOST_M_PER_MIN = 250.0
"""A minute flat out with its turns; a whole block of it nobody plays."""
RUN_UP_M, BRAKING_M = 3.7, 2.5
"""From a stand to 19.8 km/h and back again, for somebody who reaches 34 km/h and begins with 7 m/s2, and brakes with 6."""
FLAT_OUT_EVERY_MIN = 4.0
"""A run along the longest line from end to end, flat out, comes no more often (judgement)."""
UNIT_RANGES = {
    "distance": ("metres", 5.0, 300.0, "metres a minute"),
    "top_speed": ("top_speed_kmh", 8.0, 42.0, "km/h"),
}
"""Between what the middle row of a file must lie, whatever was played."""


@dataclass(frozen=True)
class Doubt:
    """A row that is kept, and what is hard to believe of it."""

    line: int
    who: str
    what: str


def doubts_of(row: Delivered, longest_m: float | None) -> list[str]:
    """What is hard to believe of a row; `longest_m`: the longest straight line of the game (None: not known)."""
    found = []
    if row.metres is not None and row.metres / row.minutes > MOST_M_PER_MIN:
        found.append(f"{row.metres / row.minutes:.0f} metres a minute")
    if row.top_speed_kmh is not None and row.top_speed_kmh > FASTEST_KMH:
        found.append(f"a top speed of {row.top_speed_kmh:.0f} km/h")
    most = None if longest_m is None else most_fast_metres(longest_m, row.minutes)
    if row.fast_metres and most is not None and row.fast_metres > most:
        found.append(f"{row.fast_metres:.0f} fast metres where the longest line is {longest_m:.0f} m")
    if row.top_speed_kmh is not None and row.fast_metres and row.fast_from.endswith("km/h"):
        start = float(row.fast_from.removesuffix(" km/h"))
        if row.top_speed_kmh < start:
            found.append(
                f"{row.fast_metres:.0f} metres above {start:g} km/h with a top speed of {row.top_speed_kmh:.0f}"
            )
    return found


def most_fast_metres(longest_m: float, minutes: float) -> float:
    """Fast metres that can well be run where the longest straight line is so long: what starting and braking leave of each run."""
    return max(0.0, longest_m - RUN_UP_M - BRAKING_M) * max(1.0, minutes / FLAT_OUT_EVERY_MIN)


def unit_conflicts(rows: Sequence[Delivered], units: dict[str, str]) -> list[str]:
    """Columns whose middle row is out of all bounds: another unit than the layout says."""
    found = []
    for column, (name, least, most, said) in UNIT_RANGES.items():
        values = [
            getattr(row, name) / (row.minutes if column == "distance" else 1.0) for row in rows if getattr(row, name)
        ]
        if values and not least <= statistics.median(values) <= most:
            found.append(
                f"{column}_unit must be another one (got {units.get(column, '')!r}, which makes "
                f"{statistics.median(values):.3g} {said} of the middle row)"
            )
    return found
