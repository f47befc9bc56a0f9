"""How sure we are of a number: intervals over independent sessions.

Sessions are independent; bouts of one session share their players and are not.  So every interval here is taken
over the sessions' own sums, never over bouts or events: a mean with Student's t, a ratio of sums by its
linearised residuals (the delta method), a share of sessions by Wilson, a quantile of pass runs by Woodruff (the
error of the distribution at the quantile, read back through the distribution).
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
from numpy.typing import ArrayLike


@cache
def t_quantile(probability: float, freedom: int) -> float:
    """Quantile of Student's t."""
    from scipy.special import stdtrit

    return float(stdtrit(freedom, probability))


def normal_quantile(probability: float) -> float:
    """Quantile of the standard normal distribution."""
    from scipy.special import ndtri

    return float(ndtri(probability))


def mean_interval(values: ArrayLike, level: float = 0.95) -> tuple[float, float, float]:
    """(mean, low, high) of independent values, Student's t; needs two values at least."""
    x = np.asarray(values, dtype=float)
    half = t_quantile((1 + level) / 2, len(x) - 1) * float(x.std(ddof=1)) / math.sqrt(len(x))
    mean = float(x.mean())
    return mean, mean - half, mean + half


def ratio_error(top: np.ndarray, bottom: np.ndarray) -> float:
    """Standard error of sum(top)/sum(bottom) over independent sessions, by linearised residuals; needs two."""
    n = len(top)
    residual = top - top.sum() / bottom.sum() * bottom
    return math.sqrt(float(residual @ residual) / (n * (n - 1))) / float(bottom.mean())


def ratio_interval(top: np.ndarray, bottom: np.ndarray, level: float = 0.95) -> tuple[float, float, float]:
    """(ratio of sums, low, high); with all `bottom` equal this is exactly the interval of the mean."""
    ratio = float(top.sum() / bottom.sum())
    half = t_quantile((1 + level) / 2, len(top) - 1) * ratio_error(top, bottom)
    return ratio, ratio - half, ratio + half


def share_interval(hits: int, trials: int, level: float = 0.95) -> tuple[float, float, float]:
    """(share, low, high) of independent trials: Wilson's score interval."""
    z = normal_quantile((1 + level) / 2)
    share = hits / trials
    middle = (share + z * z / (2 * trials)) / (1 + z * z / trials)
    half = z / (1 + z * z / trials) * math.sqrt(share * (1 - share) / trials + z * z / (4 * trials * trials))
    # At 0 and 1 the bound is the share itself; the subtraction would leave 1e-17 of it.
    return share, 0.0 if hits == 0 else middle - half, 1.0 if hits == trials else middle + half


def run_quantile(counts: np.ndarray, share: float) -> float | None:
    """Smallest number of passes that at least this share of runs, counted by their passes, do not exceed; None without a run."""
    if not counts.any():
        return None
    return float(np.flatnonzero(np.cumsum(counts) >= share * counts.sum() - 1e-9)[0])


def run_quantile_interval(
    counts: np.ndarray, share: float, level: float = 0.95
) -> tuple[float | None, float | None, float | None]:
    """(quantile, low, high) of pass runs; `counts` is [session, passes].

    The error is that of the share of runs that do not exceed the quantile, over sessions; the ends are the quantiles at
    that share less and more t errors (None where the runs do not reach so far).
    """
    every = counts.sum(axis=0)
    middle = run_quantile(every, share)
    if middle is None or len(counts) < 2:
        return middle, None, None
    at_most = counts[:, : int(middle) + 1].sum(axis=1).astype(float)
    half = t_quantile((1 + level) / 2, len(counts) - 1) * ratio_error(at_most, counts.sum(axis=1).astype(float))
    low = run_quantile(every, max(share - half, 0.0))
    high = run_quantile(every, share + half) if share + half <= 1 else None
    return middle, low, high


def session_range(values: np.ndarray, low: float = 0.1, high: float = 0.9) -> tuple[float, float]:
    """Where the middle 80 % of sessions lie, each with its own value."""
    ends = np.quantile(values, [low, high])
    return float(ends[0]), float(ends[1])
