"""How hard ordinary runs are run: the player's own speed and stamina, the ball out of play, the end of the bout."""

from __future__ import annotations

import math

import pytest

from sim.game.loader import load_game
from sim.pitch import columns as col
from sim.pitch.assumptions import DEAD_PACE, FITNESS_SHARE, PACING, RUN_CAP, SPEND_TIME
from sim.pitch.engine import Bout, race
from sim.pitch.ground import move
from sim.pitch.moves import go, where
from sim.pitch.offball import think
from sim.pitch.setup import USUAL_CRITICAL_MPS
from sim.players import typical_roster
from tests.scenes import field, place
from tests.watching import ran

PLACES = [(0.0, 0.0)] + [(60.0, 60.0)] * 5


def fastest(bout: Bout, i: int, until: float) -> float:
    """Top speed of what player i has run (m/s)."""
    rows = ran(bout, i, until)
    return max(math.hypot(row[5], row[6]) for row in rows)


def after_a_move(population: str, gap: float, factor: float) -> float:
    """Top speed of a fresh player's ordinary move over `gap` metres that may take `factor` times what the law allows."""
    bout = field(population)
    place(bout, PLACES)
    cap = bout.C[RUN_CAP] * bout.P[0, col.VMAX]
    move(bout.P, bout.M, bout.B, bout.C, bout.G, bout.count, 0, 0.0, 0.0, gap, 0.0, factor, cap, gap, 0.0)
    return fastest(bout, 0, 60.0) / bout.P[0, col.FRESH_VMAX]


def test_everybody_runs_up_to_the_same_share_of_his_own_top_speed():
    shares = [after_a_move(population, 60.0, 0.1) for population in ("elite men", "amateur men", "U12")]
    assert shares == pytest.approx([field("elite men").C[RUN_CAP]] * 3, rel=0.01)


def test_ordinary_speeds_follow_critical_speed():
    for population in ("elite men", "U12"):
        who = next(iter(typical_roster(load_game("tight-square", population=population)).values()))
        bout = field(population)
        assert bout.C[FITNESS_SHARE] == 1.0
        assert bout.P[0, col.WILLING] == pytest.approx(who.critical_speed_mps / USUAL_CRITICAL_MPS)
    assert field("amateur men").P[0, col.WILLING] == 1.0


def push(left_s: float, share: float) -> float:
    """Metres run in the first tenths of a second from standing, with `share` of the reserve and `left_s` until the whistle."""
    bout = field("amateur men")
    place(bout, PLACES)
    bout.P[0, col.WHISTLE] = left_s
    bout.P[0, col.RESERVE] = share * bout.P[0, col.RESERVE_FULL]
    go(bout.P, bout.M, bout.C, bout.G, bout.count, 0, 0.0, 0.0, 30.0, 0.0, 8.0, 0.8, False)
    return where(bout.P, bout.M, 0, 0.3)[0]


def test_a_tired_player_saves_effort_until_there_is_no_more_need_to():
    time = field("amateur men").C[SPEND_TIME]
    assert push(10.0 * time, 0.5) == push(2.0 * time, 0.5) < push(0.75 * time, 0.5) < push(0.5 * time, 0.5)
    assert push(0.5 * time, 0.5) == push(0.1 * time, 0.5) == push(10.0 * time, 1.0)
    saved = push(10.0 * time, 0.5) / push(10.0 * time, 1.0)
    assert saved == pytest.approx(1.0 - 0.5 * field("amateur men").C[PACING], abs=0.02)


def test_players_walk_to_their_places_while_the_ball_is_out_of_play():
    bout = Bout(game := load_game("even-keep-ball"), typical_roster(game), 1, 0, 0, race)
    bout.assign_start()
    far = [(0.5 * bout.P[i, col.ZX0], 0.5 * bout.P[i, col.ZY0]) for i in range(len(bout.P))]
    place(bout, far)
    bout.B[col.MODE], bout.B[col.LIVE_AT] = col.DEAD, 3.0
    free = [i for i in range(len(bout.P)) if bout.P[i, col.STYLE] == col.FREE]
    for i in free:
        think(bout.P, bout.M, bout.B, bout.C, bout.K, bout.N, bout.G, bout.count, i, 0.0, 0.0)
    speeds = [fastest(bout, i, 20.0) for i in free]
    assert max(speeds) == pytest.approx(bout.C[DEAD_PACE], abs=0.01)
    place(bout, [(bout.P[i, col.ZX1] + 12.0, 0.0) for i in range(len(bout.P))])  # who is outside his area hurries back into it
    think(bout.P, bout.M, bout.B, bout.C, bout.K, bout.N, bout.G, bout.count, free[0], 0.0, 0.0)
    assert fastest(bout, free[0], 20.0) > 2.0 * bout.C[DEAD_PACE]
