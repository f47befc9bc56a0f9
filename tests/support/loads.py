"""Running figures of the segments of one bout."""

from __future__ import annotations

import numpy as np

from sim.measures.external_load import counted, in_order
from sim.measures.power import energies, gauss_rule
from sim.measures.thresholds import ADULT_MEN, Thresholds


def running(
    segments: np.ndarray,
    players: int,
    roles: int,
    thresholds: Thresholds = ADULT_MEN,
    tops_mps: np.ndarray | None = None,
) -> tuple[np.ndarray, np.ndarray]:
    """(loads[player, role, LOADS], peak speed[player, role] in m/s) of one bout's segments.

    `tops_mps` are the players' top speeds, needed where the thresholds are shares of them.
    """
    rows = in_order(segments)
    return counted(rows, energies(rows, *gauss_rule()), players, roles, thresholds, tops_mps)
