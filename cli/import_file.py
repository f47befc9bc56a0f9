"""`overload import FILE`: what a device measured, a row a player and drill, looked through first and kept when asked."""

from __future__ import annotations

import shlex
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli import days, options

if TYPE_CHECKING:
    from sim.device_files.layouts import Layout
    from sim.device_files.people import People
    from sim.device_files.report import Report
    from sim.device_files.tables import Table

LAYOUTS = "layouts.toml"


def import_file(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="CSV or XLSX, a row a player and drill.")],
    layouts: Annotated[
        Path | None,
        typer.Option("--layouts", metavar="FILE", help=f"Your layouts (usual: {LAYOUTS} beside the logbook)."),
    ] = None,
    draft: Annotated[
        str | None,
        typer.Option("--draft", metavar="NAME", help="A file with new columns: write a draft of its layout."),
    ] = None,
    squad: Annotated[
        Path | None,
        typer.Option("--squad", metavar="FILE", help="Your players as CSV: player, and if you like shirt and role."),
    ] = None,
    day: Annotated[
        str | None, typer.Option("--date", metavar="YYYY-MM-DD", help="When, if the file does not say it.")
    ] = None,
    sheet: Annotated[str | None, typer.Option("--sheet", metavar="NAME", help="Which sheet of an XLSX file.")] = None,
    keep: Annotated[bool, typer.Option("--keep", help="Keep it in the logbook, with the file as it came.")] = False,
    names: Annotated[bool, typer.Option("--names", help="With players' names in the JSON; else without.")] = False,
    logbook: options.Logbook = None,
    details: options.Details = False,
    json: options.Json = None,
) -> None:
    """Look through what a device measured; with --keep, put it into the logbook."""
    from cli.console import console_width, say
    from cli.files import give, require_json
    from cli.own_logbook import logbook_at
    from sim.device_files.layouts import read_layouts
    from sim.device_files.tables import read_table
    from sim.own_counts.delivered import keep as keep_in
    from sim.words.import_screen import report_in_words

    require_json(json)
    place = layouts or (Path(LAYOUTS) if logbook is None else logbook.with_name(LAYOUTS))
    data = content_of(file)
    known = read_layouts(place)
    table = read_table(data, str(file), {one.headers for one in known.values()}, sheet)
    if draft is not None:
        write_draft(draft, table, known, place)
        return
    layout, now = layout_of(table, known, file, place), days.today()
    found = report_of(table, layout, squad, day_typed(day, now), now, str(file), place)
    number = None
    if keep:
        require_keepable(found, file)
        with logbook_at(logbook, new=True) as book:
            number, new = keep_in(book, file.name, data, found.layout, found.kept)
            if not new:
                say(f"Already in {book.path} as file {number}: nothing was written twice.", err=True)
    asked = [
        ("--layouts", layouts), ("--squad", squad), ("--date", day), ("--sheet", sheet), ("--logbook", logbook),
    ]  # fmt: skip
    more = [word for option, value in asked if value is not None for word in (option, str(value))]
    command = shlex.join(["overload", "import", str(file), "--keep", *more])
    give(
        json,
        lambda: found.to_json(names),
        lambda: report_in_words(found, file.name, command, number, details, console_width()),
    )


def content_of(file: Path) -> bytes:
    """The bytes of a file; refused where it cannot be read."""
    from sim.errors import InputError

    try:
        return file.read_bytes()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise InputError(f"must name a file that can be read (got {str(file)!r}: {reason})", "FILE") from None


def day_typed(text: str | None, today: date) -> str | None:
    """The day of the whole file, if it was given."""
    from sim.errors import InputError

    try:
        found = None if text is None else date.fromisoformat(text)
    except ValueError:
        raise InputError(f"must be year-month-day, such as {today} (got {text!r})", "--date") from None
    if found is not None and found > today:
        raise InputError(f"must not be in the future (got {found})", "--date")
    return None if found is None else found.isoformat()


def write_draft(name: str, table: Table, known: dict[str, Layout], place: Path) -> None:
    """Add the draft of a layout to the file of layouts."""
    from cli.console import say
    from cli.files import require_place, write_whole
    from sim.device_files.drafts import drafted
    from sim.device_files.layouts import known_as
    from sim.errors import InputError

    require_place("--layouts", place, again=True)
    there = known_as(known, table.head)
    if there is not None or name in known:
        raise InputError(f"must be of new columns and a new name (got [{there.name if there else name}])", "--draft")
    before = place.read_text(encoding="utf-8") if place.exists() else ""
    write_whole(place, "\n".join([*([before.rstrip("\n") + "\n"] if before else []), drafted(name, table)]))
    say(
        f"Written to {place}: [{name}]. Read it, put it right, say checked = true, and give the command without --draft."
    )


def layout_of(table: Table, known: dict[str, Layout], file: Path, place: Path) -> Layout:
    """The layout of these columns; refused, with what to do, where none is known."""
    from sim.device_files.layouts import known_as, unlike
    from sim.errors import InputError

    found = known_as(known, table.head)
    if found is None:
        why = unlike(known, table.head)
        how = shlex.join(["overload", "import", str(file), "--draft", "NAME"])
        raise InputError(f"must have a layout in {place}{f' ({why})' if why else ''}: {how} writes a draft", str(file))
    return found


def report_of(
    table: Table, layout: Layout, squad: Path | None, day: str | None, today: date, source: str, place: Path
) -> Report:
    """The dry run."""
    from sim.device_files.known_games import games_of
    from sim.device_files.people import people_of, read_squad
    from sim.device_files.report import Setting, examined

    games = games_of(table, layout, str(place))
    people: People = people_of(list(games.values())) if squad is None else read_squad(squad)
    return examined(table, layout, Setting(games, people, day, today), source)


def require_keepable(found: Report, file: Path) -> None:
    """Refuse to keep what is in conflict, or nothing."""
    from sim.errors import InputError

    if found.conflicts:
        raise InputError(list(found.conflicts), str(file))
    if not found.kept:
        first = found.left_out[0]
        raise InputError(f"must have a row that can be kept (got none; line {first.line}: {first.reason})", str(file))
