"""A pre-season as a ladder: what each week comes to as a step, the bands of its evenings as a hatched box, friendlies named.

Frame: `sim.plots.plan_frames.WEEK`; metres alone are drawn.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from matplotlib.axes import Axes

from sim.plots.look import FAINT, INK, entitle, explain, quiet, shade
from sim.words import plan_titles as words

if TYPE_CHECKING:
    import pandas as pd


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """A step a week from the left, its box behind it."""
    rows = frame[frame["measure"] == "metres"].reset_index(drop=True)
    for i, (_, row) in enumerate(rows.iterrows()):
        low, high = (words.in_unit("metres", row[name]) for name in ("band_low", "band_high"))
        if low == low:
            label = words.WEEK_BAND if i == 0 else None
            axis.bar(row["week"], high - low, bottom=low, width=0.8, color="white", hatch="////", edgecolor=FAINT,
                     linewidth=0.8, label=label)  # fmt: skip
        value = words.in_unit("metres", row["value"])
        axis.plot([row["week"] - 0.4, row["week"] + 0.4], [value, value], "-", color=shade(0), linewidth=3,
                  label=words.FORECAST if i == 0 else None)  # fmt: skip
        if row["friendlies"]:
            axis.annotate(row["friendlies"].replace(", ", "\n"), (row["week"], 0), (0, 4), textcoords="offset points",
                          ha="center", va="bottom", fontsize=7, color=INK)  # fmt: skip
    axis.set_xticks(list(rows["week"]), [f"week {number}" for number in rows["week"]])
    axis.set_ylim(bottom=0)
    axis.set_ylabel(words.AXES["metres"])
    quiet(axis, "y")
    explain(axis)
    entitle(axis, words.weeks_said(frame))
    return axis


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    return max(5.0, 1.3 * len(set(frame["week"]))), 3.0
