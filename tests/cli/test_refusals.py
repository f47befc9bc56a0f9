"""Wrong input: one line a problem on stderr, exit code 2, nothing on stdout, nothing written.  A bug keeps its traceback."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from typer.testing import CliRunner

import sim
from cli.app import app
from cli.files import write_whole
from sim.errors import InputError
from sim.game.shipped import shipped_games

COMMANDS = ["check", "play", "estimate"]


@pytest.fixture(autouse=True)
def nothing_is_simulated(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    """A refusal comes before the first bout: playing one here is a failure."""

    def simulate(*_args, **_kwargs):
        raise AssertionError("a bout was played before the input was refused")

    monkeypatch.setattr("sim.play", simulate)
    monkeypatch.setitem(sim.__dict__, "estimate", simulate)
    monkeypatch.chdir(tmp_path)


def refused(*arguments: str) -> list[str]:
    """The lines on stderr of a command that must be refused."""
    before = sorted(Path().rglob("*"))
    result = CliRunner().invoke(app, list(arguments), catch_exceptions=False)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert sorted(Path().rglob("*")) == before
    return result.stderr.splitlines()


def write_game(old: str, new: str) -> str:
    text = Path(shipped_games()["tight-square"]).read_text(encoding="utf-8")
    assert old in text
    Path("mine.toml").write_text(text.replace(old, new), encoding="utf-8")
    return "mine.toml"


@pytest.mark.parametrize("command", COMMANDS)
def test_an_unknown_game(command: str):
    (line,) = refused(command, "tight-sqare")
    assert "tight-sqare" in line
    assert "tight-square" in line  # the near one is named


@pytest.mark.parametrize("command", COMMANDS)
def test_a_broken_rule_is_one_line(command: str):
    (line,) = refused(command, write_game("length = 11", "length = -3.0"))
    assert line == "mine.toml: areas.square.length must be greater than 0 (got -3.0)"


@pytest.mark.parametrize("command", COMMANDS)
def test_two_broken_rules_are_two_lines(command: str):
    name = write_game("length = 11", "length = -3.0, width = 0")
    first, second = refused(command, name)
    assert "areas.square.length must be greater than 0" in first
    assert "areas.square.width must be greater than 0" in second


@pytest.mark.parametrize("command", COMMANDS)
def test_an_unknown_key_of_a_change_names_the_near_ones(command: str):
    (line,) = refused(command, "tight-square", "--set", "areas.square.lenght=9")
    assert "areas.square.lenght" in line
    assert "areas.square.length" in line


@pytest.mark.parametrize("command", COMMANDS)
def test_an_unknown_population(command: str):
    (line,) = refused(command, "tight-square", "--population", "veterans")
    assert "veterans" in line
    assert "amateur men" in line


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (
            ["estimate", "tight-square", "--json", "absent/answer.json"],
            "--json: folder 'absent' must exist (got 'absent/answer.json')",
        ),
        (["estimate", "tight-square", "--json", "."], "--json: must name a file, not a folder (got '.')"),
        (
            ["estimate", "tight-square", "--tables", "absent/new"],
            "--tables: must be a folder that is there or can be made (got 'absent/new': No such file or directory)",
        ),
        (
            ["play", "tight-square", "--events", "absent/out.csv"],
            "--events: folder 'absent' must exist (got 'absent/out.csv')",
        ),
    ],
)
def test_a_place_that_cannot_be_written(arguments: list[str], message: str):
    assert refused(*arguments) == [message]


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        (["estimate", "tight-square", "--bouts", "0"], "--bouts"),
        (["estimate", "tight-square", "--seed", "-1"], "--seed"),
        (["estimate", "tight-square", "--workers", "0"], "--workers"),
        (["play", "tight-square", "--seed", "soon"], "--seed"),
        (["estimate"], "GAME"),
        (["guess", "tight-square"], "guess"),
    ],
)
def test_a_wrong_option(arguments: list[str], word: str):
    assert word in "\n".join(refused(*arguments))


def test_a_bug_keeps_its_traceback():
    result = CliRunner().invoke(app, ["play", "tight-square"])
    assert isinstance(result.exception, AssertionError)
    assert result.exit_code == 1


def test_a_file_is_whole_or_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    file = tmp_path / "answer.json"
    file.write_text("old", encoding="utf-8")

    def stop(*_args):
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(os, "replace", stop)
        patched.setattr(Path, "replace", stop)
        with pytest.raises(KeyboardInterrupt):
            write_whole(file, "new")
    assert [one.name for one in tmp_path.iterdir()] == ["answer.json"]
    assert file.read_text(encoding="utf-8") == "old"
    write_whole(file, "new\n")
    assert file.read_bytes() == b"new\n"


def test_a_written_file_can_be_read_by_the_same_people_as_any_other(tmp_path: Path):
    write_whole(tmp_path / "ours", "x")
    (tmp_path / "any").write_text("x", encoding="utf-8")
    assert (tmp_path / "ours").stat().st_mode == (tmp_path / "any").stat().st_mode


def test_a_refusal_has_one_line_for_each_problem():
    assert str(InputError(["a must be b (got c)", "d must be e (got f)"], "g")).splitlines() == [
        "g: a must be b (got c)",
        "g: d must be e (got f)",
    ]
