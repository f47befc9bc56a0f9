"""Intervals against worked examples of the literature, and against what they promise: coverage.

Each example's source stands beside it.  C-numbers are the project's list of check values.
"""

from __future__ import annotations

import numpy as np
import pytest

from sim.measures.intervals import (
    mean_interval,
    ratio_interval,
    run_quantile,
    run_quantile_interval,
    share_interval,
    t_quantile,
)

pytestmark = pytest.mark.theory


def test_bank_delays():
    """C-9.1: Law, Simulation Modeling and Analysis, ch. 9, ten bank delays, 90 % (data from memory; book 2.03 +/- 0.32)."""
    delays = [1.53, 1.66, 1.24, 2.34, 2.00, 1.69, 2.69, 2.86, 1.70, 2.60]
    mean, low, high = mean_interval(delays, 0.90)
    assert (mean, (high - low) / 2) == (pytest.approx(2.031, abs=1e-3), pytest.approx(0.322, abs=1e-3))


def test_ten_delays():
    """C-9.2: Law, ch. 4, 90 % (data from memory; book 1.34 +/- 0.24)."""
    mean, low, high = mean_interval([1.20, 1.50, 1.68, 1.89, 0.95, 1.49, 1.58, 1.55, 0.50, 1.09], 0.90)
    assert (mean, (high - low) / 2) == (pytest.approx(1.343, abs=1e-3), pytest.approx(0.237, abs=1e-3))


def test_inventory_policies_paired():
    """C-9.3: Law, ch. 10, two inventory policies, paired 90 % (data from memory; book [1.65, 8.31])."""
    first, second = [126.97, 124.31, 126.68, 122.66, 127.23], [118.21, 120.22, 122.45, 122.68, 119.40]
    assert mean_interval(np.subtract(first, second), 0.90) == pytest.approx((4.978, 1.649, 8.307), abs=2e-3)


def test_six_workloads_paired():
    """C-9.5: Jain, The Art of Computer Systems Performance Analysis, ex. 13.5, 90 % (published)."""
    first, second = [5.4, 16.6, 0.6, 1.4, 0.6, 7.3], [19.1, 3.5, 3.4, 2.5, 3.6, 1.7]
    assert mean_interval(np.subtract(first, second), 0.90) == pytest.approx((-0.3167, -7.7488, 7.1155), abs=1e-3)


def test_parking_two_cars():
    """C-9.6: Montgomery & Runger, Applied Statistics: n 14, mean difference 1.21, s 12.68, 90 % [-4.79, 7.21].

    The book gives mean and SD; values with exactly these are made here.
    """
    raw = np.random.default_rng(0).normal(size=14)
    values = (raw - raw.mean()) / raw.std(ddof=1) * 12.68 + 1.21
    assert mean_interval(values, 0.90)[1:] == pytest.approx((-4.79, 7.21), abs=0.01)


def test_office_deliveries():
    """C-9.7: ten paired differences, 95 %: 2.7 +/- 2.080 (published worked example)."""
    assert mean_interval([7, 6, 4, 1, 2, 3, -1, 2, -2, 5]) == pytest.approx((2.7, 0.62, 4.78), abs=0.01)


@pytest.mark.parametrize(
    ("probability", "freedom", "expected"),
    [
        (0.975, 4, 2.7764),
        (0.975, 9, 2.2622),
        (0.975, 19, 2.0930),
        (0.975, 29, 2.0452),
        (0.95, 4, 2.1318),
        (0.95, 9, 1.8331),
    ],
)
def test_students_t(probability, freedom, expected):
    """C-9.8: any table of Student's t."""
    assert t_quantile(probability, freedom) == pytest.approx(expected, abs=1e-4)


def test_wilson():
    """C-9.10: 85 of 100, 95 %: [0.7672, 0.9069] (Wilson 1927; usual worked example)."""
    assert share_interval(85, 100) == pytest.approx((0.85, 0.7672, 0.9069), abs=1e-3)
    assert share_interval(0, 20)[1] == 0.0 and share_interval(20, 20)[2] == 1.0
    assert 0.1 < share_interval(0, 20)[2] < 0.2


def test_a_ratio_with_equal_bottoms_is_a_mean():
    values = np.array([1.2, 1.5, 1.7, 0.9, 1.1])
    assert ratio_interval(values * 4, np.full(5, 4.0)) == pytest.approx(mean_interval(values), rel=1e-12)


def test_a_ratio_of_sums_is_not_the_mean_of_ratios():
    top, bottom = np.array([1.0, 9.0]), np.array([1.0, 3.0])
    assert ratio_interval(top, bottom)[0] == pytest.approx(2.5)


