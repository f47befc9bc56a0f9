"""Totals that stand among the rows without being called so: a line that is the sum of the others of its block, or of its player."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence

from sim.own_counts.delivered import Delivered

ADDED = ("metres", "fast_metres", "sprint_metres", "accelerations", "decelerations")
"""What adds up; a top speed does not."""
COUNTED = ("accelerations", "decelerations")
ROUNDING = 0.5
"""Each number that is not counted may have been rounded by so much."""
CLEAR = 20.0
"""A total is at least so many times the rounding of all its lines: smaller numbers add up by chance."""
FEWEST_OTHERS = 2
"""Of one other row a total is a copy."""
OF_THE_BLOCK = "a total: the sum of all other lines of this drill"
OF_THE_PLAYER = "a total: the sum of this player's other lines of the day"


def totals_among(rows: Sequence[Delivered]) -> dict[int, str]:
    """Which lines are totals, with the reason."""
    found = by_group(rows, lambda row: (row.day, row.block, row.bout), ADDED, OF_THE_BLOCK)
    return by_group(rows, lambda row: (row.day, row.player), ("minutes", *ADDED), OF_THE_PLAYER) | found


def by_group(
    rows: Sequence[Delivered], group_of: Callable[[Delivered], Hashable], names: Sequence[str], reason: str
) -> dict[int, str]:
    """The lines that are, in all of these numbers, the sum of the others in their group."""
    groups: dict[Hashable, list[Delivered]] = {}
    for row in rows:
        groups.setdefault(group_of(row), []).append(row)
    return {row.line: reason for group in groups.values() for row in group if is_sum(row, group, names)}


def is_sum(row: Delivered, group: Sequence[Delivered], names: Sequence[str]) -> bool:
    """Whether every number of a row is the sum of those of all the others; one too small to tell is none."""
    others = [one for one in group if one.line != row.line]
    rounding = ROUNDING * len(group)
    if len(others) < FEWEST_OTHERS or not any((getattr(row, name) or 0.0) >= CLEAR * rounding for name in ADDED):
        return False
    known = [name for name in names if getattr(row, name) is not None]
    sums = {name: sum(getattr(one, name) or 0.0 for one in others) for name in known}
    return all(abs(getattr(row, name) - sums[name]) <= (0.0 if name in COUNTED else rounding) for name in known)
