"""Metres by role and speed band: side by side for each band, a shade and a hatch for each role, with the range of one session.

The frame (`sim.plots.bout_frames.of_speed_zones`) has role, order and band (with `from` and `to`, where it begins and ends),
mean, low, high, session_low, session_high, unit, clock, held.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from matplotlib.axes import Axes

from sim.plots.look import INK, entitle, explain, hatch, quiet, shade, tall
from sim.words import picture_labels as labels
from sim.words.picture_titles import bands_said
from sim.words.picture_words import band_words

if TYPE_CHECKING:
    import pandas as pd

LINE = "#777777"
FULL = 0.8  # of the room of a band that its bars take


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """Bars from nought, grouped by band, the slowest on top."""
    roles = list(dict.fromkeys(frame["role"]))
    bands = frame.drop_duplicates("order").sort_values("order")
    places = {order: i for i, order in enumerate(bands["order"])}
    height = FULL / len(roles)
    for i, role in enumerate(roles):
        own = frame[frame["role"] == role]
        y = own["order"].map(places) - FULL / 2 + height * (i + 0.5)
        ends = [(own["mean"] - own["session_low"]).clip(lower=0), (own["session_high"] - own["mean"]).clip(lower=0)]
        known = own["session_low"].notna().all()
        axis.barh(
            y,
            own["mean"],
            height=0.92 * height,
            color=tone(i),
            hatch=hatch(i),
            edgecolor="white" if i == 0 else INK,
            linewidth=0.5,
            xerr=ends if known else None,
            error_kw={"ecolor": LINE, "capsize": 2, "elinewidth": 1.4},
            label=role,
        )
    axis.set_yticks(
        range(len(bands)), [band_words(*row) for row in bands[["band", "from", "to"]].itertuples(index=False)]
    )
    axis.set_ylim(len(bands) - 0.5, -0.5)
    axis.set_xlim(left=0)
    axis.set_xlabel(labels.METRES)
    if frame["session_low"].notna().any():
        axis.errorbar([], [], xerr=[], fmt="none", ecolor=LINE, capsize=2, elinewidth=1.4, label=labels.MIDDLE)
    quiet(axis)
    explain(axis)
    entitle(axis, bands_said(frame))
    return axis


def tone(i: int) -> str:
    """Dark for the first role; the others pale, so that their hatches show."""
    return shade(0) if i == 0 else ("#f0c79e", "#cfe6e3", "#ffffff", "#d9d9d9", "#eadfb0", "#efd0da")[(i - 1) % 7]


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    roles, bands = frame["role"].nunique(), frame["order"].nunique()
    return 7.5, tall(bands, 0.25 + 0.18 * roles, 0.8)
