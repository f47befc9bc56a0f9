"""Every command that an answer prints runs, and is about the game, the players, the assumptions and the seed asked about.

Played in a folder of its own, with a file that has the name of a shipped game and is another game.
"""

from __future__ import annotations

import json
import shlex
from contextlib import nullcontext
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.words.commands import USUAL_SEED
from sim.words.screen import whole_commands

MINE = """
format = 1
title = "Three and one"
purpose = "Another game than the shipped one of this name."
family = "overload keep-ball"

[bouts]
count = 2
seconds = 15
rest_minutes = 0.1

[start]
side = "outer"

[areas.ring]
length = 9
width = 8

[teams.squad]

[roles.outer]
side = "outer"
style = "edge"
place = "ring"
touches = 3
players = ["Ali", "Bo", 7]

[roles.inner]
side = "inner"
style = "free"
place = "ring"
players = ["Cem"]

[phases.keep]

[phases.keep.rules.lost]
on = "loss"
do = [{ restart = "start" }]
"""
GAME = "./tight-square.toml"
OWN = "our own.toml"
SET = 'purpose="Wait, then go: don\'t dive in"'
ASKED = [
    "--set",
    "bouts.rest_minutes=0.2",
    "--set",
    SET,
    "--population",
    "elite men",
    "--assumptions",
    OWN,
    "--seed",
    "7",
]
CHEAP = {
    "estimate": ["--bouts", "2", "--workers", "1"],
    "compare": ["--bouts", "12", "--workers", "1"],
    "tune": ["--bouts", "4", "--fresh", "4", "--workers", "1"],
    "adjust": ["--bouts", "4", "--workers", "1"],
    "sweep": ["--bouts", "4", "--workers", "1"],
    "why": ["--bouts", "2", "--workers", "1"],
}
LARGE = ["--worthwhile", "turnovers_per_min=90%"]  # so that few bouts are enough for an answer
QUESTIONS = {
    "check": ("check", []),
    "play": ("play", []),
    "estimate": ("estimate", []),
    "compare a tweak": ("compare", ["--change", "roles.outer.touches=1", "--name", "one touch", *LARGE]),
    "compare what is set": ("compare", ["--change", "bouts.rest_minutes=0.3", *LARGE]),
    "compare with the shipped one": ("compare", ["tight-square", *LARGE]),
    "tune": ("tune", ["--knob", "touches=1..3", "--target", "pass_completion=most"]),
    "adjust": ("adjust", ["--aim", "in_play_share=90"]),
    "sweep": ("sweep", ["--key", "touches=1,2", "--save", "our table.csv"]),
    "why": ("why", ["--measure", "turnovers_per_min"]),
}
SILENT = {"check", "play", "sweep", "why"}  # nothing is left to do where they came to their end and something stood out


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    Path(GAME).write_text(MINE, encoding="utf-8")
    Path(OWN).write_text("[engine]\ntackle_win = 0.5\n", encoding="utf-8")


def ask(*arguments: str):
    result = CliRunner().invoke(app, list(arguments), catch_exceptions=False)
    assert result.exit_code == 0, (arguments, result.stderr)
    return result


def printed(result) -> list[list[str]]:
    """The commands an answer prints, as the shell would split them."""
    lines = whole_commands(result.stdout + result.stderr).splitlines()
    return [shlex.split(line)[1:] for line in lines if line.startswith("  overload ")]


def about(data: dict) -> dict:
    """The first arm of an answer, as JSON."""
    one = data.get("comparisons", [data])[0]
    return one | one["first"] if "first" in one else one | (one["game"] if isinstance(one.get("game"), dict) else {})


def same_game(command: list[str]) -> None:
    """The command runs, and its answer is about the file, with what was set, these players, assumptions and this seed."""
    kind = command[0]
    cheap = CHEAP.get(kind, [])
    if kind in ("check", "play", "sweep"):  # no JSON
        assert GAME in command and SET in command and "elite men" in command
        ask(*command, *cheap)
        return
    found = about(json.loads(ask(*command, *cheap, "--json", "-").stdout))
    if "title" in found:
        assert found["title"] == "Three and one"
    else:
        assert [one["name"] for one in found["players"]] == ["Ali", "Bo", "Cem", "squad 7"]
    assert SET in found["changes"] and any(one.startswith(("bouts.rest_minutes=", "rest=")) for one in found["changes"])
    assert found["population"] == "elite men" and found["seed"] == 7
    assert [one["name"] for one in found["provenance"]["assumptions"]] == ["engine.tackle_win"]


@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(QUESTIONS))
def test_every_printed_command_runs_and_is_about_the_same_game(name: str):
    kind, question = QUESTIONS[name]
    asked = ASKED[: ASKED.index("--assumptions")] if kind == "check" else ASKED
    commands = printed(ask(kind, GAME, *question, *asked, *CHEAP.get(kind, [])))
    assert commands or kind in SILENT
    for command in commands:
        if "tight-square" in question and command[0] == "estimate":  # the second one whole
            assert command[:2] == ["estimate", "tight-square"]
            command[1] = GAME
        same_game(command)


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["estimate", "sweep"])
def test_what_was_stopped_prints_the_command_that_goes_on(kind: str, monkeypatch: pytest.MonkeyPatch):
    def stop(_self, done: int, wanted: int) -> None:
        if done >= 2:
            raise KeyboardInterrupt

    question = ["--save", "our sessions.npz"] if kind == "estimate" else QUESTIONS["sweep"][1]
    with monkeypatch.context() as patched:
        patched.setattr("cli.progress.Progress.__call__", stop)
        stopped = ask(kind, GAME, *question, *ASKED, "--bouts", "6", "--workers", "1")
    command = printed(stopped)[-1]  # what is to be tried next stands before it
    if kind == "estimate":
        assert json.loads(ask(*command, "--json", "-").stdout) == json.loads(
            ask(kind, GAME, *ASKED, "--bouts", "6", "--workers", "1", "--json", "-").stdout
        )
    else:
        ask(*command)
        ended = Path("our table.csv").read_text(encoding="utf-8")
        Path("our table.csv").unlink()
        ask(kind, GAME, *question, *ASKED, "--bouts", "6", "--workers", "1")
        assert Path("our table.csv").read_text(encoding="utf-8") == ended


def test_a_stopped_calibration_prints_the_command_that_goes_on(monkeypatch: pytest.MonkeyPatch):
    def stop(*_arguments):
        raise KeyboardInterrupt

    Path("our fit").mkdir()
    monkeypatch.setattr("sim.experiments.executors.standing", lambda _workers: nullcontext())
    monkeypatch.setattr("sim.evidence.screening.screen", stop)
    words = "calibrate --screen --constants walk,run_cap --budget 70 --fresh 5".split()
    asked = [words[0], "--save", "our fit", *words[1:]]
    result = CliRunner().invoke(app, asked, catch_exceptions=False)
    assert result.exit_code == 130 and printed(result) == [asked]


def test_the_seed_that_is_not_printed_is_the_one_that_is_played():
    import inspect

    from cli import adjust, compare, estimate, play, sweep, tune, why

    functions = (adjust.adjust, compare.compare, estimate.estimate, play.play, sweep.sweep, tune.tune, why.why)
    assert {inspect.signature(one).parameters["seed"].default for one in functions} == {USUAL_SEED}
