"""What a single value in a game file may be: names, touch limits, listings of players, key abilities.

`SpecTable` is the base of every table people write (`sim.game.spec`, `sim.game.actions`).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Annotated, Any, Literal, get_args

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints, WithJsonSchema
from pydantic_core import PydanticCustomError

from sim.game.bounds import (
    HIGHEST_SHIRT,
    LABEL,
    LINE,
    LONGEST_NAME,
    LONGEST_TEXT,
    MOST_OF_ONE,
    MOST_PLAYERS,
    NAME,
    PATTERNS,
)
from sim.game.model import End, Style
from sim.populations import KEY_ABILITIES, KINDS, POPULATIONS, named
from sim.populations import Population as Preset

STYLES = get_args(Style)

Name = Annotated[str, StringConstraints(pattern=NAME, max_length=LONGEST_NAME)]
Label = Annotated[str, StringConstraints(pattern=LABEL, max_length=LONGEST_NAME)]
"""The name of a player or a game: as people write it."""
Text = Annotated[str, StringConstraints(min_length=1, max_length=LONGEST_TEXT, pattern=LINE)]
Unlock = Name
"""What may be opened: "transfer", "shoot", or a zone."""
if TYPE_CHECKING:  # a type checker cannot read the names off a table
    Population = str
else:
    Population = Annotated[
        Literal[tuple(POPULATIONS)],
        BeforeValidator(lambda text: (named(text) or text) if isinstance(text, str) else text),
    ]
LossCause = Literal["interception", "tackle", "miscontrol", "misplaced", "out", "time limit", "rule fault", "shot"]


def _whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def _touches(value: Any) -> Any:
    if value == "free" or (_whole(value) and 1 <= value <= 10):
        return value
    raise PydanticCustomError("rule", 'must be "free" or a whole number from 1 to 10')


def _listing(value: Any) -> bool:
    """A team's share of a role: how many, or a list of shirt numbers and written ids."""
    if _whole(value):
        return 1 <= value <= MOST_PLAYERS
    return isinstance(value, list) and 1 <= len(value) <= MOST_PLAYERS and all(_player(one) for one in value)


def _player(value: Any) -> bool:
    if isinstance(value, str):
        return len(value) <= LONGEST_NAME and re.fullmatch(LABEL, value) is not None
    return _whole(value) and 0 <= value <= HIGHEST_SHIRT


def label_trouble(text: str) -> str | None:
    """What is wrong with a text as the name of a game or a player; None where nothing is."""
    if not 1 <= len(text) <= LONGEST_NAME or re.fullmatch(LABEL, text) is None:
        return f"be {PATTERNS[LABEL]}, at most {LONGEST_NAME} of them"
    return None


def _players(value: Any) -> Any:
    if isinstance(value, dict) and value and all(isinstance(team, str) and _listing(value[team]) for team in value):
        return value
    if not isinstance(value, dict) and _listing(value):
        return value
    raise PydanticCustomError(
        "rule",
        f"must be a number of players from 1 to {MOST_PLAYERS}, a list of shirt numbers (0 to {HIGHEST_SHIRT}) and ids, or a table "
        "of these by team",
    )


def _pairs(value: Any) -> Any:
    if isinstance(value, list) and all(_listing(pair) and isinstance(pair, list) and len(pair) == 2 for pair in value):
        return value
    raise PydanticCustomError("rule", "must be a list of pairs of shirt numbers and ids, such as [[1, 2], [3, 4]]")


def _job(value: Any) -> Any:
    words = value.split() if isinstance(value, str) else []
    if len(words) == 3 and words[0] in STYLES and words[1] in ("in", "of", "at"):
        return value
    raise PydanticCustomError("rule", 'must read "STYLE in PLACE" with a style of edge, free, goal, wait')


def _at(value: Any) -> Any:
    words = value.split() if isinstance(value, str) else []
    if len(words) == 4 and words[0] in get_args(End) and words[1:3] == ["end", "of"]:
        return value
    raise PydanticCustomError("rule", 'must read "SIDE end of AREA" with a side of west, east, south, north')


