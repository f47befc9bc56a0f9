"""Before a goal a presser goes in for the ball where he is covered, and delays where he is not; with no goal to defend neither."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.pitch import defending, pressing, tackles
from sim.pitch.arrays import COVER, KEEP, PRESS
from tests.support.scene import Scene, scene

CARRIER, PRESSER, COVERING = "amber-1", "slate-1", "slate-2"
BEFORE_GOAL, BEHIND_BALL, FAR_OFF = (15.0, 0.0), (7.0, 0.0), (18.0, 9.0)


def facing(mate: tuple[float, float], gap: float = 0.9, **constants: float) -> Scene:
    """Amber 1 has the ball at (10, 0), the goal is at (21, 0); slate 1 is so far before him, slate 2 somewhere."""
    places = {CARRIER: (10.0, 0.0), PRESSER: (10.0 + gap, 0.0), COVERING: mate}
    one = scene(load_game("even-goals"), **constants).put(places, (-19.0, 14.0))
    one.held_by(one.index(CARRIER)).aim()
    one.players["duty"][one.index(PRESSER)] = PRESS
    return one.look_around()


def covered(one: Scene) -> bool:
    return bool(defending.is_covered(one.pitch, one.index(PRESSER), 10.0, 0.0))


def tries(one: Scene, end: float = 30.0) -> tuple[int, float]:
    return tackles.next_tackle(one.pitch, one.index(CARRIER), 0.0, end)


def place(one: Scene) -> float:
    """How far off the ball a presser stays who is 5 m from it."""
    one.ball["received_at"] = -0.8
    situation = one.situation(one.index(PRESSER), (10.0, 0.0))
    return abs(pressing.press(one.pitch, situation).x - 10.0)


def test_he_is_covered_by_whoever_is_near_enough_and_nearer_to_the_goal():
    assert covered(facing(BEFORE_GOAL))
    assert not covered(facing(BEHIND_BALL))
    assert not covered(facing(FAR_OFF))
    assert covered(facing(FAR_OFF, covered_within=13.0))


def test_covered_he_goes_in_sooner():
    who, soon = tries(facing(BEFORE_GOAL))
    _, late = tries(facing(FAR_OFF))
    same = facing(FAR_OFF).constants
    assert who == facing(FAR_OFF).index(PRESSER)
    assert late / soon == pytest.approx(float(same["covered_tackles"] / same["uncovered_tackles"]), rel=0.05)
    even = {"covered_tackles": 1.0, "uncovered_tackles": 1.0}
    assert tries(facing(BEFORE_GOAL, **even))[1] == tries(facing(FAR_OFF, **even))[1]


def test_with_no_goal_to_defend_cover_changes_nothing():
    def kept(mate: tuple[float, float]) -> float:
        one = facing(mate)
        one.play["aim"] = KEEP
        return tries(one)[1]

    assert kept(BEFORE_GOAL) == kept(FAR_OFF)


def test_uncovered_he_stays_further_off():
    near, wide = (place(facing(mate, gap=5.0)) for mate in ((13.0, 1.0), FAR_OFF))
    assert wide == pytest.approx(float(facing(FAR_OFF).constants["delay_wider"]) * near, rel=0.05)
    assert place(facing(FAR_OFF, gap=5.0, delay_wider=1.0)) == pytest.approx(near, rel=0.05)


def test_whoever_is_at_the_ball_may_tackle_though_he_is_not_the_one_to_press():
    one = facing(FAR_OFF)
    one.players["duty"][one.index(PRESSER)] = COVER
    assert tries(one)[0] == one.index(PRESSER)
    off = facing(FAR_OFF, passing_tackles=0.0)
    off.players["duty"][off.index(PRESSER)] = COVER
    assert tries(off)[0] == -1
