"""`overload why GAME --measure NAME`: which assumptions and which levers move a measure."""

from __future__ import annotations

from typing import Annotated

import typer

from cli import options
from cli.plot import give_plot, require_plot
from cli.scenario import scenario_of


def why(
    game: options.GameName,
    measure: Annotated[
        str,
        typer.Option("--measure", metavar="NAME", help="Which number is asked about, e.g. losses or metres.inside."),
    ],
    scope: Annotated[str, typer.Option("--scope", help="Of whom: game, team:NAME or role:NAME.")] = "game",
    bouts: Annotated[
        int,
        options.bounded("--bouts", 1, options.MOST_BOUTS, "Bouts in each of some two hundred runs, at least."),
    ] = 8,
    seed: options.Seed = 1,
    population: options.Population = None,
    changes: options.Changes = None,
    assumptions: options.Assumptions = None,
    most: Annotated[int, options.bounded("--most", 1, options.MOST_ROWS, "With --details: rows of the table.")] = 12,
    details: options.Details = False,
    json: options.Json = None,
    plot: options.Plot = None,
    workers: options.Workers = None,
    cluster: options.Cluster = None,
) -> None:
    """What matters most to a number: how play is modelled, how well the players are known, or what you can change?"""
    from cli.console import console_width
    from cli.files import give, require_json
    from sim.experiments.why import asked_of, check

    scenario = scenario_of(game, seed, population, changes, assumptions)
    chosen = scenario.load()
    own = scenario.replaced()
    key = asked_of(chosen, measure, scope)
    check(bouts, seed, workers)
    asked = scenario.given("why", ("--measure", measure), ("--scope", scope), ("--bouts", bouts), played=chosen)
    require_json(json)
    require_plot(plot, json)

    from cli.executors import executor_of
    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.why import why as why_game
    from sim.words.why import why_in_words

    with executor_of(workers, cluster) as executor, Progress("bouts") as progress:
        found = why_game(
            chosen,
            *key,
            bouts=bouts,
            seed=seed,
            load=scenario.load,
            workers=executor,
            progress=progress,
            changes=scenario.changes,
            assumptions=own,
        )
    give(json, found.to_json, lambda: why_in_words(found, chosen, most, asked, details, console_width()))
    if plot is not None:
        from sim.plots.pages import of_why

        give_plot(plot, of_why(found, most))
