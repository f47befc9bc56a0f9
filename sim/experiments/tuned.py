"""What a tune found: one frozen value, written as strict JSON, and its curve as a table."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Literal

from sim.experiments.comparison import Condition, Evening, Row
from sim.measures.thresholds import STRICT
from sim.results import Provenance
from sim.shown import Shown

if TYPE_CHECKING:
    import pandas as pd

FORMAT = 3
STOPPED = "Stopped early: the search did not come to its end."
Side = Literal["below", "at", "above"]


@dataclass(frozen=True)
class Point:
    """The measure at one value of each knob: mean, 95 % interval, and on which side of the target that interval lies.

    `evening`: what one evening may bring, which is no doubt of ours about the mean.
    For "most" and "least" there is no target: `side` is "at" for what may be the best, and "below" or "above" it for the rest.
    """

    __pydantic_config__ = STRICT

    values: tuple[int, ...]
    mean: float
    low: float
    high: float
    bouts: int
    side: Side
    evening: Evening


@dataclass(frozen=True)
class Tuned(Shown):
    """`answer` is the nearest candidate; `fresh` the same on sessions of its own; `effects`: it against the game as it is.

    `as_it_is`: the answer is the very game that was given.

    `target` is a number in the `unit` of the measure (a share from 0 to 1), "most" or "least".  `as_good`: the other candidates
    whose `side` is "at"; `crossings`: how often the curve of one knob surely changes sides.  `reached`: the answer cannot be told
    from the target, or two candidates lie on either side of it.  `sure`: the search ended because it was sure enough, not because
    the budget was spent; `nearer` is the largest difference it does not care about.
    """

    __pydantic_config__ = STRICT

    format: int
    game: Condition
    knobs: tuple[str, ...]
    measure: str
    scope: str
    unit: str
    target: float | str
    seed: int
    version: str
    answer: tuple[int, ...]
    changes: tuple[str, ...]
    as_it_is: bool
    reached: bool
    as_good: tuple[tuple[int, ...], ...]
    crossings: int
    sure: bool
    nearer: float
    curve: tuple[Point, ...]
    fresh: Point | None
    effects: tuple[Row, ...]
    cautions: tuple[str, ...]
    provenance: Provenance

    def to_json(self) -> str:
        """All fields, in their order; raises `ValueError` for nan."""
        return json.dumps(asdict(self), indent=1, ensure_ascii=False, allow_nan=False)

    def table(self) -> pd.DataFrame:
        """The curve with its band: a row a candidate, a column a knob; `point` is its side, `answer` true for the one chosen."""
        import pandas as pd

        rows = [
            dict(zip(self.knobs, one.values, strict=True))
            | {name: getattr(one, name) for name in ("mean", "low", "high", "bouts")}
            | {"point": one.side, "answer": one.values == self.answer}
            for one in self.curve
        ]
        return pd.DataFrame(rows)
