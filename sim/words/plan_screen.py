"""A plan on one screen: how it fits, the evenings with their games (or the weeks of a pre-season), who is planned otherwise."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from sim.experiments.last_line import LINE
from sim.weeks.amounts import MEASURES
from sim.weeks.days import week_number
from sim.weeks.lines import Day, Line
from sim.weeks.plan import Planned, PlannedEvening
from sim.weeks.reasons import Missed
from sim.words.listing import listed, small, some
from sim.words.plan_words import (
    HOUSE,
    amounts_of,
    day_of,
    ends_of,
    evenings_that,
    game_of,
    kilometres,
    label_of,
    match_of,
    missed_of,
)
from sim.words.screen import WIDTH, Screen
from sim.words.session_screen import heat_in_words
from sim.words.tables import table

Misses = Mapping[date, Sequence[Missed]]
MOST_LINES, MOST_MISSES, MOST_DAYS = 4, 3, 3
WEEK_HEADS = ("week", "evenings", "min", "km", "m fast", "hard stops, starts", "matches", "bands missed")


def plan_on_a_screen(plan: Planned, misses: Misses, week: int | None, again: str) -> str:
    """The screen: the evenings of one week (`week`, or the only one), else all weeks; `again`: the command as typed."""
    only = week or (1 if plan.weeks == 1 else None)
    shown = plan.evenings if only is None else plan.week(only)
    body = weeks_of(plan, misses) if only is None else evenings_of(plan, shown)
    beside = [
        *heat_of(shown),
        *missed_lines(shown, misses),
        *otherwise(plan, shown),
        *keepers(plan, shown),
        *jumps(plan.lines),
    ]
    return Screen(
        asked(plan, only), [headline(shown, misses), *body], beside, doing(plan, only, again), [HOUSE, LINE]
    ).text()


def asked(plan: Planned, week: int | None) -> str:
    """What was asked, in a line."""
    what = f"week {week} of {plan.weeks}" if week and plan.weeks > 1 else some(plan.weeks, "week")
    people = max((one.people for one in plan.evenings), default=0)
    return f"{plan.file.title}: {what}, {some(len(plan.evenings), 'evening')}, {people} players"


def headline(shown: Sequence[PlannedEvening], misses: Misses) -> str:
    """How many evenings fit their bands, and the range of one of them."""
    played = [one for one in shown if one.taken]
    fitting = sum(not misses.get(one.evening.day) for one in played)
    if not played:
        return "No evening has a game: nobody is there, or too few for one."
    first = max(played, key=lambda one: one.amounts["metres"])
    low, high = first.usual
    said = f"the longest, {day_of(first.evening.day)}, is {kilometres(first.amounts['metres'])} km a player"
    usual = f" (usually {ends_of('metres', low['metres'], high['metres'])})"
    whole = evenings_that(fitting, len(played), ("fits its bands", "does not fit its bands", "fit their bands"))
    return f"{whole}; {said}{usual}."


def evenings_of(plan: Planned, shown: Sequence[PlannedEvening]) -> list[str]:
    """Each evening with its amounts (the band in brackets) and its games; matches between them."""
    days = {one.evening.day for one in shown}
    weeks = {day.isocalendar()[:2] for day in days}
    lines: list[tuple[date, list[str]]] = [(one.evening.day, evening_of(one)) for one in shown]
    lines += [(one.day, [match_of(one)]) for one in plan.file.matches if one.day.isocalendar()[:2] in weeks]
    return [line for _, own in sorted(lines, key=lambda one: one[0]) for line in own]


def evening_of(one: PlannedEvening) -> list[str]:
    """An evening and its games, a line each."""
    head = f"{day_of(one.evening.day)}, {label_of(one.labels)}"
    if not one.taken:
        return [f"{head}: no game for {one.people}"]
    return [f"{head}: {amounts_of(one)}", *(f"- {game_of(taken)}" for taken in one.taken)]


def weeks_of(plan: Planned, misses: Misses) -> list[str]:
    """The ladder: what each week comes to for somebody who trains all of it, matches beside it."""
    rows = []
    for number in range(1, plan.weeks + 1):
        own = plan.week(number)
        sums = [sum(one.amounts.get(name, 0.0) for one in own if one.taken) for name in MEASURES]
        fast = f"{sums[2]:.0f}" if any("fast_metres" in one.amounts for one in plan.evenings) else "-"
        matches = [one.name for one in plan.file.matches if week_number(one.day, plan.file.first) == number]
        missed = sum(len(misses.get(one.evening.day, ())) for one in own)
        rows.append(
            (f"{number}", f"{len(own)}", f"{sums[0]:.0f}", kilometres(sums[1]), fast, f"{sums[3]:.0f}",
             listed(matches) or "-", f"{missed}")
        )  # fmt: skip
    return table(WEEK_HEADS, rows, WIDTH, (0, 6)).splitlines()


def heat_of(shown: Sequence[PlannedEvening]) -> list[str]:
    """What a heat table makes of evenings, with who approved it; that there is a reading and no table."""
    return [
        f"{day_of(one.evening.day)}, {small(heat_in_words(one.heat))}" for one in shown if one.evening.wbgt is not None
    ]


def missed_lines(shown: Sequence[PlannedEvening], misses: Misses) -> list[str]:
    """The bands that are missed, with what stands in the way; the first few."""
    told = [
        f"{day_of(one.evening.day)}, {missed_of(miss.measure, miss.off, miss.binding)}."
        for one in shown
        for miss in misses.get(one.evening.day, ())
    ]
    more = [f"{len(told) - MOST_MISSES} more in --details."] if len(told) > MOST_MISSES else []
    return [*told[:MOST_MISSES], *more]


def otherwise(plan: Planned, shown: Sequence[PlannedEvening]) -> list[str]:
    """Players who do less than the squad in these evenings, and who set that, or who may have to; in the order of the file."""
    days = {one.evening.day for one in shown}
    told = []
    for line in plan.lines:
        own = [one for one in line.days if one.day in days and one.why in ("limited", "catching up")]
        if own:
            told.append(f"{line.member.name}: {'; '.join(less_of(own))}.")
        elif line.member.limits.reduced and any(one.why == "trains" for one in line.days if one.day in days):
            told.append(f"{line.member.name}: on reduced load, but nothing says how much: ask {line.member.limits.by}.")
    more = [f"{len(told) - MOST_LINES} more players in --details."] if len(told) > MOST_LINES else []
    return [*told[:MOST_LINES], *more]


def keepers(plan: Planned, shown: Sequence[PlannedEvening]) -> list[str]:
    """Where the keepers are in these evenings, in the order of the squad file."""
    days = {one.evening.day for one in shown}
    told = []
    for line in (one for one in plan.lines if one.member.keeper):
        own = [one for one in line.days if one.day in days]
        goal = [day_of(one.day) for one in own if one.why == "in goal"]
        coach = [one for one in own if one.why == "keepers' coach"]
        where = [*([f"in goal on {days_of(goal)}"] if goal else []), *(["with the keepers' coach"] if coach else [])]
        if where:
            told.append(f"{line.member.name} {', else '.join(where)}")
    return [f"Keepers: {'; '.join(told)}."] if told else []


def less_of(days: Sequence[Day]) -> list[str]:
    """``three bouts on Tue 11 Aug and Thu 13 Aug, set by the physio``: days that are alike together, and each reason once."""
    reasons: dict[str, dict[int, list[str]]] = {}
    for day in days:
        why = f"set by {day.by}" if day.why == "limited" else "came late"
        reasons.setdefault(why, {}).setdefault(sum(day.bouts), []).append(day_of(day.day))
    told = {
        why: [f"{some(bouts, 'bout') if bouts else 'no game'} on {days_of(own)}" for bouts, own in alike.items()]
        for why, alike in reasons.items()
    }
    return [f"{', '.join(own)}, {why}" for why, own in told.items()]


def days_of(days: Sequence[str]) -> str:
    """``Tue 11 Aug and Thu 13 Aug``; of many how many: ``six evenings``."""
    return listed(days) if len(days) <= MOST_DAYS else some(len(days), "evening")


def jumps(lines: Sequence[Line]) -> list[str]:
    """The largest rise from week to week that is larger than any the player has had; in the order of the squad file."""
    own = [line for line in lines if line.jump is not None and line.jump.larger_than_any]
    return [jump_of(line) for line in own[:1]] + (
        [f"The same of {some(len(own) - 1, 'other player')}: --details."] if len(own) > 1 else []
    )


def jump_of(line: Line) -> str:
    """A player's largest rise in plain amounts."""
    jump = line.jump
    if jump is None:
        return f"{line.member.name}: no week is more than the one before."
    said = f"{line.member.name}: week {jump.week} goes up from {kilometres(jump.start)} to {kilometres(jump.end)} km"
    if jump.before is None:
        return f"{said}; too few weeks are known to hold it against."
    if not jump.larger_than_any:
        return f"{said}, no more than he has had."
    return f"{said}, a larger jump than this player has had in {some(jump.known, 'week')}."


def doing(plan: Planned, week: int | None, again: str) -> list[str]:
    """What to do next."""
    if plan.weeks > 1 and week is None:
        return ["Try next, for the evenings of a week:", f"  {again} --week 1"]
    first = next((one.taken[0].offer.game for one in plan.evenings if one.taken), None)
    if first is None:
        return []
    return ["Try next, if the match moves:", f"  {again} --move sat=fri"] if plan.file.matches else [
        "Try next, for everybody's own line:", f"  {again} --details"
    ]  # fmt: skip
