"""Small games on several areas, and the reading of their logs."""

from __future__ import annotations

from collections import namedtuple
from functools import cache

from sim.game.loader import resolve
from sim.game.model import Game
from sim.pitch.engine import play_bout
from sim.pitch.log import FIELDS
from sim.players import draw_roster

HALVES = {"west": {"length": 14, "width": 16}, "east": {"length": 14, "width": 16, "beside": "west", "on": "east"}}
CORNER = {  # west and east touch along the lower half of the line between them: an L
    "west": {"length": 12, "width": 24, "centre": [-6, 6]},
    "east": {"length": 12, "width": 12, "centre": [6, 0]},
}


Seen = namedtuple("Seen", FIELDS)
"""One event of a log, by name."""


def halves(
    gap: float = 0.0, areas: dict | None = None, slate: int = 2, level: str = "amateur men", **more: object
) -> dict:
    """Two of amber and `slate` of slate in each of two areas; a pass across is always allowed.  `more` goes into the file."""
    areas = areas or {name: dict(area) for name, area in HALVES.items()}
    if gap:
        areas["east"]["gap"] = gap
    both = {"amber": 2, "slate": slate}
    role = {"side": "team", "style": "free"}
    short = {
        "format": 1,
        "title": "Halves",
        "purpose": "To see which lines are out.",
        "bouts": {"count": 1, "seconds": 90},
        "start": {"side": "amber", "area": "west"},
        "areas": areas,
        "teams": {"amber": {"population": level}, "slate": {"population": level}},
        "roles": {name: role | {"place": name, "players": both} for name in ("west", "east")},
        "phases": {"play": {"open": ["transfer"]}},
    }
    return short | more


def game_of(short: dict) -> Game:
    return resolve(short, "test", "several-areas")


def log_of(game: Game, seed: int) -> list[Seen]:
    """What happened in one bout."""
    return [Seen(*event) for event in play_bout(game, draw_roster(game, seed, 0), seed).events]


@cache
def _logs(game_json: str, seeds: int) -> list[list[Seen]]:
    game = Game.model_validate_json(game_json)
    return [log_of(game, seed) for seed in range(seeds)]


def logs_of(short: dict, seeds: int = 4) -> list[list[Seen]]:
    """The first bouts of a game, each played once."""
    return _logs(game_of(short).model_dump_json(), seeds)


def inside(short: dict, name: str, x: float, y: float, slack: float = 0.0) -> bool:
    """Whether a point lies in an area, or at most `slack` beyond its line."""
    west, south, east, north = game_of(short).area(name).bounds
    return west - slack <= x <= east + slack and south - slack <= y <= north + slack
