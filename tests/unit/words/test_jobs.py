"""Jobs: whatever a rule needs somebody to count or to call stands with one person, read off the game."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.game.shipped import shipped_games
from sim.game.sole import chosen_by_time
from sim.game.verbs import OpenWindow, Score
from sim.own_counts.columns import counts_of
from sim.words.by_hand import column_name
from sim.words.jobs import jobs


def said(name: str, *changes: str) -> str:
    return "\n".join(jobs(load_game(name, changes)))


@pytest.mark.parametrize("name", shipped_games())
def test_everything_that_is_counted_stands_with_somebody(name: str):
    game = load_game(name)
    found = jobs(game)
    said = "\n".join(found)
    rules = [rule for phase in game.phases for rule in phase.rules]
    doing = [action for rule in rules for action in rule.do]
    clocks = [rule for rule in rules if rule.on == "time"]
    assert said.count("Timekeeper, calls: ") == len(clocks)
    assert all(f" {rule.count:g} s: " in said for rule in clocks)
    windows = [one for one in doing if isinstance(one, OpenWindow) and one.unit == "seconds"]
    assert said.count("to win it back, from the moment") == len(windows)
    passes = (
        any(one.on == "passes" for one in rules) or game.win.confirm == "passes" or "longest_run" in counts_of(game)
    )
    assert ("aloud: the passes in a row" in said) is passes
    assert all(f"aloud: the {one.name} count" in said for one in game.counters)
    assert ("who has been in longest" in said) is chosen_by_time(game)
    (paper,) = [line for line in found if "On paper" in line]
    assert all(column_name(one) in paper for one in counts_of(game))
    assert ("points in strokes" in paper) is any(isinstance(one, Score) for one in doing)


@pytest.mark.parametrize("name", shipped_games())
def test_nobody_counts_two_things_aloud(name: str):
    aloud = [line.partition(", aloud: ")[0] for line in jobs(load_game(name)) if ", aloud: " in line]
    assert len(aloud) == len(set(aloud))
    assert not [line for line in jobs(load_game(name)) if ", aloud: " in line and " and the " in line]


def test_what_nobody_can_count_is_told():
    said = "Nobody counts the 9 s on the ball: the coach calls it when somebody plainly holds it too long."
    assert said in jobs(load_game("tight-square", ["hold_limit_seconds=9"]))


def test_the_waits_are_those_of_the_game():
    assert "(he counts the 4 or 7 s before it)" in said(
        "tight-square", "restarts.start.seconds=4", "restarts.out.seconds=7"
    )


def test_a_ball_won_by_holding_it_is_counted_by_who_counts_no_passes():
    found = jobs(load_game("even-keep-ball", ["win.confirm=hold", "win.seconds=2"]))
    assert "Timekeeper, aloud: 2 s from the moment an opponent has it, then it is won." in found
    assert "Coach, aloud: the passes in a row (the server's ball is none)." in found


def test_a_second_count_goes_to_the_next_who_has_none():
    found = jobs(load_game("no-way-back"))
    assert "Coach, aloud: the over count." in found
    assert "Timekeeper, aloud: the passes in a row, for the longest run." in found


def test_where_nobody_serves_two_people_do():
    found = jobs(load_game("even-goals", ["restarts.start.from=line"]))
    assert found[0] == "Two people: coach and timekeeper." and not [one for one in found if one.startswith("Server")]
