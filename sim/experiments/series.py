"""How the bouts of an evening are cut, four of three minutes or six of two: what that does to the time the ball rolls, to how
evenly the middle is shared out, and to what is left in the last bout.

That people tire, and how much, is an assumption of the model: so is the drop-off.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sim.game.model import Game
from sim.measures.intervals import mean_interval
from sim.measures.session_counts import COLUMN, SessionCounts, session_of
from sim.measures.sessions import Sessions
from sim.measures.summary import spread
from sim.measures.thresholds import STRICT

ERROR, NUMBERS = 0.05, 3


@dataclass(frozen=True)
class OfEvenings:
    """A number of one evening: its mean over sessions, and where the middle 80 % of them lie; None where it does not exist."""

    __pydantic_config__ = STRICT

    mean: float | None
    low: float | None
    high: float | None


@dataclass(frozen=True)
class Series:
    """The bouts of one game: `count` of `seconds`.

    `rolling_s`: seconds the ball rolls, all bouts together.  `apart`: the largest share of the rolling time that somebody defends
    less the smallest, a share.  `drop`: by what share fewer metres a minute are run in the last bout than in the first.
    """

    __pydantic_config__ = STRICT

    count: int
    seconds: float
    rolling_s: OfEvenings
    apart: OfEvenings
    drop: OfEvenings


@dataclass(frozen=True)
class SeriesCompared:
    """The bouts of both games; of each number the difference second less first, (mean, low, high), None where unknown.

    The three hold together 19 times in 20: each is an interval of 98.3 % (Bonferroni)."""

    __pydantic_config__ = STRICT

    first: Series
    second: Series
    rolling_s: tuple[float, float, float] | None
    apart: tuple[float, float, float] | None
    drop: tuple[float, float, float] | None


Bouts = Sequence[Sequence[SessionCounts]]
"""The bouts of every session."""


def series_compared(games: tuple[Game, Game], bouts: tuple[Bouts, Bouts]) -> SeriesCompared:
    """How the evenings of two games are cut, over the same sessions."""
    ours, theirs = (values_of(one) for one in bouts)
    between = [difference(a, b) for a, b in zip(ours, theirs, strict=True)]
    both = [
        Series(game.bouts.count, game.bouts.seconds, *(of_evenings(one) for one in own))
        for game, own in zip(games, (ours, theirs), strict=True)
    ]
    return SeriesCompared(both[0], both[1], *between)


def values_of(bouts: Bouts) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(rolling seconds, how far apart the shares of defending are, drop-off) of each session; nan where there is none."""
    shares = Sessions([session_of(one) for one in bouts]).defending_shares()
    there = ~np.isnan(shares).all(axis=1)
    apart = np.full(len(shares), math.nan)
    apart[there] = np.nanmax(shares[there], axis=1) - np.nanmin(shares[there], axis=1)
    rolling = np.array([sum(bout.in_play_s for bout in one) for one in bouts])
    return rolling, apart, np.array([drop_off(one) for one in bouts])


def drop_off(bouts: Sequence[SessionCounts]) -> float:
    """By what share fewer metres a minute are run in the last bout of a session than in its first; nan of a single bout."""
    if len(bouts) < 2:
        return math.nan
    first, last = (metres_a_second(one) for one in (bouts[0], bouts[-1]))
    return 1 - last / first if first > 0 else math.nan


def metres_a_second(one: SessionCounts) -> float:
    """Of all players together, per second each of them was there."""
    seconds = float(one.cells[:, :, COLUMN["time_s"]].sum())
    return float(one.cells[:, :, COLUMN["distance_m"]].sum()) / seconds if seconds > 0 else 0.0


def of_evenings(values: np.ndarray) -> OfEvenings:
    """Mean and range of what sessions have."""
    own = values[~np.isnan(values)]
    return OfEvenings(float(own.mean()) if len(own) else None, *spread(own))


def difference(first: np.ndarray, second: np.ndarray) -> tuple[float, float, float] | None:
    """Second less first over sessions that have both, with Student's t."""
    own = (second - first)[~(np.isnan(first) | np.isnan(second))]
    return mean_interval(own, 1 - ERROR / NUMBERS) if len(own) > 1 else None
