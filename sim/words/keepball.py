"""What was counted in the cells of keep-ball and in the panel of squares, as people read it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from sim.evidence.keepball.causes import CAUSES
from sim.evidence.keepball.counts import BoutCounts
from sim.evidence.keepball.panel import PanelRow
from sim.evidence.keepball.play import quantity
from sim.words.banded import figure
from sim.words.tables import table as laid_out

Played = Mapping[str, Sequence[BoutCounts]]
SQUARE = (
    ("lost of 100", "losses", "passes", 100.0),
    *((cause, f"losses {cause}", "losses", 100.0) for cause in CAUSES),
    ("spell", "completed", "losses", 1.0),
    ("passes/min", "passes", "minutes", 1.0),
    ("back %", "straight back", "passes received", 100.0),
    ("touches", "touches outside", "passes outside", 1.0),
    ("in m/min", "metres inside", "watch inside", 1.0),
    ("out m/min", "metres outside", "watch outside", 1.0),
    ("near %", "receptions near", "receptions", 100.0),
)
"""Columns of the squares: name, top, bottom, scale (`sim.evidence.keepball.counts`)."""
OTHERS = (
    ("lost of 100", "losses", "passes", 100.0),
    ("lost/min", "losses", "minutes", 1.0),
    ("crossings/min", "crossings", "minutes", 1.0),
    ("unlocked and lost %", "unlocks lost", "unlocks", 100.0),
    ("chasers m/min", "metres chaser", "watch chaser", 1.0),
    ("above 19.8", "fast metres chaser", "watch chaser", 1.0),
    ("shots/min", "shots", "minutes", 1.0),
    ("goals/min", "goals", "minutes", 1.0),
    ("goals/break", "goals", "break-aways", 1.0),
    ("goal-side", "goal-side", "shots", 1.0),
    ("nobody goal-side %", "shots alone", "shots", 100.0),
)
"""Columns of the other games, as above."""
PANEL_ASKED = "What they lose in squares of all sizes"
PANEL = "Losses of 100 passes tried / passes in a spell, by the side of the square"
AXES = (("numbers", "numbers"), ("touches", "touches"), ("population", "level"))
WORDS = {"2": "two touches"}
LISTED = (("unlock to pass across, s", "switch s"), ("nearest opponent at reception, m", "opponent m"))


def cells_in_words(played: Played, width: int | None = None) -> str:
    """What was counted in every cell: squares, then the other games, then what lies in between."""
    squares = {name: bouts for name, bouts in played.items() if bouts[0].sums.get("watch inside")}
    others = {name: bouts for name, bouts in played.items() if name not in squares}
    parts = [counted(squares, SQUARE, width), counted(others, OTHERS, width), listed(played, width)]
    return "\n\n".join(part for part in parts if part)


def counted(played: Played, columns: Sequence[tuple[str, str, str, float]], width: int | None) -> str:
    """One row a cell, one column a quantity; nothing without cells."""
    rows = [
        [name, *(figure(quantity(bouts, top, bottom, scale).value) for _, top, bottom, scale in columns)]
        for name, bouts in played.items()
    ]
    return laid_out(["cell", *(column[0] for column in columns)], rows, width) if rows else ""


def listed(played: Played, width: int | None) -> str:
    """Medians and where nine in ten lie below."""
    rows = []
    for name, bouts in played.items():
        values = [np.concatenate([one.lists.get(key, []) for one in bouts]) for _, key in LISTED]
        rows.append([name, *(figure(at) for one in values for at in quantiles(one))])
    head = ["cell", *(f"{word}, {level}" for word, _ in LISTED for level in ("median", "90 %"))]
    return laid_out(head, rows, width)


def quantiles(values: np.ndarray) -> tuple[float, float]:
    """(median, what nine in ten do not exceed); nan where there is nothing."""
    if not len(values):
        return math.nan, math.nan
    half, most = np.quantile(values, (0.5, 0.9))
    return float(half), float(most)


def panel_in_words(rows: Sequence[PanelRow], width: int | None = None) -> str:
    """Three small tables, each by size: numbers, touches, level; the rest as among amateurs, two touches, four against two."""
    usual = {"numbers": "4v2", "touches": "2", "population": "amateur men"}
    parts = [PANEL]
    for axis, head in AXES:
        others = {name: value for name, value in usual.items() if name != axis}
        own = [row for row in rows if all(getattr(row, name) == value for name, value in others.items())]
        said = ", ".join(WORDS.get(value, value) for value in others.values())
        parts.append(f"{said}\n{by_size(own, axis, head, width)}")
    return "\n\n".join(parts)


def by_size(rows: Sequence[PanelRow], axis: str, head: str, width: int | None) -> str:
    """One line a value of the axis, one column a size."""
    sizes = sorted({row.side_m for row in rows})
    names = list(dict.fromkeys(getattr(row, axis) for row in rows))
    cell = {(getattr(row, axis), row.side_m): f"{figure(row.lost_of_100)} / {spell(row)}" for row in rows}
    return laid_out(
        [head, *(f"{size} m" for size in sizes)],
        [[name, *(cell.get((name, size), "-") for size in sizes)] for name in names],
        width,
    )


def spell(row: PanelRow) -> str:
    """Completed passes in a spell, whole."""
    return "-" if math.isnan(row.spell) else f"{row.spell:.0f}"
