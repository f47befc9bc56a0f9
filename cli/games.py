"""`overload games`: the shipped games and what each is for."""

from __future__ import annotations

from cli.console import say


def games() -> None:
    """List the shipped games and what each is for."""
    from sim.game.loader import load_game
    from sim.game.shipped import shipped_games

    names = sorted(shipped_games())
    width = max(len(name) for name in names)
    for name in names:
        game = load_game(name)
        say(f"{name:<{width}}  {game.purpose}")
