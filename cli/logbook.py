"""`overload logbook list|show|correct|export|import|backup|plan|original|take-back`: what has been kept, and putting it right."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.console import console_width, say
from cli.logbook_plan import plan
from cli.own_logbook import logbook_at

app = typer.Typer(
    help="Look into your logbook, put it right, take it elsewhere.", no_args_is_help=True, rich_markup_mode=None
)
app.command()(plan)
RowNumber = Annotated[int, typer.Argument(metavar="ROW", help="Its number, see `overload logbook list`.")]
FileNumber = Annotated[int, typer.Argument(metavar="FILE", help="Its number, see `overload logbook list`.")]
OfFile = Annotated[
    int | None,
    typer.Option(
        "--file", metavar="FILE", help="Of the file of a device with this number; ROW is then its line there."
    ),
]
Folder = Annotated[Path, typer.Argument(metavar="DIR", help="A folder, with one file for each table.")]


@app.command("list")
def list_(logbook: options.Logbook = None) -> None:
    """List every row that was counted, the earliest first."""
    from sim.own_counts.delivered import deliveries
    from sim.own_counts.planning import plans
    from sim.words.logbook import files_in_words, listed_in_words, plans_in_words

    with logbook_at(logbook) as book:
        evenings = book.evenings()
        say(listed_in_words(evenings, len(book.forecasts()), len(book.corrections()), console_width()))
        for more in (plans_in_words(plans(book), evenings), files_in_words(deliveries(book))):
            if more:
                say(more)


@app.command()
def show(row: RowNumber, file: OfFile = None, logbook: options.Logbook = None) -> None:
    """Show one row with all its corrections."""
    from sim.words.logbook import shown_in_words

    if file is not None:
        show_of_a_file(row, file, logbook)
        return
    with logbook_at(logbook) as book:
        one, evening = book.row(row)
        say(shown_in_words(one, evening, [change for change in book.corrections() if change.tally == row]))


@app.command()
def correct(
    row: RowNumber,
    fields: Annotated[
        list[str] | None, typer.Argument(metavar="[FIELD=VALUE]...", help="What is right, e.g. losses=13 or changed=.")
    ] = None,
    who: Annotated[str, typer.Option("--who", metavar="NAME", help="Who puts it right.")] = "",
    why: Annotated[str, typer.Option("--why", metavar="WORDS", help="Why.")] = "",
    withdraw: Annotated[bool, typer.Option("--withdraw", help="Take the whole row back: it does not count.")] = False,
    file: OfFile = None,
    logbook: options.Logbook = None,
) -> None:
    """Put a row right; what was there before stays in the logbook, with who, when and why."""
    from cli import days
    from sim.errors import InputError
    from sim.own_counts.correcting import corrected
    from sim.words.logbook import shown_in_words

    require_said(who, why)
    if withdraw == bool(fields):
        raise InputError("must be given, or else --withdraw, and not both", "FIELD=VALUE")
    if file is not None:
        correct_in_a_file(row, file, fields or [], who.strip(), why.strip(), logbook)
        return
    with logbook_at(logbook) as book:
        one, evening = book.row(row)
        if one.withdrawn:
            raise InputError(f"must be a row that counts (got {row}, which was withdrawn)", "ROW")
        changes: list[tuple[str, str, str]] = []
        if not withdraw:
            changes = corrected(one.row, fields or [], days.today())
        book.correct(row, changes, who.strip(), why.strip())
        one, evening = book.row(row)
        say(shown_in_words(one, evening, [change for change in book.corrections() if change.tally == row]))


def show_of_a_file(line: int, file: int, logbook: Path | None) -> None:
    """One row of a file of a device."""
    from sim.own_counts.delivered import delivery_of
    from sim.words.logbook import line_in_words

    with logbook_at(logbook) as book:
        say(line_in_words(delivery_of(book, file), line))


def correct_in_a_file(line: int, file: int, fields: list[str], who: str, why: str, logbook: Path | None) -> None:
    """Put a row of a file of a device right, or take it back where no field is given."""
    from sim.device_files.amending import amended
    from sim.own_counts.delivered import amend, delivery_of, row_at
    from sim.words.logbook import line_in_words

    with logbook_at(logbook) as book:
        found = delivery_of(book, file)
        row = row_at(found, line)
        amend(book, found, row, amended(row, fields) if fields else [], who, why)
        say(line_in_words(delivery_of(book, file), line))


@app.command()
def export(
    folder: Folder,
    parquet: Annotated[bool, typer.Option("--parquet", help="As Parquet (extra `parquet`) instead of CSV.")] = False,
    names: Annotated[
        bool, typer.Option("--names", help="With who played, and all written words; else left out.")
    ] = False,
    logbook: options.Logbook = None,
) -> None:
    """Write every table to a folder, as CSV or Parquet."""
    from cli.files import require_makeable, write_into
    from sim.own_counts.exchange import as_csv, as_parquet, tables_of

    require_makeable("DIR", folder)
    if parquet:
        require_pyarrow()
    with logbook_at(logbook) as book:
        tables = tables_of(book, names)
    ending, made = (".parquet", as_parquet) if parquet else (".csv", as_csv)
    files = {f"{table}{ending}": made(table, rows) for table, rows in tables.items()}
    write_into(folder, files)
    say(f"Written to {folder}: {', '.join(files)}.", err=True)


@app.command("import")
def import_(folder: Folder, logbook: options.Logbook = None) -> None:
    """Fill a new logbook with what `export` wrote."""
    from sim.errors import InputError
    from sim.own_counts.exchange import filled, from_csv, from_parquet
    from sim.own_counts.schema import OF_THE_FIRST, TABLES

    found = {}
    for table in TABLES:
        plain, parquet = folder / f"{table}.csv", folder / f"{table}.parquet"
        if plain.is_file():
            found[table] = from_csv(table, plain.read_text(encoding="utf-8", errors="replace"), str(plain))
        elif parquet.is_file():
            require_pyarrow()
            found[table] = from_parquet(table, parquet.read_bytes(), str(parquet))
        elif table in OF_THE_FIRST:
            raise InputError(f"must hold {table}.csv or {table}.parquet (got neither)", str(folder))
    with logbook_at(logbook, new=True) as book:
        filled(book, found)
        say(f"Filled {book.path}: {len(found['tally'])} rows.", err=True)


@app.command()
def backup(
    to: Annotated[Path, typer.Argument(metavar="FILE", help="Where the copy goes; it must not be there yet.")],
    logbook: options.Logbook = None,
) -> None:
    """Copy the logbook as it is at this moment, though others may be writing in it."""
    from cli.files import require_place
    from sim.errors import InputError
    from sim.own_counts.logbook import back_up

    require_place("FILE", to)
    if to.exists():
        raise InputError(f"must be a new file (got {str(to)!r}, which is there)", "FILE")
    with logbook_at(logbook) as book:
        back_up(book, to)
    say(f"Copied to {to}.", err=True)


@app.command()
def original(
    file: FileNumber,
    out: Annotated[Path, typer.Option("--out", metavar="FILE", help="Where it goes; it must not be there yet.")],
    logbook: options.Logbook = None,
) -> None:
    """Write a file of a device as it came, to the byte."""
    from cli.files import require_place, write_bytes
    from sim.errors import InputError
    from sim.own_counts.delivered import delivery_of
    from sim.own_counts.delivered import original as as_it_came

    require_place("--out", out)
    if out.exists():
        raise InputError(f"must be a new file (got {str(out)!r}, which is there)", "--out")
    with logbook_at(logbook) as book:
        write_bytes(out, as_it_came(book, delivery_of(book, file)))
    say(f"Written to {out}.", err=True)


@app.command("take-back")
def take_back(
    file: FileNumber,
    who: Annotated[str, typer.Option("--who", metavar="NAME", help="Who takes it back.")] = "",
    why: Annotated[str, typer.Option("--why", metavar="WORDS", help="Why.")] = "",
    logbook: options.Logbook = None,
) -> None:
    """Take a file of a device back: it stays in the logbook, and counts no more."""
    from sim.own_counts import delivered

    require_said(who, why)
    with logbook_at(logbook) as book:
        found = delivered.delivery_of(book, file)
        delivered.take_back(book, file, who.strip(), why.strip())
    say(f"File {file} ({found.name}) counts no more.", err=True)


def require_said(who: str, why: str) -> None:
    """Refuse a change that does not say who and why."""
    from sim.errors import InputError

    for option, value in (("--who", who), ("--why", why)):
        if not value.strip():
            raise InputError("must be given: a correction says who and why", option)


def require_pyarrow() -> None:
    """Refuse Parquet without its extra."""
    from importlib.util import find_spec

    from sim.errors import InputError

    if find_spec("pyarrow") is None:
        raise InputError(
            "must have the extra: pip install 'quillhaven-overload[parquet]' (got no pyarrow here)", "--parquet"
        )
