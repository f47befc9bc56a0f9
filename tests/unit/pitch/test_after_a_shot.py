"""What he does who has struck a shot."""

from __future__ import annotations

import math

import pytest

from sim.game.loader import load_game
from sim.pitch.release import strike
from tests.support.scene import Scene, look_of, scene

SHOOTER = "amber-1"


def shot_from(x: float, speed: float) -> Scene:
    """Amber 1 has shot at time 0 at the goal 21 m east, from so far east, running at it and on towards it."""
    one = scene(load_game("even-goals"), begun=True).put({SHOOTER: (x, 0.0), "slate-6": (20.0, 0.0)}, (-19.0, 14.0))
    i = one.index(SHOOTER)
    one.held_by(i).aim()
    one.put_one(i, (x, 0.0), velocity=(speed, 0.0))
    one.run(i, 0.0, 0.0, to=(20.0, 0.0), cap=speed, effort=0.6)
    strike(one.bout, look_of(i, 0.0))
    return one


@pytest.mark.parametrize("speed", [3.0, 6.0])
def test_a_shooter_pulls_up_as_soon_as_he_can(speed: float):
    one = shot_from(14.0, speed)
    i = one.index(SHOOTER)
    seconds = speed / float(one.players["braking"][i])
    x, y, vx, vy = one.where(i, seconds + 0.01)
    assert (x, y) == pytest.approx((14.0 + 0.5 * speed * seconds, 0.0), abs=0.01)
    assert math.hypot(vx, vy) == pytest.approx(0.0, abs=1e-6)


def test_one_who_stands_stays():
    one = shot_from(14.0, 0.0)
    assert one.where(one.index(SHOOTER), 0.0)[:2] == (14.0, 0.0)
