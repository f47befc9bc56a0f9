"""What is played for one set of constants, and how its values are put together."""

from __future__ import annotations

import pytest

from sim.evidence import playing
from sim.evidence.conditions import TYPICAL_PLAYERS
from sim.evidence.keepball.cells import bands
from sim.evidence.keepball.counts import BoutCounts
from sim.evidence.playing import Size, band_value, bouts_of_cells, measured_parts, questions_of
from sim.evidence.tables import mark_of
from sim.evidence.targets import targets

SMALL = Size(sessions=2, passing=3, bouts=4, often=5, large=1)
SMALLEST = Size(1, 1, 1, 1, 1)


def test_only_fitted_measurements_are_played_by_typical_players():
    parts = measured_parts(SMALL)
    assert {mark_of(part) for part in parts} == {"fitted"}
    assert all(TYPICAL_PLAYERS in part.changes for part in parts if part.game)
    names = {part.part for part in parts}
    assert {"M01", "M01/M03", "M39 ratio", "M39 free", "M39 pressed"} <= names, "and what others are made of"
    assert not names & {"M04-M06", "M09 order", "M38 q50"}, "nothing that has no number to be met"


def test_a_condition_is_played_once_and_passes_more_often():
    asked = questions_of(measured_parts(SMALL))
    assert sorted(sessions for sessions, _ in asked.values()) == [2] * 6 + [3]
    assert sum(len(questions) for _, questions in asked.values()) > len(asked)


def test_the_cell_on_which_most_bands_hang_is_played_most():
    played = bouts_of_cells(SMALL)
    assert {name: bouts for name, bouts in played.items() if bouts == 5} == {"4v2 10 m": 5}
    assert set(played) == {band.cell for band in bands()} | {band.over for band in bands() if band.over}
    assert set(played.values()) == {4, 5}


def counted(**sums: float) -> BoutCounts:
    return BoutCounts(sums, {})


def test_a_band_is_a_rate_or_a_ratio_of_two_rates():
    by_id = {band.id: band for band in bands()}
    few = [counted(losses=1, passes=20), counted(losses=3, passes=20)]
    many = [counted(losses=6, passes=20)]  # another number of bouts
    assert band_value(by_id["B01"], {"4v2 10 m": few}) == pytest.approx(10.0)
    assert band_value(by_id["B09"], {"one touch": many, "4v2 10 m": few}) == pytest.approx(3.0)
    assert band_value(by_id["B01"], {"4v2 10 m": [counted()]}) != band_value(by_id["B01"], {"4v2 10 m": [counted()]})
    never = {"one touch": many, "4v2 10 m": [counted(passes=20)]}
    assert band_value(by_id["B09"], never) != band_value(by_id["B09"], never)


@pytest.mark.slow
def test_a_set_of_constants_is_played_the_same_again_and_differs_by_its_constants():
    once = playing.play({"walk": 1.4}, 5, 1, SMALLEST)
    assert set(once) <= {one.part for one in targets()} and len(once) >= 40
    assert playing.play({"walk": 1.4}, 5, 1, SMALLEST) == once
    assert playing.play({"walk": 1.4}, 6, 1, SMALLEST) != once
    assert playing.play({"walk": 1.8}, 5, 1, SMALLEST) != once
