"""The assistant's sheet: read as spreadsheets write it, and every bad cell refused with file, line, column and rule."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.errors import InputError
from sim.game.loader import load_game
from sim.own_counts.sheet_file import MOST_ROWS, read_sheet, row_typed, rows_of
from sim.own_counts.tally import Row, as_planned, counted, evenings

TODAY = date(2026, 11, 29)
GAME = load_game("tight-square")
SHEET = """date,bout,minutes,clock,losses,wins,longest_run,changed,players
2026-11-28,1,2,watch,5,4,11,,Ali Bo
2026-11-28,2,2,watch,,4,9,,
2026-11-21,1,1.5,rolling,3,,,one touch,
"""


def read(text: str) -> list[Row]:
    return rows_of(text, "sheet.csv", GAME, TODAY)


def test_a_sheet_is_read_as_it_stands():
    first, second, third = read(SHEET)
    assert first == Row("2026-11-28", 2.0, "watch", {"losses": 5, "wins": 4, "longest_run": 11}, 1, "", "Ali Bo")
    assert second.counts == {"wins": 4, "longest_run": 9}
    assert (third.minutes, third.clock, third.changed) == (1.5, "rolling", "one touch")


@pytest.mark.parametrize(
    "text",
    [
        SHEET.replace(",", ";").replace("1.5", "1,5"),
        SHEET.replace(",", "\t"),
        SHEET.replace("\n", "\r\n") + "\r\n,,,,,,,,\r\n",
        SHEET.replace("longest_run", " Longest Spell ").replace("players", "Who played"),
    ],
)
def test_spreadsheets_write_it_in_many_ways(text: str):
    assert read(text) == read(SHEET)


def test_a_byte_order_mark_does_no_harm(tmp_path: Path):
    file = tmp_path / "sheet.csv"
    file.write_bytes(b"\xef\xbb\xbf" + SHEET.encode())
    assert read_sheet(file, GAME, TODAY) == read(SHEET)


def test_columns_that_are_not_there_were_not_counted_and_the_day_is_today():
    assert read("minutes,losses\n8,14\n") == [Row("2026-11-29", 8.0, "watch", {"losses": 14})]


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        ("28,1,2,", "28,1,0,", "line 2, minutes must be more than 0 and at most 180 (got 0)"),
        ("28,1,2,", "28,1,two,", 'line 2, minutes must be a number (got "two")'),
        ("28,1,2,", "28,1,1_0,", 'line 2, minutes must be a number (got "1_0")'),
        ("28,1,2,", "28,1,nan,", 'line 2, minutes must be a number (got "nan")'),
        ("28,1,2,", "28,1,,", "line 2, minutes must be given"),
        ("28,1,2,", "28,1.5,2,", 'line 2, bout must be a whole number (got "1.5")'),
        ("28,1,2,", "28,0,2,", "line 2, bout must be from 1 to 99 (got 0)"),
        ("28,2,2,", "28,1,2,", "line 3, bout must stand there once a day (got 1, as in line 2)"),
        ("watch,5,", "sun,5,", 'line 2, clock must be watch or rolling (got "sun")'),
        ("watch,5,", "watch,-5,", "line 2, losses must be from 0 to 2000 (got -5)"),
        ("watch,5,", "watch,5.5,", 'line 2, losses must be a whole number (got "5.5")'),
        ("2026-11-21", "2026-12-01", "line 4, date must not be in the future (got 2026-12-01)"),
        ("2026-11-21", "21.11.2026", 'line 4, date must be year-month-day, such as 2026-11-29 (got "21.11.2026")'),
        ("rolling,3", "rolling,", "line 4, losses must be given, or another count"),
        ("one touch,", "one touch,x,y", "line 4 must have 9 cells (got 10)"),
        ("losses", "loses", 'line 1, column "loses" is none of a sheet (did you mean losses?)'),
        ("wins", "losses", "line 1, column losses must stand there once"),
        ("minutes", "players", "line 1 must name a column minutes"),
        ("longest_run", "goals", "line 2, goals cannot be counted here: this game has no goals (got 11)"),
        (
            "longest_run",
            "reached",
            "line 2, reached cannot be counted here: no rule of this game counts passes or wins",
        ),
        ("longest_run", "passes", None),
        ("watch,5,4,11", "watch,15,4,11", None),
    ],
)
def test_a_bad_cell_is_refused_with_its_place_and_rule(old: str, new: str, complaint: str | None):
    if complaint is None:
        assert read(SHEET.replace(old, new))
        return
    with pytest.raises(InputError) as error:
        read(SHEET.replace(old, new, 1))
    assert f"sheet.csv: {complaint}" in str(error.value)


def test_more_losses_than_passes_cannot_be():
    with pytest.raises(InputError, match=r"line 2, losses must be at most the passes, 11 \(got 15\)"):
        read(SHEET.replace("longest_run", "passes").replace("watch,5,4,11", "watch,15,4,11"))


def test_everything_wrong_is_told_at_once():
    with pytest.raises(InputError) as error:
        read(SHEET.replace("watch,5", "sun,-5").replace("rolling", "moon"))
    assert len(error.value.problems) == 2  # a row whose clock is wrong is not looked at any further


@pytest.mark.parametrize("data", [b"", b"losses,minutes\n", b"\x89PNG\r\n\x1a\n\0\0", b"minutes,losses\n8,\xff\n"])
def test_what_is_no_sheet_is_one_line(data: bytes, tmp_path: Path):
    file = tmp_path / "sheet.csv"
    file.write_bytes(data)
    with pytest.raises(InputError) as error:
        read_sheet(file, GAME, TODAY)
    assert len(error.value.problems) == 1
    with pytest.raises(InputError, match="FILE: must name a file that can be read"):
        read_sheet(tmp_path / "none.csv", GAME, TODAY)


CELL = st.text(st.characters(exclude_categories=["Cs"]), max_size=6) | st.sampled_from(
    ["", "2", "1_0", "2026-11-28", "-1", '"']
)


@given(st.lists(st.lists(CELL, min_size=1, max_size=4), max_size=4), st.sampled_from([",", ";", "\t"]))
@settings(max_examples=60)
def test_whatever_stands_in_a_file_it_is_read_or_refused(lines: list[list[str]], delimiter: str):
    text = "\n".join(delimiter.join(cells) for cells in [["date", "bout", "minutes", "losses"], *lines])
    try:
        rows = read(text)
    except InputError:
        return
    assert all(row.minutes > 0 and row.counts and row.day <= TODAY.isoformat() for row in rows)


def test_too_long_a_sheet_is_refused():
    with pytest.raises(InputError, match=f"at most {MOST_ROWS} rows"):
        read("minutes,losses\n" + "8,14\n" * (MOST_ROWS + 1))
    assert len(read("minutes,losses\n" + "8,14\n" * MOST_ROWS)) == MOST_ROWS


def test_one_row_may_be_typed_instead():
    typed = {"minutes": 8.0, "losses": 14, "date": None, "clock": None}
    assert row_typed(typed, GAME, TODAY) == Row("2026-11-29", 8.0, "watch", {"losses": 14})
    with pytest.raises(InputError) as error:
        row_typed({"minutes": 8, "longest_run": -1}, GAME, TODAY)
    assert str(error.value) == "--longest-run must be from 0 to 2000 (got -1)"


def test_counts_add_up_over_an_evening_where_they_were_taken():
    rows = read(SHEET)
    assert list(evenings(rows)) == ["2026-11-21", "2026-11-28"]
    assert as_planned(evenings(rows)["2026-11-21"]) == []
    found = {one.measure: (one.count, one.minutes) for one in counted(evenings(rows)["2026-11-28"])}
    assert found == {"losses": (5, 2.0), "wins": (8, 4.0), "longest_run": (11, 4.0)}
