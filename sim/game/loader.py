"""Loading: a file or a shipped name, some changes, and out comes a frozen, validated `Game`.

Both forms load.  The resolved form (its `areas` are a list) is read into a `Game`, written back into the short form and
checked like any other, so that there is one path, one set of rules and one set of messages.
"""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path

from pydantic import ValidationError

from sim.errors import GameError
from sim.game.model import Game
from sim.game.resolve import to_game
from sim.game.short import ShortGame


def resolve(short: Mapping, source: str, name: str = "game") -> Game:
    """The resolved game of a short form given as plain data."""
    try:
        return to_game(ShortGame.model_validate(dict(short)), name)
    except ValidationError as error:
        raise GameError(str(error), source) from None


def load_game(source: str | Path | Mapping, changes: Sequence[str] = (), population: str | None = None) -> Game:
    from sim.game.shipped import shipped_games

    shipped = shipped_games()
    file = shipped.get(str(source)) or Path(source)
    return resolve(tomllib.loads(file.read_text(encoding="utf-8")), str(source), file.name.removesuffix(".toml"))
