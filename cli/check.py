"""`overload check GAME`: is the file valid?  Then the rules in plain words."""

from __future__ import annotations

from cli.console import say
from cli.options import Changes, GameName, Population


def check(game: GameName, population: Population = None, changes: Changes = None) -> None:
    """Check a game file and print its rules in plain words."""
    from sim.game.loader import load_game
    from sim.words.rules import rules_in_words

    say(rules_in_words(load_game(game, changes or (), population)))
