"""A typical bout of each of several games, to be watched side by side."""

from __future__ import annotations

from collections.abc import Sequence

from sim.assumptions import NONE, Assumptions
from sim.experiments.sessions import bout_of
from sim.experiments.typical import Typical, typical_bout
from sim.game.model import Game
from sim.report.replay import Bout

Named = tuple[str, Game]
"""What a variant is called, and its game."""


def typical_bouts(
    named: Sequence[Named], seed: int, assumptions: Assumptions = NONE
) -> tuple[list[Bout], dict[str, Typical]]:
    """The bouts, and which ones they are."""
    bouts, found = [], {}
    for name, game in named:
        found[name] = one = typical_bout(game, seed, assumptions=assumptions)
        bouts.append((name, game, bout_of(game, seed, one.session, one.bout, assumptions)))
    return bouts, found
