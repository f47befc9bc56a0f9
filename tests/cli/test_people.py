"""Promises about people, held in every command, every format and every population: minors are not ranked and not told apart by what
is not known of them; whoever is on reduced load is named, and nothing that is proposed may give him more.

A new command fails here until it says how it is to be walked (`WALKS`), or why it speaks of nobody (`NOBODY`).
"""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.populations import POPULATIONS
from sim.speed_zones import minors_of
from tests.cli.test_caution import commands

pytestmark = pytest.mark.slow

GAME = """
format = 1
title = "Three and one"
purpose = "To see who is spoken of."
family = "overload keep-ball"

[bouts]
count = 2
seconds = 12
rest_minutes = 0.1

[start]
side = "outer"

[areas.ring]
length = 9
width = 8

[teams.squad]

[roles.outer]
side = "outer"
style = "edge"
place = "ring"
touches = 3
players = ["Ali", "Bo", "Cem", 7]

[roles.inner]
side = "inner"
style = "free"
place = "ring"
players = ["Dora"]

[players.Bo]
restricted = true

[phases.keep.rules.lost]
on = "loss"
do = [{ swap = "loser", with = "winner" }, { restart = "start" }]
"""
NAMES = ("Ali", "Bo", "Cem", "squad 7", "Dora")
WALKS = {
    "check": [],
    "play": [],
    "estimate": ["--bouts", "6"],
    "compare": ["--change", "areas.ring.length=20", "--bouts", "6"],
    "tune": "--knob ring.side=9..10 --target distance_per_min.inner=90 --bouts 5 --budget 20 --fresh 5".split(),
    "adjust": "--aim distance_per_min.inner=more --bouts 6".split(),
    "sweep": "--key ring.side=9,11 --bouts 4".split(),
    "why": "--measure distance_per_min --bouts 1 --set bouts=1".split(),
}
NOBODY = {
    "assumptions": "constants and their sources",
    "calibrate": "constants, from games of its own",
    "session": "every player of the user's own file, in its order, nobody first or last (tests/unit/words/test_session_words.py)",
    "sheet": "who starts where, and under the caps whoever is on reduced load; no figure of anybody",
    "draw": "shirt numbers on the ground, no figure of anybody",
    "evidence": "groups of published studies",
    "games": "names and purposes of the shipped games",
    "import": "rows of the user's own file in its order; names in its JSON only with `--names` (test_import.py)",
    "learn": "values of a club, nobody's own",
    "plan": "every player of the user's own file, in its order, nobody first or last",
    "logbook": "rows as the user wrote them, who played among them; `export` leaves that out (tests/cli/test_tally.py)",
    "new": "a game file from numbers, nothing is played",
    "regroup": "roles, and what is usual in each; only who is on reduced load has a line of his own",
    "replay": "one bout as it was played; each player's metres so far, by team and shirt, nobody first or last",
    "report": "what compare, tune or adjust says, which are walked, and their replays",
    "review": "counts of whole games; `--by-player` in the order of the file (own_counts/test_by_player.py)",
    "rotate": "jobs and turns of everybody, in the order that the names were given; no figure of anybody",
    "schema": "the layout of a file",
    "tally": "counts of a whole game, nobody by name",
}
NAMED = ("check", "estimate", "compare", "tune", "adjust", "sweep", "why")
RANKS = ("defends most on average", "least:", "fastest", "slowest", "most tired", "best player", "worst player")
OF_ONE = ("peak_speed", "sprint", "high_speed", "reserve")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("sim.experiments.why.TURNS", 4)  # who is spoken of does not hang on how sure a lever is
    (tmp_path / "ours.toml").write_text(GAME, encoding="utf-8")
    return tmp_path


def said(command: str, *arguments: str) -> str:
    result = CliRunner().invoke(app, [command, "ours.toml", *arguments], catch_exceptions=False)
    assert result.exit_code == 0, result.stderr
    return result.stdout


def rows_of(value) -> list[dict]:
    """Every table anywhere in an answer."""
    inside = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return ([value] if isinstance(value, dict) else []) + [row for one in inside for row in rows_of(one)]


def of_a_player(row: dict) -> bool:
    return str(row.get("scope", "")).startswith("player:") or "player" in row


def test_every_command_is_walked_or_has_a_reason():
    assert sorted(commands()) == sorted([*WALKS, *NOBODY])


@pytest.mark.parametrize("population", list(POPULATIONS))
@pytest.mark.parametrize("command", list(WALKS))
def test_promises_about_people(command: str, population: str, here: Path):
    help_of = CliRunner().invoke(app, [command, "--help"]).stdout
    more = ["--json", "answer.json"] if "--json" in help_of else []
    more += ["--tables", "."] if "--tables" in help_of else []
    text = said(command, *WALKS[command], "--population", population, *more)
    if command in NAMED:
        assert "Bo" in text and "reduced load" in text.lower()
    assert "bouts.count" not in text.replace("Not in this game", "")  # more bouts are more for everybody
    minors = bool(minors_of([population]))
    if minors:
        assert not any(rank in text.lower() for rank in RANKS if rank != "least:" or command == "estimate")
    if "--json" in more:
        answer = json.loads((here / "answer.json").read_text(encoding="utf-8"))
        assert command == "check" or any("Bo" in line for line in answer["cautions"])
        one_by_one = [
            row for row in rows_of(answer) if of_a_player(row) and any(word in str(row["measure"]) for word in OF_ONE)
        ]
        known = [
            row for row in one_by_one if any(row.get(key) is not None for key in ("mean", "low", "high", "difference"))
        ]
        assert not (minors and known)
        assert minors or command != "estimate" or len(known) > 20
    if "--tables" in more:
        with (here / "player.csv").open(encoding="utf-8") as stream:
            rows = list(csv.DictReader(stream))
        told = [row[key] for row in rows for key in row if any(word in key for word in OF_ONE)]
        assert len(told) > 100 and all(value == "" for value in told) == minors
        with (here / "summary.csv").open(encoding="utf-8") as stream:
            scopes = [row["scope"] for row in csv.DictReader(stream) if any(word in row["measure"] for word in OF_ONE)]
        assert any(scope.startswith("player:") for scope in scopes) != minors
        assert "role:outer" in scopes


@pytest.mark.parametrize("population", ["amateur men", "U12"])
def test_what_may_give_more_is_no_proposal(population: str, here: Path):
    asked = ["--change", "bouts.seconds=60", "--bouts", "8", "--population", population]
    line = "No proposal for Bo, on reduced load: it could mean more to do."
    assert line in said("compare", *asked)
    knob = "--knob bout=48..60:12 --target distance_per_min.inner=most --bouts 6 --budget 24 --fresh 6".split()
    assert line in said("tune", *knob, "--population", population)
    Path("ours.toml").write_text(GAME.replace("restricted = true", "restricted = false"), encoding="utf-8")
    assert "reduced load" not in said("compare", *asked).lower()
