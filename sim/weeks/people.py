"""Who trains: what a plan must know of a player, and what he may not do."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from sim.errors import InputError
from sim.squads.ages import minor
from sim.squads.squad import DAYS as WEEKDAYS
from sim.squads.squad import Person, Squad
from sim.weeks.amounts import Measure


@dataclass(frozen=True)
class Limits:
    """What somebody set for a player, and who (`by`); None: no limit.  Minutes are of the session, rests included.

    `minutes` of an evening or match, `week_minutes` of a week, matches included; `bouts` of an evening; `fast_metres` of an
    evening; `kept` from what, as in `sim.squads.squad.LIMITS`: he is in a game only where it has a place that keeps him from it;
    `reduced`: he is on reduced load, and nothing is ever added for him.
    """

    by: str
    minutes: float | None = None
    week_minutes: float | None = None
    bouts: int | None = None
    fast_metres: float | None = None
    kept: frozenset[str] = frozenset()
    reduced: bool = False


NO_LIMITS = Limits("")


@dataclass(frozen=True)
class Member:
    """A player of the squad.  `joins`: the first day he is there (None: from the start); `away`: days he is not; `trains`: the days
    of the week on which he can train ("mon" to "sun", empty: all), which says nothing of matches; `out`: not there at all; `spent`:
    days to which the minutes of his week no longer stretch, so that no game counts him.

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
    trains: tuple[str, ...] = ()
    out: bool = False
    spent: frozenset[date] = frozenset()

    def there(self, day: date) -> bool:
        """Whether he can train on a day."""
        return self.can_play(day) and (not self.trains or WEEKDAYS[day.weekday()] in self.trains)

    def can_play(self, day: date) -> bool:
        """Whether he can be in a match on a day; whether he is, the minutes of the match say."""
        return not self.out and day not in self.away and (self.joins is None or day >= self.joins)


def member_of(person: Person) -> Member:
    """Somebody of the squad as a plan sees him."""
    limits = Limits(
        person.set_by,
        minutes=person.most_minutes,
        bouts=person.most_bouts,
        kept=frozenset(person.limits),
        reduced=person.status == "reduced",
    )
    out = person.status == "out"
    return Member(person.shirt, person.called, person.keeps, minor(person), limits, trains=person.days, out=out)


def members_of(squads: Iterable[Squad]) -> list[Member]:
    """Everybody of some squad files, in their order; refused where two of them name one player."""
    found: dict[int, tuple[Member, str]] = {}
    problems = []
    for squad in squads:
        for person in squad.people:
            if person.shirt in found:
                there = found[person.shirt][1]
                problems.append(f"{squad.source} must not name shirt {person.shirt} again (got it in {there})")
            else:
                found[person.shirt] = (member_of(person), squad.source)
    if problems:
        raise InputError(problems, "squad")
    return [member for member, _ in found.values()]
