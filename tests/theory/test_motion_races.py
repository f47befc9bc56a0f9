"""Races to the ball against brute force, and against what is then executed.

No outside source: the oracle is a search on a fine grid over the runs a player could make (`sim.motion.plan_run`), without the
bounds and halvings of `first_reach`.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sim.motion import MOST_SEGMENTS, How, plan_run, state_at
from sim.pitch.assumptions import USUAL
from sim.pitch.numerics import FAR
from sim.pitch.reaching import MEET_SLACK_M, STEP
from sim.trajectory import SEGMENT
from sim.turning import Limits, State
from tests.support.games import GAMES
from tests.support.scene import NOBODY, Scene, scene
from tests.support.watching import watched

pytestmark = pytest.mark.theory
GRID_S = 0.005
LONGEST_S = 4.0
REACHES = {True: "receiver_reach", False: "intercept_reach"}  # by whether his side has the ball


def chase(seed: int, runner: int = 0) -> tuple[Scene, float]:
    """A rolling ball and a player in any state somewhere about its path, from random numbers: (scene, the player's start)."""
    rng = np.random.default_rng(seed)
    one = scene()
    angle, heading = rng.uniform(0.0, 2.0 * math.pi, 2)
    one.rolling(at=(0.0, 0.0), angle=angle, speed=rng.uniform(3.0, 15.0), deceleration=1.5)
    speed = rng.uniform(0.0, 0.9) * one.players["top_speed"][0] * (rng.random() < 0.8)
    ahead, beside = rng.uniform(0.0, 16.0), rng.uniform(-6.0, 6.0)
    x, y = ahead * math.cos(angle) - beside * math.sin(angle), ahead * math.sin(angle) + beside * math.cos(angle)
    one.put_one(runner, (x, y), velocity=(speed * math.cos(heading), speed * math.sin(heading)))
    return one, rng.uniform(0.0, 0.6)


def closest(one: Scene, start: float, t: float) -> float:
    """How near the ball of time t player 0 is then, on the better of two runs off at `start`: through its point, or to it."""
    plan = np.zeros(MOST_SEGMENTS + 1, SEGMENT)
    vmax, tau, brake = (one.players[name][0] for name in ("top_speed", "time_constant", "braking"))
    bx, by, _ = one.ball_at(t)
    gaps = []
    for through in (True, False):
        state = one.where(0, start)
        how = How(Limits(vmax, 1.0 / tau, brake), one.constants["flat_out"] * vmax, brake, through)
        n = plan_run(plan, start, State(*state), bx, by, how)
        x, y, _, _ = state_at(plan, n, t)
        gaps.append(math.hypot(x - bx, y - by))
    return min(gaps)


def searched(one: Scene, start: float, reach: float) -> tuple[float, float]:
    """(first time on the grid at which a run of player 0 meets the ball, for how long from then on such runs exist)."""
    first, t = FAR, start
    while t < LONGEST_S:
        if closest(one, start, t) <= reach:
            first = min(first, t)
        elif first < FAR:
            break
        t += GRID_S
    return first, t - first


@pytest.mark.slow
def test_first_reach_is_the_first_moment_a_run_meets_the_ball():
    """400 scenes.  Never earlier: at that moment there is such a run.  Never later than a search, but for a step of the scan (four
    for a ball that lies still); a chance shorter than a step, of a ball that shoots by, may be passed over."""
    strict = 0
    for seed in range(400):
        one, start = chase(seed)
        first, lasts = searched(one, start, 0.7)
        got = one.first_reach(0, start, LONGEST_S + 1.0, 0.7)
        assert got == FAR or closest(one, start, got) <= 0.7 + MEET_SLACK_M, seed
        step = STEP if one.ball_at(first)[2] > 0.4 else 4.0 * STEP
        if first < FAR and lasts > step + GRID_S:
            strict += 1
            assert got <= first + step + GRID_S, seed
    assert strict > 200


@pytest.mark.parametrize("seed", range(12))
def test_the_meant_receiver_is_where_the_race_says(seed: int):
    """What `pursue` predicts is what his executed run does."""
    one, _ = chase(seed, runner=1)
    one.ball["holder"], one.ball["passer"], one.ball["meant_for"] = NOBODY, 0, 1
    one.ball["target_x"], one.ball["target_y"] = one.where(1, 0.0)[:2]
    first, t = one.pursue(0.0, barred=1)
    assert first == 1
    assert math.dist(one.where(1, t)[:2], one.ball_at(t)[:2]) <= one.constants["receiver_reach"] + MEET_SLACK_M


@pytest.mark.parametrize("name", GAMES)
def test_nobody_touches_a_ball_that_is_out_of_his_reach(name: str):
    """In whole bouts of all games: at every contact the ball is within reach of the toucher's executed position (a receiver's reach
    for the passer's side, an interceptor's for the others), to the millimetre that the race allows."""
    gaps = {reach: [] for reach in REACHES.values()}
    for seed in range(8):
        watched(name, seed, lambda bout, i, gap: gaps[REACHES[Scene(bout).with_ball(i)]].append(gap))
    for reach, found in gaps.items():
        assert len(found) > 5
        assert max(found) <= USUAL[reach] + MEET_SLACK_M + 1e-9
    assert sum(len(found) for found in gaps.values()) > 120
