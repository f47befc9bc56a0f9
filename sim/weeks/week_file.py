"""The plan file: evenings, matches and friendlies of one week or of several, what they should amount to, who trains (TOML).

`EXAMPLE` is a whole one.  Everything wrong with a file is told at once: key, rule, what was there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Any

from sim.errors import InputError, any_of
from sim.game.intake import parsed
from sim.groups.purposes import PURPOSES
from sim.planning.heat import LEAST_WBGT, MOST_WBGT, Rule
from sim.populations import POPULATIONS, named, no_population
from sim.squads.text_file import text_of
from sim.weeks.amounts import LOADS, MEASURES, Amounts, Measure
from sim.weeks.bands import ADULT_MEN, ANCHORS, HOUSE, Band, Bands
from sim.weeks.days import Evening, Match
from sim.weeks.table import HALF_A_PITCH, USUAL_SIZES
from sim.weeks.toml_tables import Tables

EXAMPLE = """\
title = "Quillhaven, the week before Saturday"
squad = "quillhaven-squad.csv"        # or: players = 16
population = "amateur men"
pre_season = false

[match_values]                        # one full match of your own players; leave out what you do not know
metres = 9800
fast_metres = 480
accelerations = 95

[[evenings]]
date = 2026-08-11
minutes = 75
themes = ["win"]

[[evenings]]
date = 2026-08-13
minutes = 75

[[matches]]
date = 2026-08-15
name = "on the lower pitch"
minutes = { 7 = 90, 12 = 30 }
"""
MOST_DAYS = 120  # evenings, and as many matches: nobody plans further ahead
MOST_WEEKS = 60
FIRST_YEAR, LAST_YEAR = 2000, 2100
MOST_PLAYERS = 60
LONGEST_EVENING, LONGEST_MATCH = 240, 120
WARM_UP_MIN, WARM_UP_M_A_MIN = 15.0, 60.0
"""A warm-up where the file says nothing (house default): an easy metre a second, nothing fast."""
TIMES_A_WEEK, MOST_BLOCKS = 1, 4
"""The same game on so many evenings of a week at most, and games on one evening (house default)."""
LARGEST: Mapping[Measure, float] = {"minutes": 300, "metres": 20000, "fast_metres": 5000, "accelerations": 1000}
PER_CENT = 100.0


@dataclass(frozen=True)
class OwnValues:
    """What the file says of one player beside the squad file; see `sim.weeks.people.Member` and `Limits`."""

    full_match: Amounts = field(default_factory=dict)
    joins: date | None = None
    weeks_before: tuple[float, ...] = ()
    week_minutes: float | None = None
    fast_metres: float | None = None
    set_by: str = ""


@dataclass(frozen=True)
class PlanFile:
    """A plan as it is asked for.  `own_bands`: by label, in place of the house's, measure by measure; `minors`: whether its games
    are played by minors; `heat_rules`: the rows of the `heat_table`, once it is read."""

    title: str
    evenings: tuple[Evening, ...]
    matches: tuple[Match, ...]
    squad: tuple[str, ...] = ()
    players: int | None = None
    population: str | None = None
    minors: bool = False
    games: tuple[str, ...] = ()
    sizes: tuple[float, ...] = USUAL_SIZES
    ground: tuple[float, float] = HALF_A_PITCH
    pre_season: bool = False
    warm_up: Amounts = field(default_factory=dict)
    times_a_week: int = TIMES_A_WEEK
    most_blocks: int = MOST_BLOCKS
    full_match: Amounts = field(default_factory=dict)
    own_bands: Mapping[str, Bands] = field(default_factory=dict)
    own_values: Mapping[int, OwnValues] = field(default_factory=dict)
    heat_table: str = ""
    heat_rules: tuple[Rule, ...] = ()

    @property
    def first(self) -> date:
        """The first day of it."""
        return min([*(one.day for one in self.evenings), *(one.day for one in self.matches)])

    @property
    def match_bands(self) -> Bands:
        """A full match as far as it is known: the file's own values, else those of adult men where adult men train."""
        known = {name: Band(value, value) for name, value in self.full_match.items()}
        return {**(ANCHORS if self.population == ADULT_MEN else {}), **known}

    def bands_of(self, label: str) -> Bands:
        """The band of a label: the house's, with what the file puts in its place."""
        return {**HOUSE.get(label, {}), **self.own_bands.get(label, {})}


