"""One knob and two: points, ranges, target and answer as in the frame, and sentences of the same figures."""

from __future__ import annotations

from functools import cache

import numpy as np
import pandas as pd
import pytest
from matplotlib.collections import QuadMesh
from matplotlib.figure import Figure

from sim.experiments.designs import Axis
from sim.experiments.sweep import Run, sweep
from sim.experiments.tune import tune
from sim.plots import curve, surface
from sim.plots.frames import of_sweep, of_tuned, unit_of_key
from sim.plots.pages import of_sweep as page_of_sweep
from sim.plots.pages import of_tuned as page_of_tuned
from sim.words.figures import two
from sim.words.picture_words import changes_words, key_words, setting
from tests.unit.experiments.test_sweep import AXES, RUNS, swept
from tests.unit.experiments.test_tune import GAME, GAMES, SHARE, staged_sizes, tuned
from tests.unit.plots.drawn import an_axis, bars_of, title_of

FOUND = tuned(0.77)
LINES = swept()


@cache
def grid_of():
    both = {(side, touches): game for (side,), game in GAMES.items() if side < 13 for touches in (1, 2)}
    return tune(GAME, both, ["side", "touches"], (*SHARE, 0.77), bouts=15, workers=1, session=staged_sizes)


def test_the_frame_of_a_tune_is_its_curve_and_the_answer_played_again():
    frame = of_tuned(FOUND)
    assert list(frame["value"]) == [10, 11, 12, 13, 14, 15, FOUND.answer[0]]
    assert list(frame["mean"][:-1]) == pytest.approx([100 * one.mean for one in FOUND.curve])
    assert frame["what"].value_counts().to_dict() == {"point": 5, "answer": 1, "played again": 1}
    assert frame.iloc[-1]["mean"] == pytest.approx(100 * FOUND.fresh.mean)
    assert set(frame["target"]) == {77.0} and set(frame["key_unit"]) == {"m"}


def test_points_ranges_and_target_are_drawn_as_they_stand():
    frame = of_tuned(FOUND)
    axis = an_axis()
    assert curve.draw(frame, axis) is axis
    drawn = sorted((mean, low, high) for _, mean, low, high in bars_of(axis))
    assert np.array(drawn) == pytest.approx(frame[["mean", "low", "high"]].sort_values("mean").to_numpy())
    assert (
        axis.get_xlabel() == "side of the area, m" and axis.get_ylabel() == "time the ball is rolling, % (on the watch)"
    )
    (target,) = [line for line in axis.lines if line.get_label() == "you asked for 77"]
    assert set(target.get_ydata()) == {77.0}
    (band,) = [one for one in axis.collections if one.get_label() == "band: give or take (our own doubt)"]
    edges = band.get_paths()[0].vertices[:, 1]
    assert (edges.min(), edges.max()) == pytest.approx((frame["low"][:-1].min(), frame["high"][:-1].max()))


def test_the_answer_has_a_shape_of_its_own():
    axis = curve.draw(of_tuned(FOUND), an_axis())
    shapes = {one.get_label(): one.lines[0].get_marker() for one in axis.containers}
    assert set(shapes) == {"tried", "the nearest", "the same, played again in fresh sessions"}
    assert len(set(shapes.values())) == 3


def test_the_sentence_of_a_tune():
    again = of_tuned(FOUND).iloc[-1]
    assert title_of(curve.draw(of_tuned(FOUND), an_axis())) == (
        f"{again['value']:g} m gives about {again['mean']:.0f} % (give or take {two((again['high'] - again['low']) / 2)}) of the "
        "time on the watch with the ball rolling; you asked for 77 %."
    )
    no = of_tuned(tuned(0.95))
    assert title_of(curve.draw(no, an_axis())).startswith("Nothing tried gets to 95 %. The nearest: 15 m gives about ")
    most = of_tuned(tuned("most"))
    assert title_of(curve.draw(most, an_axis())).endswith("the most of the 6 tried.")


def test_the_frame_of_a_sweep_is_its_rows():
    frame = of_sweep(AXES, RUNS, LINES, "in_play_share")
    assert list(frame["value"]) == [10.0, 11.0, 12.0, 13.0, 14.0, 15.0]
    assert (
        (frame["low"] <= frame["mean"]).all() and (frame["mean"] <= frame["high"]).all() and frame["high"].max() <= 100
    )
    top, bottom = frame.iloc[-1], frame.iloc[0]
    title = title_of(curve.draw(frame, an_axis()))
    assert title.startswith(f"15 m gives most: about {top['mean']:.0f} % (give or take ")
    assert f"10 m gives least: {bottom['mean']:.0f} (give or take " in title


@pytest.mark.parametrize(
    ("high", "said"), [(76.9, "10 m gives least: 74 (give or take 2.5)."), (77.1, "Too close to call.")]
)
def test_ranges_that_overlap_are_said_to(high: float, said: str):
    frame = of_sweep(AXES, RUNS, LINES, "in_play_share")
    frame.loc[0, ["mean", "low", "high"]] = [74.0, 72.0, high]
    frame.loc[5, ["mean", "low", "high"]] = [82.0, 77.0, 84.0]
    assert title_of(curve.draw(frame, an_axis())).endswith(said)


