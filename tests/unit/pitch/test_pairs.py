"""How two defenders with no goal to defend press as a pair: one shows the carrier one way, the other shuts the split."""

from __future__ import annotations

import math

import pytest

from sim.pitch.arrays import SCORE
from tests.support.scene import Scene, scene

NORTH, PRESSER, PARTNER = 1, 3, 4


def pair(**constants: float) -> Scene:
    """The ball is held at (0, 0); the presser stands to the east, his partner covers the mate to the north, and another mate stands
    between the two."""
    one = scene(**constants).carrier(at=(0.0, 0.0)).mate(at=(0.0, 10.0)).mate(at=(8.0, 8.0))
    return one.opponent(at=(3.0, 0.0)).opponent(at=(0.0, 6.0))


def off_the_split(one: Scene) -> float:
    """How far (m) from the lane to the mate between the two the partner ends up."""
    one.look_around().cover(PARTNER, NORTH, (0.0, 0.0), PRESSER)
    x, y = one.where(PARTNER, 30.0)[:2]
    return abs(x - y) / math.sqrt(2.0)


def test_the_partner_tucks_in_and_shuts_the_split_behind_the_presser():
    apart, tucked = off_the_split(pair(pair_tuck=0.0)), off_the_split(pair())
    assert apart > 3.0 and tucked < 0.5 * apart
    one = pair()
    off_the_split(one)
    ball, presser = (0.0, 0.0), (3.0, 0.0)
    assert math.dist(one.where(PARTNER, 30.0)[:2], ball) > math.dist(presser, ball)


def test_he_stays_where_no_lane_is_open_between_the_two():
    assert off_the_split(pair(pair_gap=3.0)) == pytest.approx(off_the_split(pair(pair_tuck=0.0)))


def test_with_a_third_defender_each_covers_his_man():
    three = pair().opponent(at=(-6.0, 0.0))
    assert off_the_split(three) == pytest.approx(off_the_split(pair(pair_tuck=0.0)))


def turned_away(one: Scene) -> float:
    """By how many degrees the presser's way leads past the ball on its way to (0, 0), towards the nearest receiver in the north."""
    one.rolling((0.0, -8.0), math.pi / 2.0, 8.0)
    one.ball["arrives_at"], one.play["spacing"] = 1.5, 5.0
    run = one.press(3, (0.0, 0.0))
    way = math.atan2(run.y, 8.0 - run.x)
    return math.degrees(way)


def coming(**constants: float) -> Scene:
    """The presser is 8 m east of where the ball will be; a second defender is behind him."""
    one = scene(**constants).carrier(at=(0.0, 0.0)).mate(at=(0.0, 10.0)).mate(at=(20.0, 0.0))
    return one.opponent(at=(8.0, 0.0)).opponent(at=(14.0, 0.0))


def test_a_presser_comes_in_a_bow_up_the_lane_that_he_shuts():
    straight, usual, wide = turned_away(coming(show_bow=0.0)), turned_away(coming()), turned_away(coming(show_bow=0.25))
    assert straight < usual - 1.0 < usual + 2.0 < wide


def test_before_a_goal_he_comes_as_he_did():
    runs = []
    for bow in (0.0, 0.5):
        one = coming(show_bow=bow)
        one.play["aim"], one.play["goal_x"], one.play["goal_y"] = SCORE, 40.0, 0.0
        runs.append(turned_away(one))
    assert runs[0] == pytest.approx(runs[1])
