"""The pictures of a plan, read back from their artists: every number of the frame is where it says."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd
import pytest
from matplotlib.text import Text

from sim.plots import plan_change, plan_frames, plan_ladder, plan_players, plan_week
from sim.plots.page import Page, our_settings, page_figure
from sim.plots.plan_pages import origin_of
from sim.report.report import NARROW
from sim.weeks.moving import moved, read_move
from sim.weeks.plan import planned
from sim.words import plan_titles
from tests.unit.plots.drawn import an_axis, title_of
from tests.unit.weeks.test_plan import FILE, MEMBERS, TABLE


@pytest.fixture(scope="module")
def plan():
    return planned(FILE, MEMBERS, TABLE)


def panels(axis):
    return axis.child_axes


def test_an_evening_is_a_dot_in_its_band_in_every_panel(plan):
    frame = plan_frames.of_evenings(plan)
    axis = plan_week.draw(frame, an_axis())
    assert len(panels(axis)) == 4
    for panel, (measure, rows) in zip(panels(axis), frame.groupby("measure", sort=False), strict=True):
        unit = 1000 if measure == "metres" else 1
        dots = [line.get_xdata()[0] for line in panel.lines if line.get_marker() == "o"]
        assert dots == pytest.approx(list(rows["value"] / unit))
        boxes = [(box.get_x(), box.get_x() + box.get_width()) for box in panel.patches]
        assert boxes == [
            pytest.approx(ends) for ends in zip(rows["band_low"] / unit, rows["band_high"] / unit, strict=True)
        ]
    assert title_of(axis).endswith("evenings lies in its band of distance")


def test_a_band_that_is_not_known_is_not_drawn(plan):
    blank = planned(replace(FILE, full_match={}), MEMBERS, TABLE)
    axis = plan_week.draw(plan_frames.of_evenings(blank), an_axis())
    assert [len(panel.patches) for panel in panels(axis)] == [2, 0, 0, 0]


def test_weeks_are_steps_at_what_they_come_to(plan):
    frame = plan_frames.of_weeks(plan)
    axis = plan_ladder.draw(frame, an_axis())
    steps = [line.get_ydata()[0] for line in axis.lines]
    assert steps == pytest.approx(list(frame[frame["measure"] == "metres"]["value"] / 1000))
    assert [one.get_text() for one in axis.texts] == ["on the lower pitch"]


def test_everybody_has_a_panel_in_the_order_of_the_squad_file(plan):
    frame = plan_frames.of_players(plan)
    axis = plan_players.draw(frame, an_axis())
    assert [panel.get_title(loc="left") for panel in panels(axis)] == [
        line.member.name for line in plan.lines if not line.member.keeper
    ]
    heights = [bar.get_height() for bar in panels(axis)[0].patches]
    assert heights == pytest.approx([day.amounts["metres"] / 1000 for day in plan.lines[1].days])
    assert title_of(axis) == "12 Brandt does less than the squad"


def test_a_move_is_an_arrow_from_before_to_after(plan):
    found = moved(plan, read_move("sat=fri", FILE), MEMBERS, TABLE)
    frame = plan_frames.of_move(found)
    axis = plan_change.draw(frame, an_axis())
    marks = {
        sign: [line.get_xdata()[0] for line in axis.lines if line.get_marker() == sign and len(line.get_xdata())]
        for sign in "so"
    }
    assert marks["s"] == pytest.approx(list(frame["before"] / 1000))
    assert marks["o"] == pytest.approx(list(frame["after"] / 1000))


def test_an_evening_that_is_cut_has_no_mark_after(plan):
    frame = plan_frames.of_move(moved(plan, read_move("sat=thu", FILE), MEMBERS, TABLE))
    assert isinstance(frame, pd.DataFrame)
    assert list(frame["after"].isna()) == [False, True]


def test_a_match_of_unknown_minutes_is_a_question_and_no_distance():
    unknown = replace(FILE, matches=tuple(replace(one, minutes={}) for one in FILE.matches))
    axis = plan_players.draw(plan_frames.of_players(planned(unknown, MEMBERS, TABLE)), an_axis())
    for panel in panels(axis):
        assert [one.get_text() for one in panel.texts] == ["?"] * len(FILE.matches)
        assert len(panel.patches) == len(FILE.evenings)
    assert plan_titles.UNKNOWN in axis.get_legend_handles_labels()[1]


def test_a_match_whose_minutes_are_known_is_drawn_for_whoever_did_not_play(plan):
    axis = plan_players.draw(plan_frames.of_players(plan), an_axis())
    assert all(one.texts == [] or "?" not in [text.get_text() for text in one.texts] for one in panels(axis))


def drawn_in(panel, text) -> bool:
    """Not the label of a tick beyond the end of the axis, which is there and never drawn."""
    box = text.get_window_extent()
    return (box.x0 + box.x1) / 2 <= panel.bbox.x1


@pytest.mark.parametrize("picture", [plan_week, plan_players], ids=["week", "players"])
def test_on_a_phone_no_word_lies_on_another(plan, picture):
    frame = plan_frames.of_evenings(plan) if picture is plan_week else plan_frames.of_players(plan)
    with our_settings():
        figure = page_figure(Page(picture, frame, origin_of(plan, 1)), NARROW)
        figure.draw_without_rendering()
        boxes = [
            (text.get_text(), text.get_window_extent())
            for panel in panels(figure.axes[0])
            for text in panel.findobj(Text)
            if text.get_visible() and text.get_text() and drawn_in(panel, text)
        ]
    assert len(boxes) > 8
    for i, (text, box) in enumerate(boxes):
        assert figure.bbox.x0 <= box.x0 and box.x1 <= figure.bbox.x1, text
        assert not [other for other, there in boxes[:i] if box.shrunk(0.9, 0.9).overlaps(there.shrunk(0.9, 0.9))], text


def test_a_panel_goes_beyond_its_band(plan):
    frame = plan_frames.of_evenings(plan)
    for panel, (_, rows) in zip(
        panels(plan_week.draw(frame, an_axis())), frame.groupby("measure", sort=False), strict=True
    ):
        ends = [box.get_x() + box.get_width() for box in panel.patches]
        assert panel.get_xlim()[1] > max(ends) and len(rows) == 2
