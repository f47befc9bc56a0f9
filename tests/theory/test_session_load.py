"""Sums of session load against published worked examples: checks C-8.1 to C-8.9 (C-8.10 stands with the running figures)."""

from __future__ import annotations

import statistics

import pytest

from sim import session_load
from sim.session_load import banister, decay_of, edwards, effort_load, fading_mean, week_of

pytestmark = pytest.mark.theory

WEEK = (420, 560, 0, 630, 300, 540, 0)


def test_half_an_hour_at_130():
    """C-8.1: published example, about 32."""
    assert banister(30, 130, 40, 200) == pytest.approx(31.80, abs=0.01)
    assert round(banister(30, 130, 40, 200)) == 32


def test_the_most_a_minute_can_weigh():
    """C-8.2: published 4.37 for men; women with 0.86 (from memory) 4.568."""
    assert banister(1, 200, 40, 200) == pytest.approx(4.365, abs=1e-3)
    assert banister(1, 200, 40, 200, woman=True) == pytest.approx(4.568, abs=1e-3)


def test_weighted_zones():
    """C-8.3: weights 1 to 5 (Edwards)."""
    assert edwards((10, 15, 20, 10, 5)) == 165
    with pytest.raises(ValueError, match=r"5 zones \(got 4\)"):
        edwards((1, 2, 3, 4))


def test_a_week():
    """C-8.4: Foster 1998, MSSE 30:1164; SD of a sample.  With that of the population the monotony would be 1.444."""
    week = week_of(WEEK)
    assert (week.load, week.mean) == (2450, 350)
    assert week.sd == pytest.approx(261.73, abs=0.01)
    assert week.monotony == pytest.approx(1.337, abs=1e-3)
    assert week.strain == pytest.approx(3276.3, abs=0.1)
    assert week.mean / statistics.pstdev(WEEK) == pytest.approx(1.444, abs=1e-3)


def test_effort_times_minutes():
    """C-8.5: published example, effort 7 for 75 minutes."""
    assert effort_load(7, 75) == 525


def test_weights_of_fading_means():
    """C-8.6, C-8.7: Williams et al. 2017, BJSM 51:209."""
    assert (decay_of(7), decay_of(28)) == (pytest.approx(0.25, abs=1e-6), pytest.approx(0.068966, abs=1e-6))
    assert fading_mean([200, 300], 7, start=100) == pytest.approx(168.75, abs=1e-9)


def test_recent_over_usual_is_a_rescaling_that_hangs_on_how_it_is_reckoned():
    """C-8.8: 21 days of 300, then 7 of 500; published 1.43 (rolling) and 1.25 (fading).  Reckoned here, offered nowhere."""
    days = [300.0] * 21 + [500.0] * 7
    recent = statistics.fmean(days[-7:])
    assert recent / statistics.fmean(days) == pytest.approx(1.4286, abs=1e-4)
    assert recent / statistics.fmean(days[:21]) == pytest.approx(1.6667, abs=1e-4)
    ratio = fading_mean(days, 7, start=300) / fading_mean(days, 28, start=300)
    assert ratio == pytest.approx(1.2497, abs=1e-4)
    assert not [name for name in dir(session_load) if "ratio" in name or "risk" in name or "acute" in name]


def test_equal_days_have_no_monotony():
    """C-8.9: SD 0, so not defined, not infinite."""
    week = week_of([0.1] * 7)
    assert (week.monotony, week.strain) == (None, None)
