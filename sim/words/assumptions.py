"""The table of assumptions for people, and what an answer says of those that were replaced."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import groupby

from sim.experiments.assumption_table import FIXED, Row
from sim.populations import POPULATIONS
from sim.results import Replaced

TITLES = {
    FIXED: "Motion and ball: built in",
    "heart": "Heart rate and effort: yours to replace under [heart]",
    "engine": "Play: yours to replace under [engine]",
}
HEADS = ("", "value", "unit", "unsure by", "defended range", "rests on")
HEADS_OF_PEOPLE = ("", "mean", "unit", "unsure by", "legal", "rests on", "players differ by", "rests on")
KEY = (
    "Unsure by, differ by: one standard deviation. Rests on: published (a named publication), open data (our own count), house "
    "default (our choice among published or well-known values), judgement (no source: ours to change, and yours)."
)
HOW = (
    "With a WORD each line says what it is and where it comes from. --template FILE writes a file to change, for --assumptions."
)
NOTHING = "No assumption fits: ask with fewer words."
NOTE_INDENT = "      "


def figure(value: float | None) -> str:
    return "-" if value is None else f"{value:.4g}"


def legal(row: Row) -> str:
    return f"{row.low:g} to {row.high:g}"


def assumptions_in_words(table: Sequence[Row], explained: bool) -> str:
    """Everything `overload assumptions` prints; `explained`: each row says what it is."""
    parts = []
    for group, members in groupby(table, key=lambda row: row.group):
        rows = list(members)
        people = group in POPULATIONS
        title = f'{group}: yours to replace under [population."{group}"]' if people else TITLES[group]
        parts.append("\n".join([title, *(of_people if people else of_constants)(rows, explained)]))
    if not parts:
        return NOTHING
    count = Counter(row.provenance for row in table)
    total = ", ".join(f"{number} {name}" for name, number in count.most_common())
    noun = "number" if len(table) == 1 else "numbers"
    return "\n\n".join([*parts, "\n".join([f"{len(table)} {noun}: {total}.", KEY, HOW])])


def of_constants(rows: Sequence[Row], explained: bool) -> list[str]:
    lines = [(row.name, figure(row.value), row.unit, figure(row.spread), legal(row), row.provenance) for row in rows]
    return columns([HEADS, *lines], [row.note for row in rows] if explained else [])


def of_people(rows: Sequence[Row], explained: bool) -> list[str]:
    """One line a trait: its mean, our doubt, and how much players differ; a hyphen for what was not asked for."""
    lines, notes = [], []
    for name, members in groupby(rows, key=lambda row: row.name):
        found = {row.number: row for row in members}
        first = next(iter(found.values()))
        mean, between = found.get("mean") or found.get("value"), found.get("spread")
        doubt = mean.spread if mean else found["ignorance"].value if "ignorance" in found else None
        lines.append(
            (
                name,
                figure(mean.value if mean else None),
                first.unit,
                figure(doubt),
                legal(mean) if mean else "-",
                mean.provenance if mean else "-",
                figure(between.value if between else None),
                between.provenance if between else "-",
            )
        )
        notes.append(first.note)
    return columns([HEADS_OF_PEOPLE, *lines], notes if explained else [])


def columns(cells: Sequence[Sequence[str]], notes: Sequence[str]) -> list[str]:
    """Left-justified columns, the notes on lines of their own."""
    widths = [max(len(row[i]) for row in cells) for i in range(len(cells[0]))]
    lines = [
        "  " + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in cells
    ]
    if not notes:
        return lines
    return [lines[0], *(part for line, note in zip(lines[1:], notes, strict=True) for part in (line, NOTE_INDENT + note))]


def replaced_in_words(found: Sequence[Replaced]) -> str:
    """One line for an answer; empty where nothing was replaced."""
    if not found:
        return ""
    each = ", ".join(
        f"{one.name} = {one.value:g}{'' if one.unit == '1' else ' ' + one.unit} (ours: {one.own:g})" for one in found
    )
    return f"Played with assumptions of your own: {each}."
