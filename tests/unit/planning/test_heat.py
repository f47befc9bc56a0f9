"""A heat table takes away and never adds."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sim.errors import InputError
from sim.planning.block import Block, block_s, game_of
from sim.planning.heat import COLUMNS, in_heat, read_heat, until_it_fits
from sim.planning.session import planned
from tests.support.evening import SHORT, SIX, evening

HEAD = ",".join(COLUMNS) + "\n"
ROWS = "20,100,,,,yes,R. Hale\n28,75,1.5,1.5,2,yes,R. Hale\n32,0,,,,no,R. Hale\n"
BLOCK = Block("tight-square", bouts=5, work_s=120, rest_s=30)


def written(folder: Path, rows: str = ROWS) -> Path:
    file = folder / "heat.csv"
    file.write_text(HEAD + rows, encoding="utf-8")
    return file


def test_the_row_of_the_reading_holds(tmp_path: Path):
    game = game_of(BLOCK)
    assert read_heat(written(tmp_path), 15).rule is None
    mild = read_heat(written(tmp_path), 27.9).rule
    assert in_heat(BLOCK, game, mild) == BLOCK
    hot = in_heat(BLOCK, game, read_heat(written(tmp_path), 28).rule)
    assert (hot.bouts, hot.work_s, hot.rest_s, hot.drinks_s) == (3, 90, 90, 120)


def test_the_gap_between_two_blocks_gets_longer_and_never_shorter(tmp_path: Path):
    game, rule = game_of(BLOCK), read_heat(written(tmp_path), 28).rule
    assert in_heat(BLOCK, game, rule).changeover_s == 90
    assert in_heat(BLOCK, game, rule, last=True).changeover_s == 0
    assert in_heat(replace(BLOCK, changeover_s=200), game, rule).changeover_s == 200
    hot = planned(evening(SHORT, SHORT), SIX, read_heat(written(tmp_path), 28))
    assert [one.changeover_s for one in hot.blocks] == [90, 0]


def test_what_is_stricter_already_stays(tmp_path: Path):
    easy = Block("tight-square", bouts=1, work_s=60, rest_s=300, drinks_s=600)
    hot = in_heat(easy, game_of(easy), read_heat(written(tmp_path), 30).rule)
    assert (hot.bouts, hot.work_s, hot.rest_s, hot.drinks_s) == (1, 60, 300, 600)


def test_nobody_trains_beyond_the_table(tmp_path: Path):
    with pytest.raises(InputError, match="nobody trains from 32 WBGT on, says R. Hale .got 33."):
        read_heat(written(tmp_path), 33)


def test_bouts_go_until_it_fits():
    blocks = (BLOCK, Block("tight-square", bouts=2, work_s=120, rest_s=30))
    games = [game_of(one) for one in blocks]
    found = until_it_fits(blocks, games, 600)
    assert [one.bouts for one in found] == [2, 2]
    assert sum(block_s(one, game_of(one)) for one in found) <= 600
    assert [one.bouts for one in until_it_fits(blocks, games, 10)] == [1, 1]
    assert until_it_fits(blocks, games, 6000) == blocks


@pytest.mark.parametrize(
    ("rows", "rule"),
    [
        ("20,75,,,,yes,R\n28,100,,,,yes,R\n", "the row from 28 must not let people do more"),
        ("20,75,,2,,yes,R\n28,75,,1,,yes,R\n", "the row from 28 must not let people do more"),
        ("28,75,,,,yes,R\n20,50,,,,yes,R\n", "from_wbgt must grow"),
        ("20,0,,,,no,R\n28,50,,,,yes,R\n", "train must stay no"),
        ("20,120,,,,yes,R\n", "line 2, bouts_pct must be from 0 to 100"),
        (
            "20,0,,,,yes,R\n",
            "line 2, bouts_pct must be more than 0 where train is yes .got 0.: nobody plays is train no",
        ),
        ("20,100,,,,yes,R,no\n", "line 2 must have 7 cells .got more."),
        (f"20,100,,,,yes,{'R' * 140_000}\n", "must be a table as text .got: field larger than field limit"),
        (f"20,100,,,,yes,{'R' * 99}\n" * 10_000, "the file must be at most 1 MB"),
        ("20,1\0,,,,yes,R\n", r'line 2, bouts_pct must be a number .got "1.u0000"'),
        ("20,100,,,,yes,R\0\n", "line 2, approved_by must be 40 printable characters at most"),
        ('20,100,,,,yes,"R\nX"\n', "approved_by must be 40 printable characters at most"),
        ("20,100,,,,yes,\n", "line 2, approved_by must be given"),
        ("20,100,,,,maybe,R\n", "line 2, train must be one of yes, no"),
        ("hot,100,,,,yes,R\n", 'line 2, from_wbgt must be a number .got "hot".'),
        ("", "must have a row at least"),
    ],
)
def test_a_table_that_is_wrong_is_refused(tmp_path: Path, rows: str, rule: str):
    with pytest.raises(InputError, match=rule):
        read_heat(written(tmp_path, rows), 25)


def test_a_row_of_commas_is_none(tmp_path: Path):
    assert read_heat(written(tmp_path, ",,,,,,\n" + ROWS), 28).rule == read_heat(written(tmp_path), 28).rule


def test_a_table_of_another_kind_is_refused(tmp_path: Path):
    file = tmp_path / "heat.csv"
    file.write_text("a,b\n1,2\n", encoding="utf-8")
    with pytest.raises(InputError, match="must have the columns from_wbgt"):
        read_heat(file, 25)
    with pytest.raises(InputError, match="must be a table that can be read"):
        read_heat(tmp_path / "none.csv", 25)
