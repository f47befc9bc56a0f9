"""Days of a plan: evenings and matches, and the labels that an evening has from the matches around it.

MD-3 is three days before a match, MD+1 the day after one; between two matches an evening has two labels.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import date, time, timedelta

from sim.weeks.bands import HOUSE, NO_MATCH

MOST_BEFORE, MOST_AFTER = 6, 2
"""So many days before a match, and after one, an evening is counted from it."""


@dataclass(frozen=True)
class Evening:
    """A training session.  `minutes` of it; `themes`: purposes that its games must have; `players`: how many are there (None: all
    of the squad who are); `start`: the hour, for the calendar; `label` in place of what the matches say; `wbgt`: the reading at the
    pitch, or the one that is expected (degrees C, None: none)."""

    day: date
    minutes: float
    themes: tuple[str, ...] = ()
    players: int | None = None
    start: time | None = None
    label: str | None = None
    wbgt: float | None = None


@dataclass(frozen=True)
class Match:
    """A match or a friendly; `minutes` planned, by shirt (empty: not said)."""

    day: date
    name: str
    friendly: bool = False
    start: time | None = None
    minutes: Mapping[int, float] = field(default_factory=dict)


def labels_of(day: date, matches: Collection[date]) -> tuple[str, ...]:
    """The labels of an evening, the one from the match before it first; none where no match is near."""
    found = []
    before = [(day - one).days for one in matches if 0 < (day - one).days <= MOST_AFTER]
    after = [(one - day).days for one in matches if 0 <= (one - day).days <= MOST_BEFORE]
    if before:
        found.append(f"MD+{min(before)}")
    if after:
        found.append(f"MD-{min(after)}" if min(after) else "MD")
    return tuple(found)


def banded(labels: Collection[str], own: Collection[str] = ()) -> tuple[str, ...]:
    """Those of the labels that have a band (the house's, or one of the user's `own`); `NO_MATCH` where none has."""
    return tuple(label for label in labels if label in HOUSE or label in own) or (NO_MATCH,)


def monday(day: date) -> date:
    """The Monday of its week."""
    return day - timedelta(days=day.weekday())


def week_number(day: date, first: date) -> int:
    """Which week it lies in, from 1, counted from the week of `first`."""
    return (monday(day) - monday(first)).days // 7 + 1
