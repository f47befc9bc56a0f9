"""Intervals of counts, against SciPy's own statistics."""

from __future__ import annotations

import math

import pytest
from scipy import stats

from sim.measures.intervals import share_interval
from sim.own_counts.rates import binomial_interval, count_interval, ratio_interval


@pytest.mark.parametrize("count", [0, 1, 2, 7, 14, 60, 400])
@pytest.mark.parametrize("level", [0.8, 0.95])
def test_a_count_has_the_interval_of_garwood(count: int, level: float):
    """Ends at which such a count, or a more extreme one, has half of what is left: Garwood 1936, by SciPy's Poisson and chi2."""
    low, high = count_interval(count, level)
    out = (1 - level) / 2
    assert stats.poisson.cdf(count, high) == pytest.approx(out)
    assert high == pytest.approx(stats.chi2.isf(out, 2 * count + 2) / 2)
    if count:
        assert stats.poisson.sf(count - 1, low) == pytest.approx(out)
        assert low == pytest.approx(stats.chi2.ppf(out, 2 * count) / 2)
    else:
        assert low == 0.0


@pytest.mark.parametrize(("hits", "trials"), [(0, 5), (5, 5), (3, 10), (17, 22), (1, 40)])
def test_shares_have_the_intervals_of_scipy(hits: int, trials: int):
    """Clopper-Pearson and Wilson by `scipy.stats.binomtest(...).proportion_ci`."""
    exact = stats.binomtest(hits, trials).proportion_ci(0.95, method="exact")
    assert binomial_interval(hits, trials) == pytest.approx((exact.low, exact.high))
    wilson = stats.binomtest(hits, trials).proportion_ci(0.95, method="wilson")
    assert share_interval(hits, trials)[1:] == pytest.approx((wilson.low, wilson.high), abs=1e-12)


@pytest.mark.parametrize(("first", "second"), [((20, 8), (9, 8)), ((14, 8), (22, 6)), ((5, 4), (5, 8))])
def test_two_rates_are_told_apart_as_the_conditional_test_does(first, second):
    """One lies outside the interval of their ratio just where `binomtest`, given the sum, is below 5 % (twice the smaller tail)."""
    low, high = ratio_interval(first, second)
    share = second[1] / (first[1] + second[1])
    hits, trials = second[0], first[0] + second[0]
    tails = [stats.binomtest(hits, trials, share, alternative=way).pvalue for way in ("less", "greater")]
    assert (not low <= 1 <= high) == (2 * min(tails) < 0.05)


def test_what_varies_more_than_chance_is_told_apart_less():
    plain, wide = ratio_interval((30, 8), (14, 8)), ratio_interval((30, 8), (14, 8), dispersion=2.0)
    assert wide[0] < plain[0] < plain[1] < wide[1]


def test_nothing_counted_tells_nothing():
    assert ratio_interval((0, 8), (0, 8)) == (0.0, math.inf)
    assert ratio_interval((0, 8), (6, 8))[1] == math.inf
