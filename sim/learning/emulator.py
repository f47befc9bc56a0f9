"""What a club's values do to a count, as a smooth function fitted to a design: the engine is too slow to be asked each time.

The logarithm of the rate is a quadratic in the standard scores.  A session's count has the mean m = rate x seconds and the
variance luck x m + players x m^2: *luck* is read off the bouts of one session, *players* (who plays, which day, and what the
quadratic misses) off what sessions differ by beyond it.  Fitted by weighted least squares with these variances (iterated, as in
McCullagh & Nelder 1989, Generalized Linear Models, 2nd ed., section 9.2).  A quarter of the clubs is left out once, to see
whether what is fitted to the others predicts them (`off`).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sim.learning.design import Design
from sim.learning.values import REACH

ROUNDS = 12
RIDGE = 1e-6
"""Keeps the equations solvable where a value moves nothing."""
LEAST, HALF = 1e-9, 0.5
HELD_OUT = 4
"""One club in so many is held out."""
FURTHEST_OFF = 1.5
"""Held-out clubs may be so many of their standard deviations off (root mean square; 1 is to be expected), or it is not used."""
LEAST_LUCK = 0.1
"""Of a count's variance over its mean: nothing on the grass is more regular (house default)."""
FEWEST = 30.0
"""Events in a whole design below which nothing is fitted: the game hardly knows them."""


@dataclass(frozen=True, eq=False)
class Emulator:
    """Of one count on one clock.  `slopes` of the terms and their `covariance`; `luck`, `players` as in the module; `off`: how far
    held-out clubs lie off, in their standard deviations; `residuals` [club], standardised; `night_s`: seconds of a session."""

    measure: str
    clock: str
    slopes: np.ndarray
    covariance: np.ndarray
    luck: float
    players: float
    off: float
    residuals: np.ndarray
    night_s: float

    @property
    def is_good(self) -> bool:
        """Whether it predicts clubs that it has not seen."""
        return self.off <= FURTHEST_OFF

    def log_rate(self, scores: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(logarithm of the rate per second, its standard error) of clubs with these scores [club, value]."""
        x = terms(scores)
        return x @ self.slopes, np.sqrt(np.maximum(np.einsum("ij,jk,ik->i", x, self.covariance, x), 0.0))

    def variance(self, mean: np.ndarray) -> np.ndarray:
        """Of a session's count with this mean, as in the design: that of the forecasts' ranges, too."""
        return np.maximum(self.luck, LEAST_LUCK) * mean + self.players * mean**2


def terms(scores: np.ndarray) -> np.ndarray:
    """[club, term]: one, the scores, their squares and products, over `REACH`."""
    scores = scores / REACH
    pairs = np.triu_indices(scores.shape[1])
    return np.column_stack([np.ones(len(scores)), scores, scores[:, pairs[0]] * scores[:, pairs[1]]])


def emulated(design: Design, scores: np.ndarray, measure: str, clock: str) -> Emulator | None:
    """The emulator of a count; `scores` of the clubs that have played.  None where it hardly ever happens."""
    counts, seconds = design.table(measure), design.table(clock)
    if counts.sum() < FEWEST:
        return None
    slopes, covariance, luck, players = fitted(scores, counts, seconds)
    held = held_out(len(scores))
    parts = fitted(scores[~held], counts[~held], seconds[~held])
    off = float(np.sqrt(np.mean(standardised(scores[held], counts[held], seconds[held], *parts) ** 2)))
    own = standardised(scores, counts, seconds, slopes, covariance, luck, players)
    return Emulator(measure, clock, slopes, covariance, luck, players, off, own, float(seconds.sum(axis=1).mean()))


def held_out(clubs: int) -> np.ndarray:
    """Which clubs are held out, the same each time; by chance, as every fourth point of the sequence lies in one corner."""
    return np.random.default_rng(0).permutation(clubs) % HELD_OUT == 0


def fitted(scores: np.ndarray, counts: np.ndarray, seconds: np.ndarray) -> tuple[np.ndarray, np.ndarray, float, float]:
    """(slopes, their covariance, luck, players) from counts and seconds [club, bout]."""
    x, total, lasted = terms(scores), counts.sum(axis=1), seconds.sum(axis=1)
    slopes = np.linalg.lstsq(x, np.log((total + HALF) / lasted), rcond=None)[0]
    luck, players = 1.0, 0.0
    for _ in range(ROUNDS):
        mean = lasted * np.exp(x @ slopes)
        weight = mean**2 / np.maximum(luck * mean + players * mean**2, LEAST)
        precision = x.T @ (x * weight[:, None]) + RIDGE * np.eye(x.shape[1])
        slopes = np.linalg.solve(precision, x.T @ (weight * (x @ slopes + (total - mean) / np.maximum(mean, LEAST))))
        luck = luck_of(counts, seconds)
        players = players_of(total, lasted * np.exp(x @ slopes), luck, x.shape[1])
    return slopes, np.linalg.inv(precision), luck, players


def luck_of(counts: np.ndarray, seconds: np.ndarray) -> float:
    """Variance of a bout's count over its mean, from bout to bout of one session."""
    if counts.shape[1] < 2:
        return 1.0
    expected = seconds * (counts.sum(axis=1) / seconds.sum(axis=1))[:, None]
    freedom = len(counts) * (counts.shape[1] - 1)
    return float(((counts - expected) ** 2).sum() / freedom / max(expected.mean(), LEAST))


def players_of(total: np.ndarray, mean: np.ndarray, luck: float, lost: int) -> float:
    """Squared coefficient of variation between sessions beyond luck; `lost`: degrees of freedom that the fit took."""
    freedom = max(len(total) - lost, 1) / len(total)
    beyond = ((total - mean) ** 2 / freedom - luck * mean) / np.maximum(mean, LEAST) ** 2
    weight = mean**2
    return max(0.0, float((beyond * weight).sum() / weight.sum()))


def standardised(
    scores: np.ndarray,
    counts: np.ndarray,
    seconds: np.ndarray,
    slopes: np.ndarray,
    covariance: np.ndarray,
    luck: float,
    players: float,
) -> np.ndarray:
    """How far each club's count lies off, in standard deviations."""
    x, total = terms(scores), counts.sum(axis=1)
    mean = seconds.sum(axis=1) * np.exp(x @ slopes)
    doubt = np.einsum("ij,jk,ik->i", x, covariance, x)
    return (total - mean) / np.sqrt(luck * mean + (players + doubt) * mean**2)
