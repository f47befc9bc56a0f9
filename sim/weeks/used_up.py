"""A plan in which nobody is counted on an evening to which the minutes of his week no longer stretch.

What somebody has left on an evening is known once the evenings before it are planned.  So it is planned, whoever has no bout left
is taken out of the games of that evening, and it is planned again, until nobody is counted who cannot play.  Whose minutes run out
between two games of one evening is in the first, and the second is the same game set up for those who are left.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from sim.weeks.choosing import Taken
from sim.weeks.days import week_number
from sim.weeks.hot import offer_in_heat
from sim.weeks.lines import Line
from sim.weeks.people import Member
from sim.weeks.plan import (
    FEWEST_FOR_A_GAME,
    Planned,
    PlannedEvening,
    Table,
    left_out,
    offers_for,
    planned,
    turnout_on,
    with_lines,
)
from sim.weeks.seats import seats_of
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
            return _until_he_is_off(plan, members, table, wider)
        for day in sorted({day for own in spent.values() for day in own}):
            fewer = [
                replace(one, spent=one.spent | {day}) if day in spent.get(one.shirt, ()) else one for one in members
            ]
            larger = table if wider is None or _holds(file, fewer, table, day) else wider(fewer)
            if _holds(file, fewer, larger, day):
                members, table = fewer, larger
            else:
                stays |= {day}


def _until_he_is_off(
    plan: Planned, members: Sequence[Member], table: Table, wider: Wider | None
) -> tuple[Planned, Table]:
    """The plan in which nobody is counted in the games of an evening that come after the last bout of his week."""
    evenings = []
    for one in plan.evenings:
        games = list(one.taken)
        for i, shirts in enumerate(off_in_games(plan, one)):
            if not shirts:
                continue
            found = _for_those_left(one, games[i], shirts, table)
            if found is None and wider is not None:
                day = one.evening.day
                fewer = [replace(own, spent=own.spent | {day}) if own.shirt in shirts else own for own in members]
                table = {**table, **wider(fewer)}
                found = _for_those_left(one, games[i], shirts, table)
            games[i] = found or games[i]
        evenings.append(replace(one, squad=replace(one.squad, taken=tuple(games))))
    if evenings == list(plan.evenings):
        return plan, table
    return with_lines(plan.file, members, evenings), table


def off_in_games(plan: Planned, one: PlannedEvening) -> list[frozenset[int]]:
    """Who plays some of an evening and is in none of the bouts of a game for the minutes of his week, game by game."""
    off: list[set[int]] = [set() for _ in one.taken]
    if one.evening.players is not None or plan.file.players is not None:
        return [frozenset()] * len(off)  # so many, whoever they are
    bound = [line for line in plan.lines if line.member.limits.week_minutes is not None and not line.member.keeper]
    for line in (own for own in bound if _counted(plan.file, own, one)):
        bouts = next((day.bouts for day in line.days if day.day == one.evening.day and day.why == "limited"), ())
        if not any(bouts):  # he plays none of it, or all he may
            continue
        placed = seats_of([(one.evening.day, one.turnout, one.taken)]).get(line.member.shirt, {})
        for i, (count, seat) in enumerate(zip(bouts, placed.get(one.evening.day, (True,) * len(bouts)), strict=True)):
            if seat and not count:
                off[i].add(line.member.shirt)
    return [frozenset(own) for own in off]


def _for_those_left(one: PlannedEvening, taken: Taken, shirts: frozenset[int], table: Table) -> Taken | None:
    """The same game in as many bouts for those who are left; None where the table has none."""
    offers = [own for own in offers_for(one.turnout.without(shirts), table) if own.key == taken.offer.key]
    if not offers:
        return None
    offer = max(offers, key=lambda own: own.people)
    if one.heat is not None and one.heat.rule is not None:
        offer = offer_in_heat(offer, one.heat.rule)
    return Taken(offer, taken.bouts, shirts)


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
    return any(one.turnout.seats(taken)[shirts.index(member.shirt)] for taken in one.taken)


def _without_a_bout(line: Line, one: PlannedEvening) -> bool:
    """Whether he plays none of it for a limit of his."""
    return any(day.day == one.evening.day and day.why == "limited" and not any(day.bouts) for day in line.days)


def _holds(file: PlanFile, members: Sequence[Member], table: Table, day: date) -> bool:
    """Whether there is a game for those who are left on an evening."""
    there = [turnout_on(file, members, one) for one in file.evenings if one.day == day]
    return all(one.free >= FEWEST_FOR_A_GAME and offers_for(one, table) for one in there)
