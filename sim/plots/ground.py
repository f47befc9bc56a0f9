"""The ground of a diagram: what it shows in metres, how large it is drawn, and what lies inside or beside what."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sim.game.borders import lies_in
from sim.game.bounds import FURTHEST_M
from sim.game.model import Area, Game
from sim.plots.room import Box, overlap

POINTS = 72.0
WIDTH = 4.13  # inches: a quarter of an A4 (105 mm)
TALLEST = 0.75  # of the width of the page: the ground itself, so that the words below it still fit on the quarter
SIDE = 0.26  # inches left and right of the ground, for what stands behind a goal
MOST_RUN_OFF = 0.3  # of the longest side: a wider strip is drawn as wide as this
GOAL_DEPTH_M = 1.0
SIDES = ((0, -1), (0, 1), (-1, 0), (1, 0))
LANE_M = 0.1  # half the width of the line that the server's first ball is looked at on
SAFE = re.compile(r"[^A-Za-z0-9.-]")


def gid(kind: str, name: str) -> str:
    """An id that is safe in an SVG, and one to one: ``player-squad-3``."""
    return f"{kind}-{SAFE.sub(lambda found: f'_{ord(found[0]):x}_', name)}"


@dataclass(frozen=True)
class Ground:
    """The map: what it shows in metres (west, south, east, north), points a metre, and inches across the page."""

    bounds: Box
    scale: float
    page: float

    @property
    def wide(self) -> float:
        """Inches from west to east."""
        return (self.bounds[2] - self.bounds[0]) * self.scale / POINTS

    @property
    def high(self) -> float:
        """Inches from south to north."""
        return (self.bounds[3] - self.bounds[1]) * self.scale / POINTS

    def metres(self, points: float) -> float:
        """Points on the page as metres on the ground."""
        return points / self.scale

    def box(self, bounds: Box) -> Box:
        """A box in metres as one in points."""
        west, south, east, north = bounds
        return west * self.scale, south * self.scale, east * self.scale, north * self.scale

    def point(self, at: np.ndarray) -> tuple[float, float]:
        """(x, y) in points as the same place in metres."""
        x, y = at / self.scale
        return float(x), float(y)


def run_off_drawn(area: Area) -> float:
    """The free ground around an area, as wide as it is drawn."""
    return min(area.run_off, MOST_RUN_OFF * max(area.length, area.width))


def ground_of(game: Game, page: float = WIDTH) -> Ground:
    """All areas with their free ground, and the goals, as large as fits a page so wide, in inches."""
    parts = [grown(area.bounds, run_off_drawn(area)) for area in game.areas]
    parts += [
        (goal.x - GOAL_DEPTH_M, goal.y - GOAL_DEPTH_M, goal.x + GOAL_DEPTH_M, goal.y + GOAL_DEPTH_M)
        for goal in game.goals
    ]
    wests, souths, easts, norths = zip(*parts, strict=True)
    bounds = min(wests), min(souths), max(easts), max(norths)
    wide, high = bounds[2] - bounds[0], bounds[3] - bounds[1]
    return Ground(bounds, POINTS * min((page - 2 * SIDE) / wide, TALLEST * page / high), page)


def around(game: Game, area: Area) -> list[Area]:
    """The areas that an area lies in."""
    return [other for other in game.areas if other is not area and lies_in(area, other)]


def grown(box: Box, by: float) -> Box:
    """The box with so much more on every side."""
    west, south, east, north = box
    return west - by, south - by, east + by, north + by


def boxes(areas: Sequence[Area], ground: Ground) -> list[Box]:
    """The areas as boxes, in points."""
    return [ground.box(area.bounds) for area in areas]


def facing(area: Area, other: Area) -> tuple[float, float]:
    """The point of an area's border that looks at the middle of another."""
    west, south, east, north = area.bounds
    return min(max(other.x, west), east), min(max(other.y, south), north)


def side_of_server(game: Game) -> tuple[int, int]:
    """From which side the server plays in: the first of south, north, west and east with no other area or goal in between."""
    start = game.area(game.start_area)
    others = [
        one for one in game.areas if one is not start and one not in around(game, start) and not lies_in(one, start)
    ]
    goals = [
        (one.x - one.width / 2, one.y - GOAL_DEPTH_M, one.x + one.width / 2, one.y + GOAL_DEPTH_M) for one in game.goals
    ]
    far = 2 * FURTHEST_M
    for x, y in SIDES:
        ends = sorted((start.x, start.x + x * far)), sorted((start.y, start.y + y * far))
        lane = ends[0][0] - LANE_M, ends[1][0] - LANE_M, ends[0][1] + LANE_M, ends[1][1] + LANE_M
        if not any(overlap(lane, box) for box in (*(one.bounds for one in others), *goals)):
            return x, y
    return SIDES[0]
