"""What somebody counted: one row a bout (or one for several), checked one by one, and added up over an evening.

A count that was not taken is None, never nought; minutes are those in which the row was counted, on the clock it names.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import TYPE_CHECKING

from sim.own_counts.columns import COUNTS

if TYPE_CHECKING:
    from sim.game.model import Game

MOST_MINUTES = 180.0  # of one row: no session is longer
MOST_COUNT = 2000  # passes in three hours
MOST_BOUT = 99
NEEDS: Mapping[str, str] = MappingProxyType({"reached": "thresholds", "goals": "goals"})
"""What a game must have for a count to be possible in it (`sim.measures.catalogue.can_happen`)."""
WHY_NOT: Mapping[str, str] = MappingProxyType(
    {"thresholds": "no rule of this game counts passes or wins", "goals": "this game has no goals"}
)
LONGEST = "longest_run"
"""The one count that is a largest and does not add up over bouts."""


@dataclass(frozen=True)
class Row:
    """One row of a sheet.  `day`: ISO date; `bout`: from 1, None where the row is of several or does not say.

    `minutes` on `clock` ("watch" or "rolling"); `counts` by name, those that were taken; `changed`: what was different from the
    game as planned ("": nothing); `players`: who played.
    """

    day: str
    minutes: float
    clock: str
    counts: Mapping[str, int]
    bout: int | None = None
    changed: str = ""
    players: str = ""


@dataclass(frozen=True)
class Counted:
    """A count over the rows that took it: `count` in `minutes` on `clock`."""

    measure: str
    count: int
    minutes: float
    clock: str


def problems_of(row: Row, game: Game | None, today: date) -> list[tuple[str, str]]:
    """(column, what is wrong with it) of a row that has been read; empty when all is well.  `game` None: not at hand."""
    found: list[tuple[str, str]] = []
    if not 0 < row.minutes <= MOST_MINUTES:
        found.append(("minutes", f"must be more than 0 and at most {MOST_MINUTES:g} (got {row.minutes:g})"))
    if date.fromisoformat(row.day) > today:
        found.append(("date", f"must not be in the future (got {row.day})"))
    if row.bout is not None and not 1 <= row.bout <= MOST_BOUT:
        found.append(("bout", f"must be from 1 to {MOST_BOUT} (got {row.bout})"))
    if not row.counts:
        found.append(("losses", f"must be given, or another count ({', '.join(COUNTS)})"))
    return found + count_problems(row.counts, game)


def count_problems(counts: Mapping[str, int], game: Game | None) -> list[tuple[str, str]]:
    """The same of the counts alone."""
    from sim.measures.catalogue import can_happen  # heavy: a logbook opens without

    found = []
    for name, count in counts.items():
        needs = NEEDS.get(name, "")
        if not 0 <= count <= MOST_COUNT:
            found.append((name, f"must be from 0 to {MOST_COUNT} (got {count})"))
        elif game is not None and not can_happen(needs, game):
            found.append((name, f"cannot be counted here: {WHY_NOT[needs]} (got {count})"))
    if "passes" in counts:
        for name in ("losses", LONGEST):
            if counts.get(name, 0) > counts["passes"]:
                found.append((name, f"must be at most the passes, {counts['passes']} (got {counts[name]})"))
    return found


def evenings(rows: Iterable[Row]) -> dict[str, list[Row]]:
    """Rows by their day, the earliest first."""
    found: dict[str, list[Row]] = {}
    for row in rows:
        found.setdefault(row.day, []).append(row)
    return {day: found[day] for day in sorted(found)}


def as_planned(rows: Iterable[Row]) -> list[Row]:
    """Rows of bouts that were played as planned: what was changed on the grass is another game."""
    return [row for row in rows if not row.changed]


def counted(rows: Sequence[Row]) -> list[Counted]:
    """Each count of one evening with the minutes in which it was taken, clock by clock, in the order of the columns."""
    found = []
    for name in COUNTS:
        for clock in dict.fromkeys(row.clock for row in rows if name in row.counts):
            taken = [row for row in rows if name in row.counts and row.clock == clock]
            add = max if name == LONGEST else sum
            found.append(
                Counted(name, add(row.counts[name] for row in taken), sum(row.minutes for row in taken), clock)
            )
    return found
