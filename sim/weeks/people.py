"""Who trains: what a plan must know of a player, and what he may not do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from sim.weeks.amounts import Measure


@dataclass(frozen=True)
class Limits:
    """What somebody set for a player, and who (`by`); None and True: no limit.

    `minutes` of an evening or match, `week_minutes` of a week, matches included; `bouts` of an evening; `fast_metres` of an
    evening; `defends`: whether he may defend.
    """

    by: str
    minutes: float | None = None
    week_minutes: float | None = None
    bouts: int | None = None
    fast_metres: float | None = None
    defends: bool = True


NO_LIMITS = Limits("")


@dataclass(frozen=True)
class Member:
    """A player of the squad.  `joins`: the first day he is there (None: from the start); `away`: days he is not.

    `full_match`: his own values of one, in place of everybody's; `weeks_before`: metres of the weeks before the plan, the last one
    last.  A `minor` is never ranked, and no adult's threshold is used for him.
    """

    shirt: int
    name: str
    keeper: bool = False
    minor: bool = False
    limits: Limits = NO_LIMITS
    joins: date | None = None
    away: frozenset[date] = frozenset()
    full_match: Mapping[Measure, float] = field(default_factory=dict)
    weeks_before: tuple[float, ...] = ()

    def there(self, day: date) -> bool:
        """Whether he is there on a day."""
        return day not in self.away and (self.joins is None or day >= self.joins)
