"""What to count tonight: minutes reckoned by hand, and what is said where no minutes would do."""

from __future__ import annotations

import json
from math import ceil

import pytest
from scipy.stats import poisson

from sim.game.loader import load_game
from sim.own_counts.verdict import Spread
from sim.own_counts.worth_counting import minutes_to_see, to_count
from sim.words.to_count_screen import TOO_SHORT, to_count_in_words
from tests.support.screens import holds
from tests.unit.own_counts.byhand import chance, forecast

GAME = load_game("tight-square")


def by_hand(rate: float) -> int:
    """Pure chance, so many a minute: the minutes after which four counts in five of a game a third off, either way, always lie
    outside the usual range of the Poisson distribution (until then its steps may undo it)."""

    def told(m: int) -> bool:
        most = 1 - poisson.cdf(poisson.ppf(0.9, rate * m), rate * m * 4 / 3)
        least = poisson.cdf(poisson.ppf(0.1, rate * m) - 1, rate * m * 2 / 3)
        return bool(min(most, least) >= 0.8)

    return 1 + max(m for m in range(1, 200) if not told(m))


@pytest.mark.parametrize("rate", [0.5, 1.0, 2.5])
def test_by_pure_chance_the_minutes_are_those_reckoned_by_hand(rate: float):
    """With z = 1.28 and 0.84: m / 3 = (1.28 + 0.84 sqrt(4 / 3)) sqrt(m / rate), so some 46 counts; the steps of whole
    counts put the exact Poisson figure a little later."""
    found = minutes_to_see(Spread(rate / 60, rate / 60, 0.0))
    assert abs(found - ceil(45.7 / rate)) <= max(1, 0.05 * 45.7 / rate)
    assert found <= by_hand(rate) <= 1.3 * found


def test_where_players_differ_by_as_much_no_minutes_would_tell():
    assert minutes_to_see(Spread(0.05, 0.05, (0.25 * 0.05) ** 2)) is None
    assert minutes_to_see(Spread(0.05, 0.05, (0.08 * 0.05) ** 2)) > minutes_to_see(Spread(0.05, 0.05, 0.0))


def test_the_count_that_tells_soonest_comes_first_with_tonight_beside_it():
    """Twice as many a bout tell in half the time."""
    found = to_count(GAME, forecast(chance(3.0, 300), wins=chance(6.0, 300, seed=2)))
    assert [one.measure for one in found.counts] == ["wins", "losses"]
    assert found.counts[0].minutes == pytest.approx(found.counts[1].minutes / 2, rel=0.15)
    assert found.tonight == 8.0 and found.counts[1].mean == pytest.approx(12, rel=0.05)
    assert json.loads(found.to_json())["counts"][0]["measure"] == "wins"
    screen = to_count_in_words(found, GAME)
    holds(screen, 16)
    text = " ".join(screen.split())
    assert (
        "Count balls won for about 20 minutes on the watch, all in one evening; for losses it takes about 35 minutes."
        in text
    )
    assert "losses about 12 (usually " in text and "A win is each time" in text
    assert "In tonight's eight minutes: balls won about 24 (usually " in text and TOO_SHORT in text


def test_what_no_evening_tells_is_said():
    found = to_count(GAME, forecast(chance(20.0, 300, spread=0.3)))
    assert [(one.measure, one.minutes) for one in found.counts] == [("losses", None)]
    assert (
        to_count(GAME, forecast(chance(3.0, 8)), 200).cautions[0] == "Stopped early: 8 of 200 sessions were finished."
    )
    assert "one evening won't tell" in " ".join(to_count_in_words(found, GAME).split())
    assert "Nothing to count" in to_count_in_words(to_count(GAME, forecast([[0, 0]] * 30)), GAME)
