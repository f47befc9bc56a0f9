"""A simulator of small-sided possession games: the front door for notebooks and programs.

    from sim import load_game, play, estimate

    game = load_game("tight-square", changes=["areas.square.length=11"])
    log = play(game, seed=1)                      # one bout: events and paths
    result = estimate(game, bouts=100, seed=1)    # many bouts: means and ranges

`load_game(source, changes=(), population=None)` takes the name of a shipped game or the path of a file;
`estimate` gives the same numbers as the command `overload estimate`.  Everything here is looked up when it
is first used, so ``import sim`` is light.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sim.assumptions import Assumptions
    from sim.game.model import Game
    from sim.pitch.log import BoutLog

__version__ = "0.12.0"
__all__ = ["InputError", "Result", "__version__", "estimate", "load_game", "play"]

_HOMES = {
    "InputError": "sim.errors",
    "Result": "sim.results",
    "estimate": "sim.experiments.estimate",
    "load_game": "sim.game.loader",
}


def play(game: Game, seed: int = 1, bout: int = 0, assumptions: Assumptions | None = None) -> BoutLog:
    """Play one bout: number `bout` (from 0) of the first session drawn from `seed`; `assumptions` replace the program's own.

    The bouts before it are played, too: players bring their legs and their roles from them.
    """
    from sim.assumptions import NONE
    from sim.errors import InputError
    from sim.experiments.sessions import bout_of

    if not 0 <= bout < game.bouts.count:
        raise InputError(f"must be from 0 to {game.bouts.count - 1}, the bouts of a session (got {bout})", "bout")
    return bout_of(game, seed, 0, bout, assumptions or NONE).about(game)


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'sim' has no attribute {name!r}")
    try:
        home = importlib.import_module(_HOMES[name])
    except AttributeError as error:  # from ... import would take it for a missing name and hide where it came from
        raise ImportError(f"{_HOMES[name]} cannot be loaded") from error
    return getattr(home, name)


def __dir__() -> list[str]:
    return sorted(__all__)
