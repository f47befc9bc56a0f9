"""How many possessions reach a number of passes, and how sure that is.

Possessions cut short by the end of a bout count as far as they went (Kaplan & Meier 1958, as in `sim.measures.intervals`).  Runs of
one session are not independent, so the error is a jackknife over whole sessions (Tukey's: sessions left out one by
one), with Student's t.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sim.measures.intervals import survival, t_quantile
from sim.measures.tally import Tally


@dataclass(frozen=True)
class Reach:
    """Share of a side's possessions with at least `passes` completed passes, and its 95 % interval (None from one session)."""

    side: str
    passes: int
    share: float
    low: float | None
    high: float | None


def counts_of(sessions: Sequence[Tally], side: str) -> tuple[np.ndarray, np.ndarray]:
    """(ended, cut), [session, passes]."""
    longest = max((passes for one in sessions for who, passes, _ in one.runs if who == side), default=0)
    ended, cut = np.zeros((len(sessions), longest + 1)), np.zeros((len(sessions), longest + 1))
    for i, one in enumerate(sessions):
        for (who, passes, was_cut), count in one.runs.items():
            if who == side:
                (cut if was_cut else ended)[i, passes] += count
    return ended, cut


def at_least(ended: np.ndarray, cut: np.ndarray) -> np.ndarray:
    """Share with at least 0, 1, 2, ... passes, from counts by passes."""
    return np.concatenate([[1.0], survival(ended, cut)[:-1]])


def with_interval(
    ended: np.ndarray, cut: np.ndarray, level: float = 0.95
) -> tuple[np.ndarray, np.ndarray, np.ndarray] | None:
    """(share, low, high) by passes, within 0 and 1; None from fewer than two sessions."""
    n = len(ended)
    if n < 2:
        return None
    whole = at_least(ended.sum(axis=0), cut.sum(axis=0))
    without = np.array([at_least(ended.sum(axis=0) - ended[i], cut.sum(axis=0) - cut[i]) for i in range(n)])
    error = np.sqrt((n - 1) / n * ((without - without.mean(axis=0)) ** 2).sum(axis=0))
    half = t_quantile((1 + level) / 2, n - 1) * error
    return whole, np.clip(whole - half, 0.0, 1.0), np.clip(whole + half, 0.0, 1.0)


def reach_of(sessions: Sequence[Tally], sides: Sequence[str], least: float = 0.01, most: int = 40) -> list[Reach]:
    """By side, for as many passes as at least this share of its possessions reach, `most` of them at most."""
    found = []
    for side in sides:
        ended, cut = counts_of(sessions, side)
        if not (ended.sum() or cut.sum()):
            continue
        shares = at_least(ended.sum(axis=0), cut.sum(axis=0))
        ranges = with_interval(ended, cut)
        for passes, share in enumerate(shares[: most + 1]):
            if share < least:
                break
            low, high = (None, None) if ranges is None else (float(ranges[1][passes]), float(ranges[2][passes]))
            found.append(Reach(side, passes, float(share), low, high))
    return found


def sides_of(sessions: Sequence[Tally], start: str) -> list[str]:
    """The sides that had the ball, the one that starts first."""
    every = {side for one in sessions for side, _, _ in one.runs} | {start}
    return sorted(every, key=lambda side: (side != start, side))


def asked_of(reached: Sequence[tuple[float, str | None]], side: str) -> float:
    """The passes the game asks of a side, nan for none."""
    found = [count for count, whose in reached if whose in (None, side)]
    return found[0] if found else math.nan
