"""Plans at random: tables of made-up games, squads with limits, weeks with matches and heat.  No engine is asked for anything.

What a plan gives is read off what it prints, and held against the limits that were drawn: nothing here asks the planner.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from random import Random

from sim.errors import InputError
from sim.groups.purposes import PURPOSES
from sim.planning.heat import Rule
from sim.weeks.choosing import Offer
from sim.weeks.days import Evening, Match
from sim.weeks.moving import Move, file_after, moved
from sim.weeks.people import NO_LIMITS, Limits, Member
from sim.weeks.plan import Planned, PlannedEvening, Table, planned, turnouts
from sim.weeks.review import Played, evenings_of, players_of
from sim.weeks.week_file import PlanFile
from sim.words import plan_details
from sim.words.plan_details import plan_in_full
from sim.words.plan_words import day_of
from sim.words.week_review import shorts_told

FIRST = date(2026, 8, 3)
OWN = {"metres": 9800.0, "fast_metres": 480.0, "accelerations": 95.0}
KEEP_FROM = ("no defending", "no tackles")
HEAT = (Rule(26.0, 1.0, 240.0, 90.0, 120.0, True, "R. Hale"), Rule(29.0, 0.75, 180.0, 240.0, 180.0, True, "R. Hale"))
HALF = 0.5 + 1e-6
"""Minutes are printed whole."""


def offer_at_random(dice: Random, number: int, people: int) -> Offer:
    """A made-up game."""
    metres = dice.uniform(150, 500)
    places = [
        frozenset(dice.choice((KEEP_FROM[:1], KEEP_FROM[1:], KEEP_FROM))) for _ in range(dice.choice((0, 0, 1, 2)))
    ]
    work_s, rest_s = dice.uniform(90, 360), dice.uniform(20, 90)
    return Offer(
        game=f"game-{number}",
        size=1.0,
        purpose=dice.choice(PURPOSES),
        people=people,
        each={"metres": metres, "fast_metres": dice.uniform(0, 40), "accelerations": dice.uniform(2, 10)},
        bout_min=(work_s + rest_s) / 60.0,
        around_min=dice.uniform(2, 6),
        least=dice.choice((1, 2)),
        most=dice.choice((4, 6)),
        spread={"metres": 0.1 * metres, "fast_metres": dice.uniform(0, 10), "accelerations": 1.0},
        places=tuple(places),
        goals=dice.choice((0, 0, 1, 2)),
        work_s=work_s,
        rest_s=rest_s,
    )


def limits_at_random(dice: Random) -> Limits:
    """None at all, or one to all of them."""
    if dice.random() < 0.5:
        return NO_LIMITS
    maybe = lambda value: value if dice.random() < 0.5 else None  # noqa: E731
    return Limits(
        "the physio",
        minutes=maybe(float(dice.randint(0, 80))),
        week_minutes=maybe(float(dice.randint(0, 200))),
        bouts=maybe(dice.randint(0, 8)),
        fast_metres=maybe(float(dice.randint(0, 150))),
        kept=frozenset(one for one in KEEP_FROM if dice.random() < 0.25),
        reduced=dice.random() < 0.2,
    )


def squad_at_random(dice: Random) -> list[Member]:
    """Players with shirts from 1, two of them keepers, some with limits, some who come late or are away."""
    found = []
    for shirt in range(1, dice.randint(7, 20) + 1):
        joins = FIRST + timedelta(days=dice.randint(0, 14)) if dice.random() < 0.2 else None
        away = frozenset(FIRST + timedelta(days=dice.randint(0, 13)) for _ in range(dice.choice((0, 0, 1, 3))))
        limits = limits_at_random(dice)
        found.append(Member(shirt, f"player {shirt}", shirt <= 2, limits=limits, joins=joins, away=away))
    return found


def file_at_random(dice: Random, members: list[Member]) -> PlanFile:
    """One or two weeks; some matches with minutes, some hot evenings."""
    days = [FIRST + timedelta(days=k) for k in range(7 * dice.choice((1, 1, 2)))]
    dice.shuffle(days)
    evenings = [
        Evening(day, float(dice.choice((45, 60, 75, 90))), wbgt=dice.choice((None, None, 20.0, 27.0, 30.0)))
        for day in days[: dice.randint(1, 3)]
    ]
    matches = []
    for day in days[4 : 4 + dice.randint(0, 2)]:
        minutes = {
            one.shirt: float(dice.choice((0, 15, 30, 90)))
            for one in members
            if dice.random() < (0.02 if one.limits.by or one.away or one.joins else 0.5)
        }
        matches.append(Match(day, "a match", minutes=minutes))
    return PlanFile(
        title="random",
        evenings=tuple(sorted(evenings, key=lambda one: one.day)),
        matches=tuple(sorted(matches, key=lambda one: one.day)),
        squad=("squad.csv",),
        pre_season=dice.random() < 0.5,
        warm_up={"minutes": 15.0, "metres": 900.0, "fast_metres": 0.0, "accelerations": 0.0},
        times_a_week=3,
        full_match=OWN if dice.random() < 0.7 else {},
        heat_table="heat.csv",
        heat_rules=HEAT,
    )


def table_at_random(dice: Random, files: Sequence[PlanFile], members: list[Member]) -> Table:
    """Some made-up games for each number of people that may be in one."""
    wanted = [one for file in files for one in turnouts(file, members)]
    counts = sorted({people for one in wanted for people in range(one.free, one.people + 1)})
    return {
        people: [offer_at_random(dice, number, people) for number in range(dice.randint(3, 4))] for people in counts
    }


@dataclass(frozen=True)
class Drawn:
    """A squad as it was drawn, and a plan for it."""

    members: Sequence[Member]
    plan: Planned


def plans_at_random(seed: int) -> list[Drawn]:
    """A plan, and of every other seed the same with an evening or a match moved; none where it was refused."""
    dice = Random(seed)
    members = squad_at_random(dice)
    file = file_at_random(dice, members)
    taken = {one.day for one in (*file.evenings, *file.matches)}
    free = next(day for k in range(30) if (day := FIRST + timedelta(days=k)) not in taken)
    move = Move(dice.choice((file.evenings[0], *file.matches)), free)
    table = table_at_random(dice, [file, file_after(file, move)], members)
    found = []
    try:
        found.append(planned(file, members, table))
        if seed % 2:
            found.append(moved(found[0], move, members, table).after)
    except InputError:
        pass
    return [Drawn(members, one) for one in found]


def broken(drawn: Drawn, whole: bool = False) -> list[str]:
    """Limits of players that the printed plan breaks, or that its printed look back would; `whole`: laid out as a page, which takes
    its time, else the same cells and sentences line by line."""
    days = {day_of(one): one for one in (FIRST + timedelta(days=k) for k in range(40))}
    text = plan_in_full(drawn.plan, {}, None) if whole else in_lines(drawn.plan)
    rows = rows_of(text, days)
    runs = runs_of(text, days)
    problems = [
        one for member in drawn.members for one in of_player(member, rows.get(member.name, {}), runs, drawn.plan)
    ]
    for week in range(1, drawn.plan.weeks + 1):
        problems += looked_back(drawn, week, rows)
    return [*problems, *crowded(drawn), *hotter(drawn.plan)]


def in_lines(plan: Planned) -> str:
    """The parts of the printed plan that are read here."""
    cells = ["  ".join(row) for line in plan.lines for row in plan_details.rows_of(line)]
    return "\n".join(["Player by player", "heads", *cells, "", *plan_details.shorts_of(plan)])


Row = tuple[str, float, tuple[int, ...]]
"""Why, minutes, and bouts of each game, as a row of the plan says."""


def rows_of(text: str, days: Mapping[str, date]) -> dict[str, dict[date, Row]]:
    """By player and day, from the table of the printed plan."""
    found: dict[str, dict[date, Row]] = {}
    name = ""
    for line in text.partition("Player by player")[2].splitlines()[2:]:
        if not line.strip():
            break
        cells = re.split(r"\s{2,}", line.rstrip())
        name = cells[0] or name
        minutes = 0.0 if cells[3] == "-" else float(cells[3])
        bouts = () if cells[-1] == "-" else tuple(int(one) for one in cells[-1].split(" + "))
        found.setdefault(name, {})[days[cells[1]]] = (cells[2], minutes, bouts)
    return found


def runs_of(text: str, days: Mapping[str, date]) -> dict[tuple[str, date], int]:
    """Runs by player and day, from what is printed to fill gaps."""
    words = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
    found: dict[tuple[str, date], int] = {}
    for name, count, day in re.findall(r"Week \d+, (.+?): .*?; (\w+) runs? of 60 m on (\w+ \d+ \w+), walk back", text):
        own = name, days[day]
        found[own] = found.get(own, 0) + (words.index(count) + 1 if count in words else int(count))
    return found


def of_player(
    member: Member, rows: Mapping[date, Row], runs: Mapping[tuple[str, date], int], plan: Planned
) -> list[str]:
    """What the printed days of a player break, runs included: a minute each, a set of them a bout."""
    limits, problems = member.limits, []
    weeks: dict[date, float] = {}
    evenings = {one.evening.day: one for one in plan.evenings}
    most_fast = limits.fast_metres if limits.fast_metres is not None else 1e9
    for day, (why, minutes, bouts) in rows.items():
        extra = runs.get((member.name, day), 0)
        weeks[monday(day)] = weeks.get(monday(day), 0.0) + minutes + extra
        sets = sum(bouts) + bool(extra)
        problems += [
            f"{member.name}, {day}: {said}"
            for wrong, said in (
                (bool(minutes) and not member.there(day), "there while away"),
                (minutes + extra > (limits.minutes if limits.minutes is not None else 999) + HALF, f"{minutes}+{extra} min"),
                (why != "match" and sets > (limits.bouts if limits.bouts is not None else 999), f"{sets} bouts"),
                (why == "match" and minutes > 0 and bool(limits.kept), "in a match"),
                (bool(extra) and (bool(limits.kept) or limits.reduced), "runs on top"),
                (bool(extra) and bool(evenings[day].heat and evenings[day].heat.rule), "runs in heat"),
                (bool(extra) and minutes + extra > evenings[day].evening.minutes + HALF, "runs after the evening"),
                (day in evenings and fast(evenings[day], bouts, extra) > most_fast, "fast metres"),
                (member.keeper and any(bouts) and limits != replace(NO_LIMITS, by=limits.by), "a keeper with limits in goal"),
            )
            if wrong
        ]  # fmt: skip
    if limits.week_minutes is not None:
        slack = HALF * max(1, len(rows))
        problems += [
            f"{member.name}: {value} min in a week" for value in weeks.values() if value > limits.week_minutes + slack
        ]
    return problems


def fast(evening: PlannedEvening, bouts: Sequence[int], extra: int) -> float:
    """Fast metres that one evening in ten is above, counted anew; a run has 40."""
    own = [taken.offer for taken in evening.taken]
    each = [one.each["fast_metres"] + 1.28 * one.spread["fast_metres"] for one in own]
    return sum(count * one for count, one in zip(bouts, each, strict=False)) + 40 * extra - 1e-6


def monday(day: date) -> date:
    return day - timedelta(days=day.weekday())


def looked_back(drawn: Drawn, week: int, rows: Mapping[str, Mapping[date, Row]]) -> list[str]:
    """Runs that a look back on a week proposes to somebody who may not have them; everybody played a third less than planned."""
    looked = evenings_of(drawn.plan, week, {})
    shirts = {one.shirt: 5.0 for one in drawn.members}
    seen = [replace(one, played=Played({"a game": 5.0}, shirts)) for one in looked]
    text = " ".join(shorts_told(players_of(drawn.plan, seen)))
    days = {one.planned.evening.day for one in looked}
    problems = []
    for member in drawn.members:
        if not re.search(rf"{member.name}: [^;]*; \w+ runs? of 60 m", text):
            continue
        limits, own = member.limits, rows[member.name]
        roomy = [
            day
            for day in days
            if day in own
            and (limits.bouts is None or sum(own[day][2]) < limits.bouts)
            and (limits.minutes is None or own[day][1] + 1 <= limits.minutes + HALF)
        ]
        total = sum(minutes for day, (_, minutes, _) in own.items() if monday(day) == monday(min(days)))
        if limits.kept or limits.reduced or not roomy:
            problems.append(f"{member.name}: runs in the look back on week {week}")
        if limits.week_minutes is not None and total + 1 > limits.week_minutes + HALF * len(own):
            problems.append(f"{member.name}: runs beyond his week in the look back")
    return problems


def crowded(drawn: Drawn) -> list[str]:
    """Games that are not for exactly those who are in them: more kept from something than there are places, or made for others."""
    problems = []
    lines = {line.member.shirt: line for line in drawn.plan.lines}
    for evening in drawn.plan.evenings:
        for i, taken in enumerate(evening.taken):
            there = [
                one
                for one in drawn.members
                if one.limits.kept
                and not one.keeper
                and any(day.day == evening.evening.day and day.bouts and day.bouts[i] for day in lines[one.shirt].days)
            ]
            most = sum(any(one.limits.kept <= place for one in there) for place in taken.offer.places)
            if len(there) > min(most, taken.offer.people - evening.turnout.free):
                problems.append(f"{evening.evening.day}: {len(there)} in {most} places of their own")
            keepers = sum(
                bool(day.bouts[i])
                for line in drawn.plan.lines
                if line.member.keeper
                for day in line.days
                if day.day == evening.evening.day and day.bouts
            )
            if keepers != taken.offer.goals:
                problems.append(f"{evening.evening.day}: {keepers} keepers in {taken.offer.goals} goals")
    return problems


def hotter(plan: Planned) -> list[str]:
    """Evenings on which more is done than the heat table has."""
    problems = []
    for one in plan.evenings:
        rule = one.heat.rule if one.heat is not None else None
        if (one.evening.wbgt or 0.0) >= HEAT[0].from_wbgt and rule is None:
            problems.append(f"{one.evening.day}: no heat table")
        if rule is not None:
            problems += [
                f"{one.evening.day}: too much in heat"
                for taken in one.taken
                if taken.offer.work_s > rule.most_work_s or taken.offer.rest_s < rule.least_rest_s
            ]
        if one.amounts["minutes"] > one.evening.minutes + HALF:
            problems.append(f"{one.evening.day}: longer than the evening")
    return problems
