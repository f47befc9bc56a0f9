"""The engine's constants: each stands in the table once, and compiled code reads the value that stands there."""

from __future__ import annotations

import numpy as np
import pytest

from sim.pitch.arrays import CONSTANTS, MATCH
from sim.pitch.assumptions import ENGINE, USUAL
from sim.pitch.setup import put_constants


def written(replaced: dict[str, float] | None = None) -> dict[str, float]:
    """The constants as they are written for compiled code, by name."""
    match = np.zeros(1, MATCH)
    named = put_constants(match, replaced)
    found = {name: float(match["constants"][name][0]) for name in CONSTANTS.names}
    assert vars(named) == found
    return found


def test_every_constant_is_written_under_its_name():
    assert len(USUAL) == len(ENGINE)  # no name twice
    assert written() == USUAL


def test_a_replaced_constant_replaces_no_other():
    assert written({"replan": 0.4}) == USUAL | {"replan": 0.4}


@pytest.mark.parametrize("row", ENGINE, ids=lambda row: row.name)
def test_judgements_are_marked_and_carry_a_range(row):
    assert row.provenance == "judgement" or (row.provenance == "open data" and "computed from" in row.note)
    assert row.low <= row.value <= row.high and row.low < row.high
