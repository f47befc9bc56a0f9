"""`--json` of an evening and of a week: data with its seed, engine and constants, to a file or to the output."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim import __version__
from sim.experiments.last_line import LINE
from sim.planning.band import NOT_OF_MINORS
from sim.provenance import engine
from tests.support.evening import fake

PEOPLE = """shirt,name,population,status,limits,set_by
{rows}7,Gia Rowe,{age},out,,M. Thorne
"""
EVENING = """
title = "Short"
squad = "{squad}.csv"
minutes = 40
ground = {{ length = 30, width = 20 }}
[band]
label = "MD-4"
source = "the coach"
minutes = [1, 9]
[blocks.first]
game = "tight-square"
bouts = 2
"""
WEEK = """
title = "A week"
squad = "{squad}.csv"
games = ["tight-square"]
sizes = [1.0]
{values}
[[evenings]]
date = 2026-08-11
minutes = 60
[[matches]]
date = 2026-08-15
name = "at Quillhaven"
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Files of adults and of minors, and games that give something without being played."""
    monkeypatch.setattr(
        "sim.planning.block_loads.loads_of",
        lambda games, *_, **__: [replace(fake(game), loads=fake(game).loads + 1.0) for game in games],
    )
    for squad, age in (("men", "amateur men"), ("boys", "U12")):
        rows = "".join(f"{shirt},Player {shirt},{age},,,\n" for shirt in range(1, 7))
        (tmp_path / f"{squad}.csv").write_text(PEOPLE.format(rows=rows, age=age))
        (tmp_path / f"{squad}-evening.toml").write_text(EVENING.format(squad=squad))
        values = "[match_values]\nmetres = 9800" + ("\nfast_metres = 400" if squad == "men" else "")
        (tmp_path / f"{squad}-week.toml").write_text(WEEK.format(squad=squad, values=values))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def ask(*arguments: str):
    return CliRunner().invoke(app, [*arguments, "--workers", "1"], catch_exceptions=False)


@pytest.mark.parametrize(("command", "file"), [("session", "men-evening.toml"), ("plan", "men-week.toml")])
def test_the_data_say_what_made_them_and_stand_alone_on_the_output(folder: Path, command: str, file: str):
    answered = ask(command, file, "--seed", "3", "--json", "-")
    assert answered.exit_code == 0, answered.stderr
    found = json.loads(answered.stdout)
    assert (found["format"], found["version"], found["seed"]) == (1, __version__, 3)
    made = found["provenance"]
    assert made["engine"] == engine() and made["libraries"]["numba"]
    assert len(made["parameters"]) > 100 and list(made["thresholds"]) == ["tight-square"]
    assert found["cautions"] == [LINE]
    assert [one["shirt"] for one in found["players"]] == (
        [1, 2, 3, 4, 5, 6] if command == "session" else [*range(1, 8)]
    )


@pytest.mark.parametrize(("command", "file"), [("session", "men-evening.toml"), ("plan", "men-week.toml")])
def test_a_file_has_the_same_beside_the_answer_in_words(folder: Path, command: str, file: str):
    words = ask(command, file, "--json", "answer.json")
    assert words.exit_code == 0 and LINE in " ".join(words.stdout.split())
    assert (folder / "answer.json").read_text() == ask(command, file, "--json", "-").stdout
    refused = ask(command, file, "--json", "nowhere/answer.json")
    assert (refused.exit_code, refused.stdout) == (2, "")
    assert refused.stderr.startswith("--json: folder 'nowhere' must exist")


def test_an_evening_holds_the_figures_of_its_table(folder: Path):
    found = json.loads(ask("session", "men-evening.toml", "--csv", "players.csv", "--json", "-").stdout)
    head, *rows = (line.split(",") for line in (folder / "players.csv").read_text().splitlines())
    for row, one in zip(rows, found["players"], strict=True):
        metres = one["gets"]["metres"]
        assert [f"{end:.1f}" for end in (metres["mean"], *metres["usually"])] == [
            row[head.index(name)] for name in ("metres", "metres_low", "metres_high")
        ]
    assert found["players"][0]["gets"].keys() >= set(NOT_OF_MINORS)
    (block,) = found["blocks"]
    assert [place["shirt"] for place in block["places"]] == [1, 2, 3, 4, 5, 6]
    assert {place["bouts"] for place in block["places"]} == {2}


def test_nothing_of_adults_is_told_of_minors(folder: Path):
    evening = ask("session", "boys-evening.toml", "--json", "-").stdout
    assert json.loads(evening)["minors"] is True
    assert set(json.loads(evening)["players"][0]["gets"]).isdisjoint(NOT_OF_MINORS)
    week = json.loads(ask("plan", "boys-week.toml", "--json", "-").stdout)
    del week["provenance"]
    assert "metres" in week["evenings"][0]["gives"] and '"fast_metres"' not in json.dumps(week)
    assert '"fast_metres"' in ask("plan", "men-week.toml", "--json", "-").stdout.partition('"evenings"')[2]


def test_a_move_is_in_the_data_and_a_look_back_has_none(folder: Path):
    found = json.loads(ask("plan", "men-week.toml", "--move", "sat=fri", "--json", "-").stdout)
    assert (found["move"]["from"], found["move"]["to"]) == ("2026-08-15", "2026-08-14")
    assert found["matches"][0]["date"] == "2026-08-14"
    refused = ask("plan", "men-week.toml", "--review", "--json", "-")
    assert (refused.exit_code, refused.stdout) == (2, "")
    assert refused.stderr.startswith("--json: must be given without --review, which writes no file")


@pytest.mark.parametrize(
    ("command", "file", "over"),
    [
        ("session", "men-evening.toml", "men.csv"),
        ("plan", "men-week.toml", "men.csv"),
        ("plan", "men-week.toml", "men-week.toml"),
    ],
)
def test_the_data_never_go_over_what_is_read(folder: Path, command: str, file: str, over: str):
    kept = (folder / over).read_bytes()
    refused = ask(command, file, "--json", over)
    assert (refused.exit_code, refused.stdout) == (2, "")
    assert refused.stderr.startswith("--json: must be a file of its own")
    assert (folder / over).read_bytes() == kept


def test_two_answers_are_never_one_file(folder: Path):
    refused = ask("plan", "men-week.toml", "--page", "one.html", "--json", "one.html")
    assert refused.exit_code == 2 and refused.stderr.startswith("--json: must be a file of its own")
    assert not (folder / "one.html").exists()


def test_the_usual_evening_stands_beside_a_hot_one(folder: Path, monkeypatch: pytest.MonkeyPatch):
    rows = "from_wbgt,bouts_pct,most_work_min,least_rest_min,least_drinks_min,train,approved_by\n28,50,,,,yes,R. Hale\n"
    (folder / "heat.csv").write_text(rows)
    hot = ("session", "men-evening.toml", "--wbgt", "29", "--heat-table", "heat.csv", "--json", "-")
    heat = json.loads(ask(*hot).stdout)["heat"]
    assert heat["usual_evening"] == {"long_s": None, "players": None}  # its blocks have not been played
    assert json.loads(ask("session", "men-evening.toml", "--wbgt", "29", "--json", "-").stdout)["heat"] == {
        "wbgt_c": 29.0, "table": None, "approved_by": None, "usual_evening": None,
    }  # fmt: skip
    cool = json.loads(ask("session", "men-evening.toml", "--json", "-").stdout)
    assert cool["heat"] is None
    monkeypatch.setattr(
        "sim.planning.usual_evening.known_loads",
        lambda games, *_: [replace(fake(game), loads=fake(game).loads + 1.0) for game in games],
    )
    found = json.loads(ask(*hot).stdout)
    usual = found["heat"]["usual_evening"]
    assert usual["long_s"] == cool["long_s"] > found["long_s"]
    assert [one["metres"] for one in usual["players"]] == [one["gets"]["metres"]["mean"] for one in cool["players"]]
    assert usual["players"][0]["shirt"] == 1 and usual["players"][0].keys() >= set(NOT_OF_MINORS)
