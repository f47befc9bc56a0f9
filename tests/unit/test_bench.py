"""The benchmark prints its rows; what the rows say is for `python -m tests.bench` on a quiet machine, never for a test."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.pitch.assumptions import ENGINE
from tests.bench import mechanisms
from tests.bench.rows import rows
from tests.bench.table import BENCH, Row, as_text, at_least, at_most, into
from tests.bench.timing import ROOT, exponent
from tests.bench.workload import GAMES, TINY, eights

PROMISED = (
    *(f"An in-play minute of {name}, over a bare SimPy loop" for name in GAMES),
    "The same of even-goals with eight a side",
    "Player-seconds on the watch a second",
    "Two processes over one",
    "A session of three blocks over its blocks estimated one by one",
    "`overload plan` of a week whose blocks are known, over from nothing",
    "A plain loop at 10 Hz of the same play",
    "Variance of the difference in turnovers by a metre more, other sessions over the same: players fixed",
    "Variance of the difference in turnovers by a metre more, other sessions over the same: players drawn",
    "Peak memory at",
    "`overload --help` over that of a bare typer program",
    "An in-play minute of even-keep-ball grows with players",
    "A session of tight-square grows with the length of a bout",
)


@pytest.mark.slow
def test_every_row_is_there():
    found = list(rows(TINY))
    missing = [what for what in PROMISED if not any(row.what.startswith(what) for row in found)]
    assert missing == []
    assert all(row.ours and bool(row.target) == bool(row.met) for row in found)


@pytest.mark.parametrize(
    ("row", "met"),
    [
        (at_most("x", 5.0, 5, 1.5), "yes"),
        (at_most("x", 5.1, 5, 1.5), "no"),
        (at_most("x", 1.5, 5, 1.5), "stretch"),
        (at_most("x", 1.1, 1.2), "yes"),
        (at_least("x", 1.69, 1.7, 1.9), "no"),
        (at_least("x", 1.7, 1.7, 1.9), "yes"),
        (at_least("x", 2.0, 1.7, 1.9), "stretch"),
    ],
)
def test_a_target_is_met_at_its_own_figure(row: Row, met: str):
    assert row.met == met


def test_eight_a_side_are_eight_a_side():
    assert len(eights(TINY).players) == 16


def test_growth_is_the_slope_of_the_logarithms():
    assert exponent([(1.0, 3.0), (2.0, 12.0), (4.0, 48.0)]) == pytest.approx(2.0)


def test_the_table_goes_between_its_marks(tmp_path: Path):
    file = tmp_path / "README.md"
    file.write_text("before\n\n<!-- bench -->\nold\n<!-- /bench -->\n\nafter\n", encoding="utf-8")
    table = as_text([at_most("a thing", 2.0, 5), Row("another", "12")])
    for _ in range(2):
        into(file, BENCH, table)
        assert file.read_text(encoding="utf-8") == f"before\n\n<!-- bench -->\n\n{table}\n<!-- /bench -->\n\nafter\n"
    file.write_text("no marks", encoding="utf-8")
    with pytest.raises(ValueError, match="must hold"):
        into(file, BENCH, table)


def test_the_table_in_the_readme_has_every_row():
    text = (
        (ROOT / "tests" / "bench" / "README.md")
        .read_text(encoding="utf-8")
        .partition("<!-- bench -->")[2]
        .partition("<!-- /bench -->")[0]
    )
    assert [what for what in PROMISED if f"| {what}" not in text] == []


@pytest.mark.slow
def test_what_each_mechanism_costs_is_a_line_for_each():
    lines = mechanisms.table(TINY).splitlines()
    assert [line.split("|")[1].strip() for line in lines[2:]] == list(mechanisms.SWITCHED)
    assert all(float(cell) > 0.0 for line in lines[2:] for cell in line.split("|")[2:-1])


def test_constants_that_switch_a_mechanism_off_are_constants_within_their_limits_and_not_as_they_are():
    usual = {one.name: one for one in ENGINE}
    for name, constants in mechanisms.SWITCHED.items():
        for constant, value in constants.items():
            one = usual[constant]
            assert one.low <= value <= one.high and value != one.value, (name, constant)
