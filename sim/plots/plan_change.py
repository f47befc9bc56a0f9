"""What a move changes: for each evening a hollow mark before, a full one after, and an arrow between; its band behind.

Frame: `sim.plots.plan_frames.CHANGE`, in metres.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from matplotlib.axes import Axes

from sim.plots.look import FAINT, entitle, explain, quiet, shade, tall
from sim.words import plan_titles as words

if TYPE_CHECKING:
    import pandas as pd


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """Evenings from the top, earliest first."""
    for y, (_, row) in enumerate(frame.iterrows()):
        before, after, low, high = (
            words.in_unit("metres", row[name]) for name in ("before", "after", "band_low", "band_high")
        )
        if low == low:
            axis.barh(y, high - low, left=low, height=0.62, color="white", hatch="////", edgecolor=FAINT, linewidth=0.8,
                      label=None if y else words.BAND)  # fmt: skip
        if before == before and after == after and before != after:
            axis.annotate("", (after, y), (before, y), arrowprops={"arrowstyle": "->", "color": FAINT})
        axis.plot(before, y, "s", color=shade(1), markerfacecolor="white", markersize=8)
        axis.plot(after, y, "o", color=shade(0), markersize=6)
    axis.plot([], [], "s", color=shade(1), markerfacecolor="white", label=words.BEFORE)
    axis.plot([], [], "o", color=shade(0), label=words.AFTER)
    axis.set_yticks(range(len(frame)), list(frame["evening"]))
    axis.set_ylim(len(frame) - 0.4, -0.6)
    axis.set_xlim(left=0)
    axis.set_xlabel(words.AXES["metres"])
    quiet(axis)
    explain(axis)
    entitle(axis, words.move_said(frame))
    return axis


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    return 7.5, tall(len(frame), 0.36, 0.9)
