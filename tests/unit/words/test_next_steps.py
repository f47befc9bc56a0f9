"""What an estimate proposes next is asked of this game, and nothing is promised that the answer does not say."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest

from sim.experiments.adjust import GOALS
from sim.experiments.everyday import target_of
from sim.experiments.key_measures import aims_of, keys_of
from sim.game.loader import load_game
from sim.words.commands import Given, with_tweak
from sim.words.next_steps import after_estimate, main_measure
from tests.unit.experiments.test_result import result_of
from tests.unit.measures.handmade import square_game

NOTEBOOKS = Path(__file__).parents[3] / "notebooks"
GAME = square_game()
GIVEN = Given(
    "estimate", "./my game.toml", ("bouts.count=3",), "women", "own.toml", 4, question=(("--precision", "5%"),)
)
PLAYERS = "--population women --assumptions own.toml --seed 4"


def with_rows(**means):
    found = result_of(GAME)
    rows = [replace(row, mean=means.get(row.measure, row.mean)) for row in found.measures]
    return replace(found, measures=tuple(rows))


@pytest.mark.parametrize(
    ("means", "aim"),
    [
        ({"chance_someone_defends_over_60": 0.5, "in_play_share": 0.5}, "defending=less"),
        ({"chance_someone_defends_over_60": 0.1, "in_play_share": 0.5}, "rolling=more"),
        ({"chance_someone_defends_over_60": 0.1, "in_play_share": 0.9}, "losses=more"),
    ],
)
def test_no_change_is_proposed_that_the_answer_does_not_know_to_help(means, aim):
    lines = after_estimate(with_rows(**means), GAME, GIVEN)
    assert lines[1] == f"  overload adjust './my game.toml' --set bouts.count=3 --aim {aim} {PLAYERS}"
    assert "count=5" not in lines[1] and "seconds" not in lines[1] and lines[0].startswith("Try next, to see ")
    assert after_estimate(with_rows(**means), GAME, None) == [f"{lines[0][:-1]}: adjust to {aim}."]


def test_sharing_the_defending_is_proposed_only_where_roles_change_hands():
    phases = tuple(
        phase.model_copy(update={"rules": tuple(
            rule.model_copy(update={"do": tuple(one for one in rule.do if one.verb not in ("swap", "trade", "assign"))})
            for rule in phase.rules
        )})
        for phase in GAME.phases
    )  # fmt: skip
    settled = GAME.model_copy(update={"phases": phases})
    often = {"chance_someone_defends_over_60": 1.0}
    assert "--aim defending=less" in after_estimate(with_rows(**often), GAME, GIVEN)[1]
    assert "--aim rolling=more" in after_estimate(with_rows(in_play_share=0.5, **often), settled, GIVEN)[1]
    assert "--aim losses=more" in after_estimate(with_rows(in_play_share=0.9, **often), settled, GIVEN)[1]
    listed = settled.model_copy(update={"bouts": settled.bouts.model_copy(update={"rotate": "list"})})
    assert "--aim defending=less" in after_estimate(with_rows(**often), listed, GIVEN)[1]


@pytest.mark.parametrize("name", ["tight-square", "two-squares", "break-away", "even-goals", "home-grids"])
def test_what_is_asked_about_can_be_aimed_at(name):
    game = load_game(name)
    measure, scope, _ = target_of(f"{main_measure(game)}=more", game, aims_of(game), "--aim", GOALS)
    assert (measure, scope) in keys_of(game)


def test_a_change_takes_the_place_of_what_was_set_and_the_question_can_be_asked_again():
    assert with_tweak(("a=1", "b=2"), ("a=3",)) == ("b=2", "a=3")
    assert GIVEN.about("estimate", changes=("bouts.count=5",)) == (
        f"overload estimate './my game.toml' --set bouts.count=5 {PLAYERS}"
    )
    assert GIVEN.again(("--bouts", 9)) == (
        f"overload estimate './my game.toml' --set bouts.count=3 --precision 5% --bouts 9 {PLAYERS}"
    )
    assert Given("why", "x", question=(("--screen", True), ("--key", ("a=1", "b=2")), ("--save", None))).again() == (
        "overload why x --screen --key a=1 --key b=2"
    )


@pytest.mark.parametrize("file", sorted(NOTEBOOKS.glob("*.ipynb")), ids=lambda one: one.stem)
def test_what_a_notebook_tells_to_write_is_accepted(file):
    """Players it names in `[players.ID]` are the game's; keys it names beside them are legal; its commands can be read."""
    cells = json.loads(file.read_text(encoding="utf-8"))["cells"]
    text = "".join("".join(cell["source"]) + "\n" for cell in cells if cell["cell_type"] == "markdown")
    for player in re.findall(r"\[players\.([^\]]+)\]", text):
        assert player in {one.id for one in load_game("tight-square").players}
    for key, value in (("pass_success", "0.9"), ("pressing_speed", "3.0"), ("recovery", "60")):
        if f"`{key}`" in text:
            load_game("tight-square", [f"players.squad-1.{key}={value}"])
    for command in re.findall(r"`overload adjust (\S+) --set (\S+) --aim (\S+)`", text):
        game = load_game(command[0], [command[1]])
        target_of(command[2], game, aims_of(game), "--aim", GOALS)
