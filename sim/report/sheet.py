"""The sheet as one HTML page: the same words, letters and sides as the PDF, to be read on a phone or printed."""

from __future__ import annotations

import base64

from sim.report.pages import raw, rendered
from sim.report.sheet_setting import SMALLEST, Setting
from sim.words.sheet import BLANKS, Sheet

SAFE = 0.97  # of the PDF's letters: another machine's font is a little wider here and there


def sheet_page(sheet: Sheet, found: Setting) -> str:
    """The page; set with a picture that is SVG."""
    svg, _ = found.picture
    return rendered(
        "sheet.html",
        sheet=sheet,
        blanks=[name for name, _ in BLANKS],
        parts=found.parts,
        points=max(SMALLEST, round(SAFE * found.points, 2)),
        picture=base64.b64encode(svg).decode("ascii"),
        picture_mm=round(found.picture_mm, 1),
        css=raw("sheet.css"),
    )
