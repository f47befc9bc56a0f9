"""`overload why GAME --measure NAME`: which assumptions and which levers move a measure."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.options import (
    MOST_BOUTS,
    MOST_ROWS,
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
from cli.plot import Plot, give_plot, require_plot


def why(
    game: GameName,
    measure: Annotated[
        str,
        typer.Option("--measure", metavar="NAME", help="Which number is asked about, e.g. losses or metres.inside."),
    ],
    scope: Annotated[str, typer.Option("--scope", help="Of whom: game, team:NAME or role:NAME.")] = "game",
    bouts: Annotated[
        int,
        bounded("--bouts", 1, MOST_BOUTS, "Bouts in each of some two hundred runs, at least."),
    ] = 8,
    seed: Seed = 1,
    population: Population = None,
    changes: Changes = None,
    assumptions: Assumptions = None,
    most: Annotated[int, bounded("--most", 1, MOST_ROWS, "With --details: rows of the table.")] = 12,
    details: Details = False,
    json: Json = None,
    plot: Plot = None,
    workers: Workers = None,
    cluster: Cluster = None,
) -> None:
    """What matters most to a number: how play is modelled, how well the players are known, or what you can change?"""
    from cli.console import columns
    from cli.files import give, require_json
    from sim import load_game
    from sim.experiments.assumption_file import read_or_none
    from sim.experiments.why import asked_of, check
    from sim.words.commands import with_tweak

    base = tuple(changes or ())
    chosen = load_game(game, base, population)
    own = read_or_none(assumptions)
    key = asked_of(chosen, measure, scope)
    check(bouts, seed, workers)
    said = given(
        "why", game, seed, population, changes, assumptions,
        ("--measure", measure), ("--scope", scope), ("--bouts", bouts),
        played=chosen,
    )  # fmt: skip
    require_json(json)
    require_plot(plot, json)

    from cli.executors import crew
    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.why import why as why_game
    from sim.words.why import why_in_words

    with crew(workers, cluster) as hands, Progress("bouts") as progress:
        found = why_game(
            chosen,
            *key,
            bouts=bouts,
            seed=seed,
            load=lambda more: load_game(game, with_tweak(base, tuple(more)), population),
            workers=hands,
            progress=progress,
            changes=base,
            assumptions=own,
        )
    give(json, found.to_json, lambda: why_in_words(found, chosen, most, said, details, columns()))
    if plot is not None:
        from sim.plots.pages import of_why

        give_plot(plot, of_why(found, most))
