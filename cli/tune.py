"""`overload tune GAME --knob side=8..14 --target losses=3`: one knob or two, in whole steps, to a target."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.console import columns, say
from cli.drawer import Save, drawer
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
from cli.plot import Plot, give_plot, require_plot
from cli.report import Report, give_report, load_with, require_pages, watched, what_matters


def tune(
    game: GameName,
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
    bouts: Annotated[int, bounded("--bouts", 1, MOST_BOUTS, "Bouts of each value, at least.")] = 20,
    budget: Annotated[int, bounded("--budget", 1, MOST_BOUTS, "Bouts of all values together, at most.")] = 600,
    fresh: Annotated[
        int, bounded("--fresh", 1, MOST_BOUTS, "Bouts in which the answer is played once more, as a check.")
    ] = 100,
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
    """Which size, number of players or touch limit gives what you want, e.g. three losses a minute?"""
    from cli.files import Keeper, give, require_json, require_place
    from sim import load_game
    from sim.experiments.assumption_file import read_or_none
    from sim.experiments.everyday import target_of
    from sim.experiments.key_measures import aims_of
    from sim.experiments.knobs import candidates, knob_of
    from sim.words.commands import with_tweak

    base = load_game(game, changes or (), population)
    own = read_or_none(assumptions)
    key = target_of(target, base, aims_of(base))
    turned = [knob_of(one) for one in knobs]
    whole = tuple(changes or ())
    found = candidates(base, turned, lambda turn: load_game(game, with_tweak(whole, tuple(turn)), population))
    again = given(
        "tune", game, seed, population, changes, assumptions,
        ("--knob", tuple(knobs)), ("--target", target), ("--bouts", bouts), ("--budget", budget), ("--fresh", fresh),
        ("--details", details), ("--json", json), ("--save", save), ("--plot", plot), ("--report", report),
        ("--workers", workers),
        ("--cluster", cluster),
        played=base,
    )  # fmt: skip
    require_json(json)
    if save is not None:
        require_place("--save", save, again=True)
    require_plot(plot, json, save)
    require_pages(2, json, save, plot, report=report)
    keeper = Keeper(save)

    from cli.executors import crew
    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.levers import unit_of
    from sim.experiments.tune import tune as tune_game
    from sim.words.changes import phrase
    from sim.words.estimate_details import going_on
    from sim.words.tune_details import details_of_tuned
    from sim.words.tune_screen import tuned_on_a_screen

    with crew(workers, cluster) as hands, Progress("bouts at most") as progress, drawer(keeper, base) as kept:
        answer = tune_game(
            base,
            {values: one for values, (one, _) in found.items()},
            [knob.key for knob in turned],
            key,
            bouts=bouts,
            budget=budget,
            fresh=fresh,
            seed=seed,
            workers=hands,
            progress=progress,
            changes=whole,
            turned={values: turn for values, (_, turn) in found.items()},
            assumptions=own,
            drawer=kept,
        )
    load = load_with(game, whole, population)
    length = unit_of(base, load)
    labels = {values: phrase(turn, one, length) for values, (one, turn) in found.items()}

    def in_words() -> str:
        screen = tuned_on_a_screen(answer, base, found[answer.answer][0], labels, again, length)
        return f"{screen}\n\n{details_of_tuned(answer, labels, columns())}" if details else screen

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
        matters = what_matters(base, (answer.measure, answer.scope), seed, load, workers, cluster, whole, own)
        give_report(report, lambda: report_of_tuned(answer, games, labels, again, length, bouts_seen, matters))
