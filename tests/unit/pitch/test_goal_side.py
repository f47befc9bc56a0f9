"""A goal is defended from between it and the ball: by beaten men who run to where the ball will be, and by the last man."""

from __future__ import annotations

import math

import pytest

from sim.game.loader import load_game
from sim.pitch import defending, supporting
from tests.support.scene import SCORE, Scene, scene

CARRIER, MATE, KEEPER = "amber-1", "amber-2", "amber-6"
FIRST, SECOND = "slate-1", "slate-2"
GOAL = (21.0, 0.0)  # that amber attack
FAR_BACK = (-19.0, 14.0)


def attack(places: dict[str, tuple[float, float]], speed: float = 0.0, **constants: float) -> Scene:
    """Amber 1 has the ball and runs at the east goal; whoever is not named is out of it."""
    one = scene(load_game("even-goals"), **constants).put(places, FAR_BACK)
    for i in range(len(one.players)):
        one.players["style"][i] = one.players["style"][i] if one.bout.ids[i] in places else 3
        one.players["may_receive"][i] = one.bout.ids[i] in places
    one.held_by(one.index(CARRIER)).aim()
    assert one.play["aim"] == SCORE
    i = one.index(CARRIER)
    one.put_one(i, places[CARRIER], velocity=(speed, 0.0))
    return one.look_around()


def to_goal(x: float, y: float) -> float:
    return math.hypot(GOAL[0] - x, GOAL[1] - y)


def ends(one: Scene, player: str, whom: str, ball: tuple[float, float]) -> tuple[float, float]:
    """Where a defender's run ends who covers somebody."""
    one.cover(one.index(player), one.index(whom), ball)
    return one.where(one.index(player), 30.0)[:2]


@pytest.mark.parametrize("speed", [0.0, 5.0])
def test_a_beaten_man_runs_to_where_the_ball_will_be(speed: float):
    places = {CARRIER: (2.0, 0.0), MATE: (0.0, 9.0), FIRST: (-1.0, 6.0), SECOND: (18.0, 0.0)}
    one = attack(places, speed)
    x, y = ends(one, FIRST, MATE, (2.0, 0.0))
    assert to_goal(x, y) <= to_goal(2.0 + 1.5 * speed, 0.0) - 2.0 + 0.1


def test_who_goes_goal_side_keeps_to_his_lane_and_the_hindmost_to_the_middle():
    places = {CARRIER: (8.0, 0.0), MATE: (4.0, 12.0), FIRST: (9.0, 9.0), SECOND: (18.0, 0.0)}
    found = []
    for level in (0.8, 0.0):  # 0: straight towards the middle of the goal, where they all stood in a heap
        one = attack(places, goal_side_level=level)
        found.append([ends(one, who, MATE, (8.0, 0.0)) for who in (FIRST, SECOND)])
    (lane, hindmost), (middle, same) = found
    assert lane[1] > middle[1] + 1.0 and to_goal(*lane) < to_goal(8.0, 0.0)
    assert hindmost == same and hindmost[1] == pytest.approx(0.0, abs=1e-6)


def test_he_sprints_there_and_one_who_is_not_beaten_does_not():
    places = {CARRIER: (10.0, 0.0), MATE: (8.0, 9.0), FIRST: (-14.0, 8.0), SECOND: (18.0, 0.0)}
    one = attack(places, 4.0)
    one.cover(one.index(FIRST), one.index(MATE), (10.0, 0.0))
    fast = one.top_speed(one.index(FIRST), 4.0, 0.1)
    assert fast > 0.95 * one.constants["recover_cap"] * one.players["top_speed"][one.index(FIRST)]
    calm = attack(places | {FIRST: (17.0, 6.0)}, 4.0)
    calm.cover(calm.index(FIRST), calm.index(MATE), (10.0, 0.0))
    assert calm.top_speed(calm.index(FIRST), 4.0, 0.1) < 0.75 * fast


