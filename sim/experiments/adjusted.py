"""The card for the grass as one frozen value: the levers with what they do, what is refused, and when to pull which."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING

from sim.experiments.comparison import Condition, Row
from sim.experiments.levers import LeftOut, Lever
from sim.measures.thresholds import STRICT
from sim.results import Provenance
from sim.shown import Shown

if TYPE_CHECKING:
    import pandas as pd

FORMAT = 2
CLEAR = ("clear, matters", "clear, size open")


@dataclass(frozen=True)
class Refusal:
    """Why a lever is not proposed: it may give this player (his id, and what he is called), on reduced load, more of this measure.

    `low` and `high`: 95 % interval of the difference; None where it cannot be told or the player is not in the changed game.
    """

    __pydantic_config__ = STRICT

    player: str
    name: str
    measure: str
    unit: str
    difference: float | None
    low: float | None
    high: float | None


@dataclass(frozen=True)
class Effect:
    """One lever: the row of the aim, the other key measures that clearly move by a size that matters, refusals."""

    __pydantic_config__ = STRICT

    lever: Lever
    aim: Row
    others: tuple[Row, ...]
    refusals: tuple[Refusal, ...]

    @property
    def moves(self) -> int:
        """1 or -1 where the aim clearly goes up or down, else 0."""
        if self.aim.verdict not in CLEAR or not self.aim.difference:
            return 0
        return 1 if self.aim.difference > 0 else -1


@dataclass(frozen=True)
class Spells:
    """The aim over `bouts` bouts in a row: its deciles over all such spells, and what one makes in counts.

    `minutes` of play in a spell, on the clock of the aim; None where the aim is no count per minute.
    """

    __pydantic_config__ = STRICT

    bouts: int
    number: int
    low: float
    high: float
    minutes: float | None


@dataclass(frozen=True)
class Trigger:
    """When the aim is below (or not) `value` over a spell: the first of `effects` (places in the card), or the next ones."""

    __pydantic_config__ = STRICT

    below: bool
    value: float
    effects: tuple[int, ...]


@dataclass(frozen=True)
class Asked:
    """A precision: every effect within `share` of the game's own value, in at most `budget` bouts; `widest` is what came out."""

    __pydantic_config__ = STRICT

    share: float
    budget: int
    widest: float | None
    reached: bool


@dataclass(frozen=True)
class Card(Shown):
    """`effects` in order: those that help the aim, strongest first, those that go the other way, and those that cannot be told.

    `population` is the preset that was put in place of the file's, if one was.  `goal`: a number, "more" or "less".  `mean`,
    `low`, `high`: the aim in the game as it is, with its 95 % interval.  `start`: the place of the lever to begin with, where
    the game as it is surely misses a goal that is a number.
    """

    __pydantic_config__ = STRICT

    format: int
    game: Condition
    measure: str
    scope: str
    unit: str
    clock: str
    definition: str
    goal: float | str
    population: str | None
    seed: int
    sessions: int
    bouts: int
    version: str
    mean: float
    low: float
    high: float
    effects: tuple[Effect, ...]
    left_out: tuple[LeftOut, ...]
    spells: Spells | None
    triggers: tuple[Trigger, ...]
    start: int | None
    precision: Asked | None
    multiplicity: str
    cautions: tuple[str, ...]
    provenance: Provenance

    def to_json(self) -> str:
        """All fields, in their order; raises `ValueError` for nan."""
        return json.dumps(asdict(self), indent=1, ensure_ascii=False, allow_nan=False)

    def table(self) -> pd.DataFrame:
        """One row a lever, in the order of the card."""
        import pandas as pd

        return pd.DataFrame(
            [
                {
                    "kind": one.lever.kind,
                    "way": one.lever.way,
                    "people": one.lever.people,
                    **{name: getattr(one.aim, name) for name in ("first", "second", "difference", "low", "high")},
                    "verdict": one.aim.verdict,
                    "refused": bool(one.refusals),
                }
                for one in self.effects
            ]
        )
