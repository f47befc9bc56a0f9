"""The table as files: written whole, read back, and held against a fresh run.

A saved table has `evidence.csv` (every line, all digits), `evidence.json` (what made it) and `misses.csv` (rows outside,
ready to be explained in `known_misses.csv`).  The one that comes with the program lies in `results/`.  `digest` covers
everything that the numbers hang on: engine, rules, constants, players, the evidence games and how they are read.
"""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from sim import __version__, provenance
from sim.evidence.conditions import SEED
from sim.evidence.table import Line, rows_verdicts
from sim.evidence.tables import folder

MADE_OF = "sim.evidence.table"  # on top of the engine: how the games are played and held against their criteria
DATA = ("*.csv", "games/*.toml")  # measurements, plan, directions, and the games
NOT_MADE_OF = ("known_misses.csv",)
FLOATS = ("ours", "error", "low", "high", "left_out")
INTEGERS = ("level", "sessions")
NO_FIGURE = {"ascending": "another order", "direction": "see its directions"}
MISS = ("row", "value", "interval", "reason", "date")


@dataclass(frozen=True)
class Miss:
    """A row that is known to be outside."""

    row: str
    value: str
    interval: str
    reason: str
    date: str


def digest() -> str:
    """A short digest of all that the numbers of the table hang on."""
    data = [file for pattern in DATA for file in folder().glob(pattern) if file.name not in NOT_MADE_OF]
    return provenance.digest((*provenance.ENGINE, MADE_OF), data, folder().parent)


def meta_of(size: str) -> dict[str, object]:
    """What makes a table of this size here: versions, digests, seed."""
    from importlib.metadata import version

    return {
        "version": __version__,
        "engine": provenance.engine(),
        "digest": digest(),
        "size": size,
        "seed": SEED,
        "libraries": {name: version(name) for name in ("numpy", "scipy", "numba")},
    }


def as_csv(lines: Sequence[Line]) -> str:
    """One row a line, all digits, under the names of its fields."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    names = [field.name for field in fields(Line)]
    writer.writerow(names)
    for line in lines:
        writer.writerow([written(getattr(line, name)) for name in names])
    return out.getvalue()


def written(value: object) -> object:
    """Undefined is an empty cell."""
    if isinstance(value, float):
        return "" if math.isnan(value) else repr(float(value))
    return value


def read_lines(path: Path) -> list[Line]:
    """The lines of an `evidence.csv`, in order."""
    with path.open(encoding="utf-8", newline="") as file:
        return [line_of(row) for row in csv.DictReader(file)]


def line_of(row: Mapping[str, str]) -> Line:
    """The line a row of the CSV was written from; an empty cell of a number is nan."""
    cells: dict[str, Any] = dict(row)  # by name, so of as many kinds as the fields of a line
    cells |= {name: float(row[name]) if row[name] else math.nan for name in FLOATS}
    cells |= {name: int(row[name]) for name in INTEGERS}
    return Line(**cells)


def shipped_folder() -> Path:
    """Where the table lies that comes with the program."""
    return folder() / "results"


def shipped_table() -> tuple[list[Line], dict[str, Any]]:
    """The table that comes with the program, and what made it; raises `OSError` where it is not there."""
    where = shipped_folder()
    return read_lines(where / "evidence.csv"), json.loads((where / "evidence.json").read_text(encoding="utf-8"))


def left_out_fits() -> dict[str, dict[str, float]]:
    """By study (its measurements joined by spaces), the constants of the fit that did not see it; empty before there is one."""
    file = shipped_folder() / "left_out.json"
    return json.loads(file.read_text(encoding="utf-8")) if file.exists() else {}


def known_misses() -> tuple[Miss, ...]:
    """The rows that are known to be outside, each with its reason."""
    with (folder() / "known_misses.csv").open(encoding="utf-8", newline="") as file:
        return tuple(Miss(**row) for row in csv.DictReader(file))


def misses_of(lines: Sequence[Line], before: Sequence[Miss] = (), date: str = "") -> list[Miss]:
    """Every row outside with its values (those of its parts that are outside), reasons taken over from `before`."""
    verdicts, reasons = rows_verdicts(list(lines)), {miss.row: miss for miss in before}
    found = []
    for row, verdict in verdicts.items():
        if verdict == "outside":
            bad = [line for line in lines if line.row == row and line.verdict == "outside"]
            old = reasons.get(row)
            found.append(
                Miss(
                    row,
                    " / ".join(figure(line.ours) or NO_FIGURE[line.wanted] for line in bad),
                    " / ".join(f"{figure(line.low)} to {figure(line.high)}" for line in bad if figure(line.low)),
                    old.reason if old else "",
                    old.date if old else date,
                )
            )
    return found


def figure(value: float) -> str:
    """Three digits; nothing where undefined."""
    return "" if math.isnan(value) else f"{value:.3g}"


def misses_as_csv(misses: Sequence[Miss]) -> str:
    """One row a miss."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(MISS)
    writer.writerows([getattr(miss, name) for name in MISS] for miss in misses)
    return out.getvalue()
