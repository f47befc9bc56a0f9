"""Changes from the command line: ``roles.outside.touches=1`` applied to the short form before it is checked.

KEY is a dotted path of the short form; names are names, and an item of a `do` list goes by its verb
(``phases.keep.rules.point.do.score.to``).  VALUE is TOML; bare words that are no TOML are text.
"""

from __future__ import annotations

import copy
import difflib
import re
from collections.abc import Sequence
from typing import Any

from sim.errors import GameError
from sim.game.actions import (
    verb_of,
)
from sim.game.intake import parsed
from sim.game.keys import legal_paths
from sim.game.messages import LONGEST_SHOWN, show
from sim.game.short import (
    ShortGame,
)

_WORDS = re.compile(r"[A-Za-z][A-Za-z0-9 _-]*")


def _option(change: str) -> str:
    """The option as it is named in a complaint: without a change that fills the screen."""
    return f"--set {change if len(change) <= LONGEST_SHOWN else show(change)}"


def value_of(text: str, change: str) -> Any:
    """The value a person typed after the equals sign."""
    try:
        document = parsed(f"value = {text.strip()}", _option(change), "VALUE")
    except GameError:
        if _WORDS.fullmatch(text.strip()):
            return text.strip()
        raise GameError(
            f'VALUE must be TOML: a number, true, "text" or a list (got {show(text)})', _option(change)
        ) from None
    if list(document) != ["value"]:
        raise GameError(f"VALUE must be one TOML value (got {show(text)})", _option(change))
    return document["value"]


def _put(short: dict, path: tuple[str, ...], value: Any) -> None:
    here: Any = short
    for part in path[:-1]:
        if isinstance(here, list):
            here = next(action for action in here if verb_of(action) == part)
        else:
            here = here.setdefault(part, {})
    here[path[-1]] = value


def apply_changes(short: dict, changes: Sequence[str], players: list[str]) -> dict:
    """A changed copy of the short form; `players` are the ids that ``players.ID`` may name."""
    changed = copy.deepcopy(short)
    legal = {".".join(path): path for path in legal_paths(ShortGame, short, players)}
    seen: set[str] = set()
    for change in changes:
        key, equals, text = change.partition("=")
        key = key.strip()
        if not equals or not key or not text.strip():
            raise GameError(f"must read KEY=VALUE (got {show(change)})", "--set")
        if key not in legal:
            near = difflib.get_close_matches(key, legal, n=4, cutoff=0.5)
            hint = f"near: {', '.join(near)}" if near else f"begin with one of: {', '.join(ShortGame.model_fields)}"
            raise GameError(f"{key} is not a key of this game ({hint})", _option(change))
        if key in seen:
            raise GameError(f"{key} must be set once only (got it twice)", _option(change))
        seen.add(key)
        _put(changed, legal[key], value_of(text, change))
    return changed
