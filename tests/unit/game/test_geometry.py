"""Rectangles on the ground, with numbers that are plain."""

from __future__ import annotations

import pytest

from sim.geometry import INWARD, ROUNDING_M, corners, covers, gaps, is_upright, line_at, rectangle

SQUARE = rectangle(0.0, 0.0, 10.0, 8.0)


def test_a_rectangle_lies_around_its_middle():
    assert SQUARE == (-5.0, -4.0, 5.0, 4.0)
    assert rectangle(1.0, -2.0, 10.0, 8.0) == (-4.0, -6.0, 6.0, 2.0)


def test_corners_go_round_from_the_south_west():
    assert corners(SQUARE) == [(-5.0, -4.0), (5.0, -4.0), (5.0, 4.0), (-5.0, 4.0)]


@pytest.mark.parametrize(
    ("middle", "apart"),
    [
        ((12.0, 0.0), (2.0, -8.0)),
        ((-12.0, 0.0), (2.0, -8.0)),
        ((10.0, 0.0), (0.0, -8.0)),
        ((9.0, 3.0), (-1.0, -5.0)),
        ((11.0, -11.0), (1.0, 3.0)),
    ],
)
def test_gaps_are_below_nought_where_rectangles_overlap(middle, apart):
    assert gaps(SQUARE, rectangle(*middle, 10.0, 8.0)) == apart == gaps(rectangle(*middle, 10.0, 8.0), SQUARE)


def test_a_rectangle_covers_itself_and_what_lies_in_it_with_lines_that_are_one():
    assert covers(SQUARE, SQUARE)
    assert covers(SQUARE, rectangle(2.0, 0.0, 6.0 + ROUNDING_M, 8.0))
    assert not covers(SQUARE, rectangle(2.0, 0.0, 6.1, 8.0))
    assert not covers(rectangle(0.0, 0.0, 6.0, 6.0), SQUARE)


def test_a_mouth_stands_across_the_way_it_looks():
    assert line_at("east", 20.0, 1.0, 4.0) == (20.0, -1.0, 20.0, 3.0)
    assert line_at("north", 20.0, 1.0, 4.0) == (18.0, 1.0, 22.0, 1.0)
    for end, (x, y) in INWARD.items():
        assert is_upright(end) == (y == 0.0) and abs(x) + abs(y) == 1.0
