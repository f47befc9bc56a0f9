"""`overload rotate`: a list of bouts with names on a screen, a file of it if it is asked for, and refusals that write nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.experiments.last_line import LINE

SEVEN = ["tight-square", "--names", "Ann,Bea,Cy,Di,Eve,Flo,Gus"]
SHORT = ["--set", "bout=10", "--set", "rest=5", "--workers", "1"]


def ask(*arguments: str, shelf: Path | None = None):
    env = {} if shelf is None else {"OVERLOAD_BLOCKS": str(shelf)}
    return CliRunner().invoke(app, ["rotate", *arguments], env=env, catch_exceptions=False)


def test_seven_with_names_in_two_minutes(tmp_path: Path):
    """Bouts of ten seconds: seven of them, five between, make 1:40."""
    out = tmp_path / "list.csv"
    found = ask(*SEVEN, "--minutes", "2", *SHORT, "--out", str(out), shelf=tmp_path / "blocks")
    assert found.exit_code == 0, found.stderr
    text = " ".join(found.stdout.split())
    assert "Seven bouts of 10 s, 5 s between: 1:40 min in all. That is equal." in text
    assert "Everybody begins inside twice, outside four times and rests once." in text
    assert "1 0:00 Ann, Bea Cy, Di, Eve, Flo Gus 2 0:15" in text
    assert (
        "everybody 2 4 1 1" in text and "(usually " in text and "inside stays there until the whistle: 0.3 min" in text
    )
    assert "all in it and nobody resting (5 v 2, 12 x 12 m, two touches)" in text and found.stdout.rstrip().endswith(
        LINE
    )
    rows = out.read_text().splitlines()
    assert rows[:2] == ["bout,starts_s,work_s,inside,outside,resting", '1,0,10,"Ann, Bea","Cy, Di, Eve, Flo",Gus']
    assert len(rows) == 8


def test_what_is_not_equal_says_what_would_be():
    """Nothing is played: in this game everybody stays where he begins."""
    found = ask("hunt-in-turn", "--players", "7", "--minutes", "10", "--bouts", "4", "--set", "rest=0")
    text = " ".join(found.stdout.split())
    assert "Four bouts of 1 min: 4:00 min in all. Not equal: that takes seven bouts." in text
    assert "One begins inside twice, six once." in text
    assert (
        "Equal in the same time, with seven bouts of 1 min: overload rotate hunt-in-turn --set rest=0 --players 7"
        in text
    )
    assert "usually" not in text


def test_both_colours_have_a_column_and_whoever_wears_one_keeps_it():
    found = ask("even-keep-ball", "--players", "11", "--bouts", "2")
    head, first, second = found.stdout.splitlines()[4:7]
    assert head.split()[:2] == ["bout", "at"] and head.split()[-1] == "resting"
    assert sorted(head.split()[2:4]) == ["amber", "slate"]
    wears = [
        {
            name.strip(): colour
            for colour, cell in enumerate([one for one in row.split("  ") if one.strip()][2:4])
            for name in cell.split(",")
        }
        for row in (first, second)
    ]
    both = wears[0].keys() & wears[1].keys()
    assert len(both) >= 4 and all(wears[0][name] == wears[1][name] for name in both)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["tight-square"], "--players: must be given, or --names Ann,Bea,Cy"),
        (["tight-square", "--players", "7", "--names", "Ann,Bea"], "must be as many as --names has"),
        (["tight-square", "--players", "7", "--minutes", "0"], "--minutes"),
        (["in-pairs", "--players", "8"], "pairs change as a whole"),
        (["tight-square", "--players", "3"], "needs 4 players at least"),
    ],
)
def test_a_refusal_is_one_line_and_nothing_is_written(arguments, said, tmp_path: Path):
    found = ask(*arguments, "--out", str(tmp_path / "list.csv"))
    assert (found.exit_code, found.stdout) == (2, "") and found.stderr.count("\n") == 1
    assert said in found.stderr and list(tmp_path.iterdir()) == []


def test_the_list_is_a_csv():
    found = ask("tight-square", "--players", "7", "--out", "list.pdf")
    assert (found.exit_code, found.stdout) == (2, "") and "must end in .csv" in found.stderr
