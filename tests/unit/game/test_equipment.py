"""Equipment counted by hand from the game files: a cone at each corner, along a line one where it is longer than 15 m."""

from __future__ import annotations

import pytest

from sim.game.equipment import Bibs, equipment_of, in_mouth, server_needed
from sim.game.loader import load_game
from sim.geometry import corners
from tests.support.games import GAMES

# game: corners, cones along lines, bibs, keepers, balls; read off the files with a pencil.
BY_HAND = {
    # 11 x 11 m: no line of more than 15 m; two inside
    "tight-square": (4, 0, (Bibs(2, None, "inside"),), 0, 8),
    # two of 14 x 14 m, 8 m apart: nothing shared; three chasers
    "two-squares": (8, 0, (Bibs(3, None, "chasers"),), 0, 10),
    # two of 18 x 18 m: one more on each of the eight lines
    "home-grids": (8, 8, (Bibs(6, "amber", None), Bibs(6, "slate", None)), 0, 10),
    # 56 x 36 m: three more on each long line, two on each short one (12 and 24 m, beside the goal); 20 x 20 m in it: four more
    "break-away": (8, 14, (Bibs(3, None, "hunters"),), 2, 12),
    # 42 x 30 m: two more on each long line; the middle of each short one is in the goal
    "even-goals": (4, 4, (Bibs(5, "amber", None), Bibs(5, "slate", None)), 2, 10),
    # 30 x 24 m: one more on each line
    "even-keep-ball": (4, 4, (Bibs(4, "amber", None), Bibs(4, "slate", None), Bibs(2, "white", None)), 0, 8),
}


@pytest.mark.parametrize("name", GAMES)
def test_the_equipment_of_every_shipped_game_is_what_was_counted_by_hand(name: str):
    found = equipment_of(load_game(name))
    assert (found.corners, found.between, found.bibs, found.keepers, found.balls) == BY_HAND[name]
    assert found.cones == found.corners + found.between


def test_areas_that_touch_share_the_cones_of_their_line():
    apart = equipment_of(load_game("two-squares", ["areas.east.gap=8"]))
    touching = equipment_of(load_game("two-squares", ["areas.east.gap=0"]))
    assert (apart.corners, touching.corners) == (8, 6)


def test_a_line_of_fifteen_metres_needs_none_and_a_longer_one_does():
    assert equipment_of(load_game("tight-square", ["areas.square.length=15", "areas.square.width=15"])).between == 0
    assert equipment_of(load_game("tight-square", ["areas.square.length=16", "areas.square.width=15"])).between == 2


def test_no_cone_stands_in_a_goal():
    game = load_game("even-goals")
    west, south, _, _ = game.areas[0].bounds
    goal = next(one for one in game.goals if one.end == "west")
    assert in_mouth(goal, (west, goal.y + goal.width / 2)) and not in_mouth(goal, (west, goal.y + goal.width / 2 + 0.1))
    assert not in_mouth(goal, (west + 1.0, goal.y)) and (west, south) in corners(game.areas[0].bounds)


def test_a_server_is_needed_where_anything_comes_from_one():
    assert server_needed(load_game("even-goals"))  # the first ball
    alone = load_game("even-goals", ["restarts.start.from=line"])
    assert not server_needed(alone)


def test_gates_and_lines_of_zones_have_cones_and_no_line_has_two_sets():
    gates = equipment_of(load_game("four-gates"))  # 34 x 28 m: two on each long line, one on each short one
    assert (gates.corners, gates.between) == (4 + 8, 2 * 2 + 2 * 1)
    thirds = equipment_of(
        load_game("locked-thirds")
    )  # 54 x 32 m: three on each long line, two on each short one and inside
    assert (thirds.corners, thirds.between) == (4 + 4, 2 * 3 + 2 * 2 + 2 * 2)
