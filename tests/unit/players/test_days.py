"""The day effect: the same players are not equally willing to run every evening.

Between-session variation of total distance: 2.2-4.6 % in professionals (Younesi et al. 2021, Biol Sport), 6.9-8.3 % in youth
(Clemente et al. 2019, Int J Environ Res Public Health 16:3612).  How much of it is willingness is judgement.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from sim import load_game
from sim.assumptions import Assumptions
from sim.players import draw_roster, typical_roster
from sim.populations import POPULATIONS

GAME = load_game("tight-square")
SESSIONS = 2000


@pytest.fixture(scope="module")
def drives() -> np.ndarray:
    """[session, player]"""
    return np.array([[who.drive for who in draw_roster(GAME, 1, n).values()] for n in range(SESSIONS)])


def test_the_mean_is_one_and_the_spread_is_the_groups_and_the_players_own(drives: np.ndarray):
    days = POPULATIONS["amateur men"].days
    group, own = days["day_effort"].value, days["day_effort_player"].value
    logs = np.log(drives)
    within = math.sqrt(logs.var(axis=1, ddof=1).mean())
    between = math.sqrt(logs.mean(axis=1).var(ddof=1) - within**2 / drives.shape[1])
    assert drives.mean() == pytest.approx(1.0, abs=4 * group / math.sqrt(SESSIONS))
    assert within == pytest.approx(own, rel=0.05)
    assert between == pytest.approx(group, rel=0.06)  # four standard errors of a standard deviation of 2000


def test_the_spread_lies_where_the_studies_do():
    for preset in POPULATIONS.values():
        share = preset.days["day_effort"].value
        assert (0.022 <= share <= 0.046) if not preset.minors else (0.046 <= share <= 0.083)


def test_a_day_changes_nothing_but_the_day():
    for day in (0, 3, 9):
        one = draw_roster(GAME, 1, 0, day=day)
        other = draw_roster(GAME, 1, 0)
        assert {name: replace(who, drive=1.0) for name, who in one.items()} == {
            name: replace(who, drive=1.0) for name, who in other.items()
        }
        assert (one == other) == (day == 0)


def test_days_are_drawn_by_seed_and_session_and_not_by_who_else_is_there():
    wide = load_game("tight-square", ["roles.outside.players=5"])
    assert {name: draw_roster(wide, 1, 4)[name].drive for name in draw_roster(GAME, 1, 4)} == {
        name: who.drive for name, who in draw_roster(GAME, 1, 4).items()
    }
    assert draw_roster(GAME, 1, 4)["squad-1"].drive != draw_roster(GAME, 2, 4)["squad-1"].drive


def test_without_a_day_effect_every_day_is_usual():
    none = Assumptions((), tuple(("amateur men", name, "value", 0.0) for name in ("day_effort", "day_effort_player")))
    assert {who.drive for who in draw_roster(GAME, 1, 4, none).values()} == {1.0}
    assert {who.drive for who in typical_roster(GAME).values()} == {1.0}
