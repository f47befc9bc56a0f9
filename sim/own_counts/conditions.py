"""What was not the same on two evenings of one game, as far as the logbook knows: who played, and what was changed on the grass."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sim.own_counts.by_player import who_played
from sim.own_counts.logbook import Evening


@dataclass(frozen=True)
class Conditions:
    """`days` between the two; `then`, `now`: who played (empty: not noted); `changed`: bouts changed on the grass, which are left
    out, on either."""

    days: int
    then: frozenset[str]
    now: frozenset[str]
    changed: tuple[int, int]

    @property
    def others(self) -> int | None:
        """How many of those who play now did not play then; None where it was not noted of both."""
        return len(self.now - self.then) if self.then and self.now else None

    @property
    def missing(self) -> int | None:
        """How many of those who played then do not play now; None where it was not noted of both."""
        return len(self.then - self.now) if self.then and self.now else None


def conditions(first: Evening, last: Evening) -> Conditions:
    """Of two evenings of one game, laid out alike."""
    days = (date.fromisoformat(last.day) - date.fromisoformat(first.day)).days
    return Conditions(days, _players(first), _players(last), (_changed(first), _changed(last)))


def _players(evening: Evening) -> frozenset[str]:
    return frozenset(name for row in evening.standing if not row.changed for name in who_played(row.players))


def _changed(evening: Evening) -> int:
    return sum(bool(row.changed) for row in evening.standing)
