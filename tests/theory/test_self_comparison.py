"""A game compared with itself: luck of its own for each arm, and no more false alarms than are said.

With the luck shared, as `compare` plays, a game differs from itself by exactly nothing (tests/unit/experiments); that tells
nothing of the error rate.  So here each arm has sessions of its own, and what is called clear is a false alarm.
"""

from __future__ import annotations

import pytest

from sim.experiments.compare import compared
from sim.experiments.key_measures import WORTHWHILE
from sim.experiments.replicate import play_batches
from sim.experiments.sessions import Batch, bout_counts
from sim.experiments.sums import Sums
from sim.game.loader import load_game

pytestmark = pytest.mark.theory

SHORT = ["bouts.minutes=0.25", "bouts.count=2"]
PAIRS, SESSIONS = 32, 10


def rows_of(one, other):
    ((rows, _),) = compared(one, [other], WORTHWHILE)
    return rows


def test_no_difference_at_the_stated_error_rate():
    """32 comparisons of 10 and 10 sessions.  Any row clear: 5 % at most (Holm), so more than 4 of 32 has a chance under 2 %.

    A row alone: 5 %.  Nine rows a comparison, some of which go together; 1 to 10 % of all is about three standard errors.
    """
    game = load_game("tight-square", SHORT)
    (found,) = play_batches([Batch(game, range(2 * PAIRS * SESSIONS), bout_counts)], seed=20, workers=2)
    arms = [Sums(game, [found[n] for n in range(i, i + SESSIONS)]) for i in range(0, len(found), SESSIONS)]
    tables = [rows_of(one, other) for one, other in zip(arms[::2], arms[1::2], strict=True)]
    alarms = sum(any(row.verdict.startswith("clear") for row in rows) for rows in tables)
    assert alarms <= 4
    told = [row for rows in tables for row in rows if row.difference is not None]
    outside = sum(not row.low <= 0 <= row.high for row in told)
    assert 0.01 <= outside / len(told) <= 0.10


def clear_rows(*variants: list[str], sessions: int = SESSIONS) -> int:
    games = [load_game("tight-square", [*SHORT, *changes]) for changes in variants]
    found = play_batches([Batch(game, range(sessions), bout_counts) for game in games], seed=20, workers=2)
    arms = [Sums(game, [one[n] for n in range(sessions)]) for game, one in zip(games, found, strict=True)]
    return sum(row.verdict.startswith("clear") for row in rows_of(*arms))


@pytest.mark.parametrize("other", [14, 21])
def test_twice_as_many_sessions_do_find_a_large_difference(other: int):
    """Ten do so by luck: 1 to 8 rows on seeds 20 to 23, twenty 3 to 9."""
    sizes = [[f"areas.square.length={n}", f"areas.square.width={n}"] for n in (7, other)]
    assert clear_rows(*sizes, sessions=2 * SESSIONS) >= 3


def test_they_do_find_three_defenders_more():
    assert clear_rows([], ["roles.inside.players=5"], sessions=2 * SESSIONS) >= 3


def test_twice_as_many_sessions_do_find_one_defender_more():
    assert clear_rows([], ["roles.inside.players=3"], sessions=2 * SESSIONS) >= 3
