"""`overload logbook plan`, as typed: the forecast is kept first, and the count is judged by it."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
import tomli_w

from sim.own_counts.logbook import opened
from sim.words.figures import whole
from sim.words.screen import whole_commands
from tests.cli.test_tally import GAME, SHORT, TODAY, ask, that_day
from tests.support.screens import holds
from tests.unit.device_files.made import PLAIN, rows

YESTERDAY = (TODAY - timedelta(days=1)).isoformat()
pytestmark = pytest.mark.usefixtures(that_day.__name__)


def test_a_plan_comes_first_and_judges_the_count(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("cli.tally.EXPLAIN", 2)
    env = {"OVERLOAD_LOGBOOK": str(tmp_path / "club.log")}
    plan = ask("logbook", "plan", GAME, *SHORT, env=env).stdout
    holds(plan)
    assert (
        "what you count that day is judged by it" in plan
        and "  overload tally tight-square FILE.csv --set bouts.minutes=0.5 --set bouts.count=2 --logbook "
        in whole_commands(plan)
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


def test_a_series_is_planned_to_its_end_and_counted_against_that(tmp_path: Path):
    env = {"OVERLOAD_LOGBOOK": str(tmp_path / "club.log")}
    series = ["break-away", "--set", "bouts.best_of=true", "--set", "bouts.count=3", "--set", "bouts.minutes=0.3"]
    ask("logbook", "plan", *series, "--bouts", "12", env=env)
    assert "forecast kept then" in ask("tally", *series, "--minutes", "0.6", "--goals", "1", env=env).stdout


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
        (["--date", "9999-12-31"], f"--date: must be {TODAY + timedelta(days=365)} at the latest"),
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


def test_what_was_measured_stands_beside_what_was_planned(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    env = {"OVERLOAD_LOGBOOK": "club.log"}
    today = TODAY.isoformat()
    ask("logbook", "plan", GAME, *SHORT, env=env)
    data = PLAIN | {"blocks": {"4v2 end": GAME}}
    Path("layouts.toml").write_text(tomli_w.dumps({"tracker": data}), encoding="utf-8")
    Path("loads.csv").write_text(
        rows(f"Ali,{today},4v2 end,1,60,0,2,16", f"Bo,{today},4v2 end,1,240,0,1,14"), encoding="utf-8"
    )
    ask("import", "loads.csv", "--keep", env=env)
    text = ask("review", "--by-player", env=env).stdout
    with opened(Path("club.log")) as book:
        loads = book.forecast(book.forecasts()[0][0]).loads
    assert loads.each["metres"].shape == (12, 2, 6) and set(loads.roles) == {("outside", "inside")}
    low, high = loads.expected("metres", "", 2).low, loads.expected("metres", "", 2).high
    assert 0 < low < high < 240  # of a minute in a small square
    assert f"240 ({whole(low)} to {whole(high)})" in text and "Lose it and go in" in text
    assert "2 of 2 players measured" in text and text.endswith("local heat and youth rules first.\n")
