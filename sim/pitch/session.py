"""The bouts of one session in their order: what the players bring from each to the next, in their legs and in their roles."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sim.game.model import Game
from sim.pitch import engine
from sim.pitch.fatigue import FatigueState, after_rest
from sim.pitch.log import BoutLog
from sim.players import Profile
from sim.rules.series import Series, Whistle, after


def bouts_in_turn(
    game: Game, roster: dict[str, Profile], seed: int, replicate: int, assumptions: Mapping[str, float] | None = None
) -> Iterator[BoutLog]:
    """Every bout that the game declares, or as many as it takes; `assumptions`: engine constants by name, to replace defaults."""
    fatigue: dict[str, FatigueState] | None = None
    constants = None if assumptions is None else dict(assumptions)
    series = Series(0, game)
    while not series.over:
        log = engine.play_bout(
            series.game,
            roster,
            seed,
            replicate,
            series.number,
            assumptions=constants,
            fatigue=fatigue,
            held=series.held,
        )
        yield log
        series = after(game, series, Whistle(log.phase, log.held, log.points, log.holder, log.colours))
        if not series.over:
            fatigue = after_rest(log, roster, game.bouts.rest_seconds, assumptions)
