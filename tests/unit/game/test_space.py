"""Area per player: who is counted, who is named apart."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.game.loader import load_game
from sim.game.space import rooms

CASES = Path(__file__).resolve().parents[2] / "cases"


def test_outside_players_of_a_keep_ball_are_counted():
    (room,) = rooms(load_game("tight-square"))
    assert room.per_player_m2 == pytest.approx(11 * 11 / 6)


def test_either_square_holds_its_own_supports_and_the_chasers():
    west, east = rooms(load_game("two-squares"))
    assert west.counted == ("squad-1", "squad-11", "squad-12", "squad-13", "squad-2", "squad-3", "squad-4", "squad-5")
    assert len(east.counted) == 8
    assert west.per_player_m2 == pytest.approx(14 * 14 / 8)


def test_keepers_are_named_apart():
    (room,) = rooms(load_game("even-goals"))
    assert room.per_player_m2 == pytest.approx(42 * 30 / 10)
    assert room.keepers == ("amber-6", "slate-6")


def test_floaters_count_inside_and_not_on_the_lines():
    (inside,) = rooms(load_game("even-keep-ball"))
    (outside,) = rooms(load_game("even-keep-ball", ["roles.floater.style=edge"]))
    assert (len(inside.counted), inside.outside_floaters) == (10, ())
    assert (len(outside.counted), outside.outside_floaters) == (8, ("white-1", "white-2"))
    assert outside.per_player_m2 == pytest.approx(30 * 24 / 8)


def test_only_where_both_sides_are():
    # At the start of the home grids nobody of the team at home in the east defends there.
    (room,) = rooms(load_game("home-grids"))
    assert (room.area, len(room.counted)) == ("west", 9)
