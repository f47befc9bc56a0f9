"""`overload estimate GAME`: many bouts, then the answer in words, as JSON, or as tables."""

from __future__ import annotations

from itertools import accumulate
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.console import console_width, say
from cli.plot import give_plot, refuse_without, require_plot
from cli.scenario import scenario_of

if TYPE_CHECKING:
    from sim.assumptions import Assumptions
    from sim.experiments.checkpoints import Checkpoint
    from sim.game.model import Game
    from sim.measures.session_counts import SessionCounts

PICTURES = ("defending", "metres", "passes")
"""As in `sim.plots.pages`, which is heavy; a test holds the two together."""
TABLES = ("event", "pass_run", "defending_spell", "player", "bout", "summary")


def estimate(
    game: options.GameName,
    bouts: Annotated[
        int, options.bounded("--bouts", 1, options.MOST_BOUTS, "Play at least this many bouts, in whole sessions.")
    ] = 200,
    precision: Annotated[
        str | None,
        typer.Option("--precision", metavar="SHARE", help="Go on until the answer is this precise, e.g. 5%."),
    ] = None,
    measure: Annotated[
        str | None,
        typer.Option(
            "--measure",
            metavar="MEASURE[.ROLE]",
            help="What you care about, e.g. points or metres.inside: it leads the answer, and --precision is of it.",
        ),
    ] = None,
    budget: Annotated[
        int | None,
        options.bounded("--budget", 1, options.MOST_BOUTS, "With --precision: bouts at most (default 4000)."),
    ] = None,
    save: Annotated[
        Path | None,
        typer.Option(
            "--save",
            metavar="FILE",
            help="Keep what is played (.npz): a run that was stopped goes on with the same command.",
        ),
    ] = None,
    extend: Annotated[
        Path | None,
        typer.Option(
            "--extend", metavar="FILE", help="Play --bouts more than --save kept, and answer from all of them."
        ),
    ] = None,
    seed: options.Seed = 1,
    population: options.Population = None,
    changes: options.Changes = None,
    assumptions: options.Assumptions = None,
    details: options.Details = False,
    json: options.Json = None,
    tables: Annotated[
        Path | None,
        typer.Option(
            "--tables", metavar="DIR", help="Write tables of all bouts as CSV files to this folder (it is made)."
        ),
    ] = None,
    plot: options.Plot = None,
    picture: Annotated[
        str | None,
        typer.Option("--picture", metavar="NAME", help="What --plot draws: defending (the default), metres or passes."),
    ] = None,
    workers: options.Workers = None,
    cluster: options.Cluster = None,
) -> None:
    """Play many bouts and say how often they lose it, who is in the middle and how far they run."""
    from cli.files import give, keeper_at, require_json, require_makeable
    from sim.errors import InputError

    scenario = scenario_of(game, seed, population, changes, assumptions)
    chosen = scenario.load()
    asked = scenario.given(
        "estimate", ("--precision", precision), ("--measure", measure), ("--budget", budget), ("--json", json),
        ("--tables", tables), ("--plot", plot), ("--picture", picture), ("--workers", workers), ("--cluster", cluster),
        ("--save", save), ("--bouts", bouts), ("--extend", extend), ("--details", details),
        played=chosen,
    )  # fmt: skip
    own = scenario.replaced()
    require_json(json)
    if tables is not None:
        require_makeable("--tables", tables)
    keeper = keeper_at(save)
    if precision is None:
        refuse_given("--precision", ("--budget", budget))
    cares = cared_for(measure, chosen)
    require_plot(
        plot, None if json == "-" else json, save, *((tables / f"{level}.csv" for level in TABLES) if tables else ())
    )
    refuse_without(plot, picture=picture)
    if picture not in (None, *PICTURES):
        raise InputError(f"must be one of: {', '.join(PICTURES)} (got {picture!r})", "--picture")

    from cli.executors import executor_of
    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.checkpoints import read, written
    from sim.experiments.estimate import estimate as estimate_game
    from sim.experiments.levers import unit_of
    from sim.experiments.stopping_rule import precision_of
    from sim.words.estimate_details import answer_in_words, going_on
    from sim.words.measure_phrases import noun

    sessions: dict[int, SessionCounts] = {}
    before = None if extend is None else read(extend, "--extend")
    begun = None
    if save is not None and save.exists() and not (extend is not None and save.samefile(extend)):
        begun = read(save, "--save")

    def keep(found: Checkpoint) -> None:
        if save is not None:
            keeper(written(found))
        sessions.update(found.sessions)

    with executor_of(workers, cluster) as executor, Progress("bouts") as progress:
        result = estimate_game(
            chosen,
            bouts=bouts,
            seed=seed,
            workers=executor,
            progress=progress,
            changes=scenario.changes,
            assumptions=own,
            precision=None if precision is None else precision_of(precision, measure, budget or 4000, chosen, noun),
            saved=before,
            begun=begun,
            keep=keep if save is not None or plot is not None else None,
        )

    unit = unit_of(chosen, scenario.load)
    give(json, result.to_json, lambda: answer_in_words(result, chosen, asked, details, console_width(), unit, cares))
    if how := going_on(result.cautions, asked):
        say(how, err=True)
    keeper.settle()
    if tables is not None:
        write_tables(tables, chosen, result.bouts, seed, own)
    if plot is not None:
        from sim.plots.pages import of_result

        played = leading([sessions[number] for number in sorted(sessions)], result.bouts)
        give_plot(plot, of_result(result, chosen, played, picture or PICTURES[0]))


def cared_for(measure: str | None, game: Game) -> tuple[str, str] | None:
    """(measure, scope) that the answer is to lead with, as typed; None where that is left to the kind of game."""
    if measure is None:
        return None
    from sim.experiments.stopping_rule import asked_measure  # heavy: only where it is asked for

    return asked_measure(measure, game)


def leading(sessions: list[SessionCounts], bouts: int) -> list[SessionCounts]:
    """The first sessions, as many as have so many bouts together: a series may be decided before its last."""
    through = list(accumulate(one.bouts for one in sessions))
    return [one for one, so_far in zip(sessions, through, strict=True) if so_far <= bouts]


def refuse_given(needed: str, *options_: tuple[str, object]) -> None:
    """Refuse options that say nothing without another one."""
    from sim.errors import InputError

    for option, value in options_:
        if value is not None:
            raise InputError(f"must go with {needed} (got {value!r} without)", option)


def write_tables(folder: Path, game: Game, bouts: int, seed: int, own: Assumptions) -> None:
    """The tables of all bouts as CSV files in a folder: the bouts are played once more."""
    from cli.files import write_into
    from sim.experiments.tables import session_tables

    found = session_tables(game, bouts=bouts, seed=seed, assumptions=own)
    texts = {f"{level}.csv": table.to_csv(index=False, lineterminator="\n") for level, table in found.items()}
    write_into(folder, texts)
