"""Who is short of what in a week, and what would fill it inside what he may do: runs on top of an evening.

Numbers are told in the order of the squad file; nobody is ranked.  Runs are held to all that a game is held to: minutes of the
evening and of the week, matches included, bouts, fast metres, heat; whoever is kept from a part of the game, or on reduced load, is
offered none.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil, inf
from typing import Literal

from sim.weeks.amounts import LOADS, Amounts, Measure, added
from sim.weeks.bands import Band
from sim.weeks.lines import Day
from sim.weeks.people import Limits, Member

RUN: Mapping[Measure, float] = {"minutes": 1.0, "metres": 120.0, "fast_metres": 40.0, "accelerations": 2.0}
"""A run of 60 m, 40 m of it fast, and the walk back, in a minute; he speeds up and slows down once (house default)."""
MOST_RUNS = 12
NOTICED = 0.10
"""Below the band by so much of its lower end is short (house default, see `sim.weeks.reasons`)."""
Bound = Literal["", "limit", "heat", "time"]
"""What keeps runs from filling it: somebody's limit, the heat, the time of the evening, or nothing."""


@dataclass(frozen=True)
class Short:
    """A measure of which a player has too little: what he has, what the lower ends of his bands come to."""

    measure: Measure
    has: float
    least: float


@dataclass(frozen=True)
class Fill:
    """What would fill it: so many `runs` in all, `on` one evening; `left` of each measure is not filled, as `bound` keeps it from
    being, and `by` set the limit."""

    runs: int
    on: date | None
    left: Mapping[Measure, float]
    bound: Bound = ""
    by: str = ""


def short_of(days: Sequence[Day], has: Amounts | None = None) -> tuple[Short, ...]:
    """What a player is short of over these days; `has`: what was delivered, in place of what is planned."""
    least = least_of(days)
    own = added(one.amounts for one in days if one.band is not None) if has is None else has
    return tuple(
        Short(measure, own[measure], wanted)
        for measure, wanted in least.items()
        if measure in own and own[measure] < (1 - NOTICED) * wanted
    )


def least_of(days: Sequence[Day]) -> dict[Measure, float]:
    """The lower ends of his bands together; measures that any of his evenings has no band for are left out."""
    bands: list[Mapping[Measure, Band]] = [one.band for one in days if one.band is not None]
    return {
        measure: sum(band[measure].low for band in bands)
        for measure in LOADS
        if bands and all(measure in band for band in bands)
    }


def fill(shorts: Sequence[Short], member: Member, days: Sequence[Day], beyond_min: float = 0.0) -> Fill:
    """Runs that would make up all that he is short of, as many as he may do on top of the evening on which he has most room.

    `days`: all of the week, matches too; `beyond_min`: minutes that he played beyond what was planned for them.
    """
    wanted = min(MOST_RUNS, max(ceil((one.least - one.has) / RUN[one.measure] - 1e-9) for one in shorts))
    trained = [one for one in days if one.why in ("trains", "catching up", "limited")]
    week = _week_room(member.limits, days, beyond_min)
    by_limit = {one.day: min(week, _room(member.limits, one, beyond_min)) for one in trained}
    rooms = {one.day: min(by_limit[one.day], int(max(0.0, one.free_min - beyond_min))) for one in trained}
    on = max(rooms, key=lambda day: rooms[day], default=None)
    runs = max(0, min([wanted, *([rooms[on]] if on is not None else [0])]))
    left = {one.measure: max(0.0, one.least - one.has - runs * RUN[one.measure]) for one in shorts}
    limited = max(by_limit.values(), default=inf) < wanted
    cold = [one for one in trained if one.free_min > 0]
    bound: Bound = "" if runs == wanted else "limit" if limited else "time" if cold else "heat"
    return Fill(runs, on if runs else None, left, bound, member.limits.by if bound == "limit" else "")


def _room(limits: Limits, day: Day, beyond_min: float) -> int:
    """Runs that he may do on top of an evening by what was set for him; a set of runs is a bout of its own."""
    if limits.kept or limits.reduced or (limits.bouts is not None and sum(day.bouts) >= limits.bouts):
        return 0
    room = float(MOST_RUNS)
    if limits.minutes is not None:
        room = min(room, (limits.minutes - day.amounts.get("minutes", 0.0) - beyond_min) / RUN["minutes"])
    if limits.fast_metres is not None:
        most = day.high or day.amounts
        room = min(room, (limits.fast_metres - most.get("fast_metres", 0.0)) / RUN["fast_metres"])
    return int(max(0.0, room) + 1e-9)


def _week_room(limits: Limits, days: Sequence[Day], beyond_min: float) -> int:
    if limits.week_minutes is None:
        return MOST_RUNS
    used = sum(one.amounts.get("minutes", 0.0) for one in days) + beyond_min
    return int(max(0.0, limits.week_minutes - used) / RUN["minutes"] + 1e-9)
