"""Shares as people type them: in per cent, as everything is printed.  What could be meant in two ways is refused."""

from __future__ import annotations

import math

from sim.errors import InputError
from sim.measures.catalogue import measures
from sim.measures.thresholds import ADULT_MEN

SHARE = "share"


def unit_of(measure: str) -> str:
    """The unit of a measure; one that is no ratio of sums (the most exposed player) is a share."""
    return {one.measure: one.unit for one in measures(ADULT_MEN)}.get(measure, SHARE)


def is_share(measure: str) -> bool:
    """Whether a measure is asked for and printed in per cent."""
    return unit_of(measure) == SHARE


def share_of(text: str, where: str, ends: bool = False) -> float:
    """``50`` and ``50%`` are a half; ``0.5%`` is one in two hundred; ``0.5`` could be either, and is refused.

    `ends`: nothing (0) and all (100) are shares too.  `where` is named in complaints.
    """
    number = text.strip()
    bare = number.removesuffix("%").strip()
    try:
        value = float(bare)
    except ValueError:
        value = math.nan
    if not (0 <= value <= 100 if ends else 0 < value < 100):
        raise InputError(f"must be a share between 0 and 100 %, such as 5% (got {text!r})", where)
    if bare == number and 0 < value < 1:
        readings = f"{100 * value:g} or {value:g} %?"
        raise InputError(
            f"must say which per cent, {readings} Write {100 * value:g}% or {value:g}% (got {text!r})", where
        )
    return value / 100
