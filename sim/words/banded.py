"""Rows with two ends as people read them: how many hold, every row beside ours, and what is known of those that do not."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sim.evidence.banded import BandedLine, Miss, counted
from sim.words.listing import capital
from sim.words.tables import table as laid_out

INSIDE = "A row is inside when its value lies between the ends; behind the value stands its 95 % interval over bouts."
SOURCES = {
    "bands": "The bands: common practice, no source.",
    "tracking": "The rows: derived from open tracking and event data; ends widened by judgement, as the samples are small.",
}
HEAD = ("what (code)", "role", "ours", "wanted", "unit", "verdict")


def figure(value: float) -> str:
    """A value in three digits; a dash where there is none."""
    if math.isnan(value):
        return "-"
    rounded = float(f"{value:.2e}")
    return f"{rounded:.0f}" if abs(rounded) >= 100 else f"{rounded:.3g}"


def with_interval(line: BandedLine) -> str:
    """Ours and its interval."""
    if math.isnan(line.ours_low):
        return figure(line.ours)
    return f"{figure(line.ours)} ({figure(line.ours_low)} to {figure(line.ours_high)})"


def bands_count(lines: Sequence[BandedLine]) -> str:
    """How many bands hold."""
    inside, every = counted(lines, "fitted")
    return f"keep-ball bands: {inside} of {every} inside (fitted)"


def tracking_count(lines: Sequence[BandedLine]) -> str:
    """How many rows of tracking hold, by what a fit has seen."""
    return "tracking: " + ", ".join(
        "{} {} of {}".format(role, *counted(lines, role)) for role in ("fitted", "predicted")
    )


COUNTS = {"bands": bands_count, "tracking": tracking_count}
"""How many rows of each table hold."""


def headline(what: str, bouts: int, seed: int) -> str:
    """The first line of a table: what it comes to, and how much was played for it."""
    return f"{capital(what)}; {bouts} bouts of each game, seed {seed}."


def rows_in_words(lines: Sequence[BandedLine], width: int | None = None) -> str:
    """Every row beside ours."""
    rows = [
        [
            f"{line.what} ({line.row})",
            line.role,
            with_interval(line),
            f"{figure(line.low)} to {figure(line.high)}",
            line.unit,
            "inside" if line.inside else "outside",
        ]
        for line in lines
    ]
    return laid_out(HEAD, rows, width, left=range(len(HEAD)))


def misses_in_words(lines: Sequence[BandedLine], known: Sequence[Miss], width: int | None = None) -> str:
    """Every row outside with what is known of it; nothing where none is."""
    reasons = {miss.row: f"{miss.reason}; {miss.date}" for miss in known}
    rows = [
        [f"{line.what} ({line.row})", figure(line.ours), reasons.get(line.row, "not explained yet")]
        for line in lines
        if not line.inside
    ]
    if not rows:
        return ""
    return "Misses\n" + laid_out(["what (code)", "ours", "why, as far as we know"], rows, width, left=range(3))


def table_in_words(name: str, lines: Sequence[BandedLine], known: Sequence[Miss], width: int | None = None) -> str:
    """All there is to say of the table `name` ("bands" or "tracking")."""
    parts = [rows_in_words(lines, width), misses_in_words(lines, known, width), f"{SOURCES[name]}\n{INSIDE}"]
    return "\n\n".join(part for part in parts if part)
