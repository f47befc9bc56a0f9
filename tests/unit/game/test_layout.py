"""Where areas and goals lie."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from sim.game.loader import load_game, resolve

CASES = Path(__file__).resolve().parents[2] / "cases"


def short_pair() -> dict:
    text = (CASES / "invalid" / "area-overlap.toml").read_text(encoding="utf-8")
    data = tomllib.loads(text) | {"units": "metres"}
    data["areas"] = {"west": {"length": 14, "width": 12}, "east": {"length": 10, "width": 16}}
    return data


def centres(data: dict) -> dict:
    return {area.name: (area.x, area.y) for area in resolve(data, "pair").areas}


@pytest.mark.parametrize(
    ("on", "west", "east"),
    [  # by hand: sizes 14 x 12 and 10 x 16, gap 6, the rectangle around both centred on the origin
        ("east", (-8.0, 0.0), (10.0, 0.0)),
        ("west", (8.0, 0.0), (-10.0, 0.0)),
        ("north", (0.0, -11.0), (0.0, 9.0)),
        ("south", (0.0, 11.0), (0.0, -9.0)),
    ],
)
def test_beside(on, west, east):
    data = short_pair()
    data["areas"]["east"] |= {"beside": "west", "on": on, "gap": 6}
    assert centres(data) == {"west": west, "east": east}


def test_the_order_in_the_file_does_not_matter_to_a_chain():
    data = short_pair()
    areas = data["areas"]
    data["areas"] = {"east": areas["east"] | {"beside": "west", "on": "east", "gap": 6}, "west": areas["west"]}
    assert centres(data) == {"west": (-8.0, 0.0), "east": (10.0, 0.0)}


def test_a_layout_is_the_same_wherever_its_centres_were_measured_from():
    here, there = short_pair(), short_pair()
    for data, x in ((here, 0), (there, 123.4)):
        data["areas"]["west"]["centre"] = [x, 5]
        data["areas"]["east"]["centre"] = [x + 18, 5]
    assert centres(here) == centres(there) == {"west": (-8.0, 0.0), "east": (10.0, 0.0)}


def test_mirrored_files_are_exactly_mirrored():
    east, west = short_pair(), short_pair()
    for data, on in ((east, "east"), (west, "west")):
        data["units"] = "yards"
        data["areas"]["east"] |= {"beside": "west", "on": on, "gap": 7.3}
    assert {name: (-x, y) for name, (x, y) in centres(west).items()} == centres(east)


@pytest.mark.parametrize(("length", "gap", "x"), [(8.4, 16.9, 15.8), (24.1, 0.0, -3.3), (23.0, 4.6, 26.7)])
def test_two_equal_squares_lie_exactly_alike(length, gap, x):
    # Measured from far off: without rounding, the two sides end a last digit apart.
    data = short_pair() | {"units": "yards"}
    square = {"length": length, "width": length}
    data["areas"] = {"west": square | {"centre": [x, 0]}, "east": square | {"beside": "west", "on": "east", "gap": gap}}
    (west, _), (east, _) = centres(data).values()
    assert west == -east


def test_a_goal_by_its_centre_moves_with_the_areas():
    data = short_pair()
    data["areas"]["east"] |= {"beside": "west", "on": "east", "gap": 6}
    # The west square is measured from its own middle, which comes to lie 8 m west of the origin.
    data["goals"] = {"far": {"centre": [-7, 1], "end": "west", "width": 2}}
    (goal,) = resolve(data, "pair").goals
    assert (goal.x, goal.y) == (-15.0, 1.0)


def test_goals_stand_at_their_end():
    goals = {goal.name: goal for goal in load_game("break-away").goals}
    assert (goals["west-goal"].x, goals["west-goal"].y, goals["west-goal"].end) == (-28.0, 0.0, "west")
    assert (goals["east-goal"].x, goals["east-goal"].y, goals["east-goal"].end) == (28.0, 0.0, "east")


def test_a_goal_behind_the_end_and_the_default_size():
    game = load_game(CASES / "valid" / "yards-and-goals.toml")
    left = next(goal for goal in game.goals if goal.name == "left")
    # 30 yards to the end and 1 beyond; a yard is 0.9144 m (international yard, 1959)
    assert left.x == pytest.approx(-31 * 0.9144, abs=1e-9)
    # Laws of the Game, law 1: 7.32 m by 2.44 m, whatever the unit of the file
    assert (left.width, left.height) == (7.32, 2.44)


def test_yards_apply_to_lengths_only():
    game = load_game(CASES / "valid" / "yards-and-goals.toml")
    assert game.area("ground").length == pytest.approx(60 * 0.9144)
    assert game.area("ground").run_off == pytest.approx(4 * 0.9144)
    assert game.area("box").run_off == 3.0  # the default is in metres
    assert game.restart("start").seconds == 7.0
    assert game.hold_limit_s == 5.0
    assert game.bouts.seconds == 360.0
