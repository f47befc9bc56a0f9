"""What must be clear of tight keep-ball, pass by pass, each at 99 %: size, touches, level, one more on either side.

All signs: common practice, no source.  Losses are those of passes tried, in bouts of two minutes with fresh legs and newly drawn
players, so bouts are independent and the interval of the logarithm of a ratio of two cells is Student's t over bouts (delta
method, linearised residuals).  The number of bouts of each cell is what the expected effects want and 40 s of processor time allow:
many where one touch is held against two, few where the effect is large.  Seven intervals are looked at.  About 35 s of
processor time.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from sim.evidence.keepball.cells import game_of
from sim.evidence.keepball.panel import Square, passes_and_losses
from sim.evidence.keepball.play import sums_of
from sim.experiments.sessions import Batch, play_sessions
from sim.measures.intervals import ratio_error, t_quantile

pytestmark = [pytest.mark.evidence, pytest.mark.slow]
SEED, LEVEL = 19, 0.99
MANY, SOME, FEW = 160, 80, 40
AMATEUR = "amateur men"


@cache
def lost_a_pass(square: Square, bouts: int) -> tuple[float, float]:
    """(logarithm of losses a pass, its standard error)."""
    batch = Batch(game_of(square.cell), range(bouts), passes_and_losses)
    lost, tried = sums_of(play_sessions(batch, SEED), "losses", "passes").T
    rate = float(lost.sum() / tried.sum())
    return math.log(rate), ratio_error(lost, tried) / rate


def how_many_times(harder: tuple[Square, int], easier: tuple[Square, int]) -> tuple[float, float, float]:
    """(ratio, low, high) of losses a pass; each is (square, bouts)."""
    (one, one_error), (other, other_error) = lost_a_pass(*harder), lost_a_pass(*easier)
    half = t_quantile((1 + LEVEL) / 2, min(harder[1], easier[1]) - 1) * math.hypot(one_error, other_error)
    return tuple(np.exp([one - other, one - other - half, one - other + half]))


def square(side_m: int = 10, touches: str = "2", level: str = AMATEUR, outside: int = 4, inside: int = 2) -> Square:
    return Square(outside, inside, side_m, touches, level)


def test_a_small_square_is_harder_than_a_large_one():
    ratio, low, high = how_many_times((square(8), MANY), (square(14), SOME))
    assert low > 1.0, (ratio, low, high)


@pytest.mark.parametrize("side_m", [8, 10, 13])
def test_one_touch_is_harder_than_two(side_m: int):
    ratio, low, high = how_many_times((square(side_m, "1"), MANY), (square(side_m), MANY))
    assert low > 1.0, (ratio, low, high)


def test_children_lose_more_than_elite_players():
    ratio, low, high = how_many_times((square(level="U12"), FEW), (square(level="elite men"), SOME))
    assert low > 1.0, (ratio, low, high)


def test_one_more_outside_makes_it_easier():
    ratio, low, high = how_many_times((square(), MANY), (square(outside=5), SOME))
    assert low > 1.0, (ratio, low, high)


def test_one_more_inside_makes_it_harder():
    ratio, low, high = how_many_times((square(inside=3), FEW), (square(), MANY))
    assert low > 1.0, (ratio, low, high)
