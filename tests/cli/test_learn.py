"""`overload learn`, as typed: from a logbook to a file of the user's own values, and back; nothing is played."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.experiments.assumption_file import read_assumptions
from sim.experiments.cautions import LINE
from sim.experiments.replicate import Replication
from sim.learning.design import Design, packed, planned
from sim.learning.values import PASSING, RESTARTS
from sim.own_counts.forecast import setup_of
from sim.own_counts.logbook import opened
from sim.provenance import engine
from tests.unit.learning.club_by_hand import design, forecast, nights, plan, square


def ask(*line: object, code: int = 0):
    found = CliRunner().invoke(app, [str(one) for one in line], catch_exceptions=False)
    assert found.exit_code == code, (found.stdout, found.stderr)
    return found


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A logbook of eight sessions of a club apart; what is to be played has been played, by a law."""
    path, made = tmp_path / "club.log", forecast()
    monkeypatch.setattr("cli.learn.POINTS", 128)
    monkeypatch.setattr("sim.learning.design.play_batches", None)
    monkeypatch.setattr("sim.learning.posterior.MOVES", 1)
    with opened(path) as kept:
        kept.add_forecast(made, "Square", "tight-square")
        for one in nights({PASSING: -2.0, RESTARTS: -1.0}, count=8):
            sessions, _ = kept.add_rows(one.rows, "Square", "tight-square", setup_of(square()))
            kept.link(sessions[one.day], made.key)
    game = planned(square(), Replication(1, 1), 128)
    assert game.key == plan().key
    (tmp_path / "club.log.played").write_bytes(packed({game.key: design()}))
    return path


