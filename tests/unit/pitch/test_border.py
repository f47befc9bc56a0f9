"""The outer border of the ground in play, against a ball followed in small steps."""

from __future__ import annotations

import math
import random

import pytest

from sim.pitch.border import STRAY_M
from tests.support.scene import bare

STEP_M = 0.01
L = [(-12.0, -6.0, 0.0, 18.0), (0.0, -6.0, 12.0, 6.0)]
T = [(-5.0, 0.0, 5.0, 20.0), (-15.0, 20.0, 15.0, 26.0), (5.0, 4.0, 9.0, 8.0)]


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
    one = bare(0, rectangles, slack)
    assert one.play["parts_in_play"] == len(rectangles)
    rng = random.Random(7)
    for _ in range(300):
        w, s, e, n = rng.choice(rectangles)
        x, y, turn = rng.uniform(w, e), rng.uniform(s, n), rng.uniform(0.0, 2.0 * math.pi)
        ux, uy = math.cos(turn), math.sin(turn)
        far = one.to_the_line((x, y), (ux, uy))
        assert far == pytest.approx(stepped(rectangles, slack, x, y, ux, uy), abs=2.0 * STEP_M)
        assert one.rolling((x, y), turn, 1.0).leaving_distance() == far == one.to_the_line((x, y), (ux, uy), plain=True)


def test_the_corner_of_an_l_is_not_in_play():
    one = bare(rectangles=L)
    assert one.on_ground(-1.0, 10.0) and one.on_ground(10.0, 5.0)
    assert not one.on_ground(5.0, 10.0)
    assert one.to_the_line((-2.0, 10.0), (1.0, 0.0)) == pytest.approx(2.0)


def test_a_ball_kicked_from_just_outside_may_come_in():
    one, outside = bare(rectangles=L), (-12.0 - 0.5 * STRAY_M, 0.0)
    assert one.to_the_line(outside, (1.0, 0.0)) == pytest.approx(24.0 + 0.5 * STRAY_M)
    assert one.to_the_line(outside, (-1.0, 0.0)) == 0.0
    assert one.to_the_line((-12.0 - 2.0 * STRAY_M, 0.0), (1.0, 0.0)) == 0.0


@pytest.mark.parametrize(
    "rectangles",
    [
        [(-5.0, -5.0, 5.0, 5.0)],
        [(-5.0, -5.0, 0.0, 5.0), (0.0, -5.0, 5.0, 5.0)],  # halves
        [(-5.0, -5.0, 5.0, 5.0), (-2.0, -2.0, 2.0, 2.0)],  # one inside the other
    ],
)
def test_what_makes_a_rectangle_is_one(rectangles):
    play = bare(0, rectangles, 1.0).play
    assert play["parts_in_play"] == 0 and play["run_off"] == 1.0
    assert [play[side] for side in ("west", "south", "east", "north")] == [-6.0, -6.0, 6.0, 6.0]


def test_the_run_off_is_in_play_and_beyond_the_line():
    one = bare(0, [(-5.0, -5.0, 5.0, 5.0)], 2.0)
    assert one.on_ground(6.9, 0.0) and not one.on_ground(7.1, 0.0)
    assert one.within_lines(4.9, 0.0) and not one.within_lines(5.1, 0.0)
    assert one.within_lines(5.4, 0.0, 0.5) and not one.within_lines(5.6, 0.0, 0.5)
    assert one.rolling((0.0, 0.0), 0.0, 9.0).leaving_distance() == pytest.approx(7.0)


def test_every_part_has_its_own_run_off():
    halves = [(-5.0, -5.0, 0.0, 5.0), (0.0, -5.0, 5.0, 5.0)]
    one = bare(0, halves, 2.0, 0.0)
    assert one.play["parts_in_play"] == 2 and one.play["run_off"] == 0.0
    assert one.on_ground(-6.9, 0.0) and not one.on_ground(5.1, 0.0)
    assert one.to_the_line((0.0, 0.0), (-1.0, 0.0)) == pytest.approx(7.0)
    assert one.to_the_line((0.0, 0.0), (1.0, 0.0)) == pytest.approx(5.0)
    assert one.within_lines(-4.9, 0.0) and one.within_lines(4.9, 0.0)
    assert not one.within_lines(-5.1, 0.0) and not one.within_lines(5.1, 0.0)


def test_a_part_within_the_run_off_of_another_keeps_its_line():
    one = bare(0, [(-5.0, -5.0, 5.0, 5.0), (5.0, -1.0, 7.0, 1.0)], 3.0, 0.0)
    assert one.play["parts_in_play"] == 2
    assert one.within_lines(6.0, 0.0) and not one.within_lines(6.0, 2.0) and one.on_ground(6.0, 2.0)
