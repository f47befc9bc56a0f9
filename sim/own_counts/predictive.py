"""The distribution that a forecast gives to one count: how many, in so many minutes of one evening.

A session's bouts are gone through from the first on until the minutes are used up.  Bouts that lie wholly in them count as they
are; of the last one, of which a share w was counted, each of its events was seen with chance w (binomial thinning: where in a
bout they happen is not told).  Sessions are equally likely, so the distribution is a mixture over them, and exact: nothing is
drawn.  Where a session is shorter than the count (only on the rolling clock), the rest is Poisson at its own rate.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sim.measures.intervals import share_interval
from sim.own_counts.forecast import Forecast
from sim.own_counts.tally import LONGEST, Counted

USUAL = 0.8
"""Eight sessions in ten: the share inside the usual range."""
NEAR_WHOLE = 0.1
"""A largest is held against whole bouts: the minutes may miss a whole number of them by this share of one."""
DOUBT = 0.8
"""Level of the two-sided interval of a chance: one-sided it is 90 %."""
TAIL = 1e-6
"""Chance of the longest counts left out of a distribution."""


@dataclass(frozen=True, eq=False)
class Predictive:
    """`chances[k]` of counting k; `sessions`: from how many sessions it is."""

    chances: np.ndarray
    sessions: int

    @property
    def mean(self) -> float:
        """Expected count."""
        return float(self.chances @ np.arange(len(self.chances)))

    def quantile(self, share: float) -> int:
        """Smallest count that is not exceeded with at least this chance."""
        return int(np.searchsorted(np.cumsum(self.chances), share - 1e-9))

    @property
    def low(self) -> int:
        """Lower end of the usual range, in it."""
        return self.quantile((1 - USUAL) / 2)

    @property
    def high(self) -> int:
        """Upper end of the usual range, in it."""
        return self.quantile((1 + USUAL) / 2)

    @property
    def inside(self) -> float:
        """Chance of the usual range: more than `USUAL`, because counts are whole."""
        return float(self.chances[self.low : self.high + 1].sum())

    def at_most(self, count: int) -> float:
        """Chance of so many or fewer."""
        return min(1.0, float(self.chances[: count + 1].sum()))

    def at_least(self, count: int) -> float:
        """Chance of so many or more."""
        return min(1.0, float(self.chances[count:].sum()))

    def extreme(self, count: int) -> tuple[float, float]:
        """(chance of a count so far out on its side, the most that it may be): a chance from few sessions is not known exactly.

        The bound is Wilson's, one-sided at 90 %, of the sessions that lie so far out, rounded up.
        """
        chance = min(self.at_most(count), self.at_least(count))
        return chance, at_most_from(chance, self.sessions)


def at_most_from(chance: float, sessions: int) -> float:
    """The most that a chance seen in so many sessions may be."""
    out = min(sessions, math.ceil(chance * sessions - 1e-9))
    return share_interval(out, sessions, DOUBT)[2]


def predictive(found: Forecast, what: Counted) -> Predictive | None:
    """The distribution of a count; None for a largest not counted in whole bouts on the watch, or in more than there are."""
    if found.bouts == 0:
        return None
    if what.measure == LONGEST:
        return of_longest(found, what)
    seconds, counts = found.seconds[what.clock], found.counts[what.measure]
    wanted = what.minutes * 60
    before = np.cumsum(seconds, axis=1) - seconds
    shares = np.clip((wanted - before) / np.maximum(seconds, 1e-9), 0.0, 1.0)
    per_session = [
        of_session(row, share, wanted / max(total, 1e-9))
        for row, share, total in zip(counts, shares, seconds.sum(axis=1), strict=True)
    ]
    return Predictive(mixture(per_session), found.sessions)


def of_session(counts: np.ndarray, shares: np.ndarray, stretch: float) -> np.ndarray:
    """Chances of each count in one session; `stretch`: minutes wanted / minutes there are."""
    from scipy.stats import binom, poisson

    whole = int(counts[shares >= 1.0].sum())
    chances = np.zeros(whole + 1)
    chances[whole] = 1.0
    for count, share in zip(counts, shares, strict=True):
        if 0.0 < share < 1.0 and count:
            chances = np.convolve(chances, binom.pmf(np.arange(count + 1), count, share))
    if stretch > 1.0 + 1e-9 and whole:
        rest = whole * (stretch - 1.0)
        chances = np.convolve(chances, poisson.pmf(np.arange(int(poisson.isf(TAIL, rest)) + 2), rest))
    return chances


def of_longest(found: Forecast, what: Counted) -> Predictive | None:
    """The distribution of the largest count of whole bouts."""
    bouts = what.minutes * 60 / found.bout_s
    number = round(bouts)
    counts = found.counts[LONGEST]
    if what.clock != "watch" or not 1 <= number <= counts.shape[1] or abs(bouts - number) > NEAR_WHOLE:
        return None
    largest = counts[:, :number].max(axis=1)
    return Predictive(np.bincount(largest) / len(largest), found.sessions)


def mixture(parts: list[np.ndarray]) -> np.ndarray:
    """The mean of distributions of different lengths."""
    chances = np.zeros(max(len(one) for one in parts))
    for one in parts:
        chances[: len(one)] += one / len(parts)
    return chances / chances.sum()
