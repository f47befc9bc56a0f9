"""`overload tune GAME --knob side=8..14 --target losses=3`: one knob or two, in whole steps, to a target."""

from __future__ import annotations

from typing import Annotated

import typer

from cli import options
from cli.console import console_width, say
from cli.drawer import drawer
from cli.plot import give_plot, require_plot
from cli.report import give_report, require_pages, watched, what_matters
from cli.scenario import scenario_of


def tune(
    game: options.GameName,
    knobs: Annotated[
        list[str],
        typer.Option(
            "--knob",
            metavar="KEY=FROM..TO",
            help="What to turn, in whole steps: side, area, touches, passes, defenders, bout, rest (seconds), AREA.side, or a "
            "key as for --set; FROM..TO..STEP for larger steps.  Give it twice for two knobs.",
        ),
    ],
    target: Annotated[
        str,
        typer.Option(
            "--target",
            metavar="MEASURE=VALUE",
            help="E.g. losses=3, metres.inside=90 or, in per cent, rolling=85; =most or =least instead of a number.",
        ),
    ],
    bouts: Annotated[int, options.bounded("--bouts", 1, options.MOST_BOUTS, "Bouts of each value, at least.")] = 20,
    budget: Annotated[
        int, options.bounded("--budget", 1, options.MOST_BOUTS, "Bouts of all values together, at most.")
    ] = 600,
    fresh: Annotated[
        int,
        options.bounded("--fresh", 1, options.MOST_BOUTS, "Bouts in which the answer is played once more, as a check."),
    ] = 100,
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
    """Which size, number of players or touch limit gives what you want, e.g. three losses a minute?"""
    from cli.files import give, keeper_at, require_json
    from sim.experiments.everyday import target_of
    from sim.experiments.key_measures import aims_of
    from sim.experiments.knobs import candidates, knob_of

    scenario = scenario_of(game, seed, population, changes, assumptions)
    base = scenario.load()
    own = scenario.replaced()
    key = target_of(target, base, aims_of(base))
    turned = [knob_of(one) for one in knobs]
    found = candidates(base, turned, scenario.load)
    again = scenario.given(
        "tune", ("--knob", tuple(knobs)), ("--target", target), ("--bouts", bouts), ("--budget", budget), ("--fresh", fresh),
        ("--details", details), ("--json", json), ("--save", save), ("--plot", plot), ("--report", report),
        ("--workers", workers),
        ("--cluster", cluster),
        played=base,
    )  # fmt: skip
    require_json(json)
    keeper = keeper_at(save)
    require_plot(plot, json, save)
    require_pages(2, json, save, plot, report=report)

    from cli.executors import executor_of
    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.levers import unit_of
    from sim.experiments.tune import tune as tune_game
    from sim.words.changes import phrase
    from sim.words.estimate_details import going_on
    from sim.words.tune_details import details_of_tuned
    from sim.words.tune_screen import tuned_on_a_screen

    with executor_of(workers, cluster) as executor, Progress("bouts at most") as progress, drawer(keeper, base) as kept:
        answer = tune_game(
            base,
            {values: one for values, (one, _) in found.items()},
            [knob.key for knob in turned],
            key,
            bouts=bouts,
            budget=budget,
            fresh=fresh,
            seed=seed,
            workers=executor,
            progress=progress,
            changes=scenario.changes,
            turned={values: turn for values, (_, turn) in found.items()},
            assumptions=own,
            drawer=kept,
        )
    length = unit_of(base, scenario.load)
    labels = {values: phrase(turn, one, length) for values, (one, turn) in found.items()}

    def in_words() -> str:
        screen = tuned_on_a_screen(answer, base, found[answer.answer][0], labels, again, length)
        return f"{screen}\n\n{details_of_tuned(answer, labels, console_width())}" if details else screen

    give(json, answer.to_json, in_words)
    if how := going_on(answer.cautions, again):
        say(how, err=True)
    keeper.settle()
    if plot is not None:
        from sim.plots.pages import of_tuned

        give_plot(plot, of_tuned(answer, length))
    if report is not None:
        from sim.report.reports import arms_of_tuned, report_of_tuned

        games = base, found[answer.answer][0]
        bouts_seen = watched(arms_of_tuned(answer, *games, labels), seed, own)
        matters = what_matters(base, (answer.measure, answer.scope), scenario, own, workers, cluster)
        give_report(report, lambda: report_of_tuned(answer, games, labels, again, length, bouts_seen, matters))
