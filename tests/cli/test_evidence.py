"""`overload evidence` and `overload calibrate`: what they refuse, show and write."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cli.app import app
from sim.evidence import playing, reference_table, table, tables, targets
from sim.evidence.conditions import Condition
from sim.evidence.keepball import panel
from sim.evidence.keepball.cells import bands
from sim.evidence.tracking import play as tracking
from sim.experiments.cautions import LINE


@pytest.fixture
def nothing_is_played(monkeypatch: pytest.MonkeyPatch):
    def play(*_args, **_kwargs):
        raise AssertionError("a bout was played")

    monkeypatch.setattr(table, "compare", play)
    monkeypatch.setattr(playing, "play", play)


def run(*arguments: str):
    return CliRunner().invoke(app, list(arguments), catch_exceptions=False)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("evidence", "--sessions", "many"), "--sessions must be one of small, full, kept (got 'many')"),
        (("evidence", "--save", "nowhere"), "--save: folder must exist (got 'nowhere')"),
        (("evidence", "--part", "ball"), "--part must be one of games, bands, tracking, panel (got 'ball')"),
        (
            ("evidence", "--bouts", "9"),
            "--bouts and --seed go with --part bands, tracking or panel, not with games",
        ),
        (
            ("evidence", "--part", "bands", "--sessions", "kept", "--seed", "3"),
            "--bouts, --seed and --save go with a table that is played, not with --sessions kept",
        ),
        (("calibrate", "--save", "nowhere"), "--save: folder must exist (got 'nowhere')"),
        (
            ("calibrate", "--save", "."),
            "--constants must be given, or screening.csv be in the folder: run with --screen first (got neither)",
        ),
        (
            ("calibrate", "--save", ".", "--constants", "wlak"),
            "--constants must name constants of the engine that have a spread (got 'wlak')",
        ),
        (
            ("calibrate", "--save", ".", "--screen", "--constants", "wlak"),
            "--constants must name constants of the engine that have a spread (got 'wlak')",
        ),
        (("calibrate", "--save", ".", "--constants", " "), "--constants must be 1 to 10 names (got 0)"),
    ],
)
def test_what_is_refused(arguments, said, nothing_is_played, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    result = run(*arguments)
    assert (result.exit_code, result.stdout, result.stderr.strip()) == (2, "", said)
    assert list(tmp_path.iterdir()) == []


def test_the_kept_table_is_shown_and_saved_without_playing(nothing_is_played, tmp_path: Path):
    result = run("evidence", "--sessions", "kept", "--details", "--save", str(tmp_path))
    assert result.exit_code == 0
    assert {file.name for file in tmp_path.iterdir()} == {"evidence.csv", "evidence.json", "evidence.txt", "misses.csv"}
    small = run("evidence", "--sessions", "kept").stdout
    text = (tmp_path / "evidence.txt").read_text(encoding="utf-8")
    assert text.startswith("Predicted measurements inside: ")
    assert result.stdout.startswith(f"{small}\n{text}"), "first the small screen, then what the file has"
    for row in (*bands(), *tracking.rows()):
        assert f" ({row.id})" in result.stdout.removeprefix(f"{small}\n{text}"), "then the kept tables beside it"
    assert (tmp_path / "evidence.csv").read_bytes() == (reference_table.shipped_folder() / "evidence.csv").read_bytes()
    for part in tables.parts():
        assert f" ({part.part})" in text
    for row in tables.directions():
        assert f" ({row.row})" in text


def test_the_small_screen_is_small(nothing_is_played):
    lines = run("evidence", "--sessions", "kept").stdout.splitlines()
    assert len(lines) <= 14 and max(map(len, lines)) <= 80
    counts = [line.split(":")[0] for line in lines if line.startswith(("Keep-ball bands: ", "Tracking: fitted "))]
    assert counts == ["Keep-ball bands", "Tracking"] and lines[0].startswith("How close")
    assert lines[1].startswith("Close enough: ") or lines[2].startswith("Close enough: ")
    assert "  overload evidence --sessions kept --details" in lines and lines[-1] == LINE
    assert not any(word in " ".join(lines) for word in ("interval", "verdict", "literature", "[", "_"))


@pytest.mark.parametrize("part", ["bands", "tracking", "panel"])
def test_every_part_is_shown_as_it_came(nothing_is_played, part: str):
    result = run("evidence", "--part", part, "--sessions", "kept")
    wanted = {"bands": "(B28)", "tracking": "(P29)", "panel": "passes in a spell"}[part]
    assert result.exit_code == 0 and wanted in result.stdout
    head = {"bands": "Keep-ball bands: ", "tracking": "Tracking: ", "panel": "What they lose in squares "}[part]
    first, *_, last = result.stdout.splitlines()
    assert first.startswith(head) and first.endswith(" bouts of each game, seed 77.") and last == LINE


@pytest.mark.slow
def test_the_panel_is_played_and_saved(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(panel, "squares", lambda: [panel.Square(4, 2, 11, "2", "amateur men")])
    result = run("evidence", "--part", "panel", "--bouts", "2", "--save", str(tmp_path), "--workers", "1")
    assert result.exit_code == 0 and "11 m" in result.stdout
    text = (tmp_path / "panel.txt").read_text(encoding="utf-8")
    assert text.startswith("What they lose in squares of all sizes; 2 bouts of each game, seed 77.") and text.endswith(
        f"{LINE}\n"
    )
    assert {file.name for file in tmp_path.iterdir()} == {"panel.csv", "panel.json", "panel.txt"}
    assert [row.bouts for row in panel.read_rows(tmp_path / "panel.csv")] == [2]


@pytest.mark.slow
def test_two_rows_are_played_saved_and_judged(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    parts = tuple(part for part in tables.parts() if part.row in ("M05", "M08"))
    rows = tuple(row for row in tables.directions() if row.row in ("K50", "D12"))
    monkeypatch.setattr(tables, "parts", lambda: parts)
    monkeypatch.setattr(tables, "directions", lambda: rows)
    monkeypatch.setattr(table, "LEAST", 2)
    monkeypatch.setattr(table, "SMALL", 100)
    assert run("evidence", "--workers", "1", "--save", str(tmp_path)).exit_code == 0
    lines = {line.part: line for line in reference_table.read_lines(tmp_path / "evidence.csv")}
    assert set(lines) == {"M05", "M08", "K50", "D12"}
    assert 60 < lines["M05"].ours < 160 and lines["M05"].low < lines["M05"].ours < lines["M05"].high
    assert lines["K50"].ours > 0 and lines["K50"].sessions == 2
    assert json.loads((tmp_path / "evidence.json").read_text(encoding="utf-8"))["size"] == "small"


@pytest.mark.slow
def test_a_fitted_study_is_also_shown_by_the_fit_that_did_not_see_it(monkeypatch: pytest.MonkeyPatch):
    parts = tuple(part for part in tables.parts() if part.row in ("M01", "M04", "M05", "M06", "M04-M06"))
    monkeypatch.setattr(tables, "parts", lambda: parts)
    monkeypatch.setattr(tables, "directions", lambda: ())
    monkeypatch.setattr(table, "LEAST", 2)
    monkeypatch.setattr(table, "SMALL", 100)
    study = next(one for one in targets.STUDIES if "M04" in one)
    lines = {line.part: line for line in table.compare("small", 1, left_out={study: {"run_cap": 0.6, "walk": 1.0}})}
    assert lines["M05"].left_out < lines["M05"].ours  # slower legs
    assert lines["M05"].left_out_verdict in ("inside", "outside")
    assert lines["M04-M06"].left_out > 0 and lines["M04-M06"].left_out_verdict
    assert (
        lines["M01"].left_out != lines["M01"].left_out and lines["M01"].left_out_verdict == ""
    )  # of another study: nothing


@pytest.mark.slow
def test_answers_do_not_hang_on_the_number_of_processes():
    from sim.evidence.observations import observe

    wanted = {Condition("square", (), "amateur men"): (5, (("losses_per_min", "all"),))}
    found = [observe(wanted, workers) for workers in (1, 2)]
    (one,), (two,) = (list(result.values()) for result in found)
    assert [tuple(v) for v in one["losses_per_min", "all"]] == [tuple(v) for v in two["losses_per_min", "all"]]
