"""Choosing among several: constants of the published methods, and the promises they make on known answers.

C-numbers are the project's list of check values; each source stands beside its example.
"""

from __future__ import annotations

import numpy as np
import pytest

from sim.experiments.ranking_and_selection import KimNelson, kn_constants, kn_select, kn_width, ocba_shares
from sim.experiments.tune import tune
from sim.pitch.chance import constant_success
from sim.pitch.engine import play_bout
from tests.theory.games import HOLD_S, STEADY, faultless, keep_ball

pytestmark = pytest.mark.theory


def test_kn_constants():
    """C-9.13, C-9.14: Kim & Nelson 2001, ACM TOMACS 11:251; computed from the formulas of the paper."""
    eta, h_squared = kn_constants(5, 10, 0.05)
    assert (eta, h_squared) == (pytest.approx(0.63497, abs=1e-4), pytest.approx(11.4294, abs=1e-3))
    assert kn_constants(2, 10, 0.05) == pytest.approx((0.33405, 6.0129), abs=1e-4)
    assert kn_width(10, 4.0, 1.0, h_squared) == pytest.approx(1.7859, abs=1e-3)
    assert kn_width(45, 4.0, 1.0, h_squared) > 0.0
    assert kn_width(46, 4.0, 1.0, h_squared) == 0.0


def test_ocba_shares():
    """C-9.15, C-9.16: Chen et al. 2000, Discrete Event Dynamic Systems 10:251; computed from the ratios of the paper."""
    assert ocba_shares([0.0, 0.5, 1.0], [1.0, 1.0, 1.0], 100) == pytest.approx([45.19, 43.84, 10.96], abs=0.01)
    shares = ocba_shares([0.0, 1.0, 2.0, 3.0], [1.0, 1.0, 1.5, 2.0], 1000)
    assert shares == pytest.approx([352.1, 322.8, 181.6, 143.5], abs=0.1)


def test_kn_keeps_its_promise():
    """The best of five, exactly the zone above the others: chosen in 95 % at least of 400 trials (3 errors: 92 %)."""
    rng, right, used = np.random.default_rng(8), 0, 0
    for _ in range(400):
        shared = rng.normal(0, 1, 400)
        data = rng.normal(0, 1, (5, 400)) + shared + np.array([0.5, 0, 0, 0, 0])[:, None]
        runs = [0] * 5

        def observe(which, count, runs=runs):
            for i in which:
                runs[i] = max(runs[i], count)

        left = kn_select(observe, lambda i, data=data: data[i], 5, KimNelson(10, 0.5, 0.05, 400, step=3))
        right += left == [0]
        used += sum(runs)
    assert right / 400 >= 0.92
    assert used / 400 < 5 * 300, "far fewer than all"


def test_kn_stops_with_several_when_it_may_play_no_more():
    data = np.random.default_rng(1).normal(0, 1, (2, 20))
    assert kn_select(lambda which, count: None, lambda i: data[i], 2, KimNelson(10, 0.01, 0.05, 20)) == [0, 1]


SECONDS = 0.6


def chance_of(side: float) -> float:
    """Turnovers per minute of play are 60 (1 - p) / (hold + flight): 30 / side of them, so 3 at a side of 10."""
    return 1 - 30 / side * (HOLD_S + SECONDS) / 60


def constant_game(game, seed, replicate):
    """The engine's test mode: a pass comes off with a chance that hangs on the side and on nothing else."""
    outcome = constant_success(chance_of(game.areas[0].length), SECONDS)
    for number in range(game.bouts.count):
        yield play_bout(game, faultless(game), seed, replicate, number, outcome, STEADY)


@pytest.mark.parametrize(("target", "side"), [(3.0, 10), (2.5, 12), (3.75, 8)])
def test_a_tune_recovers_the_optimum_of_a_closed_form(target, side):
    """Constant success (Ross, Introduction to Probability Models): the whole side whose rate is the target is known."""
    games = {
        (n,): keep_ball(seconds=120.0, count=2, areas={"square": {"length": n, "width": n}}) for n in range(6, 16, 2)
    }
    found = tune(
        games[(12,)], games, ["side"], ("turnovers_per_min", "game", target), bouts=10, budget=240, fresh=60, workers=2,
        session=constant_game,
    )  # fmt: skip
    assert found.answer == (side,) and found.reached
    rate = 60 * (1 - chance_of(side)) / (HOLD_S + SECONDS)
    assert rate == pytest.approx(target)
    half = (found.fresh.high - found.fresh.low) / 2
    assert abs(found.fresh.mean - rate) <= 1.5 * half  # three standard errors
    bouts = {one.values[0]: one.bouts for one in found.curve}
    far = max(games, key=lambda one: abs(30 / one[0] - target))[0]
    assert bouts[far] < max(bouts.values()), "fewer where it is far from the target"
