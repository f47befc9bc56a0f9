"""The rows of the benchmark and how they stand in a table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

BENCH, MECHANISMS = "bench", "mechanisms"  # the two tables of the page, by the marks about them
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
    """The rows as a Markdown table."""
    return lined_up([HEAD, *((row.what, row.ours, row.target, row.met) for row in rows)])


def lined_up(cells: Sequence[Sequence[str]]) -> str:
    """A Markdown table, the first row its head, its columns lined up so that it reads in a terminal too."""
    widths = [max(len(row[i]) for row in cells) for i in range(len(cells[0]))]
    lines = [
        "| " + " | ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) + " |" for row in cells
    ]
    lines.insert(1, "|" + "|".join("-" * (width + 2) for width in widths) + "|")
    return "\n".join(lines) + "\n"


def into(path: Path, name: str, text: str) -> None:
    """Put `text` between the marks of that name in a file."""
    begin_mark, end_mark = f"<!-- {name} -->", f"<!-- /{name} -->"
    whole = path.read_text(encoding="utf-8")
    before, begin, rest = whole.partition(begin_mark)
    _, end, after = rest.partition(end_mark)
    if not begin or not end:
        raise ValueError(f"{path} must hold {begin_mark} and {end_mark}")
    path.write_text(f"{before}{begin}\n\n{text}\n{end}{after}", encoding="utf-8")
