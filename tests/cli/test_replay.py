"""`overload replay`: what is refused, before anything is played."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app


@pytest.fixture
def asked(monkeypatch):
    """Ask for a replay where nothing may be played: (exit code, everything said)."""

    def never(*_, **__):
        raise AssertionError("played")

    monkeypatch.setattr("sim.experiments.sessions.bout_of", never)
    monkeypatch.setattr("sim.experiments.typical.typical_bout", never)

    def ask(*words: str):
        found = CliRunner().invoke(app, ["replay", "tight-square", *words])
        assert not isinstance(found.exception, AssertionError), words
        return found.exit_code, found.output

    return ask


@pytest.mark.parametrize("more", [(), ("--typical",)])
def test_a_place_that_cannot_be_written_is_refused_before_the_first_bout(asked, tmp_path: Path, more):
    folder = tmp_path / "folder.html"
    folder.mkdir()
    wrong = {
        tmp_path / "bout.pdf": "must end in .html",
        tmp_path / "bout": "must end in .html",
        Path("-"): "must end in .html",
        tmp_path / "missing" / "bout.html": "must exist",
        folder: "not a folder",
        tmp_path / f"{'x' * 300}.html": "--out",
    }
    for place, words in wrong.items():
        code, said = asked("--out", str(place), *more)
        assert code == 2 and "--out" in said and words in " ".join(said.split()), said
    assert sorted(one.name for one in tmp_path.iterdir()) == ["folder.html"]


def test_a_folder_that_may_not_be_written_is_refused_whoever_asks(asked, tmp_path: Path, monkeypatch):
    monkeypatch.setattr("cli.files.os.access", lambda *_: False)
    code, said = asked("--out", str(tmp_path / "bout.html"))
    assert code == 2 and "must be writable" in said


@pytest.mark.parametrize("option", ["--bout", "--session"])
def test_typical_picks_the_bout_itself(asked, tmp_path: Path, option: str):
    code, said = asked("--out", str(tmp_path / "bout.html"), "--typical", option, "2")
    assert code == 2 and option in said


def test_a_bout_that_no_session_has_is_refused(asked, tmp_path: Path):
    code, said = asked("--out", str(tmp_path / "bout.html"), "--bout", "5")
    assert code == 2 and "--bout" in said and "4" in said
