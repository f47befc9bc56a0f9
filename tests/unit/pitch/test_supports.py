"""What players without the ball make of a situation: how fast a run is worth, who is minded first, where a line player belongs, and
how much room there is."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sim.evidence.conditions import Condition, game_of
from sim.game.loader import load_game
from sim.game.model import Game
from tests.support.scene import EDGE, FREE, NOBODY, SCORE, Scene, scene

CORNER = (-40.0, -40.0)


def held_by(game: Game, holder: str, places: dict[str, tuple[float, float]], **constants: float) -> Scene:
    """`holder` has the ball, players stand where `places` says, the others in a far corner."""
    one = scene(game, begun=True, **constants).put(places, elsewhere=CORNER)
    return one.held_by(one.index(holder))


def keep_ball() -> Game:
    return game_of(Condition("possession", ("areas.field.length=60", "areas.field.width=60"), "amateur men"))


def top_speed(one: Scene, i: int) -> float:
    return one.top_speed(i, 10.0, 0.05)


def offered(gap_m: float, draws: int = 150) -> tuple[float, float]:
    """(mean gain, mean top speed over way) of the runs of a supporter with an opponent `gap_m` from him, on the lane."""
    places = {"amber-1": (-10.0, 0.0), "amber-2": (10.0, 0.0), "slate-1": (10.0 - gap_m, 0.0)}
    one = held_by(keep_ball(), "amber-1", places, run_gain=1.0, walk=1.0, urgency_attack=1.5, pull=0.35)
    i = one.index("amber-2")
    gains, speeds = [], []
    for _ in range(draws):
        px, py, gain = one.look_around().offer(i, (-10.0, 0.0))
        one.think(i)
        way = math.hypot(px - 10.0, py)
        if way > 4.0:
            gains.append(gain)
            speeds.append(top_speed(one, i) / way)
        one.put(places, elsewhere=CORNER)
    return float(np.mean(gains)), float(np.mean(speeds))


def test_a_run_that_is_worth_more_is_made_faster():
    free, marked = offered(25.0), offered(4.0)
    assert marked[0] > free[0] + 1.0
    assert marked[1] > 2.0 * free[1]


def test_where_a_goal_is_attacked_the_man_inside_is_minded_before_the_one_on_the_line():
    game = game_of(Condition("goals-floaters", (), "elite men"))
    men = {
        "amber-1": (-10.0, 0.0),
        "white-1": (6.0, 16.5),
        "amber-2": (6.0, 3.0),
        "slate-2": (6.0, 5.0),
        "slate-1": (-8.0, 0.0),
    }

    def minded(outside_danger: float) -> str:
        one = held_by(game, "amber-1", men, outside_danger=outside_danger, tuck_in=0.5)
        one.play["aim"], one.play["goal_x"], one.play["goal_y"] = SCORE, 30.0, 0.0
        one.look_around()
        return one.bout.ids[one.covered_by(one.index("slate-2"), one.index("slate-1"), (-10.0, 0.0))]

    assert minded(1.0) == "white-1"  # whom he need not go far to mind, tucked in
    assert minded(0.25) == "amber-2"


def test_whoever_is_beaten_runs_back_the_faster_the_nearer_the_ball_is_to_goal_and_faster_after_a_loss():
    game = game_of(Condition("goals", ("areas.pitch.length=90", "areas.pitch.width=50"), "elite men"))
    for lost, ball, share in (
        (-1e9, 35.0, "recover_cap"),
        (-1e9, 10.0, "recover_least"),
        (0.0, 10.0, "transition_cap"),
    ):
        last = {"slate-3": (44.5, 5.0)}  # or the carrier would be through on goal
        one = held_by(game, "amber-1", {"amber-1": (ball, 0.0), "slate-2": (-30.0, 5.0)} | last)
        one.play["aim"], one.play["goal_x"], one.play["goal_y"], one.play["lost_at"] = SCORE, 45.0, 0.0, lost
        i = one.index("slate-2")
        one.look_around().cover(i, NOBODY, (ball, 0.0))
        assert top_speed(one, i) == pytest.approx(one.constants[share] * one.players["top_speed"][i], rel=0.01)


def test_a_line_player_who_is_off_his_line_goes_back_to_it():
    game = load_game("tight-square", ["areas.square.length=13", "areas.square.width=13"])
    one = scene(game, begun=True)
    line = [i for i, style in enumerate(one.players["style"]) if style == EDGE]
    here = one.places()
    here[line[1]] = (0.5, -0.5)  # he has won the ball inside and passed it on
    one.stand(*here).held_by(line[0]).think(line[1])
    x, y, _, _ = one.where(line[1], 6.0)
    assert max(abs(x), abs(y)) == pytest.approx(6.5 - 0.4, abs=0.05)
    assert len(one.ran(line[1], 6.0)) > 1


def test_half_of_the_room_about_a_line_player_lies_outside():
    for name, on_the_line in (("goals", 0), ("goals-floaters", 6)):
        game = game_of(Condition(name, ("areas.pitch.length=60", "areas.pitch.width=35"), "elite men"))
        one = scene(game, begun=True)
        inside = int(sum(one.players["style"] == FREE))
        assert int(sum(one.players["style"] == EDGE)) == on_the_line
        assert one.play["spacing"] == pytest.approx(math.sqrt(60.0 * 35.0 / (inside + 0.5 * on_the_line)))
