"""Conditions: a game of `games/` with its changes, people and engine constants.

The same condition asked for by many rows is played once.  Session r of any condition has the same seed and, where players have
the same names, the same players: conditions are compared session by session, and so are sets of constants (common random
numbers).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache

from sim.assumptions import Assumptions
from sim.evidence.tables import folder
from sim.game.model import Game

SEED = 3
SAME_PLAYERS = "same players"
TYPICAL_PLAYERS = "typical players"

Constants = tuple[tuple[str, float], ...]
"""(name, value) of engine constants, in order of the name."""


@dataclass(frozen=True)
class Condition:
    """`changes` may hold "same players" (those of session 0 play them all) or "typical players" (everybody at the mean of
    the population).  `constants`: those of the engine that are replaced."""

    game: str
    changes: tuple[str, ...] = ()
    population: str = ""
    constants: Constants = ()

    @property
    def assumptions(self) -> Assumptions:
        """The constants as every experiment takes them."""
        return Assumptions(engine=self.constants)

    def with_constants(self, more: Mapping[str, float]) -> Condition:
        """The same with these laid over its own."""
        return replace(self, constants=tuple(sorted((dict(self.constants) | dict(more)).items())))


def constants_of(words: Iterable[str]) -> Constants:
    """From "name=value" of a table."""
    return tuple(sorted((name.strip(), float(value)) for name, value in (word.split("=") for word in words)))


@cache
def game_of(condition: Condition) -> Game:
    """The game with its changes, for its population; raises `InputError` where they do not go together."""
    from sim.game.loader import load_game

    changes = [change for change in condition.changes if "=" in change]
    return load_game(folder() / "games" / f"{condition.game}.toml", changes, condition.population or None)
