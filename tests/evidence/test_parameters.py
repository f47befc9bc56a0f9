"""The headline parameters do what they say: staged scenes in the engine give them back.

Definitions: model notes, section 8 (no published source; they are what the parameter means).
"""

from __future__ import annotations

import numpy as np
import pytest

from sim.errors import GameError
from sim.game.loader import load_game
from sim.pitch import columns as col
from sim.pitch.assumptions import PRESS_SLACK
from sim.pitch.defending import press
from sim.pitch.engine import play_bout
from sim.pitch.moves import where
from sim.pitch.tiring import balance_after, rested
from sim.players import draw_roster, sprint_limit
from tests.scenes import field, place, share_of_passes_controlled, typical

pytestmark = pytest.mark.evidence


@pytest.mark.parametrize(
    ("population", "value"),
    [
        ("amateur men", 0.60),
        ("amateur men", 0.80),
        ("amateur men", 0.93),
        ("elite men", 0.98),
        ("U12", 0.85),
        ("women", 0.995),
    ],
)
def test_ten_thousand_staged_passes_give_pass_success(population: str, value: float):
    # Within 0.01: two standard errors of 10,000 passes at 0.6 are 0.0098.
    assert share_of_passes_controlled(population, value, 10_000) == pytest.approx(value, abs=0.01)


@pytest.mark.parametrize(
    ("population", "speed"), [("amateur men", 2.5), ("amateur men", 3.8), ("elite men", 4.4), ("U12", 3.0)]
)
def test_a_presser_closes_eight_metres_at_pressing_speed(population: str, speed: float):
    bout = field(population, pressing_speed_mps=speed)
    P, B, M = bout.P, bout.B, bout.M
    place(bout, [(0.0, 0.0), (16.0, 0.0)] + [(60.0, 60.0)] * 4)
    P[0, col.SIDE], P[1, col.SIDE] = 5.0, 6.0
    P[2:, col.SIDE] = 6.0
    B[[col.MODE, col.HOLDER, col.HOLDING, col.MEANT]] = col.HELD, 1.0, 6.0, -1.0
    bout.C[PRESS_SLACK] = 99.0  # he always thinks it worth a sprint
    press(P, M, B, bout.C, bout.G, bout.count, 0, 0.0, 0.0, 16.0, 0.0)
    times = np.linspace(0.0, 8.0, 80_001)
    gone = np.array([np.hypot(*where(P, M, 0, t)[:2]) for t in times])
    assert 8.0 / times[np.argmax(gone >= 8.0)] == pytest.approx(speed, rel=0.02)


def test_recovery_is_the_standing_half_time():
    who = typical("amateur men")
    full = who.reserve_m
    assert balance_after(0.0, full, who.critical_speed_mps, who.recovery_s, 0.0, who.recovery_s) == pytest.approx(
        0.5 * full
    )
    assert rested(0.0, who, 2.0 * who.recovery_s) == pytest.approx(0.75)


def test_the_reserve_does_not_care_how_a_stretch_is_cut():
    # C-7.16: one minute of recovery is twice half a minute.  Differential form: Skiba 2015, MSSE 47:2433.
    once = balance_after(40.0, 200.0, 4.0, 45.0, 1.5, 60.0)
    twice = balance_after(balance_after(40.0, 200.0, 4.0, 45.0, 1.5, 30.0), 200.0, 4.0, 45.0, 1.5, 30.0)
    assert once == pytest.approx(twice, abs=1e-9)
    assert balance_after(200.0, 200.0, 4.0, 45.0, 6.0, 40.0) == pytest.approx(120.0, abs=1e-6)  # C-7.5


def test_two_defenders_left_in_tire_and_supports_hardly():
    # Acceptance of the model notes, section 7 (judgement): kept 120 s in a 12 m square, defenders end with 30-80 % of the
    # reserve, supports above 85 %.

    game = load_game(
        "tight-square",
        [
            "areas.square.length=12",
            "areas.square.width=12",
            "bouts.minutes=2",
            'phases.keep.rules.loser-goes-in.do=[{restart="start"}]',
        ],
    )
    left = np.mean([play_bout(game, draw_roster(game, 1, k), 1, k).reserve_end for k in range(24)], axis=0)
    assert left[:4].min() > 0.85
    assert 0.3 < left[4:].min() and left[4:].max() < 0.8


def test_pressing_faster_than_a_sprint_is_refused():
    who = typical("women")
    limit = sprint_limit(who.vmax_mps, who.tau_s)
    with pytest.raises(GameError, match="pressing_speed"):
        load_game("tight-square", [f"teams.squad.pressing_speed={limit + 0.2:.2f}"], "women")
