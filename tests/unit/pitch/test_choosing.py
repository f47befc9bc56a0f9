"""How a carrier values what he could do: doubt only where there is some, and how hard he would strike it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sim.ball import mean_pass_speed
from sim.pitch import columns as col
from sim.pitch.assumptions import PACE_SPREAD, USUAL
from sim.pitch.carrier import first_look, look
from sim.pitch.onball import PACE_LEAST, PACE_MOST, choose, kick, mean_to
from sim.pitch.state import Bout
from tests.support.scenes import field, place

DRAWS = 400


def two_receivers(near: float, far: float, behind: float = 50.0, **constants: float) -> Bout:
    """0 has the ball; 1 and 2 stand that many metres from him, on either side; an opponent stands `behind` metres behind 2."""
    bout = field("amateur men")
    for name, value in constants.items():
        bout.C[list(USUAL).index(name)] = value
    place(bout, [(0.0, 0.0), (near, 0.0), (-far, 0.0), (-far - behind, 0.0), (70.0, 70.0), (70.0, 70.0)])
    bout.P[2, col.STYLE] = bout.P[3, col.STYLE] = col.FREE
    bout.P[2, col.SIDE] = bout.P[0, col.SIDE]
    bout.P[:3, col.OPEN] = 1.0
    bout.P[3, col.SIDE] = bout.P[0, col.SIDE] + 1.0
    bout.B[[col.MODE, col.HOLDER]] = col.HELD, 0.0
    return bout


def chosen(bout: Bout) -> list[int]:
    found = []
    for _ in range(DRAWS):
        choose(bout.P, bout.M, bout.B, bout.C, bout.K, bout.N, 0, 1.0, False, 0.0, bout.out)
        found.append(int(bout.out[0]))
    return found


def test_of_two_passes_that_are_all_but_sure_neither_is_misjudged():
    # 2 would be a little less free: worth some hundredths less, which is under `choice_noise`.
    assert set(chosen(two_receivers(4.0, 4.0, behind=9.0, pace_spread=0.0))) == {1}


def test_of_two_passes_that_may_fail_the_worse_is_sometimes_taken_for_the_better():
    found = chosen(two_receivers(9.0, 12.0, pace_spread=0.0))
    assert DRAWS / 10 < found.count(2) < found.count(1)
    assert set(chosen(two_receivers(9.0, 12.0, pace_spread=0.0, choice_noise=0.0))) == {1}


def test_the_more_composed_a_player_the_less_he_misjudges():
    worse = []
    for composure in (0.2, 0.6, 1.0):
        bout = two_receivers(9.0, 12.0, pace_spread=0.0)
        bout.P[0, col.COMPOSURE] = composure
        worse.append(chosen(bout).count(2))
    assert worse[0] > worse[1] > worse[2] == 0


def test_how_hard_a_pass_is_meant_is_drawn_as_wide_as_passes_of_matches_are():
    bout = two_receivers(9.0, 10.0)
    paces = []
    for _ in range(4 * DRAWS):
        mean_to(bout.B, bout.C, bout.K, bout.N, 0)
        paces.append(float(bout.B[col.PACE]))
    logs = np.log(paces)
    assert PACE_LEAST <= min(paces) and max(paces) <= PACE_MOST
    assert logs.mean() == pytest.approx(0.0, abs=4.0 * bout.C[PACE_SPREAD] / math.sqrt(4 * DRAWS))
    assert logs.std() == pytest.approx(bout.C[PACE_SPREAD], rel=0.12)
    # M35, ground passes of three matches: half of what lies between the 10 % and the 90 % point, over 1.2816.
    bands = ((6.0, 13.7), (8.0, 17.0), (9.9, 18.8), (10.9, 19.8))
    published = [math.log(high / low) / (2.0 * 1.2816) for low, high in bands]
    assert min(published) < bout.C[PACE_SPREAD] < max(published)


@pytest.mark.parametrize("pace", [0.7, 1.3])
def test_a_pass_is_struck_as_hard_as_it_was_meant(pace: float):
    bout = two_receivers(9.0, 10.0, weight_error=0.0)
    bout.B[col.PACE] = pace
    kick(bout.P, bout.M, bout.B, bout.C, bout.K, bout.N, 0, 1.0, 9.0, 0.0, False, 0.0)
    v0, a = bout.B[col.V0], bout.B[col.DECEL]
    seconds = (v0 - math.sqrt(v0 * v0 - 2.0 * a * 9.0)) / a
    assert 9.0 / seconds == pytest.approx(pace * mean_pass_speed(9.0))


def test_a_pass_chosen_first_time_is_struck_as_it_was_chosen():
    bout = two_receivers(9.0, 10.0)
    bout.P[0, col.LIMIT] = 1.0
    first_look(bout, 1.0, 0)
    meant = float(bout.B[col.PACE])
    look(bout, 1.1)
    assert bout.events[-1][2] == "release"
    assert bout.B[col.PACE] == meant != 1.0
