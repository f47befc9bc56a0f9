"""Those on the lines of one area move with the ball while it is in another."""

from __future__ import annotations

import pytest

from tests.support.scene import EDGE, Scene, scene


def far(ball_y: float, may_receive: bool = False, **constants: float) -> tuple[float, float]:
    """Where a player on the west line of another area ends up, with the ball so far north of the middle of that area."""
    one: Scene = scene(run_noise=0.0, **constants).carrier(at=(0.0, ball_y))
    area = {"west": 20.0, "east": 34.0, "south": -7.0, "north": 7.0}
    one.mate(at=(20.4, 0.0), style=EDGE, share=0.2, slot=0.875, may_receive=may_receive, **area)
    one.look_around().think(1)
    return one.where(1, 30.0)[:2]


def test_he_goes_north_and_south_with_it_and_keeps_to_his_line():
    places = [far(y) for y in (-5.0, 0.0, 5.0)]
    assert places[0][1] < places[1][1] - 1.0 and places[2][1] > places[1][1] + 1.0
    assert [x for x, _ in places] == pytest.approx([places[0][0]] * 3)


def test_he_stays_where_the_constant_is_nought():
    assert far(5.0, far_shift=0.0) == pytest.approx(far(-5.0, far_shift=0.0), abs=0.5)
