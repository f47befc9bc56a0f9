"""The JSON of plans at random, held against what was drawn: limits, days on which somebody is not there, heat, minors.

Nothing here asks the planner: what somebody may have is what was drawn, what he gets is what the JSON says.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from random import Random
from typing import Any

from sim.errors import InputError
from sim.weeks.people import Member
from sim.weeks.plan import planned
from sim.weeks.plan_data import plan_data
from tests.support.weeks_at_random import HEAT, Drawn, file_at_random, squad_at_random, table_at_random

A_HAIR = 1e-6


def minors_at_random(seed: int) -> list[Drawn]:
    """A plan for a squad of minors, of whom no fast metres are known; none where it was refused."""
    dice = Random(f"minors {seed}")
    members = [replace(one, minor=True) for one in squad_at_random(dice)]
    file = file_at_random(dice, members)
    known = {name: value for name, value in file.full_match.items() if name != "fast_metres"}
    file = replace(file, minors=True, full_match=known)
    try:
        return [Drawn(members, planned(file, members, table_at_random(dice, [file], members)))]
    except InputError:
        return []


def broken_in_data(drawn: Drawn) -> list[str]:
    """What the JSON of a plan breaks."""
    text = json.dumps(plan_data(drawn.plan, {}, {}, 1), allow_nan=False)
    data = json.loads(text)
    young = [one for one in drawn.members if one.minor]
    problems = ["fast metres are told of minors"] if young and '"fast_metres"' in text else []
    problems += ["players are not in the order of the squad"] if not in_order(data["players"], drawn.members) else []
    rows = {one["shirt"]: one["days"] for one in data["players"]}
    evenings = {one["date"]: one for one in data["evenings"]}
    for member in drawn.members:
        problems += [f"{member.name}, {one}" for one in of_days(member, rows.get(member.shirt, ()), evenings)]
    return [*problems, *(one for evening in data["evenings"] for one in too_hot(evening))]


def in_order(players: list[dict[str, Any]], members: Any) -> bool:
    """Whether nobody was put before or behind anybody else."""
    shirts = [one["shirt"] for one in players]
    return shirts == [one.shirt for one in members if one.shirt in shirts]


def of_days(member: Member, days: Any, evenings: Mapping[str, Any]) -> list[str]:
    """What the days of a player break of his limits, and whether he is asked to come when he is not there."""
    limits, problems = member.limits, []
    weeks: dict[date, float] = {}
    for one in days:
        day = date.fromisoformat(one["date"])
        minutes, bouts = one["gets"].get("minutes", 0.0), sum(one["bouts"])
        monday = day - timedelta(days=day.weekday())
        weeks[monday] = weeks.get(monday, 0.0) + minutes
        if minutes and not member.there(day):
            problems.append(f"{day}: {minutes:g} min while he is away")
        if limits.minutes is not None and minutes > limits.minutes + A_HAIR:
            problems.append(f"{day}: {minutes:g} min, at most {limits.minutes:g}")
        if one["date"] not in evenings:
            continue
        if limits.bouts is not None and bouts > limits.bouts:
            problems.append(f"{day}: {bouts} bouts, at most {limits.bouts}")
        if bouts > sum(game["bouts"] for game in evenings[one["date"]]["games"]):
            problems.append(f"{day}: more bouts than there are")
    if limits.week_minutes is not None:
        problems += [
            f"week of {monday}: {minutes:g} min, at most {limits.week_minutes:g}"
            for monday, minutes in weeks.items()
            if minutes > limits.week_minutes + A_HAIR
        ]
    return problems


def too_hot(evening: Mapping[str, Any]) -> list[str]:
    """Bouts longer, rests shorter or an evening longer than it may be, by the table that was drawn."""
    day, wbgt = evening["date"], evening["wbgt_c"]
    rule = next((one for one in reversed(HEAT) if wbgt is not None and wbgt >= one.from_wbgt), None)
    problems = [] if evening["gives"].get("minutes", 0.0) <= evening["minutes"] + A_HAIR else [f"{day}: too long"]
    if rule is not None:
        problems += [
            f"{day}: {game['game']} at {wbgt:g} WBGT"
            for game in evening["games"]
            if game["work_s"] > rule.most_work_s + A_HAIR or game["rest_s"] < rule.least_rest_s - A_HAIR
        ]
    return problems
