"""One bout as a strip of time: which side has the ball, who defends when, what is lost and unlocked.

The frame (`sim.plots.bout_frames.of_bout`) has row, what, start_s, end_s (seconds on the watch) and bout_s.  What is neither a
stretch with the ball, of defending or out of play is a moment, marked in the row of its side.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from matplotlib.axes import Axes
from matplotlib.ticker import FuncFormatter, MultipleLocator

from sim.plots.bibs import colour_of
from sim.plots.look import FAINT, INK, PALE, entitle, explain, quiet, shade, tall
from sim.words import picture_labels as labels
from sim.words.picture_titles import strip_said
from sim.words.picture_words import clock_face

if TYPE_CHECKING:
    import pandas as pd

BALL, DEFENDS, IDLE, DEAD = labels.BALL, labels.DEFENDS, labels.IDLE, labels.DEAD
SIGNS = {"loss": "X", "by shot": "v", "unlock": "o", "transfer": ">", "break": "D", "goal": "*", "score": "P"}
HELD, WHITE = "#c4c4c4", "#ffffff"  # a side whose name is no colour; bibs that need a line about them
MARK, EDGE = 11.0, 1.6  # points: seen at arm's length
TALL = 2.0  # height of the row of a side; that of a player is 1
TOP = 1.0
RAISED = 0.52  # losses and shots stand in the middle of the row of their side, points so far below it, everything else above it
STEPS = (10, 15, 30, 60, 120, 300, 600)


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """Sides on top, in the colour of their bibs; then the players, a bar where each defends; dead time pale across all."""
    moments = list(labels.MOMENTS.values())
    sides = list(
        dict.fromkeys([*frame.loc[frame["what"] == BALL, "row"], *frame.loc[frame["what"].isin(moments), "row"]])
    )
    people = list(dict.fromkeys(frame.loc[frame["what"].isin([DEFENDS, IDLE]), "row"]))
    places = {("side", side): TALL * i for i, side in enumerate(sides)}
    start = TALL * len(sides)
    places |= {("player", who): start + 0.2 + i for i, who in enumerate(people)}
    bottom = start + len(people) - 0.3
    for what, kind, tone, height in ((BALL, "side", HELD, 0.5), (DEFENDS, "player", shade(0), 0.62)):
        own = frame[frame["what"] == what]
        y = [places[kind, row] for row in own["row"]]
        tones = [(colour_of(row) or (tone,))[0] if kind == "side" else tone for row in own["row"]]
        bars = axis.barh(y, own["end_s"] - own["start_s"], left=own["start_s"], height=height, color=tones, label=what)
        for bar, fill in zip(bars, tones, strict=True):
            if fill == WHITE:
                bar.set(edgecolor=INK, linewidth=0.6)
    dead = frame[frame["what"] == DEAD]
    middle = (bottom - TOP) / 2
    axis.barh(
        [middle] * len(dead),
        dead["end_s"] - dead["start_s"],
        left=dead["start_s"],
        height=bottom + TOP,
        color=PALE,
        alpha=0.8,
        hatch="////",
        edgecolor="#bdbdbd",
        linewidth=0,
        zorder=2.5,
        label=DEAD,
    )
    for kind, meaning in labels.MOMENTS.items():
        own = frame[frame["what"] == meaning]
        if len(own):
            y = [
                places["side", row] + {"loss": 0.0, "by shot": 0.0, "score": RAISED}.get(kind, -RAISED)
                for row in own["row"]
            ]
            axis.plot(
                own["start_s"],
                y,
                SIGNS[kind],
                color=INK,
                markersize=MARK,
                markerfacecolor=shade(3) if kind == "loss" else "white",
                markeredgewidth=EDGE,
                zorder=4,
                clip_on=False,
                label=meaning,
            )
    axis.axhline(start - 0.6, color=FAINT, linewidth=0.8)
    axis.set_yticks(list(places.values()), [labels.ball_of(name) if kind == "side" else name for kind, name in places])
    axis.set_ylim(bottom, -TOP)
    length = float(frame.iloc[0]["bout_s"])
    axis.set_xlim(0, length)
    axis.xaxis.set_major_locator(MultipleLocator(next((one for one in STEPS if length / one <= 12), 1200)))
    axis.xaxis.set_major_formatter(FuncFormatter(lambda at, _: clock_face(at)))
    axis.set_xlabel(labels.WATCH)
    quiet(axis)
    explain(axis)
    entitle(axis, strip_said(frame))
    return axis


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    return 9.0, tall(frame["row"].nunique(), 0.29, 1.2)
