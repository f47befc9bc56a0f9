"""The reference of the language of game files: every key and every word, made from the tables that read them.

``python -m tests.support.language_page`` writes it anew between the marks of ``scenarios/README.md``.  The meaning of a key is what
its model says of it; its example is the first place where a game that is played in the tests uses it: a shipped game, a valid
case, or a file of ``tests/cases/language``.  So a new word comes in by itself, once some game of these uses it.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, Literal, NamedTuple, get_args, get_origin

from pydantic import BaseModel

from sim.game.actions import ACTIONS, ActionSpec, verb_of
from sim.game.keys import fields
from sim.game.meanings import EVENTS
from sim.game.messages import show
from sim.game.schema import json_schema
from sim.game.spec import GameSpec

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "scenarios" / "README.md"
BEGIN, END = "<!-- reference: begin -->\n", "<!-- reference: end -->\n"
FILES = [
    *sorted((ROOT / "scenarios").glob("*.toml")),
    *sorted((ROOT / "tests" / "cases" / "language").glob("*.toml")),
    *sorted((ROOT / "tests" / "cases" / "valid").glob("*.toml")),
]
LONGEST = 70  # signs of an example


class Row(NamedTuple):
    """One key of a table: what it means, and the words of which it may be one."""

    table: str
    key: str
    meaning: str
    words: tuple[str, ...]


def _bare(annotation: Any) -> Any:
    """The annotation without metadata and None."""
    inside = get_args(annotation)
    if hasattr(annotation, "__metadata__"):
        return _bare(inside[0])
    real = [one for one in inside if one is not type(None)]
    return _bare(real[0]) if type(None) in inside and len(real) == 1 else annotation


def _literals(annotation: Any) -> Iterator[str]:
    """The words that a value may be one of, wherever in its type they stand."""
    if get_origin(annotation) is Literal:
        yield from (word for word in get_args(annotation) if isinstance(word, str))
    else:
        for inside in get_args(annotation):
            yield from _literals(inside)


def _tables(model: type[BaseModel]) -> Iterator[type[BaseModel]]:
    """A model and every model inside it, each once where it is met."""
    yield model
    for info in model.model_fields.values():
        for inside in _models(info.annotation):
            yield from _tables(inside)


def _models(annotation: Any) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    elif annotation is not ActionSpec:
        for inside in get_args(annotation):
            yield from _models(inside)


TABLES = [*dict.fromkeys(table for table in _tables(GameSpec) if table not in ACTIONS.values()), *ACTIONS.values()]


schema_of_today = cache(json_schema)


@cache
def rows(model: type[BaseModel]) -> tuple[Row, ...]:
    """The rows of a table of the language."""
    schema = schema_of_today()
    table = schema if model is GameSpec else schema["$defs"][model.__name__]
    types = {key: info.annotation for key, info in fields(model).items()}
    found = []
    for key, told in table["properties"].items():
        words = tuple(dict.fromkeys(_literals(types[key]))) if key in types else ()
        by_name = key in types and get_origin(_bare(types[key])) is dict
        if any(True for _ in _models(types.get(key))) or key == "do" or by_name:
            words = ()
        found.append(Row(model.__name__, key, f"{told.get('description', '')}{_default(told)}", words))
    return tuple(found)


def _default(told: dict[str, Any]) -> str:
    """The default of a key, where its description does not say it."""
    value = told.get("default")
    untold = value in (None, False) or isinstance(value, (dict, list)) or "efault" in told.get("description", "")
    return "" if untold else f" Default {show(value)}."


def uses(model: type[BaseModel], raw: Any) -> Iterator[tuple[str, str, Any]]:
    """(table, key, value) of everything a file writes."""
    if not isinstance(raw, dict):
        return
    known = fields(model)
    for key, value in raw.items():
        yield model.__name__, key, value
        if model is GameSpec and key == "rules":
            inside = _model_of(GameSpec, "phases", "rules")
            yield from (use for one in value.values() for use in uses(inside, one))
        elif model is GameSpec and key == "actions":
            yield from (use for one in value.values() for use in _consequences(one))
        elif key == "do":
            yield from _consequences(value)
        elif key in known:
            for inside in _models(known[key].annotation):
                many = get_origin(_bare(known[key].annotation)) is dict
                yield from (use for one in (value.values() if many else [value]) for use in uses(inside, one))


def _consequences(do: list) -> Iterator[tuple[str, str, Any]]:
    for action in do:
        verb = verb_of(action) if isinstance(action, dict) else None
        if verb is not None:
            yield from ((ACTIONS[verb].__name__, key, action) for key in action)


def _model_of(model: type[BaseModel], *way: str) -> type[BaseModel]:
    for key in way:
        (model,) = _models(fields(model)[key].annotation)
    return model


def examples() -> dict[tuple[str, str], list[tuple[Any, Path]]]:
    """Every use of every key in the games that are played, in the order of the files."""
    found: dict[tuple[str, str], list[tuple[Any, Path]]] = {}
    for file in FILES:
        raw = tomllib.loads(file.read_text(encoding="utf-8"))
        if not isinstance(raw.get("areas"), list):
            for table, key, value in uses(GameSpec, raw):
                found.setdefault((table, key), []).append((value, file))
    return found


def _shown(table: str, key: str, value: Any) -> str:
    """A use as one writes it, cut where it is long."""
    if isinstance(value, dict) and value and all(isinstance(one, dict) for one in value.values()):
        return f"[{key}.{next(iter(value))}]"
    action = table in {model.__name__ for model in ACTIONS.values()}
    text = show(value) if action else f"{key} = {show(value)}"
    return text if len(text) <= LONGEST else f"{text[:LONGEST]}..."


def says(value: Any, key: str, word: str) -> bool:
    """Whether a use says a word."""
    held = value.get(key) if isinstance(value, dict) and key in value else value
    return held == word or (isinstance(held, list) and word in held)


def missing() -> list[str]:
    """The keys and words that no game that is played uses."""
    used = examples()
    gone = []
    for model in TABLES:
        for row in rows(model):
            uses = [value for value, _ in used.get((row.table, row.key), ())]
            if not uses:
                gone.append(f"{row.table}.{row.key}")
            elif len(row.words) > 1:
                lacks = [word for word in row.words if not any(says(value, row.key, word) for value in uses)]
                gone += [f"{row.table}.{row.key} = {word}" for word in lacks]
    return gone


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("\n", " ")


def _heading(model: type[BaseModel]) -> str:
    """What a table is called on the page: the verb of a consequence, else where it stands in a file."""
    verb = next((verb for verb, one in ACTIONS.items() if one is model), None)
    if verb is not None:
        return f"`{verb}`"
    return "The top of the file" if model is GameSpec else f"`{_place(model)}`"


def _place(model: type[BaseModel], at: type[BaseModel] = GameSpec) -> str:
    """Where a table stands: ``areas.NAME``."""
    for key, info in fields(at).items():
        name = f"{key}.NAME" if get_origin(_bare(info.annotation)) is dict else key
        for inside in _models(info.annotation):
            if inside is model:
                return name
            if deeper := _place(model, inside):
                return f"{name}.{deeper}"
    return ""


def reference() -> str:
    """The whole reference, as it stands on the page."""
    used = examples()
    out = ["### What can happen", "", "| `on` | When | Example |", "|---|---|---|"]
    rule = _model_of(GameSpec, "phases", "rules").__name__
    events = next(row.words for model in TABLES for row in rows(model) if (row.table, row.key) == (rule, "on"))
    for event in events:
        shown = next((_shown(rule, "on", event) for value, _ in used[rule, "on"] if says(value, "on", event)), "")
        out.append(f"| `{event}` | {EVENTS.get(event, 'see the words of overload check')} | `{shown}` |")
    for model in TABLES:
        if model is next(iter(ACTIONS.values())):
            out += ["", "### What can follow", "", "Every entry of `do` is a table with one verb."]
        about = " ".join((model.__doc__ or "").split())
        out += ["", f"**{_heading(model)}**: {about}", "", "| Key | What it says | Example |", "|---|---|---|"]
        for row in rows(model):
            words = f" One of {', '.join(f'`{word}`' for word in row.words)}." if len(row.words) > 1 else ""
            uses = used.get((row.table, row.key), ())
            shown = f"`{_shown(row.table, row.key, uses[0][0])}`" if uses else ""
            out.append(f"| `{row.key}` | {_cell(row.meaning)}{words} | {_cell(shown)} |")
    return "\n".join(out) + "\n"


def with_reference(page: str) -> str:
    """The page with the reference of today between its marks."""
    before, _, rest = page.partition(BEGIN)
    _, _, after = rest.partition(END)
    return f"{before}{BEGIN}{reference()}{END}{after}"


def write() -> None:
    """Write the reference of today into its page."""
    PAGE.write_text(with_reference(PAGE.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    write()
