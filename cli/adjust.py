"""`overload adjust GAME --aim losses=3`: the card for the grass.  Which lever first, what else it moves, and when."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.drawer import Save, drawer
from cli.options import (
    MOST_BOUTS,
    MOST_STEP,
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
from cli.report import Report, give_report, load_with, require_pages, watched, what_matters


def adjust(
    game: GameName,
    aim: Annotated[
        str,
        typer.Option(
            "--aim",
            metavar="MEASURE=VALUE",
            help="E.g. losses=3, wins=more or metres.inside=less: a number (shares in per cent), more or less.",
        ),
    ],
    step: Annotated[int, bounded("--step", 1, MOST_STEP, "Sizes move by so many metres (or yards, as the file).")] = 1,
    bouts: Annotated[int, bounded("--bouts", 1, MOST_BOUTS, "Bouts of the game and of each change, at least.")] = 80,
    precision: Annotated[
        str | None,
        typer.Option(
            "--precision",
            metavar="SHARE",
            help="Go on until every effect is known to within this share of the game's own value, e.g. 10%.",
        ),
    ] = None,
    budget: Annotated[
        int | None,
        bounded("--budget", 1, MOST_BOUTS, "With --precision: bouts of all together at most (default 8000)."),
    ] = None,
    seed: Seed = 1,
    population: Population = None,
    changes: Changes = None,
    assumptions: Assumptions = None,
    details: Details = False,
    json: Json = None,
    save: Save = None,
    plot: Plot = None,
    report: Report = None,
    workers: Workers = None,
    cluster: Cluster = None,
) -> None:
    """What to change first, what else that does, and when to do it: the card for the grass."""
    from cli.console import columns, say
    from cli.files import Keeper, give, require_json, require_place
    from sim import load_game
    from sim.errors import InputError
    from sim.experiments.assumption_file import read_or_none
    from sim.experiments.levers import levers_of

    whole = tuple(changes or ())
    base = load_game(game, whole, population)
    own = read_or_none(assumptions)
    again = given(
        "adjust", game, seed, population, changes, assumptions,
        ("--aim", aim), ("--step", step), ("--bouts", bouts), ("--precision", precision), ("--budget", budget),
        ("--details", details), ("--json", json), ("--save", save), ("--plot", plot), ("--report", report),
        ("--workers", workers),
        ("--cluster", cluster),
        played=base,
    )  # fmt: skip
    if budget is not None and precision is None:
        raise InputError(f"must go with --precision (got {budget} without)", "--budget")
    said = given(
        "adjust",
        game,
        seed,
        population,
        changes,
        assumptions,
        ("--aim", aim),
        ("--step", step),
        ("--precision", precision),
        played=base,
    )
    require_json(json)
    if save is not None:
        require_place("--save", save, again=True)
    require_plot(plot, json, save)
    require_pages(2, json, save, plot, report=report)
    keeper = Keeper(save)

    from cli.executors import crew
    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.adjust import GOALS
    from sim.experiments.adjust import adjust as adjust_game
    from sim.experiments.everyday import target_of
    from sim.experiments.key_measures import aims_of
    from sim.experiments.shares import share_of
    from sim.words.adjust_details import adjusted_in_words
    from sim.words.estimate_details import going_on

    goal = target_of(aim, base, aims_of(base), "--aim", GOALS)
    share = None if precision is None else share_of(precision, "--precision")
    load = load_with(game, whole, population)
    levers, left_out = levers_of(base, load, step)
    with crew(workers, cluster) as hands, Progress("bouts") as progress, drawer(keeper, base) as kept:
        card = adjust_game(
            base,
            goal,
            levers,
            left_out,
            bouts=bouts,
            seed=seed,
            workers=hands,
            progress=progress,
            changes=whole,
            precision=share,
            budget=budget or 8000,
            population=population,
            assumptions=own,
            drawer=kept,
        )
    give(json, card.to_json, lambda: adjusted_in_words(card, base, said, details, columns()))
    if how := going_on(card.cautions, again):
        say(how, err=True)
    keeper.settle()
    if plot is not None:
        from sim.plots.pages import of_card

        give_plot(plot, of_card(card))
    if report is not None:
        from sim.report.reports import arms_of_card, report_of_card

        bouts_seen = watched(arms_of_card(card, base, load), seed, own)
        matters = what_matters(base, (card.measure, card.scope), seed, load, workers, cluster, whole, own)
        give_report(report, lambda: report_of_card(card, base, said, bouts_seen, matters))
