"""The recorded path of the ball against the log of events, which is written elsewhere: the ball is where each event says.

The two are independent: events carry the place of the player, or of the ball by the engine's own closed form; the path is
made of marks when the bout is over.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from sim.game.loader import load_game
from sim.pitch.assumptions import USUAL
from sim.pitch.engine import play_bout
from sim.pitch.log import FIELDS
from sim.pitch.reaching import MEET_SLACK_M
from sim.players import draw_roster
from tests.support.games import GAMES
from tests.support.paths import ball_at, player_at
from tests.support.small_games import drawn

AT_THE_BALL = ("release", "receive", "touch", "shot", "deflect")
KIND, T, PLAYER, X, Y = (FIELDS.index(name) for name in ("kind", "t", "player", "x", "y"))
REACHES = ("receiver_reach", "intercept_reach", "tackle_reach")
REACH_M = max(USUAL[name] for name in REACHES) + MEET_SLACK_M  # the longest of anybody but a keeper who saves


@cache
def played(name: str, seed: int):
    game = load_game(name)
    return play_bout(game, draw_roster(game, seed, 0), seed)


def random_bout(seed: int):
    game = drawn(seed)
    return play_bout(game, draw_roster(game, seed, 0), seed)


def follows(log) -> None:
    rows = log.ball
    assert len(rows), "the ball is somewhere from the first moment"
    assert rows["t0"][0] == 0.0 and rows["t1"][-1] == log.duration_s
    assert np.array_equal(rows["t0"][1:], rows["t1"][:-1])
    stopped = {
        event[T] for event in log.events if event[KIND] in ("dead", "live")
    }  # at once after something else: elsewhere
    touched = {(event[T], event[PLAYER]) for event in log.events if event[KIND] == "touch"}
    for event in log.events:
        if event[KIND] in AT_THE_BALL and event[T] < log.duration_s and event[T] not in stopped:
            # A pass into the body of somebody who stands right there takes no time: the path then has the ball with him.
            blocked = event[KIND] == "release" and any(t == event[T] and who != event[PLAYER] for t, who in touched)
            x, y, holder, _ = ball_at(log, event[T] - 1e-9 if blocked else event[T])
            if not math.isnan(event[X]):
                gap = math.hypot(x - event[X], y - event[Y])
                assert gap <= REACH_M if event[KIND] in ("touch", "deflect") else gap < 1e-6, event


@pytest.mark.parametrize("name", GAMES)
def test_the_ball_is_where_the_events_say(name: str):
    for seed in (1, 2):
        follows(played(name, seed))


@pytest.mark.parametrize("seed", range(12))
def test_the_ball_is_where_the_events_say_in_games_drawn_at_random(seed: int):
    follows(random_bout(seed))


@pytest.mark.parametrize("name", GAMES)
def test_whoever_the_log_says_has_the_ball_holds_it(name: str):
    log = played(name, 1)
    received = [event for event in log.events if event[KIND] == "receive"]
    assert received
    for event in received:
        after = ball_at(log, event[T] + 1e-6)
        if after[3]:
            assert log.players[after[2]] == event[PLAYER]


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize("name", GAMES)
def test_in_play_the_ball_never_jumps_further_than_somebody_reaches(name: str, seed: int):
    """Between two rows of the path it may go to the feet of whoever has reached it, and no further.

    A shot that is saved goes to the keeper's feet from where his hands were: how far he dives is no motion of his in the model.
    """
    log = played(name, seed)
    saved = {event[T] for event in log.events if event[KIND] == "save"}
    for before, after in zip(log.ball[:-1], log.ball[1:], strict=True):
        t = after["t0"]
        if before["in_play"] and after["in_play"] and t not in saved:
            old, new = ball_at(log, t - 1e-9), ball_at(log, t)
            assert math.hypot(old[0] - new[0], old[1] - new[1]) <= REACH_M, t


def test_a_player_is_where_his_path_says():
    log = played("tight-square", 1)
    rows = log.segments[log.segments["player"] == 2]
    for row in rows[:: max(1, len(rows) // 20)]:
        assert player_at(log, 2, row["t0"]) == pytest.approx((row["x"], row["y"]), abs=1e-6)
