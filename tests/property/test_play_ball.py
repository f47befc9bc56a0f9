"""The ball in whole bouts of all games: one owner at any time, clocks that add up, touch limits, a whistle that ends it all.

The owner is followed from the log alone: control is a touch with the ball not let go of since.
"""

from __future__ import annotations

from functools import cache

import pytest

from sim.game.loader import load_game
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from tests.support.games import GAMES

SEEDS = tuple(range(20, 26))
ON_THE_LINES = (
    "tight-square",
    "two-squares",
)  # who keeps the ball there stands on the lines and never takes a third touch
LETS_GO = ("release", "shot", "deflect", "dead")


@cache
def played(name: str, seed: int):
    game = load_game(name)
    return game, play_bout(game, draw_roster(game, seed, 0), seed)


@pytest.mark.parametrize("name", GAMES)
@pytest.mark.parametrize("seed", SEEDS)
def test_the_ball_has_one_owner(name: str, seed: int):
    """Nobody touches, passes or shoots a ball that somebody else has: it changes hands only over a release, a shot, a deflection, a
    tackle or a dead ball."""
    _, log = played(name, seed)
    owner, owned = "", 0
    for t, _, kind, player, other, _, cause, *_ in log.events:
        if kind == "touch":
            assert owner in ("", player), t
            owner, owned = player, owned + 1
        elif kind in ("release", "shot"):
            assert owner == player, t
            owner = ""
        elif kind == "tackle":
            assert owner == other, t
            owner = owner if cause == "beaten" else ""
        elif kind in LETS_GO:
            owner = ""
        elif kind == "receive":
            assert owner == player, t
    assert owned > 40


@pytest.mark.parametrize("name", GAMES)
@pytest.mark.parametrize("seed", SEEDS)
def test_clocks_add_up(name: str, seed: int):
    """In play and dead take turns, nothing of the game happens to a dead ball, and together they last the whole bout."""
    game, log = played(name, seed)
    in_play, dead, since, live = 0.0, 0.0, 0.0, False
    for t, _, kind, *_ in log.events:
        if kind in ("live", "dead"):
            assert live is (kind == "dead"), t
            in_play, dead = in_play + (t - since) * live, dead + (t - since) * (not live)
            live, since = kind == "live", t
        elif kind in ("touch", "release", "receive", "shot", "tackle", "win", "transfer"):
            assert live, (t, kind)
    assert not live
    assert in_play + dead + (log.duration_s - since) == pytest.approx(game.bouts.seconds, abs=1e-9)
    assert in_play > 0.3 * log.duration_s


@pytest.mark.parametrize("name", GAMES)
@pytest.mark.parametrize("seed", SEEDS)
def test_a_bout_ends_at_the_whistle(name: str, seed: int):
    game, log = played(name, seed)
    times = [event[0] for event in log.events]
    assert times == sorted(times)
    assert [event[1] for event in log.events] == list(range(len(log.events)))
    assert [event[2] for event in log.events].count("end") == 1
    assert log.events[-1][2] == "end"
    assert log.events[-1][0] == log.duration_s == game.bouts.seconds


@pytest.mark.parametrize("name", GAMES)
@pytest.mark.parametrize("limit", [1, 2, 3, 10])
def test_touch_limits_hold_for_everybody(name: str, limit: int):
    """Touches in a row of one player between two losses of control never exceed his role's limit, whatever the limit."""
    game = load_game(name)
    roles = tuple(role.model_copy(update={"touches": limit}) for role in game.roles)
    game = game.model_copy(update={"roles": roles})
    log = play_bout(game, draw_roster(game, 31, 0), 31)
    touches, who, most = 0, "", 0
    for t, _, kind, player, _, _, cause, *_ in log.events:
        if kind == "touch":
            touches = touches + 1 if who == player else 1
            who = player
            assert touches <= limit, t
            most = max(most, touches)
        elif kind in LETS_GO or (kind == "tackle" and cause != "beaten"):
            touches, who = 0, ""
    assert most == limit or limit == 10 or (limit == 3 and name in ON_THE_LINES)
