"""How sure we may be of a difference for *your* players, and how likely one session shows it.

More bouts shrink the error of the simulation; they do not tell how good your players are.  So the difference of two
games is taken apart: into what is common to all players drawn from the population, into what hangs on who was drawn
(*ignorance*), and into the luck of a bout.  The bouts of one session share their players, so what differs between
them is luck alone; what sessions differ by beyond that is ignorance (analysis of variance, one way).

*Long run*: the mean of very many bouts of one set of players that we do not know.  *One session*: one session of each game
with the same players, but with luck of its own for each, as it will be on the grass.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

Sums = tuple[np.ndarray, np.ndarray]
"""(top, bottom) of a ratio, [session, bout]."""


@dataclass(frozen=True)
class Parts:
    """Variances of the difference of two games: of players we do not know, and of the luck of one session."""

    ignorance: float
    luck: float


def residuals(top: np.ndarray, bottom: np.ndarray) -> np.ndarray:
    """What each bout adds to the ratio of sums (linearised), without what bouts of the same number have in common."""
    found = (top - top.sum() / bottom.sum() * bottom) / bottom.mean()
    return found - found.mean(axis=0)


def parts_of_difference(first: Sums, second: Sums) -> Parts | None:
    """Variance components of second minus first; None if a session is too short to tell luck from players."""
    shared = min(first[0].shape[1], second[0].shape[1])
    sessions = len(first[0])
    if shared < 2 or sessions < 2 or min(first[1].sum(), second[1].sum()) <= 0:
        return None
    a, b = residuals(*first), residuals(*second)
    within = [float(x.var(axis=1, ddof=1).mean()) * sessions / (sessions - 1) for x in (a, b)]
    x, y = a[:, :shared], b[:, :shared]
    together = ((x - x.mean(axis=1, keepdims=True)) * (y - y.mean(axis=1, keepdims=True))).sum(axis=1).mean()
    together = float(together) / (shared - 1) * sessions / (sessions - 1)
    apart = within[0] / a.shape[1] + within[1] / b.shape[1]
    paired = apart - 2 * together * shared / (a.shape[1] * b.shape[1])
    between = float((b.mean(axis=1) - a.mean(axis=1)).var(ddof=1))
    return Parts(max(0.0, between - paired), apart)


def long_run_larger(difference: float, error: float, freedom: int, parts: Parts | None) -> float | None:
    """That the second game has the larger long-run value with players we do not know."""
    from scipy.special import stdtr

    if parts is None:
        return None
    spread = math.hypot(error, math.sqrt(parts.ignorance))
    return sign_chance(difference) if spread == 0 else float(stdtr(freedom, difference / spread))


def one_session_larger(difference: float, error: float, parts: Parts) -> float:
    """That one session of the second game has the larger value than one of the first, with the same players (normal)."""
    from scipy.special import ndtr

    spread = math.sqrt(error * error + parts.ignorance + parts.luck)
    return sign_chance(difference) if spread == 0 else float(ndtr(difference / spread))


def other_sessions_larger(first: np.ndarray, second: np.ndarray) -> float | None:
    """Share of all pairs of *different* sessions in which the second value is larger; a tie counts half.

    For what cannot be taken apart.  nan: the session has no value of its own.
    """
    n = len(first)
    both = ~(np.isnan(first) | np.isnan(second))
    ordered = np.sort(first[~np.isnan(first)])
    values = second[~np.isnan(second)]
    pairs = len(ordered) * len(values) - int(both.sum())
    if n < 2 or pairs <= 0:
        return None
    below, upto = np.searchsorted(ordered, values, "left"), np.searchsorted(ordered, values, "right")
    won = float((below + upto).sum()) / 2
    won -= float((np.sign(second[both] - first[both]) + 1).sum()) / 2
    return won / pairs


def sign_chance(difference: float) -> float:
    """1, 0 or a half: the chance where there is no doubt."""
    return (1 + float(np.sign(difference))) / 2
