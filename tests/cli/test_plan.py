"""`overload logbook plan`, as typed: the forecast is kept first, and the count is judged by it."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from sim.own_counts.logbook import opened
from tests.cli.test_tally import GAME, SHORT, ask
from tests.support.screens import holds

YESTERDAY = (date.today() - timedelta(days=1)).isoformat()


def test_a_plan_comes_first_and_judges_the_count(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("cli.tally.EXPLAIN", 2)
    env = {"OVERLOAD_LOGBOOK": str(tmp_path / "club.log")}
    plan = ask("logbook", "plan", GAME, *SHORT, env=env).stdout
    holds(plan)
    today = date.today().isoformat()
    assert (
        "what you count that day is judged by it" in plan
        and f"FILE.csv --set bouts.minutes=0.5 --set bouts.count=2 --date {today}" in plan
    )
    assert "not counted yet: Lose it and go in" in ask("logbook", "list", env=env).stdout
    monkeypatch.setattr("sim.own_counts.forecast.play_missing", None)  # nothing is played for what was planned
    count = ["tally", GAME, *SHORT[:4], "--minutes", "1", "--losses", "2", "--bout", "1"]
    told = ask(*count, "--seed", "5", env=env).stdout  # another seed asks another question: the plan holds
    holds(told, 16)
    assert "forecast kept then" in told and "Planned on" in told
    with opened(tmp_path / "club.log") as book:
        assert book.evenings()[0].planned.startswith("20") and len(book.forecasts()) == 1
    again = ask("logbook", "plan", GAME, *SHORT, env=env, code=2)
    assert "must be planned before it is counted (got row 1 of that day)" in again.stderr


def test_a_plan_that_was_stopped_is_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    from sim.own_counts import forecast

    whole = forecast.play_missing

    def half(run, games, numbers):
        return [{n: one for n, one in found.items() if n < 6} for found in whole(run, games, numbers)]

    monkeypatch.setattr(forecast, "play_missing", half)
    found = ask("logbook", "plan", GAME, *SHORT, "--logbook", tmp_path / "club.log")
    assert found.stdout == "" and "Stopped: nothing is planned." in found.stderr
    with opened(tmp_path / "club.log") as book:
        assert book.forecasts() == []


@pytest.mark.parametrize(
    ("line", "complaint"),
    [
        (["--date", YESTERDAY], "--date: must be today or later: a plan comes before the session"),
        (["--date", "soon"], "--date: must be year-month-day"),
        (["--logbook", "."], ".: must name a logbook"),
        ([], "--logbook: must name your logbook"),
    ],
)
def test_what_is_wrong_is_one_line_and_nothing_is_written(line, complaint, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("OVERLOAD_LOGBOOK", raising=False)
    found = ask("logbook", "plan", GAME, *line, code=2)
    assert found.stdout == "" and len(found.stderr.splitlines()) == 1 and found.stderr.startswith(complaint)
    assert list(tmp_path.iterdir()) == []
