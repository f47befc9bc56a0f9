"""`overload plan FILE`: a week or a pre-season, its games chosen for what each evening should amount to and who trains."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.console import console_width, say, say_json

if TYPE_CHECKING:
    from cli.files import Files
    from sim.planning.kept_loads import Shelf
    from sim.weeks.kept_layouts import Layouts
    from sim.weeks.moving import Moved
    from sim.weeks.people import Member
    from sim.weeks.plan import Planned, Table
    from sim.weeks.plan_data import Misses
    from sim.weeks.playing import Asked
    from sim.weeks.review import Played


def plan(
    file: Annotated[Path | None, typer.Argument(metavar="FILE", help="The plan, as TOML.")] = None,
    week: Annotated[
        int | None, options.bounded("--week", 1, 60, "The evenings of this week alone, counted from 1.")
    ] = None,
    move: Annotated[
        str | None,
        typer.Option(
            "--move", metavar="DAY=DAY", help="Move a match or an evening, e.g. sat=fri, and say what changes."
        ),
    ] = None,
    review: Annotated[
        bool, typer.Option("--review", help="Look back on --week: planned beside what the logbook holds.")
    ] = False,
    logbook: options.Logbook = None,
    calendar: Annotated[
        Path | None, typer.Option("--calendar", metavar="FILE", help="Write it as a calendar, as .ics.")
    ] = None,
    page: Annotated[
        Path | None, typer.Option("--page", metavar="FILE", help="A page with its pictures, as .html, to print.")
    ] = None,
    details: options.Details = False,
    json: options.Json = None,
    example: Annotated[bool, typer.Option("--example", help="Print a plan file to begin with.")] = False,
    seed: options.Seed = 1,
    workers: options.Workers = None,
    cluster: options.Cluster = None,
) -> None:
    """Plan a week or a pre-season: which games on which evening, and what that is for everybody."""
    from cli.files import refuse_overwriting
    from cli.shelf import shelf_of
    from sim.errors import InputError
    from sim.weeks.kept_layouts import Layouts
    from sim.weeks.playing import asked_with, file_in
    from sim.weeks.used_up import settled
    from sim.weeks.week_file import EXAMPLE

    if example:
        say(EXAMPLE.rstrip())
        return
    if file is None:
        raise InputError("must be given: a plan file; `overload plan --example` prints one to begin with", "FILE")
    require_places(calendar, page, json)
    shelf = shelf_of()
    layouts = Layouts(shelf.folder, shelf.write)
    asked = asked_for(file, move, layouts)
    wanted = (("--calendar", calendar), ("--page", page), ("--json", None if json in (None, "-") else Path(json)))
    read = [one for one in (*asked.file.squad, *asked.file.games, asked.file.heat_table) if one]
    refuse_overwriting(wanted, [file, *(file_in(file.parent, one) for one in read)])
    require_week(asked, week, review)
    if review and (calendar or page or json):
        option = "--calendar" if calendar else "--page" if page else "--json"
        raise InputError("must be given without --review, which writes no file", option)
    counted = counted_in(logbook) if review else {}  # refused before anything is played
    layouts.keep()
    table = table_for(asked, (workers, cluster), seed, shelf)

    def wider(members: Sequence[Member]) -> Table:
        more = asked_with(asked, members, layouts)
        layouts.keep()
        return table_for(more, (workers, cluster), seed, shelf)

    found, table = settled(asked.file, asked.members, table, wider=wider)
    again = f"overload plan {shlex.quote(str(file))}"
    if review:
        say(reviewed(found, week or 1, counted, details))
        return
    answer = answer_of(found, asked, table, (week, again))
    data = partial(plan_json, answer, table, seed)
    if json == "-":
        say_json(data())
    else:
        say(answer.whole if details else answer.screen)
    write(answer, seed, wanted, data)


@dataclass(frozen=True)
class Answer:
    """A plan with its screen and all of it in words; `moved`: what a move changes."""

    plan: Planned
    misses: Misses
    screen: str
    whole: str
    moved: Moved | None = None


def answer_of(found: Planned, asked: Asked, table: Table, about: tuple[int | None, str]) -> Answer:
    """The plan, or the plan after the move; `about`: the week that is asked for and the command as typed."""
    from sim.weeks.moving import moved
    from sim.weeks.plan import misses_of
    from sim.words.move_screen import move_on_a_screen
    from sim.words.plan_details import plan_in_full
    from sim.words.plan_screen import plan_on_a_screen

    if asked.move is None:
        misses = misses_of(found)
        return Answer(
            found, misses, plan_on_a_screen(found, misses, *about), plan_in_full(found, misses, console_width())
        )
    after = moved(found, asked.move, asked.members, table)
    misses = misses_of(after.after)
    screen = move_on_a_screen(after, misses, about[1])
    whole = plan_in_full(after.after, misses, console_width())
    return Answer(after.after, misses, screen, f"{screen}\n\n{whole}", after)


def require_places(calendar: Path | None, page: Path | None, json: str | None) -> None:
    """Refuse files that cannot be written, before anything is played."""
    from cli.files import require_json, require_place

    for option, path in (("--calendar", calendar), ("--page", page)):
        if path is not None:
            require_place(option, path)
    require_json(json)


def asked_for(file: Path, move: str | None, layouts: Layouts) -> Asked:
    """What the file asks for, checked, with what is to be moved."""
    from sim.errors import InputError
    from sim.weeks.moving import read_move
    from sim.weeks.playing import asked_of
    from sim.weeks.week_file import read_plan

    whole = read_plan(file)
    try:
        return asked_of(whole, file.parent, None if move is None else read_move(move, whole), layouts)
    except InputError as error:
        raise InputError(error.problems, error.source or str(file)) from None


def require_week(asked: Asked, week: int | None, review: bool) -> None:
    """Refuse a week that the plan does not have."""
    from sim.errors import InputError
    from sim.weeks.days import week_number

    last = max(week_number(one.day, asked.file.first) for one in asked.file.evenings)
    if week is not None and week > last:
        raise InputError(f"must be from 1 to {last}, the weeks of this plan (got {week})", "--week")
    if review and asked.move is not None:
        raise InputError("must be given without --review: a week that is over is not moved", "--move")
    if week is not None and asked.move is not None:
        raise InputError("must be given without --week: what a move changes is said of the whole plan", "--move")


def table_for(asked: Asked, how: tuple[int | None, str | None], seed: int, shelf: Shelf) -> Table:
    """What the games give: played, or found where they are kept; a plan that was stopped goes on there."""
    from cli.executors import executor_of
    from cli.progress import Progress
    from sim.weeks.playing import table_of

    with executor_of(*how) as executor, Progress("bouts") as progress:
        return table_of(asked, shelf, seed, executor, progress)


def counted_in(logbook: Path | None) -> dict[date, Played]:
    """What the logbook says was played, day by day."""
    from cli.own_logbook import logbook_at
    from sim.weeks.review import played_by_day

    with logbook_at(logbook) as book:
        return played_by_day(book.evenings())


def reviewed(found: Planned, week: int, counted: dict[date, Played], details: bool) -> str:
    """The look back on a week."""
    from sim.weeks.review import evenings_of, players_of
    from sim.words.week_review import review_on_a_screen

    looked = evenings_of(found, week, counted)
    return review_on_a_screen(found, week, looked, players_of(found, looked), details)


def plan_json(answer: Answer, table: Table, seed: int) -> str:
    """The answer for programs."""
    from sim.experiments.origin import as_json
    from sim.weeks.plan_data import plan_data

    return as_json(plan_data(answer.plan, answer.misses, table, seed, answer.moved))


def write(answer: Answer, seed: int, asked: Files, data: Callable[[], str]) -> None:
    """Write the calendar, the page and the JSON (`data`) that were asked for, all or none."""
    from cli.files import encoded, write_together

    calendar, page, json = (path for _, path in asked)
    files: dict[Path, bytes] = {}
    if calendar is not None:
        from sim.weeks.calendar_file import calendar as calendar_of
        from sim.words.plan_details import event_of

        files[calendar] = calendar_of(answer.plan, event_of)
    if page is not None:
        from sim.plots.plan_pages import of_move, of_plan
        from sim.report.plan_page import plan_page

        first = [] if answer.moved is None else [of_move(answer.moved, seed)]
        pages = [*first, *of_plan(answer.plan, seed)]
        files[page] = encoded(plan_page(answer.plan.file.title, answer.screen, answer.whole, pages))
    if json is not None:
        files[json] = encoded(data() + "\n")
    write_together(files)
    if said := [str(one) for one in (calendar, page) if one is not None]:
        say(f"Written: {', '.join(said)}", err=True)
