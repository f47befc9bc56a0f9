"""The mathematics of the calibration, on plain numbers: loss, design, bounded search, and what the data cannot tell.

A *gap* is (ours - published) over the size that counts, so that 1 is the edge of inside.  The loss of a set of constants is the
sum over rows of the mean squared gap of the row's parts, plus the pull: the sum of squared distances of the constants
from their defaults in units of their stated spreads.  Constants are searched in these units (z), within their limits.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sim.experiments.designs import plackett_burman

Gaps = Mapping[str, float]  # by part
Evaluate = Callable[[Mapping[str, float]], Gaps]
UNKNOWN_GAP = 5.0  # a part that gives nothing: far outside
DESIGN_STEP, REACH, LEAST_SCALE, TINY = (
    0.7,
    1.2,
    0.2,
    1e-9,
)  # of the search, in spreads (TINY: room lsq_linear wants at a limit)
PROFILE_STEP = 0.5
IDENTIFIED = 0.6  # of its stated spread: a constant that stays less sure than this is not identified


@dataclass(frozen=True)
class Constant:
    """A constant that may be searched."""

    name: str
    default: float
    spread: float
    low: float
    high: float

    def value(self, z: float) -> float:
        """The constant z stated spreads from its default, within its limits."""
        return min(max(self.default + z * self.spread, self.low), self.high)

    @property
    def limits(self) -> tuple[float, float]:
        """(least, greatest) z."""
        return (self.low - self.default) / self.spread, (self.high - self.default) / self.spread


def values_of(constants: Sequence[Constant], z: Sequence[float] | np.ndarray) -> dict[str, float]:
    """Constants by name, at these z."""
    return {one.name: one.value(float(at)) for one, at in zip(constants, z, strict=True)}


def fit_loss(gaps: Gaps, rows: Mapping[str, Sequence[str]]) -> float:
    """Sum over rows of the mean squared gap of the row's parts."""
    return sum(float(np.mean([squared(gaps[part]) for part in parts])) for parts in rows.values())


def squared(gap: float) -> float:
    """The square of a gap; that of a part that gives nothing is large."""
    return UNKNOWN_GAP**2 if math.isnan(gap) else gap * gap


def pull(z: Sequence[float] | np.ndarray) -> float:
    """Sum of squared distances from the defaults, in stated spreads."""
    return float(np.dot(z, z))


def promising(
    middle: Gaps,
    slopes: Mapping[str, Gaps],
    constants: Sequence[Constant],
    rows: Mapping[str, Sequence[str]],
    most: int,
) -> list[str]:
    """Names of at most `most` constants, one after the other the one with which the loss promises to fall furthest.

    middle   mean gaps over the design
    slopes   of every constant: how much the gaps grow by one spread of it
    The promise is the least loss, pull included, of planes through these within the limits and one reach.
    """
    from scipy.optimize import lsq_linear

    parts = weighted(rows)
    here = np.array([middle[part] * weight for part, weight in parts])
    by_name = {one.name: one for one in constants}
    slope = {name: np.array([slopes[name][part] * weight for part, weight in parts]) for name in by_name}

    def promise(names: list[str]) -> float:
        limits = np.array([by_name[name].limits for name in names])
        return lsq_linear(
            np.vstack([np.array([slope[name] for name in names]).T, np.eye(len(names))]),
            np.concatenate([-here, np.zeros(len(names))]),
            bounds=(np.clip(limits[:, 0], -REACH, -TINY), np.clip(limits[:, 1], TINY, REACH)),
        ).cost

    found: list[str] = []
    while len(found) < min(most, len(by_name)):
        left = [name for name in by_name if name not in found]
        found.append(min(left, key=lambda name: promise([*found, name])))
    return found


@dataclass(frozen=True)
class Fit:
    """Where the search ended: constants, loss and its two parts there and at the defaults, evaluations used."""

    values: dict[str, float]
    z: tuple[float, ...]
    loss: float
    pull: float
    loss_default: float
    evaluations: int


