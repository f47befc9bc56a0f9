"""Where everybody stands when a bout begins, as the engine puts him there."""

from __future__ import annotations

from sim.game.model import Game
from sim.pitch.assignment import assign_start
from sim.pitch.engine import race
from sim.pitch.moves import where
from sim.pitch.state import Bout
from sim.players import draw_roster

SEED = 1  # the bout that is played where no other is asked for


def starting_places(game: Game, seed: int = SEED) -> dict[str, tuple[float, float]]:
    """(x, y) in metres of every player before the first ball is played in, by id: those of the first bout with this seed.

    In other bouts free players stand up to half a step off them, and somebody who is moved off an opponent may go another way.
    """
    bout = Bout(game, draw_roster(game, seed, 0), seed, 0, 0, race)
    assign_start(bout)
    found = {}
    for i, player in enumerate(game.players):
        x, y, _, _ = where(bout.records, i, 0.0)
        found[player.id] = float(x), float(y)
    return found
