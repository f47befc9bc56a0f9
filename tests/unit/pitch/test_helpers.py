"""Helpers stand on nobody's place: where they belong in the shape beside the sides they play with."""

from __future__ import annotations

import math

import pytest

from sim.game.loader import load_game
from sim.pitch.setup import OFF_A_PLACE, helpers_ring, ring_of
from tests.support.scene import FLOATER, scene

Places = list[tuple[float, float]]


def taken_by(men: int) -> Places:
    """The places of two sides of so many."""
    return ring_of(men, -0.25) + ring_of(men, 0.25)


def room(places: Places, others: Places) -> float:
    return min(math.dist(one, other) for one in places for other in others)


@pytest.mark.parametrize("men", [2, 3, 4, 5, 6, 7, 8, 9, 11])
@pytest.mark.parametrize("helpers", [1, 2, 3, 4])
def test_helpers_stand_off_the_places_of_both_sides_as_much_off_one_as_off_the_other(men: int, helpers: int):
    taken = taken_by(men)
    places = helpers_ring(helpers, taken)
    assert room(places, taken) > 0.2
    assert room(places, taken) >= room(ring_of(helpers), taken) - 1e-9
    for x, y in places:
        assert min(math.dist((-x, y), other) for other in places) < 1e-9


def test_who_is_off_enough_on_the_usual_ring_stays_there():
    assert helpers_ring(2, taken_by(4)) == ring_of(2)
    assert helpers_ring(3, []) == ring_of(3)
    assert room(ring_of(3), taken_by(8)) < 0.1 < OFF_A_PLACE  # three at 60, 180 and 300 degrees


def test_in_eights_the_three_helpers_have_places_of_their_own():
    one = scene(load_game("eights"), begun=True)
    side = one.players["side"]
    at = [one.shape(i, (0.0, 0.0)) for i in range(len(side))]
    helpers = [place for place, who in zip(at, side, strict=True) if who == FLOATER]
    others = [place for place, who in zip(at, side, strict=True) if who != FLOATER]
    assert len(helpers) == 3 and len(others) == 16
    assert room(helpers, others) > 4.0
