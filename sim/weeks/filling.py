"""Who is short of what in a week, and what would fill it inside what he may do: more bouts of a game, or runs.

Numbers are told in the order of the squad file; nobody is ranked.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sim.weeks.amounts import LOADS, Amounts, Measure, added, times
from sim.weeks.bands import Band
from sim.weeks.lines import Day
from sim.weeks.people import Limits, Member

RUN: Mapping[Measure, float] = {"minutes": 1.0, "metres": 120.0, "fast_metres": 40.0, "accelerations": 2.0}
"""A run of 60 m, 40 m of it fast, and the walk back, in a minute; he speeds up and slows down once (house default)."""
MOST_RUNS = 12
NOTICED = 0.10
"""Below the band by so much of its lower end is short (house default, see `sim.weeks.reasons`)."""


@dataclass(frozen=True)
class Short:
    """A measure of which a player has too little: what he has, what the lower ends of his bands come to."""

    measure: Measure
    has: float
    least: float


@dataclass(frozen=True)
class Fill:
    """What would fill it: so many runs; `left` of it is not filled within his limits, which `by` set."""

    runs: int
    gives: Amounts
    left: float
    by: str


def short_of(days: Sequence[Day], has: Amounts | None = None) -> tuple[Short, ...]:
    """What a player is short of over these days; `has`: what was delivered, in place of what is planned."""
    least = least_of(days)
    own = added(one.amounts for one in days) if has is None else has
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


def fill(short: Short, member: Member, days: Sequence[Day]) -> Fill:
    """Runs that would make it up, as many as he may do on top of the evening on which he has most room."""
    wanted = -int(-(short.least - short.has) // RUN[short.measure])
    room = max(
        (_room(member.limits, one) for one in days if one.why in ("trains", "catching up", "limited")), default=0
    )
    week = _week_room(member.limits, days)
    runs = max(0, min(wanted, MOST_RUNS, room, week))
    left = max(0.0, short.least - short.has - runs * RUN[short.measure])
    bound = runs < min(wanted, MOST_RUNS)
    return Fill(runs, times(RUN, runs), left, member.limits.by if bound else "")


def _room(limits: Limits, day: Day) -> int:
    """Runs that he may do on top of an evening; none for whoever is kept from a part of the game, not only from too much of it."""
    if not (limits.plays and limits.defends):
        return 0
    room = float(MOST_RUNS)
    if limits.minutes is not None:
        room = min(room, (limits.minutes - day.amounts.get("minutes", 0.0)) / RUN["minutes"])
    if limits.fast_metres is not None:
        most = day.high or day.amounts
        room = min(room, (limits.fast_metres - most.get("fast_metres", 0.0)) / RUN["fast_metres"])
    return int(max(0.0, room))


def _week_room(limits: Limits, days: Sequence[Day]) -> int:
    if limits.week_minutes is None:
        return MOST_RUNS
    used = sum(one.amounts.get("minutes", 0.0) for one in days)
    return int(max(0.0, limits.week_minutes - used) / RUN["minutes"])