def read_plan(path: Path) -> PlanFile:
    """The plan in a file; refused with every rule that it breaks."""
    if not path.is_file():
        raise InputError(f"must be a plan file (got {str(path)!r}, which is no file)", "FILE")
    text = text_of(path, "plan file").replace("\r\n", "\n")
    return plan_of(parsed(text, str(path)), str(path))


def plan_of(data: Mapping[str, Any], source: str = "") -> PlanFile:
    """The plan in the tables of a file."""
    problems: list[str] = []
    top = Tables(data, "", problems)
    found = _whole(top)
    top.finish()
    problems += not_together(found)
    if problems:
        raise InputError(problems, source)
    return found


def _whole(top: Tables) -> PlanFile:
    return PlanFile(
        title=top.line("title", "A plan"),
        squad=top.texts("squad"),
        players=top.whole("players", 2, MOST_PLAYERS),
        population=_population(top),
        games=top.texts("games"),
        sizes=top.several("sizes", 0.5, 3.0) or USUAL_SIZES,
        ground=_ground(top.table("ground")),
        pre_season=top.yes("pre_season"),
        times_a_week=top.whole("times_a_week", 1, 7) or TIMES_A_WEEK,
        most_blocks=top.whole("most_blocks", 1, 8) or MOST_BLOCKS,
        warm_up=_warm_up(top.table("warm_up")),
        heat_table=top.line("heat_table"),
        full_match=_amounts(top.table("match_values"), LOADS),
        own_bands={label: _bands(table, label) for label, table in top.table("bands").named()},
        own_values=_players(top.table("player")),
        evenings=tuple(sorted((one for one in map(_evening, top.tables("evenings")) if one), key=_by_day)),
        matches=tuple(sorted((one for one in map(_match, top.tables("matches")) if one), key=_by_day)),
    )


def _ground(table: Tables) -> tuple[float, float]:
    length, width = table.number("length", 10, 150), table.number("width", 10, 150)
    table.finish()
    return length or HALF_A_PITCH[0], width or HALF_A_PITCH[1]


def _by_day(one: Evening | Match) -> date:
    return one.day


def _population(top: Tables) -> str | None:
    typed = top.text("population")
    if not typed:
        return None
    name = typed if typed in POPULATIONS else named(typed)
    if name is None:
        top.refuse("population", f"must be a preset of players: {no_population(typed)}")
    return name


def _amounts(table: Tables, measures: Sequence[Measure]) -> Amounts:
    found = {name: table.number(name, 0, LARGEST[name]) for name in measures}
    table.finish()
    return {name: value for name, value in found.items() if value is not None}


def _warm_up(table: Tables) -> Amounts:
    own = _amounts(table, MEASURES)
    minutes = own.get("minutes", WARM_UP_MIN)
    return {"minutes": minutes, "metres": WARM_UP_M_A_MIN * minutes, "fast_metres": 0.0, "accelerations": 0.0, **own}


def _bands(table: Tables, label: str) -> Bands:
    if not (label in HOUSE or label.startswith(("MD-", "MD+"))):
        table.problems.append(f"{table.path} must be a label such as {any_of(list(HOUSE))} (got {label!r})")
    found: dict[Measure, Band] = {}
    for name in MEASURES:
        most = LARGEST["minutes"] if name == "minutes" else 3 * PER_CENT
        ends = table.pair(name, 0, most)
        if ends is not None:
            per = 1.0 if name == "minutes" else PER_CENT
            found[name] = Band(ends[0] / per, ends[1] / per)
    table.finish()
    return found


def _shirt(table: Tables, key: str) -> int | None:
    if key.isdecimal() and 0 < int(key) < 1000:
        return int(key)
    table.problems.append(f"{table.at(key)} must be a shirt number (got {key!r})")
    return None


