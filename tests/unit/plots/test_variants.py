"""Two variants as distributions: every session a mark at its own value, the difference in the sentence."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from sim.experiments.compare import CHANGED, Variant, compare_all
from sim.game.loader import load_game
from sim.plots import variants
from sim.plots.frames import of_compared
from sim.plots.pages import of_compared as page_of
from sim.words.picture_words import condition_names, conditions_words
from tests.unit.experiments.staged_pairs import GAME, LONG, staged_pairs
from tests.unit.plots.drawn import an_axis, title_of, words_of

FOUND = compare_all(
    GAME,
    [Variant(LONG, ("areas.square.length=12",)), Variant(LONG, (), "long")],
    bouts=36,
    workers=1,
    session=staged_pairs,
)
SHARE = "in_play_share"


def points_of(axis) -> list[np.ndarray]:
    return [np.asarray(one.get_offsets()) for one in axis.collections if len(one.get_offsets()) > 1]


def test_the_frame_has_every_session_and_the_difference_as_compared():
    frame = of_compared(FOUND, SHARE)
    assert list(dict.fromkeys(frame["condition"])) == ["as it is", "length 12 m", "long"]
    assert len(frame) == 3 * 12
    row = FOUND.comparisons[0].row(SHARE)
    own = frame[frame["condition"] == "length 12 m"].iloc[0]
    wanted = [100 * value for value in (row.second, row.difference, row.low, row.high)]
    assert list(own[["mean", "difference", "low", "high"]]) == pytest.approx(wanted)
    assert own["unit"] == "%" and own["verdict"] == row.verdict
    assert frame.groupby("condition")["value"].mean()["as it is"] == pytest.approx(100 * row.first)


def test_every_session_is_a_mark_at_its_value_in_the_row_of_its_variant():
    frame = of_compared(FOUND, SHARE)
    axis = an_axis()
    assert variants.draw(frame, axis) is axis
    for i, (drawn, (_, own)) in enumerate(zip(points_of(axis), frame.groupby("condition", sort=False), strict=True)):
        assert list(drawn[:, 0]) == pytest.approx(list(own["value"]))
        assert np.abs(drawn[:, 1] - i).max() < 0.4
    bars = [line.get_xdata() for line in axis.lines if len(line.get_xdata()) == 2 and line.get_linewidth() == 3]
    ends = frame.drop_duplicates("condition")[["session_low", "session_high"]].to_numpy()
    assert np.array(bars) == pytest.approx(ends)


def test_variants_differ_in_shape_too():
    axis = variants.draw(of_compared(FOUND, SHARE), an_axis())
    shapes = [one.get_paths()[0].vertices.shape for one in axis.collections]
    assert len(set(shapes)) == len(shapes)


def test_marks_do_not_cover_one_another_where_values_are_alike():
    offsets = variants.offsets_of(np.array([1.0, 1.0, 1.0, 5.0]), (1.0, 5.0))
    assert len(set(offsets[:3])) == 3 and offsets[3] == 0.0
    assert np.abs(variants.offsets_of(np.ones(500), (1.0, 1.0))).max() <= variants.ROOM


def test_the_sentence_is_the_largest_difference_with_its_range():
    frame = of_compared(FOUND, SHARE)
    frame.loc[frame["condition"] == "long", ["mean", "difference", "low", "high"]] = [90.0, 16.2, 14.0, 18.4]
    frame.loc[frame["condition"] == "long", "verdict"] = "cannot tell"
    first = frame.iloc[0]["mean"]
    assert title_of(variants.draw(frame, an_axis())) == (
        f'With "long" 90 % of the time on the watch with the ball rolling; with "as it is" {first:.0f}. That could still be luck: '
        "the difference is 16, give or take 2.2. Of the 2 it differs most."
    )


def test_a_difference_that_cannot_be_told_is_said_so():
    frame = of_compared(FOUND, SHARE).assign(difference=float("nan"), low=float("nan"), high=float("nan"))
    assert title_of(variants.draw(frame, an_axis())) == "No telling yet whether this differs: time the ball is rolling."


def test_the_page_says_what_was_compared():
    words = words_of(page_of(FOUND, SHARE)).replace("\n", " ")
    assert "square as it is, and length 12 m and long" in words and "36 bouts in 12 sessions of each" in words


def test_changes_are_called_as_the_game_has_them():
    """A name that is typed for a role means its players; a size is whole where the game is known."""
    three, square = load_game("tight-square", ["inside=3"]), load_game("tight-square", ["side=12"])
    every = FOUND.comparisons
    conditions = [
        replace(every[0].second, name=name, changes=(typed,)) for name, typed in (("a", "inside=3"), ("b", "side=12"))
    ]
    found = replace(
        FOUND,
        comparisons=tuple(replace(one, second=condition) for one, condition in zip(every, conditions, strict=True)),
    )
    assert conditions_words(found, {"a": three, "b": square}) == "square as it is, and a (3 inside) and b (12 x 12 m)"
    unnamed = replace(found, comparisons=(replace(found.comparisons[0], second=replace(conditions[0], name=CHANGED)),))
    assert condition_names(unnamed, {CHANGED: three})[CHANGED] == "3 inside"


def test_other_games_stand_under_their_own_names():
    other = LONG.model_copy(update={"name": "long square"})
    found = compare_all(GAME, [Variant(other, (), "long square")], bouts=36, workers=1, session=staged_pairs)
    assert list(dict.fromkeys(of_compared(found, SHARE)["condition"])) == ["square", "long square"]


def test_a_session_without_a_value_is_left_out():
    first, *rest = [one for one in FOUND.session_values if one.measure == SHARE]
    spoilt = replace(FOUND, session_values=(replace(first, value=float("nan")), *rest))
    assert len(of_compared(spoilt, SHARE)) == 3 * 12 - 1
    assert isinstance(of_compared(spoilt, SHARE), pd.DataFrame)
