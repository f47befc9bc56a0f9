"""How an evening is cut in bouts: minutes rolling, how evenly they defend, and what is left in the last bout."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from sim.experiments.series import OfEvenings, Series, SeriesCompared, difference, drop_off, series_compared
from sim.game.loader import load_game
from sim.measures.session_counts import COLUMN, counts_of_bout
from sim.words.series_compared import bouts_alone_differ, side_by_side, take
from tests.unit.measures.handmade import square_bout, square_game

GAME = square_game(count=2)
TIGHT = load_game("tight-square")


def bout(session: int, number: int, late: float, metres: float):
    """The square by hand, in which everybody has run so many times as far."""
    one = counts_of_bout(GAME, square_bout(session, number, late))
    cells = one.cells.copy()
    cells[:, :, COLUMN["distance_m"]] = metres * cells[:, :, COLUMN["time_s"]]
    return replace(one, cells=cells)


def evenings(late: float, last: float):
    return [[bout(i, 0, late + 0.1 * i, 1.0), bout(i, 1, late, last)] for i in range(5)]


def test_the_drop_is_that_of_metres_a_minute_from_the_first_bout_to_the_last():
    first, last = bout(0, 0, 0.0, 2.0), bout(0, 1, 0.0, 1.5)
    assert drop_off([first, last]) == pytest.approx(0.25)
    assert drop_off([first, last, first]) == pytest.approx(0.0)
    assert math.isnan(drop_off([first]))


def test_both_evenings_and_their_differences():
    found = series_compared((GAME, GAME), (evenings(0.0, 0.9), evenings(2.0, 0.8)))
    assert found.first.drop.mean == pytest.approx(0.1) and found.second.drop.mean == pytest.approx(0.2)
    assert found.drop == pytest.approx((0.1, 0.1, 0.1))
    assert found.first.rolling_s.mean == pytest.approx(2 * 43 + 0.2)
    assert found.rolling_s == pytest.approx((4.0, 4.0, 4.0))
    shares = [70 / (86 + 0.1 * i) for i in range(5)]  # p1 defends 70 s, p3 and p4 never do
    assert found.first.apart.mean == pytest.approx(np.mean(shares))
    assert (found.first.apart.low, found.first.apart.high) == pytest.approx(tuple(np.quantile(shares, [0.1, 0.9])))
    assert found.first.count == 2 and found.first.seconds == 60


def test_three_intervals_hold_together():
    first, second = np.zeros(5), np.array([1.0, 2.0, 3.0, 4.0, math.nan])
    mean, low, high = difference(first, second)
    half = 4.857 * np.std([1, 2, 3, 4], ddof=1) / 2  # Student's t of three freedoms at 1 - 0.05 / 3 / 2, from a table
    assert mean == 2.5 and (low, high) == pytest.approx((2.5 - half, 2.5 + half), rel=1e-3)
    assert difference(first[:1], second[:1]) is None


def made_up(rolling=None, apart=None, drop=None) -> SeriesCompared:
    own = [OfEvenings(670.0, 650.0, 690.0), OfEvenings(0.4, 0.3, 0.5), OfEvenings(0.02, -0.04, 0.07)]
    return SeriesCompared(Series(4, 180.0, *own), Series(6, 120.0, *own), rolling, apart, drop)


def test_what_to_take_and_why():
    even = (-0.1, -0.15, -0.05)
    assert take(made_up(), TIGHT) == "Too close to call: take 4 of 3 min, which is fewer stops."
    assert take(made_up(apart=even), TIGHT) == "Take 6 of 2 min: the defending is shared out more evenly."
    assert take(made_up(drop=(0.03, 0.02, 0.04)), TIGHT) == "Take 4 of 3 min: there is more left in the last bout."
    assert take(made_up(rolling=(30.0, 20.0, 40.0)), TIGHT) == "Take 6 of 2 min: the ball rolls for longer."
    assert "Too close" in take(made_up(apart=(-0.1, -0.25, 0.05)), TIGHT), "it could be luck"
    assert "Too close" in take(made_up(rolling=(3.0, 2.0, 4.0)), TIGHT), "three seconds are not worth a word"
    both = take(made_up(apart=even, drop=(0.03, 0.02, 0.04)), TIGHT)
    assert both.endswith("Which matters more is for you to say.") and both.startswith("4 of 3 min: there is more left")


def test_where_nobody_changes_roles_how_evenly_they_defend_is_no_reason():
    assert take(made_up(apart=(-0.1, -0.15, -0.05)), load_game("even-keep-ball")).startswith("Too close to call")


def test_what_it_is_read_off_has_one_evenings_range():
    assert side_by_side(made_up(), TIGHT) == [
        "Ball rolling: 11.2 min (usually 10.8 to 11.5), as it is 11.2 (10.8 to 11.5).",
        "Most and least time in: 40 % apart (30 to 50), as it is 40 (30 to 50).",
        "Metres of the last bout: 2 % down on the first (4 % up to 7 % down), as it is 2 % down (4 % up to 7 % down).",
    ]
    nothing = replace(made_up(), first=replace(made_up().first, drop=OfEvenings(None, None, None)))
    assert len(side_by_side(nothing, TIGHT)) == 2


def test_games_that_differ_in_their_bouts_alone():
    def changed(*changes):
        return load_game("tight-square", changes=list(changes))

    assert TIGHT.bouts.count * TIGHT.bouts.seconds == 480, "what the numbers below are set beside"
    assert bouts_alone_differ(TIGHT, changed("bouts=6", "bout=80"))
    assert bouts_alone_differ(TIGHT, changed("bouts=6", "bout=77", "rest=20")), "4 % less"
    assert not bouts_alone_differ(TIGHT, changed("bouts=6", "touches=1"))
    assert not bouts_alone_differ(TIGHT, changed("rest=10")) and not bouts_alone_differ(TIGHT, TIGHT)


@pytest.mark.parametrize(
    "changes",
    [
        ("bouts=8",),
        ("bouts=6", "bout=75"),
        ("bouts=6", "bout=80", "bouts.rotate=list"),
        ("bouts=6", "bout=80", "bouts.clock=stopped"),
    ],
)
def test_another_load_or_another_rule_of_the_bouts_is_no_other_way_of_cutting_the_evening(changes):
    assert not bouts_alone_differ(TIGHT, load_game("tight-square", changes=[*changes]))
