"""Who defends how much: a row a player with the long run and one session, and the even share as a line.

The frame (`sim.plots.bout_frames.of_exposure`) has who, kind ("player", "most", "least"), mean, low and high (95 % range of the
long run), session_low and session_high (8 sessions in 10), fair, and unit, clock.  Rows are drawn in the order of the frame.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from matplotlib.axes import Axes

from sim.plots.look import FAINT, INK, entitle, explain, quiet, shade, tall
from sim.words import labels
from sim.words.plots import axis_words, plain
from sim.words.titles import exposure_said

if TYPE_CHECKING:
    import pandas as pd

LOOKS = {  # kind -> (marker, shade, name)
    "player": ("o", 0, labels.LONG_RUN),
    "most": (">", 1, labels.WHOEVER),
    "least": ("<", 1, None),
}


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """Marks for the long run, pale bars where 8 sessions in 10 lie."""
    rows = frame.reset_index(drop=True)
    known = rows.dropna(subset=["session_low", "session_high"])
    bars = known["session_high"] - known["session_low"]
    axis.barh(known.index, bars, left=known["session_low"], height=0.5, color="#cfcfcf", label=labels.MIDDLE)
    for kind, (mark, tone, label) in LOOKS.items():
        own = rows[rows["kind"] == kind]
        if len(own):
            errors = [(own["mean"] - own["low"]).fillna(0), (own["high"] - own["mean"]).fillna(0)]
            axis.errorbar(
                own["mean"], own.index, xerr=errors, fmt=mark, color=shade(tone), markersize=7, capsize=3, label=label
            )
    fair = rows.iloc[0]["fair"]
    axis.axvline(fair, color=INK, linestyle=(0, (5, 3)), linewidth=1.4, label=labels.even_share(plain(round(fair, 1))))
    players = int((rows["kind"] == "player").sum())
    axis.axhline(players - 0.5, color=FAINT, linewidth=0.8)
    axis.set_yticks(rows.index, rows["who"])
    axis.set_ylim(len(rows) - 0.4, -0.6)
    axis.set_xlim(left=-0.02 * axis.get_xlim()[1])
    first = rows.iloc[0]
    axis.set_xlabel(axis_words("defending_share", "game", first["unit"], first["clock"]))
    quiet(axis)
    explain(axis)
    entitle(axis, exposure_said(frame))
    return axis


def size(frame: pd.DataFrame) -> tuple[float, float]:
    return 7.5, tall(len(frame), 0.27, 0.9)
