"""Zones as people write them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, WithJsonSchema
from pydantic_core import PydanticCustomError

from sim.game.bounds import MOST_PLAYERS, MOST_ZONES
from sim.game.values import Centre, Name, SpecTable

PARTS: Mapping[str, tuple[str, ...]] = {
    "end": ("west", "east", "south", "north"),
    "half": ("west", "east", "south", "north"),
    "third": ("west", "middle", "east"),
    "lane": ("south", "middle", "north"),
}
"""Parts of an area, and which of them there are."""
OPENED = ("transfer", "shoot")  # what `open` may name beside zones


def _part(value: Any) -> Any:
    words = value.split() if isinstance(value, str) else []
    if len(words) == 4 and words[2] == "of" and words[0] in PARTS.get(words[1], ()):
        return value
    raise PydanticCustomError(
        "rule",
        'must read "PART of AREA" with a part of west, east, south or north end or half; west, middle or east third; south, '
        "middle or north lane",
    )


PartWords = Annotated[
    str,
    BeforeValidator(_part),
    WithJsonSchema(
        {
            "type": "string",
            "pattern": "^((west|east|south|north) (end|half)|(west|middle|east) third|(south|middle|north) lane) of "
            "[A-Za-z0-9][A-Za-z0-9_-]*$",
        }
    ),
]
Number = Annotated[int, Field(ge=0, le=MOST_PLAYERS)]


class ZoneSpec(SpecTable):
    """A part of an area that lines mark off, and who may be in it: `at` a part of an area; or a rectangle `within` its middle or
    with its `centre`."""

    at: PartWords | None = Field(
        default=None,
        description='"west end of pitch" (with depth), or its half; "west third of pitch", middle or east; '
        '"south lane of pitch", middle or north: the thirds of its width.',
    )
    depth: float | None = Field(
        default=None, gt=0, description="How far an end reaches into the area. Unit: the file's. Legal 1 to 150 m."
    )
    within: Name | None = Field(default=None, description="The area in whose middle it lies.")
    centre: Centre = None
    length: float | None = Field(
        default=None, gt=0, description="With within or centre: from west to east. Unit: the file's. Legal 1 to 150 m."
    )
    width: float | None = Field(
        default=None,
        gt=0,
        description="With within or centre: from south to north; of an end: along its line (a box; else all of it). Unit: the "
        "file's. Legal 1 to 150 m.",
    )
    closed_to: list[Name] = Field(
        default=[],
        max_length=MOST_ZONES,
        description="Who stays out, until it is opened by { open = ... } or the open of a phase: sides, roles, holder (the side "
        "with the ball and its floaters) or other (the side without it).",
    )
    least: dict[Name, Number] = Field(
        default={},
        description="Fewest players in it, by side or role, holder or other: who would be one too few stays.",
    )
    most: dict[Name, Number] = Field(
        default={}, description="Most players in it, the same way: who would be one too many waits on the line."
    )
    offside: bool = Field(
        default=False,
        description="true: offside counts in it. Nobody is played to in it who is nearer to the goal he attacks than the ball and "
        "than all but one of the others.",
    )


def zone_area(at: str) -> str:
    """The area of which a zone is a part: the "pitch" of "west end of pitch"."""
    return at.split()[3]
