"""`overload check GAME`: is the file valid?  Then the rules in plain words, and what a few bouts of it show about them."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.console import say
from cli.options import Changes, GameName, Population, Seed, Workers


def check(
    game: GameName,
    bouts: Annotated[
        int,
        typer.Option(
            "--bouts", min=0, help="Try the rules in at least this many bouts, in whole sessions; 0: do not play."
        ),
    ] = 20,
    seed: Seed = 1,
    population: Population = None,
    changes: Changes = None,
    workers: Workers = None,
) -> None:
    """Check a game file, print its rules in plain words, and play a few bouts to see whether every rule comes up."""
    from sim.game.loader import load_game
    from sim.words.rules import rules_in_words

    chosen = load_game(game, changes or (), population)
    say(rules_in_words(chosen))
    if bouts == 0:
        return

    from cli.executors import crew
    from cli.progress import Progress  # the heavy half, only where something is played
    from sim import estimate
    from sim.words.rule_counts import tried

    with crew(workers, None) as hands, Progress("bouts") as progress:
        result = estimate(chosen, bouts=bouts, seed=seed, workers=hands, progress=progress, changes=changes or ())
    say("\n" + tried(result, chosen))
