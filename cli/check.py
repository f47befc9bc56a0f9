"""`overload check GAME`: is the file valid?  Then the rules in plain words, and what a few bouts show."""

from __future__ import annotations

from typing import Annotated

import typer

from cli import options
from cli.console import say
from cli.scenario import scenario_of


def check(
    game: options.GameName,
    bouts: Annotated[
        int,
        typer.Option(
            "--bouts", min=0, help="Try the rules in at least this many bouts, in whole sessions; 0: do not play."
        ),
    ] = 20,
    details: Annotated[
        bool,
        typer.Option(
            "--details", help="What holds where it could be argued, and every value that the file leaves out."
        ),
    ] = False,
    seed: options.Seed = 1,
    population: options.Population = None,
    changes: options.Changes = None,
    workers: options.Workers = None,
) -> None:
    """Check a game file, print its rules in plain words, and play a few bouts to see whether every rule comes up."""
    from sim.words.checked import checked

    scenario = scenario_of(game, seed, population, changes)
    reading = scenario.read()
    chosen = reading.game
    say(checked(reading, details))
    if bouts == 0:
        return

    from cli.executors import executor_of
    from cli.progress import Progress  # the heavy half, only where something is played
    from sim.experiments.estimate import estimate
    from sim.words.rule_counts import tried

    with executor_of(workers, None) as executor, Progress("bouts") as progress:
        result = estimate(chosen, bouts=bouts, seed=seed, workers=executor, progress=progress, changes=scenario.changes)
    say("\n" + tried(result, chosen))
