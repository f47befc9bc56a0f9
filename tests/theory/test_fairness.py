"""With the list, everybody has defended equally often after exactly n / gcd(n, d) bouts, and not before.

Source: computed by us (elementary: d places of a ring of n are covered evenly first after n / gcd(n, d) steps of d).  n counts
all players of the game.
"""

from __future__ import annotations

from math import gcd

import numpy as np
import pytest

from sim.measures.session_counts import COLUMN
from sim.pitch.chance import constant_success
from sim.rules import between
from tests.theory.games import keep_ball, session

GAMES = [(4, 1, 5), (4, 2, 3), (5, 2, 7), (6, 2, 4), (6, 3, 3), (8, 2, 5), (5, 3, 8), (8, 4, 3)]


def defended(outside: int, inside: int, bouts: int) -> np.ndarray:
    """Bouts that each player has spent inside, by the measures; no rule changes roles during a bout."""
    game = keep_ball(outside, inside, seconds=20.0, delay=2.0, count=bouts, bouts={"rotate": "list"})
    seen = session(game, constant_success(0.8, 0.5))
    return seen.cells[:, seen.roles.index("inside"), COLUMN["part"]]


def complaints(outside: int, inside: int, needed: int) -> list[str]:
    n = outside + inside
    found = []
    for bouts in range(1, needed + 1):
        had = defended(outside, inside, bouts)
        assert had.sum() == pytest.approx(inside * bouts), "somebody is always inside"
        level = bool(np.ptp(had) < 1e-9)
        if level != (bouts == needed):
            found.append(f"{outside}v{inside}, {bouts} bouts: {had.round(2).tolist()}")
        elif level and had[0] != pytest.approx(inside * needed / n):
            found.append(f"{outside}v{inside}: {had[0]} bouts each")
    return found


@pytest.mark.theory
@pytest.mark.parametrize(("outside", "inside", "needed"), GAMES)
def test_equal_defending_comes_first_after_n_over_gcd_bouts(outside, inside, needed):
    n = outside + inside
    assert needed == n // gcd(n, inside)
    assert complaints(outside, inside, needed) == []


@pytest.mark.theory
@pytest.mark.parametrize("step", [0, 1])
def test_the_check_hears_a_list_that_moves_otherwise(monkeypatch, step):
    written = between.starting_roles

    def wrong(game, bout):
        first = written(game, 0)
        return first[-step * bout % len(first) :] + first[: -step * bout % len(first)]

    monkeypatch.setattr(between, "starting_roles", wrong)
    assert complaints(4, 2, 3) != []


@pytest.mark.theory
def test_the_time_defended_is_shared_as_the_bouts_are():
    # Equal bouts are nearly equal minutes: in 120 s the time in play has a standard deviation of about 6 %, a share
    # of two bouts in seven one of about 0.0105; the tolerance is three of these, for seven players.
    game = keep_ball(5, 2, seconds=120.0, delay=2.0, count=7, bouts={"rotate": "list"})
    seen = session(game, constant_success(0.8, 0.5))
    shares = seen.cells[:, :, COLUMN["defending_s"]].sum(axis=1) / seen.in_play_s
    assert shares == pytest.approx(np.full(7, 2.0 / 7.0), abs=0.0315)
