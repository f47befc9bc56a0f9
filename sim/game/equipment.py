"""What has to be carried out for a game, counted from the game: cones, bibs, balls; and how many people run it.

How far apart cones stand along a line, and that one person may serve and keep time, is common practice without a source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sim.game.model import Game, Goal
from sim.geometry import ROUNDING_M, Bounds, Point, corners, is_upright

FURTHEST_APART_M = (
    15.0  # between two cones of one line: further apart, nobody sees the line while playing (house default)
)


@dataclass(frozen=True)
class Bibs:
    """So many bibs; for players of a `team` (its colour is its name), or of a `side` whose players change."""

    count: int
    team: str | None
    side: str | None


@dataclass(frozen=True)
class Equipment:
    """`corners` and `between`: cones at corners of areas and zones and at gates, and along the lines.

    `keepers` wear a colour of their own.
    """

    corners: int
    between: int
    bibs: tuple[Bibs, ...]
    keepers: int
    balls: int

    @property
    def cones(self) -> int:
        """All cones, each place counted once."""
        return self.corners + self.between


def equipment_of(game: Game) -> Equipment:
    """What has to be carried out for a game; no cone stands twice, and none in the mouth of a goal."""
    at_corners = cones_at_corners(game)
    every = cone_places(game)
    keepers = sum(game.role(player.role).style == "goal" for player in game.players)
    return Equipment(len(at_corners), len(every) - len(at_corners), bibs_of(game), keepers, game.supply.balls)


def cones_at_corners(game: Game) -> list[Point]:
    """Where cones stand at the corners of areas and zones and at gates, each place once."""
    grounds = [*(area.bounds for area in game.areas), *(zone.bounds for zone in game.zones)]
    gates = [cone for gate in game.gates for cone in gate.cones]
    return distinct([*(point for bounds in grounds for point in corners(bounds)), *gates])


def cone_places(game: Game) -> list[Point]:
    """Where all its cones stand, each place once: at corners, and along the lines but for the mouths of goals."""
    outer = [point for area in game.areas for point in along_lines(area.bounds)]
    inner = [
        point
        for zone in game.zones
        for point in along_lines(zone.bounds)
        if not any(on_border(area.bounds, point) for area in game.areas)
    ]
    between = [point for point in (*outer, *inner) if not any(in_mouth(goal, point) for goal in game.goals)]
    return distinct([*cones_at_corners(game), *between])


def on_border(bounds: Bounds, point: Point) -> bool:
    """Whether a place lies on the lines of an area, which have cones of their own."""
    west, south, east, north = bounds
    x, y = point
    level = min(abs(x - west), abs(x - east)) <= ROUNDING_M and south <= y <= north
    return level or (min(abs(y - south), abs(y - north)) <= ROUNDING_M and west <= x <= east)


def distinct(points: list[Point]) -> list[Point]:
    """Each place once: areas that touch share the cones of their common line."""
    found: list[Point] = []
    for point in points:
        if not any(math.dist(point, other) <= ROUNDING_M for other in found):
            found.append(point)
    return found


def along_lines(bounds: Bounds) -> list[Point]:
    """Places between the corners, evenly spaced, so that no two cones of a line stand too far apart."""
    ends = corners(bounds)
    found = []
    for (x, y), (u, v) in zip(ends, [*ends[1:], ends[0]], strict=True):
        parts = math.ceil(math.dist((x, y), (u, v)) / FURTHEST_APART_M - ROUNDING_M)
        found += [(x + (u - x) * k / parts, y + (v - y) * k / parts) for k in range(1, parts)]
    return found


def in_mouth(goal: Goal, point: Point) -> bool:
    """Whether a cone would stand in the mouth of a goal, where nobody puts one."""
    across, along = abs(point[0] - goal.x), abs(point[1] - goal.y)
    if not is_upright(goal.end):
        across, along = along, across
    return across <= ROUNDING_M and along <= goal.width / 2


def bibs_of(game: Game) -> tuple[Bibs, ...]:
    """A colour a team; where all are of one team, bibs for those who begin without the ball."""
    outfield = [player for player in game.players if game.role(player.role).style != "goal"]
    teams = [team.name for team in game.teams if any(player.team == team.name for player in outfield)]
    if len(teams) > 1:
        return tuple(Bibs(sum(player.team == team for player in outfield), team, None) for team in teams)
    sides = [game.role(player.role).side for player in outfield]
    return tuple(Bibs(sides.count(side), None, side) for side in dict.fromkeys(sides) if side != game.start_side)


def server_needed(game: Game) -> bool:
    """Whether anybody must stand beside the game and play balls in."""
    return any(restart.source == "server" for restart in game.restarts)