def test_the_ratio_interval_covers_as_often_as_it_says():
    """2,000 experiments of 20 sessions, 95 %: counts at 3 a minute over minutes that vary and go with the count.

    The players of a session share a level, so counts are over-dispersed.  With the true ratio 3, coverage must be
    0.95 within 0.015 (three standard errors of 2,000 trials): the t ratio interval loses about 0.005 at n = 20.
    """
    rng = np.random.default_rng(7)
    covered = 0
    for _ in range(2000):
        minutes = rng.uniform(6, 12, 20)
        level = rng.gamma(20, 3 / 20, 20)
        _, low, high = ratio_interval(rng.poisson(level * minutes).astype(float), minutes)
        covered += low <= 3.0 <= high
    assert covered / 2000 == pytest.approx(0.945, abs=0.015)


def test_the_quantile_of_runs_by_hand():
    """Of runs of 0, 1, 1 and 2 passes three in four have 1 or fewer, and four in five are only held by 2."""
    assert [run_quantile(np.array([1, 2, 1]), share) for share in (0.25, 0.5, 0.75, 0.8)] == [0.0, 1.0, 1.0, 2.0]
    assert run_quantile(np.zeros(3), 0.8) is None


def test_the_quantile_of_geometric_runs():
    """Constants 9.4: P(K <= k) = 1 - p^(k+1); with p = 0.85 the 80 % point is 9, median 4 (C-9.19)."""
    counts = geometric_runs(np.random.default_rng(3), 200)
    assert run_quantile(counts.sum(axis=0), 0.5) == 4.0
    middle, low, high = run_quantile_interval(counts, 0.8)
    assert middle == 9.0
    assert low <= 9.0 <= high and high - low <= 2


def geometric_runs(rng, sessions):
    """Twenty runs a session at p = 0.85, by number of passes."""
    counts = np.zeros((sessions, 200))
    for session in range(sessions):
        np.add.at(counts[session], rng.geometric(0.15, 20) - 1, 1)
    return counts


def test_the_error_of_a_quantile_is_that_of_the_share_at_it():
    """Every session: 8 runs of 0 or 1 passes in changing proportion, 2 of 5.  The share up to 1 never varies."""
    counts = np.array([[n, 8 - n, 0, 0, 0, 2] for n in (1, 6, 3, 5)], dtype=float)
    assert run_quantile_interval(counts, 0.8) == (1.0, 1.0, 1.0)


def test_the_quantile_interval_covers():
    """500 experiments of 25 sessions of 20 runs, p = 0.85: the true 80 % point, 9, is covered at least 93 % of times.

    At least, because passes are whole numbers: an interval between whole numbers covers more than it says.
    """
    rng = np.random.default_rng(11)
    covered = 0
    for _ in range(500):
        _, low, high = run_quantile_interval(geometric_runs(rng, 25), 0.8)
        covered += low <= 9.0 <= high
    assert covered / 500 >= 0.93


def held(truth: float, interval, draw) -> int:
    """Of 600 repeated 95 % intervals, how many hold the truth; 555 to 585 is 570 with three standard errors."""
    hits = 0
    for _ in range(600):
        _, low, high = interval(*draw())
        hits += low <= truth <= high
    return hits


def test_600_intervals_of_a_plain_mean_hold_the_truth():
    """Passes before a loss, p = 0.8, in the mean of 40: mean p/q = 4 (closed form, constants 9.4)."""
    rng = np.random.default_rng(600)
    assert 555 <= held(4.0, mean_interval, lambda: (rng.geometric(0.2, (30, 40)).mean(axis=1) - 1,)) <= 585


def test_600_intervals_of_a_ratio_hold_the_truth():
    """Completed passes / losses of 30 sessions of 150 passes, p = 0.85: p/q = 17/3 (closed form)."""
    rng = np.random.default_rng(601)

    def sessions():
        lost = rng.binomial(150, 0.15, 30).astype(float)
        return 150 - lost, lost

    # The ratio of sums is biased upwards by (1/q) / losses, a thirtieth of the half-width here.
    assert 555 <= held(17 / 3, ratio_interval, sessions) <= 585


def test_600_intervals_of_a_skewed_measure_hold_the_truth():
    """One possession a session, 60 sessions, p = 0.85: passes before the loss, mean p/q = 17/3, skewness 2 (closed form)."""
    rng = np.random.default_rng(602)
    assert 555 <= held(17 / 3, mean_interval, lambda: (rng.geometric(0.15, 60) - 1.0,)) <= 585
