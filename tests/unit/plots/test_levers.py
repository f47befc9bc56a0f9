"""The ranking of levers: drawn as it stands in the frame, and the sentence is made of the same figures."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd
import pytest

from sim.plots import levers
from sim.plots.frames import of_why
from tests.unit.experiments.test_why import asked
from tests.unit.plots.drawn import an_axis, bars_of, title_of


def a_frame(**more) -> pd.DataFrame:
    rows = {
        "lever": ["a metre in", "a pass fewer", "a defender more"],
        "effect": [-0.55, 0.02, 1.234],
        "low": [-0.8, -0.1, 0.9],
        "high": [-0.3, 0.14, 1.5],
        "told_apart": [True, False, True],
    }
    about = {"measure": "turnovers_per_min", "scope": "game", "unit": "1/min", "clock": "in play"}
    return pd.DataFrame(rows | more).assign(**about)


def test_it_draws_on_the_axis_it_is_given_and_returns_it():
    axis = an_axis()
    assert levers.draw(a_frame(), axis) is axis


def test_what_is_drawn_is_the_frame_largest_on_top():
    axis = levers.draw(a_frame(), an_axis())
    names = [label.get_text() for label in axis.get_yticklabels()]
    assert names == ["a defender more", "a metre in", "a pass fewer"]
    drawn = {names[int(y)]: (x, low, high) for x, y, low, high in bars_of(axis)}
    for row in a_frame().itertuples():
        assert drawn[row.lever] == pytest.approx((row.effect, row.low, row.high))
    assert axis.get_ylim()[0] > axis.get_ylim()[1]


def test_what_cannot_be_told_from_nothing_is_hollow():
    axis = levers.draw(a_frame(), an_axis())
    faces = {one.get_label(): one.lines[0].get_markerfacecolor() for one in axis.containers}
    assert faces["could still be luck"] == "white"
    assert faces["clear"] != "white"


def test_sorts_of_rows_have_their_own_markers():
    axis = levers.draw(a_frame(kind=["yours", "ours", "ours"]), an_axis())
    markers = {one.get_label().split(",")[0]: one.lines[0].get_marker() for one in axis.containers}
    assert len(markers) == 2 and len(set(markers.values())) == 2


def test_the_sentence_is_made_of_the_figures():
    title = title_of(levers.draw(a_frame(), an_axis()))
    assert title == (
        'What moves it most: "a defender more", +1.2 (give or take 0.3) losses a minute with the ball rolling. 1 of the 3 rows '
        "could still be luck."
    )


def test_with_nothing_to_be_told_it_names_none():
    frame = a_frame().assign(told_apart=False)
    title = title_of(levers.draw(frame, an_axis()))
    assert title == "Nothing here clearly changes this: losses. All of it could be luck."


def test_the_axis_says_its_unit_and_clock():
    axis = levers.draw(a_frame(), an_axis())
    assert (
        axis.get_xlabel() == "fewer or more losses a minute with the ball rolling (bars: give or take, our own doubt)"
    )


def test_what_moves_a_number_is_drawn_as_in_the_answer_and_told_only_where_the_answer_tells():
    found = asked()
    frame = of_why(found, 5)
    rows = [row for row in found.rows if row.change][:5]
    by = 100 if found.unit == "share" else 1
    assert list(frame["effect"]) == pytest.approx([by * row.change for row in rows])
    assert list(frame["high"] - frame["effect"]) == pytest.approx([2 * by * row.change_se for row in rows])
    assert found.clear and list(frame["told_apart"]) == [abs(row.change) > 2 * row.change_se for row in rows]
    assert frame["told_apart"].any() and not of_why(replace(found, clear=False), 5)["told_apart"].any()
