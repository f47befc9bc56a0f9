"""Tables of the very bouts that an estimate plays: same game, same seed, same sessions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.assumptions import NONE, Assumptions
from sim.evidence.published import domains
from sim.experiments.replicate import sessions_for
from sim.experiments.sessions import session_bouts
from sim.game.model import Game
from sim.measures.tables import tables

if TYPE_CHECKING:
    from pandas import DataFrame


def session_tables(
    game: Game, bouts: int = 200, seed: int = 1, assumptions: Assumptions = NONE
) -> dict[str, DataFrame]:
    """All six tables of whole sessions until at least `bouts` bouts are done."""
    numbers = range(sessions_for(game, bouts))
    logs = [log for number in numbers for log in session_bouts(game, seed, number, assumptions)]
    return tables(game, logs, values=assumptions.table, evidence=domains())
