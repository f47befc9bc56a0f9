"""A plan of weeks as plain data, for JSON: every evening with its games and bands, every player's own days, what a move changed.

Metres and minutes; of minors a plan has no fast metres.  Players stand in the order of the squad file, never ranked.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from datetime import date
from typing import Any

from sim.experiments.last_line import LINE
from sim.experiments.origin import origin_of
from sim.weeks.amounts import Amounts
from sim.weeks.bands import Bands
from sim.weeks.days import week_number
from sim.weeks.lines import Day, Line
from sim.weeks.moving import Moved
from sim.weeks.people import Limits
from sim.weeks.plan import Planned, PlannedEvening, Table
from sim.weeks.reasons import Missed

Misses = Mapping[date, Sequence[Missed]]


def plan_data(plan: Planned, misses: Misses, table: Table, seed: int, moved: Moved | None = None) -> dict[str, Any]:
    """The whole plan, after the move where there was one."""
    games = dict.fromkeys(game for offers in table.values() for offer in offers for game in offer.groups)
    return {
        "title": plan.file.title,
        **(origin_of(seed, games) if games else {}),
        "weeks": plan.weeks,
        "full_match": _bands(plan.file.match_bands),
        "evenings": [_evening(plan, one, misses.get(one.evening.day, ())) for one in plan.evenings],
        "matches": [
            {
                "date": one.day.isoformat(),
                "name": one.name,
                "friendly": one.friendly,
                "minutes": {str(shirt): minutes for shirt, minutes in one.minutes.items()},
            }
            for one in plan.file.matches
        ],
        "players": [_line(line) for line in plan.lines],
        "move": None if moved is None else _move(moved),
        "cautions": [LINE],
    }


def _evening(plan: Planned, one: PlannedEvening, misses: Sequence[Missed]) -> dict[str, Any]:
    low, high = one.usual
    return {
        "date": one.evening.day.isoformat(),
        "week": week_number(one.evening.day, plan.file.first),
        "labels": list(one.labels),
        "minutes": one.evening.minutes,
        "players": one.people,
        "wbgt_c": one.evening.wbgt,
        "themes": list(one.evening.themes),
        "games": [
            {
                "game": taken.offer.game,
                "size": taken.offer.size,
                "groups": [[game.name, len(game.players)] for game in taken.offer.groups],
                "areas_m": [[[area.length, area.width] for area in game.areas] for game in taken.offer.groups],
                "bouts": taken.bouts,
                "work_s": taken.offer.work_s,
                "rest_s": taken.offer.rest_s,
                "minutes": taken.minutes,
            }
            for taken in one.taken
        ],
        "band": _bands(one.need.bands),
        "gives": _amounts(one.amounts),
        "usually": [_amounts(low), _amounts(high)],
        "missed": [{"measure": miss.measure, "off": miss.off, "binding": list(miss.binding)} for miss in misses],
    }


def _line(line: Line) -> dict[str, Any]:
    member = line.member
    return {
        "shirt": member.shirt,
        "name": member.name,
        "keeper": member.keeper,
        "joins": None if member.joins is None else member.joins.isoformat(),
        "limits": _limits(member.limits) if member.limits.by else None,
        "days": [_day(day) for day in line.days],
        "weeks": {str(week): _amounts(amounts) for week, amounts in line.weeks.items()},
        "largest_rise": None if line.jump is None else asdict(line.jump),
    }


def _limits(limits: Limits) -> dict[str, Any]:
    return {
        "set_by": limits.by,
        "most_minutes": limits.minutes,
        "most_week_minutes": limits.week_minutes,
        "most_bouts": limits.bouts,
        "most_fast_metres": limits.fast_metres,
        "kept_from": sorted(limits.kept),
        "reduced_load": limits.reduced,
    }


def _day(day: Day) -> dict[str, Any]:
    ends = None if day.low is None or day.high is None else [_amounts(day.low), _amounts(day.high)]
    return {
        "date": day.day.isoformat(),
        "why": day.why,
        "set_by": day.by or None,
        "gets": _amounts(day.amounts),
        "usually": ends,
        "band": None if day.band is None else _bands(day.band),
        "bouts": list(day.bouts),
    }


def _move(moved: Moved) -> dict[str, Any]:
    return {
        "from": moved.move.what.day.isoformat(),
        "to": moved.move.to.isoformat(),
        "cut": [one.evening.day.isoformat() for one in moved.cut],
        "changed": [
            {"before": before.evening.day.isoformat(), "after": after.evening.day.isoformat()}
            for before, after in moved.changed
        ],
    }


def _amounts(amounts: Amounts) -> dict[str, float]:
    return {name: float(value) for name, value in amounts.items()}


def _bands(bands: Bands) -> dict[str, list[float]]:
    return {name: [float(band.low), float(band.high)] for name, band in bands.items()}
