"""Layouts from the disk are those that would be made; nothing is written before it is kept, and nothing unsound is believed."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.game.loader import load_game
from sim.weeks import kept_layouts
from sim.weeks.kept_layouts import Layouts
from sim.weeks.table import laid_out

GAMES = [load_game(name, ["bouts.count=4"]) for name in ("tight-square", "keep-or-score", "three-colours")]
SIZES, GROUND = (1.0, 1.25), (68.0, 52.0)


def write(path: Path, data: bytes) -> None:
    path.write_bytes(data)


@pytest.fixture
def kept(tmp_path: Path) -> Layouts:
    """Thirteen laid out and kept."""
    found = Layouts(tmp_path, write)
    found(GAMES, 13, SIZES, GROUND)
    assert list(tmp_path.iterdir()) == []
    found.keep()
    assert len(list(tmp_path.iterdir())) == 1
    return found


def test_what_is_found_is_what_would_be_made_and_nothing_is_made_again(kept: Layouts, monkeypatch: pytest.MonkeyPatch):
    made = laid_out(GAMES, 13, SIZES, GROUND)
    monkeypatch.setattr(kept_layouts, "laid_out", lambda *_: pytest.fail("made again"))
    assert kept(GAMES, 13, SIZES, GROUND) == made and len(made) > 2


@pytest.mark.parametrize(
    ("games", "people", "sizes", "ground"),
    [
        (GAMES, 14, SIZES, GROUND),
        (GAMES, 13, (1.0,), GROUND),
        (GAMES, 13, SIZES, (40.0, 30.0)),
        (GAMES[:2], 13, SIZES, GROUND),
    ],
)
def test_anything_else_that_is_asked_is_another_file(kept: Layouts, games, people, sizes, ground):
    assert kept(games, people, sizes, ground) == laid_out(games, people, sizes, ground)
    kept.keep()
    assert len(list(kept.folder.iterdir())) == 2


@pytest.mark.parametrize(
    "change", [lambda data: data[:-40], lambda data: b"[]", lambda data: data.replace(b"1.25, 13", b"1.25, 12", 1)]
)
def test_a_file_that_is_not_as_it_was_written_is_none(kept: Layouts, change):
    (file,) = kept.folder.iterdir()
    changed = change(file.read_bytes())
    assert changed != file.read_bytes()
    file.write_bytes(changed)
    assert kept_layouts.read(file) is None
    assert kept(GAMES, 13, SIZES, GROUND) == laid_out(GAMES, 13, SIZES, GROUND)


def test_a_change_of_the_sources_is_another_file(kept: Layouts, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(kept_layouts, "sources", lambda: "another")
    kept(GAMES, 13, SIZES, GROUND)
    assert len(kept.new) == 1
