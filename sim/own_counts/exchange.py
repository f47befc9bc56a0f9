"""A logbook as plain tables and back: CSV (one file a table) or Parquet, every value as it is.

Who played is left out unless it is asked for: where minors play, names are nobody's business but the club's.  With it go the
game of each forecast, which holds its players with all that is known of them, and whatever was written in words of one's own, in
which anybody may be named: of what was changed on the grass it is left that it was.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping, Sequence
from typing import Any

from sim.errors import InputError
from sim.own_counts.logbook import Logbook, refusing
from sim.own_counts.schema import TABLES

Tables = Mapping[str, Sequence[tuple[Any, ...]]]
READ = {"INTEGER": int, "REAL": float, "TEXT": str}
NAMES = {"tally": ("players",), "original": ("name", "content"), "delivered": ("player",)}
"""Where people are named, table by table; what was put right there is in the corrections."""
REASONS = ("correction", "taken_back", "amended")
"""Tables with a reason in words of one's own."""
CHANGED = "changed"
"""The field of a row that says what was changed on the grass, and all that goes out of it."""
PUT_RIGHT = {"correction": "tally", "amended": "delivered"}
"""Tables of corrections, and what they put right."""


def tables_of(book: Logbook, names: bool) -> dict[str, list[tuple[Any, ...]]]:
    """All rows of all tables in order; without `names`, who played is empty (in corrections too), and so are reasons and the
    game of a forecast."""
    with refusing(book.path):
        book.connection.execute("BEGIN")
        try:
            found = {
                table: book.connection.execute(f"SELECT {', '.join(columns)} FROM {table} ORDER BY rowid").fetchall()
                for table, columns in TABLES.items()
            }
        finally:
            book.connection.execute("ROLLBACK")
    return found if names else nameless(found)


def nameless(found: Tables) -> dict[str, list[tuple[Any, ...]]]:
    """The tables without who played, without words of one's own, and without the games, whose players have names and limits."""
    empty = {table: (*NAMES.get(table, ()), *(("why",) if table in REASONS else ())) for table in found}
    rows = {table: [emptied(table, empty[table], row) for row in kept] for table, kept in found.items()}
    rows["tally"] = [wordless(row, [list(TABLES["tally"]).index(CHANGED)]) for row in rows["tally"]]
    text = list(TABLES["forecast"]).index("counts")
    return rows | {
        **{table: without_who(table, rows.get(table, []), NAMES[of]) for table, of in PUT_RIGHT.items()},
        "forecast": [(*row[:text], without_game(row[text]), *row[text + 1 :]) for row in rows["forecast"]],
    }


def without_who(table: str, rows: Sequence[tuple[Any, ...]], named: Sequence[str]) -> list[tuple[Any, ...]]:
    """Corrections, those of a field that names somebody without what was there before and after."""
    field = list(TABLES[table]).index("field")
    found = [(*row[: field + 1], "", "") if row[field] in named else row for row in rows]
    return [wordless(row, [field + 1, field + 2]) if row[field] == CHANGED else row for row in found]


def wordless(row: tuple[Any, ...], places: Sequence[int]) -> tuple[Any, ...]:
    """A row that says in these places only whether anything was changed, not what."""
    return tuple(CHANGED if place in places and cell else cell for place, cell in enumerate(row))


def without_game(text: str) -> str:
    """A forecast as JSON, of whose game only the number of its layout (`setup`) is left."""
    plain = json.loads(text)
    plain["made"] = plain["made"] | {"game": {}}
    return json.dumps(plain, allow_nan=False, sort_keys=True)


def emptied(table: str, fields: Sequence[str], row: tuple[Any, ...]) -> tuple[Any, ...]:
    """A row of a table with nothing in these fields."""
    return tuple("" if name in fields else cell for name, cell in zip(TABLES[table], row, strict=True))


def as_csv(table: str, rows: Sequence[tuple[Any, ...]]) -> str:
    """A table as CSV: numbers with all their digits, an empty cell where nothing was counted."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(TABLES[table])
    for row in rows:
        writer.writerow(["" if cell is None else repr(cell) if isinstance(cell, float) else cell for cell in row])
    return out.getvalue()


def from_csv(table: str, text: str, source: str) -> list[tuple[Any, ...]]:
    """The rows of a table that `as_csv` wrote; anything else is refused with its line."""
    columns = TABLES[table]
    usual = csv.field_size_limit(2**31 - 1)  # a forecast is one long cell
    try:
        lines = list(csv.reader(io.StringIO(text, newline="")))
    finally:
        csv.field_size_limit(usual)
    if not lines or lines[0] != list(columns):
        raise InputError(f"line 1 must be {','.join(columns)}", source)
    found, problems = [], []
    for number, cells in enumerate(lines[1:], 2):
        try:
            found.append(
                tuple(
                    None if cell == "" and kind != "TEXT" else READ[kind](cell)
                    for cell, kind in zip(cells, columns.values(), strict=True)
                )
            )
        except ValueError:
            problems.append(f"line {number} must be a row of the table {table}")
    if problems:
        raise InputError(problems, source)
    return found


def as_parquet(table: str, rows: Sequence[tuple[Any, ...]]) -> bytes:
    """The same as Parquet (extra `parquet`)."""
    import pandas as pd

    columns = TABLES[table]
    kinds = {"INTEGER": pd.Int64Dtype(), "REAL": pd.Float64Dtype(), "TEXT": pd.StringDtype()}
    frame = pd.DataFrame(
        {name: pd.Series([row[i] for row in rows], dtype=kinds[kind]) for i, (name, kind) in enumerate(columns.items())}
    )
    place = io.BytesIO()
    frame.to_parquet(place, engine="pyarrow", index=False)
    return place.getvalue()


def from_parquet(table: str, data: bytes, source: str) -> list[tuple[Any, ...]]:
    """The rows of a table that `as_parquet` wrote."""
    import pandas as pd

    try:
        frame = pd.read_parquet(io.BytesIO(data), engine="pyarrow")
    except (ValueError, OSError) as error:
        raise InputError(f"must be a table in Parquet (got: {error})", source) from None
    columns = TABLES[table]
    if list(frame.columns) != list(columns):
        raise InputError(f"must have the columns {','.join(columns)}", source)
    kinds = [READ[kind] for kind in columns.values()]
    return [
        tuple(None if pd.isna(cell) else kind(cell) for cell, kind in zip(row, kinds, strict=True))
        for row in frame.itertuples(index=False, name=None)
    ]


def filled(book: Logbook, tables: Tables) -> None:
    """Put tables into a logbook that has none yet, all or nothing."""
    import sqlite3

    with book.writing() as base:
        if any(base.execute(f"SELECT count(*) FROM {table}").fetchone()[0] for table in TABLES):
            raise InputError("must be a new logbook (got one with rows in it)", book.path)
        try:
            for table in TABLES:
                marks = ",".join("?" * len(TABLES[table]))
                rows = tables.get(table, ())  # an export of an earlier version has fewer tables
                base.executemany(f"INSERT INTO {table} ({', '.join(TABLES[table])}) VALUES ({marks})", rows)
            for key, *_ in book.forecasts():
                book.forecast(key)
            book.evenings()  # whoever changed the tables by hand may have left what cannot be read
        except (sqlite3.IntegrityError, ValueError, KeyError, TypeError) as error:
            raise InputError(f"must be tables that belong together (got: {error})", book.path) from None
