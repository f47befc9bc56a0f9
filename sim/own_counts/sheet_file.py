"""The assistant's sheet as a CSV file: which columns there are, and every cell that is wrong with its line, column and rule.

Read as spreadsheets write it: commas, semicolons or tabs; a decimal comma where commas do not part the cells; with or without a
byte order mark.  Columns are those of `sim.own_counts.columns`, in any order and case; what is missing was not counted.  Nothing is
guessed and nothing dropped: a file with one bad cell is refused whole.
"""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Mapping
from datetime import date
from pathlib import Path

from sim.errors import InputError, nearest
from sim.game.messages import show
from sim.game.model import Game
from sim.own_counts.columns import ALSO, CLOCKS, COLUMNS, COUNTS
from sim.own_counts.tally import Row, problems_of

DELIMITERS = (";", "\t", ",")
MOST_ROWS = 5000  # twenty seasons of one game
MOST_BYTES = 2**22


class Cells:
    """The cells of one line, by column; `complain` collects what is wrong with them."""

    def __init__(self, line: int, cells: Mapping[str, str], decimal_comma: bool):
        self.line, self.cells, self.decimal_comma = line, cells, decimal_comma
        self.problems: list[str] = []

    def complain(self, column: str, rule: str) -> None:
        """One more thing that is wrong."""
        self.problems.append(f"line {self.line}, {column} {rule}")

    def text(self, column: str) -> str:
        """A cell as it stands; nothing where it is empty or there is no such column."""
        return self.cells.get(column, "").strip()

    def number(self, column: str) -> float | None:
        """A number; None where there is none."""
        text = self.text(column)
        plain = text.replace(",", ".") if self.decimal_comma else text
        try:
            found = float(plain.replace("_", "?")) if plain else None  # 1_000 is Python's, not a spreadsheet's
        except ValueError:
            found = math.nan
        if found is not None and not math.isfinite(found):
            self.complain(column, f"must be a number (got {show(text)})")
            return None
        return found

    def whole(self, column: str) -> int | None:
        """A whole number; None where there is none."""
        found = self.number(column)
        if found is not None and found != int(found):
            self.complain(column, f"must be a whole number (got {show(self.text(column))})")
            return None
        return None if found is None else int(found)

    def day(self, today: date) -> str:
        """The date; today where the sheet has none."""
        text = self.text("date")
        try:
            return date.fromisoformat(text).isoformat() if text else today.isoformat()
        except ValueError:
            self.complain("date", f"must be year-month-day, such as {today.isoformat()} (got {show(text)})")
            return today.isoformat()

    def clock(self) -> str:
        """The clock; the watch where the sheet does not say."""
        text = self.text("clock").lower() or CLOCKS[0]
        if text not in CLOCKS:
            self.complain("clock", f"must be {' or '.join(CLOCKS)} (got {show(text)})")
        return text


def read_sheet(path: Path, game: Game, today: date) -> list[Row]:
    """The rows of a sheet of this game, or every problem of it: file, line, column, rule."""
    source = str(path)
    try:
        data = path.read_bytes()
    except OSError:
        raise InputError(f"must name a file that can be read (got {show(source)})", "FILE") from None
    if len(data) > MOST_BYTES:
        raise InputError(f"must be at most {MOST_BYTES} bytes (got {len(data)})", source)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError("must be text in UTF-8: save it anew as CSV UTF-8", source) from None
    return rows_of(text, source, game, today)