def _players(table: Tables) -> dict[int, OwnValues]:
    found = {}
    for key, own in table.named():
        values = OwnValues(
            _amounts(own.table("match_values"), LOADS),
            own.day("joins"),
            own.several("weeks_before", 0, 7 * LARGEST["metres"]),
            own.number("most_week_minutes", 0, 7 * LONGEST_EVENING),
            own.number("most_fast_metres", 0, LARGEST["fast_metres"]),
            own.line("set_by"),
        )
        if (values.week_minutes, values.fast_metres) != (None, None) and not values.set_by:
            own.complain("set_by", "must say who set the limits")
        own.finish()
        shirt = _shirt(table, key)
        if shirt is not None:
            found[shirt] = values
    return found


def _evening(table: Tables) -> Evening | None:
    day, minutes = table.day("date", needed=True), table.number("minutes", 1, LONGEST_EVENING, needed=True)
    themes = table.texts("themes")
    table.require_one_of("themes", themes, PURPOSES)
    players, start, label = table.whole("players", 2, MOST_PLAYERS), table.hour("start"), table.line("label") or None
    wbgt = table.number("wbgt", LEAST_WBGT, MOST_WBGT)
    table.finish()
    return None if day is None or minutes is None else Evening(day, minutes, themes, players, start, label, wbgt)


def _match(table: Tables) -> Match | None:
    day = table.day("date", needed=True)
    own = table.table("minutes")
    minutes = {_shirt(own, key): own.number(key, 0, LONGEST_MATCH) for key in own.data}
    planned = {shirt: value for shirt, value in minutes.items() if shirt is not None and value is not None}
    name, friendly, start = table.line("name", "match"), table.yes("friendly"), table.hour("start")
    table.finish()
    return None if day is None else Match(day, name, friendly, start, planned)


def not_together(plan: PlanFile) -> list[str]:
    """What is wrong with parts that are right one by one."""
    problems = []
    if not plan.evenings:
        problems.append("evenings must hold at least one evening, under [[evenings]] (got none)")
    for what, count in (("evenings", len(plan.evenings)), ("matches", len(plan.matches))):
        if count > MOST_DAYS:
            problems.append(f"{what} must be at most {MOST_DAYS} (got {count})")
    days = Counter([*(one.day for one in plan.evenings), *(one.day for one in plan.matches)])
    problems += [f"{day} must have one evening or one match (got {count})" for day, count in days.items() if count > 1]
    if days and (min(days).year < FIRST_YEAR or max(days).year > LAST_YEAR):
        problems.append(f"days must be from {FIRST_YEAR} to {LAST_YEAR} (got {min(days)} to {max(days)})")
    elif days and (max(days) - min(days)).days > 7 * MOST_WEEKS:
        problems.append(f"days must lie within {MOST_WEEKS} weeks (got {min(days)} to {max(days)})")
    if plan.squad and plan.players is not None:
        problems.append("players must be left out where a squad file is given: it says who is there (got both)")
    if not plan.squad and plan.players is None:
        problems.append("squad must be given, the file of your players, or players, how many train (got neither)")
    if not plan.squad and any(match.minutes for match in plan.matches):
        problems.append("matches.minutes must go with a squad file, which says whose shirts these are (got none)")
    if plan.heat_table and all(one.wbgt is None for one in plan.evenings):
        problems.append("evenings.wbgt must be given for an evening at least where there is a heat_table (got none)")
    warm_up = plan.warm_up["minutes"]
    problems += [
        f"evenings of {one.day} must have more minutes than the warm-up of {warm_up:g} (got {one.minutes:g})"
        for one in plan.evenings
        if one.minutes <= warm_up
    ]
    return problems


def with_days(plan: PlanFile, evenings: Sequence[Evening], matches: Sequence[Match]) -> PlanFile:
    """The same plan with other days."""
    return replace(plan, evenings=tuple(sorted(evenings, key=_by_day)), matches=tuple(sorted(matches, key=_by_day)))
