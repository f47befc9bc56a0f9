"""A goal has a front: nobody shoots at it from behind, and whoever is behind all of them plays round one."""

from __future__ import annotations

import pytest

from sim.game.loader import resolve
from sim.game.model import Game
from sim.pitch.engine import play_bout
from sim.pitch.goals import in_front
from sim.players import draw_roster
from tests.support.scene import scene
from tests.theory.games import events_of, merged, of_kind

ENDS = {"west": (1, 0), "east": (-1, 0), "south": (0, 1), "north": (0, -1)}


def gates(goals: dict[str, dict], **more: object) -> Game:
    """Five against five in a field with goals standing in it, open to both."""
    short = {
        "format": 1,
        "title": "Gates",
        "purpose": "Find the open one.",
        "bouts": {"count": 1, "minutes": 3},
        "start": {"side": "amber"},
        "areas": {"field": {"length": 32, "width": 26}},
        "goals": goals,
        "teams": {"amber": {}, "slate": {}},
        "roles": {"player": {"side": "team", "style": "free", "place": "field", "players": {"amber": 5, "slate": 5}}},
        "phases": {"play": {"aim": "goal", "open": ["shoot"]}},
        "restarts": {"out": {"to": "other", "seconds": 2}},
        "supply": {"balls": 100},
    }
    return resolve(merged(short, more), "gates")


BACK_TO_BACK = {
    "left": {"centre": [-6, 0], "end": "east", "width": 3},
    "right": {"centre": [6, 0], "end": "west", "width": 3},
}
ONE = {"only": {"centre": [0, 0], "end": "north", "width": 4}}


@pytest.mark.parametrize("goals", [BACK_TO_BACK, ONE], ids=["back to back", "one"])
def test_every_shot_comes_from_the_front(goals):
    game = gates(goals)
    shots = 0
    for seed in range(8):
        for shot in of_kind(events_of(play_bout(game, draw_roster(game, seed, 0), seed)), "shot"):
            ahead = [goal for goal in game.goals if in_front(goal, shot["x"], shot["y"])]
            assert any(
                abs(((goal.x - shot["x"]) ** 2 + (goal.y - shot["y"]) ** 2) ** 0.5 - shot["value"]) < 1e-9
                for goal in ahead
            )
            shots += 1
    assert shots > 16  # two a bout: goals inside the field are found


@pytest.mark.parametrize("end", sorted(ENDS))
def test_from_behind_there_is_no_chance_and_from_in_front_there_is(end: str):
    game = gates({"only": {"centre": [0, 0], "end": end, "width": 4}})
    dx, dy = ENDS[end]
    one = scene(game).held_by(0)
    for metres, chance in ((6.0, True), (0.4, True), (0.0, False), (-0.3, False), (-6.0, False)):
        one.stand((metres * dx, metres * dy)).aim()
        assert (one.goal_chance(0) > 0.0) is chance
        x, y = one.play["goal_x"], one.play["goal_y"]
        ahead = (x * dx + y * dy, x * dy + y * dx)
        assert ahead == pytest.approx((0.0 if chance else 3.0, 0.0))  # from behind, for the way round it


def test_a_goal_he_is_in_front_of_goes_before_a_nearer_one_he_is_behind():
    game = gates(
        {"near": {"centre": [-2, 0], "end": "west", "width": 3}, "far": {"centre": [12, 0], "end": "east", "width": 3}}
    )
    one = scene(game).held_by(0)
    for x, attacked in ((-4.0, 12.0), (-1.0, -2.0), (11.0, 12.0)):
        one.stand((x, 0.0)).aim()
        assert one.play["goal_x"] == attacked
