"""Every assumption of the program in one table: constants of motion, ball, heart rate and play, and of the populations.

A row is one number.  A trait of a population gives three: its mean (whose `spread` is our ignorance of it), the spread
between players, and that ignorance itself.  `place` is how a user's file names the row; None where it cannot be replaced
there, because the number is part of the compiled code of motion and ball.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass, fields

from sim.errors import InputError
from sim.parameters import CLUB, HEART, PROVENANCES, TABLE
from sim.pitch.assumptions import ENGINE
from sim.populations import POPULATIONS, Population, Trait

FIXED = "fixed"
WIDEST = 2.0
"""Spread and ignorance may be at most so many times the largest of any preset."""


@dataclass(frozen=True)
class Row:
    """One number.  `number`: "value", or which of a trait's three; `spread` None where there is no telling."""

    group: str
    name: str
    number: str
    value: float
    unit: str
    spread: float | None
    low: float
    high: float
    provenance: str
    replaceable: bool
    note: str

    @property
    def place(self) -> tuple[str, ...]:
        """The keys of a user's file."""
        if self.group in POPULATIONS:
            own = () if self.number == "value" else (self.number,)
            return ("population", self.group, self.name, *own)
        return ("engine" if self.group == FIXED else self.group, self.name)


def rows() -> tuple[Row, ...]:
    """The whole table, in the order of the program's own tables."""
    constants = [(group_of(one.name), one) for one in TABLE.values()]
    constants += [("engine", one) for one in ENGINE]
    found = [
        Row(
            group,
            one.name,
            "value",
            one.value,
            one.unit,
            one.spread,
            one.low,
            one.high,
            one.provenance,
            group != FIXED,
            one.note,
        )
        for group, one in constants
    ]
    for whose in POPULATIONS.values():
        for trait in whose.traits.values():
            found += of_trait(whose, trait)
        found += [
            Row(whose.name, day.name, "value", day.value, day.unit, day.spread, day.low, day.high, day.provenance, True,
                day.note)
            for day in whose.days.values()
        ]  # fmt: skip
    return tuple(found)


def group_of(name: str) -> str:
    """Under which heading of a user's file a constant of `sim.parameters` stands."""
    return "heart" if name in HEART else "club" if name in CLUB else FIXED


def of_trait(whose: Population, trait: Trait) -> list[Row]:
    """Mean, spread between players, and our ignorance of the mean."""
    kind = trait.kind
    note = "; ".join(part for part in (kind.note, trait.note) if part)

    def row(number: str, value: float, spread: float | None, low: float, high: float, provenance: str) -> Row:
        return Row(whose.name, kind.name, number, value, kind.unit, spread, low, high, provenance, True, note)

    most_spread, most_ignorance = (widest(kind.name, number) for number in ("spread", "ignorance"))
    return [
        row("mean", trait.mean, trait.ignorance, kind.low, kind.high, trait.mean_from),
        row("spread", trait.spread, None, 0.0, most_spread, trait.spread_from),
        row("ignorance", trait.ignorance, None, 0.0, most_ignorance, trait.ignorance_from),
    ]


def widest(trait: str, number: str) -> float:
    """The most that a spread or an ignorance may be: players must still be possible to draw."""
    return round(WIDEST * max(getattr(whose.traits[trait], number) for whose in POPULATIONS.values()), 6)


def chosen(words: Sequence[str] = (), provenance: str | None = None, whose: str | None = None) -> tuple[Row, ...]:
    """Rows that hold all the words (in name, unit or note), of one provenance, and of one population."""
    problems = []
    if provenance is not None and provenance not in PROVENANCES:
        problems.append(f"--provenance must be one of {', '.join(PROVENANCES)} (got {provenance!r})")
    if whose is not None and whose not in POPULATIONS:
        problems.append(f"--population must be one of {', '.join(POPULATIONS)} (got {whose!r})")
    if problems:
        raise InputError(problems)
    wanted = [word.lower() for word in words]
    return tuple(
        row
        for row in rows()
        if (provenance is None or row.provenance == provenance)
        and (whose is None or row.group == whose)
        and all(word in f"{row.group} {row.name} {row.unit} {row.note}".lower() for word in wanted)
    )


def as_csv(table: Sequence[Row]) -> str:
    """One line a row, all digits; an empty cell where there is nothing to say."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    names = [field.name for field in fields(Row)]
    writer.writerow(names)
    for row in table:
        writer.writerow(["" if (cell := getattr(row, name)) is None else said(cell) for name in names])
    return out.getvalue()


def said(cell: object) -> object:
    """A cell as the CSV has it: yes or no, numbers with all digits."""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    return repr(cell) if isinstance(cell, float) else cell
