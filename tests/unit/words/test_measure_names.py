"""What measures are called: every one that is compared or aimed at, in every form, and on its own clock."""

from __future__ import annotations

import pytest

from sim.experiments.key_measures import ALL_WORTHWHILE, WORTHWHILE
from sim.measures.catalogue import measures
from sim.measures.thresholds import ADULT_MEN
from sim.words.clocks import CLOCKS
from sim.words.measure_names import MEASURES, wording

CATALOGUE = {one.measure: one for one in measures(ADULT_MEN)}
TOLD_ELSEWHERE = ("turnovers_per_min", "turnovers_per_clock_min", "balls_lost_per_min", "distance_per_min")
"""Of what becomes of losses and metres other sentences tell."""
PER = {"1/min": "minute", "m/min": "minute", "1/bout": "bout"}


@pytest.mark.parametrize("measure", ALL_WORTHWHILE)
def test_what_is_compared_or_aimed_at_has_all_its_forms(measure: str):
    said = MEASURES[measure]
    assert bool(said.happens) != bool(said.holds)
    assert bool(said.per) != said.behind_figure(False).startswith(("%", "passes in a run"))
    assert bool(said.instead) == (measure in WORTHWHILE and measure not in TOLD_ELSEWHERE)
    for shots in (False, True):
        forms = said.noun, said.named(shots), said.behind_figure(shots), said.head(shots)
        assert all(forms) and not any("{" in one or "_" in one for one in forms)


@pytest.mark.parametrize("measure", [one for one in MEASURES if one in CATALOGUE])
def test_its_clock_and_what_it_is_counted_against_are_those_of_the_catalogue(measure: str):
    said, row = MEASURES[measure], CATALOGUE[measure]
    assert not said.per or (said.per, said.clock) == (PER[row.unit], CLOCKS[row.clock])
    assert measure not in ALL_WORTHWHILE or said.clock == CLOCKS[row.clock]


def test_shots_are_said_only_where_they_are_counted_in():
    with_shots = [one for one, said in MEASURES.items() if said.named(True) != said.noun]
    assert with_shots == ["turnovers_per_min", "turnovers_per_clock_min"]
    assert MEASURES["turnovers_per_min"].head(True) == "losses and shots/min"


def test_a_measure_without_words_of_its_own_goes_by_its_name_without_the_unit():
    assert wording("peak_speed_kmh").noun == "peak speed"
    assert wording("pass_run_p80").noun == "pass run p80"
