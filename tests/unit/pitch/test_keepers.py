"""A keeper stands between ball and goal, no wider than his posts, whichever end his goal is at."""

from __future__ import annotations

import math

import pytest

from sim.game.loader import load_game
from tests.support.games import FLIP
from tests.support.scene import scene

AWAY = {"west": (1, 0), "east": (-1, 0), "south": (0, 1), "north": (0, -1)}


def stands(end: str, ahead: float, beside: float) -> tuple[float, float]:
    """(metres off his line, metres from the middle of the mouth) for a ball so far ahead of his goal and to its side."""
    game = load_game("even-goals")
    inx, iny = AWAY[end]
    goal = game.goals[0].model_copy(update={"end": end, "x": -21.0 * inx, "y": -21.0 * iny, "name": "mine"})
    game = game.model_copy(update={"goals": (*game.goals, goal)})
    one = scene(game).keeper(0, "mine")
    bx, by = goal.x + ahead * inx + beside * abs(iny), goal.y + ahead * iny + beside * abs(inx)
    one.stand((goal.x + inx, goal.y + iny)).keep_goal(0, (bx, by))
    x, y, _, _ = one.where(0, 20.0)
    return (x - goal.x) * inx + (y - goal.y) * iny, (x - goal.x) * abs(iny) + (y - goal.y) * abs(inx)


@pytest.mark.parametrize("ball", [(20.0, 0.0), (10.0, 14.0), (0.5, 18.0), (0.5, -18.0), (38.0, 6.0)])
def test_all_four_ends_are_kept_alike(ball: tuple[float, float]):
    places = {end: stands(end, *ball) for end in FLIP}
    assert all(places[end] == pytest.approx(places["west"], abs=1e-9) for end in FLIP)


@pytest.mark.parametrize("end", sorted(FLIP))
def test_he_stays_between_his_posts_and_near_his_line(end: str):
    off, beside = stands(end, 0.3, 40.0)  # out of the sharpest angle a ball can come from
    assert abs(beside) <= 2.5 + 1e-9
    assert 0.0 <= off <= 3.0


def still_to_go(beside: float, t: float) -> float:
    """Metres that a keeper is off his place after t seconds, who has stood so far beside it with the ball 8 m in front of goal."""
    one = scene(load_game("even-goals")).keeper(0, "west-goal")
    goal = one.players[0]
    ball, off = (goal["goal_x"] + 8.0, goal["goal_y"]), 2.5
    one.stand((goal["goal_x"] + off, goal["goal_y"] + beside)).keep_goal(0, ball)
    x, y, _, _ = one.where(0, t)
    px, py, _, _ = one.where(0, 20.0)
    return math.hypot(px - x, py - y)


@pytest.mark.parametrize("beside", [1.0, 2.0])
def test_he_is_back_between_ball_and_goal_while_the_ball_is_brought_there(beside: float):
    assert still_to_go(beside, 1.2) < 0.1 * beside
