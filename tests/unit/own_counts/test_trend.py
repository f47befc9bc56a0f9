"""The same game over several evenings: the run of all of them, and how sure it is."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from sim.own_counts.rates import ratio_interval
from sim.own_counts.review import Change, later_of
from sim.own_counts.tally import Counted
from sim.own_counts.trend import Counts, trend_of
from sim.words.same_game_later import later_in_words, next_step, not_the_same
from tests.unit.own_counts.byhand import chance, forecast, row
from tests.unit.own_counts.test_same_game_later import evening, looked

FOUND = forecast(chance(5.5, 400, seed=4))
DAYS = ("2026-11-07", "2026-11-14", "2026-11-21", "2026-11-28", "2026-12-05")


def of(*counts: int, days: tuple[float, ...] = (0, 7, 14, 21, 28), minutes: float = 8.0) -> list[Counts]:
    return [Counts(day, count, minutes) for day, count in zip(days, counts, strict=False)]


def later(*counts: int):
    return later_of(FOUND, [(day, Counted("losses", n, 8, "watch")) for day, n in zip(DAYS, counts, strict=False)])


def test_of_two_evenings_it_is_nearly_the_exact_interval():
    """Score against Clopper and Pearson, which is never narrower."""
    for first, last in ((14, 26), (40, 31)):
        found = trend_of(of(first, last), 1.0)
        low, high = ratio_interval((first, 8.0), (last, 8.0))
        assert (found.then, found.now) == pytest.approx((first / 8, last / 8))
        assert low <= found.low <= 1.1 * low and 0.9 * high <= found.high <= high


def test_a_steady_run_is_met_and_minutes_count():
    found = trend_of([Counts(0, 32, 8.0), Counts(10, 32, 16.0), Counts(20, 8, 8.0)], 1.0)  # 4, 2 and 1 a minute
    assert (found.then, found.now) == pytest.approx((4.0, 1.0), rel=1e-6)
    assert found.low < 0.25 < found.high < 1.0


@pytest.mark.parametrize(("ratio", "least", "most"), [(1.0, 0.92, 0.98), (0.5, 0.92, 0.985)])
def test_the_interval_holds_the_truth_as_often_as_it_says(ratio: float, least: float, most: float):
    """Four evenings of chance alone, 500 times; of 0.95 three standard errors are 0.03."""
    dice = np.random.default_rng(16)
    means = 22 * ratio ** np.array([0.0, 1 / 3, 2 / 3, 1.0])
    found = [trend_of(of(*dice.poisson(means)), 1.0) for _ in range(500)]
    assert least <= np.mean([one.low <= ratio <= one.high for one in found]) <= most


def test_other_players_on_every_evening_make_it_less_sure():
    narrow, wide = trend_of(of(14, 18, 22, 26), 1.0), trend_of(of(14, 18, 22, 26), 3.0)
    assert wide.low < narrow.low and narrow.high < wide.high
    scattered = trend_of(of(14, 34, 6, 26), 1.0)  # no run at all, and that is seen without the forecast
    assert scattered.low < narrow.low and scattered.high > narrow.high


def test_nothing_counted_and_nothing_left():
    assert (trend_of(of(0, 0, 0), 1.0).low, trend_of(of(0, 0, 0), 1.0).high) == (0.0, inf)
    gone = trend_of(of(30, 0, 0), 1.0)
    assert gone.low == 0.0 and gone.high < 0.5 and gone.now == pytest.approx(0.0, abs=1e-3)


def test_evenings_between_tell_what_the_first_and_the_last_cannot():
    assert later(28, 15).change is Change.CANNOT_TELL
    assert later(28, 26, 17, 15).change is Change.BETTER
    assert later(15, 17, 26, 28).change is Change.WORSE
    assert later(20, 28, 14, 21).change is Change.CANNOT_TELL


def test_it_is_said_that_it_goes_by_all_evenings():
    one = later(28, 26, 17, 15)
    nights = looked(*(evening(day, row(n)) for day, n in zip(DAYS, (28, 26, 17, 15), strict=False)))
    assert "then, 1.9 now, going by all four evenings: 0." in later_in_words(one, nights)
    assert not_the_same(one, nights).startswith("Beside that: 21 days and two evenings between, ")
    assert not_the_same(replace(one, first_day=DAYS[1], evenings=3), nights).startswith(
        "Beside that: 14 days and one evening between, "
    )


def test_how_long_to_count_on_one_more_evening():
    one = later(28, 20, 17)
    assert one.change is Change.CANNOT_TELL and one.next_min is not None
    points = [*of(28, 20, 17), Counts(21, one.rates[1] * one.next_min, one.next_min)]
    assert not trend_of(points, 1.0).low <= 1 <= trend_of(points, 1.0).high
    nights = looked(evening(DAYS[2], row(18)))
    assert next_step(nights, [one])[0].startswith(f"Next time count {one.next_min} min of it")
    assert next_step(nights, [later(20, 21, 20)])[0] == "So small a change does not show yet: go on counting."
