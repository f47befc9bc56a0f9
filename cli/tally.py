"""`overload tally GAME FILE.csv`: what was counted on the grass, held against what was forecast, and kept in the logbook.

With nothing counted yet: which counts tell most tonight, and for how many minutes; nothing is kept then.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.scenario import Scenario, scenario_of

if TYPE_CHECKING:
    from datetime import date

    from cli.files import Keeper
    from sim.assumptions import Assumptions
    from sim.game.model import Game
    from sim.own_counts.tally import Row
    from sim.words.commands import Given

EXPLAIN = 80
"""Bouts of every variant that might explain a count."""


def counting(name: str, words: str) -> typer.models.OptionInfo:
    """The option of a single count."""
    found: typer.models.OptionInfo = typer.Option(name, metavar="N", help=words)
    return found


def tally(
    game: options.GameName,
    file: Annotated[
        Path | None, typer.Argument(metavar="[FILE.csv]", help="The assistant's sheet, as printed by `overload sheet`.")
    ] = None,
    minutes: Annotated[float | None, typer.Option("--minutes", metavar="N", help="How long was counted.")] = None,
    clock: Annotated[
        str | None,
        typer.Option("--clock", metavar="NAME", help="The clock of these minutes: watch (usual) or rolling."),
    ] = None,
    losses: Annotated[int | None, counting("--losses", "Balls lost, out included.")] = None,
    wins: Annotated[int | None, counting("--wins", "Balls won.")] = None,
    outs: Annotated[int | None, counting("--outs", "Balls out.")] = None,
    passes: Annotated[int | None, counting("--passes", "Passes played.")] = None,
    longest_run: Annotated[int | None, counting("--longest-run", "Passes in the longest run.")] = None,
    reached: Annotated[int | None, counting("--reached", "Times they got to the number the rules ask for.")] = None,
    goals: Annotated[int | None, counting("--goals", "Goals.")] = None,
    day: Annotated[str | None, typer.Option("--date", metavar="YYYY-MM-DD", help="When (usual: today).")] = None,
    bout: Annotated[int | None, typer.Option("--bout", metavar="N", help="Which bout, counted from 1.")] = None,
    changed: Annotated[
        str | None,
        typer.Option("--changed", metavar="WORDS", help="What was changed on the grass; it is then not judged."),
    ] = None,
    players: Annotated[str | None, typer.Option("--players", metavar="WORDS", help="Who played.")] = None,
    logbook: options.Logbook = None,
    bouts: Annotated[
        int | None,
        options.bounded(
            "--bouts", 1, options.MOST_BOUTS, "Bouts of the forecast, in whole sessions (usual: 200 sessions)."
        ),
    ] = None,
    seed: options.Seed = 1,
    population: options.Population = None,
    changes: options.Changes = None,
    assumptions: options.Assumptions = None,
    details: options.Details = False,
    json: options.Json = None,
    save: options.Save = None,
    workers: options.Workers = None,
    cluster: options.Cluster = None,
) -> None:
    """Say whether what was counted is usual, unusual, or cannot be told; and keep it."""
    from cli import days
    from cli.files import give, keeper_at, require_json
    from sim.own_counts.columns import COUNTS

    scenario = scenario_of(game, seed, population, changes, assumptions)
    chosen = scenario.load()
    own = scenario.replaced()
    taken = dict(zip(COUNTS, (losses, wins, outs, passes, longest_run, reached, goals), strict=True))
    typed = {
        "minutes": None if minutes is None else f"{minutes:g}", "clock": clock, "date": day, "bout": bout, "changed": changed,
        "players": players, **taken,
    }  # fmt: skip
    nothing_yet = file is None and all(value is None for value in typed.values())
    rows = [] if nothing_yet else rows_typed(file, typed, chosen, days.today())
    asked = scenario.given(
        "tally", *((f"--{name.replace('_', '-')}", value) for name, value in typed.items()), ("--logbook", logbook),
        ("--bouts", bouts), ("--details", details), ("--json", json), ("--save", save), ("--workers", workers),
        ("--cluster", cluster), others=() if file is None else (str(file),), played=chosen,
    )  # fmt: skip
    require_json(json)
    keeper = keeper_at(save)
    if nothing_yet:
        before_counting(chosen, scenario, own, asked, json, seed, bouts, keeper, workers, cluster)
        return

    from cli.console import console_width, say
    from cli.drawer import drawer
    from cli.executors import executor_of
    from cli.own_logbook import Keeping
    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.levers import unit_of
    from sim.experiments.replicate import Replication, sessions_for
    from sim.own_counts.answer import answered, bouts_for, with_reasons
    from sim.own_counts.forecast import lengthened
    from sim.own_counts.verdict import ENOUGH
    from sim.words.tally_screen import tally_in_words

    planned = lengthened(chosen, bouts_for(chosen, rows))
    bouts = bouts or ENOUGH * planned.bouts.count
    with Keeping(logbook, chosen, game) as kept:
        kept.add(rows)
        with executor_of(workers, cluster) as executor, Progress("bouts") as progress, drawer(keeper, chosen) as held:
            run = Replication(seed, executor, progress, assumptions=own, drawer=held)
            forecast = kept.forecast(planned, bouts, run)
            wanted = 0 if len(kept.planned) == len(kept.sessions) > 0 else sessions_for(planned, bouts)
            judged = answered(chosen, rows, forecast, wanted, kept.planned, own.own_data)
            found = with_reasons(judged, planned, EXPLAIN, run)
    give(
        json,
        found.to_json,
        lambda: tally_in_words(found, chosen, asked, details, console_width(), unit_of(chosen, scenario.load)),
    )
    if kept.told:
        say(kept.told, err=True)
    keeper.settle()


def before_counting(  # noqa: PLR0913 - what the command was asked with
    chosen: Game,
    scenario: Scenario,
    own: Assumptions,
    asked: Given,
    json: str | None,
    seed: int,
    bouts: int | None,
    keeper: Keeper,
    workers: int | None,
    cluster: str | None,
) -> None:
    """What to count tonight, before anything is."""
    from cli.drawer import drawer
    from cli.executors import executor_of
    from cli.files import give
    from cli.progress import Progress
    from sim.experiments.levers import unit_of
    from sim.experiments.replicate import Replication, sessions_for
    from sim.own_counts.forecast import forecast_of, lengthened
    from sim.own_counts.verdict import ENOUGH
    from sim.own_counts.worth_counting import to_count
    from sim.words.to_count_screen import to_count_in_words

    planned = lengthened(chosen, chosen.bouts.count)
    with executor_of(workers, cluster) as executor, Progress("bouts") as progress, drawer(keeper, chosen) as held:
        run = Replication(seed, executor, progress, assumptions=own, drawer=held)
        bouts = bouts or ENOUGH * planned.bouts.count
        found = to_count(chosen, forecast_of(planned, bouts, run), sessions_for(planned, bouts))
    give(json, found.to_json, lambda: to_count_in_words(found, chosen, asked, unit_of(chosen, scenario.load)))
    keeper.settle()


def rows_typed(file: Path | None, typed: Mapping[str, object], game: Game, today: date) -> list[Row]:
    """The rows of the file, or the one on the command line; refused where both are given, or neither."""
    from sim.errors import InputError
    from sim.own_counts.sheet_file import read_sheet, row_typed

    given = [name for name, value in typed.items() if value is not None]
    if file is not None:
        if given:
            option = f"--{given[0].replace('_', '-')}"
            raise InputError(f"must go without a file, which has its own (got {typed[given[0]]!r})", option)
        return read_sheet(file, game, today)
    return [row_typed(typed, game, today)]
