"""How defenders answer a kick, follow the ball into another area, and what a lone one does who would come too late."""

from __future__ import annotations

import pytest

from tests.support.scene import Scene, scene


def strangers(chasers: int) -> Scene:
    """The ball is held at (40, 0), in an area where no chaser is; the nearer the number, the nearer he is."""
    one = scene().carrier(at=(40.0, 0.0)).mate(at=(40.0, 10.0))
    for k in range(chasers):
        one.opponent(at=(-4.0 * k, 0.0), west=30.0, east=50.0, south=-10.0, north=10.0)
    return one.look_around()


def test_the_nearest_crosses_hard_and_the_others_at_a_pace_they_can_keep_up():
    one = strangers(3)
    for i in (2, 3, 4):
        one.think(i)
    tops = [one.top_speed(i, 6.0, 0.1) for i in (2, 3, 4)]
    top, lasting = one.players["top_speed"][2], one.players["critical_speed"][3]
    assert tops[0] == pytest.approx(0.85 * top, rel=0.03)
    assert tops[1:] == pytest.approx([lasting, lasting], rel=0.01)


def lone(defenders: int) -> Scene:
    one = scene().carrier(at=(0.0, 0.0)).mate(at=(0.0, 10.0)).mate(at=(12.0, 0.0))
    for k in range(defenders):
        one.opponent(at=(9.0, 5.0 + 3.0 * k))
    one.ball["received_at"] = -2.0  # he will have played it before anybody is there
    return one


def test_a_lone_defender_who_comes_too_late_shuts_a_lane_instead():
    run = lone(1).press(3, (0.0, 0.0))
    assert (run.x, run.y) == pytest.approx((6.0, 0.0))
    run = lone(2).press(3, (0.0, 0.0))
    assert (run.x, run.y) != pytest.approx((6.0, 0.0), abs=0.5)


def test_opponents_read_a_kick_and_mates_do_not():
    times = {}
    for kick_read in (0.0, 0.1):
        one = (
            scene(kick_read=kick_read, anticipation=0.0, reaction_least=0.0).carrier(at=(0.0, 0.0)).mate(at=(10.0, 0.0))
        )
        one.opponent(at=(8.0, 6.0)).opponent(at=(20.0, 8.0))
        one.players["reaction_sd"] = 1e-6
        one.rolling((0.0, 0.0), 0.0, 10.0).ball["passer"] = 0
        one.ball["meant_for"], one.ball["target_x"], one.ball["arrives_at"], one.ball["pace"] = 1, 10.0, 1.0, 1.0
        one.pursue(0.0, 1)
        times[kick_read] = [float(one.players["sets_off_at"][i]) for i in (1, 2, 3)]
    saved = [early - late for early, late in zip(times[0.0], times[0.1], strict=True)]
    assert saved == pytest.approx([0.0, 0.1, 0.1], abs=1e-3)
