"""The recorded paths of whole bouts, looked at densely: limits of motion, and running figures against brute force.

Limits are those of the model notes, section 1 (total acceleration 8 m/s2 and braking are judgements; the push forward is the
mono-exponential sprint).  Running figures are compared with sums over a fine grid.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from sim.game.loader import load_game
from sim.measures.external_load import LOADS
from sim.measures.thresholds import Thresholds
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from sim.turning import STILL_MPS, TOTAL_ACCELERATION
from tests.support.games import GAMES
from tests.support.loads import running
from tests.support.watching import on, states

KMH = 3.6
PIECES = 12  # places looked at on each segment, its end included
GRID_S = 1e-3


@cache
def played(name: str, seed: int):
    game = load_game(name)
    roster = draw_roster(game, seed, 0)
    return roster, play_bout(game, roster, seed)


def at(rows: np.ndarray, share: float) -> np.ndarray:
    """State of each segment a share of its duration after its start."""
    return on(rows, rows["t0"] + share * (rows["t1"] - rows["t0"]))


@pytest.mark.parametrize("name", GAMES)
def test_no_acceleration_beyond_the_limits_anywhere_on_a_path(name: str):
    roster, log = played(name, 11)
    for i, player in enumerate(log.players):
        who = roster[player]
        rows = log.segments[log.segments["player"] == i]
        tau = max(who.tau_s, who.vmax_mps / TOTAL_ACCELERATION)
        for share in np.linspace(0.0, 1.0, PIECES):
            _, _, vx, vy, ax, ay = at(rows, share).T
            speed = np.hypot(vx, vy)
            assert np.hypot(ax, ay).max() <= TOTAL_ACCELERATION + 1e-9
            assert speed.max() <= who.vmax_mps
            moving = speed > 10.0 * STILL_MPS
            along = (vx * ax + vy * ay)[moving] / speed[moving]
            assert along.min() >= -who.brake_mps2 - 1e-9
            assert (along - (who.vmax_mps - speed[moving]) / tau).max() <= 1e-9


@pytest.mark.parametrize("name", GAMES)
def test_running_figures_of_a_bout_agree_with_brute_force(name: str):
    """Path length and distance above a speed, from the closed forms and from a grid of a millisecond; and no path is shorter than
    the straight line between any two of a hundred places on it."""
    _, log = played(name, 12)
    cut = 3.0  # m/s: low enough that every game has plenty above it
    loads, peaks = running(log.segments, len(log.players), len(log.roles), Thresholds(cut * KMH, 25.2, 0.0))
    fast_of_all = 0.0
    for i in range(len(log.players)):
        rows = log.segments[log.segments["player"] == i]
        times = (np.arange(round(log.duration_s / GRID_S)) + 0.5) * GRID_S
        path = states(rows, times)
        speed = np.hypot(path[:, 2], path[:, 3])
        total = loads[i, :, LOADS.index("distance_m")].sum()
        assert total == pytest.approx(speed.sum() * GRID_S, abs=1e-3 * total + 1e-3)
        fast = speed > cut
        assert loads[i, :, LOADS.index("high_speed_m")].sum() == pytest.approx(
            speed[fast].sum() * GRID_S, abs=cut * GRID_S * (2 + np.abs(np.diff(fast)).sum())
        )
        assert peaks[i].max() == pytest.approx(speed.max(), abs=TOTAL_ACCELERATION * GRID_S)
        fast_of_all += loads[i, :, LOADS.index("high_speed_m")].sum()
        marks = path[:: len(path) // 100]
        length = np.concatenate([[0.0], np.cumsum(speed) * GRID_S])[:: len(path) // 100][: len(marks)]
        straight = np.hypot(marks[:, None, 0] - marks[None, :, 0], marks[:, None, 1] - marks[None, :, 1])
        assert (straight - np.abs(length[:, None] - length[None, :])).max() <= 0.01
    assert fast_of_all > 20.0


@pytest.mark.parametrize("name", GAMES)
def test_every_player_is_somewhere_at_every_moment(name: str):
    _, log = played(name, 13)
    for i in range(len(log.players)):
        rows = log.segments[log.segments["player"] == i]
        assert rows["t0"][0] == 0.0 and rows["t1"][-1] == log.duration_s
        assert np.array_equal(rows["t0"][1:], rows["t1"][:-1])
        before, after = at(rows, 1.0)[:-1, :4], at(rows, 0.0)[1:, :4]
        assert np.abs(before[:, :2] - after[:, :2]).max() < 1e-9
        assert np.hypot(*(before[:, 2:] - after[:, 2:]).T).max() <= STILL_MPS * (1.0 + 1e-6)
    assert math.isclose(log.segments["t1"].max(), log.duration_s, abs_tol=0.0)
