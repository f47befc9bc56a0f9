"""The rolling ball against the football-turf ball-roll test and its own closed forms.

Sources: FIFA Quality Programme for Football Turf, ball roll (1 m ramp at 45 degrees, 4-8 m top grade, 4-10 m otherwise); the
conversion to a deceleration is arithmetic for a hollow ball rolling without slip.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.ball import (
    NEVER,
    deceleration_of_turf,
    is_football_turf,
    launch_speed,
    mean_pass_speed,
    ramp_exit_speed,
    roll_time,
    rolled,
)

pytestmark = pytest.mark.theory


def test_ramp_exit_speed():
    assert ramp_exit_speed(1.0) == pytest.approx(3.4310, abs=1e-3)  # C-3.1


def test_roll_distance_gives_the_deceleration():
    assert deceleration_of_turf(8.0) == pytest.approx(0.73575, abs=1e-4)  # C-3.2
    assert deceleration_of_turf(8.0) / 9.81 == pytest.approx(0.0750, abs=1e-4)


def test_and_the_deceleration_the_roll_distance():
    assert rolled(3.4310, 0.73575, 100.0)[0] == pytest.approx(8.0, abs=1e-3)  # C-3.3


@pytest.mark.parametrize(("distance", "expected"), [(10.0, 1.0397), (15.0, 1.5934)])
def test_travel_times(distance: float, expected: float):
    assert roll_time(10.0, 0.73575, distance) == pytest.approx(expected, abs=1e-3)  # C-3.4


def test_a_ball_that_never_arrives():
    assert roll_time(6.0, 1.4715, 15.0) == NEVER  # C-3.5
    assert rolled(6.0, 1.4715, 60.0) == (pytest.approx(12.23, abs=0.01), 0.0)


def test_without_deceleration_the_ball_keeps_its_speed():
    assert roll_time(10.0, 0.0, 25.0) == pytest.approx(2.5, abs=1e-9)  # C-3.6
    assert roll_time(10.0, 1e-12, 25.0) == pytest.approx(2.5, abs=1e-9)


@pytest.mark.parametrize(("roll", "football"), [(3.9, False), (4.0, True), (8.0, True), (10.0, True), (10.1, False)])
def test_turf_outside_the_standard_is_noticed(roll: float, football: bool):
    assert is_football_turf(roll) is football  # C-3.7


def test_a_roll_distance_must_be_positive():
    with pytest.raises(ValueError, match=r"roll_m must be greater than 0 \(got 0.0\)"):
        deceleration_of_turf(0.0)


@given(st.floats(2.0, 20.0), st.floats(0.3, 3.0), st.floats(0.01, 0.99))
def test_time_and_distance_are_inverse(v0: float, a: float, share: float):
    distance = share * v0 * v0 / (2.0 * a)
    assert rolled(v0, a, roll_time(v0, a, distance))[0] == pytest.approx(distance, rel=1e-9)


@pytest.mark.parametrize(("middle", "median"), [(7.5, 9.6), (12.5, 11.5), (17.5, 13.4), (25.0, 14.9)])
def test_the_launch_law_goes_through_the_medians_it_was_made_from(middle: float, median: float):
    # An input, not a prediction: median speed of ground passes in open play of three professional matches by length
    # (5-10, 10-15, 15-20, 20-30 m; computed from StatsBomb open data).
    assert mean_pass_speed(middle) == pytest.approx(median, abs=0.45)
    v0 = launch_speed(middle, 1.5, 1.0)
    assert middle / roll_time(v0, 1.5, middle) == pytest.approx(mean_pass_speed(middle), rel=1e-9)
