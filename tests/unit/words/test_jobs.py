"""Jobs: whatever a rule needs somebody to count or to call stands with one person, read off the game."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.game.shipped import shipped_games
from sim.game.verbs import OpenWindow, Swap
from sim.words.jobs import jobs


def said(name: str, *changes: str) -> str:
    return "\n".join(jobs(load_game(name, changes)))


@pytest.mark.parametrize("name", shipped_games())
def test_everything_that_is_counted_stands_with_somebody(name: str):
    game = load_game(name)
    found = "\n".join(jobs(game))
    assert f"The timekeeper counts aloud, from the moment a player has the ball: after {game.hold_limit_s:g} s" in found
    rules = [rule for phase in game.phases for rule in phase.rules]
    doing = [action for rule in rules for action in rule.do]
    clocks = [rule for rule in rules if rule.on == "time"]
    assert found.count("The timekeeper calls") == len(clocks)
    assert all(f" {rule.count:g} s: " in found for rule in clocks)
    windows = [one for one in doing if isinstance(one, OpenWindow) and one.unit == "seconds"]
    assert all(f"{one.length:g} s to win it back" in found for one in windows)
    assert ("passes in a row, aloud" in found) is (
        any(one.on == "passes" for one in rules) or game.win.confirm == "passes"
    )
    longest = any(isinstance(one, Swap) and one.other == "longest in" for one in doing)
    assert ("remembers who has been in longest" in found) is longest


def test_the_limit_and_the_waits_are_those_of_the_game():
    assert "after 9 s it is lost" in said("tight-square", "hold_limit_seconds=9")
    assert "(he counts the 7 s before it)" in said("tight-square", "restarts.start.seconds=4", "restarts.out.seconds=7")


def test_a_ball_won_by_holding_it_is_counted():
    found = said("even-keep-ball", "win.confirm=hold", "win.seconds=2")
    assert "from the moment an opponent has it: after 2 s it is won" in found


def test_where_nobody_serves_two_people_do():
    found = jobs(load_game("even-goals", ["restarts.start.from=line"]))
    assert found[0] == "Two people: coach and timekeeper." and not [one for one in found if one.startswith("Server")]
