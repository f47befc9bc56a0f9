"""How a carrier is closed: while the ball is on its way, once it is held, and when the presser goes in."""

from __future__ import annotations

import math

import pytest

from sim.pitch.arrays import KEEP
from tests.support.scene import Scene, scene

WAY = 12.0  # m, of the pass


def coming(gap: float, **constants: float) -> Scene:
    """A pass rolls to a receiver, who stands at (12, 0); player 2 is so far from him, and player 3 a long way off."""
    one = (
        scene(**constants).carrier(at=(0.0, 0.0)).mate(at=(WAY, 0.0)).opponent(at=(WAY, gap)).opponent(at=(40.0, 30.0))
    )
    one.rolling((0.0, 0.0), 0.0, 12.0)
    for name, value in {"passer": 0, "meant_for": 1, "holder": -1, "target_x": WAY, "target_y": 0.0}.items():
        one.ball[name] = value
    one.ball["arrives_at"] = 1.2
    return one


def held(gap: float, since: float = 0.8, **constants: float) -> Scene:
    """The carrier at (0, 0) has had the ball for so long; player 3 is so far from him, and player 4 a long way off."""
    one = scene(**constants).carrier(at=(0.0, 0.0)).mate(at=(-8.0, 0.0)).mate(at=(-9.0, 9.0))
    one.opponent(at=(gap, 0.0)).opponent(at=(40.0, 30.0))
    one.ball["received_at"] = -since
    return one


def test_while_the_ball_is_on_its_way_he_runs_so_as_to_be_in_front_of_the_receiver_when_it_arrives():
    for gap in (5.5, 6.5):
        one = coming(gap)
        run = one.press(2, (WAY, 0.0))
        way = math.hypot(run.x - WAY, run.y - gap)
        assert run.cap == pytest.approx(one.constants["meeting"] * way / 1.2)
        assert run.through


def test_he_comes_no_faster_than_a_share_of_his_top_speed():
    one = coming(15.0)
    assert one.press(2, (WAY, 0.0)).cap == pytest.approx(one.constants["press_cap"] * one.players["top_speed"][2])


def test_he_has_not_slowed_down_when_the_ball_arrives():
    one = coming(8.0)
    one.look_around().think(2)
    before, at = (math.hypot(*one.where(2, t)[2:]) for t in (0.9, 1.2))
    assert at >= before > 3.0


def test_he_stands_off_further_where_there_is_more_room():
    kept = []
    for spacing in (4.0, 12.0, 16.0, 40.0):
        one = held(5.0)
        one.play["spacing"] = spacing
        run = one.press(3, (0.0, 0.0))
        kept.append(math.hypot(run.x, run.y))
    assert kept == pytest.approx([0.72, 2.16, 2.88, 3.0])


def test_standing_off_he_comes_the_slower_the_nearer_he_is():
    caps = [held(gap).press(3, (0.0, 0.0)).cap for gap in (10.0, 8.0, 7.0)]
    assert caps == sorted(caps, reverse=True)
    assert caps[0] < 4.5


def test_near_the_carrier_he_shuffles_across_to_the_lane():
    """The nearest receiver is west of the ball and he is east of it: further off he stays on his side, near he steps across."""
    sides = []
    for turn in (1.0, 3.0):
        one = held(4.0, shuffle_turn=turn, tackle_reach=1.0)
        one.play["spacing"] = 12.0
        one.put_one(1, (0.0, -8.0))  # the lane to shut runs south
        one.put_one(2, (0.0, -9.0))
        run = one.press(3, (0.0, 0.0))
        sides.append(-run.y / math.hypot(run.x, run.y))
    assert sides[1] > sides[0] + 0.1


def sprints(one: Scene) -> bool:
    return one.press(3, (0.0, 0.0)).cap > 1e6


def test_he_goes_in_when_he_is_there_as_soon_as_the_ball():
    assert sprints(held(1.8, since=0.0))
    assert not sprints(held(4.5, since=0.5))


def test_he_goes_in_when_the_ball_has_been_held_for_a_while_or_he_is_told_to_attack_it():
    assert not sprints(held(4.5, since=1.9))
    assert sprints(held(4.5, since=2.1))
    one = held(4.5)
    one.players["pressing"][3] = 1.0
    assert sprints(one)


def test_who_is_within_reach_of_a_tackle_stays_at_it():
    one = held(1.0, since=1.5)
    one.play["spacing"] = 16.0
    assert sprints(one)


def test_who_covers_with_no_goal_to_defend_stands_between_the_ball_and_his_man_and_farther_from_him():
    one = held(4.0)
    one.play["aim"] = KEEP
    one.look_around().cover(4, 2, (0.0, 0.0))
    x, y = one.where(4, 30.0)[:2]
    assert (x, y) == pytest.approx((-4.5, 4.5), abs=0.05)