def test_after_a_carrier_who_is_through_on_goal_he_runs_harder_still():
    places = {CARRIER: (6.0, 0.0), MATE: (4.0, 9.0), FIRST: (-14.0, 8.0)}
    chasing, not_alone = attack(places, 4.0), attack(places | {SECOND: (18.0, 0.0)}, 4.0)
    fast = []
    for one in (chasing, not_alone):
        one.cover(one.index(FIRST), one.index(MATE), (6.0, 0.0))
        fast.append(one.top_speed(one.index(FIRST), 5.0, 0.1) / one.players["top_speed"][one.index(FIRST)])
    assert fast[0] > 0.98 * chasing.constants["chase_cap"] > fast[1]  # somebody is left before the ball
    gentle = attack(places, 4.0, chase_cap=0.7)
    gentle.cover(gentle.index(FIRST), gentle.index(MATE), (6.0, 0.0))
    assert gentle.top_speed(gentle.index(FIRST), 5.0, 0.1) < 0.75 * gentle.players["top_speed"][gentle.index(FIRST)]


@pytest.mark.parametrize(("share", "to_the_goal"), [(0.0, (32.0, 36.0)), (0.25, (24.0, 27.1))])
def test_the_hindmost_keeps_his_distance_behind_the_ball(share, to_the_goal):
    """A ball 36 m from goal: a quarter of it, 9 m, lies between ball and whoever is nearest to his goal, wherever his man is."""
    places = {CARRIER: (-15.0, 0.0), MATE: (-13.0, 8.0), FIRST: (-4.0, 5.0), SECOND: (-13.0, -1.0)}
    x, y = ends(attack(places, sweep_share=share), FIRST, MATE, (-15.0, 0.0))
    assert to_the_goal[0] < to_goal(x, y) < to_the_goal[1]
    x, y = ends(attack(places | {SECOND: (4.0, 0.0)}, sweep_share=share), FIRST, MATE, (-15.0, 0.0))
    assert 32.0 < to_goal(x, y) < 36.0  # another one is


@pytest.mark.parametrize(("reach", "far"), [(500.0, 33.9), (20.0, 20.0)])
def test_nobodys_place_in_the_shape_lies_further_up_the_pitch_than_a_pass_goes(reach, far):
    one = attack({CARRIER: (-20.0, 0.0)}, side_reach=reach)
    places = [one.shape(i, (-20.0, 0.0))[0] for i in range(len(one.players)) if one.bout.ids[i].startswith("amber")]
    assert max(places) + 20.0 == pytest.approx(far, abs=1.0)


def test_the_last_man_leaves_his_man_for_the_line_from_ball_to_goal():
    places = {CARRIER: (2.0, 0.0), MATE: (8.0, 11.0), FIRST: (9.0, 8.0), SECOND: (-6.0, 0.0)}
    x, y = ends(attack(places), FIRST, MATE, (2.0, 0.0))
    assert abs(y) < 0.7
    assert 2.0 < x < 9.0
    x, y = ends(attack(places | {SECOND: (10.0, 1.0)}), FIRST, MATE, (2.0, 0.0))
    assert y > 3.0  # somebody else is there: he minds his man


def test_where_goals_are_played_at_a_keeper_is_somebodys_man():
    places = {CARRIER: (-8.0, 0.0), KEEPER: (-20.0, 0.0), FIRST: (-5.0, 0.0), SECOND: (-10.0, 3.0)}
    one = attack(places)
    assert one.covered_by(one.index(SECOND), one.index(FIRST), (-8.0, 0.0)) == one.index(KEEPER)
    one.play["aim"] = 0
    assert one.covered_by(one.index(SECOND), one.index(FIRST), (-8.0, 0.0)) == -1


def test_whose_side_is_through_on_goal_runs_ahead():
    places = {CARRIER: (6.0, 0.0), MATE: (-6.0, 8.0), FIRST: (0.0, -8.0)}
    assert gain_of_going_on(attack(places)) > gain_of_going_on(attack(places | {FIRST: (17.0, -3.0)})) + 0.3
    assert gain_of_going_on(attack(places)) > gain_of_going_on(attack(places, run_ahead=0.0)) + 0.3


