"""Every command does its job, and says the same as the parts behind it."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
from typer.testing import CliRunner

import sim
from cli.app import app
from sim.game.loader import read_game
from sim.game.shipped import shipped_games
from sim.words.checked import checked as checked_in_words
from tests.support.games import GAMES as SIX

ROOT = Path(__file__).resolve().parents[2]
BOUTS = 8


def ask(*arguments: str):
    """Run a command that must succeed."""
    result = CliRunner().invoke(app, list(arguments), catch_exceptions=False)
    assert result.exit_code == 0, result.stderr
    return result


def not_a_constant(word: str):
    raise AssertionError(f"{word} is not JSON")


def strict(text: str) -> dict:
    return json.loads(text, parse_constant=not_a_constant)


def test_games_lists_every_shipped_game_with_its_purpose():
    lines = [line for line in ask("games").stdout.splitlines() if line.startswith("  ")]
    assert sorted(line.split()[0] for line in lines) == sorted(shipped_games())
    assert all(line.endswith(sim.load_game(line.split()[0]).purpose) for line in lines)


def checked(name: str, changes: Sequence[str] = ()) -> str:
    """What `overload check` says of a game without playing it."""
    reading = read_game(name, changes)
    return f"{checked_in_words(reading)}\n"


@pytest.mark.parametrize("name", sorted(shipped_games()))
def test_check_prints_the_rules_of_a_shipped_game(name: str):
    assert ask("check", name, "--bouts", "0").stdout == checked(name)


def test_check_reads_a_file_from_anywhere_and_takes_changes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    (tmp_path / "mine.toml").write_bytes(Path(shipped_games()["tight-square"]).read_bytes())
    monkeypatch.chdir(tmp_path)
    plain = ask("check", "mine.toml", "--bouts", "0").stdout
    changed = ask("check", "mine.toml", "--bouts", "0", "--set", "areas.square.length=9").stdout
    assert plain != changed
    assert changed == checked("mine.toml", ["areas.square.length=9"])


def test_schema_is_json_and_knows_the_parts_of_a_game():
    schema = strict(ask("schema").stdout)
    assert {"areas", "teams", "roles", "phases"} <= set(schema["properties"])


@pytest.mark.slow
@pytest.mark.parametrize("name", SIX)
def test_play_shows_one_bout_of_a_shipped_game(name: str):
    game = sim.load_game(name)
    text = ask("play", name, "--seed", "3").stdout
    assert text.startswith(f"{game.title}: bout 1, ")
    assert "\nmarks" in text
    assert text.rstrip().endswith("the bout is over")


@pytest.mark.slow
def test_play_is_the_bout_of_its_seed_and_0_is_a_seed():
    one, again, nought, two = (ask("play", "tight-square", "--seed", seed).stdout for seed in ("1", "1", "0", "2"))
    assert one == again
    assert len({one, nought, two}) == 3


@pytest.mark.slow
def test_play_writes_every_event_of_the_same_bout(tmp_path: Path):
    file = tmp_path / "out.csv"
    shown = ask("play", "tight-square", "--seed", "3", "--events", str(file)).stdout
    assert shown == ask("play", "tight-square", "--seed", "3").stdout
    rows = list(csv.DictReader(io.StringIO(file.read_text(encoding="utf-8"))))
    log = sim.play(sim.load_game("tight-square"), seed=3)
    assert [(float(row["t"]), row["kind"], row["player"]) for row in rows] == [
        (event[0], event[2], event[3]) for event in log.events
    ]
    assert [one.name for one in tmp_path.iterdir()] == ["out.csv"]


@pytest.fixture(scope="module")
def answer() -> str:
    """The JSON answer that Python gives."""
    return sim.estimate(sim.load_game("tight-square"), bouts=BOUTS, seed=1, workers=1).to_json()


@pytest.mark.slow
def test_estimate_gives_the_numbers_python_gives(answer: str):
    shown = ask("estimate", "tight-square", "--bouts", str(BOUTS), "--seed", "1", "--json", "-")
    assert strict(shown.stdout) == strict(answer)


@pytest.mark.slow
def test_estimate_in_words_says_what_the_result_says(answer: str, tmp_path: Path):
    from sim.words.commands import Given
    from sim.words.estimate_details import answer_in_words

    file = tmp_path / "answer.json"
    shown = ask("estimate", "tight-square", "--bouts", str(BOUTS), "--workers", "2", "--json", str(file))
    assert strict(file.read_text(encoding="utf-8")) == strict(answer)
    given = Given("estimate", "tight-square")
    assert shown.stdout == answer_in_words(sim.Result.from_json(answer), sim.load_game("tight-square"), given) + "\n"
    assert shown.stderr == ""


@pytest.mark.slow
def test_estimate_takes_changes_and_a_population():
    def played(*more: str) -> dict:
        return strict(ask("estimate", "tight-square", "--bouts", "1", "--json", "-", *more).stdout)

    changed = played("--set", "areas.square.length=9", "--set", "areas.square.width=9")
    assert changed["changes"] == ["areas.square.length=9", "areas.square.width=9"]
    assert changed["measures"] != played()["measures"]
    assert played("--population", "U12")["population"] == "U12"


@pytest.mark.slow
def test_estimate_writes_the_tables(tmp_path: Path):
    ask("estimate", "tight-square", "--bouts", "1", "--tables", str(tmp_path))
    names = {file.name for file in tmp_path.iterdir()}
    assert names == {f"{level}.csv" for level in ("event", "pass_run", "defending_spell", "player", "bout", "summary")}
    with (tmp_path / "bout.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert len(rows) == sim.load_game("tight-square").bouts.count  # whole sessions


@pytest.mark.parametrize("command", [["-m", "cli"], ["-c", "from cli.app import main; main()"]])
def test_the_program_starts_both_ways(command: list[str]):
    done = subprocess.run([sys.executable, *command, "--version"], cwd=ROOT, capture_output=True, text=True)
    assert (done.returncode, done.stdout, done.stderr) == (0, f"overload {sim.__version__}\n", "")


@pytest.mark.parametrize(
    "command",
    ["games", "new", "regroup", "rotate", "session", "check", "play", "estimate", "compare", "tune", "sweep", "schema"],
)
def test_every_command_has_help(command: str):
    assert ask(command, "--help").stdout.startswith(f"Usage: overload {command}")
