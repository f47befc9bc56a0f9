"""Games by their numbers: one game of these numbers is that game; else the nearest are named, and nothing is played."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.errors import InputError
from sim.game.loader import load_game
from sim.game.nearby import numbers_in, numbers_of, of_numbers
from sim.game.shipped import shipped_games

NUMBERS = {
    "tight-square": (4, 2, 0), "two-squares": (10, 3, 0), "break-away": (6, 3, 0), "home-grids": (6, 6, 0),
    "even-goals": (5, 5, 0), "even-keep-ball": (4, 4, 2),
}  # fmt: skip


def test_how_players_are_counted():
    assert {name: numbers_of(load_game(name)) for name in NUMBERS} == NUMBERS


@pytest.mark.parametrize(
    ("typed", "numbers"),
    [
        ("4v2", (4, 2, 0)),
        ("4 V 2", (4, 2, 0)),
        ("4v4+2", (4, 4, 2)),
        ("tight-square", None),
        ("4v", None),
        ("4v2.toml", None),
    ],
)
def test_numbers_as_typed(typed, numbers):
    assert numbers_in(typed) == numbers


@pytest.mark.parametrize(
    ("typed", "name"), [("4v2", "tight-square"), ("4v4+2", "even-keep-ball"), ("10v3", "two-squares")]
)
def test_one_game_of_these_numbers_is_that_game(typed, name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert load_game(typed) == load_game(name)
    assert load_game(typed, ["side=9"]) == load_game(name, ["side=9"])


def test_no_game_of_these_numbers_names_the_nearest(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(InputError) as refusal:
        load_game("4v4")
    assert str(refusal.value) == (
        "GAME: no shipped game is 4v4: the nearest are end-zones (5v5), even-goals (5v5) and even-keep-ball (4v4+2)"
    )
    games = {name: load_game("tight-square") for name in ("one", "other")}
    with pytest.raises(InputError, match="must be one game: one or other are all 4v2"):
        of_numbers((4, 2, 0), games)


@pytest.mark.parametrize("file", ["4v2", "4v2.toml"])
def test_a_file_of_that_name_goes_first(file, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = shipped_games()["two-squares"].read_text(encoding="utf-8")
    Path(file).write_text(text, encoding="utf-8")
    assert load_game("4v2").title == load_game("two-squares").title


def test_a_command_says_which_game_it_is(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    found = CliRunner().invoke(app, ["check", "4v2", "--bouts", "0"], catch_exceptions=False)
    whole = CliRunner().invoke(app, ["check", "tight-square", "--bouts", "0"], catch_exceptions=False)
    assert (found.exit_code, found.stdout) == (0, whole.stdout)
    assert found.stderr == "4v2 is tight-square: Lose it and go in.\n"
    missed = CliRunner().invoke(app, ["check", "9v1", "--bouts", "0"], catch_exceptions=False)
    assert (missed.exit_code, missed.stdout) == (2, "")
    assert missed.stderr.startswith("GAME: no shipped game is 9v1: the nearest are ")
