"""The diagram as it stands on a sheet: the ground and who is who, without the words that the sheet has beside it.

It is drawn for the width that it has in print, so that its letters are as large there as those of the sheet.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from functools import cache

from matplotlib.transforms import Bbox

from sim.game.model import Game
from sim.plots.diagram import GAP, MARGIN, TEXT, TITLE, diagram_figure, foot_of
from sim.plots.look import LABEL, wrapped
from sim.plots.page import UNDATED, inches, our_settings

DOTS = 300  # an inch: a printed page
MM = 25.4
Picture = tuple[bytes, float]
"""(the file, its height over its width)."""
Draw = Callable[[float, float], Picture]
"""The picture by its width in print, in mm, and the least letters in it, in points."""


def drawing(game: Game, suffix: str, unit: str = "m") -> Draw:
    """The picture of a game, drawn when it is known how wide it stands on the sheet."""

    @cache
    def draw(wide_mm: float, points: float) -> Picture:
        return sheet_picture(game, suffix, unit, wide_mm / MM * LABEL / points)

    return draw


def sheet_picture(game: Game, suffix: str, unit: str, page: float) -> Picture:
    """The picture, drawn on a page so many inches wide."""
    foot = foot_of(game, (), page)
    whole = MARGIN + sum(inches(text, TEXT) + GAP for _, text in foot)
    key = sum(inches(text, TEXT) + GAP for badge, text in foot if badge)
    head = MARGIN + inches(wrapped(game.title, page - 2 * MARGIN, 1.1 * TITLE), TITLE)
    place = io.BytesIO()
    with our_settings():
        figure = diagram_figure(game, (), unit, page)
        box = Bbox([[0, whole - key + GAP / 2], [page, figure.get_figheight() - head]])
        figure.savefig(place, format=suffix, dpi=DOTS, metadata=UNDATED[suffix], bbox_inches=box)
    return place.getvalue(), box.height / box.width
