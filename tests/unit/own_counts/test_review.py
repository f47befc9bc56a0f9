"""Looking back: how often ranges held, what that says, and the same game later."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy import stats

from sim.own_counts.logbook import Evening, Kept
from sim.own_counts.review import (
    FEWEST,
    Change,
    Looked,
    Trust,
    compared,
    coverage_of,
    dispersion,
    rates_of,
    reviewed,
)
from sim.own_counts.tally import Counted
from sim.own_counts.verdict import Judged, Verdict, judge
from sim.words.review_screen import review_in_words
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
        ([22] * 18 + [5] * 4, Trust.HOLDS),
        ([22] * 9 + [5] * 2, Trust.NOTHING_AGAINST),
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
    """Of twenty such worlds nineteen, by the 95 % of the interval; four at most here have one in a thousand."""
    found = forecast(chance(5.5, 1500, seed=12), key="f")  # from so many that its own luck is none
    told = {count: judge(found, Counted("losses", count, 8, "watch")) for count in range(5, 50)}
    trusted = 0
    for seed in range(20):
        counts = chance(5.5, 60, seed=100 + seed).sum(axis=1)
        (one,) = coverage_of([told[int(count)] for count in counts])
        trusted += one.trust is Trust.HOLDS
    assert trusted >= 16
    off = coverage((1.5 * chance(5.5, 400, seed=9).sum(axis=1)).astype(int).tolist())
    assert off.trust is Trust.TOO_NARROW and off.share < 0.45


@pytest.mark.parametrize(
    ("last", "change"), [(7, Change.BETTER), (60, Change.WORSE), (18, Change.CANNOT_TELL), (24, Change.CANNOT_TELL)]
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


@pytest.mark.parametrize("spread", [0.0, 0.25])
def test_two_evenings_of_one_world_are_hardly_ever_told_apart(spread: float):
    """One time in twenty at most, whether or not other players came: evenings of eight minutes, and of eight and four."""
    found = forecast(chance(5.5, 400, spread=spread, seed=4))
    nights = chance(5.5, 600, spread=spread, seed=10)
    for minutes, bouts in ((8, 4), (4, 2)):
        first, last = nights[:300].sum(axis=1), nights[300:, :bouts].sum(axis=1)
        told = [
            ratio(found, int(a), int(b), minutes).change is not Change.CANNOT_TELL
            for a, b in zip(first, last, strict=True)
        ]
        assert np.mean(told) < 0.05 + 2 * np.sqrt(0.05 * 0.95 / 300)
        assert np.mean([ratio(found, int(a), int(3 * a), 8).change is Change.WORSE for a in first]) > 0.5  # it can tell


def ratio(found, first: int, last: int, minutes: float):
    before, after = (
        Looked(evening(n, f"2026-11-0{n}"), (Judged(Counted("losses", count, own, "watch"), *[None] * 7),), (), ())
        for n, count, own in ((1, first, 8.0), (2, last, minutes))
    )
    return compared([before, after], found)[0]


@pytest.mark.parametrize("spread", [0.0, 0.25])
def test_the_rate_of_many_evenings_is_as_sure_as_it_is_said_to_be(spread: float):
    """Twelve evenings of different length: the rate of the world lies inside in 95 of 100 cases, less three standard errors."""
    found, held = forecast(chance(5.5, 400, spread=spread, seed=4)), 0
    for seed in range(200):
        nights = chance(5.5, 12, spread=spread, seed=500 + seed)
        counts = [(night[: 1 + n % 4].sum(), 2.0 * (1 + n % 4)) for n, night in enumerate(nights)]
        looked = [
            Looked(
                evening(n, "2026-11-01"), (Judged(Counted("losses", int(count), own, "watch"), *[None] * 7),), (), ()
            )
            for n, (count, own) in enumerate(counts)
        ]
        (rate,) = rates_of(looked, found)
        held += rate.low <= 5.5 / 2 <= rate.high
    assert held / 200 > 0.95 - 3 * np.sqrt(0.95 * 0.05 / 200)


def test_what_varies_more_than_chance_is_known_from_the_forecast():
    losses = Counted("losses", 5, 2, "watch")
    assert dispersion(forecast(np.full((50, 4), 5)), losses, 8) == 1.0
    lumpy = forecast(3 * chance(2.0, 2000, seed=11))
    assert dispersion(lumpy, losses, 0) == pytest.approx(3.0, rel=0.05)
    mixed = forecast(chance(5.0, 4000, spread=0.3, seed=7))
    assert dispersion(mixed, losses, 8) == pytest.approx(
        1 + 0.3**2 * 20, rel=0.1
    )  # of a gamma mixture: 1 + spread^2 x mean


def test_a_bout_is_held_against_bouts_of_its_number():
    later = np.hstack([chance(5.5, 200, bouts=3), np.zeros((200, 1), dtype=int)])
    rows = [row(5, 2.0, bout=1), row(5, 2.0, bout=4), row(5, 2.0, bout=9)]
    found = reviewed([evening(1, "2026-11-07", *rows)], {"f": forecast(later, key="f")})
    bouts = found.games["s"][0].bouts
    assert [round(one.judged.mean) for one in bouts] == [6, 0, 0]
    assert [one.judged.verdict for one in bouts] == [Verdict.LITTLE, Verdict.UNUSUAL, Verdict.NOT_JUDGED]
    assert "not judged" in review_in_words(found, details=True)


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


def test_the_screen_names_the_other_counts_that_missed_the_worst_first():
    made = forecast(
        chance(5.5, 200, seed=4), key="f", wins=chance(4.0, 200), passes=chance(50.0, 200), outs=chance(2.0, 200)
    )
    nights = [
        {"losses": 22, "wins": 16, "outs": 2, "passes": 200},
        {"losses": 22, "wins": 60, "outs": 30, "passes": 202},
    ]
    found = reviewed(
        [evening(n, f"2026-11-0{n}", row(counts=counts)) for n, counts in enumerate(nights, 1)], {"f": made}
    )
    said = " ".join(review_in_words(found).split())
    holds(review_in_words(found))
    assert "Of the other counts not all held: balls out 0 of 2 and balls won 1 of 2." in said
    fine = reviewed([evening(1, "2026-11-01", row(counts=nights[0] | {"outs": 8}))], {"f": made})
    assert "not all held" not in review_in_words(fine)


@pytest.mark.parametrize(
    ("nights", "said"),
    [
        ([], "hand in a count with"),
        ([evening(1, "2026-11-07", row(9, changed="one touch"))], "every bout was changed on the grass"),
        ([evening(1, "2026-11-07", row(9), forecast=None)], "no forecast was finished"),
    ],
)
def test_an_empty_answer_says_why_in_eighty_columns(nights, said: str):
    text = review_in_words(reviewed(nights, {"f": FOUND}))
    assert said in " ".join(text.split()) and max(map(len, text.splitlines())) <= 80
