"""What came out: one frozen value with everything needed to know where it is from, to and from JSON.

The layout of the JSON is that of `Result`, in the order of its fields; `format` is the version of this layout.
Undefined is null, never NaN, and a text with anything missing, unknown, or of the wrong kind is refused whole.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from sim.errors import InputError
from sim.experiments.provenance import Provenance, Replaced
from sim.measures.summary import Measure
from sim.measures.thresholds import STRICT
from sim.shown import Shown

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

__all__ = ["FORMAT", "Measure", "Named", "Provenance", "Replaced", "Result"]

FORMAT = 2


@dataclass(frozen=True)
class Named:
    """A player's id, by which rows go (``player:ID``), and what he is called."""

    __pydantic_config__ = STRICT

    id: str
    name: str


@dataclass(frozen=True)
class Result(Shown):
    """The answer of one estimate.  `version` is the program's, `changes` what was set beside the file."""

    __pydantic_config__ = STRICT

    format: int
    game: str
    seed: int
    bouts: int
    population: str
    players: tuple[Named, ...]
    version: str
    changes: tuple[str, ...]
    cautions: tuple[str, ...]
    measures: tuple[Measure, ...]
    provenance: Provenance

    def rows(self, measure: str) -> list[Measure]:
        """All rows of a measure, in the order of the answer."""
        return [row for row in self.measures if row.measure == measure]

    def row(self, measure: str, scope: str = "game") -> Measure:
        """The one row of a measure for a scope."""
        found = [row for row in self.rows(measure) if row.scope == scope]
        if len(found) != 1:
            raise KeyError(f"{measure} for {scope} must be one row (got {len(found)})")
        return found[0]

    def to_dict(self) -> dict[str, Any]:
        """Plain lists, dictionaries and numbers, in the order of the layout."""
        plain: dict[str, Any] = json.loads(self.to_json())
        return plain

    def to_json(self) -> str:
        """The result as strict JSON: the fields in the order of the layout, undefined numbers as null."""
        return json.dumps(asdict(self), indent=1, ensure_ascii=False, allow_nan=False)

    @classmethod
    def from_json(cls, text: str) -> Result:
        """The result a text was made from; refuses anything else."""
        from pydantic import TypeAdapter, ValidationError

        try:
            found = TypeAdapter(cls).validate_json(text)
        except ValidationError as error:
            raise InputError([problem_of(one) for one in error.errors()], "result") from None
        if found.format != FORMAT:
            raise InputError([f"format must be {FORMAT} (got {found.format})"], "result")
        return found


def problem_of(error: ErrorDetails) -> str:
    """One message of our pattern."""
    where = ".".join(str(part) for part in error["loc"]) or "text"
    rules = {
        "missing": "must be given",
        "unexpected_keyword_argument": "must not be there",
        "json_invalid": "must be JSON",
    }
    if error["type"] in ("missing", "json_invalid"):
        return f"{where} {rules[error['type']]}"
    rule = rules.get(error["type"], f"must be right: {error['msg'].lower()}")
    return f"{where} {rule} (got {error['input']!r})"
