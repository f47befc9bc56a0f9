"""`overload games`: the shipped games and what each is for."""

from __future__ import annotations

from cli.console import console_width, say


def games() -> None:
    """List the shipped games: numbers, size, and what each is for."""
    from sim.game.loader import load_game
    from sim.game.shipped import shipped_games
    from sim.words.shipped import games_in_words

    say(games_in_words([load_game(name) for name in sorted(shipped_games())], console_width()))
