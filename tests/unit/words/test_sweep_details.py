"""A sweep's cell: whole game, two digits, and a range that ends where the measure does."""

from __future__ import annotations

import pytest

from sim.experiments.sweep import ENDS
from sim.words.sweep_details import figure_with_doubt


def cells(measure: str, unit: str, mean: str, low: str, high: str) -> list[list[str]]:
    """The lines of one run over one key; a role's line stands first, to be passed over."""
    known = {"measure": measure, "unit": unit, "mean": mean, "low": low, "high": high}
    return [
        ["8", *(({"scope": scope} | known | extra).get(end, "") for end in ENDS)]
        for scope, extra in (("role:outside", {"mean": "99"}), ("game", {}))
    ]


@pytest.mark.parametrize(
    ("unit", "mean", "low", "high", "text"),
    [
        ("1/min", "3.14", "2.92", "3.36", "3.1 (2.9 to 3.4)"),
        ("1/min", "2.9", "-0.68", "6.5", "2.9 (0 to 6.5)"),
        ("share", "0.86", "0.49", "1.2", "86 (49 to 100)"),
        ("1/min", "2.9", "", "", "2.9"),
    ],
)
def test_a_range_ends_where_the_measure_does(unit, mean, low, high, text):
    assert figure_with_doubt(cells("turnovers_per_min", unit, mean, low, high), "turnovers_per_min", 1) == text
