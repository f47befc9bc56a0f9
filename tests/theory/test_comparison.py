"""The statistics of paired arms against worked examples, closed forms, and what they promise.

C-numbers are the project's list of check values; each source stands beside its example.
"""

from __future__ import annotations

import numpy as np
import pytest

from sim.experiments.paired import (
    dispersion,
    holm,
    minutes_to_show,
    paired_difference,
    pseudo_values,
    welch_interval,
)
from sim.experiments.variance_components import (
    Parts,
    long_run_larger,
    one_session_larger,
    other_sessions_larger,
    parts_of_difference,
)
from sim.measures.intervals import mean_interval

pytestmark = pytest.mark.theory

# Law, Simulation Modeling and Analysis, ch. 10, two inventory policies (data from memory).
POLICIES = np.array([126.97, 124.31, 126.68, 122.66, 127.23]), np.array([118.21, 120.22, 122.45, 122.68, 119.40])


def as_means(first, second):
    return paired_difference((first, np.ones(len(first))), (second, np.ones(len(second))))


def test_inventory_policies_paired():
    """C-9.3: 90 %, 4.978 +/- 3.329, variance of the mean 2.438 (book [1.65, 8.31])."""
    found = as_means(POLICIES[1], POLICIES[0])
    assert found.difference == pytest.approx(4.978, abs=2e-3)
    assert found.interval(0.90) == pytest.approx((1.649, 8.307), abs=2e-3)
    assert found.error**2 == pytest.approx(2.438, abs=2e-3)


def test_inventory_policies_independent():
    """C-9.4: the same as independent samples, Welch 90 %: [2.66, 7.30] with 7.99 degrees of freedom (book figures)."""
    middle, low, high, freedom = welch_interval(*POLICIES, level=0.90)
    assert (middle, low, high) == pytest.approx((4.978, 2.66, 7.30), abs=0.01)
    assert freedom == pytest.approx(7.99, abs=0.01)
    assert [values.var(ddof=1) for values in POLICIES] == pytest.approx([4.00, 3.76], abs=0.01)


def test_variance_of_paired_arms():
    """C-9.11: variance 4 in both conditions, correlation 0.8: 1.6 instead of 8 (closed form); samples made to have exactly that."""
    raw = np.random.default_rng(0).normal(size=(2, 50))
    raw -= raw.mean(axis=1, keepdims=True)
    white = np.linalg.inv(np.linalg.cholesky(raw @ raw.T / 49)) @ raw
    first, second = np.linalg.cholesky(np.array([[4.0, 3.2], [3.2, 4.0]])) @ white
    found = as_means(first, second)
    assert (found.error**2 * 50, found.apart**2 * 50) == pytest.approx((1.6, 8.0), abs=1e-9)
    assert found.variance_ratio == pytest.approx(5.0, abs=1e-9)


def test_equal_bottoms_give_the_paired_t():
    """The jackknife of a ratio with equal sums below the line is the plain mean (closed form)."""
    found = paired_difference((POLICIES[1] * 3, np.full(5, 3.0)), (POLICIES[0] * 3, np.full(5, 3.0)))
    assert found.interval() == pytest.approx(mean_interval(np.subtract(*POLICIES))[1:], abs=1e-9)


def test_the_jackknife_of_a_small_ratio():
    """By hand: (1, 2, 6) / (1, 2, 2) is 9/5; left out one at a time 8/4, 7/3, 3/3."""
    values = pseudo_values(np.array([1.0, 2.0, 6.0]), np.array([1.0, 2.0, 2.0]))
    assert values == pytest.approx([5.4 - 4, 5.4 - 14 / 3, 5.4 - 2])


@pytest.mark.parametrize(("one", "other", "minutes"), [(2.5, 3.0, 173), (2, 3, 39), (3, 4, 55), (2, 4, 12)])
def test_poisson_minutes_to_count(one, other, minutes):
    """80 % power, two-sided 5 %, Poisson counts: computed by us (z = 1.95996 + 0.84162)."""
    assert round(minutes_to_show(one, other)) == minutes
    assert minutes_to_show(one, other, (2.0, 2.0)) == pytest.approx(2 * minutes_to_show(one, other))
    assert minutes_to_show(one, other) == minutes_to_show(other, one)


