"""A picture on a page: its sentence on top, where the numbers come from and the caution at the foot, as bytes of a file.

    page = Page(levers, frame, origin)
    picture(page, "png"), numbers(page)      # the file, and the CSV to lie beside it

The same page gives the same bytes: no date, no name of a program, ids by a fixed salt, and the one font that comes with
matplotlib.  Settings of the user's own are set aside while a page is drawn.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol, runtime_checkable

import matplotlib.style
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.layout_engine import ConstrainedLayoutEngine

from sim.plots.look import PHONE_IN, SETTINGS, wrapped
from sim.words.picture_words import Origin, corner

if TYPE_CHECKING:
    import pandas as pd

DPI = 150
MARGIN = 0.12  # inches
TITLE, LETTERS, SMALL = 12.0, 8.0, 7.0
LEGEND = 0.2  # inches a line of the legend
LINE = 1.3  # height of a line over the size of its letters
UNDATED = {
    "png": {"Software": None},
    "svg": {"Date": None, "Creator": None},
    "pdf": {"CreationDate": None, "Creator": None, "Producer": None},
}


class Picture(Protocol):
    """What a module of this folder offers."""

    def draw(self, frame: pd.DataFrame, axis: Axes) -> Axes:
        """Draw the whole frame on this axis, with its sentence as title, and return it."""
        ...

    def size(self, frame: pd.DataFrame) -> tuple[float, float]:
        """Width and height in inches that do for this frame, words around it left out."""
        ...


@runtime_checkable
class Folding(Protocol):
    """A picture of panels, which stand one under the other on a phone."""

    def folded(self, frame: pd.DataFrame) -> float:
        """Height in inches on a phone."""
        ...


@dataclass(frozen=True, eq=False)
class Page:
    """One picture of one tidy frame, which holds every number drawn."""

    picture: Picture
    frame: pd.DataFrame
    origin: Origin


def picture(page: Page, suffix: str) -> bytes:
    """The page as a PNG, SVG or PDF file."""
    place = io.BytesIO()
    with our_settings():
        page_figure(page).savefig(place, format=suffix, dpi=DPI, metadata=UNDATED[suffix])
    return place.getvalue()


def drawing(page: Page, width: float) -> tuple[str, bytes]:
    """(its sentence, the rest of it as an SVG file of this width in inches), for a page that says the words itself."""
    place = io.BytesIO()
    with our_settings():
        sentence = page.picture.draw(page.frame, Figure().add_subplot()).get_title(loc="left").replace("\n", " ")
        page_figure(page, width).savefig(place, format="svg", metadata=UNDATED["svg"])
    return sentence, place.getvalue()


def numbers(page: Page) -> str:
    """The frame as CSV, figures in full."""
    return page.frame.to_csv(index=False, lineterminator="\n")


@contextmanager
def our_settings() -> Iterator[None]:
    """Meanwhile matplotlib has our settings and none of the user's own."""
    with matplotlib.style.context(["default", SETTINGS]):
        yield


def page_figure(page: Page, narrow: float | None = None) -> Figure:
    """The figure, with room for the words by their lines.  Best called within `our_settings`.

    `narrow`: without its sentence and its foot, and so many inches wide.
    """
    width, height = page.picture.size(page.frame)
    if narrow is not None:
        width = narrow
        height = page.picture.folded(page.frame) if isinstance(page.picture, Folding) and narrow < PHONE_IN else height
    layout = ConstrainedLayoutEngine()
    figure = Figure(figsize=(width, height), layout=layout)
    FigureCanvasAgg(figure)
    axis = page.picture.draw(page.frame, figure.add_subplot())
    head = wrapped(axis.get_title(loc="left").replace("\n", " "), width - 2 * MARGIN, 1.1 * TITLE)
    axis.set_title("", loc="left")
    foot = wrapped(corner(page.origin), width - 2 * MARGIN, SMALL)
    head, foot = (head, foot) if narrow is None else ("", "")
    legend = axis.get_legend()
    handles, labels = axis.get_legend_handles_labels() if legend else ([], [])
    columns = max(1, min(len(labels), int(width / (0.6 + 0.062 * max(map(len, labels), default=1)))))
    key = LEGEND * math.ceil(len(labels) / columns)
    low = MARGIN + inches(foot, SMALL)
    above = 2 * MARGIN + inches(head, TITLE)
    whole = low + key + height + above
    figure.set_size_inches(width, whole)
    bottom, top = (low + key) / whole, 1 - above / whole
    layout.set(rect=(0, bottom, 1, top - bottom), h_pad=0.08, w_pad=MARGIN)
    at, space = MARGIN / width, LINE - 0.1
    if legend and labels:
        legend.remove()
        moved = figure.legend(
            handles,
            labels,
            loc="upper left",
            bbox_to_anchor=(at, bottom),
            ncols=columns,
            fontsize=LETTERS,
            frameon=False,
            borderaxespad=0.0,
            borderpad=0.0,
        )
        moved.set_in_layout(False)
    fit_labels(figure, axis)
    figure.text(at, 1 - MARGIN / whole, head, ha="left", va="top", size=TITLE, weight="bold", linespacing=space)
    figure.text(at, 0.6 * MARGIN / whole, foot, ha="left", va="bottom", size=SMALL, linespacing=space)
    return figure


def fit_labels(figure: Figure, axis: Axes) -> None:
    """Break the names of the axes into lines where they are longer than their axis."""
    figure.draw_without_rendering()
    box = axis.get_window_extent().transformed(figure.dpi_scale_trans.inverted())
    for label, room in ((axis.xaxis.label, box.width), (axis.yaxis.label, box.height)):
        label.set_text(wrapped(label.get_text(), room, float(label.get_fontsize())))


def inches(text: str, size: float) -> float:
    """Height of these lines."""
    return (text.count("\n") + 1) * size * LINE / 72 if text else 0.0