def _roles(value: Any) -> Any:
    listed = list(value) if isinstance(value, list | tuple) else [value]
    named = all(isinstance(one, str) and len(one) <= LONGEST_NAME and re.fullmatch(NAME, one) for one in listed)
    if named and 1 <= len(listed) <= MOST_OF_ONE and len(set(listed)) == len(listed):
        return value if isinstance(value, str) else listed
    raise PydanticCustomError("rule", "must be a role, or a list of roles, each once")


_LISTING_SCHEMA = {
    "anyOf": [
        {"type": "integer", "minimum": 1, "maximum": MOST_PLAYERS},
        {
            "type": "array",
            "minItems": 1,
            "maxItems": MOST_PLAYERS,
            "items": {
                "anyOf": [
                    {"type": "integer", "minimum": 0, "maximum": HIGHEST_SHIRT},
                    {"type": "string", "pattern": LABEL, "maxLength": LONGEST_NAME},
                ]
            },
        },
    ]
}
Touches = Annotated[
    int | str,
    BeforeValidator(_touches),
    WithJsonSchema({"anyOf": [{"const": "free"}, {"type": "integer", "minimum": 1, "maximum": 10}]}),
]
Players = Annotated[
    Any,
    BeforeValidator(_players),
    WithJsonSchema({"anyOf": [*_LISTING_SCHEMA["anyOf"], {"type": "object", "additionalProperties": _LISTING_SCHEMA}]}),
]
Pairs = Annotated[
    list[list[int | str]],
    BeforeValidator(_pairs),
    WithJsonSchema({"type": "array", "items": _LISTING_SCHEMA["anyOf"][1] | {"minItems": 2, "maxItems": 2}}),
]
JobWords = Annotated[
    str,
    BeforeValidator(_job),
    WithJsonSchema({"type": "string", "pattern": "^(edge|free|goal|wait) (in|of|at) [A-Za-z0-9][A-Za-z0-9_-]*$"}),
]
Roles = Annotated[
    str | list[str],
    BeforeValidator(_roles),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "string", "pattern": NAME, "maxLength": LONGEST_NAME},
                {
                    "type": "array",
                    "minItems": 1,
                    "maxItems": MOST_OF_ONE,
                    "uniqueItems": True,
                    "items": {"type": "string", "pattern": NAME, "maxLength": LONGEST_NAME},
                },
            ]
        }
    ),
]
AtWords = Annotated[
    str,
    BeforeValidator(_at),
    WithJsonSchema({"type": "string", "pattern": "^(west|east|south|north) end of [A-Za-z0-9][A-Za-z0-9_-]*$"}),
]


Centre = Annotated[
    list[float] | None,
    Field(
        min_length=2,
        max_length=2,
        description="Its middle [x, y], of a goal that of its mouth: x to the east, y to the north. Unit: the file's. "
        "Legal -1000 to 1000 m.",
    ),
]


def _key_ability(key: str, meaning: str, unit: str, typical: Callable[[Preset], str]) -> Any:
    """The type of a key ability: optional, with its legal range and what is typical of each population."""
    kind = next(kind for kind in KINDS if kind.name == KEY_ABILITIES[key])
    words = "; ".join(f"{name} {typical(preset)}" for name, preset in POPULATIONS.items())
    legal = f"Legal {kind.low:g} to {kind.high:g}"
    description = f"{meaning} Unit: {unit}. {legal}. Typical: {words}. Left out: drawn from the population."
    return Annotated[float | None, Field(default=None, ge=kind.low, le=kind.high, description=description)]


def _mean(key: str) -> Callable[[Preset], str]:
    """What the typical player of a population has."""
    return lambda preset: f"about {preset.traits[KEY_ABILITIES[key]].mean:g}"


PassSuccess = _key_ability(
    "pass_success",
    "Share of ground passes, nobody near, that go through a gate 1.5 m wide, 10 m off (two cones test it); not match "
    "completion.",
    "share",
    lambda preset: preset.pass_success_words,
)
PressingSpeed = _key_ability(
    "pressing_speed",
    "Mean speed over 8 m from standing when closing an opponent down, reaction and slowing at the end left out; never "
    "above what the player's sprint allows.",
    "m/s",
    _mean("pressing_speed"),
)
Recovery = _key_ability(
    "recovery",
    "Standing rest after which half of the hard-running reserve is back.",
    "seconds",
    _mean("recovery"),
)


class SpecTable(BaseModel):
    """Base of the short form: frozen, strict types, no unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, allow_inf_nan=False)
