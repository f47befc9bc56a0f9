"""Which measure leads a comparison, and what one evening of each side may bring."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sim.experiments.compare import evening_of
from sim.experiments.key_measures import LOST, MOST, KeyMeasure, key_measures
from sim.experiments.leading import ROLLING, about, clearness, lead_of
from sim.game.loader import load_game
from sim.measures.sessions import Sessions
from sim.measures.summary import summarise
from tests.unit.experiments.test_compare import FOUND, GAME
from tests.unit.measures.test_summary import session

ALL = {"turnovers_per_min", ROLLING, "points_per_min", "transfers_per_min", MOST}


@pytest.mark.parametrize(
    ("changes", "lead"),
    [
        (["supply.balls=1"], [ROLLING]),
        (["restarts.out.seconds=2", "touches=1"], [ROLLING]),
        (["passes=6"], ["points_per_min", "transfers_per_min"]),
        (["phases.keep.rules.point.count=6"], ["points_per_min", "transfers_per_min"]),
        (['bouts.rotate="list"'], [MOST]),
        (["touches=1"], ["turnovers_per_min"]),
        ([], ["turnovers_per_min"]),
    ],
)
def test_a_change_is_about_what_it_is_made_for(changes, lead):
    assert about(changes, GAME, ALL) == lead


def test_what_a_game_does_not_have_is_not_what_a_change_is_about():
    assert about(["passes=6"], GAME, {"turnovers_per_min", ROLLING}) == ["turnovers_per_min"]
    goals = load_game("even-goals")
    assert about([], goals, {LOST, "turnovers_per_min", "goals_per_bout"}) == ["goals_per_bout", LOST]


def row(measure, difference, half, verdict="clear, matters"):
    low, high = difference - half, difference + half
    return replace(
        FOUND.row("in_play_share"), measure=measure, difference=difference, low=low, high=high, verdict=verdict
    )


def test_of_several_the_clearest_leads_and_what_was_asked_for_before_all():
    points, across = row("points_per_min", 2.0, 1.0), row("transfers_per_min", 1.0, 0.1)
    lost = row("turnovers_per_min", 9.0, 0.1)
    assert lead_of([[points, across, lost]], ["passes=6"], GAME) == ("transfers_per_min", "game")
    luck = replace(across, verdict="cannot tell")
    assert lead_of([[points, luck, lost]], ["passes=6"], GAME) == ("points_per_min", "game")
    assert lead_of([[luck, lost]], ["passes=6"], GAME) == ("transfers_per_min", "game"), (
        "none is clear: the first there is"
    )
    asked = ("distance_per_min", "role:inside")
    assert lead_of([[points, across, lost]], ["passes=6"], GAME, asked) == asked
    assert lead_of([[points, lost], [across, lost]], ["passes=6"], GAME) == ("turnovers_per_min", "game"), "all have it"
    assert clearness(replace(points, difference=None)) == 0


def test_one_evening_is_what_an_estimate_calls_usual():
    """The same sessions, the same ends, on both clocks; and by hand."""
    played = [session(i, 0.3 * i, 2.0 - 0.2 * i) for i in range(9)]
    found = key_measures(GAME, Sessions(played))
    rows = {one.measure: one for one in summarise(GAME, played) if one.scope == "game"}
    evening = evening_of(found["turnovers_per_min", "game"])
    usual, watch = rows["turnovers_per_min"], rows["turnovers_per_clock_min"]
    assert (evening.low, evening.high) == (usual.session_low, usual.session_high)
    assert (evening.watch, evening.watch_low, evening.watch_high) == pytest.approx(
        (watch.mean, watch.session_low, watch.session_high)
    )
    rates = [60 * one.totals["turnovers"] / one.in_play_s for one in played]
    assert (evening.low, evening.high) == pytest.approx(tuple(np.quantile(rates, [0.1, 0.9])))
    assert evening.low < evening.high


def test_what_is_no_rate_with_the_ball_rolling_has_one_clock_and_a_session_without_it_no_value():
    share = KeyMeasure(
        "in_play_share", "game", "share", "watch", "", np.array([1.0, 0.0, 3.0]), np.array([2.0, 0.0, 4.0])
    )
    evening = evening_of(share)
    assert (evening.low, evening.high) == pytest.approx((0.525, 0.725))
    assert (evening.watch, evening.watch_low, evening.watch_high) == (None, None, None)
