"""Races to the ball against brute force, and against what is then executed.

No outside source: the oracle is a search on a fine grid over the runs a player could make (`sim.motion.plan_run`), without the
bounds and halvings of `first_reach`.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sim.motion import MOST_SEGMENTS, WIDTH, plan_run, state_at
from sim.pitch import columns as col
from sim.pitch.assumptions import INTERCEPT_REACH, RECEIVER_REACH
from sim.pitch.contest import FAR, MEET_SLACK_M, STEP, ball_point, first_reach, pursue
from sim.pitch.ground import with_ball
from sim.pitch.moves import FLAT_OUT, where
from sim.pitch.setup import constants
from tests.support.scenes import GAMES, field, place
from tests.support.watching import watched

pytestmark = pytest.mark.theory
GRID_S = 0.005
LONGEST_S = 4.0
REACHES = {True: RECEIVER_REACH, False: INTERCEPT_REACH}  # by whether his side has the ball


def scene(seed: int):
    """A rolling ball and a player in any state somewhere about its path, from random numbers: (bout, the player's start)."""
    rng = np.random.default_rng(seed)
    bout = field("amateur men")
    place(bout, [(60.0, 60.0)] * 6)
    angle, heading = rng.uniform(0.0, 2.0 * math.pi, 2)
    bout.B[[col.BX, col.BY, col.KICKED, col.DECEL]] = 0.0, 0.0, 0.0, 1.5
    bout.B[[col.DX, col.DY, col.V0]] = math.cos(angle), math.sin(angle), rng.uniform(3.0, 15.0)
    speed = rng.uniform(0.0, 0.9) * bout.P[0, col.VMAX] * (rng.random() < 0.8)
    ahead, beside = rng.uniform(0.0, 16.0), rng.uniform(-6.0, 6.0)
    x, y = ahead * math.cos(angle) - beside * math.sin(angle), ahead * math.sin(angle) + beside * math.cos(angle)
    bout.M[0, 0, 2:6] = x, y, speed * math.cos(heading), speed * math.sin(heading)
    return bout, rng.uniform(0.0, 0.6)


def closest(bout, start: float, t: float) -> float:
    """How near the ball of time t player 0 is then, on the better of two runs off at `start`: through its point, or to it."""
    plan = np.zeros((MOST_SEGMENTS + 1, WIDTH))
    vmax, k, brake = bout.P[0, col.VMAX], 1.0 / bout.P[0, col.TAU], bout.P[0, col.BRAKE]
    bx, by, _ = ball_point(bout.B, t)
    gaps = []
    for through in (True, False):
        state = state_at(bout.M[0], 1, start)
        n = plan_run(plan, start, *state, bx, by, FLAT_OUT * vmax, vmax, k, brake, through)
        x, y, _, _ = state_at(plan, n, t)
        gaps.append(math.hypot(x - bx, y - by))
    return min(gaps)


def searched(bout, start: float, reach: float) -> tuple[float, float]:
    """(first time on the grid at which a run of player 0 meets the ball, for how long from then on such runs exist)."""
    first, t = FAR, start
    while t < LONGEST_S:
        if closest(bout, start, t) <= reach:
            first = min(first, t)
        elif first < FAR:
            break
        t += GRID_S
    return first, t - first


def test_first_reach_is_the_first_moment_a_run_meets_the_ball():
    """400 scenes.  Never earlier: at that moment there is such a run.  Never later than a search, but for a step of the scan (four
    for a ball that lies still); a chance shorter than a step, of a ball that shoots by, may be passed over."""
    strict = 0
    for seed in range(400):
        bout, start = scene(seed)
        first, lasts = searched(bout, start, 0.7)
        got = first_reach(bout.P, bout.M, bout.B, bout.C, 0, start, LONGEST_S + 1.0, 0.7)
        assert got == FAR or closest(bout, start, got) <= 0.7 + MEET_SLACK_M, seed
        step = STEP if ball_point(bout.B, first)[2] > 0.4 else 4.0 * STEP
        if first < FAR and lasts > step + GRID_S:
            strict += 1
            assert got <= first + step + GRID_S, seed
    assert strict > 200


@pytest.mark.parametrize("seed", range(12))
def test_the_meant_receiver_is_where_the_race_says(seed: int):
    """What `pursue` predicts is what his executed run does."""
    bout, _ = scene(seed)
    P, M, B = bout.P, bout.M, bout.B
    M[1, 0, 2:6] = M[0, 0, 2:6]
    M[0, 0, 2:6] = 60.0, 60.0, 0.0, 0.0
    B[[col.MODE, col.HOLDER, col.PASSER, col.MEANT]] = col.ROLLING, -1.0, 0.0, 1.0
    B[[col.TX, col.TY]] = M[1, 0, 2:4]
    pursue(P, M, B, bout.C, bout.K, bout.N, bout.G, bout.count, 0.0, True, 1, bout.out)
    assert bout.out[0] == 1.0
    bx, by, _ = ball_point(B, bout.out[1])
    x, y, _, _ = where(P, M, 1, bout.out[1])
    assert math.hypot(x - bx, y - by) <= bout.C[RECEIVER_REACH] + MEET_SLACK_M


@pytest.mark.parametrize("name", GAMES)
def test_nobody_touches_a_ball_that_is_out_of_his_reach(name: str):
    """In whole bouts of all games: at every contact the ball is within reach of the toucher's executed position (a receiver's reach
    for the passer's side, an interceptor's for the others), to the millimetre that the race allows."""
    C = constants()
    gaps = {RECEIVER_REACH: [], INTERCEPT_REACH: []}
    for seed in range(8):
        watched(name, seed, lambda bout, i, gap: gaps[REACHES[with_ball(bout.P, bout.B, i)]].append(gap))
    for reach, found in gaps.items():
        assert len(found) > 5
        assert max(found) <= C[reach] + MEET_SLACK_M + 1e-9
    assert sum(len(found) for found in gaps.values()) > 120
