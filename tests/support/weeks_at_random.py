"""Plans at random: tables of made-up games, squads with limits, weeks with matches.  No engine is asked for anything."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from random import Random

from sim.errors import InputError
from sim.groups.purposes import PURPOSES
from sim.weeks.choosing import Offer
from sim.weeks.days import Evening, Match
from sim.weeks.lines import USUAL_SPREAD, Line
from sim.weeks.people import NO_LIMITS, Limits, Member
from sim.weeks.plan import Planned, Table, planned, turnouts
from sim.weeks.week_file import PlanFile

FIRST = date(2026, 8, 3)
OWN = {"metres": 9800.0, "fast_metres": 480.0, "accelerations": 95.0}


def offer_at_random(dice: Random, number: int, people: int) -> Offer:
    """A made-up game."""
    metres = dice.uniform(150, 500)
    return Offer(
        game=f"game-{number}",
        size=1.0,
        purpose=dice.choice(PURPOSES),
        people=people,
        each={"metres": metres, "fast_metres": dice.uniform(0, 40), "accelerations": dice.uniform(2, 10)},
        bout_min=dice.uniform(2, 7),
        around_min=dice.uniform(2, 6),
        least=dice.choice((1, 2)),
        most=dice.choice((4, 6)),
        spread={"metres": 0.1 * metres, "fast_metres": dice.uniform(0, 10), "accelerations": 1.0},
        resting=dice.choice((0, 0, 0, 1, 2)),
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
        defends=dice.random() < 0.5,
        plays=dice.random() < 0.8,
    )


def squad_at_random(dice: Random) -> list[Member]:
    """Players with shirts from 1, some with limits, some who come late or are away."""
    found = []
    for shirt in range(1, dice.randint(5, 18) + 1):
        joins = FIRST + timedelta(days=dice.randint(0, 14)) if dice.random() < 0.2 else None
        away = frozenset(FIRST + timedelta(days=dice.randint(0, 13)) for _ in range(dice.choice((0, 0, 1, 3))))
        found.append(Member(shirt, f"player {shirt}", limits=limits_at_random(dice), joins=joins, away=away))
    return found


def file_at_random(dice: Random, members: list[Member]) -> PlanFile:
    """One or two weeks; some matches with minutes."""
    days = [FIRST + timedelta(days=k) for k in range(7 * dice.choice((1, 1, 2)))]
    dice.shuffle(days)
    evenings = [Evening(day, float(dice.choice((45, 60, 75, 90)))) for day in days[: dice.randint(1, 3)]]
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
    )


def table_at_random(dice: Random, file: PlanFile, members: list[Member]) -> Table:
    """Some made-up games for each number of people that is there."""
    return {
        people: [offer_at_random(dice, number, people) for number in range(dice.randint(3, 4))]
        for people in turnouts(file, members)
    }


def plan_at_random(seed: int) -> Planned | None:
    """A plan; None where it was refused."""
    dice = Random(seed)
    members = squad_at_random(dice)
    file = file_at_random(dice, members)
    try:
        return planned(file, members, table_at_random(dice, file, members))
    except InputError:
        return None


def broken(line: Line, plan: Planned) -> list[str]:
    """Limits of a player that his line breaks, counted here anew from the bouts that he has."""
    limits, problems = line.member.limits, []
    weeks: dict[date, float] = {}
    for day in line.days:
        minutes, bouts, fast, defended = 0.0, 0, 0.0, False
        if day.why == "match":
            minutes = day.amounts.get("minutes", 0.0)
            defended = minutes > 0
        elif day.amounts:
            evening = next(one for one in plan.evenings if one.evening.day == day.day)
            minutes = min(plan.file.warm_up["minutes"], day.amounts["minutes"])
            for taken, count in zip(evening.taken, day.bouts, strict=True):
                own = replace(taken, bouts=count)
                minutes += own.minutes if count else 0.0
                bouts += count
                each, spread = taken.offer.each["fast_metres"], taken.offer.spread["fast_metres"]
                fast += count * (each + USUAL_SPREAD * spread)
                defended |= count > 0 and not taken.offer.resting
        if minutes and not line.member.there(day.day):
            problems.append(f"{day.day}: there while away")
        if limits.minutes is not None and minutes > limits.minutes + 1e-6:
            problems.append(f"{day.day}: {minutes} min of {limits.minutes}")
        if limits.bouts is not None and bouts > limits.bouts:
            problems.append(f"{day.day}: {bouts} bouts of {limits.bouts}")
        if limits.fast_metres is not None and fast > limits.fast_metres + 1e-6:
            problems.append(f"{day.day}: {fast} fast metres of {limits.fast_metres}")
        if not limits.plays and bouts:
            problems.append(f"{day.day}: in a game")
        if not limits.defends and defended:
            problems.append(f"{day.day}: may have to defend")
        monday = day.day - timedelta(days=day.day.weekday())
        weeks[monday] = weeks.get(monday, 0.0) + minutes
    if limits.week_minutes is not None:
        problems += [
            f"{one}: {value} min in the week" for one, value in weeks.items() if value > limits.week_minutes + 1e-6
        ]
    return problems


def crowded(plan: Planned) -> list[str]:
    """Games in which more may not defend than it has places for."""
    problems = []
    for evening in plan.evenings:
        for i, taken in enumerate(evening.taken):
            days = [
                next(day for day in line.days if day.day == evening.evening.day)
                for line in plan.lines
                if not line.member.limits.defends
            ]
            there = sum(bool(day.bouts and day.bouts[i]) for day in days)
            if there > taken.offer.resting:
                problems.append(f"{evening.evening.day}: {there} of {taken.offer.resting} places without defending")
    return problems
