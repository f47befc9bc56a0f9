"""What a forecast gives to a count of any length, against SciPy's distributions."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from sim.own_counts.forecast import Forecast
from sim.own_counts.predictive import predictive
from sim.own_counts.tally import LONGEST, Counted
from tests.unit.own_counts.byhand import chance, forecast


def losses(count: int, minutes: float, clock: str = "watch") -> Counted:
    return Counted("losses", count, minutes, clock)


def test_whole_bouts_count_as_they_are():
    there = predictive(forecast([[1, 2, 9], [3, 0, 9], [2, 2, 9], [2, 1, 9]]), losses(0, 4))
    assert there.chances == pytest.approx([0, 0, 0, 3 / 4, 1 / 4])
    assert (there.at_most(3), there.at_least(4), there.mean) == (0.75, 0.25, 3.25)


def test_of_a_part_of_a_bout_each_event_is_seen_with_its_share():
    there = predictive(forecast([[4, 7]]), losses(0, 2.5))  # the first bout, and a quarter of the second
    assert there.chances == pytest.approx([0, 0, 0, 0, *stats.binom.pmf(np.arange(8), 7, 0.25)])


def test_a_part_of_a_poisson_bout_is_poisson_again():
    found = forecast(chance(12.0, 4000, bouts=1))
    there = predictive(found, losses(0, 0.5))
    wanted = stats.poisson.pmf(np.arange(12), 3.0)
    assert there.chances[:12] == pytest.approx(wanted, abs=0.006)
    assert (there.low, there.high) == tuple(stats.poisson.ppf([0.1, 0.9], 3.0))


def test_on_the_rolling_clock_more_of_the_session_is_counted():
    found = forecast([[10, 10, 10]], rolling=0.5)
    assert predictive(found, losses(0, 1, "rolling")).chances[10] == 1.0
    assert predictive(found, losses(0, 1, "watch")).mean == pytest.approx(5.0)
    short = predictive(found, losses(0, 6, "rolling"))  # there are three: the rest at the same rate
    assert short.mean == pytest.approx(60.0, rel=1e-4)
    assert short.quantile(0.9) == 30 + stats.poisson.ppf(0.9, 30)


def test_a_longest_run_is_held_against_whole_bouts_alone():
    found = forecast([[1, 1], [1, 1]], longest_run=[[5, 9], [7, 3]])
    assert predictive(found, Counted(LONGEST, 6, 2, "watch")).chances[[5, 7]] == pytest.approx([0.5, 0.5])
    assert predictive(found, Counted(LONGEST, 6, 4, "watch")).chances[[7, 9]] == pytest.approx([0.5, 0.5])
    assert predictive(found, Counted(LONGEST, 6, 3, "watch")) is None
    assert predictive(found, Counted(LONGEST, 6, 2, "rolling")) is None
    assert predictive(found, Counted(LONGEST, 6, 6, "watch")) is None  # three bouts, and there are two


def test_the_usual_range_holds_a_little_more_than_eight_in_ten():
    there = predictive(forecast(chance(5.0, 400)), losses(0, 8))
    outside = there.at_most(there.low - 1), there.at_least(there.high + 1)
    assert 0.8 <= there.inside < 0.9 and max(outside) <= 0.1
    assert there.inside == pytest.approx(1 - sum(outside))


def test_a_chance_from_few_sessions_may_be_larger():
    few, many = (predictive(forecast(chance(5.0, sessions)), losses(0, 8)) for sessions in (20, 400))
    assert few.extreme(0)[0] == many.extreme(0)[0] == 0.0
    assert few.extreme(0)[1] > 0.05 > 0.005 > many.extreme(0)[1] > 0
    wilson = stats.binomtest(0, 20).proportion_ci(0.8, method="wilson").high
    assert few.extreme(0)[1] == pytest.approx(wilson)


@pytest.mark.parametrize("spread", [0.0, 0.25])
def test_ranges_hold_as_often_as_they_say(spread: float):
    """Forty forecasts of 200 sessions each, 400 evenings of the same world for each: held as often as promised, on average."""
    off = []
    for seed in range(40):
        found = forecast(chance(5.0, 200, spread=spread, seed=seed))
        nights = chance(5.0, 400, spread=spread, seed=1000 + seed)
        for minutes, bouts in ((8, 4), (4, 2)):
            there = predictive(found, losses(0, minutes))
            counts = nights[:, :bouts].sum(axis=1)
            off.append(((there.low <= counts) & (counts <= there.high)).mean() - there.inside)
    each = np.array(off).reshape(40, 2).mean(axis=1)
    assert abs(each.mean()) < 3 * each.std(ddof=1) / np.sqrt(40), (each.mean(), each.std())


def test_a_forecast_comes_back_from_its_text():
    found = forecast(chance(5.0, 6))
    again = Forecast.from_json(found.to_json())
    assert again.to_json() == found.to_json() and again.sessions == 6 and again.bouts == 24
