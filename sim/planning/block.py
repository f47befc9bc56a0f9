"""One block of a session: a game as it is played that evening, and the time around it."""

from __future__ import annotations

from dataclasses import dataclass

from sim.game.loader import load_game
from sim.game.model import Game
from sim.game.terms import Bouts
from sim.game.timetable import timetable

MINUTE_S = 60.0


@dataclass(frozen=True)
class Block:
    """`game` (a name, numbers such as 4v2, or a file) with `changes` ("KEY=VALUE", as for --set), in so many bouts.

    bouts          how often it is played; None: as the game says
    work_s, rest_s seconds of a bout, and between two of them; None: as the game says
    explain_s      seconds to explain it, before the first bout
    drinks_s       seconds for drinks, in the rest half-way
    changeover_s   seconds from its end to the start of the next block
    """

    game: str
    changes: tuple[str, ...] = ()
    bouts: int | None = None
    work_s: float | None = None
    rest_s: float | None = None
    explain_s: float = 0.0
    drinks_s: float = 0.0
    changeover_s: float = 0.0


def all_changes(block: Block) -> tuple[str, ...]:
    """What is changed in the game, bouts included."""
    own = (("count", block.bouts), ("seconds", block.work_s), ("rest_seconds", block.rest_s))
    return (*block.changes, *(f"bouts.{key}={value:g}" for key, value in own if value is not None))


def game_of(block: Block, population: str | None = None, values: tuple[str, ...] = ()) -> Game:
    """The game of a block; `population` for all its teams, `values` more changes (what is known of its players).

    Raises `InputError` for whatever the game refuses.
    """
    return load_game(block.game, (*all_changes(block), *values), population)


def longest_s(bouts: Bouts) -> float:
    """How long a bout may last by the watch, s: with the clock stopped as long as it may stand, and with all its extra time."""
    return bouts.most_seconds + bouts.level_seconds + bouts.finish_seconds


def block_s(block: Block, game: Game) -> float:
    """Seconds that a block takes of the evening, up to the start of the next one: by the timetable of its sheet, where drinks are
    taken in the rest half-way, each bout as long as it may last."""
    bouts = game.bouts
    slots = timetable(bouts, block.explain_s / MINUTE_S, block.drinks_s / MINUTE_S)
    return slots[-1].end_s + bouts.count * (longest_s(bouts) - bouts.seconds) + block.changeover_s
