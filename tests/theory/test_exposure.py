"""Who is inside for how long, when the loser goes in and whoever has been in longest comes out.

Source: computed by us, with no outside reference: a simulation of a few lines (`of_lots` below) of n + d equal players, d
starters inside, losses at a constant rate, the loser drawn from those outside, the defender longest in comes out.  Its
figures over 20,000 sessions are in `TABLE`: (mean share, median of the least and of the most exposed player, 90 % point of the
most exposed).  The same few lines with the engine's own losses (each pass fails with chance q, so gaps are geometric)
say what the engine must give, within three standard errors of its own number of sessions.

With the engine 17 comparisons (three rows of four, two of the weak player, three of another rule), with the table 14.  Seeds
are fixed.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from functools import cache
from statistics import mean, stdev

import numpy as np
import pytest

from sim.measures.session_counts import counts_of_bout, session_of
from sim.measures.sessions import Sessions
from sim.pitch.chance import constant_success
from sim.rules import choosing, consequences
from tests.theory.games import HOLD_S, STEADY, SWAPPED, bouts, faultless, keep_ball, play_bout, three_errors

RATE = 3.0  # losses a minute
CYCLE_S = 3.0
Q = CYCLE_S * RATE / 60.0
TABLE = {
    (4, 2, 8.0): (0.333, 0.16, 0.52, 0.63),
    (4, 2, 24.0): (0.333, 0.23, 0.44, 0.50),
    (5, 2, 8.0): (0.286, 0.11, 0.48, 0.59),
}
WEAK, OTHERS = 0.44, 0.31  # 4v2, 8 min: mean share of one player who loses it twice as often, and of the others
SESSIONS = 4000  # of the few lines
RANDOM_LEAVES = (0.333, 0.14, 0.55, 0.68)  # 4v2, 8 min, any defender comes out


def exponential_gaps(lottery: random.Random) -> Iterator[float]:
    while True:
        yield lottery.expovariate(RATE / 60.0)


def geometric_gaps(lottery: random.Random) -> Iterator[float]:
    """A pass every `CYCLE_S` seconds, and the first that fails."""
    while True:
        passes = 1
        while lottery.random() >= Q:
            passes += 1
        yield passes * CYCLE_S


@cache
def of_lots(
    outside: int,
    inside: int,
    minutes: float,
    gaps: Callable,
    sessions: int,
    weak: float = 1.0,
    longest: bool = True,
    more: bool = False,
) -> np.ndarray:
    """[session, player]: share of the time inside, by lot alone.

    weak     how readily the first player loses it, 1 for all others
    more     whether that player outside makes for more losses in all (the table: no)
    """
    lottery = random.Random(7)
    n, end = outside + inside, minutes * 60.0
    weight = [weak, *(1.0 for _ in range(1, n))]
    shares = np.zeros((sessions, n))
    for session in range(sessions):
        order = lottery.sample(range(n), n)
        line, out = order[:inside], order[inside:]  # line: longest in first
        since, t = [0.0] * n, 0.0
        for gap in gaps(lottery):
            t += gap * outside / sum(weight[i] for i in out) if more else gap
            if t >= end:
                break
            loser = lottery.choices(out, [weight[i] for i in out])[0]
            comer = line.pop(0 if longest else lottery.randrange(inside))
            shares[session, comer] += t - since[comer]
            line.append(loser)
            since[loser] = t
            out[out.index(loser)] = comer
        for i in line:
            shares[session, i] += end - since[i]
    return shares / end


def figures(shares: np.ndarray) -> tuple[float, float, float, float]:
    most, least = shares.max(axis=1), shares.min(axis=1)
    upper = np.quantile(most, 0.9, method="weibull")
    return float(shares.mean()), float(np.median(least)), float(np.median(most)), float(upper)


def errors(shares: np.ndarray, sessions: int) -> list[float]:
    """Standard errors of the last three figures over that many sessions, from resampling the few lines' own."""
    lottery = np.random.default_rng(3)
    again = [figures(shares[lottery.integers(0, len(shares), sessions)]) for _ in range(200)]
    return [stdev(each[k] for each in again) for k in (1, 2, 3)]


def complaints(shares: np.ndarray, expected: np.ndarray) -> list[str]:
    """Where shares of the engine are not those of the few lines; the mean is d / n whatever happens."""
    got, want = figures(shares), figures(expected)
    names = ("least exposed", "most exposed", "most exposed, 90 % point")
    found = []
    for k, error in enumerate(errors(expected, len(shares))):
        found += three_errors(names[k], got[k + 1], want[k + 1], error)
    return found


@pytest.mark.theory
@pytest.mark.parametrize("row", TABLE)
def test_the_few_lines_give_the_table(row):
    # The table has two decimals and 20,000 sessions; three errors of both, and half a unit of the last place.
    shares = of_lots(*row, exponential_gaps, SESSIONS)
    assert shares.mean() == pytest.approx(TABLE[row][0], abs=0.0005)
    for got, want, error in zip(figures(shares)[1:], TABLE[row][1:], errors(shares, SESSIONS), strict=True):
        assert got == pytest.approx(want, abs=0.005 + 3.3 * error)


