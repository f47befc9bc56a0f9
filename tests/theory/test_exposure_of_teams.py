"""Who defends for how long where teams change places, or players by the list: the rules alone, on a desk, losses by lot.

Source: computed by us.  Three equal teams, of which one defends and the loser's goes in for it: by symmetry each defends a third
of the time.  By the list, where whoever goes in goes to its end, players come out in the order in which they went in, so exposure
is that of the longest in (`tests.theory.test_exposure.of_lots`).  Seeds are fixed; three standard errors.
"""

from __future__ import annotations

import random
from statistics import mean, stdev

import numpy as np
import pytest

from sim.game.loader import resolve, to_short
from sim.game.model import Game
from sim.measures.session_counts import counts_of_bout
from sim.measures.sessions import Sessions
from sim.pitch.chance import constant_success
from sim.rules.guards import RuleEvent
from tests.theory.games import HOLD_S, bouts, keep_ball, three_errors
from tests.theory.test_exposure import CYCLE_S, RATE, Q, complaints, exponential_gaps, of_lots
from tests.unit.rules.desk import Desk

MINUTES, SESSIONS = 8.0, 400
TEAMS = ("amber", "slate", "white")


def defended(game: Game, words: dict, seed: int = 4) -> np.ndarray:
    """[session, player]: share of the time inside, if whoever is outside loses it as often as anybody else there."""
    lottery, players = random.Random(seed), len(game.players)
    shares = np.zeros((SESSIONS, players))
    for session in range(SESSIONS):
        desk, t = Desk(game, 0.0), 0.0
        desk.lot = lambda i: lottery.random()  # type: ignore[method-assign]
        for gap in exponential_gaps(lottery):
            until = min(t + gap, 60.0 * MINUTES)
            inside = [i for i in range(players) if desk.standing.side_of(i) == "inside"]
            shares[session, inside] += until - t
            desk.now = t = until
            if t >= 60.0 * MINUTES:
                break
            loser = lottery.choice([i for i in range(players) if i not in inside])
            desk.do("swap", RuleEvent("loss", "outside", loser, lottery.choice(inside)), **words)
    return shares / (60.0 * MINUTES)


def three_teams(each: int) -> Game:
    short = to_short(keep_ball(2 * each, each))
    short["teams"] = {name: {} for name in TEAMS}
    short["roles"]["outside"]["players"] = {"amber": each, "slate": each}
    short["roles"]["inside"]["players"] = {"white": each}
    short["phases"]["keep"]["rules"]["lost"]["do"] = [{"swap": "loser's team", "with": "winner"}, {"restart": "start"}]
    return resolve(short, "three")


@pytest.mark.theory
@pytest.mark.parametrize("each", [2, 3])
def test_three_equal_teams_defend_a_third_each(each):
    game = three_teams(each)
    shares = defended(game, {"who": "loser's team", "other": "winner"})
    assert shares.sum(axis=1) == pytest.approx(np.full(SESSIONS, float(each)))
    for team in TEAMS:
        mine = shares[:, [i for i, player in enumerate(game.players) if player.team == team]]
        assert np.ptp(mine, axis=1).max() < 1e-12, "a team was split"
    # White begins inside, so over eight minutes it has a little more: the start fades with the gaps (1 / 3 a minute).
    white, others = 1 / 3 + 2 / 3 * (2 / 3) / (3.0 * MINUTES), 1 / 3 - 1 / 3 * (2 / 3) / (3.0 * MINUTES)
    for team, expected in zip(TEAMS, (others, others, white), strict=True):
        i = next(i for i, player in enumerate(game.players) if player.team == team)
        one = list(shares[:, i])
        assert three_errors(team, mean(one), expected, stdev(one) / SESSIONS**0.5) == []


@pytest.mark.slow
@pytest.mark.theory
def test_three_equal_teams_defend_a_third_each_in_the_engine():
    """The same with a ball that is played: few bouts, enough to hear of a team that stays in or is split."""
    game, bouts_played = three_teams(2), 24
    outcome = constant_success(1.0 - Q, CYCLE_S - HOLD_S)
    logs = bouts(game, outcome, bouts_played)
    shares = Sessions([counts_of_bout(game, log) for log in logs]).defending_shares()
    for team in TEAMS:
        mine = shares[:, [i for i, player in enumerate(game.players) if player.team == team]]
        assert np.ptp(mine, axis=1).max() < 1e-12, "a team was split"
        start = (2 / 3 if team == "white" else -1 / 3) * (2 / 3) / (RATE * MINUTES)
        off = stdev(mine[:, 0]) / bouts_played**0.5
        assert three_errors(team, float(mine.mean()), 1 / 3 + start, off) == []


@pytest.mark.theory
def test_by_the_list_exposure_is_that_of_the_longest_in():
    shares = defended(keep_ball(4, 2), {"who": "loser", "other": "next on the list"})
    assert complaints(shares, of_lots(4, 2, MINUTES, exponential_gaps, 4000)) == []


@pytest.mark.theory
def test_the_check_hears_that_the_list_does_not_go_round(monkeypatch):
    monkeypatch.setattr("sim.rules.consequences.had_turn", lambda play, players: None)
    shares = defended(keep_ball(4, 2), {"who": "loser", "other": "next on the list"})
    assert complaints(shares, of_lots(4, 2, MINUTES, exponential_gaps, 4000)) != []
