"""The table as files: written whole, read back, and held against a fresh run.

A saved table has `evidence.csv` (every line, all digits), `evidence.json` (what made it) and `misses.csv` (rows outside,
ready to be explained in `known_misses.csv`).  The one kept with the program lies in `results/`.  `digest` covers
everything that the numbers hang on: engine, rules, constants, players, the evidence games and how they are read.
"""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Sequence
from dataclasses import dataclass, fields
from pathlib import Path

from sim import __version__, provenance
from sim.evidence.conditions import SEED
from sim.evidence.table import Line, rows_verdicts
from sim.evidence.tables import folder

MADE_OF = "sim.evidence.table"  # on top of the engine: how the games are played and judged
DATA = ("*.csv", "games/*.toml")  # measurements, plan, directions, and the games
NOT_MADE_OF = ("known_misses.csv",)
AGREE_ERRORS = (
    4.0  # a fresh number may lie so many joint standard errors from the kept one (about 300 numbers are compared)
)
AGREE_LEAST = 0.005  # and always this share of it
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


def meta_of(size: str) -> dict:
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
    with path.open(encoding="utf-8", newline="") as file:
        return [Line(**{key: read(key, text) for key, text in row.items()}) for row in csv.DictReader(file)]


def read(name: str, text: str) -> object:
    if name in FLOATS:
        return float(text) if text else math.nan
    return int(text) if name in INTEGERS else text


def kept_folder() -> Path:
    return folder() / "results"


def kept() -> tuple[list[Line], dict]:
    """The table kept with the program, and what made it."""
    where = kept_folder()
    return read_lines(where / "evidence.csv"), json.loads((where / "evidence.json").read_text(encoding="utf-8"))


def left_out_fits() -> dict[str, dict[str, float]]:
    """By study (its measurements joined by spaces), the constants of the fit that did not see it; empty before there is one."""
    file = kept_folder() / "left_out.json"
    return json.loads(file.read_text(encoding="utf-8")) if file.exists() else {}


def known_misses() -> tuple[Miss, ...]:
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
    return "" if math.isnan(value) else f"{value:.3g}"


def misses_as_csv(misses: Sequence[Miss]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(MISS)
    writer.writerows([getattr(miss, name) for name in MISS] for miss in misses)
    return out.getvalue()


def unexpected(lines: Sequence[Line], known: Sequence[Miss]) -> list[str]:
    """New misses and unnoticed hits: what breaks the build."""
    verdicts, names = rows_verdicts(list(lines)), {miss.row for miss in known}
    new = [f"{row} is outside and no known miss" for row, verdict in verdicts.items() if verdict == "outside"]
    new = [text for text in new if text.split()[0] not in names]
    gone = [f"{row} is a known miss and {verdicts.get(row) or 'has no verdict'}" for row in sorted(names)]
    return new + [text for text in gone if not text.endswith(" outside")]


def disagreements(fresh: Sequence[Line], old: Sequence[Line]) -> list[str]:
    """Where a fresh run and the kept table differ by more than their joint error."""
    by_part = {line.part: line for line in old}
    if set(by_part) != {line.part for line in fresh}:
        return ["the kept table has other lines"]
    found = []
    for line in fresh:
        kept_line = by_part[line.part]
        if math.isnan(line.ours) != math.isnan(kept_line.ours):
            found.append(f"{line.part}: {figure(line.ours) or 'nothing'} against {figure(kept_line.ours) or 'nothing'}")
            continue
        errors = [0.0 if math.isnan(one.error) else one.error for one in (line, kept_line)]
        room = max(AGREE_ERRORS * math.hypot(*errors), AGREE_LEAST * abs(kept_line.ours))
        if abs(line.ours - kept_line.ours) > room:
            found.append(f"{line.part}: {figure(line.ours)} against {figure(kept_line.ours)} (room {figure(room)})")
    return found
