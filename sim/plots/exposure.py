"""Who defends how much: a row a player with the season and one session, and the even share as a line.

The frame (`sim.plots.bout_frames.of_exposure`) has who, kind ("player", "most", "least"), mean, low and high (95 % range of the
mean), session_low and session_high (8 sessions in 10), fair, and unit, clock.  Rows are drawn in the order of the frame.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from matplotlib.axes import Axes

from sim.plots.look import CLEAR, FAINT, INK, entitle, explain, quiet, shade, tall
from sim.words import picture_labels as labels
from sim.words.picture_titles import exposure_said
from sim.words.picture_words import axis_words, plain_value

if TYPE_CHECKING:
    import pandas as pd

ROOM = 1.6  # rows between the players and whoever it is, where the second heading stands
HEAD = -0.85  # where a heading stands over its first row
TICK = 18.0  # points: the middle of a session is a stroke, never a dot


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """Above, each player: a dot for the season and a bar for one session.  Below, one session, whoever it is: a stroke in a
    hatched bar.  Each sort of mark is named at its first one."""
    rows = frame.reset_index(drop=True)
    own, ends = rows[rows["kind"] == "player"], rows[rows["kind"] != "player"]
    places = [float(i) for i in range(len(own))] + [len(own) + ROOM - 1.0 + i for i in range(len(ends))]
    for part, look, label in (
        (own, {"color": "#cfcfcf"}, labels.ONE_SESSION),
        (ends, {"color": "white", "hatch": "////", "edgecolor": FAINT, "linewidth": 0.8}, None),
    ):
        known = part.dropna(subset=["session_low", "session_high"])
        wide = known["session_high"] - known["session_low"]
        at = [places[i] for i in known.index]
        axis.barh(at, wide, left=known["session_low"], height=0.56, label=label if len(known) else None, **look)
    axis.plot(own["mean"], places[: len(own)], "o", color=shade(0), markersize=8, label=season(own))
    axis.plot(ends["mean"], places[len(own) :], "|", color=shade(1), markersize=TICK, markeredgewidth=4)
    axis.plot([], [], "|", color=shade(1), markersize=TICK / 2, markeredgewidth=4, label=labels.WHOEVER)
    fair = rows.iloc[0]["fair"]
    axis.axvline(
        fair, color=INK, linestyle=(0, (5, 3)), linewidth=1.4, label=labels.even_share(plain_value(round(fair)))
    )
    for text, y in ((labels.EACH_PLAYER, HEAD), (labels.WHOEVER_HEAD, len(own) + ROOM - 1.0 + HEAD)):
        axis.text(0.0, y, text, va="center", fontsize=8.5, fontweight="bold", bbox=CLEAR)
    axis.axhline(len(own) - 0.45, color=FAINT, linewidth=0.8)
    axis.set_yticks(places, rows["who"])
    axis.set_ylim(places[-1] + 0.6, HEAD - 0.45)
    axis.set_xlim(left=-0.02 * axis.get_xlim()[1])
    first = rows.iloc[0]
    axis.set_xlabel(axis_words("defending_share", "game", first["unit"], first["clock"]))
    quiet(axis)
    explain(axis)
    entitle(axis, exposure_said(frame))
    return axis


def season(own: pd.DataFrame) -> str:
    """What a dot is, with the largest of our doubts."""
    doubt = ((own["high"] - own["low"]) / 2).max()
    return labels.season(f"{doubt:.0f}" if doubt == doubt else "")


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    return 7.5, tall(len(frame) + 2 * ROOM, 0.29, 0.9)
