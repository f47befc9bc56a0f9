"""Rows with two ends: a figure of ours, and between which two figures it should lie.

What `sim.evidence.keepball` (bands of the trade) and `sim.evidence.tracking` (figures from open tracking data) come to, kept
in `results/` as CSV beside a digest of what they hang on, and read back.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
import math
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass, fields
from pathlib import Path
from typing import Any, NamedTuple

from sim import __version__, provenance
from sim.evidence.tables import folder

ROLES = ("fitted", "predicted")
FLOATS = ("low", "high", "ours", "ours_low", "ours_high")


class Figure(NamedTuple):
    """A value with the ends of its interval; nan where nothing of the kind happened."""

    value: float
    low: float
    high: float


NOTHING = Figure(math.nan, math.nan, math.nan)


@dataclass(frozen=True)
class BandedLine:
    """One row: ours with its 95 % interval over `bouts`, and the ends `low` and `high` between which it should lie.

    `role`: "fitted" (constants may be moved to meet it) or "predicted" (never seen by a fit).
    """

    row: str
    role: str
    what: str
    unit: str
    low: float
    high: float
    ours: float
    ours_low: float
    ours_high: float
    bouts: int
    source: str
    note: str

    @property
    def inside(self) -> bool:
        """Whether ours lies between the ends, which belong to it; its interval has no say."""
        return self.low <= self.ours <= self.high


class Miss(NamedTuple):
    """A row that is known to be outside: since when, and why, as far as we know."""

    row: str
    reason: str
    date: str


class Kept(NamedTuple):
    """A table that came with the program, and what made it."""

    lines: tuple[BandedLine, ...]
    meta: dict[str, Any]


def counted(lines: Iterable[BandedLine], role: str) -> tuple[int, int]:
    """(inside, all) of the rows with this role."""
    own = [line.inside for line in lines if line.role == role]
    return sum(own), len(own)


def as_csv(lines: Sequence[BandedLine]) -> str:
    """One row a line, all digits, an empty cell where there is no figure."""
    out = io.StringIO()
    writer = csv.DictWriter(out, [field.name for field in fields(BandedLine)], lineterminator="\n")
    writer.writeheader()
    for line in lines:
        cells = asdict(line)
        empty = {name: "" for name in FLOATS if math.isnan(cells[name])}
        writer.writerow(cells | empty)
    return out.getvalue()


def read_lines(path: Path) -> tuple[BandedLine, ...]:
    """The lines of such a CSV, in order."""
    with path.open(encoding="utf-8", newline="") as file:
        return tuple(line_of(row) for row in csv.DictReader(file))


def line_of(row: dict[str, Any]) -> BandedLine:
    """The line that a row was written from."""
    floats = {name: float(row[name]) if row[name] else math.nan for name in FLOATS}
    return BandedLine(**row | floats | {"bouts": int(row["bouts"])})


def kept(name: str) -> Kept | None:
    """The table `results/NAME.csv` with `results/NAME.json`; None where none came with the program."""
    where = folder() / "results"
    if not (where / f"{name}.csv").exists():
        return None
    return Kept(read_lines(where / f"{name}.csv"), kept_meta(name))


def kept_meta(name: str) -> dict[str, Any]:
    """What made a table that came with the program (`meta_of`)."""
    return json.loads((folder() / "results" / f"{name}.json").read_text(encoding="utf-8"))


def known_misses(path: Path) -> tuple[Miss, ...]:
    """The rows that are known to be outside."""
    with path.open(encoding="utf-8", newline="") as file:
        return tuple(Miss(**row) for row in csv.DictReader(file))


def digest(package: str, data: Iterable[Path], games: Iterable[Path]) -> str:
    """A short digest of all that a table hangs on: engine, the package that makes it, its data, the games it plays."""
    own = provenance.digest((*provenance.ENGINE, package), data, folder().parent)
    total = hashlib.sha256(own.encode())
    for file in sorted(games):
        total.update(file.name.encode() + b"\0" + file.read_bytes().replace(b"\r\n", b"\n"))
    return total.hexdigest()[: provenance.DIGITS]


def meta_of(own: str, bouts: int, seed: int) -> dict[str, Any]:
    """What makes a table here: version, digests, size, seed; `own` is the digest of the table."""
    return {
        "version": __version__,
        "engine": provenance.engine(),
        "digest": own,
        "bouts": bouts,
        "seed": seed,
    }
