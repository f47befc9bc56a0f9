"""`overload play GAME`: one bout, as a strip of time and a list of events."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.console import say
from cli.plot import give_plot, require_plot
from cli.scenario import scenario_of


def play(
    game: options.GameName,
    seed: options.Seed = 1,
    population: options.Population = None,
    changes: options.Changes = None,
    assumptions: options.Assumptions = None,
    events: Annotated[
        Path | None, typer.Option("--events", metavar="FILE", help="Write every event of the bout to this CSV file.")
    ] = None,
    bout: options.BoutNumber = 1,
    plot: options.Plot = None,
) -> None:
    """Play one bout: a strip of time, then what happened."""
    from cli.files import require_place, write_whole
    from sim import play as play_bout
    from sim.errors import InputError
    from sim.game.names import names_of
    from sim.words.listing import some
    from sim.words.strip import bout_in_words, events_as_csv

    scenario = scenario_of(game, seed, population, changes, assumptions)
    chosen = scenario.load()
    if bout > chosen.bouts.count:
        raise InputError(f"a session of this game has {some(chosen.bouts.count, 'bout')} (got {bout})", "--bout")
    own = scenario.replaced()
    if events is not None:
        require_place("--events", events)
    require_plot(plot, events)

    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.first_run import get_ready
    from sim.experiments.provenance import replacements
    from sim.words.assumptions import replaced_in_words

    with Progress("bouts"):
        get_ready()
        log = play_bout(chosen, seed, bout - 1, assumptions=own)
    say(bout_in_words(chosen, log))
    if own:
        say("\n" + replaced_in_words(replacements(own)))
    if events is not None:
        write_whole(events, events_as_csv(log, names_of(chosen)))
    if plot is not None:
        from sim.plots.pages import of_bout

        give_plot(plot, of_bout(chosen, log, scenario.changes, own))
