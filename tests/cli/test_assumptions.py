"""`overload assumptions`, and a file of one's own with the commands that play."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app

SMALL = ["--set", "bouts.minutes=0.3", "--set", "bouts.count=1", "--workers", "1"]
OWN = "Played with assumptions of your own: engine.tackle_win = 0.5 (ours: 0.2)."


def ask(*arguments: str, code: int = 0):
    result = CliRunner().invoke(app, list(arguments), catch_exceptions=False)
    assert result.exit_code == code, result.stderr
    return result


@pytest.fixture
def mine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.chdir(tmp_path)
    Path("mine.toml").write_text("[engine]\ntackle_win = 0.5\n", encoding="utf-8")
    return "mine.toml"


def test_the_table_by_word_and_as_csv(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    text = ask("assumptions", "clean", "win", "--csv", "found.csv").stdout
    assert "tackle_win" in text and "chance of a clean win" in text and "tackle_rate" not in text
    with Path("found.csv").open(encoding="utf-8", newline="") as file:
        assert [(line["name"], line["value"], line["provenance"]) for line in csv.DictReader(file)] == [
            ("tackle_win", "0.2", "judgement")
        ]


def test_the_template_goes_straight_back_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    ask("assumptions", "--template", "mine.toml", "--population", "women")
    text = Path("mine.toml").read_text(encoding="utf-8")
    assert '[population."women".vmax_mps]' in text
    Path("mine.toml").write_text(text.replace("# tackle_win = 0.2", "tackle_win = 0.5"), encoding="utf-8")
    assert OWN in ask("play", "tight-square", "--assumptions", "mine.toml").stdout


def test_what_is_wrong_ends_with_2_and_writes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    lines = ask("assumptions", "--provenance", "hearsay", "--csv", "x.csv", code=2).stderr.splitlines()
    assert lines == ["--provenance must be one of published, open data, house default, judgement (got 'hearsay')"]
    ask("assumptions", "--csv", "nowhere/x.csv", code=2)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "command",
    [
        ["play", "tight-square"],
        ["estimate", "tight-square", "--bouts", "2"],
        ["compare", "tight-square", "--change", "areas.square.length=9", "--bouts", "2"],
        ["tune", "tight-square", "--knob", "side=10..11", "--target", "turnovers_per_min=3"],
    ],
    ids=lambda command: command[0],
)
def test_a_file_with_a_mistake_is_refused_by_every_command_that_plays(command: list[str], mine: str):
    Path(mine).write_text("[engine]\ntackle_win = 5\ntackle_wins = 0.4\n", encoding="utf-8")
    result = ask(*command, "--assumptions", mine, "--seed", "1", code=2)
    assert result.stdout == ""
    assert result.stderr.splitlines()[0] == "mine.toml: engine.tackle_win must be between 0.1 and 0.6 (got 5)"
    assert result.stderr.splitlines()[1].startswith(
        "mine.toml: engine.tackle_wins is not an assumption (did you mean tackle_win"
    )


@pytest.mark.slow
@pytest.mark.parametrize(
    "command",
    [
        ["estimate", "tight-square", "--bouts", "2"],
        ["compare", "tight-square", "--change", "areas.square.length=9", "--bouts", "2"],
        ["tune", "tight-square", "--knob", "side=10..11", "--target", "turnovers_per_min=3", "--bouts", "2", "--budget", "10",
         "--fresh", "2"],
    ],
    ids=lambda command: command[0],
)  # fmt: skip
def test_an_answer_names_what_was_replaced_and_keeps_it(command: list[str], mine: str):
    text = ask(*command, *SMALL, "--assumptions", mine, "--json", "answer.json").stdout
    assert OWN in text
    answer = json.loads(Path("answer.json").read_text(encoding="utf-8"))
    kept = answer.get("comparisons", [answer])[0]["provenance"]
    assert kept["assumptions"] == [{"name": "engine.tackle_win", "unit": "1", "own": 0.2, "value": 0.5}]
    assert kept["parameters"]["tackle_win"] == 0.5


@pytest.mark.slow
def test_tables_are_of_the_very_bouts_of_the_answer(mine: str):
    Path(mine).write_text("[engine]\nreplan = 0.5\n", encoding="utf-8")  # a thing that happens every second
    Path("with").mkdir()
    Path("without").mkdir()
    base = ["estimate", "tight-square", "--bouts", "2", *SMALL, "--tables"]
    ask(*base, "without")
    ask(*base, "with", "--assumptions", mine)
    assert Path("with/event.csv").read_text(encoding="utf-8") != Path("without/event.csv").read_text(encoding="utf-8")
