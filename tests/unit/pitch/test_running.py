"""How hard ordinary runs are run: the player's own speed and stamina, the ball out of play, the end of the bout."""

from __future__ import annotations

import math

import pytest

from sim.game.loader import load_game
from sim.pitch import columns as col
from sim.pitch.assignment import assign_start
from sim.pitch.assumptions import DEAD_PACE, PACING, PLAN_TIME, USUAL
from sim.pitch.engine import begin, race
from sim.pitch.ground import move
from sim.pitch.moves import go, where
from sim.pitch.offball import think
from sim.pitch.state import Bout
from sim.players import typical_roster
from sim.populations import POPULATIONS
from tests.support.scenes import field, place
from tests.support.watching import ran

PLACES = [(0.0, 0.0)] + [(60.0, 60.0)] * 5


def fastest(bout: Bout, i: int, until: float) -> float:
    """Top speed of what player i has run (m/s)."""
    rows = ran(bout, i, until)
    return max(math.hypot(row[5], row[6]) for row in rows)


def far_off(name: str, population: str, **constants: float) -> tuple[Bout, int]:
    """A bout of a shipped game with the ball held in one corner, and a free player of the other side in the opposite one."""
    game = load_game(name, ["areas.field.length=90", "areas.field.width=60"], population)
    bout = Bout(game, typical_roster(game), 1, 0, 0, race, constants)
    begin(bout)
    free = [i for i in range(len(bout.P)) if bout.P[i, col.STYLE] == col.FREE]
    mine = [i for i in free if bout.P[i, col.SIDE] == bout.B[col.HOLDING]]
    theirs = [i for i in free if i not in mine and bout.P[i, col.SIDE] != col.FLOATER]
    place(bout, [(40.0, 25.0) if i in mine else (-40.0, -25.0) for i in range(len(bout.P))])
    bout.B[col.MODE], bout.B[col.HOLDER], bout.B[col.LOST] = col.HELD, float(mine[0]), -1e9
    return bout, theirs[-1]


def ordinary_run(population: str, **constants: float) -> float:
    """Top speed (m/s) of the run of a defender who is far from the man he is to cover."""
    bout, i = far_off("even-keep-ball", population, urgency_defence=0.9, **constants)
    think(bout.P, bout.M, bout.B, bout.C, bout.K, bout.N, bout.G, bout.count, i, 0.0, 0.0)
    assert bout.P[i, col.DUTY] == col.COVER
    return max(math.hypot(*where(bout.P, bout.M, i, 0.1 * s)[2:]) for s in range(300))


def test_everybody_runs_up_to_the_same_share_of_his_own_top_speed():
    low = {population: ordinary_run(population, run_cap=0.6) for population in ("elite men", "U12")}
    for population, speed in low.items():
        assert speed == pytest.approx(0.6 * field(population).P[0, col.VMAX], rel=0.01)


def test_ordinary_speeds_follow_critical_speed():
    assert USUAL["usual_critical"] == POPULATIONS["amateur men"].traits["critical_speed_mps"].mean
    for population in ("elite men", "women"):
        ratio = POPULATIONS[population].traits["critical_speed_mps"].mean / USUAL["usual_critical"]
        alike, fit = (slow_move(population, fitness_share=share) for share in (0.0, 1.0))
        assert fit / alike == pytest.approx(ratio, rel=0.01)


def slow_move(population: str, **constants: float) -> float:
    """Top speed (m/s) of an ordinary move that no limit touches."""
    bout, i = far_off("even-keep-ball", population, **constants)
    x, y, _, _ = where(bout.P, bout.M, i, 0.0)
    move(bout.P, bout.M, bout.B, bout.C, bout.G, bout.count, i, 0.0, 0.0, x + 12.0, y, 6.0, 9.0, x + 12.0, y)
    return max(math.hypot(*where(bout.P, bout.M, i, 0.1 * s)[2:]) for s in range(100))


def push(bout_s: float, share: float, now: float = 0.0) -> float:
    """Metres run in the first tenths of a second from standing, in a bout of `bout_s`, with `share` of the reserve."""
    bout = field("amateur men")
    place(bout, PLACES, now)
    bout.P[0, col.WHISTLE] = bout_s
    bout.P[0, col.RESERVE] = share * bout.P[0, col.RESERVE_FULL]
    go(bout.P, bout.M, bout.C, bout.G, bout.count, 0, now, now, 30.0, 0.0, 8.0, 0.8, False)
    return where(bout.P, bout.M, 0, now + 0.3)[0]


def test_a_tired_player_saves_effort_the_less_the_shorter_the_bout():
    C = field("amateur men").C
    long, fresh = C[PLAN_TIME], push(C[PLAN_TIME], 1.0)
    assert push(3.0 * long, 0.5) == push(long, 0.5) < push(0.75 * long, 0.5) < push(0.5 * long, 0.5) == fresh
    assert push(long, 0.5, now=0.9 * long) == pytest.approx(push(long, 0.5))  # nor does the whistle draw near for him
    assert push(long, 0.5) / fresh == pytest.approx(1.0 - 0.5 * C[PACING], abs=0.02)


def test_players_walk_to_their_places_while_the_ball_is_out_of_play():
    bout = Bout(game := load_game("even-keep-ball"), typical_roster(game), 1, 0, 0, race)
    assign_start(bout)
    far = [(0.5 * bout.P[i, col.ZX0], 0.5 * bout.P[i, col.ZY0]) for i in range(len(bout.P))]
    place(bout, far)
    bout.B[col.MODE], bout.B[col.LIVE_AT] = col.DEAD, 3.0
    free = [i for i in range(len(bout.P)) if bout.P[i, col.STYLE] == col.FREE]
    for i in free:
        think(bout.P, bout.M, bout.B, bout.C, bout.K, bout.N, bout.G, bout.count, i, 0.0, 0.0)
    speeds = [fastest(bout, i, 20.0) for i in free]
    assert max(speeds) == pytest.approx(bout.C[DEAD_PACE], abs=0.01)
    place(
        bout, [(bout.P[i, col.ZX1] + 12.0, 0.0) for i in range(len(bout.P))]
    )  # who is outside his area hurries back into it
    think(bout.P, bout.M, bout.B, bout.C, bout.K, bout.N, bout.G, bout.count, free[0], 0.0, 0.0)
    assert fastest(bout, free[0], 20.0) > 2.0 * bout.C[DEAD_PACE]
