"""How far a fit is luck: it and the values in force played anew on seeds that the fit has not seen, and the rule that decides.

The rule was set before the first fit to all three kinds of row: the fitted values are taken only if their loss is lower by more
than two standard errors of the paired difference over the fresh seeds, and no fewer bands are inside than with the values in force.
The loss is that of the gaps alone, without the pull.  A band is inside when its gap, averaged over the fresh seeds, is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sim.evidence.fitting import Gaps, fit_loss
from sim.evidence.targets import BAND, WEIGHTS, shares

CLEAR = 2.0  # standard errors that the paired difference must lie below nothing


@dataclass(frozen=True)
class Losses:
    """The loss of one set of constants by kind of row, seed by seed, and how many bands are inside."""

    by_kind: Mapping[str, tuple[float, ...]]
    bands_inside: int

    @property
    def of_seed(self) -> tuple[float, ...]:
        """The whole loss, seed by seed."""
        return tuple(sum(kinds) for kinds in zip(*self.by_kind.values(), strict=True))


@dataclass(frozen=True)
class Luck:
    """The values in force and the fitted ones on the same fresh seeds."""

    seeds: tuple[int, ...]
    before: Losses
    fitted: Losses
    bands: int

    @property
    def difference(self) -> tuple[float, float]:
        """Fitted less before, seed by seed: mean and standard error."""
        return mean_and_error(less(self.fitted.of_seed, self.before.of_seed))

    @property
    def clear(self) -> bool:
        """Whether the loss is lower beyond luck."""
        mean, error = self.difference
        return mean + CLEAR * error < 0.0

    @property
    def taken(self) -> bool:
        """Whether the rule takes the fitted values."""
        return self.clear and self.fitted.bands_inside >= self.before.bands_inside


def less(fitted: Sequence[float], before: Sequence[float]) -> list[float]:
    """Fitted less before, seed by seed."""
    return [one - other for one, other in zip(fitted, before, strict=True)]


def mean_and_error(values: Sequence[float]) -> tuple[float, float]:
    """Mean and its standard error."""
    return float(np.mean(values)), spread(values) / math.sqrt(len(values))


def spread(values: Sequence[float]) -> float:
    """Standard deviation between seeds."""
    return float(np.std(values, ddof=1))


def losses_of(seeds: Sequence[Gaps]) -> Losses:
    """From the gaps of every seed."""
    by_kind = {kind: tuple(fit_loss(gaps, shares(only=kind)) for gaps in seeds) for kind in WEIGHTS}
    inside = sum(abs(float(np.mean([gaps[band] for gaps in seeds]))) <= 1.0 for band in shares(only=BAND))
    return Losses(by_kind, inside)


def luck_of(seeds: Sequence[int], before: Sequence[Gaps], fitted: Sequence[Gaps]) -> Luck:
    """From the gaps of both sets, seed by seed."""
    return Luck(tuple(seeds), losses_of(before), losses_of(fitted), len(shares(only=BAND)))
