"""`overload session FILE`: tonight's blocks for who is there, what they give each player, and what would bring it into the band."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.console import console_width, say, say_json

if TYPE_CHECKING:
    from cli.files import Files
    from sim.game.model import Game
    from sim.planning.block_loads import BlockLoads
    from sim.planning.closing import Change
    from sim.planning.forecast import Forecast
    from sim.planning.heat import Heat
    from sim.planning.session import Planned
    from sim.planning.session_file import Evening
    from sim.planning.usual_evening import UsualEvening
    from sim.words.commands import Option


def session(  # noqa: PLR0913 - the options of a command
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A session file (see scenarios/evening/tuesday.toml).")],
    players: Annotated[
        int | None,
        options.bounded(
            "--players", 1, options.MOST_PEOPLE, "So many turned up, keepers not counted: the first of the list."
        ),
    ] = None,
    without: Annotated[
        str | None, typer.Option("--without", metavar="SHIRTS", help="Who did not turn up, by shirt: 7,11.")
    ] = None,
    wbgt: Annotated[
        float | None, typer.Option("--wbgt", metavar="DEGREES", help="Wet-bulb globe temperature at the pitch, in C.")
    ] = None,
    heat_table: Annotated[
        Path | None,
        typer.Option("--heat-table", metavar="FILE", help="The heat policy of your club or federation, as CSV."),
    ] = None,
    sheets: Annotated[
        Path | None, typer.Option("--sheets", metavar="FILE", help="The sheets of all blocks, as one .pdf.")
    ] = None,
    csv: Annotated[Path | None, typer.Option("--csv", metavar="FILE", help="Every player's figures, as CSV.")] = None,
    details: options.Details = False,
    json: options.Json = None,
    seed: options.Seed = 1,
    workers: options.Workers = None,
) -> None:
    """Plan tonight's blocks for who is there: clock, kit, what each player gets, and the cheapest change that closes a gap."""
    from cli.executors import executor_of
    from cli.files import refuse_overwriting
    from cli.progress import Progress
    from cli.shelf import shelf_of
    from sim.planning.session import people_there, planned, replanned
    from sim.planning.session_file import read_evening
    from sim.words.commands import USUAL_SEED
    from sim.words.session_screen import KEPT, session_on_a_screen

    asked_files = (("--sheets", sheets), ("--csv", csv), ("--json", None if json in (None, "-") else Path(json)))
    refuse_places(asked_files)
    heat = heat_of(wbgt, heat_table)
    evening = read_evening(file)
    inputs = [file, *([] if heat_table is None else [heat_table]), *files_of(evening)]
    refuse_overwriting(asked_files, inputs)
    here = people_there(evening, players, shirts_of(without))
    replan = players is not None or without is not None
    plan, before = replanned(evening, here, heat) if replan else (planned(evening, here, heat), None)

    from sim.experiments.executors import standing
    from sim.planning.block_loads import loads_of
    from sim.planning.closing import cheapest_change
    from sim.planning.forecast import forecast
    from sim.planning.heat import in_force
    from sim.planning.usual_evening import usual_evening

    shelf = shelf_of()
    usual = usual_evening(evening, here, replan, shelf, seed) if in_force(heat) else None
    with executor_of(workers, None) as executor, standing(executor) as pool, Progress("bouts") as progress:

        def play(games: Sequence[Game]) -> dict[Game, BlockLoads]:
            return dict(zip(games, loads_of(games, shelf, seed, None, pool, progress), strict=True))

        try:
            loads = play(plan.games)
            found = forecast(plan, loads)
            change = cheapest_change(found, loads, play)
        except KeyboardInterrupt:
            say(KEPT, err=True)
            raise
    data = partial(session_json, found, before, change, wbgt, seed, usual)
    written = write(found, asked_files, data)
    if json == "-":
        say_json(data())
        return
    asked = (
        ("--without", without),
        ("--players", players),
        ("--wbgt", None if wbgt is None else f"{wbgt:.15g}"),
        ("--heat-table", heat_table),
        ("--seed", None if seed == USUAL_SEED else seed),
    )
    doing = [
        *next_step(file, asked, written, sheets is not None),
        *(without_limits(file, evening, asked, found, heat) if change is None and not in_force(heat) else []),
    ]
    say(session_on_a_screen(found, before, change, wbgt, doing, usual))
    if details:
        from sim.words.session_details import session_details

        say("\n" + session_details(found, console_width()))


