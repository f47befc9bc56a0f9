"""A ball is looked at often enough, however hard it is struck: nobody's body or foot is jumped over."""

from __future__ import annotations

import math
import random

import pytest

from tests.support.scene import Scene, scene


def rolling(v0: float) -> Scene:
    return scene(population="elite men").rolling(at=(0.0, 0.0), angle=0.0, speed=v0)


@pytest.mark.parametrize("v0", [8.0, 14.0, 20.0, 26.0])
def test_a_body_on_the_line_is_hit(v0: float):
    one = rolling(v0)
    radius = one.constants["block_radius"]
    lot = random.Random(3)
    for _ in range(300):
        x, y = lot.uniform(0.5, 4.0), lot.uniform(-0.98, 0.98) * radius
        t = one.stand((x, y)).body_in_the_way(0, 0.0, 1.0, radius)
        bx, by, _ = one.ball_at(t)
        assert math.hypot(bx - x, by - y) <= radius + 0.01
        assert one.stand((x, math.copysign(1.02 * radius, y))).body_in_the_way(0, 0.0, 1.0, radius) > 1e6


@pytest.mark.parametrize("v0", [14.0, 20.0, 26.0])
def test_a_foot_beside_the_line_is_not_jumped_over(v0: float):
    one = rolling(v0)
    reach = one.constants["intercept_reach"]
    lot = random.Random(4)
    missed = 0
    for _ in range(200):
        missed += one.stand((lot.uniform(4.0, 12.0), 0.6 * reach)).first_reach(0, 0.0, 2.0, reach) > 1e6
    assert missed == 0
