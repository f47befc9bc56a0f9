"""The outer border of the ground in play, against a ball followed in small steps."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest

from sim.pitch import columns as col
from sim.pitch.border import STRAY_M, mark_out, on_ground, room_for_parts, to_the_line
from sim.pitch.onball import leaving_distance

STEP_M = 0.01
L = [(-12.0, -6.0, 0.0, 18.0), (0.0, -6.0, 12.0, 6.0)]
T = [(-5.0, 0.0, 5.0, 20.0), (-15.0, 20.0, 15.0, 26.0), (5.0, 4.0, 9.0, 8.0)]


def ball(rectangles, slack=0.0):
    B = np.zeros(col.BALL_COLUMNS + room_for_parts(len(rectangles)))
    mark_out(B, rectangles, slack)
    return B


def stepped(rectangles, slack, x, y, ux, uy):
    """How far a ball stays on the ground."""
    far = 0.0
    while any(
        w - slack <= x + far * ux <= e + slack and s - slack <= y + far * uy <= n + slack for w, s, e, n in rectangles
    ):
        far += STEP_M
    return far


@pytest.mark.parametrize("rectangles", [L, T], ids=["L", "T"])
@pytest.mark.parametrize("slack", [0.0, 1.0])
def test_a_ball_is_in_play_until_it_leaves_the_last_part(rectangles, slack):
    B = ball(rectangles, slack)
    assert B[col.PARTS] == len(rectangles)
    rng = random.Random(7)
    for _ in range(300):
        w, s, e, n = rng.choice(rectangles)
        x, y, turn = rng.uniform(w, e), rng.uniform(s, n), rng.uniform(0.0, 2.0 * math.pi)
        ux, uy = math.cos(turn), math.sin(turn)
        far = to_the_line(B, x, y, ux, uy)
        assert far == pytest.approx(stepped(rectangles, slack, x, y, ux, uy), abs=2.0 * STEP_M)
        B[[col.BX, col.BY, col.DX, col.DY]] = x, y, ux, uy
        assert leaving_distance(B) == far == to_the_line.py_func(B, x, y, ux, uy)


def test_the_corner_of_an_l_is_not_in_play():
    B = ball(L)
    assert on_ground(B, -1.0, 10.0, 0.0) and on_ground(B, 10.0, 5.0, 0.0)
    assert not on_ground(B, 5.0, 10.0, 0.0)
    assert to_the_line(B, -2.0, 10.0, 1.0, 0.0) == pytest.approx(2.0)


def test_a_ball_kicked_from_just_outside_may_come_in():
    B = ball(L)
    assert to_the_line(B, -12.0 - 0.5 * STRAY_M, 0.0, 1.0, 0.0) == pytest.approx(24.0 + 0.5 * STRAY_M)
    assert to_the_line(B, -12.0 - 0.5 * STRAY_M, 0.0, -1.0, 0.0) == 0.0
    assert to_the_line(B, -12.0 - 2.0 * STRAY_M, 0.0, 1.0, 0.0) == 0.0


@pytest.mark.parametrize(
    "rectangles",
    [
        [(-5.0, -5.0, 5.0, 5.0)],
        [(-5.0, -5.0, 0.0, 5.0), (0.0, -5.0, 5.0, 5.0)],  # halves
        [(-5.0, -5.0, 5.0, 5.0), (-2.0, -2.0, 2.0, 2.0)],  # one inside the other
    ],
)
def test_what_makes_a_rectangle_is_one(rectangles):
    B = ball(rectangles, 1.0)
    assert B[col.PARTS] == 0.0
    assert tuple(B[[col.PX0, col.PY0, col.PX1, col.PY1]]) == (-6.0, -6.0, 6.0, 6.0)
