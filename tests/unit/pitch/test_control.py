"""Bringing a ball under control takes longer beside an opponent."""

from __future__ import annotations

import pytest

from sim.pitch import columns as col
from sim.pitch.assumptions import CONTROL_PRESSED, CONTROL_TIME
from sim.pitch.carrier import first_look
from tests.support.scenes import field, place


def mean_wait(gap_m: float) -> float:
    """Mean seconds from reception to the first look of a receiver whose nearest opponent is that far away."""
    bout = field("amateur men")
    bout.P[2, col.STYLE], bout.P[2, col.SIDE] = col.FREE, 7.0
    bout.P[0, col.TEMPO] = 0.5
    waits = []
    for _ in range(1500):
        place(bout, [(0.0, 0.0), (10.0, 0.0), (0.0, gap_m)] + [(60.0, 60.0)] * 3)
        bout.B[col.MODE], bout.B[col.HOLDER] = col.HELD, 0.0
        bout.P[:, col.OPEN] = 0.0  # nobody to play it to first time
        first_look(bout, 0.0, 0)
        waits.append(bout.carrier.look_at)
    return sum(waits) / len(waits)


def test_control_takes_longer_beside_an_opponent():
    C = field("amateur men").C
    free, half, pressed = mean_wait(4.0), mean_wait(2.0), mean_wait(0.8)
    assert free == pytest.approx(C[CONTROL_TIME], rel=0.02)
    assert pressed / free == pytest.approx(1.0 + C[CONTROL_PRESSED], rel=0.02)
    assert half / free == pytest.approx(1.0 + 0.5 * C[CONTROL_PRESSED], rel=0.02)
