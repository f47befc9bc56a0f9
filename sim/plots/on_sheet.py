"""The diagram as it stands on a sheet: the ground and who is who, without the words that the sheet has beside it."""

from __future__ import annotations

import io

from matplotlib.transforms import Bbox

from sim.game.model import Game
from sim.plots.diagram import GAP, MARGIN, TEXT, TITLE, diagram_figure, foot_of
from sim.plots.ground import WIDTH
from sim.plots.look import wrapped
from sim.plots.page import UNDATED, inches, our_settings

DOTS = 300  # an inch: a printed page


def sheet_picture(game: Game, suffix: str, unit: str = "m") -> tuple[bytes, float]:
    """(the file, its height over its width)."""
    foot = foot_of(game, ())
    whole = MARGIN + sum(inches(text, TEXT) + GAP for _, text in foot)
    key = sum(inches(text, TEXT) + GAP for badge, text in foot if badge)
    head = MARGIN + inches(wrapped(game.title, WIDTH - 2 * MARGIN, 1.1 * TITLE), TITLE)
    place = io.BytesIO()
    with our_settings():
        figure = diagram_figure(game, (), unit)
        box = Bbox([[0, whole - key + GAP / 2], [WIDTH, figure.get_figheight() - head]])
        figure.savefig(place, format=suffix, dpi=DOTS, metadata=UNDATED[suffix], bbox_inches=box)
    return place.getvalue(), box.height / box.width
