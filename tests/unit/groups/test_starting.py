"""A file from the coach's numbers: short, valid, and of just these numbers."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.errors import InputError
from sim.game.loader import load_game, resolve
from sim.game.nearby import numbers_of as numbers_at_start
from sim.groups.starting import Wish, file_of, numbers_of


def game_of(typed: str, **asked):
    text = file_of(Wish(numbers_of(typed), **asked))
    assert len(text.splitlines()) <= 12
    return resolve(tomllib.loads(text), "mine.toml", "mine")


@pytest.mark.parametrize("typed", ["2v1", "5v2", "6v3", "8v4", "6v4+1", "2v2", "4v4+2", "8v8+3"])
def test_the_file_has_these_numbers(typed):
    game = game_of(typed)
    assert numbers_at_start(game) == numbers_of(typed)
    assert game.phases[0].rules, "it has a rule that makes it a game"


def test_what_is_asked_for_is_in_it():
    game = game_of("5v2", length=11, touches=2)
    assert (game.areas[0].length, game.areas[0].width) == (11, 11)
    assert [role.touches for role in game.roles] == [2, None]
    oblong, even = game_of("5v2", length=12, width=9), game_of("4v4+2", width=20, touches=1)
    assert (oblong.areas[0].length, oblong.areas[0].width) == (12, 9)
    assert even.areas[0].width == 20 and {role.touches for role in even.roles} == {1}


def test_a_side_that_is_not_asked_for_is_never_nothing():
    (area,) = game_of("2v1", width=150).areas
    assert (area.length, area.width) == (2, 150)


@pytest.mark.parametrize(("typed", "alone"), [("6v3", True), ("5v2", True), ("6v2", False)])
def test_partners_are_on_one_side_and_whoever_is_left_over_goes_alone(typed, alone):
    game = game_of(typed, pairs=True)
    (swap,) = [one for one in game.phases[0].rules[0].do if one.verb == "swap"]
    role = {player.id: player.role for player in game.players}
    assert (swap.who, swap.alone) == ("loser and partner", alone)
    assert all(role[one] == role[other] for one, other in game.teams[0].pairs)
    assert game.teams[0].pairs and len(game.players) - 2 * len(game.teams[0].pairs) <= 2


@pytest.mark.parametrize(
    ("typed", "asked", "said"),
    [
        ("5 to 2", {}, "NUMBERS: must be like 5v2, 6v3 or 4v4+2"),
        ("2v5", {}, "NUMBERS: the side with the ball comes first and has as many at least: 5v2 (got 2v5)"),
        ("5v0", {}, "NUMBERS: must have somebody on both sides"),
        ("1v1", {}, "NUMBERS: must have two who can pass to each other"),
        ("40v30", {}, "NUMBERS: must be at most 60 players in all (got 70)"),
        ("4v1", {"pairs": True}, "--pairs: goes with two inside at least, as 6v3 has (got 4v1)"),
        ("4v4", {"pairs": True}, "--pairs: goes with more against fewer, as 6v3 has (got 4v4)"),
    ],
)
def test_what_cannot_be_is_refused_in_a_line(typed, asked, said):
    with pytest.raises(InputError) as refusal:
        file_of(Wish(numbers_of(typed), **asked))
    assert str(refusal.value).startswith(said) and "\n" not in str(refusal.value)


def test_the_command_prints_it_or_writes_it(tmp_path: Path):
    asked = ["new", "6v3", "--side", "18", "--touches", "2", "--pairs"]
    printed = CliRunner().invoke(app, asked, catch_exceptions=False)
    file = tmp_path / "mine.toml"
    written = CliRunner().invoke(app, [*asked, "--out", str(file)], catch_exceptions=False)
    assert (printed.exit_code, written.exit_code, written.stdout) == (0, 0, "")
    assert file.read_text(encoding="utf-8") == printed.stdout
    assert load_game(file).areas[0].length == 18
    refused = CliRunner().invoke(app, ["new", "3v5", "--out", str(tmp_path / "no.toml")], catch_exceptions=False)
    assert refused.exit_code == 2 and not (tmp_path / "no.toml").exists()