def rows_of(text: str, source: str, game: Game, today: date) -> list[Row]:
    """The same of its text."""
    if "\0" in text:
        raise InputError("must be a table as text (got a file of another kind)", source)
    first = next((line for line in text.splitlines() if line.strip()), "")
    delimiter = max(DELIMITERS, key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    try:
        numbered = [(reader.line_num, cells) for cells in reader if any(cell.strip() for cell in cells)]
    except csv.Error as error:
        raise InputError(f"line {reader.line_num} must be a line of a table (got: {error})", source) from None
    if len(numbered) < 2:
        raise InputError("must have a line of column names and a row at least", source)
    if len(numbered) - 1 > MOST_ROWS:
        raise InputError(f"must have at most {MOST_ROWS} rows (got {len(numbered) - 1})", source)
    (head, names), *rest = numbered
    columns = columns_named(names, head, source)
    found, problems = [], []
    for line, cells in rest:
        if len(cells) > len(columns):
            problems.append(f"line {line} must have {len(columns)} cells (got {len(cells)})")
            continue
        row = Cells(line, dict(zip(columns, cells, strict=False)), delimiter != ",")
        made = row_of(row, game, today)
        problems += row.problems
        found.append(made)
    problems = problems or twice(found, [line for line, _ in rest])
    if problems:
        raise InputError(problems, source)
    return [row for row in found if row is not None]


def columns_named(names: list[str], line: int, source: str) -> list[str]:
    """The columns by our names; refused where one is none of them, or stands there twice."""
    plain = ["_".join(name.strip().lower().split()) for name in names]
    columns = [ALSO.get(name, name) for name in plain]
    problems = []
    for column, name in zip(columns, names, strict=True):
        if column not in COLUMNS:
            near = nearest(column, COLUMNS)
            hint = f"did you mean {near[0]}?" if near else f"there are {', '.join(COLUMNS)}"
            problems.append(f"line {line}, column {show(name.strip())} is none of a sheet ({hint})")
    problems += [f"line {line}, column {one} must stand there once" for one in COLUMNS if columns.count(one) > 1]
    if "minutes" not in columns:
        problems.append(f"line {line} must name a column minutes: how long was counted")
    if not set(columns) & set(COUNTS):
        problems.append(f"line {line} must name a count: {', '.join(COUNTS)}")
    if problems:
        raise InputError(problems, source)
    return columns


def row_of(cells: Cells, game: Game | None, today: date) -> Row | None:
    """The row, if all its cells are right; what is wrong stands in `cells.problems`."""
    counts = {name: cells.whole(name) for name in COUNTS}
    minutes = cells.number("minutes")
    if minutes is None and not cells.problems:
        cells.complain("minutes", "must be given")
    row = Row(
        day=cells.day(today),
        minutes=minutes or 0.0,
        clock=cells.clock(),
        counts={name: count for name, count in counts.items() if count is not None},
        bout=cells.whole("bout"),
        changed=cells.text("changed"),
        players=cells.text("players"),
    )
    if cells.problems:
        return None
    for column, rule in problems_of(row, game, today):
        cells.complain(column, rule)
    return None if cells.problems else row


def twice(rows: list[Row | None], lines: list[int]) -> list[str]:
    """Bouts of one evening that stand there twice."""
    seen: dict[tuple[str, int], int] = {}
    problems = []
    for row, line in zip(rows, lines, strict=True):
        if row is None or row.bout is None:
            continue
        first = seen.setdefault((row.day, row.bout), line)
        if first != line:
            problems.append(f"line {line}, bout must stand there once a day (got {row.bout}, as in line {first})")
    return problems


def row_typed(typed: Mapping[str, object], game: Game | None, today: date, options: bool = True) -> Row:
    """The row of what was given on the command line, by the names of the columns; None was not given.

    What is wrong is told of the `options` it was given with, or else of the columns alone (as FIELD=VALUE).
    """
    plain = {name: "" if value is None else str(value) for name, value in typed.items()}
    cells = Cells(0, plain, False)
    row = row_of(cells, game, today)
    if row is None:
        told = [problem.partition(", ")[2] for problem in cells.problems]
        raise InputError([option_for(one) for one in told]) if options else InputError(told, "FIELD=VALUE")
    return row


def option_for(problem: str) -> str:
    """A problem of a column as one of its option: ``--longest-run must be ...``."""
    column, _, rule = problem.partition(" ")
    return f"--{column.replace('_', '-')} {rule}"
