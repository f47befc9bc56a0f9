"""`overload schema`: the JSON Schema of game files, for editors."""

from __future__ import annotations

from cli.console import say_json


def schema() -> None:
    """Print what a game file may hold, for editors that complete and check while you type.

    Put it beside your game files with `overload schema > game.schema.json`: their first line, "#:schema ./game.schema.json",
    tells the editor to read it.
    """
    from sim.game.schema import as_text

    say_json(as_text())
