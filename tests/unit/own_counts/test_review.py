"""Looking back: how often ranges held, what that says, and the same game later."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy import stats

from sim.own_counts.logbook import Evening, Kept
from sim.own_counts.review import FEWEST, Change, Trust, coverage_of, dispersion, reviewed
from sim.own_counts.tally import Counted
from sim.own_counts.verdict import judge
from sim.words.review_screen import NOTHING, review_in_words
from tests.support.screens import holds
from tests.unit.own_counts.byhand import chance, forecast, row

FOUND = forecast(chance(5.5, 200, seed=4), key="f")


def evening(number: int, day: str, *rows, forecast="f", setup="s") -> Evening:
    kept = tuple(Kept(10 * number + i, replace(one, day=day)) for i, one in enumerate(rows))
    return Evening(number, day, "Lose it and go in", "tight-square", setup, kept, forecast)


@cache
def judged(count: int):
    return judge(FOUND, Counted("losses", count, 8, "watch"))


def coverage(counts):
    (found,) = coverage_of([judged(count) for count in counts])
    return found


def test_coverage_counts_what_lay_inside_and_says_what_to_expect():
    found = coverage([22] * 17 + [5] * 5)
    assert (found.inside, found.forecasts, found.share) == (17, 22, 17 / 22)
    assert 0.8 <= found.promised < 0.9 and found.low < 17 / 22 < found.high


@pytest.mark.parametrize(
    ("counts", "trust"),
    [
        ([22] * 17 + [5] * 4, Trust.HOLDS),
        ([22] * 8 + [5] * 14, Trust.TOO_NARROW),
        ([22] * 60, Trust.TOO_WIDE),
        ([22] * (FEWEST - 1), Trust.TOO_FEW),
        ([5] * 4, Trust.TOO_FEW),
        ([5] * 5, Trust.TOO_NARROW),
    ],
)
def test_what_past_forecasts_say_of_the_next(counts, trust):
    assert coverage(counts).trust is trust


def test_a_world_as_forecast_is_trusted():
    nights = chance(5.5, 400, seed=9).sum(axis=1)
    found = coverage(nights.tolist())
    assert found.low <= found.promised + 0.03 and abs(found.share - found.promised) < 0.07
    off = coverage((1.5 * nights).astype(int).tolist())
    assert off.trust is Trust.TOO_NARROW and off.share < 0.45


@pytest.mark.parametrize(
    ("last", "change"), [(9, Change.BETTER), (60, Change.WORSE), (18, Change.CANNOT_TELL), (24, Change.CANNOT_TELL)]
)
def test_the_same_game_later(last: int, change: Change):
    found = reviewed(
        [evening(1, "2026-11-07", row(22)), evening(2, "2026-11-14", row(24)), evening(3, "2026-11-28", row(last))],
        {"f": FOUND},
    )
    (later,) = found.later["s"]
    assert later.change is change and (later.first_day, later.last_day) == ("2026-11-07", "2026-11-28")


def test_more_passes_are_better_and_of_wins_nobody_knows():
    more = forecast(chance(5.5, 200), passes=chance(50.0, 200), wins=chance(4.0, 200))
    rows = [row(counts={"passes": n, "wins": n // 10}) for n in (150, 320)]
    found = reviewed([evening(1, "2026-11-07", rows[0]), evening(2, "2026-11-28", rows[1])], {"f": more})
    assert [(one.measure, one.change) for one in found.later["s"]] == [
        ("wins", Change.MORE), ("passes", Change.BETTER),
    ]  # fmt: skip


def test_two_evenings_of_one_world_are_hardly_ever_told_apart():
    nights = chance(5.5, 240, seed=10).sum(axis=1)
    told = 0
    for first, last in zip(nights[:120], nights[120:], strict=True):
        found = reviewed(
            [evening(1, "2026-11-07", row(int(first))), evening(2, "2026-11-28", row(int(last)))], {"f": FOUND}
        )
        told += found.later["s"][0].change is not Change.CANNOT_TELL
    assert told / 120 < 0.05


def test_what_varies_more_than_chance_is_known_from_the_forecast():
    assert dispersion(forecast(np.full((50, 4), 5)), Counted("losses", 5, 2, "watch")) == 1.0
    lumpy = forecast(3 * chance(2.0, 2000, seed=11))
    assert dispersion(lumpy, Counted("losses", 5, 2, "watch")) == pytest.approx(3.0, rel=0.05)


def test_bouts_that_were_changed_are_left_out_and_games_stay_apart():
    mixed = evening(1, "2026-11-07", row(5, 2.0, bout=1), row(30, 2.0, bout=2, changed="one touch"))
    other = evening(2, "2026-11-08", row(5), setup="t", forecast=None)
    found = reviewed([mixed, other], {"f": FOUND})
    (looked,) = found.games["s"]
    assert [one.what.count for one in looked.judged] == [5] and [one.bout for one in looked.bouts] == [1]
    assert looked.left_out[0].changed == "one touch" and found.games["t"][0].judged == ()
    assert found.later == {}


def test_all_evenings_together_give_a_rate_with_its_doubt():
    nights = [evening(n, f"2026-11-{n:02d}", row(count)) for n, count in enumerate([22, 25, 19], 1)]
    (rate,) = reviewed(nights, {"f": forecast(np.full((50, 4), 5), key="f")}).rates["s"]
    low, high = stats.chi2.ppf(0.025, 2 * 66) / 2, stats.chi2.ppf(0.975, 2 * 67) / 2  # Garwood, by SciPy
    assert (rate.count, rate.minutes) == (66, 24.0) and (rate.low, rate.high) == pytest.approx((low / 24, high / 24))


def test_the_screen_is_small_and_says_it_in_words():
    nights = [evening(n, f"2026-11-{n:02d}", row(count, bout=1)) for n, count in enumerate([22, 25, 19, 5], 1)]
    found = reviewed(nights, {"f": FOUND})
    text = review_in_words(found)
    holds(text)
    assert "3 of 4 forecasts held" in text and "it goes better" in text and "4 Nov 2026: 5 losses" in text
    assert "by bout" in review_in_words(found, details=True)
    assert review_in_words(reviewed([], {})) == NOTHING
