"""`overload estimate GAME`: many bouts, then the answer in words, as JSON, or as tables."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli.console import columns, say
from cli.options import (
    MOST_BOUTS,
    Assumptions,
    Changes,
    Cluster,
    Details,
    GameName,
    Json,
    Population,
    Seed,
    Workers,
    bounded,
    given,
)
from cli.plot import Plot, give_plot, refuse_without, require_plot

if TYPE_CHECKING:
    from sim.experiments.checkpoints import Checkpoint
    from sim.measures.session_counts import SessionCounts

PICTURES = ("defending", "metres", "passes")
"""As in `sim.plots.pages`, which is heavy; a test holds the two together."""
TABLES = ("event", "pass_run", "defending_spell", "player", "bout", "summary")


def estimate(
    game: GameName,
    bouts: Annotated[int, bounded("--bouts", 1, MOST_BOUTS, "Play at least this many bouts, in whole sessions.")] = 200,
    precision: Annotated[
        str | None,
        typer.Option("--precision", metavar="SHARE", help="Go on until the answer is this precise, e.g. 5%."),
    ] = None,
    measure: Annotated[
        str | None,
        typer.Option(
            "--measure",
            metavar="MEASURE[.ROLE]",
            help="What is to be precise, e.g. metres.inside (if not given, what the game is about).",
        ),
    ] = None,
    budget: Annotated[
        int | None, bounded("--budget", 1, MOST_BOUTS, "With --precision: bouts at most (default 4000).")
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
    seed: Seed = 1,
    population: Population = None,
    changes: Changes = None,
    assumptions: Assumptions = None,
    details: Details = False,
    json: Json = None,
    tables: Annotated[
        Path | None,
        typer.Option(
            "--tables", metavar="DIR", help="Write tables of all bouts as CSV files to this folder (it is made)."
        ),
    ] = None,
    plot: Plot = None,
    picture: Annotated[
        str | None,
        typer.Option("--picture", metavar="NAME", help="What --plot draws: defending (the default), metres or passes."),
    ] = None,
    workers: Workers = None,
    cluster: Cluster = None,
) -> None:
    """Play many bouts and say how often they lose it, who is in the middle and how far they run."""
    from cli.files import Keeper, give, require_json, require_makeable, require_place, write_into
    from sim import load_game
    from sim.errors import InputError
    from sim.experiments.assumption_file import read_or_none

    chosen = load_game(game, changes or (), population)
    asked = given(
        "estimate", game, seed, population, changes, assumptions,
        ("--precision", precision), ("--measure", measure), ("--budget", budget), ("--json", json), ("--tables", tables),
        ("--plot", plot), ("--picture", picture), ("--workers", workers), ("--cluster", cluster), ("--save", save),
        ("--bouts", bouts), ("--extend", extend), ("--details", details),
        played=chosen,
    )  # fmt: skip
    own = read_or_none(assumptions)
    require_json(json)
    if tables is not None:
        require_makeable("--tables", tables)
    if save is not None:
        require_place("--save", save, again=True)
    for option, value in (("--measure", measure), ("--budget", budget)):
        if value is not None and precision is None:
            raise InputError(f"must go with --precision (got {value!r} without)", option)

    require_plot(
        plot, None if json == "-" else json, save, *((tables / f"{level}.csv" for level in TABLES) if tables else ())
    )
    refuse_without(plot, picture=picture)
    if picture not in (None, *PICTURES):
        raise InputError(f"must be one of: {', '.join(PICTURES)} (got {picture!r})", "--picture")

    from cli.executors import crew
    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim import estimate as estimate_game
    from sim.experiments.checkpoints import read, written
    from sim.experiments.levers import unit_of
    from sim.experiments.stopping_rule import precision_of
    from sim.words.estimate_details import answer_in_words, going_on
    from sim.words.measure_phrases import noun

    sessions: dict[int, SessionCounts] = {}
    before = None if extend is None else read(extend, "--extend")
    goes_on = save is not None and save.exists() and (extend is None or not save.samefile(extend))
    begun = read(save, "--save") if goes_on else None
    keeper = Keeper(save)

    def keep(found: Checkpoint) -> None:
        if save is not None:
            keeper(written(found))
        sessions.update(found.sessions)

    with crew(workers, cluster) as hands, Progress("bouts") as progress:
        result = estimate_game(
            chosen,
            bouts=bouts,
            seed=seed,
            workers=hands,
            progress=progress,
            changes=changes or (),
            assumptions=own,
            precision=None if precision is None else precision_of(precision, measure, budget or 4000, chosen, noun),
            saved=before,
            begun=begun,
            keep=keep if save is not None or plot is not None else None,
        )

    unit = unit_of(chosen, lambda turn: load_game(game, [*(changes or ()), *turn], population))
    give(json, result.to_json, lambda: answer_in_words(result, chosen, asked, details, columns(), unit))
    if how := going_on(result.cautions, asked):
        say(how, err=True)
    keeper.settle()
    if tables is not None:
        from sim.experiments.tables import session_tables

        found = session_tables(chosen, bouts=result.bouts, seed=seed, assumptions=own)
        write_into(
            tables, {f"{level}.csv": table.to_csv(index=False, lineterminator="\n") for level, table in found.items()}
        )
    if plot is not None:
        from sim.plots.pages import of_result

        played = [sessions[number] for number in sorted(sessions)][: result.bouts // chosen.bouts.count]
        give_plot(plot, of_result(result, chosen, played, picture or PICTURES[0]))
