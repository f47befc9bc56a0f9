"""How defenders answer a kick, follow the ball into another area, and what a lone one does who would come too late."""

from __future__ import annotations

import math

import pytest

from sim.game.loader import load_game
from tests.support.scene import FREE, NOBODY, RACE, Scene, scene


def strangers(chasers: int, **constants: float) -> Scene:
    """The ball is held at (40, 0), in an area where no chaser is; the nearer the number, the nearer he is."""
    one = scene(**constants).carrier(at=(40.0, 0.0)).mate(at=(40.0, 10.0))
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


def test_only_the_nearest_makes_for_the_ball_the_others_come_in_nearer_to_their_own_places():
    gaps = {}
    for apart in (0.0, 0.4):
        one = strangers(3, crossing_apart=apart)
        for i in (2, 3, 4):
            one.think(i)
        gaps[apart] = [math.dist(one.where(i, 30.0)[:2], (40.0, 0.0)) for i in (2, 3, 4)]
    assert gaps[0.0] == pytest.approx([0.0] * 3, abs=0.1)
    assert gaps[0.4][0] == pytest.approx(0.0, abs=0.1) and min(gaps[0.4][1:]) > 0.5


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


def eight_a_side() -> Scene:
    """A ball has run loose at (0, 0), east; the further the number of his side, the further off a player is."""
    one = scene(load_game("even-goals", ["roles.outfield.players={amber=8,slate=8}"]))
    outfield = [i for i in range(len(one.players)) if one.players["style"][i] == FREE]
    for i in outfield:
        mates = [j for j in outfield if j < i and one.players["side"][j] == one.players["side"][i]]
        one.put_one(i, (-2.0 - 1.2 * len(mates), 3.0 if one.with_ball(i) else -3.0))
    one.rolling((0.0, 0.0), 0.0, 2.5, deceleration=1.3)
    one.ball["meant_for"] = one.ball["passer"] = NOBODY
    one.ball["target_x"], one.ball["arrives_at"] = 1.5, 0.5
    return one


def test_a_ball_that_nobody_is_meant_to_get_is_raced_for_by_two_of_a_side_at_most():
    one = eight_a_side()
    one.pursue(0.0, 0)
    races = one.players["duty"] == RACE
    for ours in (True, False):
        assert 1 <= sum(races[i] and one.with_ball(i) == ours for i in range(len(races))) <= 2


def test_a_second_goes_for_a_loose_ball_only_if_he_is_near():
    racing = []
    for second, near in ((0.5, 2.0), (0.0, 0.0)):
        one = scene(loose_second=second, loose_near=near, arrival_noise=0.0).carrier(at=(-20.0, 0.0))
        one.opponent(at=(-1.0, 3.0)).opponent(at=(-1.0, -3.3))
        one.rolling((0.0, 0.0), 0.0, 2.5, deceleration=1.3)
        one.ball["meant_for"] = one.ball["passer"] = NOBODY
        one.pursue(0.0, 0)
        racing.append(int(sum(one.players["racing"][1:3])))
    assert racing == [2, 1]


def cut_out(win_share: float) -> tuple[int, float, float]:
    """(who has a pass along the x axis first, when, how fast he then is): a defender beside the lane is there in good time."""
    one = (
        scene(win_share=win_share, arrival_noise=0.0)
        .carrier(at=(0.0, 0.0))
        .mate(at=(22.0, 0.0))
        .opponent(at=(15.0, 3.0))
    )
    one.rolling((0.0, 0.0), 0.0, 13.0)
    for name, value in {"passer": 0, "meant_for": 1, "target_x": 22.0, "arrives_at": 2.6, "pace": 1.0}.items():
        one.ball[name] = value
    who, when = one.pursue(0.0, 1)
    return who, when, math.hypot(*one.where(who, when)[2:])


def test_a_pass_is_won_where_the_run_to_it_is_slowest():
    soonest, easiest = cut_out(0.0), cut_out(0.8)
    assert soonest[0] == easiest[0] == 2
    assert easiest[1] > soonest[1]
    assert easiest[2] < 0.6 * soonest[2]


def test_who_does_not_race_sets_off_by_the_kick():
    began = []
    for read in (0.0, 0.2):
        one = scene(follow_read=read, reaction_least=0.3).carrier(at=(0.0, 0.0)).mate(at=(14.0, 0.0))
        one.opponent(at=(20.0, 12.0)).opponent(at=(60.0, 0.0))
        one.players["reaction_sd"] = 1e-6
        one.rolling((0.0, 0.0), 0.0, 13.0)
        for name, value in {"passer": 0, "meant_for": 1, "target_x": 14.0, "arrives_at": 1.4, "pace": 1.0}.items():
            one.ball[name] = value
        one.pursue(0.0, 1)
        assert not one.players["racing"][2]
        began.append(next(0.01 * k for k in range(100) if math.hypot(*one.where(2, 0.01 * k)[2:]) > 0.05))
    assert began[0] - began[1] == pytest.approx(0.2, abs=0.015)
