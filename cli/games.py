"""`overload games`: the shipped games and what each is for; with `--players` which of them hold so many."""

from __future__ import annotations

from typing import Annotated

from cli import options
from cli.console import console_width, say


def games(
    players: Annotated[
        int | None,
        options.bounded("--players", 1, options.MOST_PEOPLE, "How each holds so many, keepers not counted."),
    ] = None,
) -> None:
    """List the shipped games by what they are for: numbers, size, and what each is for."""
    from sim.game.loader import load_game
    from sim.game.shipped import shipped_games
    from sim.groups.fitting import fits
    from sim.words.shipped import fits_in_words, games_in_words

    shipped = [load_game(name) for name in sorted(shipped_games())]
    if players is None:
        say(games_in_words(shipped, console_width()))
    else:
        say(fits_in_words(fits(shipped, players), players, console_width()))
