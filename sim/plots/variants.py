"""Two variants of a game, or more, as distributions: every session a mark, under the sentence that says what it shows.

The frame (`sim.plots.frames.of_compared`) has a row a variant and session: condition, session, value; the same in all rows of a
condition: mean, session_low and session_high (8 sessions in 10), difference from the first condition with low and high (95 %),
verdict; and measure, scope, unit, clock.
"""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

import numpy as np
from matplotlib.axes import Axes

from sim.plots.look import INK, entitle, explain, marker, quiet, shade, tall
from sim.words import picture_labels as labels
from sim.words.picture_titles import variants_said
from sim.words.picture_words import axis_words, measured

if TYPE_CHECKING:
    import pandas as pd

ROOM = 0.3  # marks spread so far to either side of their row
BINS = 40
BELOW = 0.4
CROWD = 100  # more sessions than these are drawn without edges


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """A row a variant: its sessions as marks, its mean, and a bar where 8 sessions in 10 lie."""
    conditions = list(dict.fromkeys(frame["condition"]))
    ends = frame["value"].min(), frame["value"].max()
    for i, condition in enumerate(conditions):
        own = frame[frame["condition"] == condition]
        values = own["value"].to_numpy()
        mean, low, high = own.iloc[0][["mean", "session_low", "session_high"]]
        one, bar, tick = (labels.SESSION, labels.MIDDLE, labels.MEAN) if i == 0 else (None, None, None)
        area = max(8.0, min(34.0, 3000 / len(values)))
        axis.scatter(
            values,
            i + offsets_of(values, ends),
            s=area,
            alpha=0.85,
            marker=marker(i),
            facecolor=shade(i),
            edgecolor="white",
            linewidth=0.4 if len(values) <= CROWD else 0.0,
            label=one,
        )
        axis.plot([low, high], [i + BELOW] * 2, color=INK, linewidth=3, solid_capstyle="butt", label=bar)
        axis.plot([mean], [i + BELOW], "|", markersize=14, markeredgewidth=3, color=INK, label=tick)
    axis.axvline(frame.iloc[0]["mean"], color=INK, linewidth=0.8, linestyle=(0, (4, 3)), zorder=0)
    axis.set_yticks(range(len(conditions)), [in_lines(condition) for condition in conditions])
    axis.set_ylim(len(conditions) - 0.4, -0.5)
    axis.set_xlabel(labels.in_one_session(axis_words(*measured(frame))))
    quiet(axis)
    explain(axis)
    entitle(axis, variants_said(frame))
    return axis


def in_lines(name: str) -> str:
    """A long name in short lines, each change in a line of its own."""
    return "\n".join(textwrap.fill(part, 26, break_on_hyphens=False) for part in name.replace(", ", ",\n").split("\n"))


def offsets_of(values: np.ndarray, ends: tuple[float, float]) -> np.ndarray:
    """Offsets that keep marks of like values apart, as shares of a row.

    In each narrow bin of values they stand to either side of the row, from its middle.
    """
    width = (ends[1] - ends[0]) / BINS or 1.0
    bins = np.floor((values - ends[0]) / width).astype(int)
    fullest = max(1, int(np.bincount(bins).max()) - 1)
    step = min(0.09, 2 * ROOM / fullest)
    offsets = np.zeros(len(values))
    for one in np.unique(bins):
        own = np.flatnonzero(bins == one)
        own = own[np.argsort(values[own], kind="stable")]
        places = np.arange(len(own)) - (len(own) - 1) / 2
        offsets[own] = step * places[np.argsort(np.abs(places), kind="stable")]
    return offsets


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    return 7.5, tall(frame["condition"].nunique(), 1.2, 0.7, 2.6)
