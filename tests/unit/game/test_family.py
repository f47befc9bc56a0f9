"""What kind of game it is follows from the rules; what older files say of it is not asked."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.evidence.tables import folder
from sim.experiments.stopping_rule import key_measure_of
from sim.game.family import family_of, sides_at_start
from sim.game.loader import load_game, resolve, to_resolved, to_short

SHIPPED = {
    "tight-square": "overload keep-ball",
    "two-squares": "transfer",
    "home-grids": "role swap",
    "break-away": "break-away",
    "even-goals": "even with goals",
    "even-keep-ball": "even keep-ball",
}
EVIDENCE = {
    "square": "overload keep-ball",
    "square-swap": "overload keep-ball",  # a loser who goes in makes no other kind of game
    "transfer": "transfer",
    "break-away": "break-away",
    "goals": "even with goals",
    "goals-floaters": "even with goals",
    "possession": "even keep-ball",
    "possession-floaters": "even keep-ball",
    "small-goals": "even with goals",
}


@pytest.mark.parametrize(("name", "family"), SHIPPED.items())
def test_a_shipped_game_is_what_its_rules_make_it(name, family):
    assert load_game(name).family == family


def test_every_evidence_game_is_what_its_rules_make_it():
    files = sorted((folder() / "games").glob("*.toml"))
    assert {file.stem: load_game(file).family for file in files} == EVIDENCE


@pytest.mark.parametrize("said", [*SHIPPED.values(), "anything"])
def test_a_file_that_still_says_its_kind_loads_and_is_what_its_rules_make_it(said):
    short = to_short(load_game("tight-square"))
    assert "family" not in short
    assert resolve(short | {"family": said}, "mine.toml") == resolve(short, "mine.toml")
    assert load_game(short | {"family": said}, ["side=12"]) == load_game(short, ["side=12"])


def test_the_resolved_form_may_not_lie_either():
    data = to_resolved(load_game("tight-square")) | {"family": "transfer"}
    with pytest.raises(InputError) as caught:
        load_game(data)
    assert [problem.partition(" ")[0] for problem in caught.value.problems] == ["family"]


@pytest.mark.parametrize(
    ("name", "changes", "family"),
    [
        ("tight-square", ["roles.inside.players=4"], "even keep-ball"),
        ("even-keep-ball", ["roles.player.players.slate=3"], "overload keep-ball"),
        ("even-goals", ["roles.outfield.players.slate=4"], "overload with goals"),
        ("even-goals", ["phases.play.open=[]", "phases.play.aim=keep", "phases.play.rules={}"], "even keep-ball"),
        ("two-squares", ["phases.keep.rules={}"], "overload keep-ball"),  # two squares, and never the ball across
        ("two-squares", ["phases.keep.open=['transfer']", "phases.keep.rules={}"], "transfer"),
        ("home-grids", ["phases.play.aim=keep", "phases.play.rules={}"], "even keep-ball"),
    ],
)
def test_another_rule_makes_another_kind_of_game(name, changes, family):
    assert load_game(name, changes).family == family


def test_keepers_floaters_and_those_who_wait_make_no_side_larger():
    assert sides_at_start(load_game("even-goals")) == {"amber": 5, "slate": 5}
    assert sides_at_start(load_game("even-keep-ball")) == {"amber": 4, "slate": 4}
    waiting = load_game("even-keep-ball", ["phases.keep.jobs={ player = 'wait in field' }"])
    assert sides_at_start(waiting) == {"amber": 0, "slate": 0}


def test_it_is_a_function_of_the_rules_alone():
    game = load_game("break-away")
    assert family_of(game.model_copy(update={"family": "transfer"})) == "break-away"


def test_a_game_to_goals_is_about_goals_with_any_numbers():
    assert key_measure_of(load_game("even-goals", ["roles.outfield.players.slate=4"])) == "goals_per_bout"
