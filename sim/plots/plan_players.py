"""Everybody's days, a small panel a player: a bar for each day between the ends of his band; matches hatched, less work dotted, a
match of unknown minutes as a question mark.

Frame: `sim.plots.plan_frames.PLAYER`, in metres (nan: nobody knows).  Panels stand in the order of the frame, row by row.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, nan
from textwrap import shorten
from typing import TYPE_CHECKING, Any

from matplotlib.axes import Axes

from sim.plots.look import FAINT, INK, entitle, explain, narrow, quiet, shade
from sim.words import plan_titles as words

if TYPE_CHECKING:
    import pandas as pd

ACROSS, ACROSS_PHONE = 4, 2
MOST_LETTERS, CUT = 20, "\N{HORIZONTAL ELLIPSIS}"
LOOKS: Mapping[str, dict[str, Any]] = {
    words.TRAINS: {"color": shade(0)},
    words.LESS: {"color": shade(1), "hatch": "...."},
    words.MATCH: {"color": "white", "hatch": "xxxx", "edgecolor": INK, "linewidth": 0.8},
}


def kind_of(why: str) -> str:
    """Which of the looks a day has."""
    return words.MATCH if why == "match" else words.LESS if why in ("limited", "catching up") else words.TRAINS


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """The panels, all to one scale."""
    players = list(dict.fromkeys(frame["player"]))
    across = ACROSS_PHONE if narrow(axis) else ACROSS
    down = ceil(len(players) / across)
    most = words.in_unit("metres", max(frame["value"].max(), frame["band_high"].max(skipna=True) or 0.0, 1.0)) * 1.05
    axis.set_axis_off()
    for k, name in enumerate(players):
        row, column = divmod(k, across)
        place = (column / across + 0.02, 1 - (row + 0.82) / down, 1 / across - 0.03, 0.62 / down)
        panel = axis.inset_axes(place)
        _panel(frame[frame["player"] == name], panel, most)
        panel.set_title(shorten(name, MOST_LETTERS, placeholder=CUT), fontsize=8, loc="left", pad=2)
        if column:
            panel.set_yticklabels([])
        else:
            panel.set_ylabel(words.AXES["metres"], fontsize=6)
    if _unknown(frame).any():
        axis.plot([], [], linestyle="none", marker="$?$", color=INK, label=words.UNKNOWN)
    for label, look in LOOKS.items():
        axis.bar([nan], [nan], label=label, **look)
    axis.plot([], [], "_", color=shade(2), markeredgewidth=2, label=words.BAND)
    explain(axis)
    entitle(axis, words.players_said(frame))
    return axis


def _panel(rows: pd.DataFrame, panel: Axes, most: float) -> None:
    for i, (_, row) in enumerate(rows.iterrows()):
        if row["value"] == row["value"]:
            panel.bar(i, words.in_unit("metres", row["value"]), width=0.7, **LOOKS[kind_of(row["why"])])
        else:
            panel.text(i, 0.02 * most, "?", fontsize=9, ha="center", va="bottom", weight="bold", color=INK)
        for end in (row["band_low"], row["band_high"]):
            if end == end:
                panel.plot(i, words.in_unit("metres", end), "_", color=shade(2), markersize=9, markeredgewidth=2)
        if row["why"] == "away":
            panel.text(i, 0.1, "away", rotation=90, fontsize=6, ha="center", va="bottom", color=FAINT)
    few = list(range(len(rows))) if len(rows) <= 4 else []
    panel.set_xticks(few, [str(one).split()[0] for one in rows["day"]][: len(few)], fontsize=6)
    panel.tick_params(axis="y", labelsize=6)
    panel.set_xlim(-0.6, len(rows) - 0.4)
    panel.set_ylim(0, most)
    quiet(panel, "y")


def _unknown(frame: pd.DataFrame) -> pd.Series[bool]:
    return frame["value"].isna()


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    return 8.0, 0.4 + 1.2 * ceil(len(set(frame["player"])) / ACROSS)


def folded(frame: pd.DataFrame) -> float:
    """Height in inches on a phone, where fewer stand beside each other."""
    return 0.4 + 1.2 * ceil(len(set(frame["player"])) / ACROSS_PHONE)
