"""What is said of a logbook: what has been kept, what is in it, and what was put right."""

from __future__ import annotations

from collections.abc import Sequence

from sim.own_counts.columns import COUNTS
from sim.own_counts.logbook import Correction, Evening, Kept
from sim.own_counts.tally import Row
from sim.words.listing import some
from sim.words.own_counts import day
from sim.words.tables import table

NOT_JUDGED = " The forecast was stopped and is not kept: give the same command again."
EMPTY = "Nothing is in this logbook yet."


def kept(new: int, rows: int, path: str) -> str:
    """``Kept in club.log: four rows.``"""
    if not new:
        return f"Already in {path}: nothing was written twice. A second count of the same kind needs --bout."
    there = "" if new == rows else f" ({some(rows - new, 'row')} were there already)"
    return f"Kept in {path}: {some(new, 'row')}{there}."


def counts_of(row: Row) -> str:
    """``losses 14, wins 5``."""
    return ", ".join(f"{name.replace('_', ' ')} {row.counts[name]}" for name in COUNTS if name in row.counts)


def note(one: Kept) -> str:
    """What is to be known of a row besides."""
    return "; ".join(
        part
        for part in ("withdrawn" if one.withdrawn else "", one.row.changed and f"changed: {one.row.changed}")
        if part
    )


def listed_in_words(evenings: Sequence[Evening], forecasts: int, corrections: int, width: int | None) -> str:
    """All rows, the earliest first, and how much else there is."""
    rows = [
        (str(one.id), day(evening.day), evening.game, "" if one.row.bout is None else str(one.row.bout),
         f"{one.row.minutes:g} {one.row.clock}", counts_of(one.row), note(one))
        for evening in evenings
        for one in evening.rows
    ]  # fmt: skip
    if not rows:
        return EMPTY
    text = table(("row", "date", "game", "bout", "minutes", "counted", ""), rows, width, left=(1, 2, 4, 5, 6))
    return f"{text}\n\n{some(forecasts, 'forecast')}, {some(corrections, 'correction')}."


def shown_in_words(one: Kept, evening: Evening, corrections: Sequence[Correction]) -> str:
    """One row with everything, and its corrections in order."""
    row = one.row
    lines = [
        f"Row {one.id}: {evening.game} ({evening.typed}), {day(evening.day)}",
        f"  bout: {'not said' if row.bout is None else row.bout}",
        f"  minutes: {row.minutes:g} on the {row.clock}"
        if row.clock == "watch"
        else f"  minutes: {row.minutes:g}, ball rolling",
        f"  counted: {counts_of(row)}",
        *([f"  changed: {row.changed}"] if row.changed else []),
        *([f"  players: {row.players}"] if row.players else []),
        *(["  withdrawn: it does not count"] if one.withdrawn else []),
    ]
    lines += [
        f"  {change.made} {change.who}: {change.field} {change.before or 'nothing'} -> {change.after or 'nothing'} ({change.why})"
        for change in corrections
    ]
    return "\n".join(lines)
