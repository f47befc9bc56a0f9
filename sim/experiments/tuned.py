"""What a tune found: one frozen value, written as strict JSON."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from typing import Literal

from sim.experiments.comparison import Arm, Row
from sim.measures.thresholds import STRICT
from sim.results import Provenance

FORMAT = 1
Side = Literal["below", "at", "above"]


@dataclass(frozen=True)
class Point:
    """The measure at one value of the knob: mean, 95 % interval, and on which side of the target that interval lies."""

    __pydantic_config__ = STRICT

    value: int
    mean: float
    low: float
    high: float
    bouts: int
    side: Side


@dataclass(frozen=True)
class Tuned:
    """`answer` is the nearest candidate; `fresh` the same on sessions of its own; `effects`: it against the game as it is.

    `as_good`: those that could not be told from the target even with the most bouts; `crossings`: how often the curve
    surely changes sides.  `reached`: some candidate cannot be told from the target, or two lie on either side of it.
    """

    __pydantic_config__ = STRICT

    format: int
    game: Arm
    knob: str
    measure: str
    scope: str
    target: float
    seed: int
    version: str
    answer: int
    reached: bool
    as_good: tuple[int, ...]
    crossings: int
    curve: tuple[Point, ...]
    fresh: Point
    effects: tuple[Row, ...]
    cautions: tuple[str, ...]
    provenance: Provenance

    def to_json(self) -> str:
        return json.dumps(asdict(self), indent=1, ensure_ascii=False, allow_nan=False)
