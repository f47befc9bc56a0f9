"""`overload adjust GAME --aim losses=3`: the card for the grass.  Which lever first, what else it moves, and when."""

from __future__ import annotations

from typing import Annotated

import typer

from cli import options
from cli.drawer import drawer
from cli.plot import give_plot, require_plot
from cli.report import give_report, require_pages, watched, what_matters
from cli.scenario import scenario_of


def adjust(
    game: options.GameName,
    aim: Annotated[
        str,
        typer.Option(
            "--aim",
            metavar="MEASURE=VALUE",
            help="E.g. losses=3, wins=more or metres.inside=less: a number (shares in per cent), more or less.",
        ),
    ],
    step: Annotated[
        int, options.bounded("--step", 1, options.MOST_STEP, "Sizes move by so many metres (or yards, as the file).")
    ] = 1,
    bouts: Annotated[
        int, options.bounded("--bouts", 1, options.MOST_BOUTS, "Bouts of the game and of each change, at least.")
    ] = 80,
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
        options.bounded(
            "--budget", 1, options.MOST_BOUTS, "With --precision: bouts of all together at most (default 8000)."
        ),
    ] = None,
    seed: options.Seed = 1,
    population: options.Population = None,
    changes: options.Changes = None,
    assumptions: options.Assumptions = None,
    details: options.Details = False,
    json: options.Json = None,
    save: options.Save = None,
    plot: options.Plot = None,
    report: options.Report = None,
    workers: options.Workers = None,
    cluster: options.Cluster = None,
) -> None:
    """What to change first, what else that does, and when to do it: the card for the grass."""
    from cli.console import console_width, say
    from cli.files import give, keeper_at, require_json
    from sim.errors import InputError
    from sim.experiments.levers import levers_of

    scenario = scenario_of(game, seed, population, changes, assumptions)
    base = scenario.load()
    own = scenario.replaced()
    again = scenario.given(
        "adjust", ("--aim", aim), ("--step", step), ("--bouts", bouts), ("--precision", precision), ("--budget", budget),
        ("--details", details), ("--json", json), ("--save", save), ("--plot", plot), ("--report", report),
        ("--workers", workers),
        ("--cluster", cluster),
        played=base,
    )  # fmt: skip
    if budget is not None and precision is None:
        raise InputError(f"must go with --precision (got {budget} without)", "--budget")
    asked = scenario.given("adjust", ("--aim", aim), ("--step", step), ("--precision", precision), played=base)
    require_json(json)
    keeper = keeper_at(save)
    require_plot(plot, json, save)
    require_pages(2, json, save, plot, report=report)

    from cli.executors import executor_of
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
    levers, left_out = levers_of(base, scenario.load, step)
    with executor_of(workers, cluster) as executor, Progress("bouts") as progress, drawer(keeper, base) as kept:
        card = adjust_game(
            base,
            goal,
            levers,
            left_out,
            bouts=bouts,
            seed=seed,
            workers=executor,
            progress=progress,
            changes=scenario.changes,
            precision=share,
            budget=budget or 8000,
            population=population,
            assumptions=own,
            drawer=kept,
        )
    give(json, card.to_json, lambda: adjusted_in_words(card, base, asked, details, console_width()))
    if how := going_on(card.cautions, again):
        say(how, err=True)
    keeper.settle()
    if plot is not None:
        from sim.plots.pages import of_card

        give_plot(plot, of_card(card))
    if report is not None:
        from sim.report.reports import arms_of_card, report_of_card

        bouts_seen = watched(arms_of_card(card, base, scenario.load), seed, own)
        matters = what_matters(base, (card.measure, card.scope), scenario, own, workers, cluster)
        give_report(report, lambda: report_of_card(card, base, asked, bouts_seen, matters))
