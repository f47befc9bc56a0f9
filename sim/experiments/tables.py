"""Tables of the very bouts that an estimate plays: same game, same seed, same sessions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.experiments.replicate import session_bouts, sessions_for
from sim.game.model import Game
from sim.measures.tables import tables

if TYPE_CHECKING:
    from pandas import DataFrame


def session_tables(game: Game, bouts: int = 200, seed: int = 1) -> dict[str, DataFrame]:
    """All six tables of whole sessions until at least `bouts` bouts are done."""
    count = sessions_for(game, bouts)
    return tables(game, [log for number in range(count) for log in session_bouts(game, seed, number)])
