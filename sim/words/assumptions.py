"""The table of assumptions for people, and what an answer says of those that were replaced."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import groupby

from sim.assumptions import OwnData
from sim.experiments.assumption_table import FIXED, Row
from sim.populations import POPULATIONS
from sim.results import Replaced
from sim.words.listing import some
from sim.words.screen import wrapped
from sim.words.tables import table

TITLES = {
    FIXED: "How players and the ball move: built in",
    "heart": "Heart rate and effort: yours to replace under [heart]",
    "club": "Your club, whatever it plays: yours to replace under [club]",
    "engine": "How they play: yours to replace under [engine]",
}
HEADS = ("", "value", "unit", "unsure by", "allowed", "rests on")
HEADS_OF_PEOPLE = ("", "mean", "unit", "unsure by", "players differ by", "rests on")
HEADS_OF_PEOPLE_WHOLE = ("", "mean", "unit", "unsure by", "allowed", "rests on", "players differ by", "that rests on")
TEXT, TEXT_OF_PEOPLE, TEXT_OF_PEOPLE_WHOLE = (0, 2, 4, 5), (0, 2, 5), (0, 2, 4, 5, 7)
"""Which columns are words, not figures."""
KEY = (
    "Unsure by: two times in three the right number is no further off than this.",
    "Players differ by: two in three are no further from the mean than this.",
    "Allowed: what a number of your own may be.",
    "Rests on: published (a named source), open data (our own count), house default (our choice among published or well-known "
    "values), judgement (no source: ours to change, and yours).",
)
HOW = (
    "Add a word (overload assumptions tackle) and each line says what it is.",
    "--details shows every column; --csv FILE has them all, with the notes.",
    "--template FILE writes a file to change and to play with: --assumptions FILE.",
)
NOTHING = "No assumption fits: ask with fewer words."
NOTE_INDENT = "      "
NO_UNIT = ("1", "logit")


def four_digits(value: float | None) -> str:
    """A figure in four digits; a hyphen where there is none."""
    return "-" if value is None else f"{value:.4g}"


def legal(row: Row) -> str:
    """What a number of the user's own may be: ``0.1 to 2``."""
    return f"{row.low:g} to {row.high:g}"


def unit_shown(row: Row, details: bool) -> str:
    """The unit of a row; the short table leaves out those that say nothing to a coach."""
    return row.unit if details or row.unit not in NO_UNIT else ""


def assumptions_in_words(rows: Sequence[Row], explained: bool, details: bool = False, width: int | None = None) -> str:
    """Everything `overload assumptions` prints; `explained`: each row says what it is; `details`: every column.

    `width`: columns of the terminal that the long table is folded to (None: a line a row); the short one fits anywhere.
    """
    parts = []
    for group, members in groupby(rows, key=lambda row: row.group):
        found = list(members)
        people = group in POPULATIONS
        title = f'{group}: yours to replace under [population."{group}"]' if people else TITLES[group]
        parts.append("\n".join([title, *(of_people if people else of_constants)(found, explained, details, width)]))
    if not parts:
        return NOTHING
    count = Counter(row.provenance for row in rows)
    total = ", ".join(f"{number} {name}" for name, number in count.most_common())
    noun = "number" if len(rows) == 1 else "numbers"
    foot = [f"{len(rows)} {noun}: {total}.", *KEY, *HOW]
    return "\n\n".join([*parts, "\n".join(line for one in foot for line in wrapped(one))])


def of_constants(rows: Sequence[Row], explained: bool, details: bool, width: int | None) -> list[str]:
    """One line a constant, with its note below it if `explained`."""
    lines = [
        (
            row.name,
            four_digits(row.value),
            unit_shown(row, details),
            four_digits(row.spread),
            legal(row),
            row.provenance,
        )
        for row in rows
    ]
    return laid_out(HEADS, lines, [row.note for row in rows] if explained else [], width if details else None, TEXT)


def of_people(rows: Sequence[Row], explained: bool, details: bool, width: int | None) -> list[str]:
    """One line a trait: its mean, our doubt, and how much players differ; a hyphen for what was not asked for."""
    lines: list[tuple[str, ...]] = []
    notes: list[str] = []
    for name, members in groupby(rows, key=lambda row: row.name):
        found = {row.number: row for row in members}
        first = next(iter(found.values()))
        mean, between = found.get("mean") or found.get("value"), found.get("spread")
        doubt = mean.spread if mean else found["ignorance"].value if "ignorance" in found else None
        start = (name, four_digits(mean.value if mean else None), unit_shown(first, details), four_digits(doubt))
        rests, differ = mean.provenance if mean else "-", four_digits(between.value if between else None)
        if details:
            allowed = legal(mean) if mean else "-"
            lines.append((*start, allowed, rests, differ, between.provenance if between else "-"))
        else:
            lines.append((*start, differ, rests))
        notes.append(first.note)
    if details:
        return laid_out(HEADS_OF_PEOPLE_WHOLE, lines, notes if explained else [], width, TEXT_OF_PEOPLE_WHOLE)
    return laid_out(HEADS_OF_PEOPLE, lines, notes if explained else [], None, TEXT_OF_PEOPLE)


def laid_out(
    head: Sequence[str], rows: Sequence[Sequence[str]], notes: Sequence[str], width: int | None, text: Sequence[int]
) -> list[str]:
    """A table, and each row's note below it; where it is folded to a width, the note is its last column."""
    if notes and width is not None:
        head, rows = [*head, "what it is"], [[*row, note] for row, note in zip(rows, notes, strict=True)]
        text, notes = [*text, len(head) - 1], []
    lines = table(head, rows, width, text).splitlines()
    if not notes:
        return lines
    under = [wrapped(note, NOTE_INDENT) for note in notes]
    return [lines[0], *(part for line, note in zip(lines[1:], under, strict=True) for part in (line, *note))]


def replaced_in_words(found: Sequence[Replaced]) -> str:
    """One line for an answer; empty where nothing was replaced."""
    if not found:
        return ""
    each = ", ".join(
        f"{one.name} = {one.value:g}{'' if one.unit == '1' else ' ' + one.unit} (ours: {one.own:g})" for one in found
    )
    return f"Played with assumptions of your own: {each}."


def own_assumptions(replaced: Sequence[Replaced], own: OwnData | None = None) -> list[str]:
    """What was replaced by the user, in one line for the small screen; how many where there are several, how much of it is `own`
    data where values were learned from counts."""
    if own is not None:
        return [f"Own data: played with what {own_data(own)} of yours have taught (--details names the values)."]
    if len(replaced) > 1:
        return [f"Played with {len(replaced)} assumptions of your own (--details names them)."]
    return [replaced_in_words(replaced)] if replaced else []


def own_data(own: OwnData) -> str:
    """``six sessions (24 bouts, 48 minutes)``."""
    return f"{some(own.sessions, 'session')} ({some(own.bouts, 'bout')}, {some(round(own.minutes), 'minute')})"
