"""Pass runs: the share that reaches a number of passes, by hand, with its range, and drawn as it stands."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from sim.experiments.pass_run_survival import at_least, counts_of, pass_run_survival_of, with_interval
from sim.plots import runs
from sim.plots.bout_frames import of_runs
from sim.words.picture_titles import times_in
from tests.unit.plots.drawn import an_axis, title_of
from tests.unit.plots.test_exposure import GAME, TALLIES


def holding(*each: dict) -> list:
    return [replace(TALLIES[0], runs=Counter(one)) for one in each]


def test_shares_by_hand():
    """Ten possessions: 4 end at once, 3 after one pass, 2 after two, one after four."""
    assert at_least(np.array([4.0, 3.0, 2.0, 0.0, 1.0])) == pytest.approx([1.0, 0.6, 0.3, 0.1, 0.1])


def test_a_possession_that_the_whistle_ends_counts_as_it_stands():
    """Three runs of 1, 2 (the whistle) and 3 passes, as on an assistant's sheet."""
    found = pass_run_survival_of(
        holding({("outside", 1, False): 1, ("outside", 2, True): 1, ("outside", 3, False): 1}), ["outside"]
    )
    assert [one.share for one in found] == pytest.approx([1.0, 1.0, 2 / 3, 1 / 3])


def test_sessions_are_counted_by_side():
    sessions = holding(
        {("outside", 2, False): 3, ("outside", 1, True): 1, ("inside", 0, False): 5}, {("outside", 0, False): 2}
    )
    assert counts_of(sessions, "outside").tolist() == [[0, 1, 3], [2, 0, 0]]


def test_the_range_of_a_plain_share_is_that_of_its_sessions():
    """Ten possessions a session, none cut: the share of all is the mean of the sessions' shares, so the jackknife is its error."""
    hits = np.array([3, 5, 8, 6, 4])
    ended = np.column_stack([10 - hits, hits]).astype(float)
    share, low, high = with_interval(ended)
    error = (hits / 10).std(ddof=1) / np.sqrt(5)
    assert share[1] == pytest.approx(0.52)
    assert (high[1] - low[1]) / 2 == pytest.approx(2.7764 * error, rel=1e-4)  # t with 4 degrees of freedom
    assert (share[0], low[0], high[0]) == (1.0, 1.0, 1.0)


def test_ranges_hold_the_truth():
    """Geometric runs, some cut short, each counted as it stands (0.7 x 0.9 to go on): of 400 intervals 95 % hold the truth,
    give or take 2.75 standard errors of that share."""
    draw = np.random.default_rng(5)
    held = 0
    for _ in range(400):
        lengths, ends = draw.geometric(0.3, size=(20, 8)) - 1, draw.geometric(0.1, size=(20, 8)) - 1
        counts = np.zeros((20, 60))
        for at, length in np.ndenumerate(lengths):
            counts[at[0], min(length, ends[at])] += 1
        _, low, high = with_interval(counts)
        held += low[3] <= 0.63**3 <= high[3]  # a quarter of the runs
    assert 0.92 <= held / 400 <= 0.98


def test_from_one_session_there_is_no_range():
    (one, *_) = pass_run_survival_of(holding({("outside", 2, False): 3}), ["outside"])
    assert (one.share, one.low, one.high) == (1.0, None, None)


def test_it_stops_where_hardly_any_possession_comes():
    found = pass_run_survival_of(holding({("outside", 0, False): 199, ("outside", 9, False): 1}), ["outside", "nobody"])
    assert [(one.side, one.passes) for one in found] == [("outside", 0)]


def test_lines_and_bands_are_drawn_as_they_stand():
    frame = of_runs(
        holding(
            {("outside", 1, False): 6, ("outside", 4, False): 4, ("inside", 1, False): 5},
            {("outside", 1, False): 3, ("outside", 4, False): 6, ("inside", 2, False): 5, ("outside", 3, True): 1},
            {("outside", 0, False): 3, ("outside", 6, False): 2, ("inside", 1, False): 2},
        ),
        GAME,
    )
    assert (frame["low"] < frame["share"]).any() and set(frame["side"]) == {"outside", "inside"}
    axis = an_axis()
    assert runs.draw(frame, axis) is axis
    sides = list(dict.fromkeys(frame["side"]))
    for side, line, band in zip(sides, axis.lines, axis.collections, strict=False):
        own = frame[frame["side"] == side]
        edges = band.get_paths()[0].vertices
        assert {(x, round(y, 9)) for x, y in edges} >= {
            (x, round(y, 9)) for name in ("low", "high") for x, y in zip(own["passes"], own[name], strict=True)
        }
        assert list(line.get_xdata()) == list(own["passes"]) and list(line.get_ydata()) == pytest.approx(
            list(own["share"])
        )
    asked = [line for line in axis.lines if line.get_label() == "the game asks for 3"]
    assert [set(line.get_xdata()) for line in asked] == [{3}]


def test_the_sentence_is_that_of_the_side_that_starts():
    sessions = holding({("outside", 1, False): 6, ("outside", 4, False): 4, ("inside", 0, False): 5}) * 2
    frame = of_runs(sessions, GAME)
    assert set(frame["side"]) == {"outside"}, "a side that never passes is left out"
    title = title_of(runs.draw(frame, an_axis()))
    assert (
        title
        == "Half the time outside string 1 pass or more together; they get to the 3 you ask for about 4 times in 10."
    )


def test_without_a_number_in_the_rules_it_says_what_few_reach():
    frame = of_runs(holding({("outside", 1, False): 6, ("outside", 4, False): 4}) * 2, GAME).assign(asked=float("nan"))
    title = title_of(runs.draw(frame, an_axis()))
    assert title == "Half the time outside string 1 pass or more together; about 4 times in 10 it is 4 or more."


@pytest.mark.parametrize(
    ("percent", "said"),
    [(0.4, "hardly ever"), (1.2, "about once in 100"), (9.4, "about 9 times in 100"), (9.6, "about once in 10"),
     (73.0, "about 7 times in 10"), (96.0, "nearly every time")],
)  # fmt: skip
def test_shares_are_said_in_times(percent: float, said: str):
    assert times_in(percent) == said
