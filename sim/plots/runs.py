"""Pass runs: of all possessions of a side, how many have at least so many completed passes.

The frame (`sim.plots.bout_frames.of_runs`) has side, passes, share, low, high (%, 95 % range), asked (the passes that the game asks
for, missing for none), unit, clock.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from matplotlib.axes import Axes
from matplotlib.ticker import MaxNLocator

from sim.plots.look import INK, entitle, explain, marker, quiet, shade
from sim.words import picture_labels as labels
from sim.words.picture_titles import runs_said
from sim.words.picture_words import plain_value

if TYPE_CHECKING:
    import pandas as pd


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """A line a side, falling from all possessions to those with many passes, with its band."""
    sides = list(dict.fromkeys(frame["side"]))
    for i, side in enumerate(sides):
        own = frame[frame["side"] == side]
        axis.fill_between(own["passes"], own["low"], own["high"], color=shade(i), alpha=0.18, linewidth=0)
        axis.plot(
            own["passes"],
            own["share"],
            color=shade(i),
            marker=marker(i),
            markersize=5.5,
            linewidth=1.2,
            linestyle=("-", "--", ":")[i % 3],
            label=labels.band_of_side(side),
        )
    for asked in dict.fromkeys(frame["asked"].dropna()):
        axis.axvline(
            asked, color=INK, linestyle=(0, (5, 3)), linewidth=1.2, label=labels.passes_asked_for(plain_value(asked))
        )
    axis.set_ylim(0, 103)
    axis.set_xlim(left=-0.3)
    axis.xaxis.set_major_locator(MaxNLocator("auto", steps=[1, 2, 2.5, 5, 10], integer=True))
    axis.set_xlabel(labels.PASSES)
    axis.set_ylabel(labels.POSSESSIONS)
    quiet(axis, "both")
    explain(axis)
    entitle(axis, runs_said(frame))
    return axis


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    return 7.5, 3.8
