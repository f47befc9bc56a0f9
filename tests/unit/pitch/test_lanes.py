"""The chance of a lane is worked out with short cuts; this holds it against the same without any."""

from __future__ import annotations

import math
import random
from statistics import NormalDist

import pytest

from sim.ball import time_to, travelled
from sim.game.loader import load_game
from sim.motion import judged_time_for, least_time, quick_time, time_for
from sim.pitch.passing_lanes import LANE_POINTS, LANE_SURE
from tests.support.scene import FREE, Scene, scene

LEFT_OUT = 3 / (1.0 + math.exp(LANE_SURE))  # of the chance, at most: three opponents, none of them worth a look


@pytest.fixture(scope="module")
def six() -> Scene:
    """Six players of the shipped square, three of them opponents of whoever has the ball, somewhere in it."""
    one = scene(load_game("tight-square"))
    one.players["style"], one.players["side"] = FREE, 0.0
    one.players["side"][3:] = 1.0
    return one.held_by(0)


def plainly(one: Scene, bx: float, by: float, tx: float, ty: float, pace: float, sigma: float) -> float:
    """The definition, every point of the lane and every opponent worked out."""
    gx, gy = tx - bx, ty - by
    length = math.hypot(gx, gy)
    ours, players = one.constants, one.players
    launch = one.struck(one.launch_speed(length, pace))
    chance = 1.0
    for j in range(len(players)):
        if one.with_ball(j):
            continue
        x, y, vx, vy = one.seen(j)
        near = min(max(((x - bx) * gx + (y - by) * gy) / length**2, 0.0), 1.0)
        if math.hypot(bx + near * gx - x, by + near * gy - y) > players["top_speed"][j] * length / 8.0 + 1.0:
            continue
        ahead = ((x - bx) * gx + (y - by) * gy) / length**2
        along = ahead * length
        off = abs((y - by) * gx - (x - bx) * gy) / length
        reacts = players["reaction"][j] - ours["anticipation"] * max(0.0, ours["read_share"] - 0.25)
        if (
            0.0 < ahead < 1.0 and along < travelled(launch, reacts)[0] and off < ours["body_near"]
        ):  # his body is in the way before he can react
            s = time_to(launch, along)
            across = ((y + vy * s - by) * gx - (x + vx * s - bx) * gy) / length
            miss = NormalDist(
                across, math.hypot(sigma * along, ours["lane_doubt"] * ours["step_speed"] * min(1.0, along))
            )
            chance *= 1.0 - (miss.cdf(ours["block_radius"]) - miss.cdf(-ours["block_radius"]))
        in_hand = []
        for q in range(LANE_POINTS):
            share = (q + 1) / LANE_POINTS
            there = one.quick(j, (x, y, vx, vy), (bx + share * gx, by + share * gy), ours["intercept_reach"]) + reacts
            doubt = math.hypot(ours["lane_doubt"], sigma * share * length / ours["lunge"])
            in_hand.append((there - time_to(launch, share * length)) / doubt)
        chance *= 1.0 / (1.0 + math.exp(-min(in_hand)))
    return chance


def test_short_cuts_do_not_change_the_chance_of_a_lane(six: Scene):
    lot = random.Random(5)
    blocked = 0
    for _ in range(3000):
        for j in range(len(six.players)):
            here, going = (lot.uniform(-9, 9), lot.uniform(-9, 9)), (lot.gauss(0, 2), lot.gauss(0, 2))
            six.show(j, here, going)
        where = [lot.uniform(-9, 9) for _ in range(4)]
        if math.hypot(where[0] - where[2], where[1] - where[3]) < 0.5:
            continue
        sigma = lot.choice((0.0, 0.05))
        pace = lot.choice((0.7, 1.0, 1.4))
        plain = plainly(six, *where, pace, sigma)
        lane = (where[:2], where[2:], pace, sigma)
        assert six.lane_chance(*lane) == pytest.approx(plain, abs=LEFT_OUT)
        floor = lot.random()
        assert (six.lane_chance(*lane, floor) < floor) == (plain < floor)
        blocked += plain < 0.5
    assert 300 < blocked < 2700


def test_a_passer_does_not_play_the_ball_into_the_body_in_front_of_him(six: Scene):
    six.look_around()
    for j in (3, 4, 5):
        six.show(j, (40.0, 40.0))

    def past(x: float, y: float, vy: float = 0.0) -> float:
        return six.show(3, (x, y), (0.0, vy)).lane_chance((0.0, 0.0), (10.0, 0.0), 1.0, 0.0)

    assert past(1.0, 0.0) < 0.3 < 0.6 < past(1.0, 1.2)
    assert past(-1.0, 0.0) > 0.9  # behind the ball
    six.show(3, (3.4, 0.0))  # behind the receiver
    assert six.lane_chance((0.0, 0.0), (2.5, 0.0), 1.6, 0.0) > 0.8
    assert past(1.0, 0.5, vy=-4.0) < past(1.0, 0.5) < past(1.0, 0.5, vy=4.0)  # stepping into the lane, or out of it


def test_a_judged_time_is_never_short_and_hardly_long():
    lot = random.Random(7)
    for _ in range(20000):
        vmax = lot.uniform(4.0, 11.0)
        run = (lot.uniform(0.01, 60.0), lot.uniform(0.0, 0.999 * vmax), vmax, 1.0 / lot.uniform(0.6, 1.8))
        true = time_for(*run)
        assert -1e-9 <= judged_time_for(*run) - true < 0.010


def test_the_least_time_is_under_the_quick_one_and_near_it():
    lot = random.Random(6)
    shares = []
    for _ in range(5000):
        run = (lot.uniform(-9, 9), lot.uniform(-9, 9), lot.gauss(0, 2), lot.gauss(0, 2), lot.uniform(0, 1.5))
        player = (lot.uniform(5, 9.5), 1.0 / lot.uniform(0.8, 1.4), lot.uniform(4, 7))
        least, quick_one = least_time(*run, *player), quick_time(*run, *player)
        assert least <= quick_one
        if quick_one > 0.0:
            shares.append(least / quick_one)
    assert sum(shares) / len(shares) > 0.8
