"""The evenings of a plan: the band of each as a hatched bar, what is planned as a dot with its range; a panel a measure.

Frame: `sim.plots.plan_frames.EVENING`.  Rows are drawn from the top in the order of the frame.
"""

from __future__ import annotations

from math import nan
from typing import TYPE_CHECKING

from matplotlib.axes import Axes

from sim.plots.look import FAINT, entitle, explain, quiet, shade, tall
from sim.words import plan_titles as words

if TYPE_CHECKING:
    import pandas as pd

GAP = 0.06  # of the width, between two panels


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """A panel for each measure beside the next, evenings from the top."""
    measures = list(dict.fromkeys(frame["measure"]))
    width = (1 - GAP * (len(measures) - 1)) / len(measures)
    axis.set_axis_off()
    for i, measure in enumerate(measures):
        panel = axis.inset_axes((i * (width + GAP), 0.0, width, 1.0))
        _panel(frame[frame["measure"] == measure], panel, measure, named=i == 0)
    axis.barh([nan], [nan], color="white", hatch="////", edgecolor=FAINT, label=words.BAND)
    axis.plot([], [], "o", color=shade(0), label=words.FORECAST)
    axis.plot([], [], "-", color=shade(0), label=words.USUALLY)
    explain(axis)
    entitle(axis, words.evenings_said(frame))
    return axis


def _panel(rows: pd.DataFrame, panel: Axes, measure: str, named: bool) -> None:
    places = range(len(rows))
    for y, (_, row) in zip(places, rows.iterrows(), strict=True):
        low, high, value = (words.in_unit(measure, row[name]) for name in ("band_low", "band_high", "value"))
        if low == low:
            panel.barh(
                y, high - low, left=low, height=0.62, color="white", hatch="////", edgecolor=FAINT, linewidth=0.8
            )
        panel.plot([words.in_unit(measure, row[name]) for name in ("low", "high")], [y, y], "-", color=shade(0))
        panel.plot(value, y, "o", color=shade(0), markersize=6)
    panel.set_yticks(list(places), [f"{row['evening']}\n{row['label']}" for _, row in rows.iterrows()] if named else [])
    panel.set_ylim(len(rows) - 0.4, -0.6)
    panel.set_xlim(left=0)
    panel.set_xlabel(words.AXES[measure])
    quiet(panel)


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    return 9.0, tall(len(set(frame["evening"])), 0.42, 0.9)
