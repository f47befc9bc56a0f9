"""`overload session`: one screen, all behind --details, replanning by name, heat, sheets, and refusals that write nothing."""

from __future__ import annotations

import csv
import io
import shlex
from pathlib import Path

import pytest
from pypdf import PdfReader
from typer.testing import CliRunner

from cli.app import app
from cli.session import next_step
from cli.shelf import VARIABLE
from sim.experiments.cautions import LINE
from sim.words.screen import whole_commands
from sim.words.session_screen import KEPT
from tests.support.evening import fake

SQUAD = """shirt,name,level,status,limits,set_by
1,Ada Fenn,6,,,
2,Bea Holt,5,,,
3,Cleo Marr,7,,,
4,Dot Vale,4,,,
5,Eve Sands,6,,,
6,Fay Lund,5,,,
7,Gia Rowe,5,out,,M. Thorne
"""
EVENING = """
title = "Short"
squad = "squad.csv"
minutes = 20
ground = { length = 30, width = 20 }
[band]
label = "MD-4"
source = "the coach"
minutes = [0.6, 0.9]
[blocks.first]
game = "tight-square"
bouts = 1
work = 0.25
explain = 1
changeover = 1
[blocks.second]
game = "tight-square"
set = ["side=12"]
bouts = 1
work = 0.25
"""
HEAT = """from_wbgt,bouts_pct,most_work_min,least_rest_min,least_drinks_min,train,approved_by
28,100,0.2,1,1,yes,R. Hale
32,0,,,,no,R. Hale
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    found = tmp_path_factory.mktemp("evening")
    for name, text in (("squad.csv", SQUAD), ("short.toml", EVENING), ("heat.csv", HEAT)):
        (found / name).write_text(text, encoding="utf-8")
    return found


def ask(folder: Path, *options: str):
    arguments = ["session", str(folder / "short.toml"), "--workers", "1", *options]
    return CliRunner().invoke(app, arguments, catch_exceptions=False, env={VARIABLE: str(folder / "blocks")})


@pytest.fixture(scope="module")
def answer(folder: Path) -> str:
    found = ask(folder, "--details", "--csv", str(folder / "players.csv"), "--sheets", str(folder / "sheets.pdf"))
    assert found.exit_code == 0, found.stderr
    return found.stdout


def test_the_screen_says_who_is_out_of_the_band_and_what_closes_it(answer: str):
    screen = answer.partition(LINE)[0]
    assert screen.startswith("Short (MD-4): six players; two blocks on 30 x 20 m, 2.5 of 20 min")
    said = " ".join(screen.split())
    assert "6 of 6 are out of the band (band: the coach)." in said
    assert "Short of minutes on the pitch (0.6 to 0.9): all of them, about 0.5." in said
    assert (
        "Cheapest change: one bout more of" in said
        and "brings everybody into the band" in said
        and " min more (" in said
    )
    assert (
        "Clock: first (1 x 0.2 min), after 2 min 15 s second (1 x 0.2 min), end after 2 min 30 s; 18 min are free."
        in said
    )
    assert max(map(len, screen.splitlines())) <= 80 and len(screen.splitlines()) <= 24


def test_everything_else_is_behind_details(answer: str):
    rest = answer.partition(LINE)[2]
    assert answer.rstrip().endswith(LINE)
    assert "1 Ada Fenn" in rest and "losses a minute" in rest and "metres give or take" in rest


def test_figures_of_every_player_and_no_player_who_is_out(folder: Path, answer: str):
    rows = list(csv.DictReader(io.StringIO((folder / "players.csv").read_text(encoding="utf-8"))))
    assert [row["shirt"] for row in rows] == ["1", "2", "3", "4", "5", "6"]
    assert all(float(row["metres_low"]) <= float(row["metres"]) <= float(row["metres_high"]) for row in rows)


def test_both_sides_of_an_a4_for_every_block_with_names(folder: Path, answer: str):
    pages = PdfReader(folder / "sheets.pdf").pages
    texts = [page.extract_text() for page in pages]
    assert len(texts) == 4
    assert "Short, first" in texts[0] and "Short, after 2 min 15 s second" in texts[2]
    assert all("Fay Lund" in text for text in texts[::2])
    assert all("Nobody here has a cap" in text for text in texts[1::2])


def test_who_is_missing_is_replanned_by_name(folder: Path, answer: str):
    found = ask(folder, "--without", "6")
    assert found.exit_code == 0, found.stderr
    assert found.stdout.startswith("Short (MD-4): five players; two blocks")
    assert "Nobody moves." in found.stdout


def test_heat_takes_away_and_names_who_approved_it(folder: Path, answer: str):
    found = ask(folder, "--wbgt", "29", "--heat-table", str(folder / "heat.csv"))
    assert found.exit_code == 0, found.stderr
    assert (
        "29 WBGT: bouts of 0.2 min at most, rests of 1 min at least (between blocks too) and drinks 1 min a block, "
        "approved by R. Hale. The usual evening is about 0.5 min and " in " ".join(found.stdout.split())
    )
    other = ask(folder, "--wbgt", "29", "--heat-table", str(folder / "heat.csv"), "--seed", "3")
    assert "Plan it once without the heat" in other.stdout and "The usual evening is" not in other.stdout


def without_playing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sim.planning.block_loads.loads_of", lambda games, *_: [fake(game) for game in games])


def test_the_next_command_keeps_the_heat_and_all_else_that_was_asked(folder: Path, monkeypatch: pytest.MonkeyPatch):
    without_playing(monkeypatch)
    table = folder / "club's heat.csv"
    table.write_text(HEAT, encoding="utf-8")
    found = ask(folder, "--wbgt", "29", "--heat-table", str(table), "--without", "6", "--players", "5", "--seed", "2")
    assert found.exit_code == 0, found.stderr
    command = shlex.split(
        " ".join(
            whole_commands(found.stdout).partition("Try next, a sheet for every group:")[2].split("\n\n")[0].split()
        )
    )
    kept = ["--without", "6", "--players", "5", "--wbgt", "29", "--heat-table", str(table), "--seed", "2"]
    assert command[:13] == ["overload", "session", str(folder / "short.toml"), *kept]
    assert shlex.split(next_step(Path("my evening.toml"), (), (), False)[1])[2] == "my evening.toml"


def test_figures_and_sheets_are_written_together_or_not_at_all(folder: Path, monkeypatch: pytest.MonkeyPatch):
    without_playing(monkeypatch)
    table, sheets = folder / "t.csv", folder / "t.pdf"
    monkeypatch.setattr("sim.report.session_sheets.session_sheets", lambda *_: b"%PDF")
    found = ask(folder, "--csv", str(table), "--sheets", str(sheets))
    assert found.exit_code == 0 and table.exists() and sheets.read_bytes() == b"%PDF"
    said = " ".join(found.stdout.split())
    assert f"Written: {sheets}, {table}." in said
    assert f"Written: {table}." in " ".join(ask(folder, "--csv", str(table)).stdout.split())
    table.unlink()
    sheets.unlink()
    monkeypatch.setattr("sim.report.session_sheets.session_sheets", lambda *_: sheets.mkdir() or b"%PDF")
    assert ask(folder, "--csv", str(table), "--sheets", str(sheets)).exit_code != 0
    assert not table.exists()


@pytest.mark.parametrize(
    ("option", "name"),
    [("--csv", "squad.csv"), ("--csv", "short.toml"), ("--csv", "heat.csv"), ("--csv", "both.pdf")],
)
def test_what_is_read_is_never_written_over(folder: Path, monkeypatch: pytest.MonkeyPatch, option: str, name: str):
    monkeypatch.setattr("sim.planning.block_loads.loads_of", lambda *_: pytest.fail("played"))
    kept = (folder / "squad.csv").read_bytes()
    heat = ("--wbgt", "20", "--heat-table", str(folder / "heat.csv"))
    found = ask(folder, *heat, "--sheets", str(folder / "both.pdf"), option, str(folder / "." / name))
    assert found.exit_code == 2 and len(found.stderr.splitlines()) == 1
    assert found.stderr.startswith(f"{option}: must be a file of its own, that nothing else is read from or written to")
    assert (folder / "squad.csv").read_bytes() == kept


def test_without_a_table_it_says_that_there_is_none(folder: Path, answer: str):
    assert "No heat table was given" in ask(folder, "--wbgt", "29").stdout


@pytest.mark.parametrize(
    ("options", "rule"),
    [
        (("--without", "9"), "--without: must be shirts of those who are there (got 9)"),
        (("--without", "six"), "--without: must be shirt numbers with commas between, as 7,11 (got six)"),
        (("--without", "9" * 5000), "--without: must be shirt numbers with commas between, as 7,11 (got 9999"),
        (("--without", "²"), "--without: must be shirt numbers with commas between, as 7,11 (got ²)"),
        (("--players", "7"), "--players: must be at most the 6 of the squad who are there and no keepers (got 7)"),
        (("--wbgt", "90"), "--wbgt: must be from 0 to 45 degrees C (got 90)"),
        (("--heat-table", "heat.csv"), "--heat-table: must go with a reading, --wbgt (got none)"),
        (("--sheets", "sheets.doc"), "--sheets: must end in .pdf (got 'sheets.doc')"),
        (("--csv", "nowhere/a.csv"), "--csv: folder 'nowhere' must exist"),
    ],
)
def test_what_is_typed_wrong_is_one_line(folder: Path, options: tuple[str, ...], rule: str):
    found = ask(folder, *options)
    assert found.exit_code == 2 and found.stderr.startswith(rule) and len(found.stderr.splitlines()) == 1


def test_who_stops_it_is_told_that_it_goes_on(folder: Path, monkeypatch: pytest.MonkeyPatch):
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("sim.planning.block_loads.loads_of", stopped)
    found = ask(folder)
    assert found.exit_code == 130 and found.stderr.splitlines()[0] == KEPT and found.stdout == ""


def test_nobody_trains_beyond_the_table_and_nothing_is_written(folder: Path):
    sheets = folder / "never.pdf"
    found = ask(folder, "--wbgt", "33", "--heat-table", str(folder / "heat.csv"), "--sheets", str(sheets))
    assert found.exit_code == 2 and "nobody trains from 32 WBGT on, says R. Hale (got 33)" in found.stderr
    assert not sheets.exists()


def test_what_it_would_be_without_somebody_with_limits_is_a_command(folder: Path, monkeypatch: pytest.MonkeyPatch):
    without_playing(monkeypatch)
    squad = SQUAD.replace("3,Cleo Marr,7,,,", "3,Cleo Marr,7,reduced,,M. Thorne").replace("set_by", "set_by,most_bouts")
    squad = squad.replace("2,Bea Holt,5,,,", "2,Bea Holt,5,,,M. Thorne,9")  # a cap, and no place of her own
    (folder / "limits.csv").write_text(squad, encoding="utf-8")
    text = EVENING.replace('"squad.csv"', '"limits.csv"').replace("minutes = [0.6, 0.9]", "minutes = [0.4, 0.9]")
    text = text.replace("changeover = 1", "changeover = 1\nregroup = true") + "regroup = true\n"
    (folder / "limits.toml").write_text(text, encoding="utf-8")
    file = str(folder / "limits.toml")
    said = CliRunner().invoke(app, ["session", file, "--without", "6"], env={VARIABLE: str(folder / "none")}).stdout
    assert (
        f"What it would be without 3 Cleo Marr:\n  overload session {shlex.quote(file)} --without 6,3\n"
        in whole_commands(said)
    )
    nobody = CliRunner().invoke(app, ["session", file, "--without", "3"], env={VARIABLE: str(folder / "none")}).stdout
    assert "would be without" not in nobody and nobody.startswith("Short")
    heat = ["--wbgt", "29", "--heat-table", str(folder / "heat.csv")]
    hot = CliRunner().invoke(app, ["session", file, *heat], env={VARIABLE: str(folder / "none")}).stdout
    assert "would be without" not in hot and "approved by R. Hale" in hot
