"""A ball is looked at often enough, however hard it is struck: nobody's body or foot is jumped over."""

from __future__ import annotations

import math
import random

import pytest

from sim.pitch import columns as col
from sim.pitch.assumptions import BALL_DECELERATION, BLOCK_RADIUS, INTERCEPT_REACH
from sim.pitch.contest import ball_point, body_in_the_way, first_reach
from tests.support.scenes import field, place


def rolling(v0: float):
    bout = field("elite men")
    B = bout.B
    B[[col.MODE, col.BX, col.BY, col.KICKED, col.DX, col.DY]] = col.ROLLING, 0.0, 0.0, 0.0, 1.0, 0.0
    B[col.V0], B[col.DECEL] = v0, bout.C[BALL_DECELERATION]
    return bout


@pytest.mark.parametrize("v0", [8.0, 14.0, 20.0, 26.0])
def test_a_body_on_the_line_is_hit(v0: float):
    bout = rolling(v0)
    radius = bout.C[BLOCK_RADIUS]
    lot = random.Random(3)
    for _ in range(300):
        x, y = lot.uniform(0.5, 4.0), lot.uniform(-0.98, 0.98) * radius
        place(bout, [(x, y)] + [(60.0, 60.0)] * 5)
        t = body_in_the_way(bout.P, bout.M, bout.B, 0, 0.0, 1.0, radius)
        bx, by, _ = ball_point(bout.B, t)
        assert math.hypot(bx - x, by - y) <= radius + 0.01
        place(bout, [(x, math.copysign(1.02 * radius, y))] + [(60.0, 60.0)] * 5)
        assert body_in_the_way(bout.P, bout.M, bout.B, 0, 0.0, 1.0, radius) > 1e6


@pytest.mark.parametrize("v0", [14.0, 20.0, 26.0])
def test_a_foot_beside_the_line_is_not_jumped_over(v0: float):
    bout = rolling(v0)
    reach = bout.C[INTERCEPT_REACH]
    lot = random.Random(4)
    missed = 0
    for _ in range(200):
        place(bout, [(lot.uniform(4.0, 12.0), 0.6 * reach)] + [(60.0, 60.0)] * 5)
        missed += first_reach(bout.P, bout.M, bout.B, bout.C, 0, 0.0, 2.0, reach) > 1e6
    assert missed == 0
