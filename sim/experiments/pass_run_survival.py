"""How many possessions reach a number of passes, and how sure that is.

Every possession counts as it stands when it ends, by whatever ends it, as an assistant would count it.  Runs of one session are
not independent, so the error is a jackknife over whole sessions (Tukey's: sessions left out one by one), with Student's t.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sim.measures.intervals import t_quantile
from sim.measures.session_counts import SessionCounts


@dataclass(frozen=True)
class PassRunSurvival:
    """Share of a side's possessions with at least `passes` completed passes, and its 95 % interval (None from one session)."""

    side: str
    passes: int
    share: float
    low: float | None
    high: float | None


def counts_of(sessions: Sequence[SessionCounts], side: str) -> np.ndarray:
    """Runs of a side by number of passes, [session, passes]."""
    longest = max((passes for one in sessions for who, passes, _ in one.runs if who == side), default=0)
    counts = np.zeros((len(sessions), longest + 1))
    for i, one in enumerate(sessions):
        for (who, passes, _), count in one.runs.items():
            if who == side:
                counts[i, passes] += count
    return counts


def at_least(counts: np.ndarray) -> np.ndarray:
    """Share with at least 0, 1, 2, ... passes, from counts by passes."""
    return np.cumsum(counts[::-1])[::-1] / counts.sum()


def with_interval(counts: np.ndarray, level: float = 0.95) -> tuple[np.ndarray, np.ndarray, np.ndarray] | None:
    """(share, low, high) by passes, within 0 and 1; None where fewer than two sessions have a run."""
    counts = counts[counts.any(axis=1)]
    n = len(counts)
    if n < 2:
        return None
    every = counts.sum(axis=0)
    whole, without = at_least(every), np.array([at_least(every - own) for own in counts])
    error = np.sqrt((n - 1) / n * ((without - without.mean(axis=0)) ** 2).sum(axis=0))
    half = t_quantile((1 + level) / 2, n - 1) * error
    return whole, np.clip(whole - half, 0.0, 1.0), np.clip(whole + half, 0.0, 1.0)


def pass_run_survival_of(
    sessions: Sequence[SessionCounts], sides: Sequence[str], least: float = 0.01, most: int = 40
) -> list[PassRunSurvival]:
    """By side, for as many passes as at least this share of its possessions reach, `most` of them at most."""
    found = []
    for side in sides:
        counts = counts_of(sessions, side)
        if not counts.any():
            continue
        shares, ranges = at_least(counts.sum(axis=0)), with_interval(counts)
        for passes, share in enumerate(shares[: most + 1]):
            if share < least:
                break
            low, high = (None, None) if ranges is None else (float(ranges[1][passes]), float(ranges[2][passes]))
            found.append(PassRunSurvival(side, passes, float(share), low, high))
    return found


def sides_of(sessions: Sequence[SessionCounts], start: str) -> list[str]:
    """The sides that had the ball, the one that starts first."""
    every = {side for one in sessions for side, _, _ in one.runs} | {start}
    return sorted(every, key=lambda side: (side != start, side))
