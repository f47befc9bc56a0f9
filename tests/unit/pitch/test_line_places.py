"""Who plays on a line goes to his place on it, and keeps to it while he has nothing to do."""

from __future__ import annotations

import math

import pytest

from sim.game.loader import load_game
from tests.support.scene import DEAD, NOBODY, Place, Scene, scene

SECONDS = 4.0
WEST, EAST = (-4.6, 0.0), (4.6, 0.0)


def square(at: Place) -> Scene:
    """Four on the lines of 10 x 10 m, of whom the second, whose place is in the middle of the east line, stands elsewhere."""
    one = scene(load_game("tight-square", ["areas.square.length=10"]))
    return one.stand((0.0, 4.6), at, (0.0, -4.6), WEST, (-1.0, 0.0), (1.0, 0.0)).look_around()


def after_dead_ball(at: Place) -> tuple[float, float]:
    """(m from his place as the ball comes into play, greatest m/s) of that one, who stood there as it went dead."""
    one = square(at)
    one.ball["state"], one.ball["holder"], one.play["live_at"] = DEAD, NOBODY, SECONDS
    one.think(1)
    return math.dist(one.where(1, SECONDS)[:2], EAST), one.top_speed(1, SECONDS, 0.05)


def test_who_comes_onto_a_line_across_the_square_is_there_as_the_ball_comes_into_play():
    gap, speed = after_dead_ball(WEST)
    assert gap < 1.0 and 2.0 < speed < 4.0


def test_who_is_not_far_from_his_place_walks_there():
    _, speed = after_dead_ball((4.6, 2.5))
    assert speed < 1.0


@pytest.mark.parametrize("at", [EAST, (4.6, 1.5)])
def test_he_keeps_to_his_line_while_those_inside_have_the_ball(at: Place):
    one = square(at).held_by(4)
    one.think(1)
    assert math.dist(one.where(1, 10.0)[:2], EAST) <= one.constants["deadband"]
    assert one.where(1, 2.0)[0] == pytest.approx(EAST[0], abs=0.1)
