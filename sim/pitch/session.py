"""The bouts of one session in their order: what the players bring from each to the next, in their legs and in their roles."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sim.game.model import Game
from sim.pitch import engine
from sim.pitch.fatigue import FatigueState, after_rest
from sim.pitch.log import BoutLog
from sim.players import Profile
from sim.rules.between import Held, next_start


def bouts_in_turn(
    game: Game, roster: dict[str, Profile], seed: int, replicate: int, assumptions: Mapping[str, float] | None = None
) -> Iterator[BoutLog]:
    """Every bout that the game declares; `assumptions`: engine constants by name, to replace defaults."""
    log: BoutLog | None = None
    fatigue: dict[str, FatigueState] | None = None
    held: tuple[Held, ...] | None = None
    constants = None if assumptions is None else dict(assumptions)
    for number in range(game.bouts.count):
        if log is not None:
            fatigue = after_rest(log, roster, game.bouts.rest_seconds, assumptions)
            held = next_start(game, number, log.phase, log.held)
        log = engine.play_bout(game, roster, seed, replicate, number, assumptions=constants, fatigue=fatigue, held=held)
        yield log
