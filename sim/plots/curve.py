"""One knob against a measure: a point with its range at every value, the band between them, the target as a line.

The frame (`of_tuned` or `of_sweep` in `sim.plots.frames`) has a row a value: key, value, mean, low, high (95 %), what ("point",
"answer", "played again"), target (missing for none), goal, reached; and measure, scope, unit, clock.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from matplotlib.axes import Axes

from sim.plots.look import FAINT, INK, PALE, entitle, explain, quiet, shade
from sim.words import picture_labels as labels
from sim.words.picture_titles import curve_said
from sim.words.picture_words import axis_words, key_words, measured, plain_value

if TYPE_CHECKING:
    import pandas as pd

LOOKS = {  # what -> (marker, size, shade, filled)
    "point": ("o", 6, 0, True),
    "answer": ("D", 9, 0, True),
    "played again": ("s", 9, 1, False),
}
MANY = 16  # values that are named one by one along the axis


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """Points and ranges over the values, in order where they are numbers."""
    found = placed(frame)
    line = found[found["what"] != "played again"].sort_values("x", kind="stable")
    target = frame.iloc[0]["target"]
    axis.fill_between(line["x"], line["low"], line["high"], color=PALE, linewidth=0, label=labels.BAND)
    axis.plot(line["x"], line["mean"], color=FAINT, linewidth=1.2)
    step = nearest(line["x"])
    for what, (mark, size_, tone, filled) in LOOKS.items():
        own = found[found["what"] == what]
        if own.empty:
            continue
        axis.errorbar(
            own["x"] + (0.12 * step if what == "played again" else 0.0),
            own["mean"],
            yerr=[own["mean"] - own["low"], own["high"] - own["mean"]],
            fmt=mark,
            markersize=size_,
            color=shade(tone),
            markerfacecolor=shade(tone) if filled else "white",
            markeredgewidth=1.6,
            elinewidth=1.6,
            capsize=3,
            label=labels.TRIED[frame.iloc[0]["goal"] if what == "answer" and target != target else what],
        )
    if target == target:
        axis.axhline(target, color=INK, linewidth=1.4, linestyle=(0, (5, 3)), label=labels.target(plain_value(target)))
    if len(line) <= MANY:
        axis.set_xticks(line["x"], [plain_value(value) for value in line["value"]])
    axis.margins(x=0.06, y=0.12)
    axis.set_xlabel(key_words(*frame.iloc[0][["key", "key_unit"]]))
    axis.set_ylabel(axis_words(*measured(frame)))
    quiet(axis, "y")
    explain(axis)
    entitle(axis, curve_said(frame))
    return axis


def placed(frame: pd.DataFrame) -> pd.DataFrame:
    """With `x`: the value where all are numbers, else its place in the frame."""
    values = list(dict.fromkeys(frame["value"]))
    numbers = all(isinstance(value, (int, float)) for value in values)
    return frame.assign(x=[float(value) if numbers else float(values.index(value)) for value in frame["value"]])


def nearest(x: pd.Series) -> float:
    """The smallest step between two values."""
    steps = x.drop_duplicates().sort_values().diff().dropna()
    return float(steps.min()) if len(steps) else 1.0


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    return 7.5, 3.8
