"""A week looked back on: planned, forecast and delivered side by side, what is missing as missing.

What was delivered comes from the logbook: minutes of the bouts that were counted, and who played them where that was written down.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from sim.own_counts.logbook import Evening as Logged
from sim.weeks.amounts import Measure, added, times
from sim.weeks.days import week_number
from sim.weeks.filling import Fill, Short, fill, short_of
from sim.weeks.lines import Day, Line
from sim.weeks.plan import Planned, PlannedEvening

SHIRT = re.compile(r"\d+")


@dataclass(frozen=True)
class Played:
    """What was written down of a day: minutes of bouts by game, and by shirt where every row of the day says who played."""

    games: Mapping[str, float]
    shirts: Mapping[int, float] | None


@dataclass(frozen=True)
class Looked:
    """An evening: as planned, and as it was written down (None: nothing was)."""

    planned: PlannedEvening
    played: Played | None

    @property
    def asked_min(self) -> float:
        """Minutes of bouts as planned, rests left out."""
        return sum(one.bouts * one.offer.work_s for one in self.planned.taken) / 60.0

    @property
    def played_min(self) -> float:
        """Minutes of bouts as written down, 0 where nothing was."""
        return 0.0 if self.played is None else sum(self.played.games.values())

    @property
    def came_to(self) -> dict[Measure, float]:
        """What it came to by the minutes played: the games in proportion to them, the warm-up as planned."""
        start, share = self.planned.need.start, self.played_min / self.asked_min if self.asked_min else 0.0
        return {
            name: start.get(name, 0.0) + share * (value - start.get(name, 0.0))
            for name, value in self.planned.amounts.items()
        }


@dataclass(frozen=True)
class Own:
    """A player's week: minutes of bouts as planned for him and as written down (None: missing), what he is short of, and what
    would fill it.

    Where he played other minutes than planned, his amounts are taken to be in proportion.
    """

    line: Line
    asked_min: float
    played_min: float | None
    short: tuple[Short, ...]
    fill: Fill | None


def played_by_day(logged: Iterable[Logged]) -> dict[date, Played]:
    """What a logbook says of its days; rows that were taken back do not count."""
    found: dict[date, list[Logged]] = {}
    for one in logged:
        found.setdefault(date.fromisoformat(one.day), []).append(one)
    return {day: _played(own) for day, own in found.items() if any(one.standing for one in own)}


def _played(evenings: Sequence[Logged]) -> Played:
    games: dict[str, float] = {}
    shirts: dict[int, float] = {}
    told = True
    for evening in evenings:
        for row in evening.standing:
            games[evening.game] = games.get(evening.game, 0.0) + row.minutes
            told = told and bool(row.players)
            for shirt in dict.fromkeys(int(one) for one in SHIRT.findall(row.players)):
                shirts[shirt] = shirts.get(shirt, 0.0) + row.minutes
    return Played(games, shirts if told else None)


def evenings_of(plan: Planned, week: int, played: Mapping[date, Played]) -> list[Looked]:
    """The evenings of a week, each with what was written down of it."""
    return [Looked(one, played.get(one.evening.day)) for one in plan.week(week)]


def players_of(plan: Planned, looked: Sequence[Looked]) -> list[Own]:
    """Everybody's week, in the order of the squad file; delivered only where every evening that he was asked to is written down."""
    found = []
    for line in plan.lines:
        days = {one.day: one for one in line.days}
        own = [(one, days[one.planned.evening.day]) for one in looked]
        week = _whole_week(plan, line, looked)
        asked, played = _asked(own), _delivered(line, own)
        part = 1.0 if played is None or not asked else played / asked
        has = times(added(one.amounts for one in week if one.band is not None), part)
        short = short_of(week, has)
        beyond = max(0.0, (played or 0.0) - asked)
        found.append(Own(line, asked, played, short, fill(short, line.member, week, beyond) if short else None))
    return found


def _whole_week(plan: Planned, line: Line, looked: Sequence[Looked]) -> list[Day]:
    """All days of a player in the week of these evenings, matches too."""
    weeks = {week_number(one.planned.evening.day, plan.file.first) for one in looked}
    return [day for day in line.days if week_number(day.day, plan.file.first) in weeks]


def _asked(own: Sequence[tuple[Looked, Day]]) -> float:
    return sum(
        bouts * taken.offer.work_s / 60.0
        for one, day in own
        for taken, bouts in zip(one.planned.taken, day.bouts, strict=False)
    )


def _delivered(line: Line, own: Sequence[tuple[Looked, Day]]) -> float | None:
    minutes = 0.0
    for one, day in own:
        if not any(day.bouts):
            continue
        if one.played is None or one.played.shirts is None:
            return None
        minutes += one.played.shirts.get(line.member.shirt, 0.0)
    return minutes
