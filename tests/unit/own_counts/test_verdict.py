"""Usual, unusual, or cannot tell; and how many minutes more would tell."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from sim.own_counts.predictive import Predictive
from sim.own_counts.tally import Counted
from sim.own_counts.verdict import (
    ENOUGH,
    MOST_MINUTES_MORE,
    TIGHT,
    UNUSUAL,
    Verdict,
    judge,
    sessions_that_tell,
    spread_of,
)
from tests.unit.own_counts.byhand import chance, forecast

FOUND = forecast(chance(5.5, 200, seed=4))


def judged(count: int, minutes: float = 8, found=FOUND):
    return judge(found, Counted("losses", count, minutes, "watch"))


@pytest.mark.parametrize(
    ("count", "minutes", "verdict"),
    [
        (22, 8, Verdict.USUAL),
        (8, 8, Verdict.UNUSUAL),
        (40, 8, Verdict.UNUSUAL),
        (5, 2, Verdict.LITTLE),
        (14, 8, Verdict.EDGE),
        (30, 8, Verdict.EDGE),
    ],
)
def test_the_answer(count: int, minutes: float, verdict: Verdict):
    one = judged(count, minutes)
    assert one.verdict is verdict
    assert one.is_inside == (verdict in (Verdict.USUAL, Verdict.LITTLE))
    assert (one.more_minutes is not None) == (verdict in (Verdict.LITTLE, Verdict.EDGE))


def test_what_is_unusual_is_so_on_fewer_than_one_night_in_twenty():
    told = [judged(count) for count in range(80)]
    nights = chance(5.5, 4000, seed=5).sum(axis=1)
    unusual = {one.what.count for one in told if one.verdict is Verdict.UNUSUAL}
    assert 0 < np.isin(nights, list(unusual)).mean() < 0.05


def test_few_sessions_can_not_call_anything_unusual():
    assert judged(4, found=forecast(chance(5.5, 20))).verdict is Verdict.FEW


def test_where_the_range_is_tight_a_forecast_that_is_out_by_half_shows():
    """Two times in three, with counts that are pure chance: at the smallest mean whose range is tight, and above it."""

    def range_of(mean: float) -> Predictive:
        return Predictive(stats.poisson.pmf(np.arange(200), mean), 10**6)

    tight = [
        mean
        for mean in range(5, 80)
        if range_of(mean).high <= (1 + TIGHT) * mean and range_of(mean).low >= (1 - TIGHT) * mean
    ]
    assert 10 < tight[0] < 25
    for mean in tight:
        there = range_of(mean)
        assert stats.poisson.cdf(there.low - 1, mean / 2) > 2 / 3
        assert stats.poisson.sf(there.high, 1.5 * mean) > 2 / 3


def test_going_on_for_so_long_at_the_same_pace_does_tell():
    little = judged(5, 2)
    minutes = 2 + little.more_minutes
    assert not judged(round(2.5 * minutes), minutes).verdict.cannot_tell
    assert judged(round(2.5 * (minutes - 1)), minutes - 1).verdict.cannot_tell


@pytest.mark.parametrize(("count", "rate", "spread"), [(14, 5.5, 0.0), (31, 5.5, 0.1), (4, 1.0, 0.1)])
def test_the_minutes_that_are_promised_mostly_do(count: int, rate: float, spread: float):
    """Twenty forecasts of one world: as many minutes as each promises, on at the same pace, against a forecast so long."""
    asked = told = 0
    for seed in range(20):
        one = judged(count, found=forecast(chance(rate, 200, seed=seed, spread=spread)))
        if one.verdict.cannot_tell and one.more_minutes is not None:
            total = 8 + one.more_minutes
            longer = forecast(chance(rate, 200, bouts=int(-(-total // 2)), seed=100 + seed, spread=spread))
            asked, told = asked + 1, told + (not judged(round(count * total / 8), total, longer).verdict.cannot_tell)
    assert asked >= 15 and told > 2 / 3 * asked, (asked, told)


@pytest.mark.parametrize("tail", [0.0, 0.005, 0.0125])
def test_so_many_sessions_do_tell(tail: float):
    sessions = sessions_that_tell(tail)
    assert ENOUGH <= sessions <= 5 * ENOUGH
    seen = stats.binomtest(int(np.ceil(tail * sessions)), sessions)
    assert seen.proportion_ci(0.8, method="wilson").high <= UNUSUAL


def test_luck_and_players_are_told_apart():
    pure = spread_of(forecast(chance(5.0, 4000, seed=6)), Counted("losses", 1, 1, "watch"))
    assert pure.rate == pytest.approx(5 / 120, rel=0.02) and pure.luck == pytest.approx(pure.rate, rel=0.05)
    assert (
        pure.players < 3 * np.sqrt(2 / 4000) * pure.rate / 480
    )  # its standard error where players do not differ: 480 s
    mixed = spread_of(forecast(chance(5.0, 4000, spread=0.3, seed=7)), Counted("losses", 1, 1, "watch"))
    assert np.sqrt(mixed.players) / mixed.rate == pytest.approx(0.3, abs=0.02)


def test_where_players_differ_that_much_no_number_of_minutes_tells():
    found = forecast(chance(5.0, 400, spread=0.6, seed=8))
    one = judged(20, found=found)
    assert one.verdict is Verdict.LITTLE and one.more_minutes is None
    edge = judged(14)
    assert 0 < edge.more_minutes < MOST_MINUTES_MORE


def test_a_count_that_never_happens_is_no_division_by_nought():
    none = forecast(np.zeros((200, 4)))
    assert judged(0, found=none).verdict is Verdict.USUAL
    assert judged(3, found=none).verdict is Verdict.UNUSUAL
