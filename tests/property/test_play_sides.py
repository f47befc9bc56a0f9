"""The ball is the side's whose player has it, also when winner and loser change places and play goes on."""

from __future__ import annotations

import pytest

from sim.evidence.arms import Arm, game_of
from sim.measures.scan import scan
from sim.pitch.engine import play_bout
from sim.players import draw_roster


def swapping(seed: int):
    game = game_of(Arm("square-swap", ("bouts.minutes=6",), "amateur men"))
    return game, play_bout(game, draw_roster(game, seed, 0), seed, 0)


@pytest.mark.parametrize("seed", range(3))
def test_nobody_plays_for_a_side_that_has_not_got_the_ball(seed: int):
    _, log = swapping(seed)
    side, goes_on = {}, 0
    for before, event in zip(log.events, log.events[1:], strict=False):
        kind, player, holding = event[2], event[3], event[5]
        if kind == "job":
            side[player] = event[5]
        if kind in ("release", "receive"):
            assert side[player] == holding
        goes_on += kind == "possession" and before[2] == "job"
    assert goes_on > 2  # wins after which the winner, now outside, has the ball and play goes on


@pytest.mark.parametrize("seed", range(3))
def test_a_winner_who_changes_sides_takes_the_ball_with_him_at_once(seed: int):
    game, log = swapping(seed)
    runs = scan(game, log).possessions.runs
    assert all(run.cut and not run.passes for run in runs if run.side == "inside")  # a new ball was served to the others
    runs = [run for run in runs if run.side == "outside"]
    assert sum(run.cause == "interception" for run in runs) > 0
    for run, after in zip(runs, runs[1:], strict=False):
        if run.cause in ("interception", "tackle"):
            assert after.start_s == pytest.approx(run.end_s)
