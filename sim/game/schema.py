"""The JSON Schema of the short form, for editors that complete and check while one types.

It says what a single value may be; what one part of a file says about another is checked on loading.
"""

from __future__ import annotations

from typing import Any


def json_schema() -> dict[str, Any]:
    """The schema of a game file as plain data."""
    from sim.game.short import ShortGame

    schema = ShortGame.model_json_schema(by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema"} | schema | {"title": "A possession game"}
