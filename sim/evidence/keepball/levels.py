"""What the kept panel of squares knows of better players: how many fewer of their passes they lose."""

from __future__ import annotations

import csv
import statistics
from functools import cache

from sim.evidence.tables import folder

BETTER = {"amateur men": "elite men"}
"""Who is better in the panel, by whom; nobody is set beside children."""


@cache
def lost_beside(level: str, other: str) -> float | None:
    """What `other` lose of 100 passes over what `level` lose, the middle of all squares in which these lose any; None of none."""
    with (folder() / "results" / "panel.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    lost = {(row["population"], square_of(row)): float(row["lost_of_100"]) for row in rows}
    found = [
        lost[other, square] / value
        for (who, square), value in lost.items()
        if who == level and value > 0 and (other, square) in lost
    ]
    return statistics.median(found) if found else None


def square_of(row: dict[str, str]) -> tuple[str, ...]:
    """The numbers, side and touches of a row of the panel."""
    return row["numbers"], row["side_m"], row["touches"]
