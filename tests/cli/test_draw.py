"""`overload draw`: refused before anything is drawn, whole or not at all, the changes on it."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app

HARD_X = "\N{NO-BREAK SPACE}x\N{NO-BREAK SPACE}"
STARTS = {"png": b"\x89PNG\r\n", "svg": b"<?xml", "pdf": b"%PDF"}


@pytest.mark.parametrize(
    ("command", "name"), [("draw", "diagram.png"), ("sheet", "sheet.pdf"), ("replay", "replay.html")]
)
def test_without_a_file_the_whole_command_is_shown(command: str, name: str):
    result = CliRunner().invoke(app, [command, "my game.toml"], catch_exceptions=False)
    whole = f"--out: must be given (got nothing): overload {command} 'my game.toml' --out {name}"
    assert (result.exit_code, result.stderr.strip()) == (2, whole)


def run(*arguments: str):
    return CliRunner().invoke(app, ["draw", *arguments], catch_exceptions=False)


@pytest.mark.parametrize(
    ("place", "line"),
    [
        ("d.gif", "--out: must end in .png, .svg or .pdf (got 'd.gif')"),
        ("d", "--out: must end in .png, .svg or .pdf (got 'd')"),
        ("nowhere/d.png", "--out: folder 'nowhere' must exist (got 'nowhere/d.png')"),
        ("f.svg", "--out: must name a file, not a folder (got 'f.svg')"),
    ],
)
def test_a_place_that_cannot_be_is_refused_before_anything_is_drawn(
    place: str, line: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    def drawing(*_):
        raise AssertionError("drawn before the place was refused")

    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("sim.plots.diagram.diagram", drawing)
    monkeypatch.setattr("sim.game.loader.load_game", drawing)
    Path("f.svg").mkdir()
    result = run("tight-square", "--out", place)
    assert (result.exit_code, result.stdout, result.stderr.strip()) == (2, "", line)
    assert [one.name for one in tmp_path.iterdir()] == ["f.svg"]


@pytest.mark.parametrize("suffix", STARTS)
def test_it_is_drawn_and_said_on_stderr(suffix: str, tmp_path: Path):
    place = tmp_path / f"D.{suffix.upper()}"
    result = run("tight-square", "--out", str(place))
    assert (result.exit_code, result.stdout, result.stderr) == (0, "", f"Diagram: {place}\n")
    assert place.read_bytes().startswith(STARTS[suffix]) and len(list(tmp_path.iterdir())) == 1


def test_changes_are_drawn(tmp_path: Path):
    for name, more in (("a", ()), ("b", ("--set", "areas.square.length=9"))):
        assert run("tight-square", "--out", str(tmp_path / f"{name}.svg"), *more).exit_code == 0
    one, other = ((tmp_path / f"{name}.svg").read_bytes() for name in "ab")
    assert one != other and "9 x 11 m".replace(" x ", HARD_X).encode() in other
    assert "11 x 11 m".replace(" x ", HARD_X).encode() in one


def test_a_game_that_is_none_is_refused(tmp_path: Path):
    result = run("nothing-of-ours", "--out", str(tmp_path / "d.png"))
    assert result.exit_code == 2 and list(tmp_path.iterdir()) == []
