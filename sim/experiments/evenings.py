"""What one evening may bring, and how likely the second of two games has more on one evening, on either clock."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from sim.experiments.comparison import Evening
from sim.experiments.key_measures import KeyMeasure
from sim.experiments.paired import Difference, paired_difference
from sim.experiments.variance_components import (
    Parts,
    Sums,
    one_session_larger,
    other_sessions_larger,
    parts_of_difference,
)
from sim.measures.summary import spread

Bouts = Sequence[KeyMeasure] | None
"""A measure of the first bout of every session, of the second, and so on; None of what does not add up over bouts."""
OfBouts = tuple[Bouts, Bouts]
"""The same of two games."""


def evening_of(one: KeyMeasure) -> Evening:
    """What one evening may bring, on both clocks where the measure has two."""
    own = one.values[~np.isnan(one.values)]
    ends = spread(own)
    if one.watched is None:
        return Evening(*ends, None, None, None)
    return Evening(*ends, float(one.top.sum() / one.watched.sum()), *spread(one.top / one.watched))


def parts_of(bouts: OfBouts) -> Parts | None:
    """What the difference of two games is made up of; None where that cannot be told."""
    first, second = bouts
    return None if first is None or second is None else parts_of_difference(sums_of(first), sums_of(second))


def sums_of(bouts: Sequence[KeyMeasure]) -> Sums:
    """(top, bottom), [session, bout]."""
    return np.stack([one.top for one in bouts], axis=1), np.stack([one.bottom for one in bouts], axis=1)


def session_chance(a: KeyMeasure, b: KeyMeasure, found: Difference, parts: Parts | None) -> float | None:
    """How likely one session of `b` has more than one of `a`; None where that cannot be told."""
    if parts is None:
        return other_sessions_larger(a.values, b.values)
    return one_session_larger(found.difference, found.error, parts)


def watch_session(a: KeyMeasure, b: KeyMeasure, bouts: OfBouts) -> float | None:
    """The same of what is counted by the minute with the ball rolling, by the minute on the watch; None of anything else."""
    if a.watched is None or b.watched is None:
        return None
    first, second = bouts
    by_watch = first and [watched(one) for one in first], second and [watched(one) for one in second]
    ours, theirs = watched(a), watched(b)
    found = paired_difference((ours.top, ours.bottom), (theirs.top, theirs.bottom))
    return None if found is None else session_chance(ours, theirs, found, parts_of(by_watch))


def watched(one: KeyMeasure) -> KeyMeasure:
    """A count over the seconds on the watch."""
    return replace(one, bottom=one.bottom if one.watched is None else one.watched, watched=None)
