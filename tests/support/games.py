"""The shipped games, their mirror images, and logs made plain so that two can be compared."""

from __future__ import annotations

import math

import numpy as np

from sim.game.loader import load_game
from sim.game.model import Game
from sim.pitch.log import BoutLog
from sim.players import Profile, typical_roster

GAMES = ("tight-square", "two-squares", "home-grids", "break-away", "even-goals", "even-keep-ball")
FLIP = {"west": "east", "east": "west", "south": "north", "north": "south"}


def mirrored(game: Game, sx: int, sy: int) -> Game:
    """The mirror image of a game: areas, zones, gates, goals and their ends."""
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
    gates = tuple(gate.model_copy(update={"x": sx * gate.x, "y": sy * gate.y}) for gate in game.gates)
    zones = tuple(zone.model_copy(update={"x": sx * zone.x, "y": sy * zone.y}) for zone in game.zones)
    return game.model_copy(update={"areas": areas, "goals": goals, "gates": gates, "zones": zones})


def plain(log: BoutLog, sx: int = 1, sy: int = 1) -> tuple[list[tuple], np.ndarray]:
    """Events with nan as None, and paths, seen in a mirror of signs (sx, sy)."""
    events = []
    for event in log.events:
        row = [None if isinstance(field, float) and math.isnan(field) else field for field in event]
        if row[2] != "ground":  # whose x and y are a length and a width, not a place
            row[9] = row[9] if row[9] is None else sx * row[9] + 0.0
            row[10] = row[10] if row[10] is None else sy * row[10] + 0.0
        events.append(tuple(row))
    paths = log.segments.copy()
    for sign, names in ((sx, ("x", "vx", "ax")), (sy, ("y", "vy", "ay"))):
        for name in names:
            paths[name] *= sign
    return events, paths


def typical(population: str) -> Profile:
    """The typical player of a population."""
    game = load_game("tight-square", population=population)
    return next(iter(typical_roster(game).values()))
