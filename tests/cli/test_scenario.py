"""What a command is asked about: the game as typed, and how more changes come on top."""

from __future__ import annotations

from pathlib import Path

from cli.scenario import scenario_of
from sim.experiments.levers import unit_of
from sim.words.commands import USUAL_SEED


def test_a_change_on_top_takes_the_place_of_one_of_the_same_key():
    typed = scenario_of("tight-square", 1, None, ["areas.square.length=9", "roles.outside.touches=1"])
    more = typed.with_changes(["areas.square.length=12"])
    assert more.changes == ("roles.outside.touches=1", "areas.square.length=12")
    assert (typed.load().area("square").length, typed.load(["areas.square.length=12"])) == (9, more.load())


def test_another_game_is_loaded_with_the_same_changes_and_players():
    typed = scenario_of("tight-square", 3, "U12", ["bouts.count=2"])
    other = typed.of_game("two-squares").load()
    assert (other.name, other.bouts.count, {team.population for team in other.teams}) == ("two-squares", 2, {"U12"})


def test_a_file_in_metres_is_in_metres_where_that_is_set_once_more():
    for unit, said in (("metres", "m"), ("yards", "yd")):
        typed = scenario_of("tight-square", 1, None, [f"units={unit}"])
        assert unit_of(typed.load(), typed.load) == said


def test_how_it_was_typed_is_how_it_is_said_again():
    typed = scenario_of("tight-square", USUAL_SEED + 1, "U12", ["side=9"], Path("our own.toml"))
    assert typed.given("tune", ("--bouts", 40), ("--details", True)).again() == (
        "overload tune tight-square --set side=9 --bouts 40 --details --population U12 "
        f"--assumptions 'our own.toml' --seed {USUAL_SEED + 1}"
    )
