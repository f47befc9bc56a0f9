"""`compare`, `tune` and `sweep` of every shipped game: one small screen in plain English, and no caution lost on it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.words.screen import COMMAND
from tests.support.games import GAMES as SIX
from tests.support.screens import holds

SHORT = ["--set", "bouts.minutes=0.5", "--set", "bouts.count=1", "--workers", "1"]
TURNED = {
    "break-away": ("roles.builder.touches=1", "touches=1..2"),
    "even-goals": ("areas.pitch.length=36", "side=36..37"),
    "even-keep-ball": ("roles.floater.touches=1", "touches=1..2"),
    "home-grids": ("areas.west.length=14", "touches=2..3"),
    "tight-square": ("areas.square.length=8", "side=8..9"),
    "two-squares": ("roles.west.touches=1", "side=10..11"),
}
"""A change of each game, and a knob of it."""
BY_THE_BOUT = ("break-away", "even-goals")
"""What these are played for is counted by the bout."""
BUNDLED = {"even-goals": "roles.outfield.touches=2"}
"""Where several sizes would each have a nearest study of its own, and the screen grows by these."""


def ask(*arguments: str) -> str:
    result = CliRunner().invoke(app, list(arguments), catch_exceptions=False)
    assert result.exit_code == 0, result.stderr
    return result.stdout


def running(text: str) -> str:
    return " ".join(text.split())


def test_every_one_of_the_six_has_a_question():
    assert sorted(TURNED) == sorted(SIX)


@pytest.mark.slow
@pytest.mark.parametrize("game", TURNED)
def test_compare(game: str, tmp_path: Path):
    change, place = TURNED[game][0], tmp_path / "found.json"
    text = ask("compare", game, *SHORT, "--change", change, "--bouts", "4", "--json", str(place))
    holds(text)
    (found,) = json.loads(place.read_text(encoding="utf-8"))["comparisons"]
    assert all(line in running(text) for line in found["cautions"])
    assert "on the watch" in running(text)
    assert game in BY_THE_BOUT or "with the ball rolling" in running(text).lower()
    key, value = BUNDLED.get(game, change).split("=")
    named = ["--bundle", f"one: {key}={value}", "--bundle", f"two: {key}={int(value) + 1}"]
    bundles = ask("compare", game, *SHORT, *named, "--bouts", "4")
    holds(bundles)
    assert [line.split()[0] for line in bundles.splitlines() if line.startswith(("one ", "two "))] == ["one", "two"]


@pytest.mark.slow
@pytest.mark.parametrize("game", TURNED)
@pytest.mark.parametrize("target", ["turnovers_per_min=2", "in_play_share=most"])
def test_tune(game: str, target: str, tmp_path: Path):
    place = tmp_path / "found.json"
    text = ask(
        "tune", game, *SHORT, "--knob", TURNED[game][1], "--target", target, "--bouts", "1", "--budget", "10", "--fresh", "5",
        "--json", str(place), "--details",
    )  # fmt: skip
    screen = text[: text.index("local heat and youth rules first.")] + "local heat and youth rules first."
    holds(screen)
    found = json.loads(place.read_text(encoding="utf-8"))
    assert all(line in running(screen) for line in found["cautions"])
    assert len([line for line in text.splitlines() if line.startswith(COMMAND)]) <= 1
    assert all(str(point["bouts"]) in text for point in found["curve"])


@pytest.mark.slow
@pytest.mark.parametrize("game", TURNED)
def test_sweep(game: str):
    knob = TURNED[game][1]
    text = ask("sweep", game, *SHORT, "--key", knob, "--bouts", "2")
    holds(text)
    head = next(line for line in text.splitlines() if "a minute" in line and "give or take" in line)
    assert head.startswith(knob.split("=")[0]), "it begins with what was varied"
