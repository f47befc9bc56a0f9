"""The keys a game file may hold: walking the short form's models by dotted path.

One reading of the models serves the messages about unknown keys and the changes of ``--set``.
"""

from __future__ import annotations

import types
from collections.abc import Iterator
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sim.game.actions import (
    ACTIONS,
    ShortAction,
    verb_of,
)


def _bare(annotation: Any) -> Any:
    """The annotation without its metadata and without "or None"."""
    if get_origin(annotation) is Annotated:
        return _bare(get_args(annotation)[0])
    if get_origin(annotation) in (Union, types.UnionType):
        real = [one for one in get_args(annotation) if one is not type(None)]
        return _bare(real[0]) if len(real) == 1 else annotation
    return annotation


_ACTION = _bare(ShortAction)


def _model(annotation: Any) -> type[BaseModel] | None:
    bare = _bare(annotation)
    return bare if isinstance(bare, type) and issubclass(bare, BaseModel) else None


def _values(annotation: Any) -> Any:
    """What a table keyed by name (or a list) holds, or None if it is neither."""
    bare = _bare(annotation)
    inside = [one for one in get_args(bare) if one is not ...]  # all items of a tuple are alike
    return inside[-1] if get_origin(bare) in (dict, list, tuple) else None


def fields(model: type[BaseModel]) -> dict[str, FieldInfo]:
    """A model's fields by the key people write."""
    return {info.alias or name: info for name, info in model.model_fields.items()}


def at(root: type[BaseModel], location: tuple) -> type[BaseModel] | None:
    """The model that stands at a place (keys, names, list positions and verbs, as pydantic tells them), if one does."""
    here: Any = root
    for part in location:
        model = _model(here)
        if _bare(here) == _ACTION:
            here = ACTIONS.get(part)
        elif model is not None:
            info = fields(model).get(part)
            here = None if info is None else info.annotation
        else:
            here = _values(here)
        if here is None:
            return None
    return _model(here)


def legal_paths(root: type[BaseModel], short: dict, players: list[str]) -> Iterator[tuple[str, ...]]:
    """Every path that could be set in this file: what is there, and every optional key that could be."""

    def walk(annotation: Any, value: Any, path: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
        if path:
            yield path
        model, values = _model(annotation), _values(annotation)
        if model is not None and (value is None or isinstance(value, dict)):
            table = value or {}
            for key, info in fields(model).items():
                yield from walk(info.annotation, table.get(key), (*path, key))
        elif values is not None and _bare(values) == _ACTION:
            actions = value if isinstance(value, list) else []
            verbs = [verb_of(action) for action in actions if isinstance(action, dict)]
            for verb in verbs:
                if verb is not None and verbs.count(verb) == 1:
                    for key in fields(ACTIONS[verb]):
                        yield (*path, verb, key)
        elif get_origin(_bare(annotation)) is dict:
            names = list(value) if isinstance(value, dict) else []
            if path == ("players",):
                names += [player for player in players if player not in names]
            if path[-1:] == ("jobs",):
                names += [role for role in short.get("roles", {}) if role not in names]
            for name in names:
                yield from walk(values, value.get(name) if isinstance(value, dict) else None, (*path, name))
        elif path[-1:] == ("players",) and isinstance(value, dict):
            for team in value:
                yield (*path, team)

    yield from walk(root, short, ())
