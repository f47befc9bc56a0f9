"""`--tables DIR` makes its folder: nothing is played for one that cannot be made, and nothing stays where writing fails."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from cli.files import NotWritten, require_makeable, write_into
from cli.shelf import VARIABLE, shelf_of
from sim.errors import InputError

SHORT = [
    "estimate",
    "tight-square",
    "--bouts",
    "1",
    "--set",
    "bouts.minutes=0.2",
    "--set",
    "bouts.count=1",
    "--workers",
    "1",
]


def test_the_folder_is_made(tmp_path: Path):
    new = tmp_path / "new"
    done = CliRunner().invoke(app, [*SHORT, "--tables", str(new)], catch_exceptions=False)
    assert done.exit_code == 0
    assert {"bout.csv", "player.csv"} <= {file.name for file in new.iterdir()}
    again = CliRunner().invoke(app, [*SHORT, "--tables", str(new)], catch_exceptions=False)
    assert again.exit_code == 0, "one that is there is used as it is"


@pytest.mark.parametrize("place", ["absent/new", "file", "file/new", "link", "x" * 300, "nul\0"])
def test_what_cannot_be_made_is_refused_and_nothing_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, place: str):
    monkeypatch.chdir(tmp_path)
    Path("file").write_text("mine", encoding="utf-8")
    Path("link").symlink_to("nowhere")
    before = sorted(os.listdir())
    with pytest.raises(
        InputError, match=r"^--tables: (must be a folder that is there or can be made|folder must exist)"
    ):
        require_makeable("--tables", Path(place))
    assert sorted(os.listdir()) == before and Path("file").read_text(encoding="utf-8") == "mine"


def test_the_check_leaves_nothing_behind(tmp_path: Path):
    require_makeable("--tables", tmp_path / "new")
    require_makeable("--tables", tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_full_disk_leaves_no_folder_that_was_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    def no_room(*_args, **_more):
        raise OSError(28, os.strerror(28))

    monkeypatch.setattr(tempfile, "mkstemp", no_room)
    with pytest.raises(NotWritten, match="No space left on device"):
        write_into(tmp_path / "new", {"bout.csv": "a\n"})
    assert list(tmp_path.iterdir()) == []
    (tmp_path / "old").mkdir()
    with pytest.raises(NotWritten):
        write_into(tmp_path / "old", {"bout.csv": "a\n"})
    assert list(tmp_path.iterdir()) == [tmp_path / "old"]


def test_a_folder_that_can_no_more_be_made_is_one_line(tmp_path: Path):
    with pytest.raises(NotWritten, match=r"new' could not be written \(No such file or directory\)"):
        write_into(tmp_path / "gone" / "new", {"bout.csv": "a\n"})


def test_who_has_no_home_keeps_no_blocks(monkeypatch: pytest.MonkeyPatch):
    def homeless():
        raise RuntimeError("Could not determine home directory.")

    for name in (VARIABLE, "XDG_CACHE_HOME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(Path, "home", homeless)
    assert shelf_of().file("k") is None and shelf_of().read("k", 1) == {}