def test_minutes_have_the_power_they_promise():
    """Counts of 173 minutes at 2.5 and 3.0 a minute: the usual test finds the difference four times in five."""
    rng = np.random.default_rng(11)
    minutes = minutes_to_show(2.5, 3.0)
    a, b = rng.poisson(2.5 * minutes, 20000), rng.poisson(3.0 * minutes, 20000)
    found = np.abs(b - a) / np.sqrt(a + b) > 1.959964
    assert found.mean() == pytest.approx(0.80, abs=0.01)  # standard error 0.003


def test_dispersion_is_one_for_poisson_and_the_factor_for_clusters():
    rng = np.random.default_rng(3)
    exposure = rng.uniform(5, 8, 20000)
    count = rng.poisson(3 * exposure).astype(float)
    assert dispersion(count, exposure) == pytest.approx(1.0, abs=0.04)  # standard error 0.01
    assert dispersion(3 * rng.poisson(exposure).astype(float), exposure) == pytest.approx(3.0, abs=0.12)


def test_holm_by_hand():
    """Holm 1979: smallest times m, next times m-1 ..., never falling; worked by hand."""
    assert holm([0.01, 0.04, 0.03, 0.005]) == pytest.approx([0.03, 0.06, 0.06, 0.02])
    assert holm([0.9, 0.8]) == [1.0, 1.0]
    assert holm([]) == []


def test_holm_keeps_the_error_over_all_measures():
    """2,000 tables of nine true nulls: somebody is called clear in 5 % (standard error 0.5 %), without it in 37 %."""
    p_values = np.random.default_rng(7).uniform(size=(2000, 9))
    any_clear = np.mean([min(holm(list(row))) < 0.05 for row in p_values])
    assert any_clear == pytest.approx(0.05, abs=0.015)
    assert np.mean(p_values.min(axis=1) < 0.05) > 0.3


def test_intervals_of_a_ratio_difference_hold_the_truth():
    """600 comparisons of two rates per minute of play with shared luck: 555-585 of the 95 % intervals hold 0.5."""
    rng, held, wins = np.random.default_rng(20), 0, []
    for _ in range(600):
        play = rng.uniform(5, 8, 30)
        luck = rng.gamma(20, 1 / 20, 30)
        first, second = rng.poisson(2.5 * luck * play), rng.poisson((2.5 * luck + 0.5) * play)
        found = paired_difference((first.astype(float), play), (second.astype(float), play))
        low, high = found.interval()
        held += low <= 0.5 <= high
        wins.append(found.variance_ratio)
    assert 555 <= held <= 585
    assert np.median(wins) > 1.2


def test_the_long_run_chance_is_that_of_the_t_distribution():
    """The upper end of the 95 % interval at nought is a chance of 2.5 %, p = 5 % (by definition)."""
    found = as_means(POLICIES[0], POLICIES[1])
    shifted = as_means(POLICIES[0], POLICIES[1] - found.interval()[1])
    at_nought = long_run_larger(shifted.difference, shifted.error, 4, Parts(0.0, 1.0))
    assert at_nought == pytest.approx(0.025, abs=1e-9)
    assert shifted.p_value == pytest.approx(0.05, abs=1e-9)


def test_one_evening_of_other_players_is_the_share_of_pairs():
    """By hand: of the pairs of different sessions, (1,2,3,-) against (2,1,3,1): 5.5 of 9 are won, ties half."""
    first, second = np.array([1.0, 2.0, 3.0, np.nan]), np.array([2.0, 1.0, 3.0, 1.0])
    pairs = [(a, b) for i, a in enumerate(first) for j, b in enumerate(second) if i != j and not np.isnan(a)]
    by_hand = sum(1.0 if b > a else 0.5 if b == a else 0.0 for a, b in pairs) / len(pairs)
    assert other_sessions_larger(first, second) == pytest.approx(by_hand)
    assert other_sessions_larger(np.ones(1), np.ones(1)) is None


