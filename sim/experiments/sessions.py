"""One session: its bouts and rests, by the same players, and what is counted of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from typing import Any

from sim.assumptions import NONE, Assumptions
from sim.game.model import Game
from sim.measures.session_counts import SessionCounts, counts_of_bout, session_of
from sim.pitch.log import BoutLog

Bouts = Callable[[Game, int, int], Iterator[BoutLog]]
Fold = Callable[[list[SessionCounts]], Any]


def session_bouts(game: Game, seed: int, replicate: int, assumptions: Assumptions = NONE) -> Iterator[BoutLog]:
    """The bouts of one session, in order, by the same players, who bring their legs and their roles from bout to bout."""
    from sim.pitch.session import bouts_in_turn
    from sim.players import draw_roster

    yield from bouts_in_turn(
        game, draw_roster(game, seed, replicate, assumptions), seed, replicate, assumptions.constants
    )


def play_sessions(
    game: Game,
    seed: int,
    numbers: Sequence[int],
    bouts: Bouts,
    fold: Fold = session_of,
    assumptions: Assumptions = NONE,
) -> list:
    """What `fold` makes of the bouts of each of these sessions, in this process."""
    if assumptions:
        bouts = partial(bouts, assumptions=assumptions)
    return [fold(tallies_of(game, bouts(game, seed, number), assumptions)) for number in numbers]


def tallies_of(game: Game, logs: Iterable[BoutLog], assumptions: Assumptions = NONE) -> list[SessionCounts]:
    """The tallies of the bouts of one session, in order; each goes on from the one before it."""
    tallies: list[SessionCounts] = []
    for log in logs:
        before = tallies[-1] if tallies else None
        tallies.append(counts_of_bout(game, log, before=before, values=assumptions.table))
    return tallies