def refuse_places(files: Files) -> None:
    """Refuse, before anything is played, files that cannot be written."""
    from cli.files import require_place
    from sim.errors import InputError

    for option, place in files:
        if place is not None:
            require_place(option, place)
    sheets = dict(files)["--sheets"]
    if sheets is not None and sheets.suffix.lower() != ".pdf":
        raise InputError(f"must end in .pdf (got {str(sheets)!r})", "--sheets")


def files_of(evening: Evening) -> list[Path]:
    """The files that an evening was read from beside its own: the squad, and games."""
    games = [part.block.game for part in evening.parts]
    squad = [evening.squad.source] if evening.squad.source else []
    return [Path(one) for one in (*squad, *(game for game in games if game.endswith(".toml")))]


def session_json(
    found: Forecast,
    before: Planned | None,
    change: Change | None,
    wbgt: float | None,
    seed: int,
    usual: UsualEvening | None,
) -> str:
    """The answer for programs."""
    from sim.experiments.origin import as_json
    from sim.planning.session_data import session_data

    return as_json(session_data(found, before, change, wbgt, seed, usual))


def write(found: Forecast, asked: Files, data: Callable[[], str]) -> tuple[Path, ...]:
    """Write the sheets, the figures and the JSON (`data`) that were asked for, all or none; where those for people are."""
    from cli.files import encoded, write_together

    sheets, csv, json = (place for _, place in asked)
    files: dict[Path, bytes] = {}
    if sheets is not None:
        from sim import __version__
        from sim.report.session_sheets import session_sheets

        files[sheets] = session_sheets(found.plan, __version__)
    if csv is not None:
        from sim.words.session_details import players_csv

        files[csv] = encoded(players_csv(found))
    if json is not None:
        files[json] = encoded(data() + "\n")
    write_together(files)
    return tuple(one for one in files if one != json)


def heat_of(wbgt: float | None, heat_table: Path | None) -> Heat | None:
    """The row of the table for the reading; None where there is no table."""
    from sim.errors import InputError
    from sim.planning.heat import LEAST_WBGT, MOST_WBGT, read_heat

    if wbgt is not None and not LEAST_WBGT <= wbgt <= MOST_WBGT:
        raise InputError(f"must be from {LEAST_WBGT:g} to {MOST_WBGT:g} degrees C (got {wbgt:g})", "--wbgt")
    if heat_table is not None and wbgt is None:
        raise InputError("must go with a reading, --wbgt (got none)", "--heat-table")
    return None if heat_table is None or wbgt is None else read_heat(heat_table, wbgt)


def shirts_of(typed: str | None) -> tuple[int, ...]:
    """Shirt numbers as typed, with commas between."""
    from sim.errors import InputError
    from sim.game.messages import show
    from sim.planning.session_file import MOST_SHIRT_DIGITS

    parts = [part.strip() for part in (typed or "").split(",") if part.strip()]
    if wrong := [part for part in parts if not part.isdecimal() or len(part) > MOST_SHIRT_DIGITS]:
        got = show(wrong[0]).strip('"')
        raise InputError(f"must be shirt numbers with commas between, as 7,11 (got {got})", "--without")
    return tuple(int(part) for part in parts)


def next_step(file: Path, asked: Sequence[Option], written: Sequence[Path], with_sheets: bool) -> list[str]:
    """What was written; the sheets to print, of the evening as it was `asked` for, where they are not among it."""
    from sim.words.commands import options_of

    said = [f"Written: {', '.join(map(str, written))}."] if written else []
    if with_sheets:
        return said
    options = options_of((*asked, ("--sheets", "evening.pdf")))
    command = f"  overload session {' '.join([shlex.quote(str(file)), *options])}"
    return [*said, "Try next, a sheet for every group:", command]


def without_limits(
    file: Path, evening: Evening, asked: Sequence[Option], found: Forecast, heat: Heat | None
) -> list[str]:
    """How to see the evening without the first of the squad who has a place of his own for his limits; nothing where there is none,
    or where it would not hold."""
    from sim.errors import InputError
    from sim.planning.session import replanned
    from sim.words.commands import options_of

    plan = found.plan
    bound = next((one for one in plan.people if one.restricted and not one.keeps), None)
    if bound is None:
        return []
    try:
        replanned(evening, [one for one in plan.people if one != bound], heat)
    except InputError:
        return []
    left_out = ",".join([*([str(typed)] if (typed := dict(asked)["--without"]) else []), str(bound.shirt)])
    options = options_of([(name, left_out if name == "--without" else value) for name, value in asked])
    command = f"  overload session {' '.join([shlex.quote(str(file)), *options])}"
    return [f"What it would be without {bound.called}:", command]