@pytest.mark.theory
def test_the_few_lines_give_the_table_for_another_rule_and_for_a_weak_player():
    shares = of_lots(4, 2, 8.0, exponential_gaps, SESSIONS, longest=False)
    for got, want, error in zip(figures(shares)[1:], RANDOM_LEAVES[1:], errors(shares, SESSIONS), strict=True):
        assert got == pytest.approx(want, abs=0.005 + 3.3 * error)
    shares = of_lots(4, 2, 8.0, exponential_gaps, SESSIONS, weak=2.0)
    assert shares[:, 0].mean() == pytest.approx(WEAK, abs=0.01)
    assert shares[:, 1:].mean() == pytest.approx(OTHERS, abs=0.01)


def played(outside: int, inside: int, minutes: float, sessions: int) -> np.ndarray:
    """[session, player]: share of the in-play time defended, by the measures, with no dead time."""
    game = keep_ball(outside, inside, seconds=60.0 * minutes, rules={"lost": SWAPPED})
    outcome = constant_success(1.0 - Q, CYCLE_S - HOLD_S)
    return Sessions([counts_of_bout(game, log) for log in bouts(game, outcome, sessions)]).defending_shares()


@pytest.mark.slow
@pytest.mark.theory
@pytest.mark.parametrize(("row", "sessions"), [((4, 2, 8.0), 200), ((4, 2, 24.0), 35), ((5, 2, 8.0), 100)])
def test_exposure_in_the_engine(row, sessions):
    """The first row has the sessions that it takes to hear a wrong swap (below); the others, with half as many, hear numbers and
    times that go in wrongly."""
    outside, inside, _ = row
    shares = played(*row, sessions)
    assert shares.sum(axis=1) == pytest.approx(np.full(sessions, float(inside)))
    assert shares.mean() == pytest.approx(inside / (outside + inside))
    expected = of_lots(*row, geometric_gaps, SESSIONS)
    assert complaints(shares, expected) == []
    # and so the table itself, within the error of so few sessions, as far as the few lines have it: 0.506 for 0.52 in the first row
    off = abs(figures(expected)[2] - TABLE[row][2])
    assert figures(shares)[2] == pytest.approx(TABLE[row][2], abs=0.005 + off + 3.0 * errors(shares, sessions)[1])


@pytest.mark.slow
@pytest.mark.theory
def test_a_player_who_loses_it_twice_as_often_is_inside_more():
    # Three bouts a session with the list, so that he starts inside as often as everybody else.  In the table losses come at
    # a constant rate; here his passes fail twice as often, so more are lost while he is outside: 0.50 rather than 0.44.
    sessions = 60
    game = keep_ball(4, 2, seconds=480.0, rules={"lost": SWAPPED}, count=3, bouts={"rotate": "list"})
    chances = {player.id: 1.0 - (2.0 if player.id == "squad-1" else 1.0) * Q for player in game.players}
    outcome, roster = constant_success(chances, CYCLE_S - HOLD_S), faultless(game)
    shares = Sessions(
        [
            session_of([counts_of_bout(game, play_bout(game, roster, 2, k, b, outcome, STEADY)) for b in range(3)])
            for k in range(sessions)
        ]
    ).defending_shares()
    weak, others = shares[:, 0], shares[:, 1:].mean(axis=1)
    expected = of_lots(4, 2, 8.0, exponential_gaps, SESSIONS, weak=2.0, more=True)
    assert three_errors("weak", mean(weak), expected[:, 0].mean(), stdev(weak) / sessions**0.5) == []
    assert three_errors("others", mean(others), expected[:, 1:].mean(), stdev(others) / sessions**0.5) == []
    assert mean(weak) > WEAK and mean(others) < OTHERS
    assert shares.sum(axis=1) == pytest.approx(np.full(sessions, 2.0))


@pytest.mark.theory
def test_the_check_hears_that_nobody_swaps(monkeypatch):
    monkeypatch.setitem(consequences.VERBS, "swap", lambda play, event, action: None)
    assert len(complaints(played(4, 2, 8.0, 10), of_lots(4, 2, 8.0, geometric_gaps, 500))) == 3


@pytest.mark.theory
def test_the_check_hears_that_the_wrong_one_comes_out(monkeypatch):
    def last_in(play, how, found):
        return max(found, key=lambda unit: (play.standing.since[unit[0]], play.lot(unit[0])))

    monkeypatch.setattr(choosing, "chosen", last_in)
    assert complaints(played(4, 2, 8.0, 60), of_lots(4, 2, 8.0, geometric_gaps, SESSIONS)) != []


@pytest.mark.slow
@pytest.mark.theory
def test_the_check_hears_that_the_winner_comes_out_whoever_was_in_longer(monkeypatch):
    # Any of the two wins the ball: the median of the most exposed rises from 0.52 to 0.55.
    kept = consequences.do_swap
    monkeypatch.setitem(
        consequences.VERBS,
        "swap",
        lambda play, event, action: kept(play, event, action.model_copy(update={"other": "winner"})),
    )
    expected = of_lots(4, 2, 8.0, geometric_gaps, SESSIONS)
    shares = played(4, 2, 8.0, 200)
    assert complaints(shares, expected) != []
    assert complaints(shares, of_lots(4, 2, 8.0, geometric_gaps, SESSIONS, longest=False)) == []
