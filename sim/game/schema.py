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
    for name, table in {GameSpec.__name__: schema, **schema["$defs"]}.items():
        _as_files_may_be(name, table)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema"} | schema | {"title": "A possession game"}


def _as_files_may_be(name: str, table: dict[str, Any]) -> None:
    """A table of the full form with the words of short files, and without the need for what they leave out."""
    from sim.game.short_words import EITHER, LEFT_OUT, WORDS

    keys = table.get("properties", {})
    for key, default in LEFT_OUT.get(name, {}).items():
        keys[key]["description"] = f"{keys[key]['description'].partition(' Default')[0]} Default: {default}."
    needed = [key for key in table.get("required", ()) if key not in LEFT_OUT.get(name, {})]
    table |= {"required": needed} if needed else {}
    if not needed:
        table.pop("required", None)
    for key, (other, words) in EITHER.get(name, {}).items():
        keys[key] = other(keys[key]) | {"description": f"{keys[key]['description']} {words}"}
    keys |= WORDS.get(name, {})


def as_text() -> str:
    """The schema as it is printed, and as it stands beside the shipped games."""
    return json.dumps(json_schema(), indent=2, ensure_ascii=False)
