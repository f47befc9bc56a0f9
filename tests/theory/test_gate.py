"""What passing success means: the share of unpressed passes that go through a gate 1.5 m wide, 10 m off.

A coach can test it with two cones; the gate is a definition of ours, no source.  The bearing is normal: how wide it is follows
from the normal distribution's own table (Phi(1.96) = 0.975, any statistics textbook).
"""

from __future__ import annotations

import math

import pytest

from sim.pitch.skill import bearing_error
from sim.populations import POPULATIONS
from tests.support.scene import scene

KICKS = 4000


@pytest.mark.parametrize("population", ["elite men", "amateur men", "U12"])
def test_so_many_passes_go_through_the_gate(population: str):
    one = scene(population=population, pace_spread=0.0).carrier(at=(0.0, 0.0)).mate(at=(10.0, 0.0))
    asked = POPULATIONS[population].traits["pass_success"].mean
    through = 0
    for _ in range(KICKS):
        one.kick(0, 0.0, to=(10.0, 0.0))
        through += abs(10.0 * one.ball["dy"] / one.ball["dx"]) < 0.75
    assert through / KICKS == pytest.approx(asked, abs=4.0 * math.sqrt(asked * (1.0 - asked) / KICKS))


def test_its_width_is_that_of_the_normal_distribution():
    assert bearing_error(0.95) == pytest.approx(math.atan(0.075) / 1.959964, rel=1e-6)
    assert bearing_error(0.6826895) == pytest.approx(math.atan(0.075), rel=1e-6)
