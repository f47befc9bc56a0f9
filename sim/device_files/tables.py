"""A file as a table of cells, whatever wrote it: which letters, what parts the cells, where the names of the columns stand.

CSV: UTF-8 with or without a byte order mark, UTF-16, else Windows-1252; parted by semicolons, tabs or commas.  XLSX: the sheet that
has something on it.  Lines above the names of the columns (who exported it, when) are passed over.
"""

from __future__ import annotations

import csv
import io
import warnings
import zipfile
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from sim.errors import InputError, any_of
from sim.game.messages import show

Cell = str | float | date | timedelta
"""Text as it stands (CSV has nothing else), or what a spreadsheet says it is; "" where there is nothing."""
Line = tuple[int, tuple[Cell, ...]]
"""(its number in the file, its cells)."""

SEPARATORS = {";": "semicolons", "\t": "tabs", ",": "commas"}
MOST_BYTES = 2**24  # of a file, unpacked: a season of a squad is a tenth of it
MOST_ROWS = 20_000
ABOVE = 20
"""The names of the columns stand in one of so many first lines (house default)."""
ZIP, OLD_EXCEL = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"


@dataclass(frozen=True)
class Table:
    """`head`: the names of the columns as they stand; `rows` below it; `said`: what kind of file it was, for people."""

    head: tuple[str, ...]
    rows: tuple[Line, ...]
    said: str


def names_in(cells: Sequence[Cell]) -> frozenset[str]:
    """The names of columns in a line, whatever their case and order."""
    return frozenset(plain(cell) for cell in cells if plain(cell))


def plain(cell: Cell) -> str:
    """A name to be compared: without case, and with single spaces."""
    return " ".join(str(cell).split()).casefold()


def read_table(data: bytes, source: str, known: Collection[frozenset[str]] = (), sheet: str | None = None) -> Table:
    """The table in a file.  `known`: names of columns by which their line is found; `sheet` of an XLSX file (None: its only).

    Everything that is no table is one `InputError` that names `source`.
    """
    if len(data) > MOST_BYTES:
        raise InputError(f"must have at most {MOST_BYTES // 2**20} MB (got {len(data) / 2**20:.0f})", source)
    if data.startswith(OLD_EXCEL):
        raise InputError("must be CSV or XLSX (got an old XLS file: save it as XLSX)", source)
    if data.startswith(ZIP):
        found = [("Excel", lines) for lines in [sheet_lines(data, source, sheet)]]
    else:
        text, encoding = decoded(data, source)
        found = [(f"{encoding}, {SEPARATORS[one]}", csv_lines(text, one)) for one in SEPARATORS]
    said, lines = likeliest(found, known)
    place = head_at(lines, known)
    if place is None:
        raise InputError("must be a table: two columns or more, their names in a line above the rows", source)
    head = tuple(str(cell).strip() for cell in lines[place][1])
    rows = lines[place + 1 :]
    if not rows:
        raise InputError("must have a row below the names of its columns (got none)", source)
    if len(rows) > MOST_ROWS:
        raise InputError(f"must have at most {MOST_ROWS} rows (got {len(rows)})", source)
    return Table(head, tuple(rows), said)


def decoded(data: bytes, source: str) -> tuple[str, str]:
    """(the text, its encoding in words)."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        tries = [("utf-16", "UTF-16")]
    else:
        tries = [("utf-8-sig", "UTF-8"), ("cp1252", "Windows-1252")]
    for codec, said in tries:
        try:
            text = data.decode(codec)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text, said
    raise InputError("must be text in UTF-8, UTF-16 or Windows-1252, or XLSX (got something else)", source)


def csv_lines(text: str, separator: str) -> list[Line]:
    """The lines that have something in them; none where they cannot be read so."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    try:
        return [(reader.line_num, tuple(cells)) for cells in reader if any(cell.strip() for cell in cells)]
    except csv.Error:
        return []


def sheet_lines(data: bytes, source: str, sheet: str | None) -> list[Line]:
    """The same of a sheet of an XLSX file; refused where it cannot be told which."""
    from openpyxl import load_workbook  # heavy

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as file:
            size = sum(one.file_size for one in file.infolist())
        if size > 4 * MOST_BYTES:
            raise InputError(f"must be a smaller file (got {size / 2**20:.0f} MB unpacked)", source)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of styles that are missing
            book = load_workbook(io.BytesIO(data), read_only=True, data_only=True)
            try:
                filled = {one.title: written(one.iter_rows(values_only=True)) for one in book.worksheets}
            finally:
                book.close()
    except InputError:
        raise
    except Exception as error:  # whatever it is, it is no spreadsheet
        raise InputError(
            f"must be a spreadsheet in XLSX that can be read (got {type(error).__name__})", source
        ) from None
    filled = {title: lines for title, lines in filled.items() if lines}
    if sheet is not None:
        if sheet not in filled:
            there = any_of(list(filled)) or "none with something on it"
            raise InputError(f"must name a sheet: {there} (got {show(sheet)})", "--sheet")
        return filled[sheet]
    if len(filled) > 1:
        raise InputError(f"must be given: there are {any_of(list(filled), 'and')} (got none)", "--sheet")
    return next(iter(filled.values()), [])


def written(rows: object) -> list[Line]:
    """The rows of a sheet with something in them."""
    lines: list[Line] = []
    for number, cells in enumerate(rows, 1):  # type: ignore[arg-type, var-annotated]
        found = tuple(cell_of(cell) for cell in cells)
        while found and found[-1] == "":
            found = found[:-1]
        if any(str(cell).strip() for cell in found):
            lines.append((number, found))
        if len(lines) > MOST_ROWS + ABOVE:
            break
    return lines


def cell_of(value: object) -> Cell:
    """A cell of a spreadsheet: numbers, days and times as such, everything else as text."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value)
    if isinstance(value, int | float):
        return float(value)
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, time):
        return timedelta(hours=value.hour, minutes=value.minute, seconds=value.second, microseconds=value.microsecond)
    return value if isinstance(value, date | timedelta) else str(value)


def likeliest(found: Sequence[tuple[str, list[Line]]], known: Collection[frozenset[str]]) -> tuple[str, list[Line]]:
    """The reading that shows names we know; else the one in which most lines have the same number of cells, then most cells."""

    def worth(one: tuple[str, list[Line]]) -> tuple[bool, int, int]:
        lines = one[1]
        seen = any(names_in(cells) in known for _, cells in lines[:ABOVE])
        widths = Counter(len(cells) for _, cells in lines if len(cells) > 1)
        width, count = max(widths.items(), key=lambda pair: (pair[1], pair[0]), default=(0, 0))
        return seen, count, width

    return max(found, key=worth)


def head_at(lines: Sequence[Line], known: Collection[frozenset[str]]) -> int | None:
    """Where the names of the columns stand: in the line that shows names we know, else the first one as wide as most."""
    for place, (_, cells) in enumerate(lines[:ABOVE]):
        if names_in(cells) in known:
            return place
    widths = Counter(len(cells) for _, cells in lines if len(cells) > 1)
    if not widths:
        return None
    width = max(widths.items(), key=lambda pair: (pair[1], pair[0]))[0]
    return next(
        (place for place, (_, cells) in enumerate(lines[:ABOVE]) if len(cells) == width and names_in(cells)), None
    )
