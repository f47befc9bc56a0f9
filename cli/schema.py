"""`overload schema`: the JSON Schema of game files, for editors."""

from __future__ import annotations

import json

from cli.console import say_json


def schema() -> None:
    """Print the JSON Schema of game files, for editors that complete and check while you type."""
    from sim.game.schema import json_schema

    say_json(json.dumps(json_schema(), indent=2, ensure_ascii=False))
