"""What players without the ball make of a situation: how fast a run is worth, who is minded first, where a line player belongs, and
how much room there is."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sim.evidence.conditions import Condition, game_of
from sim.game.loader import load_game
from sim.pitch import columns as col
from sim.pitch.assumptions import RUN_CAP, TRANSITION_CAP
from sim.pitch.defending import cover, covered_by
from sim.pitch.engine import begin, race
from sim.pitch.ground import take_in
from sim.pitch.moves import where
from sim.pitch.offball import offer_free, think
from sim.pitch.state import Bout
from sim.players import typical_roster
from tests.support.scenes import place
from tests.support.watching import ran

FAR_OFF = -40.0


def held_by(game, holder: str, places: dict[str, tuple[float, float]], **constants: float) -> Bout:
    """A bout at time 0: `holder` has the ball, players stand where `places` says, the others in a far corner."""
    bout = Bout(game, typical_roster(game), 1, 0, 0, race, constants)
    begin(bout)
    ids = list(bout.ids)
    place(bout, [places.get(one, (FAR_OFF, FAR_OFF)) for one in ids])
    bout.B[[col.MODE, col.HOLDER, col.RECEIVED, col.LOST]] = col.HELD, float(ids.index(holder)), 0.0, -1e9
    bout.B[col.HOLDING] = bout.P[ids.index(holder), col.SIDE]
    return bout


def keep_ball() -> tuple:
    return game_of(Condition("possession", ("areas.field.length=60", "areas.field.width=60"), "amateur men"))


def top_speed(bout: Bout, i: int) -> float:
    return max(math.hypot(*where(bout.P, bout.M, i, 0.05 * s)[2:]) for s in range(200))


def offered(gap_m: float, draws: int = 150) -> tuple[float, float]:
    """(mean gain, mean top speed over way) of the runs of a supporter with an opponent `gap_m` from him, on the lane."""
    bout = held_by(
        keep_ball(), "amber-1", {"amber-1": (-10.0, 0.0), "amber-2": (10.0, 0.0), "slate-1": (10.0 - gap_m, 0.0)}
    )
    P, M, B, C = bout.P, bout.M, bout.B, bout.C
    i = list(bout.ids).index("amber-2")
    gains, speeds = [], []
    for _ in range(draws):
        start = [(where(P, M, j, 0.0)[0], where(P, M, j, 0.0)[1]) for j in range(len(P))]
        take_in(P, M, 0.0, False)
        drawn = bout.N.copy()
        px, py, gain = offer_free(P, M, B, C, bout.K, bout.N, i, 0.0, -10.0, 0.0)
        bout.N[:] = drawn
        think(P, M, B, C, bout.K, bout.N, bout.G, bout.count, i, 0.0, 0.0)
        way = math.hypot(px - 10.0, py)
        if way > 4.0:
            gains.append(gain)
            speeds.append(top_speed(bout, i) / way)
        place(bout, start)
    return float(np.mean(gains)), float(np.mean(speeds))


def test_a_run_that_is_worth_more_is_made_faster():
    free, marked = offered(25.0), offered(4.0)
    assert marked[0] > free[0] + 1.0
    assert marked[1] > 2.0 * free[1]


def test_where_a_goal_is_attacked_the_man_inside_is_minded_before_the_one_on_the_line():
    game = game_of(Condition("goals-floaters", (), "elite men"))
    men = {
        "amber-1": (-10.0, 0.0),
        "white-1": (6.0, 16.5),
        "amber-2": (6.0, 3.0),
        "slate-2": (6.0, 5.0),
        "slate-1": (-8.0, 0.0),
    }

    def minded(outside_danger: float) -> str:
        bout = held_by(game, "amber-1", men, outside_danger=outside_danger)
        bout.B[col.AIM], bout.B[col.AGX], bout.B[col.AGY] = col.SCORE, 30.0, 0.0
        ids = list(bout.ids)
        take_in(bout.P, bout.M, 0.0, False)
        return ids[covered_by(bout.P, bout.B, bout.C, ids.index("slate-2"), ids.index("slate-1"), 0.0, -10.0, 0.0)]

    assert minded(1.0) == "white-1"  # whom he need not go far to mind, tucked in
    assert minded(0.25) == "amber-2"


def test_whoever_runs_back_behind_the_ball_keeps_to_the_speed_of_ordinary_runs():
    game = game_of(Condition("goals", ("areas.pitch.length=90", "areas.pitch.width=50"), "elite men"))
    for lost, share in ((-1e9, RUN_CAP), (0.0, TRANSITION_CAP)):
        bout = held_by(game, "amber-1", {"amber-1": (10.0, 0.0), "slate-2": (-30.0, 5.0)})
        bout.B[col.AIM], bout.B[col.AGX], bout.B[col.AGY], bout.B[col.LOST] = col.SCORE, 45.0, 0.0, lost
        i = list(bout.ids).index("slate-2")
        take_in(bout.P, bout.M, 0.0, False)
        cover(bout.P, bout.M, bout.B, bout.C, bout.G, bout.count, i, -1, 0.0, 0.0, 10.0, 0.0)
        assert top_speed(bout, i) == pytest.approx(bout.C[share] * bout.P[i, col.VMAX], rel=0.01)


def test_a_line_player_who_is_off_his_line_goes_back_to_it():
    game = load_game("tight-square", ["areas.square.length=13", "areas.square.width=13"])
    bout = Bout(game, typical_roster(game), 1, 0, 0, race)
    begin(bout)
    P = bout.P
    line = [i for i in range(len(P)) if P[i, col.STYLE] == col.EDGE]
    here = [(where(P, bout.M, j, 0.0)[0], where(P, bout.M, j, 0.0)[1]) for j in range(len(P))]
    here[line[1]] = (0.5, -0.5)  # he has won the ball inside and passed it on
    place(bout, here)
    bout.B[[col.MODE, col.HOLDER, col.RECEIVED]] = col.HELD, float(line[0]), 0.0
    think(P, bout.M, bout.B, bout.C, bout.K, bout.N, bout.G, bout.count, line[1], 0.0, 0.0)
    x, y, _, _ = where(P, bout.M, line[1], 6.0)
    assert max(abs(x), abs(y)) == pytest.approx(6.5 - 0.4, abs=0.05)
    assert len(ran(bout, line[1], 6.0)) > 1


def test_half_of_the_room_about_a_line_player_lies_outside():
    for name, on_the_line in (("goals", 0), ("goals-floaters", 6)):
        game = game_of(Condition(name, ("areas.pitch.length=60", "areas.pitch.width=35"), "elite men"))
        bout = Bout(game, typical_roster(game), 1, 0, 0, race)
        begin(bout)
        inside = int(sum(bout.P[:, col.STYLE] == col.FREE))
        assert int(sum(bout.P[:, col.STYLE] == col.EDGE)) == on_the_line
        assert bout.B[col.SPACING] == pytest.approx(math.sqrt(60.0 * 35.0 / (inside + 0.5 * on_the_line)))
