"""The rows of the benchmark and how they stand in a table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

BEGIN, END = "<!-- bench -->", "<!-- /bench -->"
HEAD = ("What", "Ours", "Target", "Met")


@dataclass(frozen=True)
class Row:
    """`met`: "yes", "no", "stretch" or nothing where there is no target."""

    what: str
    ours: str
    target: str = ""
    met: str = ""


def two(value: float) -> str:
    """Two significant digits; no decimals from 10 on."""
    return f"{float(f'{value:.2g}'):.0f}" if abs(value) >= 10 else f"{value:.2g}"


def at_most(what: str, value: float, target: float, stretch: float | None = None) -> Row:
    met = "yes" if value <= target else "no"
    return judged(what, value, "at most", target, stretch, "stretch" if stretch and value <= stretch else met)


def at_least(what: str, value: float, target: float, stretch: float | None = None) -> Row:
    met = "yes" if value >= target else "no"
    return judged(what, value, "at least", target, stretch, "stretch" if stretch and value >= stretch else met)


def judged(what: str, value: float, way: str, target: float, stretch: float | None, met: str) -> Row:
    more = f" (stretch {stretch:g})" if stretch is not None else ""
    return Row(what, two(value), f"{way} {target:g}{more}", met)


def as_text(rows: Sequence[Row]) -> str:
    """A Markdown table, its columns lined up so that it reads in a terminal too."""
    cells = [HEAD, *((row.what, row.ours, row.target, row.met) for row in rows)]
    widths = [max(len(row[i]) for row in cells) for i in range(len(HEAD))]
    lines = [
        "| " + " | ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) + " |" for row in cells
    ]
    lines.insert(1, "|" + "|".join("-" * (width + 2) for width in widths) + "|")
    return "\n".join(lines) + "\n"


def into(path: Path, text: str) -> None:
    """Put `text` between the marks of a file."""
    whole = path.read_text(encoding="utf-8")
    before, begin, rest = whole.partition(BEGIN)
    _, end, after = rest.partition(END)
    if not begin or not end:
        raise ValueError(f"{path} must hold {BEGIN} and {END}")
    path.write_text(f"{before}{BEGIN}\n\n{text}\n{END}{after}", encoding="utf-8")
