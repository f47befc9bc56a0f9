"""What a calibration is to meet: the fitted measurements, the bands of keep-ball and the fitted rows of tracking, in one list.

A *part* has a middle and a half width: its gap is (ours - middle) / half width, so that 1 is the edge of inside.  The middle of a
measurement is what was published, its half width the size that counts; of a band or a row of tracking they lie between its ends.
Parts of one row share its weight.  What is marked "predicted" never comes here.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from sim.evidence import criteria
from sim.evidence.keepball.cells import bands
from sim.evidence.tables import Part, mark_of, parts, rows_of
from sim.evidence.tracking.play import rows as tracking_rows

FITTED = "fitted"
MEASUREMENT, BAND, TRACKING = "measurement", "band", "tracking"
WEIGHTS: Mapping[str, float] = MappingProxyType({MEASUREMENT: 1.0, BAND: 1.0, TRACKING: 1.0})
"""Of one row of each kind in the loss.  One each: the half width of a row already says how close is close enough, and we have no
ground to trust one kind more than another; so a kind counts by how many rows it has."""
STUDIES = ("M01 M02 M03", "M04 M05 M06 M07 M08 M09 M29", "M36 M37 M38 M39", BAND, TRACKING)
"""What is left out in turn, in a refit each: a published study by its measurements, or all bands, or all rows of tracking."""


@dataclass(frozen=True)
class Target:
    """A part to be met; `about`: the measurements that it speaks of, or the row itself."""

    part: str
    row: str
    kind: str
    about: tuple[str, ...]
    middle: float
    half: float

    def gap(self, ours: float | None) -> float:
        """How far off ours is, in half widths; nan where there is none."""
        return math.nan if ours is None else (ours - self.middle) / self.half

    def seen_by(self, study: str) -> bool:
        """Whether it belongs to a study of `STUDIES`, or is of this kind."""
        return study == self.kind or bool(set(self.about) & set(study.split()))


def scale_of(part: Part) -> tuple[float, float] | None:
    """(middle, half width) of a measurement's part in its own unit; None where no number is to be met."""
    if part.rule == "percent":
        return float(part.published), float(part.published) * float(part.size) / 100
    if part.rule == "absolute":
        return float(part.published), float(part.size)
    if part.rule == "band":
        return between(*criteria.ends(part.size))
    return None


def between(low: float, high: float) -> tuple[float, float]:
    """(middle, half width) of what lies between two ends."""
    return (low + high) / 2, (high - low) / 2


@cache
def targets() -> tuple[Target, ...]:
    """All that a calibration sees, in the order of the tables."""
    fitted = [(part, scale_of(part)) for part in parts() if mark_of(part) == FITTED]
    banded = [(BAND, band) for band in bands()] + [(TRACKING, row) for row in tracking_rows()]
    return (
        *(
            Target(part.part, part.row, MEASUREMENT, rows_of(part), *scale)
            for part, scale in fitted
            if scale is not None
        ),
        *(
            Target(row.id, row.id, kind, (row.id,), *between(row.low, row.high))
            for kind, row in banded
            if row.role == FITTED
        ),
    )


def shares(without: str | None = None, only: str | None = None) -> dict[str, float]:
    """What the squared gap of every part counts in the loss: its row's weight, shared by the parts of the row.

    without   a study of `STUDIES` that is not seen
    only      a study, or a kind of row, beside which nothing is seen
    """
    seen = [
        one
        for one in targets()
        if not (without is not None and one.seen_by(without)) and (only is None or one.seen_by(only))
    ]
    many = Counter(one.row for one in seen)
    return {one.part: WEIGHTS[one.kind] / many[one.row] for one in seen}


def rows_by_kind() -> dict[str, int]:
    """How many rows of each kind are to be met."""
    return dict(Counter(kind for kind, _ in {(one.kind, one.row): None for one in targets()}))


def gaps_of(ours: Mapping[str, float]) -> dict[str, float]:
    """The gap of every part by its name; nan where ours is not there."""
    return {one.part: one.gap(ours.get(one.part)) for one in targets()}
