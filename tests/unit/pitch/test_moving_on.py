"""Moves that go on: the ball taken on the move, a free player who drifts, and runs that start and stop by the speed they want."""

from __future__ import annotations

import math

import pytest

from sim.pitch import carrying, entries
from tests.support.scene import EDGE, FREE, Scene, scene


def speed(one: Scene, i: int, t: float) -> float:
    """m/s of player i at time t."""
    return math.hypot(*one.where(i, t)[2:])


def taken(style: int, way: tuple[float, float], at: tuple[float, float] = (0.0, 0.0)) -> Scene:
    """A player going `way` (m/s) takes a pass, nobody near."""
    one = scene().carrier(at=at, style=style)
    one.put_one(0, at, velocity=way)
    carrying.take_on(one.pitch, 0, 0.0)
    return one


@pytest.mark.parametrize("way", [(2.4, 0.0), (0.0, -2.0)])
def test_a_receiver_keeps_his_speed_and_his_way_for_the_next_half_second(way: tuple[float, float]):
    one, had = taken(FREE, way), math.hypot(*way)
    assert 0.9 * had < speed(one, 0, 0.5) < 1.25 * had
    x, y, _, _ = one.where(0, 0.5)
    assert (x * way[0] + y * way[1]) / had > 0.95 * math.hypot(x, y)


def test_who_stands_gets_under_way_with_the_ball_and_who_plays_on_a_line_stops():
    assert speed(taken(FREE, (0.0, 0.0), at=(9.0, 0.0)), 0, 0.8) > 0.8 * scene().constants["dribble"]
    assert speed(taken(EDGE, (2.5, 0.0)), 0, 1.2) == 0.0


def idle(**constants: float) -> Scene:
    """A mate of the carrier who has no reason to be anywhere else, an opponent to one side of him."""
    one = scene(**{"move_cost": 0.8, "pull": 0.7, "run_noise": 0.0} | constants)
    one.carrier(at=(0.0, 0.0)).mate(at=(0.0, 15.0)).opponent(at=(-6.0, 15.0))
    shape = entries.shape_point(*one.bout.arrays, 1, 0.0, 0.0)
    one.put_one(0, (shape[0], shape[1] - 15.0))
    one.put_one(1, shape)
    one.put_one(2, (shape[0] - 12.0, shape[1]))
    one.held_by(0).look_around().think(1)
    return one


def test_a_free_player_with_nowhere_better_to_be_keeps_moving_across_the_line_from_the_ball():
    one = idle(drift=1.1)
    x0, y0, _, _ = one.where(1, 0.0)
    x, y, vx, vy = one.where(1, 0.9)
    assert math.hypot(vx, vy) == pytest.approx(one.constants["drift"], abs=0.05)
    assert x - x0 > 0.4  # away from his opponent
    assert abs(y - y0) < 0.1
    standing = idle(drift=0.0)
    assert speed(standing, 1, 0.9) < 0.1


def ordinary(way: float, cap: float, effort: float = 0.8) -> list:
    """The segments of a run over so many metres."""
    one = scene().stand((0.0, 0.0))
    one.run(0, 0.0, 0.0, to=(way, 0.0), cap=cap, effort=effort)
    return list(one.ran(0, 60.0))


def braking(rows: list) -> float:
    """m/s2, of the last segment in which he moves."""
    return -min(float(row["ax"]) for row in rows)


def test_an_ordinary_run_ends_gently_the_harder_the_faster_and_shorter_it_is():
    ours = scene()
    gentle, over = ours.constants["brake_gentle"], ours.constants["brake_over"]
    assert braking(ordinary(30.0, 2.0)) == pytest.approx(gentle)
    assert braking(ordinary(12.0, 5.0)) == pytest.approx(25.0 / (2.0 * over * 12.0))
    assert braking(ordinary(6.0, 5.0)) > braking(ordinary(12.0, 5.0))
    assert braking(ordinary(30.0, 5.0, effort=1.0)) == pytest.approx(float(ours.players["braking"][0]))


def test_who_is_too_fast_to_stop_gently_brakes_as_hard_as_it_takes():
    one = scene()
    one.put_one(0, (0.0, 0.0), velocity=(4.0, 0.0))
    one.run(0, 0.0, 0.0, to=(4.0, 0.0), cap=4.0, effort=0.8)
    assert one.where(0, 9.0)[:2] == pytest.approx((4.0, 0.0), abs=1e-6)
    assert braking(list(one.ran(0, 9.0))) == pytest.approx(16.0 / (2.0 * one.constants["brake_over"] * 4.0), rel=0.3)


def started(way: float, factor: float) -> tuple[float, float]:
    """(push at the start in m/s2, top speed in m/s) of an ordinary run by the law of urgency."""
    one = scene(push_least=0.1).stand((0.0, 0.0))
    one.move(0, to=(way, 0.0), factor=factor, cap=9.0)
    fastest = one.top_speed(0, 20.0, 0.02)
    return float(one.ran(0, 30.0)[0]["ax"]), fastest


def test_a_run_is_started_in_proportion_to_the_speed_wanted():
    slow, fast = started(20.0, 12.0), started(20.0, 6.0)
    assert fast[1] / slow[1] == pytest.approx(2.0, rel=0.05)
    assert fast[0] / slow[0] == pytest.approx(2.0, rel=0.05)


def at_the_line(**constants: float) -> float:
    """How far (m) over the line a player runs on who takes a pass two metres inside it, on his way out."""
    one = scene(**constants)
    line = float(one.play["east"] - one.play["run_off"])
    one.carrier(at=(line - 2.0, 0.0))
    one.put_one(0, (line - 2.0, 0.0), velocity=(4.5, 0.0))
    carrying.take_on(one.pitch, 0, 0.0)
    return max(one.where(0, 0.1 * k)[0] for k in range(20)) - line


def test_who_takes_the_ball_on_his_way_over_a_line_pulls_up_as_hard_as_he_can():
    assert at_the_line() < at_the_line(line_ahead=0.0) - 0.1
