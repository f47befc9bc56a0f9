"""Bands of keep-ball: the data, the sorting of causes on events by hand, the counts of a bout, and the ratios."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sim.evidence.banded import BandedLine, counted
from sim.evidence.keepball import panel
from sim.evidence.keepball.causes import CUT, HEAVY, OUT, TACKLE, TIME, Causes
from sim.evidence.keepball.cells import bands, cells, game_of
from sim.evidence.keepball.counts import BoutCounts, counts_of_bout
from sim.evidence.keepball.play import line_of, quantity, quantity_over
from sim.experiments.sessions import session_bouts
from sim.measures.event_reducer import CAUSES as LOGGED


def test_twenty_eight_bands_each_with_two_ends_and_its_cells():
    assert [band.id for band in bands()] == [f"B{number:02d}" for number in range(1, 29)]
    for band in bands():
        assert band.low < band.high
        assert {band.cell, band.over} <= {"", *cells()}
        assert band.cell and (band.source, band.role) == ("common practice, no source", "fitted")


@pytest.mark.parametrize("name", list(cells()))
def test_every_cell_is_one_bout_of_a_game_that_can_be_loaded(name: str):
    assert game_of(cells()[name]).bouts.count == 1


def test_the_cells_are_the_squares_that_the_bands_speak_of():
    game = game_of(cells()["4v2 10 m"])
    assert (game.areas[0].length, game.areas[0].width, game.bouts.seconds) == (10.0, 10.0, 120.0)
    assert {role.name: role.touches for role in game.roles} == {"outside": 2, "inside": None}
    across = game_of(cells()["transfer"])
    assert {role.touches for role in across.roles if role.name != "chaser"} == {2}
    assert across.phases[0].rules[0].count == 6


# (what happens, in order: kind, cause, whether by a player of the side that has the ball), the cause of the loss in the log, ours
PASS, CONTROL = ("release", "free", True), ("touch", "", True)
LOSSES = {
    "cut out on its way": ([PASS], "interception", CUT),
    "deflected, then won": ([PASS, ("deflect", "", False)], "interception", CUT),
    "deflected over the line": ([PASS, ("deflect", "", False)], "out", CUT),
    "passed over the line": ([PASS], "out", OUT),
    "carried over the line": ([PASS, CONTROL], "out", OUT),
    "tackled": ([CONTROL, ("tackle", "won", False)], "tackle", TACKLE),
    "poked loose and over the line": ([CONTROL, ("tackle", "loose", False)], "out", TACKLE),
    "past the tackler, then over the line": ([CONTROL, ("tackle", "beaten", False)], "out", OUT),
    "ran away and was won": ([PASS, CONTROL, ("deflect", "", True)], "miscontrol", HEAVY),
    "ran away over the line": ([PASS, CONTROL, ("deflect", "", True)], "out", HEAVY),
    "tackled because the touch was heavy": (
        [CONTROL, ("tackle", "won", False, "heavy touch"), ("touch", "", False)],
        "tackle",
        HEAVY,
    ),
    "deflected, won back, then passed over the line": ([PASS, ("deflect", "", False), CONTROL, PASS], "out", OUT),
    "deflected, then run away over the line": (
        [PASS, ("deflect", "", False), CONTROL, ("deflect", "", True)],
        "out",
        HEAVY,
    ),
    "held too long": ([CONTROL], "time limit", TIME),
}


@pytest.mark.parametrize("name", list(LOSSES))
def test_a_loss_counts_with_what_began_it(name: str):
    happened, logged, wanted = LOSSES[name]
    causes = Causes()
    for event in happened:
        causes.see(*event)
    assert causes.of_loss(logged) == wanted


def test_every_cause_of_the_log_is_sorted_and_a_new_one_is_refused():
    for cause in LOGGED:
        if cause != "shot":
            assert Causes().of_loss(cause)
    with pytest.raises(ValueError, match="cause of a loss must be one of"):
        Causes().of_loss("sneeze")


@pytest.fixture(scope="module")
def bout():
    game = game_of(cells()["4v2 10 m"])
    (log,) = session_bouts(game, 5, 0)
    return log, counts_of_bout(game, log)


def test_the_counts_of_a_bout_are_those_of_its_log(bout):
    log, counts = bout
    kinds = [row[2] for row in log.events]
    assert counts.sums["passes"] == kinds.count("release")
    assert counts.sums["losses"] == kinds.count("loss") > 0
    assert sum(count for name, count in counts.sums.items() if name.startswith("losses ")) == counts.sums["losses"]
    assert counts.sums["watch outside"] == pytest.approx(4 * log.duration_s / 60)
    assert counts.sums["watch inside"] == pytest.approx(2 * log.duration_s / 60)
    assert 0 < counts.sums["straight back"] <= counts.sums["passes received"] <= counts.sums["passes"]
    assert len(counts.lists["opponent m"]) == counts.sums["receptions"] == kinds.count("receive")


def made(*pairs: tuple[float, float]) -> list[BoutCounts]:
    return [BoutCounts({"losses": lost, "passes": tried}, {}) for lost, tried in pairs]


def test_quantities_are_ratios_of_sums_with_an_interval_about_them():
    bouts = made((5, 50), (7, 80), (9, 90))
    ours = quantity(bouts, "losses", "passes", 100.0)
    assert ours.value == pytest.approx(100 * 21 / 220) and ours.low < ours.value < ours.high
    assert math.isnan(quantity(bouts, "losses", "shots").value)


def test_a_cell_over_itself_is_one_without_doubt_and_over_another_the_ratio():
    bouts, easier = made((5, 50), (7, 80), (9, 90)), made((2, 50), (4, 80), (3, 90))
    assert tuple(quantity_over(bouts, bouts, "losses", "passes")) == pytest.approx((1.0, 1.0, 1.0))
    ours = quantity_over(bouts, easier, "losses", "passes")
    assert ours.value == pytest.approx(21 / 9) and ours.low < ours.value < ours.high
    assert math.isnan(quantity_over(bouts, made((0, 50), (0, 80), (0, 90)), "losses", "passes").value)


def test_a_band_is_held_against_its_own_cells():
    by_id = {band.id: band for band in bands()}
    played = {"4v2 10 m": made((10, 100), (10, 100)), "one touch": made((15, 100), (15, 100))}
    first, over = line_of(by_id["B01"], played), line_of(by_id["B09"], played)
    assert (first.ours, first.inside) == (pytest.approx(10.0), True)
    assert (over.ours, over.inside) == (pytest.approx(1.5), True)
    worse = line_of(by_id["B01"], {"4v2 10 m": made((20, 100), (20, 100))})
    assert not worse.inside
    assert counted([first, over, worse], "fitted") == (2, 3) and isinstance(worse, BandedLine)


def test_the_panel_has_all_its_squares_once_and_reads_back(tmp_path):
    squares = panel.squares()
    assert len(squares) == len(set(squares)) == 144
    rows = [panel.row_of(square, made((5, 50), (7, 80))) for square in squares[:3]]
    (tmp_path / "panel.csv").write_text(panel.as_csv(rows), encoding="utf-8")
    again = panel.read_rows(tmp_path / "panel.csv")
    assert panel.as_csv(again) == panel.as_csv(rows)
    assert [row.numbers for row in again] == ["4v1"] * 3


def test_the_panel_counts_passes_tried_as_the_bands_do(bout):
    log, counts = bout
    again = panel.passes_and_losses(game_of(cells()["4v2 10 m"]), [log], None)
    assert again.sums["passes"] == counts.sums["passes"] and again.sums["losses"] == counts.sums["losses"]
    assert np.isclose(again.sums["completed"], counts.sums["receptions"])
