"""The keys a game file may hold: walking the short form's models by dotted path.

One reading of the models serves the messages about unknown keys and the changes of ``--set``.
"""

from __future__ import annotations

import types
from collections.abc import Callable, Iterator, Mapping
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sim.game.actions import (
    ACTIONS,
    ActionSpec,
    verb_of,
)
from sim.game.filling import STANDARD_RESTARTS
from sim.game.model import AFTER_A_GOAL
from sim.game.verbs import KINDS, Action


def _bare(annotation: Any) -> Any:
    """The annotation without its metadata and without "or None"."""
    if get_origin(annotation) is Annotated:
        return _bare(get_args(annotation)[0])
    if get_origin(annotation) in (Union, types.UnionType):
        real = [one for one in get_args(annotation) if one is not type(None)]
        return _bare(real[0]) if len(real) == 1 else annotation
    return annotation


_ACTION = _bare(ActionSpec)
_VERBS: dict[Any, Mapping[Any, type[BaseModel]]] = {_ACTION: ACTIONS, _bare(Action): KINDS}
"""By what a list of consequences holds, in the short and in the resolved form: the model of each verb."""


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


def model_at(root: type[BaseModel], location: tuple) -> type[BaseModel] | None:
    """The model that stands at a place (keys, names, list positions and verbs, as pydantic tells them), if one does."""
    here: Any = root
    for part in location:
        model = _model(here)
        if _bare(here) in _VERBS:
            here = _VERBS[_bare(here)].get(part)
        elif model is not None:
            info = fields(model).get(part)
            here = None if info is None else info.annotation
        else:
            here = _values(here)
        if here is None:
            return None
    return _model(here)


def _verb_paths(actions: Any, path: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """The keys of those actions of a `do` list whose verb stands in it once."""
    verbs = [verb_of(action) for action in actions if isinstance(action, dict)] if isinstance(actions, list) else []
    for verb in verbs:
        if verb is not None and verbs.count(verb) == 1:
            yield from ((*path, verb, key) for key in fields(ACTIONS[verb]))


def _paths(
    annotation: Any, value: Any, path: tuple[str, ...], names_in: Callable[[dict, tuple[str, ...]], list[str]]
) -> Iterator[tuple[str, ...]]:
    """`path`, where `value` of the type `annotation` stands or could stand, and every path inside it."""
    if path:
        yield path
    model, values = _model(annotation), _values(annotation)
    if model is not None and (value is None or isinstance(value, dict)):
        table = value or {}
        for key, info in fields(model).items():
            yield from _paths(info.annotation, table.get(key), (*path, key), names_in)
    elif values is not None and _bare(values) == _ACTION:
        yield from _verb_paths(value, path)
    elif get_origin(_bare(annotation)) is dict:
        table = value if isinstance(value, dict) else {}
        for name in names_in(table, path):
            yield from _paths(values, table.get(name), (*path, name), names_in)
    elif path[-1:] == ("players",) and isinstance(value, dict):
        yield from ((*path, team) for team in value)


def legal_paths(root: type[BaseModel], spec: dict, players: list[str]) -> Iterator[tuple[str, ...]]:
    """Every path that could be set in this file: what is there, and every optional key that could be."""

    def names_in(table: dict, path: tuple[str, ...]) -> list[str]:
        """The names that a table keyed by name holds, or could hold."""
        roles = spec.get("roles", {})
        more = players if path == ("players",) else roles if path[-1:] == ("jobs",) else ()
        if path == ("restarts",):
            more = (*STANDARD_RESTARTS, *([AFTER_A_GOAL] if spec.get("goals") else []))
        return [*table, *(name for name in more if name not in table)]

    yield from _paths(root, spec, (), names_in)