def test_a_sweep_of_words_stands_in_its_order():
    frame = of_sweep(AXES, RUNS, LINES, "in_play_share").assign(value=["free", 3, 2, 1, "x", "y"])
    axis = curve.draw(frame, an_axis())
    assert [label.get_text() for label in axis.get_xticklabels()] == ["free", "3", "2", "1", "x", "y"]


def test_from_one_session_there_is_no_range_and_it_says_so():
    frame = of_sweep(AXES, RUNS, LINES, "in_play_share").assign(low=float("nan"), high=float("nan"))
    assert title_of(curve.draw(frame, an_axis())).endswith("From so few bouts nobody can say how sure that is.")


def test_two_knobs_are_cells_with_their_figures():
    frame = of_tuned(grid_of())
    axis = an_axis()
    assert surface.draw(frame, axis) is axis
    points = frame[frame["what"] != "played again"]
    (mesh,) = [one for one in axis.collections if isinstance(one, QuadMesh)]
    shades = np.asarray(mesh.get_array()).ravel()
    means = points.sort_values(["value_2", "value"])["mean"].to_numpy()
    assert list(np.argsort(shades, kind="stable")) == list(np.argsort(means, kind="stable")), "darker is more"
    words = [text.get_text() for text in axis.texts if text.get_gid() == "mean"]
    assert words == [f"{mean:.0f}" for mean in points["mean"]]
    ranges = [text.get_text() for text in axis.texts if text.get_gid() != "mean"]
    assert ranges == [f"{low:.0f}-{high:.0f}" for low, high in points[["low", "high"]].itertuples(index=False)]
    boxes = {one.get_label() for one in axis.patches}
    assert "chosen" in boxes and "as good as the 77 you asked for" in boxes


def test_points_spread_over_the_space_are_discs_at_their_places():
    frame = of_tuned(grid_of())
    some = frame[frame["what"] == "point"].iloc[[0, 1, 3, 4]].assign(what="point", target=float("nan"))
    axis = surface.draw(some, an_axis())
    (discs,) = [one for one in axis.collections if len(one.get_offsets()) == 4]
    assert np.asarray(discs.get_offsets()) == pytest.approx(some[["value", "value_2"]].to_numpy(dtype=float))


def test_one_key_is_a_curve_and_two_are_a_surface():
    assert page_of_tuned(FOUND).picture is curve and page_of_tuned(grid_of()).picture is surface
    assert page_of_sweep(GAME, AXES, (RUNS, LINES), ("in_play_share", "game")).picture is curve
    axes = [*AXES, Axis("touches", ("2",))]
    runs = [Run(run.id, (*run.values, "2"), run.game) for run in RUNS]
    lines = sweep(runs, 6, 1, workers=1, session=staged_sizes)
    page = page_of_sweep(GAME, axes, (runs, lines), ("in_play_share", "game"))
    assert page.picture is surface and page.origin.played == f"{6 * 6} bouts in 6 runs"


@pytest.mark.parametrize(
    ("key", "unit"),
    [
        ("side", "yd"),
        ("far.area", "yd2"),
        ("areas.square.length", "yd"),
        ("bout", "s"),
        ("touches", ""),
        ("game.name", ""),
    ],
)
def test_units_of_keys(key: str, unit: str):
    assert unit_of_key(key, "yd") == unit


def test_many_cells_are_drawn_without_words():
    frame = of_tuned(grid_of())
    rows = [frame.iloc[:1].assign(value=float(i), value_2=float(j)) for i in range(20) for j in range(9)]
    axis = surface.draw(pd.concat(rows, ignore_index=True), Figure().add_subplot())
    assert [text for text in axis.texts if text.get_gid() == "mean"] == []


@pytest.mark.parametrize(
    ("key", "value", "unit", "axis", "said"),
    [
        ("side", 8.0, "m", "side of the area, m", "8 m"),
        ("side.west", 12, "m", "side of west, m", "12 m (west)"),
        ("touches", 1, "", "touches allowed", "1 touch"),
        ("touches", "free", "", "touches allowed", "free touches"),
        ("defenders", 3, "", "defenders", "3 defenders"),
        ("bout", 90, "s", "length of a bout, s", "90 s bouts"),
        ("areas.square.length", 9, "yd", "length of square, yd", "length of square 9 yd"),
        ("roles.outside.touches", 2, "", "touches for outside", "touches for outside 2"),
        ("restarts.start.seconds", 4, "s", "wait before the start ball, s", "wait before the start ball 4 s"),
        ("supply.retrieve_seconds", 9, "s", "time to fetch a ball, s", "time to fetch a ball 9 s"),
        ("teams.squad.own_word", 9, "", "own word of squad", "own word of squad 9"),
    ],
)
def test_what_is_turned_is_said_in_words(key: str, value: object, unit: str, axis: str, said: str):
    assert key_words(key, unit) == axis and setting(key, value, unit) == said


def test_changes_are_said_in_words():
    assert changes_words(["areas.square.length=9", "areas.square.width=9", "restarts.start.seconds=2"]) == [
        "9 x 9 m", "the ball back in after 2 s at the start",
    ]  # fmt: skip


def test_more_than_one_gives_in_the_plural():
    rows = of_sweep(AXES, RUNS, LINES, "in_play_share").assign(key="touches", key_unit="")
    assert title_of(curve.draw(rows, an_axis())).startswith("15 touches give most: about ")
