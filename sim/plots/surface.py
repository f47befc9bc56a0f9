"""Two knobs and a measure: a cell for each pair of values with its figure and range in it; darker is more.

The frame is that of `curve` with a second key: key_2, value_2.  Where not every pair was played (points spread over the space),
each is a disc at its place.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from sim.plots.look import INK, entitle, explain
from sim.words import picture_labels as labels
from sim.words.figures import two
from sim.words.picture_titles import surface_said
from sim.words.picture_words import axis_words, key_words, measured, plain_value

if TYPE_CHECKING:
    import pandas as pd

SHADES = "Greys"
MOST_WORDS = 160  # cells with words in them; more would not be read
MOST_TICKS = 15
MID = 0.58  # darker cells have white words, the others dark ones: at least 4 to 1 either way
PALE, DARK = 0.08, 0.85  # the part of the shades that is used


class Cell(NamedTuple):
    """A pair of values that was played: its figure with its range, and whether it is the answer."""

    value: object
    value_2: object
    mean: float
    low: float
    high: float
    what: str


def draw(frame: pd.DataFrame, axis: Axes) -> Axes:
    """The first key along, the second up."""
    found = frame[frame["what"] != "played again"]
    across, up = (sorted(dict.fromkeys(found[name]), key=number_first) for name in ("value", "value_2"))
    tone = shades_of(found["mean"])
    what = labels.with_range(axis_words(*measured(found)))
    axis.plot([], [], "s", markersize=9, color="#808080", label=what)
    if len(found) == len(across) * len(up):
        draw_cells(found, axis, across, up, tone)
    else:
        draw_discs(found, axis, tone)
    axis.set_xlabel(key_words(*frame.iloc[0][["key", "key_unit"]]))
    axis.set_ylabel(key_words(*frame.iloc[0][["key_2", "key_unit_2"]]))
    for side in ("top", "right"):
        axis.spines[side].set_visible(False)
    explain(axis)
    entitle(axis, surface_said(frame))
    return axis


def draw_cells(
    found: pd.DataFrame, axis: Axes, across: list[object], up: list[object], tone: dict[float, float]
) -> None:
    """A cell for each pair of values, with dashes about those that reach the target, and a frame about the chosen one."""
    from matplotlib import colormaps

    places = [(across.index(row.value), up.index(row.value_2), row) for row in played(found)]
    grid = np.full((len(up), len(across)), np.nan)
    for x, y, row in places:
        grid[y, x] = row.mean
    axis.pcolormesh(
        np.arange(len(across) + 1) - 0.5,
        np.arange(len(up) + 1) - 0.5,
        np.vectorize(lambda value: tone.get(value, np.nan))(grid),
        cmap=colormaps[SHADES],
        vmin=0,
        vmax=1,
        edgecolor="white",
        linewidth=1.5,
    )
    axis.set_xticks(range(len(across)), [plain_value(value) for value in across])
    axis.set_yticks(range(len(up)), [plain_value(value) for value in up])
    if len(places) <= MOST_WORDS:
        for x, y, row in places:
            words_in(axis, x, y, row, tone)
    target = found.iloc[0]["target"]
    holding = [(x, y) for x, y, row in places if row.low <= target <= row.high]
    for i, (x, y) in enumerate(holding):
        label = labels.not_from_target(plain_value(target)) if i == 0 else None
        axis.add_patch(
            Rectangle(
                (x - 0.44, y - 0.42), 0.88, 0.84, fill=False, edgecolor=INK, linestyle="--", linewidth=1.2, label=label
            )
        )
    for x, y, row in places:
        if row.what == "answer":
            axis.add_patch(
                Rectangle((x - 0.49, y - 0.47), 0.98, 0.94, fill=False, edgecolor=INK, linewidth=3, label=labels.CHOSEN)
            )


def draw_discs(found: pd.DataFrame, axis: Axes, tone: dict[float, float]) -> None:
    """A disc for each pair of values that was played."""
    from matplotlib import colormaps

    x, y = (positions(axis, found[name], up) for name, up in (("value", False), ("value_2", True)))
    axis.scatter(
        x,
        y,
        s=900 if len(found) <= 60 else 120,
        c=[tone[value] for value in found["mean"]],
        cmap=colormaps[SHADES],
        vmin=0,
        vmax=1,
        edgecolor=INK,
        linewidth=0.6,
    )
    axis.margins(0.15)
    if len(found) <= 60:
        for at, up, row in zip(x, y, played(found), strict=True):
            words_in(axis, at, up, row, tone, small=True)


def played(found: pd.DataFrame) -> list[Cell]:
    """The rows of the frame, with what is drawn of them."""
    return [Cell(*row) for row in found[list(Cell._fields)].itertuples(index=False)]


def positions(axis: Axes, values: pd.Series, up: bool) -> list[float]:
    """Numbers as they are, words by their order, with ticks that name them."""
    names = sorted(dict.fromkeys(values), key=number_first)
    numbers = all(isinstance(name, (int, float)) for name in names)
    places = {name: float(name) if numbers else float(i) for i, name in enumerate(names)}
    if len(names) <= MOST_TICKS:
        (axis.set_yticks if up else axis.set_xticks)(list(places.values()), [plain_value(name) for name in names])
    return [places[value] for value in values]


def words_in(axis: Axes, x: float, y: float, row: Cell, tone: dict[float, float], small: bool = False) -> None:
    """The figure, and under it its range where there is one."""
    ink = "white" if tone[row.mean] > MID else INK
    text = axis.text(
        x, y, two(row.mean), ha="center", va="bottom", color=ink, fontsize=7.5 if small else 9, fontweight="bold"
    )
    text.set_gid("mean")
    if row.low == row.low:
        axis.text(
            x, y, f"{two(row.low)}-{two(row.high)}", ha="center", va="top", color=ink, fontsize=5.5 if small else 7
        )


def shades_of(means: pd.Series) -> dict[float, float]:
    """How dark each mean is, from 0 to 1."""
    low, high = means.min(), means.max()
    return {value: PALE + (DARK - PALE) * ((value - low) / (high - low) if high > low else 0.5) for value in means}


def number_first(value: object) -> tuple[int, float, str]:
    """To sort by: numbers by size, then words by letter."""
    return (0, value, "") if isinstance(value, (int, float)) else (1, 0.0, str(value))


def size(frame: pd.DataFrame) -> tuple[float, float]:
    """Width and height in inches, words around it left out."""
    across, up = frame["value"].nunique(), frame["value_2"].nunique()
    full = len(frame[frame["what"] != "played again"]) == across * up
    if not full:
        return 7.5, 5.0
    return min(14.0, max(7.5, 0.75 * across + 1.2)), min(12.0, max(2.8, 0.5 * up + 1.2))
