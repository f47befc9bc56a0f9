"""The evenings of a plan: the band of each as a hatched bar, what is planned as a dot with its range; a panel a measure.

Frame: `sim.plots.plan_frames.EVENING`.  Rows are drawn from the top in the order of the frame.
"""

from __future__ import annotations

from math import nan
from typing import TYPE_CHECKING

from matplotlib.axes import Axes

from sim.plots.look import FAINT, entitle, explain, narrow, quiet, shade, tall, wrapped
from sim.words import plan_titles as words

if TYPE_CHECKING:
    import pandas as pd

GAP = 0.06  # of the width, between two panels
UNDER = 0.6  # of the height that a panel has where they stand one under the other
BEYOND = 1.06  # of the largest value: as far as a panel goes


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """A panel for each measure beside the next, on a phone under the one before, evenings from the top."""
    measures = list(dict.fromkeys(frame["measure"]))
    under, many = narrow(axis), len(measures)
    width = (1 - GAP * (many - 1)) / many
    axis.set_axis_off()
    for i, measure in enumerate(measures):
        place = (0.0, 1 - (i + UNDER) / many, 1.0, UNDER / many) if under else (i * (width + GAP), 0.0, width, 1.0)
        _panel(frame[frame["measure"] == measure], axis.inset_axes(place), measure, named=under or i == 0)
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
    ends = [words.in_unit(measure, rows[name].max()) for name in ("band_high", "high", "value")]
    panel.set_xlim(0, BEYOND * max(one for one in (*ends, 1.0) if one == one))
    panel.set_xlabel(wrapped(words.AXES[measure], panel_inches(panel), float(panel.xaxis.label.get_fontsize())))
    quiet(panel)


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    return 9.0, tall(len(set(frame["evening"])), 0.42, 0.9)


def folded(frame: pd.DataFrame) -> float:
    """Height in inches on a phone, where panels stand one under the other."""
    evenings, panels = len(set(frame["evening"])), len(set(frame["measure"]))
    return panels * (0.36 * evenings + 0.3) / UNDER


def panel_inches(panel: Axes) -> float:
    """How wide a panel is."""
    return float(panel.get_position().width * panel.figure.figure.get_figwidth())
