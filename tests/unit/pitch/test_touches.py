"""First touches, turns and first-time passes: what a touch costs, and what a spare one is good for."""

from __future__ import annotations

import math

import pytest

from sim.pitch.options import TURN
from tests.support.scene import Scene, scene

DRAWS = 2000


def carrier(presser: float = 30.0, **fields: float) -> Scene:
    """0 has the ball, 1 is his mate, 2 an opponent that many metres behind him."""
    return scene().carrier(at=(0.0, 0.0), **fields).mate(at=(8.0, 0.0)).opponent(at=(-presser, 0.0))


# heavy touches


def test_the_harder_the_ball_comes_the_closer_the_presser_and_the_worse_the_touch_the_more_are_heavy():
    one = carrier(first_touch_miss=0.01)
    usual = one.heavy_chance(0, 7.0)
    assert usual == pytest.approx(one.constants["heavy_touch"])
    assert carrier(first_touch_miss=0.01).heavy_chance(0, 14.0) == pytest.approx(2.0 * usual)
    assert carrier(presser=1.0, first_touch_miss=0.01).heavy_chance(0, 7.0) == pytest.approx(2.0 * usual)
    assert carrier(first_touch_miss=0.032).heavy_chance(0, 7.0) == pytest.approx(3.2 * usual)


def test_heavy_touches_come_as_often_as_their_chance_says():
    one, heavy = carrier(first_touch_miss=0.032, touch_limit=2), 0
    for _ in range(DRAWS):
        one.first_touch(0, 0.0, 7.0)
        heavy += bool(one.ball["heavy"])
    chance = 3.2 * one.constants["heavy_touch"]
    assert heavy / DRAWS == pytest.approx(chance, abs=4.0 * math.sqrt(chance * (1.0 - chance) / DRAWS))


def test_off_a_heavy_touch_he_plays_later_and_wilder_and_is_easier_to_tackle():
    def ready(**constants: float) -> float:
        one = scene(control_time_sd=0.0, first_time_share=0.0, **constants).carrier(at=(0.0, 0.0)).mate(at=(8.0, 0.0))
        return one.first_touch(0, 0.0, 7.0)

    assert ready(heavy_touch=50.0) == pytest.approx(1.7 * ready(heavy_touch=0.0))
    one = carrier(touch_limit=2)
    one.ball["touches"] = 1
    error, odds = one.direction_error(0, (8.0, 0.0)), one.tackle_odds(2, 0)
    one.ball["heavy"] = True
    assert one.direction_error(0, (8.0, 0.0)) == pytest.approx(1.6 * error)
    assert one.tackle_odds(2, 0) == pytest.approx(odds + 1.0)


def test_with_a_touch_to_spare_he_settles_it_and_without_one_he_cannot():
    kinds = {}
    for limit in (2, 3, 0):
        one = carrier(touch_limit=limit)
        one.ball["heavy"], one.ball["touches"] = True, 1
        kinds[limit] = [one.decide(0, 1.0) for _ in range(50)].count(TURN)
    assert kinds[2] == 0 and kinds[3] > 25 and kinds[0] > 25
    one.turn_away(0, 1.0)
    assert not one.ball["heavy"] and one.ball["touches"] == 2


# turning away, shielding


def test_the_closer_he_is_pressed_the_more_often_he_turns_away_and_only_once():
    turns = []
    for presser in (20.0, 2.0, 1.0):
        one = carrier(presser=presser, touch_limit=0)
        one.ball["touches"] = 1
        turns.append([one.decide(0, 1.0) for _ in range(400)].count(TURN))
    assert turns[0] < turns[1] < turns[2]
    one.ball["turns"] = 1
    assert TURN not in [one.decide(0, 1.0) for _ in range(50)]


def test_he_turns_away_from_the_presser():
    one = carrier(presser=1.0)
    one.turn_away(0, 0.0)
    assert one.where(0, 2.0)[0] > 0.5
    assert one.ball["touches"] == 1 and one.ball["turns"] == 1


def test_a_touch_to_spare_shields_the_ball():
    odds = {}
    for limit in (1, 2, 3, 0):
        one = carrier(presser=1.0, touch_limit=limit)
        one.ball["touches"] = 1
        odds[limit] = one.tackle_odds(2, 0)
    assert odds[1] == odds[2] == pytest.approx(odds[3] + one.constants["shield"])
    assert odds[0] == odds[3]


# first-time passes


def test_a_first_time_pass_is_the_wilder_the_more_it_turns_the_ball():
    one = carrier()
    one.ball["dx"], one.ball["dy"] = -1.0, 0.0  # it came from the mate at (8, 0)
    back = one.direction_error(0, (8.0, 0.0), first_time=True)
    errors = [
        one.direction_error(0, (8 * math.cos(a), 8 * math.sin(a)), first_time=True) / back for a in (0.5, 1.5, 2.5)
    ]
    assert errors == pytest.approx([1.0, 1.0 + one.constants["turn_error"] * (1.5 - 0.79), 3.0])
    set_ball = one.direction_error(0, (8.0, 0.0))
    assert one.direction_error(0, (-8.0, 0.0)) == pytest.approx(set_ball)


def test_a_pass_straight_back_is_worth_a_little_less():
    one = carrier()
    one.ball["giver"] = -1
    worth = one.worth(0, 1.0)
    one.ball["giver"] = 1
    assert one.worth(0, 1.0) == pytest.approx(0.9 * worth)
