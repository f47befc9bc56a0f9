"""The small screen: 14 lines of 80 columns, nothing cut off, commands to be pasted; and tables that fit or do not fold."""

import os
import shlex

from sim.words.screen import FURTHER, GOES_ON, LINES, WIDTH, Screen, broken, whole_commands, wrapped
from sim.words.tables import table

SENTENCE = "They lose it about four times a bout, two minutes on the watch, which is usual for a square of this size."


def screen(**parts) -> Screen:
    return Screen(
        **{"asked": "A game", "answer": ["It is so."], "beside": [], "doing": [], "cautions": ["Care."]} | parts
    )


def test_a_full_screen_is_14_lines_of_80_columns():
    full = screen(
        answer=[SENTENCE], beside=["One."] * 4, doing=["Do.", "  overload check a"], cautions=["A.", "B.", "C."]
    )
    lines = full.text().splitlines()
    assert len(lines) == 14 == LINES
    assert max(map(len, lines)) <= WIDTH == 80
    assert lines[1] == ""
    assert "" in lines[2:]


def test_blank_lines_go_first_where_there_is_no_room():
    full = screen(answer=[SENTENCE] * 2, beside=["One."] * 4, doing=["Do."] * 2, cautions=["A."] * 3)
    assert "" not in full.text().splitlines()
    assert len(full.text().splitlines()) == 14


def test_nothing_is_cut_off_and_a_wide_command_can_be_pasted():
    words = ["overload", "estimate", "my long game of a tuesday's evening.toml", "--set", "side=9", "--set", "rest=20"]
    words += ["--seed", "7", "--logbook", "/home/quillhaven/season/club.log"]
    command = f"  {shlex.join(words)}"
    full = screen(beside=[SENTENCE] * 9, doing=[command])
    assert full.text().count("They lose it") == 9
    assert command not in full.text() and command in whole_commands(full.text())
    lines = broken(command)
    assert len(lines) == 3 and max(map(len, lines)) <= WIDTH and all(one in full.text().splitlines() for one in lines)
    if os.name == "posix":
        assert shlex.split("\n".join(lines).replace("\\\n", "")) == words
    assert any("--seed 7" in line for line in lines), "an option stands with its value"
    assert wrapped("  overload estimate a --seed 7") == ["  overload estimate a --seed 7"]
    long = "x" * 90
    assert broken(f"  overload check {long}") == [f"  overload check{GOES_ON}", f"{FURTHER}{long}"]


def test_a_table_in_a_pipe_has_a_line_a_row():
    rows = [["outside", "35"], ["inside [b]", "93 " + "word " * 60]]
    assert len(table(["", "metres"], rows).splitlines()) == 3
    assert "[b]" in table(["", "metres"], rows)


def test_a_table_fits_the_terminal():
    lines = table(["", "metres", "more"], [["outside", "35 (31-39)", "word " * 60]], width=50).splitlines()
    assert max(map(len, lines)) <= 50
    assert " ".join(lines).count("word") == 60


def test_a_table_breaks_no_word_where_there_is_room_and_keeps_names_whole():
    head = ["", "metres a minute, watch", "touches a minute, ball rolling", "seconds"]
    rows = [["west-keeper", "110 (100-110)", "0.17 (0.079-0.33)", "300 (300-300)"], ["team amber", "5", "6", "7"]]
    for width in (48, 50, 60, 70, 100):
        lines = table(head, rows, width=width).splitlines()
        assert max(map(len, lines)) <= width
        words = [word for line in lines for word in line.split()]
        assert sorted(words) == sorted(word for row in [head, *rows] for cell in row for word in cell.split())
    assert any(line.startswith("team amber ") for line in table(head, rows, width=50).splitlines())
    narrow = table(head, rows, width=30).splitlines()
    assert max(map(len, narrow)) <= 30
    assert "".join("".join(narrow).split()).count("(") == 3, "nothing is lost where words have to be broken"
