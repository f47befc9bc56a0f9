"""How all pictures look: shades that stay apart in grey, a marker and a hatch with each, and where words go.

A series is never told by its colour alone: it has a shade, a marker and, where it is a surface, a hatch.
"""

from __future__ import annotations

import re
import textwrap
from typing import Literal

from matplotlib.axes import Axes

INK = "#222222"
FAINT = "#8a8a8a"
PALE = "#e3e3e3"
SHADES = ("#17375e", "#d9822b", "#5aa9a3", "#8c2d4f", "#b9a44c", "#7f7f7f", "#3f6b2f", "#c9a0c9")
"""By series; the first three, which are most used, lie far apart in grey (about 21, 58 and 64 % light, markers apart)."""
MARKERS = ("o", "s", "^", "D", "v", "P", "X", "*")
HATCHES = ("", "////", "....", "xxxx", "\\\\\\\\", "----", "||||", "++++")

SETTINGS = {
    "font.family": ["DejaVu Sans"],
    "font.size": 9.0,
    "axes.titlesize": 11.0,
    "axes.titleweight": "bold",
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.edgecolor": FAINT,
    "axes.labelcolor": INK,
    "text.color": INK,
    "xtick.color": INK,
    "ytick.color": INK,
    "legend.frameon": False,
    "hatch.linewidth": 0.6,
    "svg.hashsalt": "overload",
    "svg.fonttype": "path",
    "pdf.fonttype": 42,
}
HARD = "\N{NO-BREAK SPACE}"
IN_BRACKETS = re.compile(r"\([^()]{1,20}\)")  # ``(0.9 to 1.5)``
TOGETHER = re.compile(r"(?<=\d) (?=(?:m|s|min|km/h|players|times|touches|passes)\b|%)")  # a number and what it counts
PHONE_IN = 5.0  # inches: narrower is a phone
CLEAR = {"facecolor": "white", "edgecolor": "none", "pad": 1.2}  # behind words that cross a line
LABEL, LEAST_LABEL = 7.0, 44.0  # points: what stands on the ground of a diagram, and how wide it may be anywhere
LETTER = 0.56  # mean width of a letter of DejaVu Sans over its size; bold is a tenth wider


def shade(i: int) -> str:
    """The colour of the series number `i`, from 0; after the last one they begin again."""
    return SHADES[i % len(SHADES)]


def marker(i: int) -> str:
    """The marker of the series number `i`, from 0."""
    return MARKERS[i % len(MARKERS)]


def hatch(i: int) -> str:
    """The hatch of the series number `i`, from 0; the first has none."""
    return HATCHES[i % len(HATCHES)]


def wrapped(text: str, inches: float, size: float) -> str:
    """The text in lines that fit into so many inches, its own line breaks kept."""
    letters = max(20, int(72 * inches / (size * LETTER)))
    held = IN_BRACKETS.sub(lambda found: found[0].replace(" ", HARD), TOGETHER.sub(HARD, text))
    return "\n".join(
        part for line in held.split("\n") for part in textwrap.wrap(line, letters, break_on_hyphens=False) or [""]
    )


def entitle(axis: Axes, sentence: str) -> None:
    """The sentence over the picture, flush left, in lines that fit."""
    size = 11.0
    width = axis.get_position().width * axis.figure.figure.get_figwidth()
    axis.set_title(wrapped(sentence, width, 1.1 * size), loc="left", fontsize=size, fontweight="bold")


def quiet(axis: Axes, grid: Literal["both", "x", "y"] = "x") -> None:
    """A faint grid behind, no box around."""
    for side in ("top", "right"):
        axis.spines[side].set_visible(False)
    axis.grid(axis=grid, color=PALE, linewidth=0.8)
    axis.set_axisbelow(True)


def explain(axis: Axes) -> None:
    """What the marks mean; a page puts it under the picture, where it hides nothing."""
    axis.legend(loc="best", fontsize=8, frameon=False)


def narrow(axis: Axes) -> bool:
    """Whether the picture is as wide as a phone: panels stand one under the other then."""
    return float(axis.figure.figure.get_figwidth()) < PHONE_IN


def tall(rows: float, each: float, rest: float, least: float = 3.2, most: float = 14.0) -> float:
    """Height in inches for so many rows."""
    return min(most, max(least, rows * each + rest))
