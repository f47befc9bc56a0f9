"""Ranking of levers: what each does to one measure, with its range, and whether that can be told from nothing.

The frame has one row a lever:

    lever       what is turned, in words that stand beside the row ("side 9 to 11 m")
    effect      the change of the measure, in `unit`
    low, high   its 95 % range
    told_apart  True where the effect can be told from nothing
    measure     name of the measure, as in the JSON; scope, unit and clock with it (the same in all rows)
    kind        optional: what sort of row it is; each sort has its own marker, in order of first appearance

The largest effect stands on top; a row that cannot be told from nothing is hollow.  `in_percent` of `sim.plots.frames` turns
shares into per cent, here as everywhere.
"""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from matplotlib.axes import Axes

from sim.plots.look import FAINT, INK, entitle, explain, marker, quiet, shade, tall
from sim.words import picture_labels as labels
from sim.words.picture_titles import levers_said
from sim.words.picture_words import change_of

if TYPE_CHECKING:
    import pandas as pd

LETTERS = 36  # in a line of a name beside its row


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """A mark and its range for each lever, the largest on top, about a line at no change."""
    rows = ranked(frame)
    kinds = list(dict.fromkeys(frame["kind"])) if "kind" in frame else [None]
    axis.axvline(0.0, color=INK, linewidth=1.2)
    for i, kind in enumerate(kinds):
        for told in (True, False):
            own = (rows["told_apart"] == told) & ((rows["kind"] == kind) if kind is not None else True)
            part = rows[own]
            if part.empty:
                continue
            label = ", ".join(word for word in (kind, "" if told else labels.UNSURE) if word)
            axis.errorbar(
                part["effect"],
                part.index,
                xerr=[part["effect"] - part["low"], part["high"] - part["effect"]],
                fmt=marker(i),
                color=shade(i) if told else FAINT,
                markerfacecolor=shade(i) if told else "white",
                markersize=7,
                elinewidth=1.8 if told else 1.0,
                capsize=3,
                label=label or labels.SURE,
            )
    axis.set_yticks(rows.index, [textwrap.fill(name, LETTERS, break_on_hyphens=False) for name in rows["lever"]])
    axis.set_ylim(len(rows) - 0.4, -0.6)
    axis.set_xlabel(change_of(frame))
    quiet(axis)
    explain(axis)
    entitle(axis, levers_said(frame))
    return axis


def ranked(frame: pd.DataFrame) -> pd.DataFrame:
    """The rows by size of the effect, numbered from 0."""
    order = frame["effect"].abs().sort_values(ascending=False, kind="stable").index
    return frame.loc[order].reset_index(drop=True)


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    return 7.5, tall(len(frame), 0.3, 1.4)
