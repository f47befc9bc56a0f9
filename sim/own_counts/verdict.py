"""One count against its forecast: usual, unusual, or cannot tell; and how many minutes more would tell.

*Unusual*: fewer than one session in twenty is so far out (one in forty on its side), beyond the doubt of the simulation.  *Usual*:
inside what eight sessions in ten give, and enough was counted to have seen a forecast that is out by half.  Everything between
is *cannot tell*: little was counted, the count lies at the edge, or too few sessions were played.

Minutes more: so many, of the same evening, that a count going on at the same rate would be told.  Within a session of the forecast
each minute is tried; beyond it, what M seconds of one evening bring varies by luck x M + players x M^2: luck averages out, but who
the players are does not, however long they play; then no number of minutes would tell.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from math import inf

from sim.experiments.variance_components import residuals
from sim.own_counts.forecast import Forecast
from sim.own_counts.predictive import Predictive, at_most_from, predictive
from sim.own_counts.tally import LONGEST, Counted

UNUSUAL = 0.025
"""On its side: one session in forty, one in twenty on both."""
TIGHT = 1 / 3
"""A range within this share of its mean shows a forecast that is out by half, two times in three or more (in a test)."""
MOST_MINUTES_MORE = 600.0
"""Nobody counts for longer than ten hours to settle one question: beyond, minutes are told roughly."""
STEP = 1.05
"""From one number of minutes that is tried to the next."""
FAR_OUT, OUTSIDE = 0.003, 0.08
"""Chances of a count that most forecasts from `ENOUGH` sessions find unusual, and outside what is usual: each has its luck."""
ENOUGH = 200
"""Sessions of a forecast that tell one night in forty, and the step in which more are asked for (house default)."""


class Verdict(Enum):
    """What may be said of a count; the reasons why nothing may be said each have their own."""

    USUAL = "usual"
    UNUSUAL = "unusual"
    LITTLE = "cannot tell: little counted"
    EDGE = "cannot tell: at the edge"
    FEW = "cannot tell: few sessions played"
    NOT_JUDGED = "not judged"

    @property
    def cannot_tell(self) -> bool:
        """Whether nothing is said either way."""
        return self in (Verdict.LITTLE, Verdict.EDGE, Verdict.FEW)


@dataclass(frozen=True)
class Judged:
    """A count and what was forecast for it: `mean`, the usual range `low` to `high` (ends inside) and the chance `inside` it.

    `tail`: chance of a count so far out on its side.  `more_minutes` of the same evening would tell, on the clock of the count;
    None: none needed, not reckoned (a longest run, too few sessions), or no number would, because players differ as much.
    """

    what: Counted
    verdict: Verdict
    mean: float
    low: int
    high: int
    inside: float
    tail: float
    more_minutes: float | None

    @property
    def is_inside(self) -> bool:
        """Whether the count lies in the usual range."""
        return self.low <= self.what.count <= self.high

    @property
    def above(self) -> bool:
        """Whether it is more than was expected."""
        return self.what.count > self.mean


@dataclass(frozen=True)
class Spread:
    """How a count varies, per second: `rate`, `luck` (variance a second) and `players` (variance of the rate between sessions)."""

    rate: float
    luck: float
    players: float

    def tail(self, seconds: float, pace: float) -> float:
        """Chance of a count as far out as `pace` (a second), or farther, in so many seconds; of `inf` by the players alone.

        By a gamma distribution of the same mean and variance, which leans to the right as such counts do.
        """
        from scipy.special import gammainc, gammaincc

        wide = (self.luck / seconds + self.players) / self.rate**2
        if wide == 0:
            return 0.0
        above, half = pace > self.rate, 0.5 / (seconds * self.rate)  # counts are whole
        out = max(0.0, pace / self.rate + (-half if above else half)) / wide
        return float(gammaincc(1 / wide, out) if above else gammainc(1 / wide, out))

    def seconds_until(self, pace: float, chance: float, seconds: float) -> float | None:
        """So many seconds, from `seconds` on, until a count at this pace has no more than this chance; None: never."""
        if self.tail(inf, pace) > chance:
            return None
        while self.tail(seconds, pace) > chance and seconds < 60 * MOST_MINUTES_MORE * STEP:
            seconds *= STEP
        return seconds


def judge(found: Forecast, what: Counted) -> Judged:
    """The count against the forecast."""
    there = predictive(found, what)
    if there is None:
        return Judged(what, Verdict.NOT_JUDGED, 0.0, 0, 0, 0.0, 0.0, None)
    tail, most = there.extreme(what.count)
    verdict = verdict_of(there, what, tail, most)
    more = minutes_more(found, what, verdict) if what.measure != LONGEST and verdict.cannot_tell else None
    return Judged(what, verdict, there.mean, there.low, there.high, there.inside, tail, more)


def verdict_of(there: Predictive, what: Counted, tail: float, most: float) -> Verdict:
    """By where the count lies, how wide the range is, and how sure the chance."""
    if there.low <= what.count <= there.high:
        wide = there.high > (1 + TIGHT) * there.mean or there.low < (1 - TIGHT) * there.mean
        return Verdict.LITTLE if wide else Verdict.USUAL
    if most <= UNUSUAL:
        return Verdict.UNUSUAL
    return Verdict.FEW if tail <= UNUSUAL / 2 else Verdict.EDGE


def sessions_that_tell(tail: float) -> int:
    """Sessions of a forecast from which a chance of `tail` (at most half of `UNUSUAL`) is unusual beyond the doubt."""
    sessions = ENOUGH
    while at_most_from(tail, sessions) > UNUSUAL:
        sessions += ENOUGH
    return sessions


def spread_of(found: Forecast, what: Counted) -> Spread:
    """Luck and players apart (analysis of variance, one way): bouts of one session share their players."""
    top, bottom = found.counts[what.measure].astype(float), found.seconds[what.clock]
    if top.sum() == 0 or bottom.sum() == 0:
        return Spread(0.0, 0.0, 0.0)
    rate, length, bouts = float(top.sum() / bottom.sum()), float(bottom.mean()), top.shape[1]
    off = residuals(top, bottom)
    if bouts < 2 or len(off) < 2:
        return Spread(rate, rate, max(0.0, float(off.mean(axis=1).var()) - rate / length))
    within = float(off.var(axis=1, ddof=1).mean())
    between = float(off.mean(axis=1).var(ddof=1)) - within / bouts
    return Spread(rate, within * length, max(0.0, between))


def minutes_more(found: Forecast, what: Counted, verdict: Verdict) -> float | None:
    """Minutes to be counted besides, the same evening, until it could be told; None where no number of them would do, or sessions
    are too few."""
    if verdict is Verdict.FEW:
        return None
    pace, longest = what.count / what.minutes, float(found.seconds[what.clock].sum(axis=1).min()) / 60
    for more in range(1, int(longest - what.minutes) + 1):
        minutes = what.minutes + more
        again = replace(what, minutes=minutes, count=round(pace * minutes))
        there = predictive(found, again)
        if there is not None and not verdict_of(there, again, *there.extreme(again.count)).cannot_tell:
            return float(more)
    spread = spread_of(found, what)
    least = max(what.minutes + 1, longest)
    if verdict is Verdict.EDGE:
        seconds = spread.seconds_until(pace / 60, FAR_OUT, 60 * least)
    else:
        seconds = spread.seconds_until((1 + TIGHT) * spread.rate, OUTSIDE, 60 * least)
    return None if seconds is None else max(least, seconds / 60) - what.minutes