def made(sessions: int, bouts: tuple[int, int], ignorance: float, luck: float, shared: float, rng) -> tuple:
    """Sums of two games of known parts: the true difference is 0.5 + N(0, ignorance), each bout's luck N(0, luck)."""
    level, own = rng.normal(3, 0.4, (sessions, 1)), rng.normal(0.5, ignorance, (sessions, 1))
    common = rng.normal(0, luck * shared, (sessions, max(bouts)))
    rest = luck * (1 - shared**2) ** 0.5
    x = level + common[:, : bouts[0]] + rng.normal(0, rest, (sessions, bouts[0]))
    y = level + own + common[:, : bouts[1]] + rng.normal(0, rest, (sessions, bouts[1]))
    return (x, np.ones_like(x)), (y, np.ones_like(y))


@pytest.mark.parametrize("bouts", [(4, 4), (3, 5), (2, 2)])
@pytest.mark.parametrize(("ignorance", "shared"), [(0.3, 0.0), (0.3, 0.8), (0.0, 0.8)])
def test_players_and_luck_are_told_apart(bouts, ignorance, shared):
    """One-way analysis of variance on data of known parts; 40,000 sessions, so 4 standard errors are 3 % and 0.03 at most."""
    found = parts_of_difference(*made(40_000, bouts, ignorance, 0.8, shared, np.random.default_rng(4)))
    assert found.luck == pytest.approx(0.64 * (1 / bouts[0] + 1 / bouts[1]), rel=0.03)
    assert found.ignorance == pytest.approx(ignorance**2, abs=0.03)


def test_chances_are_those_of_the_parts():
    """Sampled by brute force: players anew for the long run, players and fresh luck for one evening."""
    rng = np.random.default_rng(5)
    first, second = made(4000, (4, 4), 0.6, 0.8, 0.8, rng)
    parts = parts_of_difference(first, second)
    long = long_run_larger(0.5, 0.0, 3999, parts)
    assert long == pytest.approx((rng.normal(0.5, 0.6, 400_000) > 0).mean(), abs=0.02)
    evening = (
        rng.normal(0.5, 0.6, 400_000)
        + rng.normal(0, 0.8, (4, 400_000)).mean(0)
        - rng.normal(0, 0.8, (4, 400_000)).mean(0)
    )
    assert one_session_larger(0.5, 0.0, parts) == pytest.approx((evening > 0).mean(), abs=0.02)
    assert long > one_session_larger(0.5, 0.0, parts) > 0.5


def test_more_bouts_do_not_make_us_sure_of_players_we_do_not_know():
    few, many = (parts_of_difference(*made(n, (4, 4), 0.6, 0.8, 0.8, np.random.default_rng(6))) for n in (40, 4000))
    chances = [long_run_larger(0.5, (0.5 / n) ** 0.5, n - 1, parts) for n, parts in ((40, few), (4000, many))]
    assert all(0.7 < chance < 0.9 for chance in chances)
    assert long_run_larger(0.5, 0.01, 3999, None) is None


def test_one_bout_a_session_tells_nothing_of_players():
    one = np.ones((5, 1)), np.ones((5, 1))
    assert parts_of_difference(one, one) is None


def test_a_ratio_that_does_not_exist_has_no_difference():
    one = np.ones(3)
    assert paired_difference((one, np.zeros(3)), (one, one)) is None
    assert paired_difference((one, np.array([0.0, 0.0, 1.0])), (one, one)) is None  # not without the third
    with pytest.raises(ValueError, match="same sessions"):
        paired_difference((one, one), (np.ones(2), np.ones(2)))


def test_arms_without_any_spread():
    found = as_means(np.full(4, 2.0), np.full(4, 3.0))
    assert (found.error, found.variance_ratio, found.p_value) == (0, None, 0.0)
    assert long_run_larger(1.0, 0.0, 3, Parts(0.0, 0.0)) == one_session_larger(1.0, 0.0, Parts(0.0, 0.0)) == 1.0
    assert long_run_larger(0.0, 0.0, 3, Parts(0.0, 0.0)) == 0.5
    assert found.interval() == (1.0, 1.0)
