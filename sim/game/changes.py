"""Changes from the command line: ``roles.outside.touches=1`` applied to the short form before it is checked.

KEY is an everyday name (`sim.game.everyday`) or a dotted path of the short form; names are names, and an item of a `do` list
goes by its verb (``phases.keep.rules.point.do.score.to``).  VALUE is TOML; bare words that are no TOML are text.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Callable, Sequence
from typing import Any

from sim.errors import InputError
from sim.game.actions import (
    verb_of,
)
from sim.game.everyday import expanded, means_another, not_a_key
from sim.game.filling import Filling, fill_restarts
from sim.game.intake import parsed
from sim.game.keys import legal_paths
from sim.game.messages import LONGEST_SHOWN, show
from sim.game.model import Game
from sim.game.spec import (
    GameSpec,
)

_WORDS = re.compile(r"[A-Za-z][A-Za-z0-9 _-]*")


def _option(change: str) -> str:
    """The option as it is named in a complaint: without a change that fills the screen."""
    return f"--set {change if len(change) <= LONGEST_SHOWN else show(change)}"


def value_of(text: str, change: str) -> Any:
    """The value a person typed after the equals sign."""
    try:
        document = parsed(f"value = {text.strip()}", _option(change), "VALUE")
    except InputError:
        if _WORDS.fullmatch(text.strip()):
            return text.strip()
        raise InputError(
            f'VALUE must be TOML: a number, true, "text" or a list (got {show(text)})', _option(change)
        ) from None
    if list(document) != ["value"]:
        raise InputError(f"VALUE must be one TOML value (got {show(text)})", _option(change))
    return document["value"]


def _put(spec: dict, path: tuple[str, ...], value: Any) -> None:
    here: Any = spec
    for part in path[:-1]:
        if isinstance(here, list):
            here = next(action for action in here if verb_of(action) == part)
        else:
            here = here.setdefault(part, {})
    here[path[-1]] = value


_INSTEAD = {
    ("bouts", "seconds"): "minutes",
    ("bouts", "minutes"): "seconds",
    ("bouts", "rest_seconds"): "rest_minutes",
    ("bouts", "rest_minutes"): "rest_seconds",
}
"""The same thing in another unit, which a change takes the place of."""


class _Changing:
    """A short form while it is changed, and the game that it makes by then (`game_of`)."""

    def __init__(self, spec: dict, players: list[str], game_of: Callable[[dict], Game]):
        self.file, self.spec, self.game_of = spec, copy.deepcopy(spec), game_of
        self.legal = {".".join(path): path for path in legal_paths(GameSpec, spec, players)}
        self.last: Game | None = None
        self.stale = True

    def game(self) -> Game:
        """The game as it is by now; where only a later change mends what an earlier one broke, as it was before."""
        if self.last is None or self.stale:
            try:
                self.last = self.game_of(self.spec)
            except InputError:
                self.last = self.last or self.game_of(self.file)
        self.stale = False
        return self.last

    def put(self, key: str, value: Any) -> None:
        path = self.legal[key]
        _put(self.spec, path, value)
        if path[0] == "restarts":
            fill_restarts(Filling(self.spec))
        if path in _INSTEAD and isinstance(self.spec[path[0]], dict):
            self.spec[path[0]].pop(_INSTEAD[path], None)
        self.stale = True

    def change(self, key: str, text: str, change: str) -> None:
        """One change, by the path in the file or in everyday words; the later of two that touch one thing counts."""
        if key in self.legal and not means_another(key, text, self.file.get("roles", ())):
            self.put(key, value_of(text, change))
            return
        game = self.game()
        whole = expanded(game, key, text, _option(change))
        if whole is None:
            raise not_a_key(game, key, list(self.legal), _option(change))
        for one in whole:
            path, _, value = one.partition("=")
            self.put(path, value_of(value, change))


def apply_changes(spec: dict, changes: Sequence[str], players: list[str], game_of: Callable[[dict], Game]) -> dict:
    """A changed copy of the short form; `players` are the ids that ``players.ID`` may name, `game_of` makes the game of one."""
    changing = _Changing(spec, players, game_of)
    seen: set[str] = set()
    for change in changes:
        key, equals, text = change.partition("=")
        key = key.strip()
        if not equals or not key or not text.strip():
            raise InputError(f"must read KEY=VALUE (got {show(change)})", "--set")
        if key in seen:
            raise InputError(f"{key} must be set once only (got it twice)", _option(change))
        seen.add(key)
        changing.change(key, text, change)
    return changing.spec
