"""A game as a short file: what a file may leave out is left out, as long as the same game comes back."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from sim.errors import InputError
from sim.game.loader import resolve, to_short
from sim.game.model import Game
from sim.game.schema import FIRST_LINE

Path = tuple[str, ...]
KEPT: tuple[Path, ...] = (("title",), ("purpose",), ("areas",))
NAMED = ("areas", "goals", "gates", "teams", "roles", "players", "phases", "restarts", "counters")
"""Tables of things with names: each stands in a line of its own."""


def brief(game: Game) -> str:
    """The text of the file: the full form without every key that is filled in by itself."""
    data = to_short(game)
    for role in data["roles"].values():
        role["players"] = {team: len(numbers) for team, numbers in role.get("players", {}).items()} or None
        if role["players"] is None:
            del role["players"]
    if _other(data, game):
        data = to_short(game)  # numbers that cannot be counted out
    for path in list(_leaves(data)):
        shorter = _without(data, path)
        if not _other(shorter, game):
            data = shorter
    return "\n".join([FIRST_LINE, *_lines(data)]) + "\n"


def _lines(data: dict[str, Any]) -> Iterator[str]:
    """A line for every value at the top and for everything with a name."""
    for key, value in data.items():
        if key not in NAMED:
            yield f"{key} = {written(value)}"
            continue
        for name, inside in value.items():
            if key == "phases" and inside:
                yield from (f"phases.{name}.{one} = {written(what)}" for one, what in inside.items() if one != "rules")
                yield from (
                    f"phases.{name}.rules.{rule} = {written(what)}" for rule, what in inside.get("rules", {}).items()
                )
            else:
                yield f"{key}.{name} = {written(inside)}"


def written(value: Any) -> str:
    """A value as TOML has it in one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        short = f"{value:.10g}"
        return short if float(short) == value else repr(value)
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{key} = {written(one)}' for key, one in value.items())} }}" if value else "{}"
    return f"[{', '.join(written(one) for one in value)}]"


def _leaves(data: dict[str, Any], at: Path = ()) -> Iterator[Path]:
    """Every table and value that may be left out: the largest first, so that a table goes whole where it can."""
    for key, value in data.items():
        path = (*at, key)
        if path not in KEPT:
            yield path
        if isinstance(value, dict):
            yield from _leaves(value, path)


def _without(data: dict[str, Any], path: Path) -> dict[str, Any]:
    key, *deeper = path
    if key not in data:
        return data
    if not deeper:
        return {name: value for name, value in data.items() if name != key}
    return data | {key: _without(data[key], tuple(deeper))}


def _other(data: dict[str, Any], game: Game) -> bool:
    """Whether it is not the same game any more."""
    try:
        return resolve(data, game.name, game.name) != game
    except (InputError, KeyError, TypeError):
        return True
