"""The JSON Schema of the short form, for editors that complete and check while one types.

It says what a single value may be; what one part of a file says about another is checked on loading.
A game file names it in its first line, so that an editor finds it beside the file, without a network:
``scenarios/game.schema.json`` lies beside the shipped games, and ``overload schema > game.schema.json`` puts it beside others.
"""

from __future__ import annotations

import json
from typing import Any

FILE = "game.schema.json"
FIRST_LINE = f"#:schema ./{FILE}"
"""What editors of TOML read to know how the rest may look."""


def json_schema() -> dict[str, Any]:
    """The schema of a game file as plain data."""
    from sim.game.spec import GameSpec

    schema = GameSpec.model_json_schema(by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema"} | schema | {"title": "A possession game"}


def as_text() -> str:
    """The schema as it is printed, and as it stands beside the shipped games."""
    return json.dumps(json_schema(), indent=2, ensure_ascii=False)
