"""How a carrier values what he could do: doubt only where there is some, and how hard he would strike it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sim.ball import NEVER, mean_pass_speed, stops_after, time_to
from tests.support.scene import Scene, scene

DRAWS = 400


def two_receivers(near: float, far: float, behind: float = 50.0, **constants: float) -> Scene:
    """0 has the ball; 1 and 2 stand that many metres from him, on either side; an opponent stands `behind` metres behind 2."""
    one = scene(**constants).carrier(at=(0.0, 0.0)).mate(at=(near, 0.0)).mate(at=(-far, 0.0))
    return one.opponent(at=(-far - behind, 0.0))


def wild(near: float, far: float, **constants: float) -> Scene:
    """The same for a carrier whose passes may well fail, the more the longer they are."""
    one = two_receivers(near, far, pace_spread=0.0, **constants)
    one.players["bearing_error"][0] = 0.08
    return one


def chosen(one: Scene) -> list[int]:
    return [one.choose(0, 1.0) for _ in range(DRAWS)]


def test_of_two_passes_that_are_all_but_sure_neither_is_misjudged():
    # 2 would be a little less free: worth some hundredths less, which is under `choice_noise`.
    assert set(chosen(two_receivers(4.0, 4.0, behind=9.0, pace_spread=0.0))) == {1}


def test_of_two_passes_that_may_fail_the_worse_is_sometimes_taken_for_the_better():
    found = chosen(wild(9.0, 12.0))
    assert DRAWS / 10 < found.count(2) < found.count(1)
    assert set(chosen(wild(9.0, 12.0, choice_noise=0.0))) == {1}


def test_the_more_composed_a_player_the_less_he_misjudges():
    worse = []
    for composure in (0.2, 0.6, 1.0):
        one = wild(9.0, 12.0)
        one.players["composure"][0] = composure
        worse.append(chosen(one).count(2))
    assert worse[0] > worse[1] > worse[2] == 0


def test_how_hard_a_pass_is_meant_is_drawn_as_wide_as_passes_of_matches_are():
    one = two_receivers(9.0, 10.0)
    paces = [one.mean_to(0) for _ in range(4 * DRAWS)]
    spread = one.constants["pace_spread"]
    logs = np.log(paces)
    assert one.constants["pace_least"] <= min(paces) and max(paces) <= one.constants["pace_most"]
    assert logs.mean() == pytest.approx(0.0, abs=4.0 * spread / math.sqrt(4 * DRAWS))
    assert logs.std() == pytest.approx(spread, rel=0.12)
    # P21, 52 tracked passes of two matches of open optical tracking: 0.23 (0.18 to 0.28 by the size of the sample).  Event
    # times of three matches (M35) give 0.23 to 0.32: they hold the observer's delay as well.
    assert 0.18 < spread < 0.28


@pytest.mark.parametrize("pace", [0.7, 1.3])
def test_a_pass_is_struck_as_hard_as_it_was_meant(pace: float):
    one = two_receivers(9.0, 10.0, weight_error=0.0)
    one.ball["pace"] = pace
    one.kick(0, 1.0, to=(9.0, 0.0))
    seconds = time_to(one.launch, 9.0)
    assert 9.0 / seconds == pytest.approx(pace * mean_pass_speed(9.0))
    assert one.ball["arrives_at"] == pytest.approx(1.0 + seconds)


def test_a_pass_that_comes_off_too_soft_is_waited_for_until_it_lies():
    one = two_receivers(9.0, 10.0, weight_least=0.3, weight_most=0.3)
    one.kick(0, 1.0, to=(9.0, 0.0))
    assert time_to(one.launch, 9.0) == NEVER
    assert one.ball["arrives_at"] == pytest.approx(1.0 + stops_after(one.launch))


def test_a_pass_chosen_first_time_is_struck_as_it_was_chosen():
    one = two_receivers(9.0, 10.0)
    one.players["touch_limit"][0] = 1.0
    one.first_look(1.0, 0)
    meant = float(one.ball["pace"])
    one.look(1.1)
    assert one.bout.events[-1][2] == "release"
    assert one.ball["pace"] == meant != 1.0
