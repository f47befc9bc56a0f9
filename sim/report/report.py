"""A report for the staff meeting: one HTML page about a comparison, a tune or a card, to be read, watched and printed."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from dataclasses import dataclass

from sim.plots.page import Page, drawing
from sim.report.bout_data import bout_data
from sim.report.pages import raw, rendered, script_json
from sim.report.replay import Bout, bout_in_page
from sim.words import replay_words as replayed
from sim.words.picture_words import corner
from sim.words.replay_words import SPEEDS, bout_heading
from sim.words.report_words import PAGE, Table
from sim.words.screen import COMMAND, Screen

WIDE, NARROW = 7.0, 3.4
"""Inches of the picture on a screen or on paper, and on a phone."""
PHONE = 600  # CSS pixels up to which the narrow picture is taken


@dataclass(frozen=True)
class Report:
    """What stands on the page, in its order.

    `screen`: the sentences that the command prints, all of them; of these `beside` stand below the picture, under `heading`.
    `first`: a table that belongs to the answer.  `bouts`: the replays, `picked` how they were chosen.  `figures`: tables with
    everything; `real`: which cells of the first of them are real differences.
    """

    title: str
    question: str
    screen: Screen
    page: Page
    bouts: Sequence[Bout]
    picked: Sequence[str]
    matters: Sequence[str]
    count: Sequence[str]
    next: Sequence[str]
    figures: Sequence[Table]
    beside: Sequence[str]
    heading: str = PAGE["else"]
    first: Table | None = None
    real: Sequence[Sequence[bool]] = ()


def report_page(report: Report) -> str:
    """The page."""
    found = [bout_data(game, log, bout_heading(game, log, name)) for name, game, log in report.bouts]
    said, wide = drawing(report.page, WIDE)
    _, narrow = drawing(report.page, NARROW)
    return rendered(
        "report.html",
        report=report,
        page=PAGE,
        picture={"said": said, "wide": as_data(wide), "narrow": as_data(narrow), "phone": PHONE},
        source=corner(report.page.origin).splitlines()[0],
        command=COMMAND,
        css=[raw("replay.css"), raw("report.css")],
        motion=raw("motion.js"),
        script=raw("replay.js"),
        stills=raw("stills.js"),
        data=script_json({"bouts": found, "words": replayed.PAGE}),
        words=replayed.PAGE,
        speeds=SPEEDS,
        bouts=[bout_in_page(one) for one in found],
        bold=bold_cells(report),
    )


def as_data(svg: bytes) -> str:
    """The picture as a `data:` address, which asks for nothing from outside."""
    return "data:image/svg+xml;base64," + base64.b64encode(svg).decode("ascii")


def bold_cells(report: Report) -> dict[tuple[int, int], bool]:
    """The cells (row, column) of the first table that are real differences."""
    return {(i, k): True for i, row in enumerate(report.real) for k, real in enumerate(row) if real}
