"""Bringing a ball under control takes longer beside an opponent."""

from __future__ import annotations

import pytest

from tests.support.scene import scene


def mean_wait(gap_m: float) -> float:
    """Mean seconds from reception to the first look of a receiver whose nearest opponent is that far away."""
    one = scene().carrier(at=(0.0, 0.0), tempo=0.5).mate(at=(10.0, 0.0)).opponent(at=(0.0, gap_m))
    one.players["may_receive"] = 0.0  # nobody to play it to first time
    waits = []
    for _ in range(1500):
        one.stand((0.0, 0.0), (10.0, 0.0), (0.0, gap_m)).held_by(0)
        waits.append(one.first_look(0.0, 0))
    return sum(waits) / len(waits)


def test_control_takes_longer_beside_an_opponent():
    ours = scene().constants
    free, half, pressed = mean_wait(4.0), mean_wait(2.0), mean_wait(0.8)
    assert free == pytest.approx(ours["control_time"], rel=0.02)
    assert pressed / free == pytest.approx(1.0 + ours["control_pressed"], rel=0.02)
    assert half / free == pytest.approx(1.0 + 0.5 * ours["control_pressed"], rel=0.02)
