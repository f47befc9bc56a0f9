"""The first line of a screen says how a game is set up, for every shipped game."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.words.setting_up import question_line, set_up, spelt_time, time_of


@pytest.mark.parametrize(
    ("game", "said"),
    [
        ("tight-square", "4 v 2, 11 x 11 m, two touches"),
        ("two-squares", "10 v 3, two 14 x 14 m, three touches"),
        ("home-grids", "6 v 6, two 18 x 18 m, three touches"),
        ("break-away", "6 v 3 + keepers, 20 x 20 m in 56 x 36 m, two touches"),
        ("even-goals", "5 v 5 + keepers, 42 x 30 m"),
        ("even-keep-ball", "4 v 4 + 2, 30 x 24 m, two touches"),
    ],
)
def test_numbers_ground_and_touches(game, said):
    assert set_up(load_game(game)) == said


def test_what_was_asked_stands_after_it():
    game = load_game("tight-square", ["roles.outside.touches=1"])
    assert question_line(game, "8 bouts of 2 min") == "Lose it and go in: 4 v 2, 11 x 11 m, one touch; 8 bouts of 2 min"


def test_roles_with_limits_of_their_own_and_other_units():
    game = load_game("two-squares", ["roles.west.touches=2", "areas.east.length=20"])
    assert set_up(game) == "10 v 3, 14 x 14 m and 20 x 14 m, two to three touches"
    yards = load_game("tight-square", ["units=yards", "areas.square.length=12", "areas.square.width=11"])
    assert set_up(yards, "yd") == "4 v 2, 12 x 11 yd, two touches"


@pytest.mark.parametrize(
    ("seconds", "short", "spelt"),
    [
        (120, "2 min", "two minutes"),
        (60, "1 min", "a minute"),
        (90, "1.5 min", "90 seconds"),
        (45, "45 s", "45 seconds"),
    ],
)
def test_how_long_a_bout_is(seconds, short, spelt):
    assert (time_of(seconds), spelt_time(seconds)) == (short, spelt)