def search(
    evaluate: Evaluate,
    constants: Sequence[Constant],
    rows: Mapping[str, Sequence[str]],
    budget: int,
) -> Fit:
    """Bounded search from the defaults, at most `budget` evaluations: rounds of a two-level design about the best set so far, a
    plane through the gaps found, and the best set by these planes within the limits and one reach (scipy's lsq_linear).

    Gaps are played, so each has its luck; a plane through a whole design is far surer than a difference of two sets, and a set
    that was merely lucky in the design is never taken.  A round without gain halves the design and the reach.
    """
    from scipy.optimize import lsq_linear

    parts = weighted(rows)
    limits = np.array([one.limits for one in constants])
    half = plackett_burman(len(constants))
    design = np.vstack([half, -half])
    used = 0

    def residuals(z: np.ndarray) -> np.ndarray:
        nonlocal used
        used += 1
        gaps = evaluate(values_of(constants, z))
        return np.array([known(gaps[part]) * weight for part, weight in parts])

    centre, scale = np.zeros(len(constants)), 1.0
    found = residuals(centre)
    loss = loss_default = float(found @ found) + pull(centre)
    while used + len(design) + 1 <= budget and scale > LEAST_SCALE:
        steps = np.clip(centre + scale * DESIGN_STEP * design, limits[:, 0], limits[:, 1]) - centre
        there = np.array([residuals(centre + step) for step in steps])
        plane, *_ = np.linalg.lstsq(np.column_stack([np.ones(len(steps)), steps]), there, rcond=None)
        reach = np.clip(limits - centre[:, None], -scale * REACH, scale * REACH)
        step = lsq_linear(
            np.vstack([plane[1:].T, np.eye(len(constants))]),
            np.concatenate([-plane[0], -centre]),
            bounds=(np.minimum(reach[:, 0], -TINY), np.maximum(reach[:, 1], TINY)),
        ).x
        candidate = np.clip(centre + step, limits[:, 0], limits[:, 1])
        found = residuals(candidate)
        better = float(found @ found) + pull(candidate)
        if better < loss:
            centre, loss = candidate, better
        else:
            scale /= 2.0
    at = tuple(float(one) for one in centre)
    return Fit(values_of(constants, at), at, loss, pull(at), loss_default, used)


def weighted(rows: Mapping[str, Sequence[str]]) -> list[tuple[str, float]]:
    """All parts, each with the root of its share of its row."""
    return [(part, 1.0 / math.sqrt(len(of_row))) for of_row in rows.values() for part in of_row]


@dataclass(frozen=True)
class Profile:
    """What the data tell of each constant about the optimum, from a quadratic fit.

    `along[name]`: (z, loss) pairs; `spread_left[name]`: standard deviation left, in stated spreads; `correlations[i][j]`.
    """

    along: dict[str, list[tuple[float, float]]]
    spread_left: dict[str, float]
    correlations: list[list[float]]
    not_identified: list[str]


def profile(evaluate: Evaluate, constants: Sequence[Constant], rows: Mapping[str, Sequence[str]], fit: Fit) -> Profile:
    """Two evaluations a constant, half a spread to either side (less at a limit).

    The loss is a sum of squares, so its quadratic fit is the product of the gaps' slopes, plus the pull's own.
    """
    parts = weighted(rows)
    along: dict[str, list[tuple[float, float]]] = {}
    slopes = []
    for i, one in enumerate(constants):
        seen = []
        for step in (-PROFILE_STEP, PROFILE_STEP):
            z = list(fit.z)
            z[i] = float(np.clip(z[i] + step, *one.limits))
            gaps = evaluate(values_of(constants, z))
            seen.append((z[i], fit_loss(gaps, rows) + pull(z), np.array([known(gaps[p]) * w for p, w in parts])))
        along[one.name] = sorted([(at, loss) for at, loss, _ in seen] + [(fit.z[i], fit.loss)])
        width = seen[1][0] - seen[0][0]
        slopes.append((seen[1][2] - seen[0][2]) / width if width > 0 else np.zeros(len(parts)))
    slope = np.array(slopes)
    covariance = np.linalg.inv(slope @ slope.T + np.eye(len(constants)))
    left = np.sqrt(np.diag(covariance))
    correlations = covariance / np.outer(left, left)
    names = [one.name for one in constants]
    return Profile(
        along,
        dict(zip(names, (float(one) for one in left), strict=True)),
        [[float(one) for one in row] for row in correlations],
        [name for name, one in zip(names, left, strict=True) if one > IDENTIFIED],
    )


def known(gap: float) -> float:
    """The gap, or that of a part that gives nothing."""
    return UNKNOWN_GAP if math.isnan(gap) else gap
