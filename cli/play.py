"""`overload play GAME`: one bout, as a strip of time and a list of events."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli.options import Changes, GameName, Population, Seed


def play(
    game: GameName,
    seed: Seed = 1,
    population: Population = None,
    changes: Changes = None,
    events: Annotated[
        Path | None, typer.Option("--events", metavar="FILE", help="Write every event of the bout to this CSV file.")
    ] = None,
) -> None:
    """Play one bout: a strip of time, then what happened."""
    from cli.files import require_place, write_whole
    from sim import load_game
    from sim import play as play_bout
    from sim.words.strip import bout_in_words, events_as_csv

    chosen = load_game(game, changes or (), population)
    if events is not None:
        require_place("--events", events)
    log = play_bout(chosen, seed)
    if events is not None:
        write_whole(events, events_as_csv(log))
    typer.echo(bout_in_words(chosen, log))