def test_and_he_runs_hard():
    places = {CARRIER: (6.0, 0.0), MATE: (-6.0, 8.0), FIRST: (0.0, -8.0)}
    assert speed_of_offer(attack(places)) > 1.1 * speed_of_offer(attack(places | {FIRST: (17.0, -3.0)}))


def gain_of_going_on(one: Scene) -> float:
    """What a place ten metres nearer to the goal is worth to the mate over the one where he is, before lanes."""
    i, ball = one.index(MATE), (6.0, 0.0)
    here, ahead = one.situation(i, ball), defending.through_on_goal(one.pitch, *ball)
    worths = [supporting.worth_inside(one.pitch, here, -6.0 + more, 8.0, 0.0, 8.0, ahead) for more in (0.0, 10.0)]
    return worths[1] - worths[0]


def speed_of_offer(one: Scene) -> float:
    """How fast the mate is to run to a place fifteen metres on (m/s)."""
    i = one.index(MATE)
    return supporting.support_run(one.pitch, one.situation(i, (6.0, 0.0)), (9.0, 8.0), 2.0).cap


def test_where_more_attack_than_defend_the_least_dangerous_is_left_free():
    places = {CARRIER: (-8.0, 0.0), KEEPER: (-20.0, 0.0), MATE: (12.0, 4.0), FIRST: (-5.0, 0.0), SECOND: (-12.0, 1.0)}
    one = attack(places)
    assert one.covered_by(one.index(SECOND), one.index(FIRST), (-8.0, 0.0)) == one.index(MATE)
    near = attack({who: place for who, place in places.items() if who != MATE})
    assert near.covered_by(near.index(SECOND), near.index(FIRST), (-8.0, 0.0)) == near.index(KEEPER)


@pytest.mark.parametrize("runs", [4.0, 6.0])
def test_a_defender_goes_with_his_man_who_runs_at_goal(runs: float):
    places = {CARRIER: (-8.0, 0.0), MATE: (4.0, 8.0), FIRST: (4.5, 7.0), SECOND: (15.0, -5.0)}
    ends = {}
    for speed in (0.0, runs):
        one = attack(places)
        one.put_one(one.index(MATE), places[MATE], velocity=(speed, 0.0))
        one.look_around().cover(one.index(FIRST), one.index(MATE), (-8.0, 0.0))
        ends[speed] = one.where(one.index(FIRST), 2.0)
    assert ends[runs][0] - ends[0.0][0] > 1.0  # metres nearer to goal after two seconds
    assert ends[runs][2] > 2.0  # and still on his way


def test_who_has_a_man_is_not_relieved_of_him_by_one_who_is_further_off():
    """The relief would be nearer to the place, well inside, that a far man is covered from, but not to the man."""
    places = {
        CARRIER: (-8.0, 12.0),
        MATE: (6.0, -12.0),
        FIRST: (5.0, -9.5),
        SECOND: (5.0, -3.0),
        "slate-3": (-5.0, 11.0),
    }
    one = attack(places)
    man = one.index(MATE)
    one.players["marks"][one.index(FIRST)] = man
    covered = [one.covered_by(one.index(who), one.index("slate-3"), places[CARRIER]) for who in (FIRST, SECOND)]
    assert covered == [man, -1]


def test_he_sprints_only_where_there_is_room_to():
    for off, share in ((3.0, "run_cap"), (40.0, "recover_cap")):
        one = attack(
            {CARRIER: (10.0, 0.0), MATE: (8.0, 9.0), FIRST: (9.0 - off, 2.0), SECOND: (18.0, 0.0)}, sprint_time=2.0
        )
        one.cover(one.index(FIRST), -1, (10.0, 0.0))
        top = one.players["top_speed"][one.index(FIRST)]
        assert one.top_speed(one.index(FIRST), 8.0, 0.1) <= 1.01 * one.constants[share] * top
    assert one.top_speed(one.index(FIRST), 8.0, 0.1) > 1.1 * one.constants["run_cap"] * top
