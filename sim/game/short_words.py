"""What a short file may hold, or leave out, that the full form does not know: one table for reading, messages and schema.

`sim.game.whole` turns a short file into the full form of `sim.game.spec`.  Tables go by the name of their model there.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

OTHER_SIDE = "other_side"

_SAME = (
    "true: the same once more for the other side, under its own name; west and east, south and north and the names of the two "
    "sides change places in it, and [x, y] is turned by half a turn."
)
_MIRRORED: dict[str, Any] = {OTHER_SIDE: {"const": True, "description": _SAME}}

WORDS: Mapping[str, Mapping[str, Any]] = {
    "GameSpec": {
        "rules": {
            "type": "object",
            "additionalProperties": {"$ref": "#/$defs/RuleSpec"},
            "description": "The rules of a game of one phase, by name.",
        },
        "actions": {
            "type": "object",
            "additionalProperties": {"$ref": "#/$defs/RuleSpec/properties/do"},
            "description": "Lists of what follows, by name: written once, used by that name in any do.",
        },
    },
    "AreaSpec": _MIRRORED,
    "ZoneSpec": _MIRRORED,
    "GoalSpec": _MIRRORED,
    "GateSpec": _MIRRORED,
    "RoleSpec": _MIRRORED,
    "RestartSpec": _MIRRORED,
    "RuleSpec": _MIRRORED,
}
"""Keys of short files alone, as a JSON Schema has them."""

LEFT_OUT: Mapping[str, Mapping[str, str]] = {
    "GameSpec": {
        "format": "1",
        "title": "the name of the file",
        "purpose": "what the first phase aims at",
        "start": "the side of the first role has it",
        "bouts": "four bouts of 3 minutes, 1 minute rest",
        "teams": "the teams that the roles name, or one called squad",
        "phases": "one called play, which aims at a goal if there are goals, and holds the rules",
    },
    "StartSpec": {"side": "the side of the first role that has one"},
    "BoutsSpec": {"minutes": "3", "rest_minutes": "1"},
    "AreaSpec": {"width": "as long as length"},
    "RoleSpec": {
        "side": '"team" where there are several teams, else the name of the role',
        "style": "goal where the place is a goal, else free",
        "place": 'the only area, or "active" where there are several',
        "tackled": 'never for a keeper of side "holder", else always',
        "hands": 'false for a keeper of side "holder", else true',
    },
    "PhaseSpec": {
        "aim": "goal where it is the only phase and there are goals, else keep",
        "open": "shoot where aim is left out and becomes goal, else nothing",
    },
    "RestartSpec": {"to": "as in the restart of that name that always exists, else other"},
    "WinSpec": {"confirm": "hold where seconds are given, passes where passes are, gate where one is, else control"},
}
"""What `sim.game.filling` puts where a key is left out."""


def _one_or_several(schema: dict[str, Any]) -> dict[str, Any]:
    """A value, or a list of such."""
    one = {key: value for key, value in schema.items() if key not in ("title", "description")}
    return {"anyOf": [one, {"type": "array", "minItems": 1, "items": one}]}


def _or_names(schema: dict[str, Any]) -> dict[str, Any]:
    """A list in which names may stand, too."""
    return schema | {"items": {"anyOf": [schema["items"], {"type": "string"}]}}


EITHER: Mapping[str, Mapping[str, tuple[Callable[[dict[str, Any]], dict[str, Any]], str]]] = {
    "RuleSpec": {
        "on": (_one_or_several, "Or a list of events: the same follows each, and the rule is printed by event."),
        "do": (_or_names, "In it may stand the name of a list in actions."),
    },
}
"""Values that may be written in another way in short files: their schema, and the words for it."""


def short_keys(table: str) -> list[str]:
    """The keys that only short files have, of a table by the name of its model."""
    return list(WORDS.get(table, ()))
