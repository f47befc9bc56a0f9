"""What a comparison found: one frozen value with everything needed to know where it is from, to and from JSON.

Undefined is null, never NaN; a text with anything missing, unknown or of the wrong kind is refused whole.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, field
from typing import TYPE_CHECKING, Literal

from sim.errors import InputError
from sim.experiments.series import SeriesCompared
from sim.measures.thresholds import STRICT
from sim.results import Provenance, problem_of
from sim.shown import Shown

if TYPE_CHECKING:
    import pandas as pd

FORMAT = 5

Verdict = Literal["clear, matters", "clear, size open", "no difference that matters", "cannot tell"]


@dataclass(frozen=True)
class Condition:
    """One of the games: `name` in tables, `changes` what was set beside the file, `population` who played."""

    __pydantic_config__ = STRICT

    name: str
    game: str
    title: str
    changes: tuple[str, ...]
    population: str


@dataclass(frozen=True)
class Evening:
    """What one evening may bring: the middle 80 % of sessions, each with its own value, as in an estimate; None from one session.

    `low` to `high` in the unit of the measure.  Of what is counted by the minute with the ball rolling also by the minute on the
    watch: `watch` over all sessions, and `watch_low` to `watch_high`; None of anything else.
    """

    __pydantic_config__ = STRICT

    low: float | None
    high: float | None
    watch: float | None
    watch_low: float | None
    watch_high: float | None


@dataclass(frozen=True)
class Row:
    """One measure in both conditions; `difference` is second minus first, `low`/`high` its own 95 % interval.

    `long_run` and `one_session`: how likely the second condition is the larger one, in very many bouts of players that we do not
    know, and in one session of each by the same players (`sim.experiments.variance_components`).  `watch_session`: the latter of
    what is counted by the minute with the ball rolling, by the minute on the watch; None of anything else.
    `ignorance`: how much the true difference varies with who plays (standard deviation); None, like `long_run`, where that
    cannot be told.  `p_holm` is adjusted over all rows of all comparisons made at once.  `worthwhile` is the smallest difference
    that matters, in the unit of the measure.  `half_independent`: half-width of the interval had the conditions not been paired
    (Welch); `variance_ratio`: variance of the difference without pairing over that with it.  `first_evening` and
    `second_evening`: what one evening of either may bring, which is no doubt of ours about the mean.
    """

    __pydantic_config__ = STRICT

    measure: str
    scope: str
    unit: str
    clock: str
    definition: str
    first: float | None
    second: float | None
    difference: float | None
    low: float | None
    high: float | None
    long_run: float | None
    one_session: float | None
    watch_session: float | None
    ignorance: float | None
    p_holm: float | None
    worthwhile: float | None
    half_independent: float | None
    variance_ratio: float | None
    verdict: Verdict
    first_evening: Evening
    second_evening: Evening


@dataclass(frozen=True)
class Counting:
    """Minutes of play to count of each condition until the difference in losses shows (80 % power, two-sided 5 %).

    `minutes` with the dispersion of the simulated counts of whole sessions, `poisson` as if losses came purely by chance.
    """

    __pydantic_config__ = STRICT

    minutes: float | None
    poisson: float | None
    dispersion_first: float
    dispersion_second: float


@dataclass(frozen=True)
class Comparison(Shown):
    """Two games over the same sessions.  `bouts` are those of the first condition; `sessions` are the pairs.

    `population` is the preset that was put in place of the files' own, if one was.  `series`: how their evenings are cut in bouts.
    """

    __pydantic_config__ = STRICT

    format: int
    first: Condition
    second: Condition
    population: str | None
    seed: int
    sessions: int
    bouts: int
    version: str
    multiplicity: str
    cautions: tuple[str, ...]
    rows: tuple[Row, ...]
    counting: Counting | None
    series: SeriesCompared
    provenance: Provenance

    def row(self, measure: str, scope: str = "game") -> Row:
        """The one row of a measure for a scope; raises `KeyError` where there is none."""
        found = [row for row in self.rows if (row.measure, row.scope) == (measure, scope)]
        if len(found) != 1:
            raise KeyError(f"{measure} for {scope} must be one row (got {len(found)})")
        return found[0]

    def to_json(self) -> str:
        """All fields, in their order; raises `ValueError` for nan."""
        return json.dumps(asdict(self), indent=1, ensure_ascii=False, allow_nan=False)

    @classmethod
    def from_json(cls, text: str) -> Comparison:
        """The comparison a text was made from; refuses anything else."""
        from pydantic import TypeAdapter, ValidationError

        try:
            found = TypeAdapter(cls).validate_json(text)
        except ValidationError as error:
            raise InputError([problem_of(one) for one in error.errors()], "comparison") from None
        if found.format != FORMAT:
            raise InputError([f"format must be {FORMAT} (got {found.format})"], "comparison")
        return found


@dataclass(frozen=True)
class SessionValue:
    """One session's own value of a measure."""

    condition: str
    measure: str
    scope: str
    session: int
    value: float


@dataclass(frozen=True)
class Compared(Shown):
    """All comparisons made at once, and every session's own values (not part of the JSON).

    `asked`: (measure, scope) that the user cares about; None where that was left to us.
    """

    comparisons: tuple[Comparison, ...]
    session_values: tuple[SessionValue, ...] = field(repr=False)
    asked: tuple[str, str] | None = None

    def to_json(self) -> str:
        """All comparisons, and every caution once."""
        data = {
            "format": FORMAT,
            "comparisons": [asdict(one) for one in self.comparisons],
            "cautions": list(dict.fromkeys(line for one in reversed(self.comparisons) for line in one.cautions)),
        }
        return json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False)

    def differences(self) -> pd.DataFrame:
        """One row a variant and measure: the fields of `Row`, behind `condition`."""
        import pandas as pd

        return pd.DataFrame(
            [{"condition": one.second.name} | asdict(row) for one in self.comparisons for row in one.rows]
        )

    def sessions(self) -> pd.DataFrame:
        """One row a condition, measure and session: the fields of `SessionValue`."""
        import pandas as pd

        return pd.DataFrame([asdict(one) for one in self.session_values])
