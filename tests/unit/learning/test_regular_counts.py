"""Counts that come more evenly than by chance, against what is known of them and against events played out."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import poisson

from sim.learning import regular_counts
from sim.learning.likelihood import log_chance, middle

COUNTS = np.arange(120)


def every_chance(mean: float, variance: float) -> np.ndarray:
    m, v = np.array([mean]), np.array([variance])
    return np.array([np.exp(log_chance(float(count), m, v))[0] for count in COUNTS])


@pytest.mark.parametrize(("mean", "variance"), [(20.0, 12.0), (20.0, 4.0), (5.0, 3.0), (1.4, 1.1)])
def test_they_have_the_mean_and_the_variance_asked_for(mean: float, variance: float):
    """The variance is that of a long stretch: a sixth of a count more or less in a short one."""
    chances = every_chance(mean, variance)
    assert chances.sum() == pytest.approx(1.0, abs=1e-9)
    assert chances @ COUNTS == pytest.approx(mean, rel=0.002)
    assert chances @ (COUNTS - mean) ** 2 == pytest.approx(variance, abs=1 / 6 + 0.01)


def test_they_are_those_of_events_with_gamma_times_between():
    """20,000 stretches, each chance within three and a half standard errors."""
    dice, mean, variance = np.random.default_rng(4), 6.0, 3.0
    shape, reach = regular_counts.law(np.array([mean]), np.array([variance]))
    played = (np.cumsum(dice.gamma(shape[0], size=(20_000, 40)), axis=1) < reach[0]).sum(axis=1)
    seen = np.bincount(played, minlength=len(COUNTS)) / len(played)
    found = every_chance(mean, variance)
    assert (np.abs(seen - found) <= 3.5 * np.sqrt(found / len(played)) + 1e-4).all()


def test_they_become_pure_chance_and_never_none_far_out():
    found = every_chance(5.0, 4.999)
    assert found == pytest.approx(poisson.pmf(COUNTS, 5.0), abs=1e-4)
    far = np.array(
        [
            log_chance(900.0, np.array([20.0]), np.array([12.0]))[0],
            log_chance(0.0, np.array([90.0]), np.array([9.0]))[0],
        ]
    )
    assert np.isfinite(far).all() and (far < -100).all()
    scores = [middle(float(count), np.array([20.0]), np.array([8.0]))[0] for count in range(10, 31)]
    assert (np.diff(scores) > 0).all() and scores[10] == pytest.approx(0.0, abs=0.05)


@pytest.mark.parametrize("share", [1.0, 0.5, 0.25])
def test_of_their_rate_they_tell_as_much_as_so_regular_counts_do(share: float):
    """Six counts of 20 whose variance is a share of their mean: a normal posterior of variance share x 20 / 6, in the limit."""
    rates = np.linspace(10.0, 34.0, 3000)
    told = 6 * log_chance(20.0, rates, share * rates)
    weights = np.exp(told - told.max())
    mean = np.average(rates, weights=weights)
    spread = np.average((rates - mean) ** 2, weights=weights) ** 0.5
    assert mean == pytest.approx(20.0, abs=0.3) and spread == pytest.approx((share * 20 / 6) ** 0.5, rel=0.04)
