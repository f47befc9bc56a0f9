"""How likely counts are for a club, with the counts of one session hanging together as in the design.

A count with mean m and variance v > m is negative binomial (luck, players and engine in one; as v nears m it is Poisson); one with
v < m, as losses mostly are, is a gamma count (`regular_counts`): taken for pure chance they would say less than they do.  Losses,
balls won and balls out of one evening are not independent: they are joined by a Gaussian copula whose correlations are those of
the design's residuals, each count put at the middle of its step (Kazianka & Pilz 2010, Stoch Environ Res Risk Assess 24:661).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from scipy.special import betainc, gammaln, ndtri

from sim.learning import regular_counts
from sim.learning.emulator import Emulator
from sim.own_counts.tally import Counted

MOST_SIZE = 1e7
"""Of a negative binomial: beyond it is Poisson to seven digits."""
EDGE = 1e-6
SHRINK = 0.05
"""Correlations from few clubs are drawn towards none by this share."""
Key = tuple[str, str]
"""(measure, clock) of a count."""


def log_chance(count: float, mean: np.ndarray, variance: np.ndarray) -> np.ndarray:
    """Logarithm of the chance of exactly this count, element by element."""
    regular = np.log(regular_counts.chance(count, mean, np.minimum(variance, mean)))
    return np.where(variance < mean, regular, log_chance_of_unequal(count, mean, variance))


def log_chance_of_unequal(count: float, mean: np.ndarray, variance: np.ndarray) -> np.ndarray:
    """The same of a count that varies at least as much as by chance."""
    size = size_of(mean, variance)
    share = size / (size + mean)
    return (
        gammaln(count + size) - gammaln(size) - gammaln(count + 1.0) + size * np.log(share) + count * np.log1p(-share)
    )


def middle(count: float, mean: np.ndarray, variance: np.ndarray) -> np.ndarray:
    """The standard score at the middle of this count's step of the distribution function."""
    size = size_of(mean, variance)
    unequal = betainc(size, count + 1.0, size / (size + mean))
    regular = regular_counts.up_to(count, mean, np.minimum(variance, mean))
    up_to = np.where(variance < mean, regular, unequal)
    at = up_to - np.exp(log_chance(count, mean, variance)) / 2.0
    return ndtri(np.clip(at, EDGE, 1.0 - EDGE))


def size_of(mean: np.ndarray, variance: np.ndarray) -> np.ndarray:
    """The size parameter of a negative binomial."""
    return mean**2 / np.maximum(variance - mean, mean**2 / MOST_SIZE)


class Counts:
    """The emulated counts of one game, and how they hang together.

    Only those that were fitted well (`Emulator.is_good`) are there; `correlations` in the order of `keys`.
    """

    def __init__(self, emulators: Mapping[Key, Emulator]):
        self.emulators = dict(emulators)
        self.keys = list(self.emulators)
        residuals = np.array([one.residuals for one in self.emulators.values()])
        found = np.atleast_2d(np.corrcoef(residuals)) if self.keys else np.zeros((0, 0))
        clocks = np.array([clock for _, clock in self.keys])
        together = (
            clocks[:, None] == clocks[None, :]
        )  # on another clock other bouts were counted, not the same ones again
        self.correlations = (1.0 - SHRINK) * found * together + SHRINK * np.eye(len(self.keys))

    def means(self, key: Key, scores: np.ndarray, offset: np.ndarray, seconds: float) -> np.ndarray:
        """Expected count in so many seconds for each club [particle]; `offset`: the emulator's own error, in standard errors."""
        rate, error = self.emulators[key].log_rate(scores)
        return seconds * np.exp(rate + error * offset)

    def log_likelihood(self, taken: Sequence[Counted], scores: np.ndarray, offsets: np.ndarray) -> np.ndarray:
        """Of the counts of one session for each club [particle]; `offsets` [particle, key]."""
        whole, normal, places = np.zeros(len(scores)), [], []
        for one in taken:
            place = self.keys.index((one.measure, one.clock))
            mean = self.means(self.keys[place], scores, offsets[:, place], one.minutes * 60.0)
            variance = self.emulators[self.keys[place]].variance(mean)
            whole = whole + log_chance(one.count, mean, variance)
            normal.append(middle(one.count, mean, variance))
            places.append(place)
        if len(places) < 2:
            return whole
        z, own = np.array(normal), self.correlations[np.ix_(places, places)]
        bent = np.einsum("ip,ij,jp->p", z, np.linalg.inv(own) - np.eye(len(places)), z)
        return whole - (np.linalg.slogdet(own)[1] + bent) / 2.0
