"""What the evidence notes of the ball, held against a second reading of the same logs (`tests.support.ball_events_anew`)."""

from __future__ import annotations

import numpy as np
import pytest

import sim
from sim.evidence.ball_events import BallEvents, read_bout
from sim.game.model import Game
from sim.measures.event_reducer import reduce_events
from sim.pitch.log import BoutLog
from tests.support.ball_events_anew import read_anew
from tests.support.games import GAMES
from tests.unit.measures.handmade import square_bout, square_game


def same(one: BallEvents, other: BallEvents) -> None:
    assert one.counts == other.counts and one.live == other.live
    assert np.array_equal(one.pass_table(), other.pass_table(), equal_nan=True)


def read_both_ways(game: Game, log: BoutLog) -> BallEvents:
    reduced, found = read_bout(game, log)
    same(found, read_anew(game, log))
    alone = reduce_events(game, log)
    assert (reduced.totals, reduced.by_side, reduced.fired) == (alone.totals, alone.by_side, alone.fired)
    assert reduced.ball_events.counts == alone.ball_events.counts  # to watch changes nothing
    return found


def test_a_bout_by_hand():
    assert len(read_both_ways(square_game(), square_bout()).passes) == 6


@pytest.mark.parametrize("name", GAMES)
def test_bouts_as_played(name: str):
    game = sim.load_game(name)
    for seed in (1, 2):
        assert len(read_both_ways(game, sim.play(game, seed=seed)).passes) > 5
