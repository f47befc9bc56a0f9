"""Session files: read as they are meant, refused with everything that is wrong, each by its key."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.errors import InputError
from sim.planning.band import Band
from sim.planning.session_file import read_evening

SQUAD = "shirt,name\n" + "".join(f"{i},P{i}\n" for i in range(1, 8))
TEXT = """
title = "Tonight"
day = "tue"
squad = "squad.csv"
minutes = 60
ground = { length = 40, width = 30 }
staff = 3
[band]
label = "MD-4"
metres = [500, 900]
[blocks.one]
game = "tight-square"
set = ["side=12"]
bouts = 3
work = 2
rest = 0.5
explain = 2
drinks = 1
changeover = 2
at = [[10, 10]]
out = [7]
apart = [[1, 2]]
chosen = { 3 = "all" }
"""


def written(folder: Path, text: str = TEXT) -> Path:
    (folder / "squad.csv").write_text(SQUAD, encoding="utf-8")
    file = folder / "evening.toml"
    file.write_text(text, encoding="utf-8")
    return file


def test_a_file_is_read(tmp_path: Path):
    evening = read_evening(written(tmp_path))
    (part,) = evening.parts
    assert (evening.title, evening.day, evening.minutes, evening.staff, evening.balls) == (
        "Tonight",
        "tue",
        60,
        3,
        None,
    )
    assert (evening.ground.length, evening.ground.width, evening.ground.run_off) == (40, 30, 3)
    assert evening.band == Band({"metres": (500, 900)}, "MD-4")
    assert (part.block.changes, part.block.bouts, part.block.work_s, part.block.rest_s) == (("side=12",), 3, 120, 30)
    assert (part.block.explain_s, part.block.drinks_s, part.block.changeover_s) == (120, 60, 120)
    assert (part.at, part.out, part.apart, part.chosen) == (((10, 10),), (7,), ((1, 2),), ((3, "all"),))
    assert len(evening.squad.people) == 7


def test_a_band_has_two_sides():
    band = Band({"metres": (500, 900)})
    assert [band.off("metres", value) for value in (499, 500, 900, 901)] == [-1, 0, 0, 1]
    assert band.off("minutes", 0) == 0


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("metres = [500, 900]", "steps = [5, 9]", "band.steps is no key of it"),
        ("metres = [500, 900]", "metres = [900, 500]", "band.metres must go from the least to the most"),
        ("metres = [500, 900]", "metres = 500", "band.metres must be 2 numbers from 0"),
        ('game = "tight-square"', "", "blocks.one.game must be given"),
        ("bouts = 3", "bouts = 2.5", "blocks.one.bouts must be a whole number"),
        ("bouts = 3", "bouts = 0", "blocks.one.bouts must be from 1 to 60"),
        ("work = 2", "work = 0", "blocks.one.work must be longer than nothing"),
        ("work = 2", 'work = "two"', 'blocks.one.work must be a number .got "two".'),
        ("out = [7]", "out = [77]", "blocks.one.out must name a shirt of the squad .got 77."),
        ("out = [7]", 'out = ["Ola"]', 'blocks.one.out must be shirt numbers .got "Ola".'),
        ("apart = [[1, 2]]", "apart = [1, 2]", "blocks.one.apart must be shirt numbers"),
        ("at = [[10, 10]]", "at = [[10]]", "blocks.one.at must be 2 numbers"),
        ('chosen = { 3 = "all" }', 'chosen = { x = "all" }', "blocks.one.chosen.x must be a shirt number"),
        ("minutes = 60", "", "minutes must be given"),
        ('day = "tue"', 'day = "tuesday"', "day must be one of mon, tue"),
        ('squad = "squad.csv"', "", "squad must be given, or players"),
        ('squad = "squad.csv"', 'squad = "squad.csv"\nplayers = 6', "squad must be given, or players"),
        ("ground = { length = 40, width = 30 }", "", "ground must be given"),
        ("ground = { length = 40, width = 30 }", "ground = { length = 40 }", "ground.width must be given"),
        ("staff = 3", "stuff = 3", "stuff is no key of it .did you mean staff?"),
        ('squad = "squad.csv"', 'squad = "a\\u0000b"', "must be a file that can be read"),
        ('chosen = { 3 = "all" }', 'chosen = { "²" = "all" }', "blocks.one.chosen.² must be a shirt number"),
        (
            'chosen = { 3 = "all" }',
            f"chosen = {{ {'9' * 5000} = 'all' }}",
            r"blocks.one.chosen.9{199}\.\.\. must be a shirt",
        ),
        (
            '"tight-square"',
            f'"{"a" * 400}.toml"',
            r'one.game must name a file that can be looked for .got "a{199}\.\.\.: File',
        ),
        (
            'title = "Tonight"',
            'title = "To\\nnight"',
            r'title must be 40 printable characters at most .got "To\\nnight".',
        ),
        ('label = "MD-4"', f'label = "{"x" * 41}"', "band.label must be 40 printable characters at most"),
        ('label = "MD-4"', 'source = "\\u001b[2J"', "band.source must be 40 printable characters at most"),
        ("[blocks.one]", '[blocks."a\\nb"]', r"blocks.a\\nb must have a name of 40 printable characters at most"),
        ("out = [7]", "regroup = 1", "blocks.one.regroup must be true or false .got 1."),
        ("at = [[10, 10]]", "at = [[true, 10]]", "blocks.one.at must be 2 numbers"),
        ("out = [7]", "regroup = 1.5", "blocks.one.regroup must be true or false"),
    ],
)
def test_what_is_wrong_is_said(tmp_path: Path, old: str, new: str, rule: str):
    assert old in TEXT
    with pytest.raises(InputError, match=rule):
        read_evening(written(tmp_path, TEXT.replace(old, new)))


def test_a_file_without_blocks_or_that_is_none_is_refused(tmp_path: Path):
    with pytest.raises(InputError, match="blocks must hold a block at least"):
        read_evening(written(tmp_path, TEXT.partition("[blocks")[0]))
    with pytest.raises(InputError, match="must be a session file that can be read"):
        read_evening(tmp_path / "none.toml")
