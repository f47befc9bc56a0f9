"""The tables of the evidence as data: published measurements, how each is played, and the directions.

All three were written before their first run.  `scope` picks players and parts of a session: "all" (everybody but
keepers), "role:NAME", "team:NAME", "start:NAME" (who begin in that role), and after a space "bout:N" or "quarter:N"
(of the whole session).  `changes` are separated by semicolons; "same players" among them keeps the players of one
session throughout.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass, fields
from functools import cache
from importlib import resources
from pathlib import Path

MARKS = ("input", "fitted", "predicted")
STRENGTHS = ("***", "**", "*", "trade")
RULES = (
    "percent", "absolute", "band", "below", "above", "ascending", "direction", "reported", "not played",
)  # fmt: skip
SIGNS = ("up", "down", "not down", "equal", "up points", "below", "within")


@dataclass(frozen=True)
class Measurement:
    """One published figure, as in its source."""

    id: str
    quantity: str
    population: str
    format: str
    pitch_m: str
    area_per_player_m2: str
    rules: str
    value: str
    spread: str
    unit: str
    source: str
    basis: str
    mark: str


@dataclass(frozen=True)
class Part:
    """How (a part of) a measurement is played and assessed.

    `rule` and `size`: "percent" and "absolute" are the largest distance from `published`; "band" is "LOW..HIGH";
    "below" and "above" are limits; "ascending" takes the parts named in `measure` in order.  `rule_from`: the size
    comes from the issue that ordered this, or is the house's where that gave none.
    """

    row: str
    part: str
    measure: str
    scope: str
    game: str
    changes: tuple[str, ...]
    population: str
    sessions: int
    published: str
    rule: str
    size: str
    size_left_out: str
    rule_from: str
    note: str


@dataclass(frozen=True)
class Direction:
    """What B does to A: `sign`, by at least `size`, or within it.

    Sizes are relative to A, except for "up points" (absolute), "below" (a limit of B) and "within" ("LOW..HIGH" of B).
    "not down": not lower by more than the size.  `measure` "X>Y" takes X of A and Y of B.
    """

    row: str
    strength: str
    claim: str
    measure: str
    scope_a: str
    scope_b: str
    game_a: str
    changes_a: tuple[str, ...]
    game_b: str
    changes_b: tuple[str, ...]
    assumptions: tuple[str, ...]
    population: str
    sign: str
    size: str
    size_from: str
    sessions: int
    source: str

    @property
    def counts(self) -> bool:
        """Unsettled directions are shown and do not count."""
        return self.strength != "*"


LISTS = ("changes", "changes_a", "changes_b", "assumptions")


def folder() -> Path:
    """Where the tables and the games of the evidence lie."""
    return Path(str(resources.files("sim.evidence")))


def read(name: str, kind: type) -> tuple:
    """The rows of a table, in order; its header must be the fields of `kind`."""
    with (folder() / name).open(encoding="utf-8", newline="") as file:
        rows = csv.DictReader(file)
        if rows.fieldnames != [field.name for field in fields(kind)]:
            raise ValueError(f"{name} must have the columns of {kind.__name__} (got {rows.fieldnames})")
        return tuple(kind(**{key: converted(key, value) for key, value in row.items()}) for row in rows)


def converted(column: str, text: str) -> str | int | tuple[str, ...]:
    """A cell as its field has it."""
    if column == "sessions":
        return int(text or 0)
    if column in LISTS:
        return tuple(one.strip() for one in text.split(";") if one.strip())
    return text


@cache
def measurements() -> tuple[Measurement, ...]:
    """All published figures, in the order of the table."""
    return read("measurements.csv", Measurement)


@cache
def parts() -> tuple[Part, ...]:
    """All parts of the plan, in its order."""
    return read("plan.csv", Part)


@cache
def directions() -> tuple[Direction, ...]:
    """All directions, in the order of the table."""
    return read("directions.csv", Direction)


def rows_of(part: Part) -> tuple[str, ...]:
    """The measurements a part speaks of: "M04-M06" and "M01/M03" speak of several of one study."""
    if "/" in part.row:
        return tuple(part.row.split("/"))
    if "-" in part.row:
        first, last = (int(one[1:]) for one in part.row.split("-"))
        return tuple(f"M{number:02d}" for number in range(first, last + 1))
    return (part.row,)


def mark_of(part: Part) -> str:
    """The mark of the part's measurements, which is one, as a study is marked as a whole."""
    marks = {one.mark for one in measurements() if one.id in rows_of(part)}
    if len(marks) != 1:
        raise ValueError(f"{part.part} must speak of measurements with one mark (got {sorted(marks)})")
    return marks.pop()
