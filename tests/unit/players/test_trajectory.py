"""The law of motion against quadrature and finite differences of itself."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad

from sim.compiled import records
from sim.trajectory import (
    RUN,
    SEGMENT,
    Course,
    along_after,
    course_of,
    distance_gain,
    fade_and_gain,
    faded,
    growth,
    seconds_until,
    sprint,
    state_after,
    states_after,
    velocity_gain,
)

RATES = [0.0, 1e-9, 1e-4, 0.019, 0.021, 1.0, 3.0]


@pytest.mark.parametrize("rate", RATES)
def test_the_gains_are_the_integrals_of_a_push_that_fades(rate):
    once = quad(lambda s: math.exp(-rate * s), 0, 1.3, epsabs=1e-14)[0]
    twice = quad(lambda s: velocity_gain(rate, s), 0, 1.3, epsabs=1e-14)[0]
    assert velocity_gain(rate, 1.3) == pytest.approx(once, rel=1e-12)
    assert distance_gain(rate, 1.3) == pytest.approx(twice, rel=1e-12)


def test_without_fading_they_are_those_of_school():
    assert velocity_gain(0.0, 3.0) == 3.0 and distance_gain(0.0, 3.0) == 4.5


@pytest.mark.parametrize("rate", RATES)
def test_one_segment_and_many_are_read_alike(rate):
    row = np.array((0.0, 2.0, 1.0, -2.0, 3.0, 0.5, -1.5, 0.25, rate), SEGMENT)[()]
    seconds = np.array([0.0, 0.05, 0.7, 2.0])
    many = np.column_stack(states_after(row, seconds))
    for s, found in zip(seconds.tolist(), many, strict=True):
        x, y, vx, vy = state_after(row, s)
        exact = -2.0 + 0.5 * s + 0.25 * distance_gain(rate, s)
        near = 1e-12 if rate in (0.0, 1.0, 3.0) else 1e-6
        assert found == pytest.approx([x, y, vx, vy], abs=near)
        assert vx == pytest.approx(3.0 - 1.5 * velocity_gain(rate, s), rel=1e-10)
        assert y == pytest.approx(exact, abs=near)


@pytest.mark.parametrize("rate", RATES)
@pytest.mark.parametrize("s", [1e-12, 1e-5, 0.3, 2.0])
def test_all_ways_of_reckoning_the_law_agree(rate, s):
    """Those of the engine are quicker, each as exact as it says."""
    assert growth(rate, s)[0] == pytest.approx(velocity_gain(rate, s), rel=1e-10)
    fade, gain = fade_and_gain(rate, s)
    assert fade == faded(rate, s) == pytest.approx(1.0 - rate * velocity_gain(rate, s), rel=1e-14)
    assert gain == pytest.approx(velocity_gain(rate, s), rel=1e-6)
    if rate >= 1.0:
        metres, speed = sprint(5.0, 8.0, rate, s)
        assert speed == pytest.approx(3.0 + 5.0 * rate * velocity_gain(rate, s), rel=1e-14)
        assert metres == pytest.approx(3.0 * s + 5.0 * rate * distance_gain(rate, s), abs=1e-14)


@pytest.mark.parametrize("rate", [0.0, 0.8])
def test_a_course_is_the_segment_seen_along_its_push(rate):
    rows = records(np.array([(0, 0.0, 2.0, 5.0, 5.0, 3.0, -1.0, 0.6, 0.8, rate, 0)], RUN))
    course = course_of(rows[0])
    assert course == pytest.approx((3.0 * 0.8 + 1.0 * 0.6, 3.0 * 0.6 - 1.0 * 0.8, 1.0, rate))
    *_, vx, vy = state_after(rows[0], 1.2)
    assert math.hypot(course.across, along_after(course, 1.2)) == pytest.approx(math.hypot(vx, vy))
    assert seconds_until(course, along_after(course, 1.2)) == pytest.approx(1.2)


def test_what_fades_too_soon_never_comes_to_a_speed():
    assert seconds_until(Course(0.0, 1.0, 2.0, 1.0), 3.0) == math.inf
    assert seconds_until(Course(0.0, 1.0, 2.0, 0.0), 3.0) == 1.0
