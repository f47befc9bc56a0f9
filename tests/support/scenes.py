"""Staged scenes in the real engine: a few players placed by hand, everything else as in any bout."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from sim.game.loader import load_game
from sim.game.model import Game
from sim.motion import plan_stand
from sim.pitch import columns as col
from sim.pitch.assignment import assign_start
from sim.pitch.engine import race
from sim.pitch.log import BoutLog
from sim.pitch.state import Bout
from sim.players import Profile, typical_roster

GAMES = ("tight-square", "two-squares", "home-grids", "break-away", "even-goals", "even-keep-ball")
FLIP = {"west": "east", "east": "west", "south": "north", "north": "south"}


def field(population: str, **abilities: float) -> Bout:
    """A bout of two players (0 passes to 1) on a very large area, four others waiting far off; all alike."""
    game = load_game(
        "tight-square",
        ["areas.square.length=150", "areas.square.width=150", "roles.outside.style=free"],
        population,
    )
    roster = {player: replace(who, **abilities) for player, who in typical_roster(game).items()}
    bout = Bout(game, roster, 1, 0, 0, race)
    assign_start(bout)
    bout.P[2:, col.STYLE] = col.WAIT
    bout.P[2:, col.OPEN] = 0.0
    return bout


def place(bout: Bout, places: list[tuple[float, float]], t: float = 0.0) -> None:
    """Everybody stands at these places from time t on, nothing run so far."""
    for i, (x, y) in enumerate(places):
        bout.P[i, col.NSEG] = plan_stand(bout.M[i], t, x, y)
        bout.P[i, col.LOGGED] = bout.P[i, col.BUSY] = t
    bout.count[0] = 0


def mirrored(game: Game, sx: int, sy: int) -> Game:
    """The mirror image of a game: areas, goals and their ends."""
    areas = tuple(area.model_copy(update={"x": sx * area.x, "y": sy * area.y}) for area in game.areas)
    goals = tuple(
        goal.model_copy(
            update={
                "x": sx * goal.x,
                "y": sy * goal.y,
                "end": FLIP[goal.end] if (sx if goal.end in ("west", "east") else sy) < 0 else goal.end,
            }
        )
        for goal in game.goals
    )
    return game.model_copy(update={"areas": areas, "goals": goals})


def plain(log: BoutLog, sx: int = 1, sy: int = 1) -> tuple[list[tuple], np.ndarray]:
    """Events with nan as None, and paths, seen in a mirror of signs (sx, sy)."""
    events = []
    for event in log.events:
        row = [None if isinstance(field, float) and math.isnan(field) else field for field in event]
        row[9] = row[9] if row[9] is None else sx * row[9] + 0.0
        row[10] = row[10] if row[10] is None else sy * row[10] + 0.0
        events.append(tuple(row))
    paths = log.segments.copy()
    paths[:, [3, 5, 7]] *= sx
    paths[:, [4, 6, 8]] *= sy
    return events, paths


def typical(population: str) -> Profile:
    """The typical player of a population."""
    game = load_game("tight-square", population=population)
    return next(iter(typical_roster(game).values()))
