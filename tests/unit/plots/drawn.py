"""What pictures are drawn on in these tests, and what can be read back from them."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.container import ErrorbarContainer
from matplotlib.figure import Figure

from sim.plots.page import Page, our_settings, page_figure
from sim.words.picture_words import Origin

LINE = "An estimate, not advice: medical staff decide; local heat and youth rules first."
ORIGIN = Origin(
    "tight-square", ("areas.square.length=9",), "amateur men", 3, "80 bouts in 20 sessions", "0.1.0", "0123456789ab",
    ("Count.", LINE),
)  # fmt: skip


def an_axis() -> Axes:
    return Figure(figsize=(7, 4)).add_subplot()


def bars_of(axis: Axes) -> list[tuple[float, float, float, float]]:
    """(x, y, low, high) of every mark with a range, from the artists."""
    found = []
    for one in axis.containers:
        if isinstance(one, ErrorbarContainer):
            line, _, (bars,) = one.lines
            for x, y, ends in zip(*line.get_data(), bars.get_segments(), strict=True):
                across = 0 if one.has_xerr else 1
                found.append((float(x), float(y), *(float(end) for end in np.sort(ends[:, across]))))
    return found


def words_of(page: Page) -> str:
    """Every word that stands on the page outside its picture."""
    with our_settings():
        figure = page_figure(page)
        return "\n".join(text.get_text() for text in figure.texts).replace("\N{NO-BREAK SPACE}", " ")


def title_of(axis: Axes) -> str:
    return axis.get_title(loc="left").replace("\n", " ").replace("\N{NO-BREAK SPACE}", " ")
