"""Who plays on a line keeps to his place on it while he has nothing to do."""

from __future__ import annotations

import math

import pytest

from sim.game.loader import load_game
from tests.support.scene import Place, Scene, scene

WEST, EAST = (-4.6, 0.0), (4.6, 0.0)


def square(at: Place) -> Scene:
    """Four on the lines of 10 x 10 m, of whom the second, whose place is in the middle of the east line, stands elsewhere."""
    one = scene(load_game("tight-square", ["areas.square.length=10"]))
    return one.stand((0.0, 4.6), at, (0.0, -4.6), WEST, (-1.0, 0.0), (1.0, 0.0)).look_around()


@pytest.mark.parametrize("at", [EAST, (4.6, 1.5)])
def test_he_keeps_to_his_line_while_those_inside_have_the_ball(at: Place):
    one = square(at).held_by(4)
    one.think(1)
    assert math.dist(one.where(1, 10.0)[:2], EAST) <= one.constants["deadband"]
    assert one.where(1, 2.0)[0] == pytest.approx(EAST[0], abs=0.1)
