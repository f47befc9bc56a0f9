"""`overload plan`: a screen, a calendar and a page of a short game; nothing is played twice; refusals that write nothing."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.experiments.cautions import LINE
from sim.words.screen import whole_commands

SQUAD = """shirt,name,position,status,limits,most_bouts,set_by
1,Vane,keeper,,,,
2,Lowell,,,,,
3,Fisk,,,,,
4,Calder,,,,,
5,Wick,,,,,
6,Strand,,,,,
7,Brandt,,reduced,,2,the physio
"""
PLAN = """title = "The week"
squad = "squad.csv"
games = ["short.toml"]
sizes = [1.0]
times_a_week = 2
[match_values]
metres = 9800
[[evenings]]
date = 2026-08-11
minutes = 60
start = 19:00:00
[[evenings]]
date = 2026-08-13
minutes = 60
[[matches]]
date = 2026-08-15
name = "on the lower pitch"
[matches.minutes]
2 = 90
"""
HEAT = """from_wbgt,bouts_pct,most_work_min,least_rest_min,least_drinks_min,train,approved_by
28,75,2,1,1,yes,R. Hale
30,0,,,,no,R. Hale
"""
SHIPPED = Path(__file__).resolve().parents[2] / "scenarios" / "tight-square.toml"


def ask(*arguments: str):
    return CliRunner().invoke(app, ["plan", *arguments], catch_exceptions=False)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    place = tmp_path_factory.mktemp("weeks")
    (place / "squad.csv").write_text(SQUAD)
    (place / "week.toml").write_text(PLAN)
    text = SHIPPED.read_text().replace("bouts.minutes = 2", "bouts.seconds = 15\nbouts.rest_seconds = 105")
    (place / "short.toml").write_text(text)
    before = os.environ.get("OVERLOAD_BLOCKS")
    os.environ["OVERLOAD_BLOCKS"] = str(place / "blocks")
    yield place
    if before is None:
        del os.environ["OVERLOAD_BLOCKS"]
    else:
        os.environ["OVERLOAD_BLOCKS"] = before


@pytest.fixture(scope="module")
def answered(folder):
    page, ics = folder / "week.html", folder / "week.ics"
    found = ask(str(folder / "week.toml"), "--page", str(page), "--calendar", str(ics), "--workers", "1")
    assert found.exit_code == 0, found.stderr
    return found.stdout, page.read_text(), ics.read_text()


def test_the_screen_says_evenings_games_and_who_does_less(answered):
    text = answered[0]
    assert "The week: one week, two evenings, 6 players" in text
    assert re.search(r"Tue 11 Aug, MD-4: \d+ min \(70-90\)", text)
    assert "- short, 4 v 2 in 11 x 11 m: " in text
    assert "7 Brandt: two bouts on Tue 11 Aug and Thu 13 Aug, set by the physio." in " ".join(text.split())
    assert max(len(line) for line in whole_commands(text).splitlines() if not line.startswith("  overload ")) <= 80


def test_the_page_holds_the_screen_and_its_pictures_and_asks_for_nothing(answered):
    page = answered[1]
    assert page.count("<figure>") == 2
    assert "7 Brandt" in page
    assert not re.search(r"(src|href)=\"(?!data:)", page)


def test_the_calendar_is_there(answered):
    assert answered[2].count("BEGIN:VEVENT") == 3
    assert answered[2].replace("\n ", "").count("An estimate\\, not advice") == 2


def test_what_is_known_is_not_played_again(folder, answered, monkeypatch):
    def never(*_: object, **__: object):
        raise AssertionError("played again")

    monkeypatch.setattr("sim.experiments.replicate.play_batches", never)
    found = ask(str(folder / "week.toml"), "--details")
    assert found.exit_code == 0
    assert "Player by player" in found.stdout and found.stdout.rstrip().endswith(LINE)
    moved = ask(str(folder / "week.toml"), "--move", "sat=fri")
    assert "moves from Sat 15 Aug to Fri 14" in moved.stdout


def test_an_example_to_begin_with():
    found = ask("--example")
    assert found.stdout.startswith('title = "Quillhaven')


REFUSED = {
    "none": (["none.toml"], "must be a plan file"),
    "week": (["week.toml", "--week", "3"], "--week: must be from 1 to 1"),
    "move": (["week.toml", "--move", "sun=fri"], "--move: must name one day of the plan"),
    "both": (["week.toml", "--move", "sat=fri", "--review"], "--move: must be given without --review"),
    "written and looked back": (
        ["week.toml", "--review", "--calendar", "w.ics"],
        "--calendar: must be given without --review",
    ),
    "week and move": (["week.toml", "--move", "sat=fri", "--week", "1"], "--move: must be given without --week"),
    "far": (["week.toml", "--move", "sat=9999-12-31"], "--move: must leave a plan: days must be from 2000 to 2100"),
    "long": (["week.toml", "--move", "sat=2029-08-15"], "--move: must leave a plan: days must lie within 60 weeks"),
    "page": (["week.toml", "--page", "no/where.html"], "--page: folder"),
    "logbook": (["week.toml", "--review", "--logbook", "no.logbook"], "must name a logbook"),
    "games": (["small.toml"], "games must hold the 6 players of 2026-08-11: none has room on 10 x 10 m"),
    "limit": (
        ["bound.toml"],
        "bound.toml: on the lower pitch of 2026-08-15 must be without 7 Brandt, for whom no tackles",
    ),
    "hot": (["hot.toml"], "hot.toml: evenings of 2026-08-11.wbgt must be below that: nobody trains from 30 WBGT on"),
    "nothing": ([], "must be given: a plan file"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_a_refusal_is_one_line_and_writes_nothing(folder, name: str, monkeypatch):
    monkeypatch.chdir(folder)
    (folder / "bound.toml").write_text(PLAN.replace("squad.csv", "bound.csv").replace("2 = 90", "7 = 90"))
    (folder / "bound.csv").write_text(SQUAD.replace("reduced,,2", "reduced,no tackles,2"))
    (folder / "hot.toml").write_text(
        'heat_table = "heat.csv"\n' + PLAN.replace("minutes = 60", "minutes = 60\nwbgt = 31", 1)
    )
    (folder / "heat.csv").write_text(HEAT)
    monkeypatch.setattr("sim.experiments.replicate.play_batches", lambda *_, **__: pytest.fail("played"))
    (folder / "small.toml").write_text("ground = { length = 10, width = 10 }\n" + PLAN)
    arguments, said = REFUSED[name]
    before = sorted(folder.iterdir())
    found = ask(*arguments)
    assert found.exit_code == 2
    assert said in found.stderr
    assert len(found.stderr.strip().splitlines()) == 1
    assert found.stdout == ""
    assert sorted(folder.iterdir()) == before
