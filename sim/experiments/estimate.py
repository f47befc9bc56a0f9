"""`estimate`: play many sessions of one game, and say what came out with its ranges."""

from __future__ import annotations

from collections.abc import Sequence

from sim import __version__
from sim.errors import GameError
from sim.experiments.cautions import cautions_for
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import Progress, replicate
from sim.game.model import Game
from sim.measures.summary import summarise
from sim.results import FORMAT, Result


def estimate(
    game: Game,
    bouts: int = 200,
    seed: int = 1,
    workers: int | None = None,
    progress: Progress | None = None,
    changes: Sequence[str] = (),
) -> Result:
    """Whole sessions of `game` until at least `bouts` bouts are done; the same bits for any number of workers.

    `progress(done, wanted)` is told of bouts.  `changes` are the "KEY=VALUE" the game was loaded with, kept with the
    result.  Ctrl-C keeps the sessions that are finished.
    """
    problems = [
        f"{name} must be at least {least} (got {value})"
        for name, value, least in (("bouts", bouts, 1), ("seed", seed, 0), ("workers", workers, 1))
        if value is not None and value < least
    ]
    if problems:
        raise GameError(problems)
    played = replicate(game, bouts, seed, workers, progress)
    measures = summarise(game, played.sessions)
    bands = played.sessions[0].thresholds
    return Result(
        format=FORMAT,
        game=game.name,
        seed=seed,
        bouts=sum(session.bouts for session in played.sessions),
        population=population_of(game),
        version=__version__,
        changes=tuple(changes),
        cautions=cautions_for(game, measures, bands, len(played.sessions), played.wanted),
        measures=measures,
        provenance=provenance_of(bands),
    )


def population_of(game: Game) -> str:
    """The preset of all teams, or each team's own."""
    presets = {team.population for team in game.teams}
    return presets.pop() if len(presets) == 1 else "; ".join(f"{team.name}: {team.population}" for team in game.teams)
