"""A keeper stands between ball and goal, no wider than his posts, whichever end his goal is at."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.pitch import columns as col
from sim.pitch.assignment import assign_start
from sim.pitch.defending import keep_goal
from sim.pitch.engine import race
from sim.pitch.moves import where
from sim.pitch.setup import keeper_zone
from sim.pitch.state import Bout
from sim.players import typical_roster
from tests.support.scenes import FLIP, place

AWAY = {"west": (1, 0), "east": (-1, 0), "south": (0, 1), "north": (0, -1)}


def stands(end: str, ahead: float, beside: float) -> tuple[float, float]:
    """(metres off his line, metres from the middle of the mouth) for a ball so far ahead of his goal and to its side."""
    game = load_game("even-goals")
    inx, iny = AWAY[end]
    goal = game.goals[0].model_copy(update={"end": end, "x": -21.0 * inx, "y": -21.0 * iny, "name": "mine"})
    game = game.model_copy(update={"goals": (*game.goals, goal)})
    bout = Bout(game, typical_roster(game), 1, 0, 0, race)
    assign_start(bout)
    P, B = bout.P, bout.B
    P[0, col.SIDE], P[0, col.STYLE] = 7.0, col.GOAL  # of no side that has the ball
    keeper_zone(game, "mine", P[0])
    bx, by = goal.x + ahead * inx + beside * abs(iny), goal.y + ahead * iny + beside * abs(inx)
    place(bout, [(goal.x + inx, goal.y + iny)] + [(0.0, 0.0)] * (len(game.players) - 1))
    keep_goal(P, bout.M, B, bout.C, bout.G, bout.count, 0, 0.0, 0.0, bx, by)
    x, y, _, _ = where(P, bout.M, 0, 20.0)
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
