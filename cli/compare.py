"""`overload compare GAME --change KEY=VALUE`: the same game with one tweak or several, or other games, side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.console import console_width, say
from cli.drawer import drawer
from cli.plot import give_plot, measure_of, require_plot
from cli.report import give_replay, give_report, require_pages, watched, what_matters
from cli.scenario import Scenario, scenario_of

if TYPE_CHECKING:
    from sim.game.model import Game


def compare(
    game: options.GameName,
    others: Annotated[
        list[str] | None,
        typer.Argument(metavar="[OTHER]...", help="Other games to compare with, instead of --change."),
    ] = None,
    tweak: Annotated[
        list[str] | None,
        typer.Option(
            "--change",
            metavar="KEY=VALUE",
            help="What is different, with the same keys as --set.  Several together are one tweak; a list or a range of values "
            "(8,10,12 or 8..14:2) is a tweak each.",
        ),
    ] = None,
    name: Annotated[str | None, typer.Option("--name", help="What to call the tweak of --change.")] = None,
    bundles: Annotated[
        list[str] | None,
        typer.Option(
            "--bundle",
            metavar='"NAME: KEY=VALUE; KEY=VALUE"',
            help="One more tweak, with its name.  May be given several times.",
        ),
    ] = None,
    bouts: Annotated[
        int,
        options.bounded("--bouts", 1, options.MOST_BOUTS, "Play at least this many bouts of GAME, in whole sessions."),
    ] = 200,
    seed: options.Seed = 1,
    population: options.Population = None,
    changes: options.Changes = None,
    assumptions: options.Assumptions = None,
    worthwhile: Annotated[
        list[str] | None,
        typer.Option(
            "--worthwhile",
            metavar="MEASURE=SHARE",
            help="Smallest difference that matters, in per cent of GAME's value, e.g. losses=15%.",
        ),
    ] = None,
    details: options.Details = False,
    json: options.Json = None,
    save: options.Save = None,
    plot: options.Plot = None,
    measure: Annotated[
        str | None,
        typer.Option(
            "--measure",
            metavar="MEASURE[.ROLE]",
            help="What you care about: it leads the answer, and --plot draws it (if not given, what the change is about).",
        ),
    ] = None,
    replay: options.Replay = None,
    report: options.Report = None,
    workers: options.Workers = None,
    cluster: options.Cluster = None,
) -> None:
    """Does a change make a difference, how big is it, and would you see it on the grass?"""
    from cli.files import give, keeper_at, require_json
    from sim.errors import InputError

    asked = tweaks(tweak or (), name, bundles or ())
    if bool(others) == bool(asked):
        got = "both" if others else "neither"
        raise InputError(f"compare must be given --change touches=1, say, or a second game, not both (got {got})")
    scenario = scenario_of(game, seed, population, changes, assumptions)
    first = scenario.load()
    loaded = loaded_variants(scenario, asked, others or ())
    own = scenario.replaced()
    shares = dict(worth_of(one, first) for one in worthwhile or ())
    again = scenario.given(
        "compare", ("--change", tweak), ("--name", name), ("--bundle", bundles), ("--bouts", bouts), ("--worthwhile", worthwhile),
        ("--details", details), ("--json", json), ("--save", save), ("--plot", plot), ("--measure", measure),
        ("--replay", replay), ("--report", report),
        ("--workers", workers), ("--cluster", cluster), others=others or (),
        played=loaded[0][1],
    )  # fmt: skip
    require_json(json)
    keeper = keeper_at(save)
    require_plot(plot, json, save)
    require_pages(1 + len(loaded), json, save, plot, replay=replay, report=report)
    games = [first, *(other for _, other, _ in loaded)]
    cares = None if measure is None else measure_of(measure, games, by_role=True)

    from cli.executors import executor_of
    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.compare import Variant, compare_all
    from sim.experiments.levers import unit_of
    from sim.words.changes import phrase
    from sim.words.compare_details import details_of_compared
    from sim.words.compare_screen import compared_on_a_screen, leads_with
    from sim.words.estimate_details import going_on

    unit = unit_of(first, scenario.load)
    called = [phrase([one for one in whole if one not in scenario.changes], which, unit) for _, which, whole in loaded]
    with executor_of(workers, cluster) as executor, Progress("bouts") as progress, drawer(keeper, first) as kept:
        found = compare_all(
            first,
            [Variant(which, whole, title, its) for (title, which, whole), its in zip(loaded, called, strict=True)],
            bouts=bouts,
            seed=seed,
            workers=executor,
            progress=progress,
            changes=scenario.changes,
            worthwhile=shares,
            population=population,
            assumptions=own,
            drawer=kept,
            asked=cares,
        )

    def in_words() -> str:
        screen = compared_on_a_screen(found, games, again, unit)
        return f"{screen}\n\n{details_of_compared(found, console_width())}" if details else screen

    give(json, found.to_json, in_words)
    if how := going_on(found.comparisons[0].cautions, again):
        say(how, err=True)
    keeper.settle()
    if plot is not None:
        from sim.plots.pages import of_compared

        give_plot(plot, of_compared(found, *leads_with(found, first), {title: which for title, which, _ in loaded}))
    if replay is None and report is None:
        return
    from sim.report.reports import arms_of_compared, report_of_compared

    bouts_seen = watched(arms_of_compared(found, games, again, unit), seed, own)
    if replay is not None:
        give_replay(replay, bouts_seen)
    if report is not None:
        matters = what_matters(first, leads_with(found, first), scenario, own, workers, cluster)
        give_report(report, lambda: report_of_compared(found, games, again, unit, bouts_seen, matters))


Loaded = tuple[str, "Game", tuple[str, ...]]
"""What a variant is called, its game, and all changes that it was loaded with."""


def loaded_variants(
    scenario: Scenario, tweaks: Sequence[tuple[str, tuple[str, ...]]], others: Sequence[str]
) -> list[Loaded]:
    """The variants of the game, by tweaks of it or as other games; what is wrong with one is told of where it was typed."""
    from sim.errors import InputError

    wanted = [(title, scenario.with_changes(change), change) for title, change in tweaks]
    wanted += [(other, scenario.of_game(other), ()) for other in others]
    found = []
    for title, variant, change in wanted:
        try:
            found.append((title, variant.load(), variant.changes))
        except InputError as error:
            raise InputError(error.problems, source_of(error.source, change)) from None
    return found


def tweaks(tweak: Sequence[str], name: str | None, bundles: Sequence[str]) -> list[tuple[str, tuple[str, ...]]]:
    """(name, changes) of every tweak asked for, --change first."""
    from sim.errors import InputError
    from sim.experiments.ranges import variants_of

    found = [(title or name or "changed", change) for title, change in variants_of(tweak, "--change")] if tweak else []
    if name is not None and len(found) != 1:
        got = f"{name!r} with {len(found)} of them" if found else f"{name!r} without"
        raise InputError(f"must go with one tweak of --change (got {got})", "--name")
    for bundle in bundles:
        title, colon, changes = bundle.partition(":")
        own = tuple(one.strip() for one in changes.split(";") if one.strip())
        if not colon or not title.strip() or not own or "=" in title:
            raise InputError(f'must read "NAME: KEY=VALUE; KEY=VALUE" (got {bundle!r})', "--bundle")
        found.append((title.strip(), own))
    return found


def source_of(source: str, tweak: Sequence[str]) -> str:
    """A complaint about a tweak names --change; the loader only knows --set."""
    if tweak and source.startswith("--set"):
        return "--change" + source.removeprefix("--set")
    return source


def worth_of(text: str, game: Game) -> tuple[str, float]:
    """MEASURE=SHARE as typed."""
    from sim.errors import InputError
    from sim.experiments.everyday import measure_named
    from sim.experiments.key_measures import WORTHWHILE
    from sim.experiments.shares import share_of

    measure, equals, share = text.partition("=")
    if not equals or not measure.strip() or not share.strip():
        raise InputError(f"must read MEASURE=SHARE, a share such as 15% (got {text!r})", "--worthwhile")
    known = [(name, "game") for name in WORTHWHILE]
    return measure_named(measure, game, known, "--worthwhile")[0], share_of(share, f"--worthwhile {measure.strip()}")
