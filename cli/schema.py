"""`overload schema`: the JSON Schema of game files, for editors."""

from __future__ import annotations

import json

import typer


def schema() -> None:
    """Print the JSON Schema of game files, for editors that complete and check while you type."""
    from sim.game.schema import json_schema

    typer.echo(json.dumps(json_schema(), indent=2, ensure_ascii=False))
