"""A plan as one HTML page to be read and printed: the screen, its pictures, and everything behind it."""

from __future__ import annotations

from collections.abc import Sequence

from sim.plots.page import Page, drawing
from sim.report.pages import raw, rendered
from sim.report.report import NARROW, PHONE, WIDE, as_data
from sim.words.picture_words import corner


def plan_page(title: str, screen: str, whole: str, pages: Sequence[Page]) -> str:
    """The page; `screen`: what the command prints, `whole`: what --details prints."""
    figures = []
    for one in pages:
        said, wide = drawing(one, WIDE)
        figures.append({"said": said, "wide": as_data(wide), "narrow": as_data(drawing(one, NARROW)[1])})
    return rendered(
        "plan.html",
        title=title,
        screen=screen,
        whole=whole,
        figures=figures,
        phone=PHONE,
        source=corner(pages[0].origin).splitlines()[0],
        css=[raw("replay.css"), raw("report.css")],
    )
