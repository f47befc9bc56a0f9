"""Of which games figures are published: read off the evidence tables, for the `basis` of a number and the nearest study.

A study counts here if its source states the pitch and a figure that we play too.  A domain is what the rows that we come out
*inside* of (in the reference table) span, of one family of rules and one population: number of players inside, and area for
each, a little beyond either end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from sim.evidence.conditions import game_of
from sim.evidence.reference_table import shipped_table
from sim.evidence.table import condition_of
from sim.evidence.tables import Measurement, measurements, parts, rows_of
from sim.game.model import Game
from sim.measures.basis import Evidence, Setting, setting_of

# A measure of the evidence -> the measure of the answers that is the same thing.  The others count otherwise (speeds of bands,
# peaks of a whole session) and stand for nothing here.
SAME = {"distance_per_min": "distance_per_min", "heart_rate_pct": "mean_heart_rate_estimate"}
ROOM = 0.1  # house default: areas a tenth smaller or larger are the same size, as pitches in studies are whole, rounded metres


@dataclass(frozen=True)
class Study:
    """One published figure with the game it was measured in, ours of the same game, and whether that is inside."""

    about: Measurement
    part: str
    setting: Setting
    measure: str
    published: float
    ours: float
    inside: bool


@cache
def studies() -> tuple[Study, ...]:
    """In the order of the plan."""
    about, lines = {one.id: one for one in measurements()}, {line.part: line for line in shipped_table()[0]}
    found = []
    for part in parts():
        row = about[rows_of(part)[0]]
        if part.game and part.measure in SAME and part.published and row.pitch_m and part.part in lines:
            setting, line = setting_of(game_of(condition_of(part))), lines[part.part]
            found.append(
                Study(
                    row,
                    part.part,
                    setting,
                    SAME[part.measure],
                    float(part.published),
                    line.ours,
                    line.verdict == "inside",
                )
            )
    return tuple(found)


@cache
def domains() -> tuple[Evidence, ...]:
    """What the studies that we come out inside of span."""
    groups: dict[tuple, list[Study]] = {}
    for one in studies():
        if one.inside:
            key = one.setting.family, one.setting.helpers, one.setting.populations, one.measure
            groups.setdefault(key, []).append(one)
    found = []
    for (family, helpers, populations, measure), group in groups.items():
        players = [one.setting.players for one in group]
        areas = [one.setting.area_per_player_m2 for one in group]
        span = min(areas) * (1 - ROOM), max(areas) * (1 + ROOM)
        source = "; ".join(dict.fromkeys(one.about.source for one in group))
        people = (min(players), max(players))
        found.append(Evidence(family, people, span, populations, frozenset({measure}), source, helpers))
    return tuple(found)


def nearest(game: Game) -> Study | None:
    """The study of the same kind of game that is nearest in who plays, then in players and area for each; None without any."""
    setting = setting_of(game)
    alike = [one for one in studies() if one.setting.family == setting.family]
    return min(alike, key=lambda one: apart(one.setting, setting), default=None)


def apart(one: Setting, other: Setting) -> tuple[bool, float]:
    """(other people, how far apart in size: a doubling of the players is as far as a doubling of the area for each)."""
    players, areas = one.players / other.players, one.area_per_player_m2 / other.area_per_player_m2
    return one.populations != other.populations, abs(math.log(players)) + abs(math.log(areas)) + (
        one.helpers != other.helpers
    )
