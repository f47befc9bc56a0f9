"""The bands of tight keep-ball as people read them: how many hold, the cells with what was counted, and every band."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from sim.evidence.keepball.causes import CAUSES
from sim.evidence.keepball.counts import BoutCounts
from sim.evidence.keepball.play import BandLine, Figure, quantity
from sim.words.tables import table as laid_out

Played = Mapping[str, Sequence[BoutCounts]]
SOURCE = "Bands: common practice, no source. Inside means by the value; behind it stands its 95 % interval."
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
LISTED = (("unlock to pass across, s", "switch s"), ("nearest opponent at reception, m", "opponent m"))


def figure(value: float) -> str:
    """A value in three digits; a dash where there is none."""
    if math.isnan(value):
        return "-"
    rounded = float(f"{value:.2e}")
    return f"{rounded:.0f}" if abs(rounded) >= 100 else f"{rounded:.3g}"


def with_interval(ours: Figure) -> str:
    """The value and its interval."""
    return (
        figure(ours.value)
        if math.isnan(ours.low)
        else f"{figure(ours.value)} ({figure(ours.low)} to {figure(ours.high)})"
    )


def bands_line(lines: Sequence[BandLine]) -> str:
    """How many bands hold."""
    return f"Keep-ball bands: {sum(line.inside for line in lines)} of {len(lines)} inside (fitted)."


def what(line: BandLine) -> str:
    """What a band is about."""
    band = line.band
    touches = f"{band.touches} touch{'' if band.touches == '1' else 'es'}"
    return f"{band.measure}: {band.game}, {band.population}, {touches} ({band.id})"


def bands_in_words(lines: Sequence[BandLine], width: int | None = None) -> str:
    """Every band beside ours."""
    rows = [
        [
            what(line),
            with_interval(line.ours),
            f"{figure(line.band.low)} to {figure(line.band.high)}",
            line.band.unit if line.band.unit != "1" else "",
            "inside" if line.inside else "outside",
        ]
        for line in lines
    ]
    return laid_out(["what (code)", "ours", "band", "unit", "verdict"], rows, width, left=range(5))


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
