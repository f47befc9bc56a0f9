"""What a file leaves out, and what holds instead, in the words in which one would write it there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from sim.game.actions import verb_of
from sim.game.keys import fields
from sim.game.resolve import INSTRUCTIONS, restarts
from sim.game.spec import GameSpec
from sim.game.whole import Whole

Written = tuple[str, Any]
_UNTOLD = ("format", "title", "purpose", "club", "units", "win_back", *INSTRUCTIONS)
"""What changes no play where it is left out, and what is asked of a role only where it is written."""


def _usual(value: Any) -> bool:
    """Whether a default asks for nothing."""
    return value is None or value is False or value in ({}, [])


def _inside(path: str, value: Any) -> Iterator[Written]:
    """Every default inside a value that was written."""
    if isinstance(value, BaseModel):
        yield from _defaults(path, value)
    elif isinstance(value, dict):
        for name, one in value.items():
            yield from _inside(f"{path}.{name}" if path else str(name), one)
    elif isinstance(value, list):
        for one in value:
            if isinstance(one, BaseModel):
                yield from _defaults(f"{path}.{verb_of(one)}", one)


def _defaults(path: str, table: BaseModel, written: bool = True) -> Iterator[Written]:
    """Every default of a table that the file does not write, or writes in part."""
    for key, info in fields(type(table)).items():
        name = next(name for name, field in type(table).model_fields.items() if field is info)
        value, place = getattr(table, name), f"{path}.{key}" if path else key
        if key in _UNTOLD and path.partition(".")[0] in ("", "roles"):
            continue
        if written and name in table.model_fields_set:
            yield from _inside(place, value)
        elif isinstance(value, BaseModel):
            yield from _defaults(place, value, written=False)
        elif not _usual(value):
            yield place, value


def left_out(full: Whole, spec: GameSpec) -> list[Written]:
    """(path, value) of whatever the file leaves out and play needs, in the order of the full form; what stands once in the file for
    both sides is told once."""
    return list(dict(_left_out(full, spec)).items())


def _left_out(full: Whole, spec: GameSpec) -> Iterator[Written]:
    filled = {path: value for path, value in full.filled.items() if path not in _UNTOLD and not _usual(value)}
    for path, value in filled.items():
        if full.value_at(path) == value:
            yield full.place_in_file(path), value
    for path, value in _defaults("", spec):
        if path == "between_areas" and len(spec.areas) == 1:
            continue
        yield full.place_in_file(path), value
    for name, restart in restarts(spec).items():
        if name not in spec.restarts:
            yield f"restarts.{name}", restart.model_dump(by_alias=True, exclude_none=True)
