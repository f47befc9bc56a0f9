"""Whom a defender covers: somebody, or nobody - never what happens to lie in memory that was not filled."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from sim.pitch import columns as col
from sim.pitch import defending
from sim.pitch.setup import constants


@pytest.mark.parametrize(("spacing", "whom"), [(5.0, 0), (1e-150, -1)])
def test_where_everybody_costs_more_than_anything_can_nobody_is_covered(monkeypatch, spacing: float, whom: int):
    defender, leftover = 2, 2  # what an unfilled array may hold: the number of the defender himself
    P, B = np.zeros((4, col.PLAYER_COLUMNS)), np.zeros(col.BALL_COLUMNS)
    P[:, col.STYLE], P[:, col.OPEN], P[2:, col.SIDE] = col.FREE, 1.0, 1.0
    P[:, [col.ZX0, col.ZY0]], P[:, [col.ZX1, col.ZY1]] = -9.0, 9.0
    P[:, col.SEEN_X] = (1.0, 8.0, 2.0, 7.0)
    B[col.MODE], B[col.HOLDER], B[col.SPACING] = col.HELD, 1.0, spacing
    unfilled = SimpleNamespace(empty=lambda shape, kind=float: np.full(shape, leftover, dtype=kind), int64=np.int64)
    monkeypatch.setattr(defending, "np", unfilled)
    plain = getattr(defending.covered_by, "py_func", defending.covered_by)
    assert plain(P, B, constants(), defender, -1, 0.0, 0.0, 0.0) == whom
