"""`overload tally`, `logbook` and `review`, as typed: from last night's count to the look back."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.own_counts.logbook import opened
from sim.words.screen import whole_commands
from tests.support.screens import holds

SHORT = ["--set", "bouts.minutes=0.5", "--set", "bouts.count=2", "--bouts", "24", "--workers", "1"]
GAME = "tight-square"
TODAY = date(2028, 2, 29)
"""Whatever day it is, and also where midnight passes on the way."""


@pytest.fixture(autouse=True)
def that_day(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("cli.days.today", lambda: TODAY)


def ask(*line: object, code: int = 0, env: dict[str, str] | None = None):
    found = CliRunner().invoke(app, [str(one) for one in line], env=env, catch_exceptions=False)
    assert found.exit_code == code, (found.stdout, found.stderr)
    return found


def test_from_a_count_to_the_look_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("cli.tally.EXPLAIN", 2)
    book = tmp_path / "club.log"
    env = {"OVERLOAD_LOGBOOK": str(book)}
    counted = [GAME, "--minutes", "1", "--losses", "2", "--wins", "1", "--bout", "1"]
    first = ask("tally", *counted, *SHORT, "--json", tmp_path / "a.json", "--date", "2026-11-01", env=env)
    holds(first.stdout, 16)
    assert first.stderr == f"Kept in {book}: one row.\n" and "2 losses in a minute on the watch: " in first.stdout
    one = json.loads((tmp_path / "a.json").read_text(encoding="utf-8"))
    monkeypatch.setattr("sim.own_counts.forecast.play_missing", None)  # what is kept is not played again
    again = ask("tally", *counted, *SHORT, "--date", "2026-11-01", env=env)
    assert again.stdout == first.stdout and "Already in" in again.stderr
    sheet = tmp_path / "sheet.csv"
    sheet.write_text(
        "date,bout,minutes,losses,players\n2026-11-08,1,0.5,3,Ali\n2026-11-08,2,0.5,1,Bo\n", encoding="utf-8"
    )
    ask("tally", GAME, sheet, *SHORT, env=env)
    with opened(book) as kept:
        assert len(kept.forecasts()) == 1 and kept.forecasts()[0][3] == one["engine"]
        assert [len(evening.rows) for evening in kept.evenings()] == [1, 2]
    assert "losses 3" in ask("logbook", "list", env=env).stdout
    ask("logbook", "correct", "2", "losses=2", "--who", "Ann", "--why", "a rebound", env=env)
    assert "Ann: losses 3 -> 2 (a rebound)" in ask("logbook", "show", "2", env=env).stdout
    ask("logbook", "correct", "3", "--withdraw", "--who", "Ann", "--why", "not ours", env=env)
    look = ask("review", env=env).stdout
    holds(look, 16)
    assert "two sessions of one game" in look and "8 Nov 2026: 2 losses" in look
    table = ask("review", "--details", env=env).stdout
    assert "by bout" in table and "How often our ranges held" in table and "The same game later" in table
    for way in ((), ("--parquet",)):
        out, new = tmp_path / f"out{len(way)}", tmp_path / f"new{len(way)}.log"
        ask("logbook", "export", out, "--names", *way, env=env)
        ask("logbook", "import", out, "--logbook", new)
        assert ask("review", "--details", "--logbook", new).stdout == table
    ask("logbook", "export", tmp_path / "plain", env=env)
    assert "Ali" not in "".join(file.read_text(encoding="utf-8") for file in (tmp_path / "plain").iterdir())
    ask("logbook", "backup", tmp_path / "copy.log", env=env)
    assert ask("review", "--details", "--logbook", tmp_path / "copy.log").stdout == table


def test_a_series_that_may_be_over_early_is_forecast_to_its_end(tmp_path: Path):
    """Best of five: sessions of three to five bouts; of the forecast every bout is played."""
    shorter = ["--set", "bouts.minutes=0.5", "--set", "rules.point.count=2", "--json", tmp_path / "a.json"]
    line = ["tests/cases/language/best-of.toml", "--minutes", "2", "--losses", "9", "--bouts", "20", "--workers", "1"]
    assert "9 losses in two minutes on the watch: " in ask("tally", *line, *shorter).stdout
    one = json.loads((tmp_path / "a.json").read_text(encoding="utf-8"))
    assert (one["sessions"], one["bouts"]) == (4, 20)


def test_with_nothing_counted_it_says_what_to_count_and_keeps_nothing(tmp_path: Path):
    book = tmp_path / "club.log"
    found = ask("tally", GAME, *SHORT, "--seed", "2", env={"OVERLOAD_LOGBOOK": str(book)})
    holds(found.stdout, 16)
    assert "what to count" in found.stdout.splitlines()[0] and "Count " in found.stdout
    assert (
        "\n  overload sheet tight-square --set bouts.minutes=0.5 --set bouts.count=2 --out sheet.pdf"
        in whole_commands(found.stdout)
    )
    assert not book.exists()


TOMORROW = (TODAY + timedelta(days=1)).isoformat()


@pytest.mark.parametrize(
    ("line", "complaint"),
    [
        (["tally", GAME, "--losses", "5"], "--minutes must be given"),
        (["tally", GAME, "--minutes", "0", "--losses", "5"], "--minutes must be more than 0 and at most 180 (got 0)"),
        (["tally", GAME, "--minutes", "8"], "--losses must be given, or another count (losses, "),
        (["tally", GAME, "--minutes", "8", "--goals", "5"], "--goals cannot be counted here: this game has no goals (got 5)"),
        (["tally", GAME, "--minutes", "8", "--losses", "9", "--passes", "5"], "--losses must be at most the passes, 5 (got 9)"),
        (["tally", GAME, "--minutes", "8", "--losses", "9", "--clock", "sun"], "--clock must be watch or rolling"),
        (["tally", GAME, "--minutes", "8", "--losses", "9", "--date", TOMORROW], "--date must not be in the future"),
        (["tally", GAME, "none.csv"], "FILE: must name a file that can be read"),
        (["tally", GAME, "none.csv", "--losses", "9"], "--losses: must go without a file"),
        (["review"], "--logbook: must name your logbook, here or in OVERLOAD_LOGBOOK"),
        (["review", "--logbook", "none.log"], "none.log: must name a logbook"),
        (["logbook", "correct", "1", "losses=3", "--logbook", "none.log"], "--who: must be given"),
        (["logbook", "correct", "1", "--who", "A", "--why", "b", "--logbook", "none.log"], "FIELD=VALUE: must be given, or else"),
        (["logbook", "import", ".", "--logbook", "new.log"], ".: must hold forecast.csv or forecast.parquet (got neither)"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_one_line_and_nothing_is_written(line, complaint, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("OVERLOAD_LOGBOOK", raising=False)
    found = ask(*line, *(["--logbook", "club.log"] if line[0] == "tally" else []), code=2)
    assert found.stdout == "" and len(found.stderr.splitlines()) == 1 and found.stderr.startswith(complaint)
    assert list(tmp_path.iterdir()) == []


def test_a_count_is_kept_before_anything_is_played(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    def stopped(*_args, **_more):
        raise KeyboardInterrupt

    monkeypatch.setattr("sim.own_counts.forecast.play_missing", stopped)
    ask("tally", GAME, "--minutes", "8", "--losses", "14", *SHORT, "--logbook", tmp_path / "club.log", code=130)
    with opened(tmp_path / "club.log") as book:
        (evening,) = book.evenings()
        assert evening.standing[0].counts == {"losses": 14} and evening.forecast is None


def test_a_forecast_that_was_stopped_answers_but_is_not_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    from sim.own_counts import forecast

    whole = forecast.play_missing

    def half(run, games, numbers):
        return [{n: one for n, one in found.items() if n < 6} for found in whole(run, games, numbers)]

    monkeypatch.setattr(forecast, "play_missing", half)
    monkeypatch.setattr("cli.tally.EXPLAIN", 2)
    found = ask("tally", GAME, "--minutes", "1", "--losses", "2", *SHORT, "--logbook", tmp_path / "club.log")
    assert "Stopped early: 6 of 12 sessions were finished." in found.stdout and "not kept" in found.stderr
    with opened(tmp_path / "club.log") as book:
        assert book.forecasts() == [] and book.evenings()[0].forecast is None
