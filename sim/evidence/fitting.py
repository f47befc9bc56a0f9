"""The mathematics of the calibration, on plain numbers: loss, design, bounded search, and what the data cannot tell.

A *gap* is how far ours is from the middle of where it should be, over the half width, so that 1 is the edge of inside.  The loss of
a set of constants is the sum over parts of the squared gap times the part's share, plus the pull: the sum of squared distances of
the constants from their defaults in units of their stated spreads.  Constants are searched in these units (z), within their limits.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sim.experiments.designs import plackett_burman

Gaps = Mapping[str, float]  # by part
Shares = Mapping[str, float]  # what the squared gap of each part counts, by part
Evaluate = Callable[[Mapping[str, float], int], Gaps]
"""(constants, seed) -> gaps"""
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
    """A constant that may be searched: pulled to its `default`, from `now`, the value in force."""

    name: str
    default: float
    spread: float
    low: float
    high: float
    now: float

    def value(self, z: float) -> float:
        """The constant z stated spreads from its default, within its limits."""
        return min(max(self.default + z * self.spread, self.low), self.high)

    @property
    def limits(self) -> tuple[float, float]:
        """(least, greatest) z."""
        return (self.low - self.default) / self.spread, (self.high - self.default) / self.spread

    @property
    def z_now(self) -> float:
        """Spreads between the default and the value in force."""
        return (self.now - self.default) / self.spread


def values_of(constants: Sequence[Constant], z: Sequence[float] | np.ndarray) -> dict[str, float]:
    """Constants by name, at these z."""
    return {one.name: one.value(float(at)) for one, at in zip(constants, z, strict=True)}


def in_force(constants: Sequence[Constant]) -> dict[str, float]:
    """Constants by name, as they are in force."""
    return {one.name: one.now for one in constants}


def residuals(gaps: Gaps, shares: Shares) -> np.ndarray:
    """The gap of every part times the root of its share: their squares add up to the loss, without the pull."""
    return np.array([known(gaps[part]) * math.sqrt(share) for part, share in shares.items()])


def fit_loss(gaps: Gaps, shares: Shares) -> float:
    """The loss without the pull."""
    found = residuals(gaps, shares)
    return float(found @ found)


def known(gap: float) -> float:
    """The gap, or that of a part that gives nothing."""
    return UNKNOWN_GAP if math.isnan(gap) else gap


def pull(z: Sequence[float] | np.ndarray) -> float:
    """Sum of squared distances from the defaults, in stated spreads."""
    return float(np.dot(z, z))


def promising(
    here: Gaps,
    slopes: Mapping[str, Gaps],
    constants: Sequence[Constant],
    shares: Shares,
    most: int,
) -> list[str]:
    """Names of at most `most` constants, one after the other the one with which the loss promises to fall furthest.

    here     gaps with the values in force
    slopes   of every constant: how much the gaps grow by one spread of it
    The promise is the least loss of planes through these within the limits and one reach, each constant held to its value in force
    as the pull holds it to its default: none is chosen only to go back there.
    """
    from scipy.optimize import lsq_linear

    start = residuals(here, shares)
    by_name = {one.name: one for one in constants}
    slope = {name: residuals(slopes[name], shares) for name in by_name}

    def promise(names: list[str]) -> float:
        limits = np.array([by_name[name].limits for name in names])
        limits -= np.array([[by_name[name].z_now] for name in names])
        return lsq_linear(
            np.vstack([np.array([slope[name] for name in names]).T, np.eye(len(names))]),
            np.concatenate([-start, np.zeros(len(names))]),
            bounds=(np.clip(limits[:, 0], -REACH, -TINY), np.clip(limits[:, 1], TINY, REACH)),
        ).cost

    found: list[str] = []
    while len(found) < min(most, len(by_name)):
        left = [name for name in by_name if name not in found]
        found.append(min(left, key=lambda name: promise([*found, name])))
    return found


@dataclass(frozen=True)
class Fit:
    """Where the search ended: constants, loss and of it the pull, the loss with the values in force, evaluations used."""

    values: dict[str, float]
    z: tuple[float, ...]
    loss: float
    pull: float
    loss_before: float
    evaluations: int


def search(evaluate: Evaluate, constants: Sequence[Constant], shares: Shares, budget: int, seeds: Sequence[int]) -> Fit:
    """Bounded search from the values in force, at most `budget` evaluations.

    In rounds: a two-level design about the best set so far, a plane through the gaps found, and the best set by these planes within
    the limits and one reach (scipy's lsq_linear).

    Gaps are played, so each has its luck; a plane through a whole design is far surer than a difference of two sets, and a set
    that was merely lucky in the design is never taken.  A design is played on the first seed; the best sets of two rounds are
    compared by their mean loss on all of them.  A round without gain halves the design and the reach.
    """
    from scipy.optimize import lsq_linear

    limits = np.array([one.limits for one in constants])
    half = plackett_burman(len(constants))
    design = np.vstack([half, -half])
    used = 0

    def played(z: np.ndarray, seed: int) -> np.ndarray:
        nonlocal used
        used += 1
        return residuals(evaluate(values_of(constants, z), seed), shares)

    def loss_of(z: np.ndarray) -> float:
        return float(np.mean([found @ found for found in (played(z, seed) for seed in seeds)])) + pull(z)

    centre, scale = np.clip([one.z_now for one in constants], limits[:, 0], limits[:, 1]), 1.0
    loss = loss_before = loss_of(centre)
    while used + len(design) + len(seeds) <= budget and scale > LEAST_SCALE:
        steps = np.clip(centre + scale * DESIGN_STEP * design, limits[:, 0], limits[:, 1]) - centre
        there = np.array([played(centre + step, seeds[0]) for step in steps])
        plane, *_ = np.linalg.lstsq(np.column_stack([np.ones(len(steps)), steps]), there, rcond=None)
        reach = np.clip(limits - centre[:, None], -scale * REACH, scale * REACH)
        step = lsq_linear(
            np.vstack([plane[1:].T, np.eye(len(constants))]),
            np.concatenate([-plane[0], -centre]),
            bounds=(np.minimum(reach[:, 0], -TINY), np.maximum(reach[:, 1], TINY)),
        ).x
        candidate = np.clip(centre + step, limits[:, 0], limits[:, 1])
        better = loss_of(candidate)
        if better < loss:
            centre, loss = candidate, better
        else:
            scale /= 2.0
    at = tuple(float(one) for one in centre)
    return Fit(values_of(constants, at), at, loss, pull(at), loss_before, used)


@dataclass(frozen=True)
class Profile:
    """What the data tell of each constant about the optimum, from a quadratic fit.

    `along[name]`: (z, loss) pairs; `spread_left[name]`: standard deviation left, in stated spreads; `correlations[i][j]`.
    """

    along: dict[str, list[tuple[float, float]]]
    spread_left: dict[str, float]
    correlations: list[list[float]]
    not_identified: list[str]


def profile(evaluate: Evaluate, constants: Sequence[Constant], shares: Shares, fit: Fit, seed: int) -> Profile:
    """Two evaluations a constant on one seed, half a spread to either side (less at a limit).

    The loss is a sum of squares, so its quadratic fit is the product of the gaps' slopes, plus the pull's own.
    """
    along: dict[str, list[tuple[float, float]]] = {}
    slopes = []
    middle = fit_loss(evaluate(fit.values, seed), shares) + fit.pull
    for i, one in enumerate(constants):
        seen = []
        for step in (-PROFILE_STEP, PROFILE_STEP):
            z = list(fit.z)
            z[i] = float(np.clip(z[i] + step, *one.limits))
            found = residuals(evaluate(values_of(constants, z), seed), shares)
            seen.append((z[i], float(found @ found) + pull(z), found))
        along[one.name] = sorted([(at, loss) for at, loss, _ in seen] + [(fit.z[i], middle)])
        width = seen[1][0] - seen[0][0]
        slopes.append((seen[1][2] - seen[0][2]) / width if width > 0 else np.zeros(len(shares)))
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