def test_from_a_logbook_to_values_of_ones_own_and_back(book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    first = ask("learn", "--logbook", book.name)
    assert "They pass worse than we assumed" in first.stdout
    assert "overload learn --logbook club.log --save own.toml" in first.stdout
    assert len(first.stdout.splitlines()) <= 24 and max(map(len, first.stdout.splitlines())) <= 80
    assert first.stdout.rstrip().endswith("local heat and youth rules first.")
    assert {one.name for one in tmp_path.iterdir()} == {"club.log", "club.log.played"}  # nothing is kept unasked
    own = tmp_path / "own.toml"
    own.write_text("# mine\n[engine]\ntackle_win = 0.5\n", encoding="utf-8")
    with pytest.raises(TypeError):  # other assumptions, other sessions to learn from: they would have to be played
        ask("learn", "--logbook", book, "--save", own, "--workers", "1")
    own.write_text("# mine\n", encoding="utf-8")
    saved = ask("learn", "--logbook", book, "--save", own, "--reason", "autumn", "--details")
    assert saved.stderr == f"Kept in {own}.\n" and "log score" in saved.stdout
    assert (
        ask("learn", "--logbook", book, "--save", own, "--reason", "autumn").stderr
        == f"Already in {own}: nothing new.\n"
    )
    found = read_assumptions(own)
    assert found.own_data.sessions == 8 and dict(found.club)["restarts_later_s"] < 0
    assert 'reason = "autumn"' in own.read_text(encoding="utf-8")
    short = [
        "--set",
        "bouts.minutes=0.2",
        "--set",
        "bouts.count=2",
        "--bouts",
        "4",
        "--workers",
        "1",
        "--assumptions",
        own,
    ]
    told = "Own data: played with what eight sessions (32 bouts, 64 minutes) of yours"
    assert told in " ".join(ask("estimate", "tight-square", *short).stdout.split())
    tallied = ask("tally", "tight-square", "--minutes", "0.4", "--losses", "1", *short)
    assert told in " ".join(tallied.stdout.split())
    assert "Taken back: what was learned on" in ask("learn", "--undo", "--save", own).stdout
    assert own.read_text(encoding="utf-8") == "# mine\n"
    assert "must be a file with something learned in it" in ask("learn", "--undo", "--save", own, code=2).stderr


def test_the_answer_is_there_for_programs(book: Path, tmp_path: Path):
    own, place = tmp_path / "own.toml", tmp_path / "learned.json"
    screen = ask("learn", "--logbook", book, "--save", own, "--json", place)
    found = json.loads(place.read_text(encoding="utf-8"))
    assert "They pass worse than we assumed" in screen.stdout and screen.stderr == f"Kept in {own}.\n"
    assert found["outcome"] == "learned" and found["own_data"] == {"sessions": 8, "bouts": 32, "minutes": 64.0}
    passing = next(one for one in found["changes"] if one["name"] == PASSING)
    assert passing["is_told"] and passing["low"] < passing["after"] < passing["high"] < passing["before"]
    kept = {tuple(one["place"]): one["after"] for one in found["values"]}
    assert kept["club", "restarts_later_s"] == dict(read_assumptions(own).club)["restarts_later_s"]
    assert found["cautions"] == [LINE]
    assert json.loads(ask("learn", "--logbook", book, "--json", "-").stdout) == found


def test_where_nothing_is_learned_nothing_is_written_and_it_says_so(book: Path, tmp_path: Path):
    own = tmp_path / "own.toml"
    with opened(book) as kept:
        for evening in kept.evenings():
            for row in evening.rows:
                kept.correct(row.id, [("changed", "", "one touch")], "Ann", "another game")
    found = ask("learn", "--logbook", book, "--save", own, "--json", "-")
    assert found.stderr == f"Nothing written to {own}: nothing was learned.\n" and not own.exists()
    plain = json.loads(found.stdout)
    assert (plain["outcome"], plain["changed"], plain["values"]) == ("too few bouts", 32, [])


def test_stopped_it_says_so_and_goes_on(book: Path, monkeypatch: pytest.MonkeyPatch):
    whole = design()
    part = Design(engine(), whole.wanted, {n: whole.clubs[n] for n in range(40)})
    monkeypatch.setattr("sim.learning.design.play", lambda *_: {plan().key: part})
    found = ask("learn", "--logbook", book)
    assert (
        found.stdout == ""
        and found.stderr == "Stopped: 40 of 128 sessions to learn from have been played. The same command goes on.\n"
    )


def test_changed_bouts_are_left_out_and_two_are_too_few(book: Path):
    with opened(book) as kept:
        for evening in kept.evenings():
            for row in evening.rows[0 if evening.id > 1 else 2 :]:
                kept.correct(row.id, [("changed", "", "one touch")], "Ann", "another game")
    said = ask("learn", "--logbook", book).stdout
    assert "there are two, and it takes three bouts at least" in said and "30 bouts changed on the grass" in said


@pytest.mark.parametrize(
    ("line", "complaint"),
    [
        (["learn"], "--logbook: must name your logbook"),
        (["learn", "--undo", "--json", "-"], "--json: must go without --undo"),
        (["learn", "--json", "none/learned.json"], "--json: folder 'none' must exist"),
        (["learn", "--undo"], "--save: must name the file that was learned into"),
        (["learn", "--undo", "--save", "none.toml"], "--assumptions: must name a readable text file"),
        (["learn", "--logbook", "none.log"], "none.log: must name a logbook"),
        (["learn", "--logbook", "none.log", "--reason", " "], "--reason: must be given"),
    ],
)
def test_what_is_wrong_is_one_line_and_nothing_is_written(line, complaint, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("OVERLOAD_LOGBOOK", raising=False)
    found = ask(*line, code=2)
    assert found.stdout == "" and len(found.stderr.splitlines()) == 1 and found.stderr.startswith(complaint)
    assert list(tmp_path.iterdir()) == []


def test_a_file_of_played_sessions_that_is_none_is_refused(book: Path):
    Path(f"{book}.played").write_text("[]", encoding="utf-8")
    assert "must be a file that `overload learn` wrote" in ask("learn", "--logbook", book, code=2).stderr
