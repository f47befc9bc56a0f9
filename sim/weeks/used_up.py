"""A plan in which nobody is counted on an evening to which the minutes of his week no longer stretch.

What somebody has left on an evening is known once the evenings before it are planned.  So it is planned, whoever has no bout left
is taken out of the games of that evening, and it is planned again, until nobody is counted who cannot play.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from sim.weeks.choosing import Taken
from sim.weeks.days import week_number
from sim.weeks.lines import Line
from sim.weeks.people import Member
from sim.weeks.plan import FEWEST_FOR_A_GAME, Planned, PlannedEvening, Table, left_out, offers_for, planned, turnout_on
from sim.weeks.week_file import PlanFile

Wider = Callable[[Sequence[Member]], Table]
"""What games give for these members, too: the games are set up for whoever is left, and played."""


def settled(
    file: PlanFile,
    members: Sequence[Member],
    table: Table,
    before: Mapping[object, Sequence[Taken]] | None = None,
    wider: Wider | None = None,
) -> tuple[Planned, Table]:
    """The plan and the table that it is from.  Where no game of the table, nor of the `wider` one, holds those who are left, or too
    few for a game are, an evening stays as it was; all else as in `sim.weeks.plan.planned`."""
    stays: frozenset[date] = frozenset()
    while True:
        plan = planned(file, members, table, before)
        spent = used_up(plan, stays)
        if not spent:
            return plan, table
        for day in sorted({day for own in spent.values() for day in own}):
            fewer = [
                replace(one, spent=one.spent | {day}) if day in spent.get(one.shirt, ()) else one for one in members
            ]
            larger = table if wider is None or _holds(file, fewer, table, day) else wider(fewer)
            if _holds(file, fewer, larger, day):
                members, table = fewer, larger
            else:
                stays |= {day}


def used_up(plan: Planned, stays: frozenset[date] = frozenset()) -> dict[int, frozenset[date]]:
    """By shirt, of every week the first evening on which somebody is counted though the minutes of his week leave him no bout; but
    for those days on which it `stays` so."""
    found = {}
    for line in plan.lines:
        if line.member.limits.week_minutes is not None and not line.member.keeper:
            first: dict[int, date] = {}
            for one in plan.evenings:
                if one.evening.day not in stays and _counted(plan.file, line, one) and _without_a_bout(line, one):
                    first.setdefault(week_number(one.evening.day, plan.file.first), one.evening.day)
            if first:
                found[line.member.shirt] = frozenset(first.values())
    return found


def _counted(file: PlanFile, line: Line, one: PlannedEvening) -> bool:
    """Whether a game of the evening is set up with him in it."""
    member, day = line.member, one.evening.day
    if not one.taken or not member.there(day) or day in member.spent or left_out(file, member, one.evening):
        return False
    shirts = [shirt for shirt, _ in one.turnout.kept]
    if member.shirt not in shirts:
        return True
    return any(one.turnout.seats(taken.offer)[shirts.index(member.shirt)] for taken in one.taken)


def _without_a_bout(line: Line, one: PlannedEvening) -> bool:
    """Whether he plays none of it for a limit of his."""
    return any(day.day == one.evening.day and day.why == "limited" and not any(day.bouts) for day in line.days)


def _holds(file: PlanFile, members: Sequence[Member], table: Table, day: date) -> bool:
    """Whether there is a game for those who are left on an evening."""
    there = [turnout_on(file, members, one) for one in file.evenings if one.day == day]
    return all(one.free >= FEWEST_FOR_A_GAME and offers_for(one, table) for one in there)
