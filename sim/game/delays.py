"""A game whose restarts come later, or earlier, than its file says."""

from __future__ import annotations

from sim.game.model import Game

LEAST_RESTART_S = 0.5
"""No ball is back in play sooner."""


def restarts_later(game: Game, seconds: float) -> Game:
    """The game with every restart so many seconds later (below 0: earlier), `LEAST_RESTART_S` at least."""
    if not seconds:
        return game
    restarts = tuple(
        one.model_copy(update={"seconds": max(min(LEAST_RESTART_S, one.seconds), one.seconds + seconds)})
        for one in game.restarts
    )
    return game.model_copy(update={"restarts": restarts})
