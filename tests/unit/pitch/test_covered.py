"""Whom a defender covers: somebody, or nobody - never what happens to lie in memory that was not filled."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from sim.pitch import covering
from tests.support.scene import FREE, bare


@pytest.mark.parametrize(("spacing", "whom"), [(5.0, 0), (1e-150, -1)])
def test_where_everybody_costs_more_than_anything_can_nobody_is_covered(monkeypatch, spacing: float, whom: int):
    defender, leftover = 2, 2  # what an unfilled array may hold: the number of the defender himself
    one = bare(players=4)
    fields = {"style": FREE, "may_receive": 1.0, "west": -9.0, "south": -9.0, "east": 9.0, "north": 9.0}
    for name, value in (fields | {"seen_x": (1.0, 8.0, 2.0, 7.0), "side": (0.0, 0.0, 1.0, 1.0)}).items():
        one.players[name][:] = value
    one.held_by(1)
    one.play["spacing"] = spacing
    unfilled = SimpleNamespace(empty=lambda shape, kind=float: np.full(shape, leftover, dtype=kind), int64=np.int64)
    monkeypatch.setattr(covering, "np", unfilled)
    assert one.covered_by(defender, -1, (0.0, 0.0), plain=True) == whom
